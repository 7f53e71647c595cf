"""What is found about an embellishment: no room, or a panel that it cannot be on."""

from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.embellishment_kind import FreeGround
from paramgen.embellishment.kind_options import Embellishment
from paramgen.vocabulary.facts import Clause, Clauses, MmByMm, Name, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.path import Point


def no_room(
    asked: Embellishment,
    ground: FreeGround,
    *,
    what: str,
    needs: tuple[float, float] | None = None,
    has: tuple[float, float] | None = None,
) -> Finding:
    """Say that there is no room on a panel, how much there is, and what is needed.

    Parameters
    ----------
    asked : Embellishment
    ground : FreeGround
    what : str
        What does not fit: a row of quilting, the word.
    needs : (width, height) or None
        mm.
    has : (width, height) or None
        The room there is for it, mm; that of the largest part unless given.
    """
    room = has or largest_room(ground.area)
    return Finding(
        "embellishment-no-room",
        Severity.CANNOT,
        facts(
            what=Name("key", asked.kind, what),
            panel=ground.panel.called,
            has=MmByMm(*room) if room else None,
            needs=MmByMm(*needs) if needs else None,
        ),
        variant="" if room else "at-all",
        place=_corners(ground.seen),
        piece=ground.panel.piece,
    )


def in_the_way(finding: Finding, ways: tuple[Clause, ...]) -> Finding:
    """The finding, saying besides what takes the room."""
    if not ways or finding.code != "embellishment-no-room":
        return finding
    named = Clauses(tuple(dict.fromkeys(ways)))
    return replace(finding, facts=finding.facts + facts(ways=named))


def refused(why: str, asked: Embellishment, title: str, *, under: Name | None = None) -> Finding:
    """Say that nothing can be stitched on a panel, and why."""
    return Finding(
        "embellishment-not-there",
        Severity.CANNOT,
        facts(
            what=Name("key", asked.kind, asked.kind),
            panel=Name("piece", asked.panel, title),
            under=under,
        ),
        variant=why,
        piece=asked.panel,
    )


def batting_would_show(asked: Embellishment, ground: FreeGround) -> Finding:
    """Say that what is laid under a panel that is folded double would be seen behind it."""
    return Finding(
        "embellishment-not-there",
        Severity.CANNOT,
        facts(what=Name("key", asked.kind, asked.kind), panel=ground.panel.called),
        variant="batting-shows",
        piece=ground.panel.piece,
    )


def largest_room(area: BaseGeometry) -> tuple[float, float] | None:
    """Width and height of the largest part of some ground, mm; None if there is none.

    Examples
    --------
    >>> largest_room(shapely.MultiPolygon([shapely.box(0, 0, 30, 20), shapely.box(50, 0, 55, 5)]))
    (30.0, 20.0)
    >>> largest_room(shapely.Polygon()) is None
    True
    """
    parts = [one for one in shapely.get_parts(area) if one.area > 0]
    if not parts:
        return None
    left, top, right, bottom = max(parts, key=lambda one: float(one.area)).bounds
    return right - left, bottom - top


def _corners(area: BaseGeometry) -> tuple[Point, ...]:
    """The box that something lies in; nothing of nothing."""
    if area.is_empty:
        return ()
    left, top, right, bottom = area.bounds
    return ((left, top), (right, top), (right, bottom), (left, bottom))
