"""The smallest sizes at which a project holds a thing, and the hoops that take them.

They are looked for in whole ruler marks, from the largest down, and begun at the thing's own size,
since each check of a wallet takes about a tenth of a second. First come sizes that do not
disappoint at all, and only where there is none those that hold the things.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from paramgen.finished.all_findings import prove
from paramgen.fit.apart import placed_apart
from paramgen.fit.holding_lengths import Holder, HoldingWay, box, holder, to_hold, ways
from paramgen.fit.remembered_checks import LIMIT, RememberedChecks
from paramgen.fit.smallest_sizes import binding, smallest
from paramgen.hooping import Room
from paramgen.layout.lay_out import lay_out
from paramgen.lengths import MOST, TOLERANCE
from paramgen.making import Order
from paramgen.reference.hoops import Hoop, smallest_first
from paramgen.reference.things import SeveralThings, Thing
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.vocabulary.facts import Mm, Name, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.works import AFRESH, Needs, Works

#: Findings that `make` only tells, but of a thing that falls out, cannot be gripped again, or is in
#: the way when the project is closed.
HEEDED = frozenset({"held-too-little", "no-grip", "fold-crowded"})

#: These may come of what no size mends: they are heeded where that leaves any size.
AVOIDED = HEEDED | {"mouth-narrow", "recipe-condition"}

#: What is needed where no field will do.
NO_FIELD = (math.inf, math.inf)


@dataclass(frozen=True, kw_only=True)
class Holding:
    """One way to hold things, and the smallest sizes for it.

    Parameters
    ----------
    way : HoldingWay
        Which way round they are put in, and the lengths to ask for.
    sizes : mapping of name to mm
        Finished sizes: on ruler marks, but for those that were asked.
    binds : mapping of name to tuple of Finding
        For each size that was looked for, what speaks against one ruler mark less with the
        others as they are.
    needs : (Needs, Needs)
        Smallest field, as it lies and turned by 90°, mm.
    hoops : tuple of (Hoop, bool)
        The listed ones that take it, the smallest first, and whether it lies turned there.
    mark : float
        The ruler mark of its sizes, mm.
    """

    way: HoldingWay
    sizes: Mapping[str, float]
    binds: Mapping[str, tuple[Finding, ...]]
    needs: tuple[Needs, Needs]
    hoops: tuple[tuple[Hoop, bool], ...]
    mark: float

    def fits(self, room: Room) -> bool:
        """Whether a hoop takes it."""
        return any(room.takes(self.needs[turned]) for turned in room.ways)

    @property
    def lies_as_put_in(self) -> bool:
        """Whether it is as wide and as high as what is put in."""
        return all(
            side <= size
            for side, size in zip(box(self.way.sizes), self.sizes.values(), strict=False)
        )

    @property
    def area(self) -> float:
        """All its sizes multiplied: the least is the best; mm² where there are two."""
        return math.prod(self.sizes.values())


@dataclass(frozen=True, kw_only=True)
class HoldAnswer:
    """What holds things.

    Parameters
    ----------
    order : Order
        As it was asked.
    where : Holder
    things : tuple of SeveralThings
    room : Room or None
        The hoop asked for; None if any will do.
    holdings : tuple of Holding
        The best first; empty if nothing holds them.
    refused : tuple of Finding
        Where nothing does, what speaks against it.
    told : tuple of Finding
        What will disappoint in the best all the same.
    beside : tuple of (SeveralThings, str)
        What lies in a place of its own, and against what; its lengths are asked for in the order.
    """

    order: Order
    where: Holder
    things: tuple[SeveralThings, ...]
    room: Room | None
    holdings: tuple[Holding, ...]
    refused: tuple[Finding, ...] = ()
    told: tuple[Finding, ...] = ()
    beside: tuple[tuple[SeveralThings, str], ...] = ()

    @property
    def best(self) -> Holding | None:
        """The smallest that fits the hoop asked for; else that of the smallest hoop."""
        return self.holdings[0] if self.holdings else None

    @property
    def works(self) -> bool:
        """Whether the hoop asked for takes it; any listed one, if none was asked for."""
        if self.best is None:
            return False
        return bool(self.best.hoops) if self.room is None else self.best.fits(self.room)


def held(
    order: Order,
    things: Sequence[SeveralThings],
    *,
    ease: float | None = None,
    hoops: Sequence[Hoop] = (),
    any_hoop: bool = False,
    known: Sequence[Thing] = (),
    works: Works = AFRESH,
) -> HoldAnswer:
    """Find the smallest sizes at which a project holds things and can be made.

    For each way round of the things, the smallest width and then the smallest height for it are
    looked for by asking the whole check without regard to a hoop, and where the two can be had
    for one another, the other end too (`smallest`). Of what is found the best is that of the
    least area that the hoop asked for takes; if it takes none or none was asked for, that of the
    smallest listed hoop. Sizes that are asked by name are kept.

    Parameters
    ----------
    order : Order
        Its hoop is the one asked for; its scale is not looked at.
    things : sequence of SeveralThings
        Where there are several kinds, the place is made for the box round them, and each must
        be held in it.
    ease : float or None
        Room beyond the things and their thickness, mm; the recipe's own if None.
    hoops : sequence of Hoop
        The listed ones.
    any_hoop : bool
        Whether no hoop was asked for.
    known : sequence of Thing
        The listed ones: by these it is known for which things the recipe has a place of its own.
    works : Works
        Keeps what was worked out.

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
    placed = placed_apart(order.recipe, things, known, order.asked, order.unit)
    order = replace(order, recipe=placed.recipe, asked={**placed.asked, **order.asked})
    things, place = placed.things, placed.place
    where = holder(order.recipe, order.asked, order.unit, place)
    every = ways(order.recipe, things, asked=order.asked, unit=order.unit, ease=ease, place=place)
    found, refused = _every_way(order, where, things, every, hoops, AVOIDED, works)
    if not found:
        found, refused = _every_way(order, where, things, every, hoops, HEEDED, works)
    ranks = {hoop: rank for rank, hoop in enumerate(smallest_first(hoops))}

    def merit(one: Holding) -> tuple[int, float, bool, tuple[bool, ...]]:
        rank = ranks[one.hoops[0][0]] if one.hoops else len(ranks)
        if room is not None and one.fits(room):
            rank = -1
        return (rank, one.area, not one.lies_as_put_in, one.way.turned)

    # Through a zip a thing goes either way round: what is then found twice is told once.
    holdings = [one for _, one in found]
    worst_first = sorted(holdings, key=merit, reverse=True)
    once_each = {tuple(one.sizes.values()): one for one in worst_first}
    best_first = tuple(sorted(once_each.values(), key=merit))
    once = tuple(dict.fromkeys(refused)) if not found else ()
    told: tuple[Finding, ...] = ()
    if best_first:
        asking = next(asking for asking, one in found if one is best_first[0])
        told = asking.told(best_first[0].sizes)
    return HoldAnswer(
        order=order,
        where=where,
        things=tuple(things),
        room=room,
        holdings=best_first,
        refused=once,
        told=told,
        beside=placed.beside,
    )


