"""Upright boxes."""

from collections.abc import Iterable

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class Box:
    """A box from its left and top to its right and bottom edge, mm."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """From left to right, mm.

        Examples
        --------
        >>> Box(1, 0, 4, 2).width  # 4 - 1
        3
        >>> Box(5, 5, 5, 5).width
        0
        """
        return self.right - self.left

    @property
    def height(self) -> float:
        """From top to bottom, mm.

        Examples
        --------
        >>> Box(1, 0, 4, 2).height  # 2 - 0
        2
        >>> Box(5, 5, 5, 5).height
        0
        """
        return self.bottom - self.top

    @property
    def centre(self) -> tuple[float, float]:
        """The middle of the box.

        Examples
        --------
        >>> Box(1, 0, 4, 2).centre  # halfway from 1 to 4, and from 0 to 2
        (2.5, 1.0)
        >>> Box(5, 5, 5, 5).centre
        (5.0, 5.0)
        """
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, by: float) -> "Box":
        """Move every edge outwards by a length, or inwards, to the middle at most, if negative.

        Examples
        --------
        >>> Box(1, 1, 3, 3).grown(1)
        Box(left=0, top=0, right=4, bottom=4)

        A box 2 mm wide and high, moved inwards by half of that, is a point:

        >>> Box(1, 1, 3, 3).grown(-1)
        Box(left=2, top=2, right=2, bottom=2)

        No farther than to the middle, where opposite edges meet:

        >>> Box(0, 0, 8, 2).grown(-3)
        Box(left=3, top=1.0, right=5, bottom=1.0)
        """
        left, top, right, bottom = self.left - by, self.top - by, self.right + by, self.bottom + by
        x, y = self.centre
        if left > right:
            left = right = x
        if top > bottom:
            top = bottom = y
        return Box(left, top, right, bottom)

    def overlaps(self, other: "Box") -> bool:
        """Whether the two share more than an edge.

        Examples
        --------
        >>> Box(0, 0, 2, 2).overlaps(Box(2, 0, 4, 2))
        False

        A point within a box overlaps it, and one on its edge does not:

        >>> point = Box(1, 1, 1, 1)
        >>> point.overlaps(Box(0, 0, 2, 2)), point.overlaps(Box(1, 0, 2, 2))
        (True, False)
        """
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def holds(self, other: "Box") -> bool:
        """Whether the other lies within this one.

        Examples
        --------
        >>> Box(0, 0, 4, 4).holds(Box(1, 1, 5, 2))  # 5 is right of 4
        False

        Edges may coincide, so that it holds itself, and a point in its corner:

        >>> box = Box(0, 0, 4, 4)
        >>> box.holds(box), box.holds(Box(4, 4, 4, 4))
        (True, True)
        """
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )


def around(boxes: Iterable[Box]) -> Box:
    """Smallest box that holds all of them; there must be one at least.

    Examples
    --------
    >>> around([Box(0, 2, 1, 3), Box(4, 0, 5, 1)])
    Box(left=0, top=0, right=5, bottom=3)
    >>> around([Box(2, 2, 2, 2)])
    Box(left=2, top=2, right=2, bottom=2)
    >>> around([])
    Traceback (most recent call last):
        ...
    ValueError: nothing lies around no boxes
    """
    boxes = tuple(boxes)
    if not boxes:
        raise ValueError("nothing lies around no boxes")
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )
