"""The smallest sizes at which a project holds a thing, and the hoops that take them."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from paramgen.findings import InputError
from paramgen.fit.asking import LIMIT, Asking, Reason
from paramgen.fit.free import companions
from paramgen.fit.hold import Holder, Way, holder, ways
from paramgen.fit.ranges import STEP, End, Search, edge, limits, mm
from paramgen.hooping import Needs, Room
from paramgen.lengths import TOLERANCE, round_up
from paramgen.making import Order
from paramgen.reference.hoops import Hoop, smallest_first
from paramgen.reference.things import Several

#: Findings that `make` only tells, but of a thing that falls out or cannot be gripped again.
HEEDED = frozenset({"held-too-little", "no-grip"})

#: How often all sizes are lowered in turn; they settle in two unless they hang together.
ROUNDS = 4

#: Marks above the smallest sizes that are tried, where the next one will not do.
MARKS = 3


@dataclass(frozen=True)
class Holding:
    """One way to hold things, and the smallest sizes for it.

    Parameters
    ----------
    way : Way
        Which way round they are put in, and the lengths to ask for.
    sizes : mapping of name to mm
        Finished sizes on ruler marks; those that were asked as they were.
    ends : mapping of name to End
        For each size that was looked for, the smallest to a tenth of a millimetre with the
        others as they are, and what speaks against a tenth less.
    needs : (Needs, Needs)
        Smallest field, as it lies and turned by 90°, mm.
    hoops : tuple of (Hoop, bool)
        The listed ones that take it, the smallest first, and whether it lies turned there.
    """

    way: Way
    sizes: Mapping[str, float]
    ends: Mapping[str, End]
    needs: tuple[Needs, Needs]
    hoops: tuple[tuple[Hoop, bool], ...]

    def fits(self, room: Room) -> bool:
        """Whether a hoop takes it."""
        return any(room.takes(self.needs[turned]) for turned in room.ways)

    @property
    def area(self) -> float:
        """Of the finished project, mm²."""
        return math.prod(self.sizes.values())


@dataclass(frozen=True)
class HoldAnswer:
    """What holds things.

    Parameters
    ----------
    order : Order
        As it was asked.
    where : Holder
    things : tuple of Several
    room : Room or None
        The hoop asked for; None if any will do.
    holdings : tuple of Holding
        The best first; empty if nothing holds them.
    refused : tuple of Reason
        Where nothing does, what speaks against it.
    """

    order: Order
    where: Holder
    things: tuple[Several, ...]
    room: Room | None
    holdings: tuple[Holding, ...]
    refused: tuple[Reason, ...] = ()

    @property
    def best(self) -> Holding | None:
        """The smallest that fits the hoop asked for; else that of the smallest hoop."""
        return self.holdings[0] if self.holdings else None


def held(
    order: Order,
    things: Sequence[Several],
    *,
    ease: float | None = None,
    hoops: Sequence[Hoop] = (),
    any_hoop: bool = False,
) -> HoldAnswer:
    """Find the smallest sizes at which a project holds things and can be made.

    For each way round of the things the sizes are lowered in turn, first width then height and
    then the other way about, until a tenth of a millimetre less of either fails the whole
    check, without regard to a hoop. Where width and height can be had for one another, that
    gives both ends. The sizes are then rounded up to ruler marks and asked about again. Sizes
    that are asked by name are kept.

    Parameters
    ----------
    order : Order
        Its hoop is the one asked for; its scale is not looked at.
    things : sequence of Several
        Where there are several kinds, the place is made for the box round them, and each must
        be held in it.
    ease : float or None
        Room beyond the things and their thickness, mm; the recipe's own if None.
    hoops : sequence of Hoop
        The listed ones.
    any_hoop : bool
        Whether no hoop was asked for.

    Returns
    -------
    HoldAnswer
        First what fits the hoop asked for, the least area first; then what fits the smallest
        listed hoop; then what fits none.

    Raises
    ------
    InputError
        If the recipe holds nothing, or what is asked is wrong.
    """
    room = None if any_hoop else order.room
    where = holder(order.recipe, order.asked, order.unit)
    found: list[Holding] = []
    refused: list[Reason] = []
    for way in ways(order.recipe, things, asked=order.asked, unit=order.unit, ease=ease):
        asked = {**order.asked, **way.asked}
        try:
            asking = Asking(replace(order, asked=asked, scale=1.0), HEEDED)
        except InputError as problem:
            refused += (Reason(LIMIT, str(fault)) for fault in problem.faults)
            continue
        names = [name for name in asking.sizes({}) if name not in order.asked]
        corners, against = _corners(asking, names)
        refused += against
        for corner in corners:
            one = _holding(asking, way, corner, order.room, hoops)
            if against := _others(asking, where, way, one.sizes):
                refused += against
            elif one.sizes not in [other.sizes for other in found]:
                found.append(one)
    ranks = {hoop: rank for rank, hoop in enumerate(smallest_first(hoops))}

    def merit(one: Holding) -> tuple[bool, int, float]:
        smallest = ranks[one.hoops[0][0]] if one.hoops else len(ranks)
        fits = room is not None and one.fits(room)
        return (not fits, 0 if fits else smallest, one.area)

    best_first = tuple(sorted(found, key=merit))
    once = tuple(dict.fromkeys(refused)) if not found else ()
    return HoldAnswer(order, where, tuple(things), room, best_first, once)


def _corners(
    asking: Asking, names: Sequence[str]
) -> tuple[list[dict[str, float]], tuple[Reason, ...]]:
    """Smallest sizes, or what speaks against all."""
    if not names:
        against = asking.against({}, None)
        return ([] if against else [{}]), against
    start = _start(asking, names)
    if start is None:
        most = {name: mm(limits(asking, name)[1]) for name in names}
        return [], asking.against(most, None)
    corners: list[dict[str, float]] = []
    for order in (names, names[::-1]):
        corner = dict(start)
        for _ in range(ROUNDS):
            before = dict(corner)
            for name in order:
                corner[name] = _lowered(asking, name, corner)
            if corner == before:
                break
        if corner not in corners:
            corners.append(corner)
    return corners, ()


def _start(asking: Asking, names: Sequence[str]) -> dict[str, float] | None:
    """Sizes that work: the recipe's own, its most, or what is found between."""
    own = asking.sizes({})
    near = {name: mm(math.ceil(own[name] / STEP - TOLERANCE)) for name in names}
    most = {name: mm(limits(asking, name)[1]) for name in names}
    for values in (near, most):
        if not asking.against(values, None):
            return values
    found = companions(asking, {}, names, None)
    # Steps of the search are whole, and those it took as they were asked need not be.
    values = {**near, **(found or {})}
    return None if found is None or asking.against(values, None) else values


