"""Does it fit the hoop, which way round, and if not, what would.

A project is centred by its needle points, not by its outline: a field takes needle points, and a
zigzag swings out. It moves by whole steps of the grid, so every needle point moves exactly. What
would fit is searched by trying, from the size asked downwards by what sticks out and then by
halving, since a recipe's conditions need not hold for all smaller sizes; and it is asked of the
rehearsal before it is named.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import field, replace
from itertools import product
from math import prod

from paramgen.budget import A_RUN, A_TRY, MOST_TRIED
from paramgen.lengths import TOLERANCE
from paramgen.reference.hoops import Hoop, smallest_first, the_smallest
from paramgen.sentences import SHOWN_TO
from paramgen.sizing import Sized, conditions
from paramgen.stitches.needle_points import SewnStep
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.facts import Clause, Clauses, Facts, Mm, MmByMm, Name, facts
from paramgen.vocabulary.findings import CannotMakeError, Finding, InputError, Instead, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Figure, Project
from paramgen.works import AFRESH, Needs, Works

#: Given sizes by name, mm, size the recipe anew with everything else as asked.
Resize = Callable[[Mapping[str, float]], Sized]


@dataclass(frozen=True)
class Room:
    """What a hoop offers a project.

    Parameters
    ----------
    hoop : Hoop
    margin : float
        Kept free of stitches all round inside the field, mm.
    may_turn : bool
        Whether the project may lie turned by 90°.
    """

    hoop: Hoop
    margin: float = 0.0
    may_turn: bool = True

    @property
    def ways(self) -> tuple[bool, ...]:
        """Ways round to try: as it is, and turned."""
        return (False, True) if self.may_turn else (False,)

    @property
    def field(self) -> tuple[float, float]:
        """Width and height that stitches may take, mm."""
        return self.hoop.width - 2 * self.margin, self.hoop.height - 2 * self.margin

    def over(self, needs: Needs) -> Needs:
        """By how much stitches that need such a field stick out at each side, mm.

        The first number is for the left and for the right, the second for the top and for
        the bottom.
        """
        wide, high = ((want - has) / 2 for want, has in zip(needs, self.field, strict=True))
        return (wide if wide > TOLERANCE else 0.0, high if high > TOLERANCE else 0.0)

    def takes(self, needs: Needs) -> bool:
        """Whether stitches that need such a field lie within it."""
        return self.over(needs) == (0.0, 0.0)


@dataclass(frozen=True)
class Hooped:
    """A project as it lies in its hoop.

    Parameters
    ----------
    project : Project
        Centred so that the stitching is in the middle of the field.
    sewn : tuple of SewnStep
    room : Room
    extent : Box
        The smallest that all needle points lie in.
    move : (dx, dy)
        By how much it was moved to be centred, after any turn, mm; of several copies, the
        first.
    """

    project: Project
    sewn: tuple[SewnStep, ...]
    room: Room
    extent: Box
    move: tuple[float, float]


def put_in_hoop(
    sized: Sized,
    room: Room,
    *,
    resize: Resize,
    hoops: Sequence[Hoop] = (),
    works: Works = AFRESH,
) -> Hooped:
    """Put a sized recipe in a hoop, turned by 90° if it fits only so.

    Parameters
    ----------
    sized : Sized
    room : Room
    resize : callable
        Used to look for sizes that would fit.
    hoops : sequence of Hoop
        Among them the smallest that would take it is looked for.
    works : Works
        Keeps what was worked out.

    Raises
    ------
    CannotMakeError
        If it cannot be made at all, or exceeds the field: by how much, and what would fit.
    """
    needs: dict[bool, Needs] = {}
    for turned in room.ways:
        made = works.stitched(sized, turned=turned)
        if room.takes(made.needs):
            found = (*made.project.findings, _turned(room.hoop)) if turned else ()
            project = replace(made.project, findings=found) if turned else made.project
            return Hooped(project, made.sewn, room, made.extent, made.move)
        needs[turned] = made.needs
    too_large = _too_large(sized, needs, room, resize, hoops, works)
    raise CannotMakeError([*conditions(sized), too_large])


def _turned(hoop: Hoop) -> Finding:
    return Finding(
        "turned-in-hoop",
        Severity.KNOW,
        facts(hoop=hoop.called),
    )


def _too_large(
    sized: Sized,
    needs: Mapping[bool, Needs],
    room: Room,
    resize: Resize,
    hoops: Sequence[Hoop],
    works: Works,
) -> Finding:
    """Say by how much stitches are too large, lying as they are or turned, and what would do."""
    # The way round that sticks out less is the one to speak of.
    turned = min(room.ways, key=lambda way: max(room.over(needs[way])))
    over = room.over(needs[turned])
    try:
        smaller = _smaller(sized, room, resize, works)
    except _TooLongError:
        smaller = [(Clause("too-long-to-look"), None)]
    ways, instead = [clause for clause, _ in smaller], [one for _, one in smaller if one]
    larger, way = _larger_hoop(needs, room, hoops)
    if hoops:
        ways.append(the_smallest(Clause("it-as-asked"), larger, hoops, turned=way))
    if larger:
        instead.append(Instead(hoop=larger.name))
    return Finding(
        "hoop-exceeded",
        Severity.CANNOT,
        facts(
            needs=MmByMm(*needs[turned]),
            turned=Clause("turned") if turned else None,
            hoop=room.hoop.called,
            field=MmByMm(*room.field),
            sides=sticking_out(over),
            ways=Clauses(tuple(ways)),
        ),
        amount=max(over),
        place=_box(needs[turned]),
        instead=tuple(instead),
    )


def sticking_out(over: Needs) -> Clauses:
    """By how much stitches stick out at each side; see `Room.over`."""
    sides = zip(("too-wide", "too-high"), over, strict=True)
    return Clauses(tuple(Clause(key, facts(over=Mm(by))) for key, by in sides if by))


def _box(size: tuple[float, float]) -> tuple[Point, ...]:
    x, y = size[0] / 2, size[1] / 2
    return ((-x, -y), (x, -y), (x, y), (-x, y), (-x, -y))


def _larger_hoop(
    needs: Mapping[bool, Needs], room: Room, hoops: Sequence[Hoop]
) -> tuple[Hoop | None, bool]:
    """The smallest hoop that takes it, and whether turned."""
    for hoop in smallest_first(hoops):
        for turned in room.ways:
            if replace(room, hoop=hoop).takes(needs[turned]):
                return hoop, turned
    return None, False


#: Sizes by name, mm; those that follow from others may be left out.
SizeValues = Mapping[str, float]


def _smaller(
    sized: Sized, room: Room, resize: Resize, works: Works
) -> list[tuple[Clause, Instead | None]]:
    """Say the largest sizes that work: each with the others as asked, and all together."""
    look = _Looking(sized=sized, room=room, resize=resize, works=works)
    found: list[tuple[Clause, Instead | None]] = []
    for figure in sized.sizes:
        best = look.alone(figure)
        if best:
            instead = Instead(((figure.name, best),))
            found.append((Clause("largest-alone", _size(figure.name, best)), instead))
    together = look.together()
    if together and all(one != Instead(tuple(together.items())) for _, one in found):
        sizes = (Clause("size", _size(name, value)) for name, value in together.items())
        instead = Instead(tuple(together.items()))
        every = facts(sizes=Clauses(tuple(sizes)))
        found.append((Clause("largest-together", every), instead))
    return found or [(Clause("nothing-fits-here"), None)]


def _size(name: str, value: float) -> Facts:
    return facts(size=Name("size", name, name), value=Mm(value))


def largest_together(
    sized: Sized, room: Room, resize: Resize, works: Works = AFRESH
) -> dict[str, float]:
    """Find the largest of all sizes at once that a hoop takes, by their product.

    Each lies at the end of the field, so no larger one fits with any values of the others.

    Parameters
    ----------
    sized : Sized
    room : Room
    resize : callable
    works : Works
        Keeps what was worked out.

    Returns
    -------
    dict of name to mm
        Whole marks of what is shown; sizes that follow from others are left out. Empty if the
        numbers or the rehearsal refuse these.
    """
    return _Looking(sized=sized, room=room, resize=resize, works=works).together()


@dataclass(frozen=True, kw_only=True)
class _Looking:
    """Looks for sizes that lie in a field, and asks the rehearsal before it names any."""

    sized: Sized
    room: Room
    resize: Resize
    works: Works
    _known: dict[tuple[frozenset[tuple[str, float]], bool], Needs | None] = field(
        default_factory=dict
    )
    _tried: list[int] = field(default_factory=list)

    def alone(self, figure: Figure) -> float:
        """The largest of a size, no larger than asked, with the others as asked; 0 if none."""
        every = {way: self._largest(figure, figure.value, {}, way, BOTH) for way in self.room.ways}
        best = max(every.values())
        return best if best and self._sound({figure.name: best}) else 0.0

    def together(self) -> dict[str, float]:
        """The largest of all sizes at once, by their product; none if there is none."""
        found: list[tuple[float, dict[str, float]]] = []
        for turned in self.room.ways:
            values: dict[str, float] = {}
            for axis in BOTH:
                for figure in self.sized.sizes:
                    most = self.sized.recipe.file.sizes[figure.name].most or figure.value
                    best = 0.0
                    if figure.name not in values:
                        best = self._largest(figure, most, values, turned, (axis,))
                    if best:
                        values[figure.name] = best
                        break
            if values := self._a_little_less(values, turned):
                every = {one.name: one.value for one in self.resize(values).sizes}
                in_order = {name: values[name] for name in every if name in values}
                found.append((prod(every.values()), in_order))
        found.sort(key=lambda one: -one[0])
        return next((values for _, values in found if self._sound(values)), {})

    def _a_little_less(self, values: SizeValues, turned: bool) -> dict[str, float]:
        """Sizes that lie in the field, or the nearest a few marks less that do; else none.

        Where the needle points of a curve lie depends on both of its sizes.
        """
        mark = SHOWN_TO[self.sized.unit]
        for less in sorted(product(range(LITTLE + 1), repeat=len(values)), key=sum):
            tried = {
                name: round(value - count * mark, 9)
                for (name, value), count in zip(values.items(), less, strict=True)
            }
            if tried and self._excess(tried, turned, BOTH) == 0:
                return tried
        return {}

    def _largest(
        self, figure: Figure, most: float, others: SizeValues, turned: bool, axes: tuple[int, ...]
    ) -> float:
        """The largest of a size that sticks out along none of some axes, the others given."""
        mark = SHOWN_TO[self.sized.unit]
        return largest(
            self.sized.recipe.file.sizes[figure.name].least or mark,
            most,
            lambda value: self._excess({**others, figure.name: value}, turned, axes),
            step=mark,
        )

    def _excess(self, values: SizeValues, turned: bool, axes: tuple[int, ...]) -> float | None:
        wanted = self._needs(values, turned)
        return None if wanted is None else 2 * max(self.room.over(wanted)[axis] for axis in axes)

    def _needs(self, values: SizeValues, turned: bool) -> Needs | None:
        """What stitches need; None if there are none."""
        key = frozenset(values.items())
        other = self._known.get((key, not turned))
        if other and max(self.room.over((other[1], other[0]))) > FAR:
            return other[1], other[0]
        if (key, turned) not in self._known:
            if sum(self._tried) > MOST_TRIED:
                raise _TooLongError
            try:
                made = self.works.stitched(self.resize(values), turned=turned)
            except (CannotMakeError, InputError):
                self._known[key, turned] = None
                self._tried.append(A_TRY)
            else:
                self._known[key, turned] = made.needs
                runs = sum(len(step.runs) for step in made.sewn)
                stitches = sum(step.stitch_count for step in made.sewn)
                self._tried.append(A_TRY + A_RUN * runs + stitches)
        return self._known[key, turned]

    def _sound(self, values: SizeValues) -> bool:
        """Whether the rehearsal finds nothing that stops it."""
        return not any(finding.stops for finding in self.works.found(self.resize(values)))


class _TooLongError(Exception):
    """More was tried than the budget has."""


#: Across and down the hoop.
BOTH = (0, 1)

#: So many marks less of each size are tried where both together are a little too large.
LITTLE = 2

#: Stitches that exceed a field by more than this stick out whichever way they are rounded, mm:
#: turned they need the same but for steps of the grid.
FAR = 1.0


#: Steps of a size in which one that can be made at all is looked for.
TRIES = 16


def largest(
    low: float, high: float, excess: Callable[[float], float | None], *, step: float
) -> float:
    """Largest whole number of steps from a lowest to a highest value that is not too much.

    Parameters
    ----------
    low, high : float
        Millimetres.
    excess : callable
        By how much a value is too much, mm: about what it must be lower by, and 0 if it
        will do. None where it cannot be made at all, which says neither.
    step : float
        Millimetres.

    Returns
    -------
    float
        Millimetres; 0 if none of those tried will do.
    """

    def over(place: int) -> float | None:
        return excess(round(place * step, 9))

    first, last = math.ceil(low / step - TOLERANCE), math.floor(high / step + TOLERANCE)
    stride = max(1, (last - first) // TRIES)
    place, failing, before, idle = last, last + 1, math.inf, False
    while place >= first:
        amount = over(place)
        if amount is None and failing <= last:
            # Too small to be made: between the two there may be what will do.
            place = _highest(place, failing, lambda at: not over(at))
            amount = over(place)
            failing = last + 1
        if amount == 0:
            return round(_highest(place, failing, lambda at: over(at) == 0) * step, 9)
        down = stride
        if amount is not None:
            failing = place
            if amount < before - TOLERANCE:
                before, down, idle = amount, math.ceil(amount / step - TOLERANCE), False
            elif idle:
                return 0.0  # it is not this size that is too much
            else:
                idle = True
        place = max(first, place - down) if place > first else first - 1
    return 0.0


def _highest(passing: int, failing: int, passes: Callable[[int], bool]) -> int:
    """Highest that passes, from one that does to one above it that does not."""
    if failing - passing > 1 and not passes(passing + 1):
        return passing  # usual: it was aimed at
    while failing - passing > 1:
        middle = (passing + failing) // 2
        if passes(middle):
            passing = middle
        else:
            failing = middle
    return passing
