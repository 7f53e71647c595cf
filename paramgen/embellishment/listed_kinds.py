"""The kinds of embellishment there are, by name."""

from collections.abc import Mapping
from types import MappingProxyType

from paramgen.embellishment.edge_lines import EDGE_LINES
from paramgen.embellishment.embellishment_kind import EmbellishmentKind
from paramgen.embellishment.quilting import QUILTING

_ALL = (QUILTING, EDGE_LINES)
KINDS: Mapping[str, EmbellishmentKind] = MappingProxyType({one.name: one for one in _ALL})
