"""A person's own fabric as it looks: a colour, or a picture of its print."""

from collections.abc import Mapping
from types import MappingProxyType

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class ClothPicture:
    """One repeat of a print, ready to be put into drawings.

    Parameters
    ----------
    data : bytes
        The picture, made small: the same picture gives the same bytes.
    mime : str
        `image/png` or `image/jpeg`.
    width, height : float
        Of one repeat on the fabric itself, mm.
    """

    data: bytes
    mime: str
    width: float
    height: float


@dataclass(frozen=True)
class Cloth:
    """How one fabric of a project looks.

    Parameters
    ----------
    colour : str
        `#rrggbb`; of a print the middle of all its colours, for where no print can be seen.
    called : str
        The colour or the name of the picture's file, as it was typed.
    picture : ClothPicture or None
        None for a plain colour.
    """

    colour: str
    called: str = ""
    picture: ClothPicture | None = None


#: The person's own fabrics, by the part that each has in a project: outer, lining and the like.
Cloths = Mapping[str, Cloth]

#: Where nobody said what the fabrics look like.
NO_CLOTHS: Cloths = MappingProxyType({})
