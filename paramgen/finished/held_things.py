"""Whether what a thing is to hold goes in, stays in and comes out."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
import shapely

from paramgen.finished.clear_room import (
    along_the_way_in,
    deepest,
    largest_in,
    outward,
    room_for,
    shrunk,
    takes,
)
from paramgen.finished.finished_limits import HAIR, PARKED_SLIDER, SLIT_OPENS
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.pockets import Pocket, pockets_along
from paramgen.finished.standing_room import StandingRoom, room_of_all
from paramgen.rehearsal.finding_points import place_of
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.facts import Clause, Facts, Mm, MmByMm, Name, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Along
from paramgen.vocabulary.project import Held


def contents(thing: FinishedThing) -> Iterator[Finding]:
    """Find the things that do not go in, are not held, or cannot be gripped."""
    for held in thing.project.holds:
        told: set[str] = set()
        pockets = pockets_along(thing, held)
        if not pockets:
            yield Finding(
                "no-pocket",
                Severity.CANNOT,
                facts(thing=held.called, piece=thing.project.titled(held.against)),
                piece=held.against,
            )
        for pocket in pockets:
            for finding in _found(thing, way_round(thing, held, pocket), pocket):
                if finding.code not in told:
                    told.add(finding.code)
                    yield finding


def way_round(thing: FinishedThing, held: Held, pocket: Pocket) -> Held:
    """The thing put in the way round that suits it better: as it is, or turned by 90°.

    A cover of a book goes in with the edge away from its spine first.
    """
    if held.opens and not pocket.mouths.is_empty:
        dx, dy = outward(pocket)
        return held if abs(dx) > abs(dy) else replace(held, size=held.size[::-1])
    found = _found(thing, held, pocket)
    if not found:
        return held
    sideways = replace(held, size=held.size[::-1])
    return min((found, held), (_found(thing, sideways, pocket), sideways), key=_badness)[1]


def _badness(way: tuple[Sequence[Finding], Held]) -> tuple[int, float]:
    found, _ = way
    worst = max((one.severity is Severity.CANNOT) + 1 for one in found) if found else 0
    return worst, sum(one.amount or 0.0 for one in found)


def lying(thing: FinishedThing, held: Held, pocket: Pocket) -> shapely.Polygon | None:
    """The thing as it lies when it is pushed in as far as it goes, in the middle of its room.

    None if it does not go in.
    """
    if not pocket.opens or pocket.mouths.is_empty:
        return None
    held = way_round(thing, held, pocket)
    width, height = held.size
    stands = room_of_all(thing, pocket)
    if stands is not None:
        return stands.standing(held) if max(stands.lacks(held)) <= HAIR else None
    across, down = takes(held, pocket)
    spots = shrunk(room_for(held, pocket), across - HAIR, down - HAIR)
    if spots.is_empty:
        return None
    out = np.array(outward(pocket))
    points = shapely.get_coordinates(spots)
    along = points @ out
    lowest = points[along < along.min() + HAIR]
    if pocket.opens_within and not pocket.through_zip:
        low, high = np.min(points, axis=0), np.max(points, axis=0)
        x, y = (low + high) / 2  # nothing lets it slide to one end
        return _rectangle(x, y, width, height)
    # Through a zip it lies at the bottom with no ease left; a thick thing keeps half its
    # thickness from a closed end.
    inward = held.ease / 2 if pocket.through_zip else -held.thickness_in_place / 4
    x, y = (lowest.min(axis=0) + lowest.max(axis=0)) / 2 - out * inward
    return _rectangle(x, y, width, height)


def _rectangle(x: float, y: float, width: float, height: float) -> shapely.Polygon:
    dx, dy = width / 2, height / 2
    return shapely.Polygon([(x - dx, y - dy), (x + dx, y - dy), (x + dx, y + dy), (x - dx, y + dy)])


@lru_cache(maxsize=16)
def _found(thing: FinishedThing, held: Held, pocket: Pocket) -> tuple[Finding, ...]:
    return tuple(_one(thing, held, pocket))


def _one(thing: FinishedThing, held: Held, pocket: Pocket) -> Iterator[Finding]:
    size = MmByMm(*held.size)
    if not pocket.opens or pocket.mouths.is_empty:
        yield Finding(
            "sewn-shut",
            Severity.CANNOT,
            facts(thing=held.called, piece=pocket.called),
            variant="pocket",
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
        return
    stands = room_of_all(thing, pocket)
    if stands is not None:
        yield from _standing(held, pocket, stands)
        yield from _through_the_slit(thing, held, pocket)
        return
    room = room_for(held, pocket)
    width, height = held.size
    # What fits to the hair fits.
    across, down = (size - HAIR for size in takes(held, pocket))
    spots = shrunk(room, across, down)
    if spots.is_empty:
        most = largest_in(room, held, pocket)
        box = Box(*room.bounds)
        # Where the place is too small all through, just that is lacking.
        short = max(across - box.width, down - box.height)
        if not short > HAIR:
            short = max(width - most[0], height - most[1], 0.0)
        area, mouths = pocket.unbound
        seams = replace(pocket, area=area, mouths=mouths)
        stitched = not shrunk(room_for(held, seams), across, down).is_empty
        yield Finding(
            "stitched-too-narrow" if stitched else "does-not-fit",
            Severity.CANNOT,
            facts=facts(
                thing=held.called,
                size=size,
                thickness=Mm(held.thickness_in_place) if held.thickness_in_place else None,
                piece=pocket.called,
                ease=Mm(held.ease),
                largest=MmByMm(most[0], most[1]),
                lacks=Mm(short),
            ),
            amount=short,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
        return
    if pocket.opens_within:
        yield from _through_the_slit(thing, held, pocket)
        return
    depth = deepest(spots, held, pocket)
    height = along_the_way_in(held, pocket)
    share = depth / height
    if share < held.share - 1e-6:
        need = held.share * height
        yield Finding(
            "held-too-little",
            Severity.DISAPPOINT,
            facts(
                piece=pocket.called,
                thing=held.called,
                size=size,
                has=Mm(depth),
                needs=Mm(need),
                lacks=Mm(need - depth),
            ),
            amount=need - depth,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
    if held.shows and height - depth < held.shows - 1e-6:
        yield Finding(
            "no-grip",
            Severity.DISAPPOINT,
            facts(
                piece=pocket.called,
                thing=held.called,
                size=size,
                has=Mm(max(0.0, height - depth)),
                needs=Mm(held.shows),
                lacks=Mm(held.shows - height + depth),
            ),
            amount=held.shows - height + depth,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )


def _standing(held: Held, pocket: Pocket, room: StandingRoom) -> Iterator[Finding]:
    """A thing stands on the bottom, and the walls go up beside it and over it."""
    *sides, back = room.lacks(held)
    known = facts(thing=held.called, ease=Mm(held.ease), thickness=Mm(held.thickness))
    if back > HAIR:
        yield Finding(
            "bottom-shallow",
            Severity.CANNOT,
            known + facts(has=Mm(room.depth), needs=Mm(held.thickness + held.ease)),
            amount=back,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
    elif max(sides) > HAIR:
        yield Finding(
            "does-not-stand",
            Severity.CANNOT,
            known
            + facts(
                size=MmByMm(*held.size),
                room=MmByMm(room.width, room.height),
                largest=MmByMm(*room.largest(held, 1.0)),
                lacks=Mm(max(sides)),
            ),
            amount=max(sides),
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )


def _through_the_slit(thing: FinishedThing, held: Held, pocket: Pocket) -> Iterator[Finding]:
    """A thing goes through a slit if its two smaller measures together do.

    They go round it: the slit opens to a ring twice its own length round.
    """
    needs = sum(sorted((*held.size, held.thickness))[:2])
    # The slider is parked at one end, and there the zip does not open.
    sliders = PARKED_SLIDER if pocket.through_zip else (0.0, 0.0)
    widest, narrowest = (
        SLIT_OPENS * max(0.0, float(pocket.mouths.length) - slider) for slider in sliders
    )
    if needs <= narrowest:
        return
    cannot = needs > widest
    yield Finding(
        "mouth-narrow",
        Severity.CANNOT if cannot else Severity.DISAPPOINT,
        facts=facts(
            thing=held.called,
            size=MmByMm(*held.size),
            has=Mm(narrowest),
            needs=Mm(needs),
        )
        + _longer_zip(thing, pocket, (needs - narrowest) / SLIT_OPENS),
        variant=("surely" if cannot else "perhaps") if pocket.through_zip else "between-folds",
        amount=needs - narrowest,
        place=place_of([pocket.mouths]),
        piece=pocket.piece,
    )


def _longer_zip(thing: FinishedThing, pocket: Pocket, more: float) -> Facts:
    """By which size a zip opens so much more: that along which it runs, as both grow alike."""
    project = thing.project
    mouths = Box(*shapely.bounds(pocket.mouths))
    axis = 0 if mouths.width >= mouths.height else 1
    now = project.finished[axis]
    alike = [one for one in project.sizes if abs(one.value - now) < HAIR]
    # Where both are alike, the one that goes that way.
    alike.sort(key=lambda one: one.along is not tuple(Along)[axis])
    of = next((one.name for one in alike), "")
    name = facts(name=Name("size", of, of)) if of else facts()
    key = "the-size" if of else ("the-width", "the-height")[axis]
    return facts(size_name=Clause(key, name), enough=Mm(now + more))
