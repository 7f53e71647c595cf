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
from paramgen.copies.step_wording import all_of
from paramgen.hooping import Hooped, Resize, Room, put_in_hoop
from paramgen.lengths import show_both, show_size
from paramgen.reference.hoops import Hoop, smallest_first, the_smallest
from paramgen.sizing import Sized
from paramgen.stitches.measures import needle_bounds
from paramgen.stitches.needle_points import GRID_MM
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import CannotMakeError, Finding, Instead, Severity
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit
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
    told = (_as_many(most, laid[0] if laid else every[0], room, sized.unit),) if most else ()
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
        *beyond_the_rim(project.steps, room.hoop, sized.unit),
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
        allowance.ask(copies * need, f"in {copies} copies", f"Ask for --copies {most}.")


def _with(project: Project, told: Sequence[Finding]) -> Project:
    return replace(project, findings=(*project.findings, *told))


def _turned(project: Project, hoop: Hoop) -> tuple[Finding, ...]:
    """Say which copies lie turned."""
    turned = sum(where.turned for where in project.placed)
    if not turned:
        return ()
    which = (
        f"{all_of(turned)} lie"
        if turned == project.copies
        else f"{turned} of {project.copies} copies {'lie' if turned > 1 else 'lies'}"
    )
    tops = "its top" if turned == 1 else "their tops"
    left = any(where.turned and where.half for where in project.placed)
    other = ", or half-turned at its left" if left else ""
    return (
        Finding(
            "turned-in-hoop",
            Severity.KNOW,
            f"so many fit {hoop.name} only so: {which} turned by 90°, {tops} at the right of the "
            f"hoop{other}",
        ),
    )


def _half_turned(project: Project) -> tuple[Finding, ...]:
    """Say which copies lie head to tail with the others."""
    half = sum(where.half for where in project.placed)
    if not half:
        return ()
    lie = "lie" if half > 1 else "lies"
    return (
        Finding(
            "half-turned",
            Severity.KNOW,
            f"so many fit only head to tail: {half} of {project.copies} copies {lie} half-turned, "
            "by 180°, and a print with an up and a down stands on its head there",
            "Choose a fabric without an up and a down, or ask for fewer copies.",
        ),
    )


def _as_many(most: CopiesThatFit, ways: StitchedTurns, room: Room, unit: Unit) -> Finding:
    """Say how many there is room for, and whether there could be more."""
    more = "no more can lie there" if most.exact else f"at most {most.bound} could lie there"
    are = "1 copy lies" if most.count == 1 else f"{most.count} copies lie"
    if ways.sheets:
        return Finding(
            "most-copies",
            Severity.KNOW,
            f"{are} in {room.hoop.name} at once; {more} under one sheet over all, with "
            f"{show_both(CUT, unit)} for a cut between the lines that two are trimmed along",
        )
    tile = ways.tiles[0]
    wide, high = (side * GRID_MM - BETWEEN for side in (tile.wide, tile.high))
    return Finding(
        "most-copies",
        Severity.KNOW,
        f"{are} in {room.hoop.name} at once; {more}, each in the {show_size(wide, high, unit)} "
        f"that all its pieces and tape take and {show_both(BETWEEN, unit)} from the next",
    )


def _too_many(
    wanted: int, every: Sequence[StitchedTurns], room: Room, hoops: Sequence[Hoop]
) -> Finding:
    most = most_of(every, room)
    could = "no more can" if most.exact else f"at most {most.bound} could"
    proven = most.bound < wanted
    start = f"{wanted} copies cannot lie" if proven else f"no room was found for {wanted} copies"
    larger = _larger_hoop(wanted, every, room, hoops)
    instead = [Instead(copies=most.count)]
    remedies = [
        f"Ask for --copies {most.count}, or --copies most."
        if most.count > 1
        else "One fits: leave --copies out."
    ]
    if hoops:
        remedies.append(the_smallest(str(wanted), larger.name if larger else "", larger, hoops))
    if larger:
        instead.append(Instead(hoop=larger.name, copies=wanted))
    return Finding(
        "copies-exceeded",
        Severity.CANNOT,
        f"{start} in {room.hoop.name} at once: {most.count} can, and {could}",
        " ".join(remedies),
        instead=tuple(instead),
    )


def _larger_hoop(
    wanted: int, every: Sequence[StitchedTurns], room: Room, hoops: Sequence[Hoop]
) -> Hoop | None:
    for hoop in smallest_first(hoops):
        if spots_for(every, replace(room, hoop=hoop), wanted) is not None:
            return hoop
    return None
