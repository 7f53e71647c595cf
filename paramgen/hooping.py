"""Does it fit the hoop, which way round, and if not, what would."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import prod

import numpy as np

from paramgen.findings import CannotMakeError, Finding, InputError, Severity
from paramgen.layout.build import lay_out, shifted
from paramgen.layout.project import Figure, Project
from paramgen.lengths import round_down, show, show_both, show_size
from paramgen.reference.hoops import Hoop, smallest_first
from paramgen.sentences import SHOWN_TO
from paramgen.sizing import Sized
from paramgen.stitches.measures import needle_bounds
from paramgen.stitches.sew import sew
from paramgen.stitches.sewn import GRID_MM, SewnStep

#: Sizes are found to this, mm: the grid of stitch files.
FOUND_TO = GRID_MM

#: Given sizes by name, mm, size the recipe anew with everything else as asked.
Resize = Callable[[dict[str, float]], Sized]


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

    def over(self, needs: tuple[float, float], *, turned: bool) -> tuple[float, float]:
        """By how much each side sticks out left and right, top and bottom, mm."""
        wanted = (needs[1], needs[0]) if turned else needs
        wide, high = ((want - has) / 2 for want, has in zip(wanted, self.field, strict=True))
        return (wide if wide > 1e-6 else 0.0, high if high > 1e-6 else 0.0)

    def takes(self, needs: tuple[float, float], *, turned: bool) -> bool:
        """Whether stitches that need such a field lie within it."""
        return self.over(needs, turned=turned) == (0.0, 0.0)


@dataclass(frozen=True)
class Hooped:
    """A project as it lies in its hoop.

    Parameters
    ----------
    project : Project
        Centred so that the stitching is in the middle of the field.
    sewn : tuple of SewnStep
    room : Room
    extent : (x, y, x, y)
        Smallest and largest of the needle points, mm.
    move : (dx, dy)
        By how much it was moved to be centred, after any turn, mm.
    """

    project: Project
    sewn: tuple[SewnStep, ...]
    room: Room
    extent: tuple[float, float, float, float]
    move: tuple[float, float]


@dataclass(frozen=True)
class Stitched:
    """A project with its stitches, centred, before it is known to fit."""

    project: Project
    sewn: tuple[SewnStep, ...]
    extent: tuple[float, float, float, float]
    move: tuple[float, float]

    @property
    def needs(self) -> tuple[float, float]:
        """Smallest field, width and height, that takes it centred, mm."""
        left, top, right, bottom = self.extent
        return 2 * max(-left, right), 2 * max(-top, bottom)


def stitch(sized: Sized, *, turned: bool = False) -> Stitched:
    """Lay out and sew a sized recipe, and centre it by its needle points.

    Raises
    ------
    CannotMakeError
        If a condition forbids it, or a line cannot be sewn.
    """
    project = lay_out(sized, turned=turned)
    sewn, found = sew(project.steps)
    if any(finding.stops for finding in found):
        raise CannotMakeError([*project.findings, *found])
    left, top, right, bottom = needle_bounds(sewn)
    # Whole steps of the grid, so that every needle point moves exactly.
    move = (-round((left + right) / 2 / GRID_MM), -round((top + bottom) / 2 / GRID_MM))
    sewn = tuple(
        replace(
            step,
            runs=tuple(replace(run, needles=run.needles + np.array(move)) for run in step.runs),
        )
        for step in sewn
    )
    by = (move[0] * GRID_MM, move[1] * GRID_MM)
    project = shifted(project, *by)
    project = replace(project, findings=(*project.findings, *found))
    return Stitched(project, sewn, needle_bounds(sewn), by)


def put_in_hoop(sized: Sized, room: Room, *, resize: Resize, hoops: Sequence[Hoop] = ()) -> Hooped:
    """Put a sized recipe in a hoop, turned by 90° if it fits only so.

    Parameters
    ----------
    sized : Sized
    room : Room
    resize : callable
        Used to look for sizes that would fit.
    hoops : sequence of Hoop
        Among them the smallest that would take it is looked for.

    Raises
    ------
    CannotMakeError
        If it cannot be made at all, or exceeds the field: by how much, and what would fit.
    """
    made = stitch(sized)
    needs = made.needs
    if room.takes(needs, turned=False):
        return Hooped(made.project, made.sewn, room, made.extent, made.move)
    if room.may_turn and room.takes(needs, turned=True):
        made = stitch(sized, turned=True)
        if room.takes(made.needs, turned=False):
            found = (*made.project.findings, _turned(room.hoop))
            project = replace(made.project, findings=found)
            return Hooped(project, made.sewn, room, made.extent, made.move)
    finding = _too_large(sized, needs, room, resize, hoops)
    raise CannotMakeError([*made.project.findings, finding])


def _turned(hoop: Hoop) -> Finding:
    return Finding(
        "turned-in-hoop",
        Severity.KNOW,
        f"it fits {hoop.name} only turned by 90°: its top lies at the right of the hoop",
    )


def _too_large(
    sized: Sized,
    needs: tuple[float, float],
    room: Room,
    resize: Resize,
    hoops: Sequence[Hoop],
) -> Finding:
    unit = sized.unit
    # The way round that sticks out less is the one to speak of.
    turned = min(room.ways, key=lambda way: max(room.over(needs, turned=way)))
    wide, high = room.over(needs, turned=turned)
    sides = []
    if wide:
        sides.append(f"{show_both(wide, unit)} too wide at the left and at the right")
    if high:
        sides.append(f"{show_both(high, unit)} too high at the top and at the bottom")
    wanted = show_size(*((needs[1], needs[0]) if turned else needs), unit)
    text = (
        f"the stitches need {wanted}{' turned by 90°' if turned else ''}, the field of "
        f"{room.hoop.name} has {show_size(*room.field, unit)}: {' and '.join(sides)}"
    )
    remedies = list(_smaller(sized, room, resize))
    larger = _larger_hoop(needs, room, hoops)
    if larger:
        remedies.append(f"The smallest listed hoop that takes it as asked is {larger}.")
    elif hoops:
        remedies.append("No listed hoop takes it as asked.")
    return Finding(
        "hoop-exceeded", Severity.CANNOT, text, " ".join(remedies), amount=max(wide, high)
    )


def _larger_hoop(needs: tuple[float, float], room: Room, hoops: Sequence[Hoop]) -> str:
    for hoop in smallest_first(hoops):
        other = replace(room, hoop=hoop)
        for turned in other.ways:
            if other.takes(needs, turned=turned):
                return f"{hoop.name} (turned by 90°)" if turned else hoop.name
    return ""


def _smaller(sized: Sized, room: Room, resize: Resize) -> Iterator[str]:
    """Say the largest sizes that fit, one at a time with the others as asked, or together."""

    def shown(figure: Figure, value: float) -> str:
        mark = SHOWN_TO[sized.unit]
        return f"{figure.name} {show(round_down(value, mark), sized.unit)}"

    known: dict[tuple[tuple[str, float], ...], tuple[float, float] | None] = {}

    def needs_with(values: dict[str, float]) -> tuple[float, float] | None:
        key = tuple(sorted(values.items()))
        if key not in known:
            try:
                known[key] = stitch(resize(values)).needs
            except (CannotMakeError, InputError):
                known[key] = None
        return known[key]

    def fit_with(values: dict[str, float], axes: tuple[int, ...], turned: bool) -> bool:
        needs = needs_with(values)
        if needs is None:
            return False
        excess = room.over(needs, turned=turned)
        return all(excess[axis] == 0 for axis in axes)

    def find(
        figure: Figure, others: dict[str, float], axes: tuple[int, ...], turned: bool
    ) -> float:
        low = sized.recipe.file.sizes[figure.name].least
        return largest(
            low, figure.value, lambda value: fit_with({**others, figure.name: value}, axes, turned)
        )

    alone = False
    for figure in sized.sizes:
        best = max(find(figure, {}, (0, 1), turned) for turned in room.ways)
        if best > 0:
            alone = True
            yield f"With the other sizes as asked, the largest {shown(figure, best)} fits."
    if alone:
        return
    together: dict[str, float] = {}
    for turned in room.ways:
        values: dict[str, float] = {}
        for axis in (0, 1):
            for figure in sized.sizes:
                if figure.name not in values and (value := find(figure, values, (axis,), turned)):
                    values[figure.name] = value
                    break
        if fit_with(values, (0, 1), turned) and _area(values) > _area(together):
            together = values
    if together:
        named = [shown(one, together[one.name]) for one in sized.sizes if one.name in together]
        yield f"The largest that fits is {' with '.join(named)}."
    else:
        yield "Nothing the recipe can make, with the rest as asked, fits this hoop."


def _area(values: dict[str, float]) -> float:
    return prod(values.values()) if values else 0.0


#: Values of a size tried before the exact one is looked for.
TRIES = 16


def largest(low: float, high: float, passes: Callable[[float], bool]) -> float:
    """Largest value up to a highest that passes, to `FOUND_TO`.

    Tries evenly spaced values from the highest down, and halves the step above the first
    that passes.

    Returns
    -------
    float
        Millimetres; 0 if none of those tried passes.
    """
    steps = max(1, int((high - low) / FOUND_TO))
    failing = None
    for tried in range(TRIES + 1):
        step = tried * steps // TRIES
        if passes(high - step * FOUND_TO):
            break
        failing = step
    else:
        return 0.0
    if failing is None:
        return high
    while step - failing > 1:
        middle = (step + failing) // 2
        if passes(high - middle * FOUND_TO):
            step = middle
        else:
            failing = middle
    return high - step * FOUND_TO
