"""Laying outlines on as few mats as are found: one after another, as high and as far left as goes.

Each is laid on the first mat that has room, in one of the ways that it may be turned (bottom-left;
Dowsland, Vaid and Dowsland, European Journal of Operational Research 141 (2002) 371-381, from
memory). Which comes first decides how well that goes: several orders are tried, by boxes and by
shapes, the same each time. What is found is valid whatever the order; how good it is says
`MatPlan.least`.
"""

import math
from collections import Counter
from collections.abc import Callable, Sequence
from itertools import product

from shapely import affinity

from paramgen.lengths import show_sizes_apart
from paramgen.mats.free_places import CLOSE, Key, MatBeingLaid, TurnedOutlines
from paramgen.mats.outlines_to_nest import Mat, MatPlan, NestedMat, NestedPiece, OutlineToNest
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.unit import Unit

#: So many orders are tried at most, those by size before those that are shaken.
TRIES = 24
#: The golden section: its multiples lie evenly between whole numbers.
GOLDEN = (5**0.5 - 1) / 2


def nest(
    outlines: Sequence[OutlineToNest],
    mat: Mat,
    go_on: Callable[[], bool] = lambda: True,
    unit: Unit = Unit.MM,
) -> MatPlan:
    """Lay outlines on mats.

    Parameters
    ----------
    outlines : sequence of OutlineToNest
    mat : Mat
    go_on : callable
        Asked before each further try; the first is always made.
    unit : Unit
        The person's, for messages.

    Raises
    ------
    InputError
        If an outline does not go on the mat in any way that it may be turned.

    Examples
    --------
    Four squares of 100 mm on mats of 212 mm with 6 mm clear all round, and no gap:

    >>> from paramgen.geometry.outlines import rectangle
    >>> square = OutlineToNest(name="top", outline=rectangle(0, 0, 100, 100), quantity=5)
    >>> plan = nest([square], Mat(width=212, height=212, gap=0))
    >>> [(len(one.pieces), times) for one, times in plan.mats], plan.least, plan.proven
    ([(4, 1), (1, 1)], 2, True)

    Of nothing there is nothing:

    >>> nest([], Mat(width=300, height=300)).mats
    ()
    """
    shapes = TurnedOutlines(tuple(outlines), mat)
    _ask_that_each_goes_on(shapes, unit)
    least = _least(outlines, mat)
    best: list[MatBeingLaid] | None = None
    # Round corners may lead into each other's corners and away from rows that hold more.
    rows = TurnedOutlines(tuple(outlines), mat, boxed=True)
    for order, ways in product(_orders(outlines), (rows, shapes)):
        if best is not None and (len(best) <= least or not go_on()):
            break
        found = _laid_in(order, ways)
        if best is None or _worth(found) < _worth(best):
            best = found
    return MatPlan(mat=mat, mats=_alike(best or [], shapes), least=least)


def goes_on(outline: OutlineToNest, mat: Mat) -> bool:
    """Whether an outline goes on a mat in a way that it may be turned."""
    across, down = mat.clear
    boxes = (outline.laid(turned).bounds for turned in outline.turns)
    return any(box[2] <= across + CLOSE and box[3] <= down + CLOSE for box in boxes)


def _ask_that_each_goes_on(shapes: TurnedOutlines, unit: Unit) -> None:
    faults = []
    across, down = shapes.mat.clear
    for number, one in enumerate(shapes.outlines):
        if not goes_on(one, shapes.mat):
            size = shapes.shape((number, one.turns[0])).size
            shown, room = show_sizes_apart(size, (across, down), unit)
            text = f"{shown}, does not go on a mat that has {room} inside its clear edge"
            faults.append(Fault(text, one.name, hint="Name a larger mat, or cut it by hand."))
    if faults:
        raise InputError(faults)


def _least(outlines: Sequence[OutlineToNest], mat: Mat) -> int:
    """No fewer mats can do: every piece takes half the gap round it, the mat gives it too."""
    across, down = mat.clear
    room = (across + mat.gap) * (down + mat.gap)
    taken = sum(
        one.quantity * one.laid(0).buffer(mat.gap / 2, quad_segs=2).area for one in outlines
    )
    return math.ceil(taken / room - 1e-9)


def _orders(outlines: Sequence[OutlineToNest]) -> list[list[int]]:
    """Numbers of outlines, each as often as it is wanted, in the orders to try."""
    boxes = [one.laid(0) for one in outlines]
    sizes = [(one.bounds[2], one.bounds[3]) for one in boxes]
    every = [number for number, one in enumerate(outlines) for _ in range(one.quantity)]
    keys: list[Callable[[int], tuple[float, ...]]] = [
        lambda number: (-boxes[number].area, number),
        lambda number: (-max(sizes[number]), number),
        lambda number: (-sizes[number][1], -sizes[number][0], number),
        lambda number: (-sizes[number][0], -sizes[number][1], number),
    ]
    orders = [sorted(every, key=key) for key in keys]
    for turn in range(1, TRIES - len(keys) + 1 if len(every) > 1 else 1):
        orders.append(_shaken(orders[turn % len(keys)], turn))
    return orders


def _shaken(order: Sequence[int], turn: int) -> list[int]:
    """An order in which each moves a few places, by parts of the golden section: no chance."""
    reach = len(order) / 3
    moved = (place + (turn * (place + 1) * GOLDEN) % 1 * reach for place in range(len(order)))
    return [one for _, one in sorted(zip(moved, order, strict=True))]


def _laid_in(order: Sequence[int], shapes: TurnedOutlines) -> list[MatBeingLaid]:
    mats: list[MatBeingLaid] = []
    for number in order:
        if not any(_lay_on(one, number, shapes) for one in mats):
            mats.append(MatBeingLaid(shapes))
            _lay_on(mats[-1], number, shapes)
    return mats


def _lay_on(mat: MatBeingLaid, number: int, shapes: TurnedOutlines) -> bool:
    """Lay an outline where its lower edge comes highest; tells whether there was room."""
    ways = []
    for turned in shapes.outlines[number].turns:
        if (at := mat.place((number, turned))) is not None:
            width, height = shapes.shape((number, turned)).size
            ways.append((round(at[1] + height, 3), round(at[0] + width, 3), turned, at))
    if not ways:
        return False
    *_, turned, (x, y) = min(ways)
    mat.lay((number, turned), x, y)
    return True


def _worth(mats: Sequence[MatBeingLaid]) -> tuple[float, ...]:
    """Less is better: fewer mats, then less of the last one's height."""
    last = mats[-1]
    return len(mats), max(y + last.shapes.shape(key).size[1] for key, _, y in last.laid)


def _alike(
    mats: Sequence[MatBeingLaid], shapes: TurnedOutlines
) -> tuple[tuple[NestedMat, int], ...]:
    """Mats with how often each is laid just so, the first of each as it came."""
    counted = Counter(tuple(one.laid) for one in mats)
    return tuple((_nested(laid, shapes), times) for laid, times in counted.items())


def _nested(laid: Sequence[tuple[Key, float, float]], shapes: TurnedOutlines) -> NestedMat:
    edge = shapes.mat.edge
    pieces = tuple(
        NestedPiece(name=shapes.outlines[number].name, x=x + edge, y=y + edge, turned=turned)
        for (number, turned), x, y in laid
    )
    on_mat = tuple(
        affinity.translate(shapes.shape(key).laid, x + edge, y + edge) for key, x, y in laid
    )
    return NestedMat(pieces=pieces, shapes=on_mat)
