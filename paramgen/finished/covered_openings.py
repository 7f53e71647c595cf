"""Flaps that cannot lie as they should, and the zips and mouths that what lies there covers."""

from collections.abc import Iterable, Iterator

import shapely
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from paramgen.finished.clear_room import outward
from paramgen.finished.finished_limits import COVERED
from paramgen.finished.finished_thing import OTHER, SIDES, FinishedThing, Ply
from paramgen.finished.flaps import FlapSide, in_the_way, rim_line
from paramgen.finished.pockets import pockets_along
from paramgen.rehearsal.finding_points import place_of
from paramgen.vocabulary.facts import Mm, Term, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Side

#: So far before its mouth a pocket must be free, mm.
_BEFORE = 1.0

_GOES = {
    FlapSide.WORK: Term("flap", "work"),
    FlapSide.OUT: Term("flap", "out"),
    FlapSide.CLOSING: Term("flap", "closing"),
}


def covered(thing: FinishedThing) -> Iterator[Finding]:
    """Find trapped flaps, flaps that cannot stand out, and zips and mouths that are covered."""
    yield from _trapped(thing)
    yield from _cannot_stand(thing)
    yield from _zips(thing)
    yield from _mouths(thing)


def _trapped(thing: FinishedThing) -> Iterator[Finding]:
    """One finding for each flap that is trapped, naming the first that is in its way."""
    told: set[tuple[str, str]] = set()
    for near, far in in_the_way(thing.flaps):
        if (near.piece, far.piece) in told or any(trapped == far.piece for _, trapped in told):
            continue
        told.add((near.piece, far.piece))
        shared = near.rim & far.rim
        yield Finding(
            "flap-trapped",
            Severity.CANNOT,
            facts(
                piece=far.called,
                goes=_GOES[far.lies],
                other=near.called,
                other_goes=_GOES[near.lies],
                step=thing.project.step_called(near.step),
            ),
            amount=float(shared.length),
            place=place_of([shared]),
            step=far.step,
            piece=far.piece,
        )


def _cannot_stand(thing: FinishedThing) -> Iterator[Finding]:
    told: set[str] = set()
    for flap in thing.flaps:
        if flap.lies is not FlapSide.OUT or rim_line(flap) is not None or flap.piece in told:
            continue
        told.add(flap.piece)
        yield Finding(
            "flap-cannot-stand-out",
            Severity.CANNOT,
            facts(
                piece=flap.called,
                length=Mm(float(flap.rim.length)),
                step=thing.project.step_called(flap.step),
            ),
            variant="not-caught" if flap.rim.is_empty else "",
            amount=float(flap.rim.length),
            place=place_of([flap.rim]) or place_of([flap.area]),
            step=flap.step,
            piece=flap.piece,
        )


def _zips(thing: FinishedThing) -> Iterator[Finding]:
    """Zips whose opening is covered whichever side it is looked at from."""
    for slit in thing.done.sandwich.slits:
        line = slit.line & thing.unbound
        tapes = [ply for ply in thing.plies if ply.sheet.layer == slit.layer]
        if line.is_empty or not tapes:
            continue
        over = {side: [one for tape in tapes for one in _over(thing, tape, side)] for side in SIDES}
        covers = {side: _length(line, over[side]) for side in SIDES}
        side = min(SIDES, key=lambda one: covers[one])
        length = covers[side]
        if length <= COVERED:
            continue
        cover = _covering(line, over[side])
        yield Finding(
            "zip-covered",
            Severity.CANNOT,
            facts(
                piece=cover.sheet.called,
                covers=Mm(length),
                notion=tapes[0].sheet.called,
                step=thing.project.step_called(cover.sheet.step),
            ),
            variant=_uncovered_by(cover),
            amount=length,
            place=place_of([line & _under(over[side])]),
            step=cover.sheet.step,
            piece=cover.sheet.piece,
        )


def _mouths(thing: FinishedThing) -> Iterator[Finding]:
    """Mouths of pockets that something lies over on the side they are reached from."""
    told: set[tuple[str, str]] = set()
    for held in thing.project.holds:
        for pocket in pockets_along(thing, held):
            if not pocket.opens or pocket.opens_within or pocket.mouths.is_empty:
                continue
            dx, dy = outward(pocket)
            before = translate(pocket.mouths, dx * _BEFORE, dy * _BEFORE)
            if float((before & pocket.area).length) > 0.5 * float(before.length):
                continue  # it goes on past that mouth: another piece's, not its own
            own = thing.plies[thing.place[pocket.sheet]]
            over = _over(thing, own, OTHER[held.face])
            length = _length(before, over)
            if length <= COVERED:
                continue
            cover = _covering(before, over)
            key = (pocket.piece, cover.sheet.piece)
            if key in told:
                continue
            told.add(key)
            yield Finding(
                "mouth-covered",
                Severity.CANNOT,
                facts(
                    piece=cover.sheet.called,
                    covers=Mm(length),
                    pocket=pocket.called,
                    thing=held.called,
                    step=thing.project.step_called(cover.sheet.step),
                    own=own.sheet.called,
                ),
                variant=_freed_by(own, cover),
                amount=length,
                place=place_of([before & _under(over)]),
                step=cover.sheet.step,
                piece=cover.sheet.piece,
            )


def _over(thing: FinishedThing, ply: Ply, side: Side) -> list[Ply]:
    """What lies over a ply on a side, but for the rest of its own layer."""
    return [one for one in thing.nearer(ply, side) if one.sheet.layer != ply.sheet.layer]


def _freed_by(own: Ply, cover: Ply) -> str:
    """How a mouth comes free: of a flap that lies where it was laid by pulling it over."""
    if own.flap is not None and own.flap.lies is FlapSide.WORK and cover.flap is None:
        return "pull-own"
    return _uncovered_by(cover)


def _under(over: Iterable[Ply]) -> BaseGeometry:
    return shapely.union_all([ply.area for ply in over])


def _length(line: BaseGeometry, over: Iterable[Ply]) -> float:
    met = [ply for ply in over if ply.area.intersects(line)]
    return float((line & _under(met)).length) if met else 0.0


def _covering(line: BaseGeometry, over: list[Ply]) -> Ply:
    """What covers most of a line; of several the nearest."""
    return max(over, key=lambda ply: float((line & ply.area).length))


def _uncovered_by(cover: Ply) -> str:
    """How something comes free: by a flap on its other side, or by what covers it."""
    return "pull-cover" if cover.flap is not None and cover.flap.lies is FlapSide.WORK else ""