def _lowered(asking: Asking, name: str, values: Mapping[str, float]) -> float:
    """The smallest of one size, with the others as they are."""
    others = {other: value for other, value in values.items() if other != name}
    search = Search(asking, name, None, others)
    inside, (first, _) = round(values[name] / STEP), limits(asking, name)
    if inside <= first or search.whole(inside - 1):
        return values[name]
    # The cheap parts of the check first: they bring the dear one nearer.
    for part in (search.numbers, search.unfit, search.whole):
        first = edge(part, inside, first)
    return mm(first)


def _holding(
    asking: Asking, way: Way, corner: Mapping[str, float], room: Room, hoops: Sequence[Hoop]
) -> Holding:
    """The smallest sizes on ruler marks, with what binds them and the hoops that take them."""
    ends = {}
    for name, value in corner.items():
        others = {other: length for other, length in corner.items() if other != name}
        ends[name] = Search(asking, name, None, others).end(round(value / STEP), -1)
    sizes = asking.sizes(_on_marks(asking, corner))
    needs = tuple(asking.needs(sizes, turned=turned) or (0.0, 0.0) for turned in (False, True))
    upright, turned_over = needs
    takes = tuple(_takes(room, hoops, needs))
    return Holding(way, sizes, ends, (upright, turned_over), takes)


def _on_marks(asking: Asking, corner: Mapping[str, float]) -> dict[str, float]:
    mark = asking.sized.names["ruler_mark"]
    for more in range(MARKS):
        values = {name: round_up(value, mark) + more * mark for name, value in corner.items()}
        if not asking.against(values, None):
            return values
    return dict(corner)


def _takes(
    room: Room, hoops: Sequence[Hoop], needs: Sequence[Needs]
) -> Iterator[tuple[Hoop, bool]]:
    for hoop in smallest_first(hoops):
        there = replace(room, hoop=hoop)
        turned = next((turned for turned in there.ways if there.takes(needs[turned])), None)
        if turned is not None:
            yield hoop, turned


def _others(
    asking: Asking, where: Holder, way: Way, sizes: Mapping[str, float]
) -> tuple[Reason, ...]:
    """What speaks against any of several kinds in a place made for the box round them."""
    if len(way.sizes) == 1:
        return ()
    order = asking.order
    made = Asking(replace(order, asked={**order.asked, **sizes})).sized
    # Every length stays as it was made; only what lies there changes.
    lengths = {one.name: one.value for one in made.lengths}
    ease = {where.ease: way.asked[where.ease]} if where.ease else {}
    found = (
        Asking(
            replace(
                order,
                asked={
                    **order.asked,
                    **lengths,
                    **sizes,
                    **where.lengths(one, 0.0, 0.0),
                    **ease,
                },
            ),
            HEEDED,
        ).against({}, None)
        for one in way.sizes
    )
    return tuple(chain.from_iterable(found))
