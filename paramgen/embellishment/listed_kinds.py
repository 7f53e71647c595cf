"""The kinds of embellishment there are, by name."""

from collections.abc import Mapping
from types import MappingProxyType

from paramgen.embellishment.applique import APPLIQUE
from paramgen.embellishment.edge_lines import EDGE_LINES
from paramgen.embellishment.embellishment_kind import EmbellishmentKind
from paramgen.embellishment.motif import MOTIF
from paramgen.embellishment.quilting import QUILTING
from paramgen.embellishment.words import WORDS

_ALL = (QUILTING, EDGE_LINES, APPLIQUE, WORDS, MOTIF)
KINDS: Mapping[str, EmbellishmentKind] = MappingProxyType({one.name: one for one in _ALL})