def _every_way(
    order: Order,
    where: Holder,
    things: Sequence[SeveralThings],
    every: Sequence[HoldingWay],
    hoops: Sequence[Hoop],
    heeds: frozenset[str],
    works: Works,
) -> tuple[list[tuple[RememberedChecks, Holding]], list[Finding]]:
    """The smallest sizes for each way round, and what speaks against the others."""
    found: list[tuple[RememberedChecks, Holding]] = []
    refused: list[Finding] = []
    searched: dict[
        tuple[float, ...],
        tuple[RememberedChecks, tuple[dict[str, float], ...], tuple[Finding, ...]],
    ] = {}
    for way in every:
        if outside := tuple(_outside(order, where, way)):
            refused += outside
            continue
        key = tuple(way.asked.values())  # several kinds may want the same place turned or not
        if key not in searched:
            asked = {**order.asked, **way.asked}
            recipe = to_hold(order.recipe, where, way.title)
            asking = RememberedChecks(
                replace(order, recipe=recipe, asked=asked, scale=1.0), heeds, works
            )
            names = [name for name in asking.sizes({}) if name not in order.asked]
            searched[key] = asking, *smallest(asking, names, _box(where, way))
        asking, corners, against = searched[key]
        refused += against
        for corner in corners:
            one = _holding(asking, way, corner, order.room, hoops)
            if against := _others(asking, where, way, things, one.sizes):
                refused += against
            else:
                found.append((asking, one))
    return found, refused


