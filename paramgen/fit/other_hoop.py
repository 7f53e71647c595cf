"""The same thing for another hoop: what changes, what stays, and what scaling would have done."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum

import numpy as np

from paramgen.fit.nearest_sizes import nearest_alone, nearest_that_works
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.sizes_that_matter import what_matters
from paramgen.hooping import Room
from paramgen.making import Made, Order, make
from paramgen.reference.hoops import Hoop, smallest_first
from paramgen.stitches.needle_points import GRID_MM
from paramgen.vocabulary.facts import Clause, facts
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.works import AFRESH, Works


class ComparisonGroup(StrEnum):
    """What a row of the comparison is about."""

    FINISHED = "finished"
    HOLDS = "holds"
    CUT = "cut"
    NOTIONS = "notions"
    LENGTHS = "lengths"
    COUNTS = "counts"
    STITCHES = "stitches"


@dataclass(frozen=True)
class ComparisonRow:
    """One thing before and after, and as scaling the stitch file would have left it.

    Parameters
    ----------
    group : ComparisonGroup
    what : str
        For the person.
    before, after : tuple of float
        mm; one number or two, width before height. A plain number in a row of counts.
    scaled : tuple of float
        What it would be in the scaled stitch file, mm; for one number of a thing that may lie
        either way, both ways. Empty where scaling says nothing of it.
    """

    group: ComparisonGroup
    what: str
    before: tuple[float, ...]
    after: tuple[float, ...]
    scaled: tuple[float, ...] = ()

    @property
    def changed(self) -> bool:
        """Whether it is different in the other hoop, by more than is shown."""
        return any(abs(a - b) >= 0.05 for a, b in zip(self.before, self.after, strict=True))


@dataclass(frozen=True)
class Transfer:
    """A project for one hoop and the same thing for another.

    Parameters
    ----------
    order : Order
        What to ask for in the other hoop.
    before, after : Made
    factors : (float, float)
        By how much scaling the stitch file would have changed it, across and down the project.
    rows : tuple of ComparisonRow
    """

    order: Order
    before: Made
    after: Made
    factors: tuple[float, float]
    rows: tuple[ComparisonRow, ...]


def transfer(
    order: Order, room: Room, hoops: Sequence[Hoop] = (), *, works: Works = AFRESH
) -> Transfer:
    """Work out a project of one hoop for another, so that it fills it as far.

    What it holds, its counts, choices and allowances stay; its sizes change. Where the sizes
    that would fill the other hoop as far do not work, the nearest that do are taken. They lie on
    ruler marks; a size that follows from another goes on following it.

    Parameters
    ----------
    order : Order
        The project in its own hoop.
    room : Room
        The other hoop.
    hoops : sequence of Hoop
        Among them one is looked for if the other hoop will not do.
    works : Works
        Keeps what was worked out.

    Raises
    ------
    InputError
        If what is asked is wrong.
    CannotMakeError
        If it cannot be made in its own hoop, or by no change of size in the other.
    """
    try:
        before = make(order, hoops, works=works)
    except CannotMakeError as problem:
        raise CannotMakeError([_not_there(order), *problem.findings]) from None
    asking = RememberedChecks(order, works=works)
    mark = float(asking.sized.names["ruler_mark"])
    sizes = _wanted(asking, before, room, mark)
    found = _nearest(asking, sizes, room, mark)
    if found is None:
        raise CannotMakeError([_nothing(asking, room, mark, hoops)])
    changed = replace(order, asked={**order.asked, **found}, room=room, scale=1.0)
    after = make(changed, hoops, works=works)
    factors = _factors(before, after)
    matters = what_matters(asking.sized)
    return Transfer(changed, before, after, factors, tuple(_rows(before, after, factors, matters)))


def _wanted(asking: RememberedChecks, before: Made, room: Room, mark: float) -> dict[str, float]:
    """Sizes at which it would fill the other field as far as it fills its own."""
    wide, high = before.extent.width, before.extent.height
    fills = max(wide / before.room.field[0], high / before.room.field[1])
    # As the project lies upright.
    upright = (high, wide) if before.project.turned else (wide, high)
    factor = max(
        fills / max(need / has for need, has in zip(_lying(upright, way), room.field, strict=True))
        for way in room.ways
    )
    return {
        name: round(max(1, round(value * factor / mark)) * mark, 9)
        for name, value in asking.sized.own_sizes.items()
    }


def _lying(size: tuple[float, float], turned: bool) -> tuple[float, float]:
    return (size[1], size[0]) if turned else size


def _nearest(
    asking: RememberedChecks, wanted: Mapping[str, float], room: Room, mark: float
) -> dict[str, float] | None:
    """The sizes that are wanted, or those nearest to them that work."""
    if not asking.against(wanted, room):
        return dict(wanted)
    if not wanted:
        return None  # every size follows from what it holds
    if len(wanted) == 1:
        ((name, value),) = wanted.items()
        alone = nearest_alone(asking, name, value, room, mark)
        return None if alone is None else {name: alone}
    first, second, *_ = wanted
    point = nearest_that_works(asking, first, second, (wanted[first], wanted[second]), room, mark)
    if point is None:
        return None
    return {first: point[0], second: point[1]}


def _not_there(order: Order) -> Finding:
    """Say that what follows is said of the hoop it comes from."""
    return Finding(
        "not-made-there",
        Severity.CANNOT,
        facts(hoop=order.room.hoop.called),
    )


def _nothing(asking: RememberedChecks, room: Room, mark: float, hoops: Sequence[Hoop]) -> Finding:
    """Say that no sizes do, and what would."""
    others = smallest_first(hoop for hoop in hoops if hoop != room.hoop)
    takes = next(
        (
            hoop
            for hoop in others
            if _nearest(asking, asking.sizes({}), replace(room, hoop=hoop), mark) is not None
        ),
        None,
    )
    reasons = asking.against({}, room)
    return Finding(
        "nothing-fits",
        Severity.CANNOT,
        facts(
            held=Clause("with-what-it-holds") if asking.order.recipe.file.holds else None,
            hoop=room.hoop.called,
            because=Clause(reasons[0].key, reasons[0].facts) if reasons else None,
            listed=_some_size_in(takes, hoops) if takes else None,
        ),
    )


def _some_size_in(hoop: Hoop, hoops: Sequence[Hoop]) -> Clause:
    """Say which is the smallest hoop in which some size works; a person's own first."""
    known = facts(hoop=hoop.called)
    if hoop.mine:
        return Clause("some-size-in-yours", known)
    none = any(one.mine for one in hoops)
    return Clause("some-size-in-none-of-yours" if none else "some-size-in", known)


