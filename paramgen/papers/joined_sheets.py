"""A picture too large for one sheet, spread over several that are joined."""

import math
from collections.abc import Iterator, Sequence
from itertools import islice, pairwise, product

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.primitives.drawn_paths import rectangle, straight
from paramgen.drawings.primitives.items import Anchor, DrawnItem, Shape, Style, Text
from paramgen.drawings.primitives.lettering import BOLD, text_width
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass

#: Neighbouring sheets show this much of each other's picture, mm: half on each side of the
#: line along which they are joined.
OVERLAP = 10.0
#: Kept free beside a tile for crop marks and the names of neighbours, mm; and where it has no
#: neighbours, for crop marks alone, if there is room for them.
STRIP, SIDE = 7.0, 4.6
#: No fold runs so near to a line along which sheets are joined, mm: three layers of paper and
#: tape along a fold make a poor edge to fold by (common practice, no source).
CLEAR = OVERLAP / 2 + 3.0
#: How to put them together.
JOIN_THEM = (
    "Cut each part along the short dashes at its left and at its top, lay it on its neighbours so "
    "that the lines meet, and tape it."
)
# To keep clear of folds a picture takes no more tiles than so many more, none of them narrower
# than this, mm, and no more ways to shift its cuts are tried.
_MORE_TILES, _LEAST_TILE, _MOST_WAYS = 3, 20.0, 256
# A picture ends this far outside its own edge, so that the line along it is whole.
_PAST = 1.0
_CROP_FROM, _CROP_TO = 0.5, 4.5
_LETTERS, _LEAST_LETTERS = 2.6, 1.4


@dataclass(frozen=True)
class PictureTile:
    """One sheet of several.

    Parameters
    ----------
    row, column : int
        From 0.
    trim : Box
        Its share of the picture; the shares of all tiles are the whole.
    window : Box
        What it shows: its share and a little more, to join it by.
    strip : (float, float)
        Kept free on paper at its left and right, and above and below it, mm.
    """

    row: int
    column: int
    trim: Box
    window: Box
    strip: tuple[float, float]

    @property
    def name(self) -> str:
        """Row as a letter, column as a number from 1: A1, A2, B1."""
        return f"{row_name(self.row)}{self.column + 1}"

    def shift(self, room: Box) -> tuple[float, float]:
        """How far its picture is moved to lie in the room of its sheet."""
        across, down = self.strip
        return room.left + across - self.window.left, room.top + down - self.window.top


