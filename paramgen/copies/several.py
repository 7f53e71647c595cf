"""Put several copies of a project in one hoop, or say how many would fit and what would do."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from paramgen.copies.apart import meeting
from paramgen.copies.combining import combined, copies_at
from paramgen.copies.footprint import BETWEEN, field_of
from paramgen.copies.most import Most, Ways, most_of, ways_of
from paramgen.copies.packing import laid
from paramgen.copies.saying import all_of
from paramgen.copies.tiles import Tile
from paramgen.findings import CannotMakeError, Finding, Instead, Severity
from paramgen.hooping import Hooped, Resize, Room, put_in_hoop
from paramgen.layout.project import Project
from paramgen.lengths import Unit, show_both, show_size
from paramgen.reference.hoops import Hoop, smallest_first
from paramgen.sizing import Sized
from paramgen.stitches.measures import needle_bounds
from paramgen.stitches.sew import sew
from paramgen.stitches.sewn import GRID_MM

#: A number of copies, or as many as there is room for.
Copies = int | Literal["most"]


def put_copies_in_hoop(
    sized: Sized, room: Room, copies: Copies, *, resize: Resize, hoops: Sequence[Hoop] = ()
) -> Hooped:
    """Put copies of a sized recipe in a hoop, all in the same steps and stops.

    All upright in rows if there is room for so many, or all turned by 90°; else some this
    way and some that.

    Parameters
    ----------
    sized : Sized
    room : Room
    copies : int or "most"
    resize, hoops
        As for `put_in_hoop`.

    Raises
    ------
    CannotMakeError
        If one does not fit, or not so many: how many do, and which listed hoop takes them.
    """
    one = put_in_hoop(sized, room, resize=resize, hoops=hoops)
    if copies == 1:
        return one
    ways = ways_of(sized, may_turn=room.may_turn)
    told: tuple[Finding, ...] = ()
    if copies == "most":
        most = most_of(ways, room)
        wanted, told = most.count, (_as_many(most, ways.tiles[0], room, sized.unit),)
    else:
        wanted = copies
    if wanted == 1:
        return replace(one, project=_with(one.project, told))
    spots = laid(field_of(room), ways.tiles, wanted)
    if spots is None:
        raise CannotMakeError([*one.project.findings, _too_many(wanted, ways, room, hoops)])
    parts = copies_at(ways, spots)
    project = combined(parts)
    sewn, found = sew(project.steps)
    found = (*found, *meeting(parts))
    if any(finding.stops for finding in found):
        raise CannotMakeError([*project.findings, *found])
    project = _with(project, (*_turned(project, room.hoop), *told, *found))
    extent = needle_bounds(sewn)
    return Hooped(project, sewn, room, extent, project.placed[0].move)


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
    return (
        Finding(
            "turned-in-hoop",
            Severity.KNOW,
            f"so many fit {hoop.name} only so: {which} turned by 90°, {tops} at the right of the "
            "hoop",
        ),
    )


def _as_many(most: Most, tile: Tile, room: Room, unit: Unit) -> Finding:
    """Say how many there is room for, and whether there could be more."""
    wide, high = (side * GRID_MM - BETWEEN for side in (tile.wide, tile.high))
    more = "no more can lie there" if most.exact else f"at most {most.bound} could lie there"
    are = "1 copy lies" if most.count == 1 else f"{most.count} copies lie"
    return Finding(
        "most-copies",
        Severity.KNOW,
        f"{are} in {room.hoop.name} at once; {more}, each in the {show_size(wide, high, unit)} "
        f"that all its pieces and tape take and {show_both(BETWEEN, unit)} from the next",
    )


def _too_many(wanted: int, ways: Ways, room: Room, hoops: Sequence[Hoop]) -> Finding:
    most = most_of(ways, room)
    could = "no more can" if most.exact else f"at most {most.bound} could"
    proven = most.bound < wanted
    start = f"{wanted} copies cannot lie" if proven else f"no room was found for {wanted} copies"
    larger = _larger_hoop(wanted, ways, room, hoops)
    instead = [Instead(copies=most.count)]
    remedies = [f"Ask for --copies {most.count}, or --copies most."]
    if larger:
        remedies.append(f"The smallest listed hoop that takes {wanted} is {larger}.")
        instead.append(Instead(hoop=larger, copies=wanted))
    elif hoops:
        remedies.append(f"No listed hoop takes {wanted}.")
    return Finding(
        "copies-exceeded",
        Severity.CANNOT,
        f"{start} in {room.hoop.name} at once: {most.count} can, and {could}",
        " ".join(remedies),
        instead=tuple(instead),
    )


def _larger_hoop(wanted: int, ways: Ways, room: Room, hoops: Sequence[Hoop]) -> str:
    for hoop in smallest_first(hoops):
        if laid(field_of(replace(room, hoop=hoop)), ways.tiles, wanted) is not None:
            return hoop.name
    return ""
