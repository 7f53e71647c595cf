"""The kinds of embellishment there are, by name."""

from collections.abc import Mapping
from types import MappingProxyType

from paramgen.embellishment.applique import APPLIQUE
from paramgen.embellishment.embellishment_kind import EmbellishmentKind
from paramgen.embellishment.quilting import QUILTING
from paramgen.embellishment.words import WORDS

KINDS: Mapping[str, EmbellishmentKind] = MappingProxyType(
    {one.name: one for one in (QUILTING, WORDS, APPLIQUE)}
)