def row_name(row: int) -> str:
    """Letter of a row from 0: A to Z, then AA.

    >>> row_name(0), row_name(25), row_name(26)
    ('A', 'Z', 'AA')
    """
    return (row_name(row // 26 - 1) if row >= 26 else "") + chr(ord("A") + row % 26)


def tiled(
    view: Box,
    width: float,
    height: float,
    drawn: BaseGeometry,
    clear: tuple[Sequence[float], Sequence[float]] = ((), ()),
    *,
    full: bool = False,
) -> tuple[PictureTile, ...]:
    """Share a picture out over tiles.

    Parameters
    ----------
    view : Box
        All of the picture.
    width, height : float
        Room on a sheet, mm; what is spread over several leaves a strip all round.
    drawn : geometry
        What there is to see; a tile that would show nothing of it is left out.
    clear : two sequences of float
        Where folds run down the picture (x), and across it (y): sheets are not joined there.
    full : bool
        Whether all tiles but the last are as large as they may be; else all are equal, but where
        a seam would lie along a fold.

    Returns
    -------
    tuple of PictureTile
        Row by row; one if the whole picture fits.
    """
    whole = view.width + 2 * _PAST <= width and view.height + 2 * _PAST <= height
    xs = (
        [view.left, view.right]
        if whole
        else _cuts(view.left, view.right, width, clear[0], full=full)
    )
    ys = (
        [view.top, view.bottom]
        if whole
        else _cuts(view.top, view.bottom, height, clear[1], full=full)
    )
    columns, rows = len(xs) - 1, len(ys) - 1
    strip = (_strip(view.width, width, columns), _strip(view.height, height, rows))
    tiles = []
    for row in range(rows):
        for column in range(columns):
            trim = Box(xs[column], ys[row], xs[column + 1], ys[row + 1])
            window = Box(
                trim.left - (OVERLAP / 2 if column else _PAST),
                trim.top - (OVERLAP / 2 if row else _PAST),
                trim.right + (OVERLAP / 2 if column < columns - 1 else _PAST),
                trim.bottom + (OVERLAP / 2 if row < rows - 1 else _PAST),
            )
            share = shapely.box(trim.left, trim.top, trim.right, trim.bottom)
            if drawn.intersects(share):
                tiles.append(PictureTile(row, column, trim, window, (0.0, 0.0) if whole else strip))
    return tuple(tiles)


def _strip(size: float, room: float, count: int) -> float:
    """What is kept free beside tiles, in a direction in which there are so many of them."""
    if count > 1:
        return STRIP
    return SIDE if size + 2 * (_PAST + SIDE) <= room else 0.0


def _cuts(
    low: float, high: float, room: float, clear: Sequence[float], *, full: bool
) -> list[float]:
    """Where a picture begins, is cut, and ends, in one direction."""
    if high - low + 2 * _PAST <= room:
        return [low, high]
    most = room - 2 * STRIP - OVERLAP
    least = max(2, math.ceil((high - low) / most - 1e-9))
    equal = [low + (high - low) * i / least for i in range(least)] + [high]
    for count in range(least, least + _MORE_TILES):
        step = most if full and count == least else (high - low) / count
        wanted = [low + step * i for i in range(1, count)]
        found = _clear_cuts(low, high, wanted, most, clear)
        if found:
            return found
    return equal


def _clear_cuts(
    low: float, high: float, wanted: Sequence[float], most: float, clear: Sequence[float]
) -> list[float] | None:
    """Cuts near those that are wanted and clear of folds, no tile larger than it may be."""
    ways = [_near(at, clear) for at in wanted]
    for cuts in islice(product(*ways), _MOST_WAYS):
        ends = [low, *cuts, high]
        sizes = [b - a for a, b in pairwise(ends)]
        least = min(_LEAST_TILE, (high - low) / len(sizes))
        if min(sizes) >= least - 1e-9 and max(sizes) <= most + 1e-9:
            return ends
    return None


def _near(at: float, clear: Sequence[float]) -> list[float]:
    """Places nearest to one, on either side of it, that are clear of folds."""
    places = [at, *(fold + side * CLEAR for fold in clear for side in (-1.0, 1.0))]
    free = [one for one in places if all(abs(one - fold) >= CLEAR - 1e-9 for fold in clear)]
    below = max((one for one in free if one <= at), default=None)
    above = min((one for one in free if one >= at), default=None)
    near = {one for one in (below, above) if one is not None}
    return sorted(near, key=lambda one: (abs(one - at), one))


def joins(tile: PictureTile, tiles: tuple[PictureTile, ...]) -> Iterator[DrawnItem]:
    """Draw what a tile is joined by: join lines, crop marks, and the names of neighbours."""
    there = {(one.row, one.column): one for one in tiles}
    trim, window = tile.trim, tile.window
    x, y = trim.centre
    sides = (
        (0, -1, (trim.left, trim.top), (trim.left, trim.bottom)),
        (0, 1, (trim.right, trim.top), (trim.right, trim.bottom)),
        (-1, 0, (trim.left, trim.top), (trim.right, trim.top)),
        (1, 0, (trim.left, trim.bottom), (trim.right, trim.bottom)),
    )
    for down, along, start, end in sides:
        other = there.get((tile.row + down, tile.column + along))
        if other is None:
            continue
        yield Shape(straight(start, end), Style.JOIN_LINE)
        em = min(_LETTERS, (STRIP - 1.5) / text_width(other.name, 1.0))
        if along:
            outside = window.left - 1.0 if along < 0 else window.right + 1.0
            anchor = Anchor.END if along < 0 else Anchor.START
            yield Text((outside, y + 0.35 * em), other.name, em, anchor)
        else:
            outside = window.top - 1.5 if down < 0 else window.bottom + 1.0 + em
            yield Text((x, outside), other.name, em, Anchor.MIDDLE)
    for at in (trim.top, trim.bottom) if tile.strip[0] else ():
        for edge, way in ((window.left, -1.0), (window.right, 1.0)):
            ends = ((edge + way * _CROP_FROM, at), (edge + way * _CROP_TO, at))
            yield Shape(straight(*ends), Style.CHECK_MARK)
    for at in (trim.left, trim.right) if tile.strip[1] else ():
        for edge, way in ((window.top, -1.0), (window.bottom, 1.0)):
            ends = ((at, edge + way * _CROP_FROM), (at, edge + way * _CROP_TO))
            yield Shape(straight(*ends), Style.CHECK_MARK)


def assembly_map(
    view: Box,
    shapes: tuple[Shape, ...],
    tiles: tuple[PictureTile, ...],
    now: PictureTile,
    room: Box,
) -> tuple[DrawnItem, ...]:
    """Draw how tiles lie together, small, with the one at hand in a double frame."""
    ratio = min(room.width / view.width, room.height / view.height)

    def small(box: Box) -> Box:
        left, top = room.left - view.left * ratio, room.top - view.top * ratio
        return Box(
            left + box.left * ratio,
            top + box.top * ratio,
            left + box.right * ratio,
            top + box.bottom * ratio,
        )

    items: list[DrawnItem] = []
    for shape in shapes:
        points = (shape.path.points - (view.left, view.top)) * ratio + (room.left, room.top)
        items.append(Shape(type(shape.path)(points, shape.path.closed), Style.PIECE_OUTLINE))
    cell = small(now.trim)
    for tile in tiles:
        place = small(tile.trim)
        items.append(Shape(rectangle(place), Style.JOIN_LINE))
        wide = BOLD * text_width(tile.name, 1.0)
        em = min(_LETTERS, 0.7 * place.height, 0.8 * place.width / wide)
        if em >= _LEAST_LETTERS:
            x, y = place.centre
            at = (x, y + 0.35 * em)
            items.append(Text(at, tile.name, em, Anchor.MIDDLE, bold=tile == now))
    inside = min(1.1, 0.3 * cell.width, 0.3 * cell.height)
    items.append(Shape(rectangle(cell.grown(-0.3)), Style.FIELD_EDGE))
    items.append(Shape(rectangle(cell.grown(-inside)), Style.LEADER))
    return tuple(items)
