"""What shows of a finished thing, worked out on a grid of small cells.

Within the seam line each cell has a stack of layers and a space under, between and over them.
From a cell one gets into the one beside it wherever two spaces lie at the same height of the
pile, unless a stitched line runs between the two cells and holds the layers on both sides of
the space. An open zip lets through. What faces a space that is joined to the outside shows.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from plan_pile import Laid, Plan, Work
from shapely.geometry import LineString, Polygon

#: Cells are no wider than this, mm; straight edges fall between cells.
WIDEST = 3.0
#: Breaks nearer to each other than this, mm, are one.
SAME = 0.02
#: What may differ: this part of an area, and this many mm² besides.
PART, BESIDES = 0.03, 30.0

#: Ways from the middle of a cell to that of the next.
Ways = NDArray[np.object_]
#: A space, in the field of a number: the heights in the pile of the layers under and over it.
Space = tuple[int, int]


@dataclass(frozen=True)
class Cells:
    """Cells within the seam line."""

    #: Their middles.
    at: NDArray[np.float64]
    areas: NDArray[np.float64]
    #: Pairs of cells that lie side by side.
    beside: NDArray[np.int64]

    def slack(self, area: float) -> float:
        """What an area that is found on the grid may be off by."""
        return PART * area + BESIDES

    def within(self, area: Polygon) -> NDArray[np.bool_]:
        """Which of them lie in an area."""
        return shapely.contains_xy(area, self.at[:, 0], self.at[:, 1])


class _Sets:
    """Things that are joined two by two."""

    def __init__(self) -> None:
        self.parent: dict[tuple[int, Space], tuple[int, Space]] = {}

    def find(self, one: tuple[int, Space]) -> tuple[int, Space]:
        parent = self.parent.setdefault(one, one)
        while parent != self.parent[parent]:
            self.parent[one] = parent = self.parent[parent]
        return parent

    def join(self, one: tuple[int, Space], other: tuple[int, Space]) -> None:
        self.parent[self.find(one)] = self.find(other)


def grid(work: Work) -> Cells:
    """Cells between all straight edges of layers and lines, cut smaller where they are wide."""
    shapes: list[LineString] = [layer.area.exterior for layer in work.pile]
    shapes.extend(line.path for line in work.lines)
    shapes.extend(layer.slit for layer in work.pile if layer.slit is not None)
    left, top, right, bottom = work.seam.bounds
    across = _breaks(shapes, 0, left, right)
    down = _breaks(shapes, 1, top, bottom)
    x, y = (across[1:] + across[:-1]) / 2, (down[1:] + down[:-1]) / 2
    xs, ys = np.meshgrid(x, y)
    inside = shapely.contains_xy(work.seam, xs, ys)
    number = np.where(inside, np.cumsum(inside).reshape(inside.shape) - 1, -1)
    areas = np.outer(np.diff(down), np.diff(across))[inside]
    sideways = np.stack([number[:, :-1].ravel(), number[:, 1:].ravel()], axis=1)
    downward = np.stack([number[:-1].ravel(), number[1:].ravel()], axis=1)
    pairs = np.concatenate([sideways, downward])
    pairs = pairs[(pairs >= 0).all(axis=1)]
    return Cells(np.stack([xs[inside], ys[inside]], axis=1), areas, pairs)


def _breaks(
    shapes: Sequence[LineString], axis: int, least: float, most: float
) -> NDArray[np.float64]:
    """Where cells end along one axis."""
    found = [least, most]
    for shape in shapes:
        ends = np.asarray(shape.coords)
        steps = np.abs(np.diff(ends, axis=0))
        # Straight edges across this axis, and the ends of what is not closed.
        straight = (steps[:, axis] < SAME) & (steps[:, 1 - axis] > 1.0)
        found += ends[:-1][straight, axis].tolist()
        if not shape.is_closed:
            found += [ends[0, axis], ends[-1, axis]]
    breaks = [least]
    for here in sorted(found):
        if here - breaks[-1] > SAME and here <= most:
            count = int(np.ceil((here - breaks[-1]) / WIDEST))
            breaks += np.linspace(breaks[-1], here, count + 1)[1:].tolist()
    return np.array(breaks)


@dataclass(frozen=True)
class Sheet:
    """A ply of its own: of what is folded the two that lie outermost, open but at its folds."""

    layer: Laid
    #: Told apart from the sheet under it by nothing but a fold.
    folded_on: bool = False


def sheets(work: Work) -> list[Sheet]:
    """All sheets, from the back."""
    found = []
    for layer in work.pile:
        found.append(Sheet(layer))
        if layer.folded and layer.plies > 1:
            found.append(Sheet(layer, folded_on=True))
    return found


def shown(work: Work, cells: Cells) -> dict[tuple[str, str], float]:
    """Area of each face, as it lay in the hoop, that is reached from outside."""
    pile = sheets(work)
    fields = _fields(work, pile, cells)
    joined = _joined(work, pile, fields)
    outside = _outside(work, pile, fields, joined)
    found: dict[tuple[str, str], float] = {}
    for number, stack in enumerate(fields.stacks):
        for space in _spaces(stack, len(pile)):
            if joined.find((number, space)) not in outside:
                continue
            for at, face in ((space[0], "front"), (space[1], "back")):
                if 0 <= at < len(pile):
                    key = pile[at].layer.piece, face
                    found[key] = found.get(key, 0.0) + fields.areas[number]
    return found


@dataclass(frozen=True)
class Step:
    """From one field into the next: steps of the lines crossed, folds met, zips met."""

    fields: tuple[int, int]
    sewn: tuple[int, ...]
    folded: tuple[int, ...]
    opened: tuple[int, ...]


@dataclass(frozen=True)
class Fields:
    """Cells put together that have the same sheets and nothing between them."""

    stacks: list[tuple[int, ...]]
    areas: list[float]
    steps: list[Step]


def _fields(work: Work, pile: Sequence[Sheet], cells: Cells) -> Fields:
    there = np.array([cells.within(one.layer.area) for one in pile]).T
    ways = np.array(shapely.linestrings(cells.at[cells.beside]), dtype=np.object_)
    inner = work.seam.buffer(-SAME)
    lines = [(line.path, line.step) for line in work.lines if line.path.intersects(inner)]
    folds = [
        (edge, at) for at, one in enumerate(pile) if one.folded_on for edge in one.layer.folded
    ]
    slits = [(one.layer.slit, at) for at, one in enumerate(pile) if one.layer.slit is not None]
    sewn, folded, opened = (_met(these, ways) for these in (lines, folds, slits))
    met = {*sewn, *folded, *opened}
    alike = (there[cells.beside[:, 0]] == there[cells.beside[:, 1]]).all(axis=1)
    alike[list(met)] = False
    of = _numbered(len(cells.at), cells.beside[alike])
    firsts = np.unique(of, return_index=True)[1]
    areas = np.bincount(of, weights=cells.areas)
    steps = {
        Step((int(a), int(b)), *(tuple(one.get(way, ())) for one in (sewn, folded, opened))): None
        for way, (a, b) in enumerate(of[cells.beside])
        if not alike[way]
    }
    stacks = [tuple(np.flatnonzero(there[first]).tolist()) for first in firsts]
    return Fields(stacks, areas.tolist(), list(steps))


def _numbered(count: int, pairs: NDArray[np.int64]) -> NDArray[np.int64]:
    """The number of the field of each cell, counted as they first come."""
    field = np.arange(count)
    for a, b in pairs.tolist():
        one, other = _root(field, a), _root(field, b)
        field[max(one, other)] = min(one, other)
    roots = np.array([_root(field, cell) for cell in range(count)])
    return np.unique(roots, return_inverse=True)[1]


def _root(field: NDArray[np.int64], cell: int) -> int:
    root = cell
    while field[root] != root:
        root = int(field[root])
    field[cell] = root
    return root


def _spaces(stack: tuple[int, ...], top: int) -> list[Space]:
    return list(zip((-1, *stack), (*stack, top), strict=True))


def _joined(work: Work, pile: Sequence[Sheet], fields: Fields) -> _Sets:
    """Spaces joined from field to field, and through open zips.

    Where what closes it laps by enough, one does not look in between.
    """
    joined = _Sets()
    lapped = {at for at, one in enumerate(pile) if one.layer in work.closing}
    lapped = lapped if work.hides_its_inside else set()
    by_its_zip = work.by_its_zip
    for step in fields.steps:
        a, b = step.fields
        here, there = fields.stacks[a], fields.stacks[b]
        shut = [_held(pile, here, there, sewn) for sewn in step.sewn]
        shut += [(at - 1, at) for at in step.folded]
        for one, other in _alike(_spaces(here, len(pile)), _spaces(there, len(pile))):
            low, high = max(one[0], other[0]), min(one[1], other[1])
            if any(
                under in lapped and over in lapped and pile[under].layer is not pile[over].layer
                for under, over in (one, other)
            ):
                continue
            if not any(under <= low and high <= over for under, over in shut):
                joined.join((a, one), (b, other))
        # What is turned through its zip is looked at with that closed.
        for at in () if by_its_zip else step.opened:
            under, above = _spaces(here, len(pile))[here.index(at) :][:2]
            joined.join((a, under), (a, above))
    return joined


def _met(these: Sequence[tuple[LineString, int]], ways: Ways) -> dict[int, list[int]]:
    """What is said of the lines that a way from cell to cell meets, by the way's number."""
    found: dict[int, list[int]] = {}
    for line, said in these:
        shapely.prepare(line)
        for way in np.flatnonzero(shapely.intersects(line, ways)).tolist():
            found.setdefault(way, []).append(said)
    return found


