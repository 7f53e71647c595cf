"""One project of a kit, and how many of it."""

from paramgen.making import Made
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class KitOrder:
    """One project, and how many of it.

    Parameters
    ----------
    made : Made
    count : int
        Finished things, at least.
    """

    made: Made
    count: int

    @property
    def hoopings(self) -> int:
        """How often it is hooped: each gives all its copies."""
        return -(-self.count // self.made.project.copies)

    @property
    def gives(self) -> int:
        """Finished things of all its hoopings."""
        return self.hoopings * self.made.project.copies
