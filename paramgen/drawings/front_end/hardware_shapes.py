"""How hardware looks from above where it is fitted."""

from paramgen.drawings.primitives.drawn_paths import circle, rectangle
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import NotionSort
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Notion


def fitting_shape(notion: Notion, at: Point, em: float, *, turned: bool = False) -> Path:
    """A clamp as it covers what lies in it; all else round, two letters wide if no width is known.

    Parameters
    ----------
    notion : Notion
    at : Point
    em : float
        Size of letters, mm.
    turned : bool
        Whether the project lies turned by a quarter.

    Examples
    --------
    >>> clamp = Notion(
    ...     name="clamp", title="", sort=NotionSort.CLAMP, quantity=1, length=8.0, width=25.0,
    ...     coil=None,
    ... )
    >>> box = fitting_shape(clamp, (0.0, 40.0), 2.0).box
    >>> box.width, box.height
    (25.0, 8.0)
    """
    if notion.sort is NotionSort.CLAMP and notion.width and notion.length:
        (x, y), wide, high = at, notion.width / 2, notion.length / 2
        wide, high = (high, wide) if turned else (wide, high)
        return rectangle(Box(x - wide, y - high, x + wide, y + high))
    return circle(at, (notion.width or 2 * em) / 2)