def _factors(before: Made, after: Made) -> tuple[float, float]:
    """How a stitch file would be scaled to come to the new finished size."""
    (w0, h0), (w1, h1) = before.project.finished, after.project.finished
    return w1 / w0, h1 / h0


def _rows(
    before: Made, after: Made, factors: tuple[float, float], matters: Collection[str]
) -> Iterator[ComparisonRow]:
    old, new = before.project, after.project
    across, down = factors
    yield ComparisonRow(
        ComparisonGroup.FINISHED, "finished size", old.finished, new.finished, new.finished
    )
    for was, held in zip(old.holds, new.holds, strict=True):
        # What was room for a thing and its ease is, scaled, room for this thing and the same ease.
        left = tuple(
            (side + was.ease) * by - was.ease for side, by in zip(was.size, factors, strict=True)
        )
        yield ComparisonRow(ComparisonGroup.HOLDS, was.title, was.size, held.size, left)
    counts = {one.name: one for one in new.counts}
    for figure in old.counts:
        if figure.name in matters:
            same = counts[figure.name]
            yield ComparisonRow(
                ComparisonGroup.COUNTS,
                figure.means,
                (figure.value,),
                (same.value,),
                (figure.value,),
            )
    pieces = {one.name: one for one in new.pieces}
    for piece in old.pieces:
        if piece.name in pieces:
            same_piece = pieces[piece.name]
            yield ComparisonRow(
                ComparisonGroup.CUT, f"{piece.title}, cut", piece.cut, same_piece.cut
            )
            if piece.folded != piece.cut:
                scaled = (piece.folded[0] * across, piece.folded[1] * down)
                yield ComparisonRow(
                    ComparisonGroup.CUT,
                    f"{piece.title}, folded",
                    piece.folded,
                    same_piece.folded,
                    scaled,
                )
    notions = {one.name: one for one in new.notions}
    for notion in old.notions:
        one = notions.get(notion.name)
        if one is not None and notion.length and one.length:
            yield ComparisonRow(
                ComparisonGroup.NOTIONS, f"{notion.title}, length", (notion.length,), (one.length,)
            )
    figures = {one.name: one for one in new.lengths}
    for figure in old.lengths:
        if figure.name in matters:
            both = (figure.value * across, figure.value * down)
            now = figures[figure.name].value
            yield ComparisonRow(
                ComparisonGroup.LENGTHS, figure.means, (figure.value,), (now,), both
            )
    yield from _stitches(before, after)


def _stitches(before: Made, after: Made) -> Iterator[ComparisonRow]:
    """Longest and shortest stitch, ties left out."""
    across, down = _factors(before, after)
    scale = (down, across) if before.project.turned else (across, down)
    was, now, scaled = _lengths(before), _lengths(after), _lengths(before, scale)
    for name, pick in (("longest stitch", max), ("shortest stitch, ties left out", min)):
        old, new, spoilt = (float(pick(lengths)) for lengths in (was, now, scaled))
        yield ComparisonRow(ComparisonGroup.STITCHES, name, (old,), (new,), (spoilt,))


def _lengths(made: Made, scale: tuple[float, float] = (1.0, 1.0)) -> list[float]:
    """Length of every stitch but the ties, mm, after scaling across and down the hoop."""
    found: list[float] = []
    for step in made.sewn:
        for run in step.runs:
            first, last = run.ties
            stitches = np.diff(run.needles, axis=0)[first : len(run.needles) - 1 - last]
            found += np.hypot(*(stitches * GRID_MM * scale).T).tolist()
    return found