def _box(where: Holder, way: HoldingWay) -> tuple[float, float]:
    """Width and height of what is held, with all the room it needs."""
    room = way.asked.get(where.ease, 0.0) + way.asked.get(where.thickness, 0.0)
    return way.asked[where.width] + room, way.asked[where.height] + room


def _outside(order: Order, where: Holder, way: HoldingWay) -> Iterator[Finding]:
    """The lengths that the recipe cannot be asked for."""
    for name, value in way.asked.items():
        entry = order.recipe.file.lengths[name]
        least = 0.0 if entry.least is None else entry.least
        most = MOST if entry.most is None else entry.most
        if least - TOLERANCE <= value <= most + TOLERANCE:
            continue
        known = facts(
            means=Name("size", name, entry.means),
            size=Name("size", name, name),
            least=Mm(least),
            most=Mm(most),
            wanted=Mm(value),
            thing=Name("thing", where.name, way.title),
        )
        yield Finding(LIMIT, Severity.CANNOT, known, variant="for-a-thing")


def _holding(
    asking: RememberedChecks,
    way: HoldingWay,
    found: Mapping[str, float],
    room: Room,
    hoops: Sequence[Hoop],
) -> Holding:
    """Smallest sizes with what binds them and the hoops that take them."""
    sizes = asking.sizes(found)
    binds = {name: binding(asking, name, found) for name in found}
    # Where it cannot be stitched that way round, no field takes it so.
    upright, turned = (asking.needs(found, turned=turn) or NO_FIELD for turn in (False, True))
    takes = tuple(_takes(room, hoops, upright, turned))
    mark = float(asking.sized.names["ruler_mark"])
    return Holding(
        way=way, sizes=sizes, binds=binds, needs=(upright, turned), hoops=takes, mark=mark
    )


def _takes(room: Room, hoops: Sequence[Hoop], *needs: Needs) -> Iterator[tuple[Hoop, bool]]:
    for hoop in smallest_first(hoops):
        there = replace(room, hoop=hoop)
        turned = next((turned for turned in there.ways if there.takes(needs[turned])), None)
        if turned is not None:
            yield hoop, turned


def _others(
    asking: RememberedChecks,
    where: Holder,
    way: HoldingWay,
    things: Sequence[SeveralThings],
    sizes: Mapping[str, float],
) -> tuple[Finding, ...]:
    """What speaks against any of several kinds in a place made for the box round them."""
    whole = box(way.sizes)
    rest = {
        size_of: one.thing.title
        for one, size_of in zip(things, way.sizes, strict=True)
        if size_of != whole
    }
    if not rest:
        return ()
    order = asking.order
    sized = size(order.recipe, {**order.asked, **sizes}, unit=order.unit)
    project = lay_out(sized, chord_error=COARSE)
    reasons: list[Finding] = []
    for one, title in rest.items():
        # What is made stays as it is; only what lies in it changes.
        holds = tuple(
            replace(held, title=title, size=one) if held.name == where.name else held
            for held in project.holds
        )
        found = prove(replace(project, holds=holds)).findings
        reasons += (one for one in found if one.stops or one.code in HEEDED)
    return tuple(reasons)
