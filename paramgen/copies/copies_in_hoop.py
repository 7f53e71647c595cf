"""Put several copies of a project in one hoop, or say how many would fit and what would do."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from paramgen.budget import MILLIMETRES, PIECES, POINTS, RUNS, STITCHES
from paramgen.copies.claimed_area import CUT, tape_cut_short
from paramgen.copies.clearance import meeting
from paramgen.copies.combined_steps import combined, copies_at
from paramgen.copies.footprint import BETWEEN
from paramgen.copies.most_copies import CopiesThatFit, StitchedTurns, most_of, spots_for, ways_of
from paramgen.copies.shared_sheets import beyond_the_rim
from paramgen.copies.step_wording import MOST_NAMED
from paramgen.hooping import Hooped, Resize, Room, put_in_hoop
from paramgen.reference.hoops import Hoop, smallest_first, the_smallest
from paramgen.sizing import Sized
from paramgen.stitches.measures import needle_bounds
from paramgen.stitches.needle_points import GRID_MM
from paramgen.stitches.sew import sew
from paramgen.vocabulary.facts import Clause, Clauses, Mm, MmByMm, facts
from paramgen.vocabulary.findings import CannotMakeError, Finding, Instead, Severity
from paramgen.vocabulary.project import Project
from paramgen.works import AFRESH, Stitched, Works

#: A number of copies, or as many as there is room for.
CopiesInHoop = int | Literal["most"]


def put_copies_in_hoop(
    sized: Sized,
    room: Room,
    copies: CopiesInHoop,
    *,
    resize: Resize,
    hoops: Sequence[Hoop] = (),
    singly: bool = False,
    works: Works = AFRESH,
) -> Hooped:
    """Put copies of a sized recipe in a hoop, all in the same steps and stops.

    With one sheet of each piece that can be over all of them, unless more have room without. All
    upright in rows if there is room for so many, or all turned by 90°; else some this way and
    some that, or head to tail.

    Parameters
    ----------
    sized : Sized
    room : Room
    copies : int or "most"
    resize, hoops, works
        As for `put_in_hoop`.
    singly : bool
        Every piece for each copy alone, never one sheet over all.

    Raises
    ------
    CannotMakeError
        If one does not fit, or not so many: how many do, and which listed hoop takes them.
    """
    one = put_in_hoop(sized, room, resize=resize, hoops=hoops, works=works)
    if copies == 1:
        return one
    every = ways_of(sized, may_turn=room.may_turn, singly=singly, works=works)
    most: CopiesThatFit | None = None
    if copies == "most":
        most = most_of(every, room)
        wanted = most.count
    else:
        wanted = copies
    laid = spots_for(every, room, wanted) if wanted > 1 else None
    if laid is None and wanted > 1:
        raise CannotMakeError([*one.project.findings, _too_many(wanted, every, room, hoops)])
    told = (_as_many(most, laid[0] if laid else every[0], room),) if most else ()
    if laid is None:
        return replace(one, project=_with(one.project, told))
    ways, spots = laid
    _ask(ways.stitched[0], wanted)
    parts, cut = copies_at(ways, spots), False
    if ways.sheets:
        parts, cut = tape_cut_short(parts, ways.sheets)
    project = combined(parts, ways.sheets, tape_cut=cut)
    sewn, found = sew(project.steps)
    found = (
        *found,
        *meeting(parts, ways.sheets),
        *beyond_the_rim(project.steps, room.hoop),
    )
    if any(finding.stops for finding in found):
        raise CannotMakeError([*project.findings, *found])
    project = _with(project, (*_turned(project, room.hoop), *_half_turned(project), *told, *found))
    extent = needle_bounds(sewn)
    return Hooped(project, sewn, room, extent, project.placed[0].move)


def _ask(one: Stitched, copies: int) -> None:
    """Ask the budget for all that so many copies have."""
    project = one.project
    paths = [path for step in project.steps for line in step.lines for path in line.paths]
    needs = {
        PIECES: sum(piece.quantity for piece in project.pieces),
        POINTS: sum(len(path.points) for path in paths),
        RUNS: len(paths),
        MILLIMETRES: sum(path.length for path in paths),
        STITCHES: sum(step.stitch_count for step in one.sewn),
    }
    most = min(int(allowance.most // max(need, 1)) for allowance, need in needs.items())
    for allowance, need in needs.items():
        where = Clause("in-copies", facts(copies=copies))
        allowance.ask(copies * need, where, Clause("ask-for-copies", facts(copies=most)))


def _with(project: Project, told: Sequence[Finding]) -> Project:
    return replace(project, findings=(*project.findings, *told))


def _turned(project: Project, hoop: Hoop) -> tuple[Finding, ...]:
    """Say which copies lie turned."""
    turned = sum(where.turned for where in project.placed)
    if not turned:
        return ()
    every = "both-copies" if turned == 2 else "all-copies"
    left = any(where.turned and where.half for where in project.placed)
    return (
        Finding(
            "turned-in-hoop",
            Severity.KNOW,
            facts(
                hoop=hoop.called,
                turned=turned,
                copies=project.copies,
                half=Clause("or-half-turned") if left else None,
            ),
            variant=every if turned == project.copies else "some-copies",
        ),
    )


def _half_turned(project: Project) -> tuple[Finding, ...]:
    """Say which copies lie head to tail with the others."""
    half = sum(where.half for where in project.placed)
    if not half:
        return ()
    return (
        Finding(
            "half-turned",
            Severity.KNOW,
            facts(half=half, copies=project.copies),
        ),
    )


def _as_many(most: CopiesThatFit, ways: StitchedTurns, room: Room) -> Finding:
    """Say how many there is room for, and whether there could be more."""
    known = facts(copies=most.count, hoop=room.hoop.called, more=_more(most))
    if ways.sheets:
        cut = facts(between=Mm(CUT))
        return Finding("most-copies", Severity.KNOW, known + cut, variant="on-sheets")
    tile = ways.tiles[0]
    wide, high = (side * GRID_MM - BETWEEN for side in (tile.wide, tile.high))
    return Finding(
        "most-copies",
        Severity.KNOW,
        known + facts(size=MmByMm(wide, high), between=Mm(BETWEEN)),
    )


def _more(most: CopiesThatFit) -> Clause:
    """Whether more copies could lie there."""
    return Clause("no-more") if most.exact else Clause("at-most", facts(bound=most.bound))


def _too_many(
    wanted: int, every: Sequence[StitchedTurns], room: Room, hoops: Sequence[Hoop]
) -> Finding:
    most = most_of(every, room)
    larger = _larger_hoop(wanted, every, room, hoops)
    instead = [Instead(copies=most.count)]
    if larger:
        instead.append(Instead(hoop=larger.name, copies=wanted))
    return Finding(
        "copies-exceeded",
        Severity.CANNOT,
        facts(
            wanted=wanted,
            hoop=room.hoop.called,
            copies=most.count,
            more=_more(most),
            hoopings=_hoopings(wanted, most.count) if most.count > 1 else None,
            ask=Clause("ask-for-most", facts(copies=most.count))
            if most.count > 1
            else Clause("leave-out-copies"),
            listed=the_smallest(wanted, larger, hoops) if hoops else None,
        ),
        variant="" if most.bound < wanted else "not-found",
        instead=tuple(instead),
    )


def _hoopings(wanted: int, most: int) -> Clause:
    """In how many hoopings so many copies are made."""
    whole, rest = divmod(wanted, most)
    known = facts(wanted=wanted, hoopings=whole + bool(rest), whole=whole, most=most, rest=rest)
    if not rest:
        return Clause("in-hoopings-alike", known)
    if whole > MOST_NAMED:
        return Clause("in-many-hoopings", known)
    sizes = tuple(Clause("so-many", facts(copies=most)) for _ in range(whole))
    return Clause("in-hoopings", known + facts(sizes=Clauses(sizes)))


def _larger_hoop(
    wanted: int, every: Sequence[StitchedTurns], room: Room, hoops: Sequence[Hoop]
) -> Hoop | None:
    for hoop in smallest_first(hoops):
        if spots_for(every, replace(room, hoop=hoop), wanted) is not None:
            return hoop
    return None