def _alike(these: Sequence[Space], those: Sequence[Space]) -> Iterator[tuple[Space, Space]]:
    """Pairs of spaces that lie at the same height."""
    for one in these:
        for other in those:
            if max(one[0], other[0]) < min(one[1], other[1]):
                yield one, other


def _held(pile: Sequence[Sheet], here: tuple[int, ...], there: tuple[int, ...], step: int) -> Space:
    """Lowest and highest sheet that a line of this step holds between two cells."""
    both = [at for at in here if at in there and pile[at].layer.step < step]
    return (both[0], both[-1]) if both else (len(pile), -1)


def _outside(
    work: Work, pile: Sequence[Sheet], fields: Fields, joined: _Sets
) -> set[tuple[int, Space]]:
    """Of the joined spaces those that are the outside of the finished thing.

    Turned, it is what the closing piece lay upon; else what lies before and behind everything.
    """
    top = len(pile)
    closing = {at for at, one in enumerate(pile) if one.layer.piece in work.between[1:]}
    first = min(closing, default=top)
    every = [
        (number, space)
        for number, stack in enumerate(fields.stacks)
        for space in _spaces(stack, top)
    ]
    found = {
        joined.find((number, space))
        for number, space in every
        if (space[1] in closing and space[0] < first)
        or (not closing and (space[0] == -1 or space[1] == top))
    }
    if work.turned and any(joined.find(one) in found for one in every if one[1][1] == top):
        # What opens to the front of the hoop opens to all that lies round the work.
        found |= {joined.find(one) for one in every if top in one[1] or -1 in one[1]}
    return found


def shows_told(plan: Plan, work: Work) -> Iterator[str]:
    """The faces that the plan tells to show, and how large."""
    cells = grid(work)
    mine = shown(work, cells)
    told = {(one["piece"], one["face"]): one["area"] for one in plan["proof"]["shows"]}
    for key in sorted({*mine, *told}):
        here, there = mine.get(key, 0.0), told.get(key, 0.0)
        if abs(here - there) > cells.slack(max(here, there)):
            yield f"{key[1]} of {key[0]} shows {there:.0f} mm² as told, {here:.0f} as found"
