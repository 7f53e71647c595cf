"""Upright boxes."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Box:
    """A box from its left and top to its right and bottom edge, mm."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """From left to right, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From top to bottom, mm."""
        return self.bottom - self.top

    @property
    def centre(self) -> tuple[float, float]:
        """The middle of the box."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, by: float) -> "Box":
        """Move every edge outwards by a length, or inwards if it is negative."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def overlaps(self, other: "Box") -> bool:
        """Whether the two share more than an edge.

        >>> Box(0, 0, 2, 2).overlaps(Box(2, 0, 4, 2))
        False
        """
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def holds(self, other: "Box") -> bool:
        """Whether the other lies within this one."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )


def around(boxes: Iterable[Box]) -> Box:
    """Smallest box that holds all of them; there must be one at least."""
    boxes = tuple(boxes)
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )
