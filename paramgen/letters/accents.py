"""Accents that stand over letters, under them and beside them.

Drawn as the capitals are (`capitals.py`). Those above stand on the head of the letter, which is 0
here, about its middle; those below hang from its foot.
"""

from collections.abc import Mapping
from types import MappingProxyType

#: By the combining character that Unicode writes them with.
ABOVE: Mapping[str, str] = MappingProxyType(
    {
        "\u0300": "M-14,-40 L6,-24",
        "\u0301": "M14,-40 L-6,-24",
        "\u0302": "M-18,-22 L0,-40 L18,-22",
        "\u0303": "M-24,-24 A13,13 0 0 1 0,-31 A13,13 0 0 0 24,-38",
        "\u0304": "M-20,-30 H20",
        "\u0306": "M-18,-42 A18,18 0 0 0 18,-42",
        "\u0307": "M0,-33 V-28",
        "\u0308": "M-16,-33 V-28 M16,-33 V-28",
        "\u030a": "M0,-50 A15,15 0 1 1 0,-20 A15,15 0 1 1 0,-50 Z",
        "\u030b": "M-7,-40 L-25,-24 M28,-40 L10,-24",
        "\u030c": "M-18,-40 L0,-22 L18,-40",
        "\u0312": "M5,-40 L-1,-22",
    }
)

BELOW: Mapping[str, str] = MappingProxyType(
    {
        "\u0323": "M0,25 V30",
        "\u0326": "M4,22 L-3,42",
        "\u0327": "M0,0 V8 A11,12 0 0 1 0,32 H-10",
        "\u0328": "M0,0 A16,16 0 0 0 2,30 H8",
        "\u0331": "M-20,28 H20",
    }
)

#: A caron that stands beside the letter, as in Czech and Slovak; an accent that hangs where others
#: stand on it.
BESIDE = "M0,-76 L6,-100"
CARON = "\u030c"
BESIDE_LETTERS = "dtlL"
CEDILLA, COMMA_BELOW, COMMA_ABOVE = "\u0327", "\u0326", "\u0312"
#: Letters under which Latvian writes a comma, and Unicode a cedilla; over the last it turns up.
COMMA_LETTERS = "GKkLlNnRrg"
OGONEK = "\u0328"
