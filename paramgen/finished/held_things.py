"""Whether what a thing is to hold goes in, stays in and comes out."""

from collections.abc import Iterator
from dataclasses import replace

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
from paramgen.lengths import show_apart, show_both, show_size, show_sizes_apart
from paramgen.rehearsal.finding_points import place_of
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.findings import Finding, Severity
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
                f"nothing in the finished thing holds the {held.title} against the {held.against}",
                "Lay the piece that should hold it where the thing is to go.",
                piece=held.against,
            )
        for pocket in pockets:
            for finding in _one(thing, way_round(thing, held, pocket), pocket):
                if finding.code not in told:
                    told.add(finding.code)
                    yield finding


def way_round(thing: FinishedThing, held: Held, pocket: Pocket) -> Held:
    """The thing put in the way round that suits it better: as it is, or turned by 90°."""
    found = list(_one(thing, held, pocket))
    if not found:
        return held
    sideways = replace(held, size=held.size[::-1])
    return min((found, held), (list(_one(thing, sideways, pocket)), sideways), key=_badness)[1]


def _badness(way: tuple[list[Finding], Held]) -> tuple[int, float]:
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
    across, down = takes(held, pocket)
    spots = shrunk(room_for(held, pocket), across - HAIR, down - HAIR)
    if spots.is_empty:
        return None
    out = np.array(outward(pocket))
    points = shapely.get_coordinates(spots)
    along = points @ out
    lowest = points[along < along.min() + HAIR]
    # Through a zip it lies at the bottom with no ease left; a thick thing keeps half its
    # thickness from a closed end.
    inward = held.ease / 2 if pocket.through_zip else -held.thickness / 4
    x, y = (lowest.min(axis=0) + lowest.max(axis=0)) / 2 - out * inward
    dx, dy = width / 2, height / 2
    return shapely.Polygon([(x - dx, y - dy), (x + dx, y - dy), (x + dx, y + dy), (x - dx, y + dy)])


def _one(thing: FinishedThing, held: Held, pocket: Pocket) -> Iterator[Finding]:
    unit = thing.project.unit
    size = show_size(*held.size, unit)
    if not pocket.opens or pocket.mouths.is_empty:
        yield Finding(
            "sewn-shut",
            Severity.CANNOT,
            f"the {held.title} cannot be put in: the hollow at the {pocket.title} does not open",
            "Move the line that crosses its mouth.",
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
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
        where = ", between the lines it is top-stitched along," if stitched else ""
        nearer = ", or top-stitch nearer to the edge" if stitched else ""
        thick = f", {show_both(held.thickness, unit)} thick," if held.thickness else ""
        wants, goes = show_sizes_apart(held.size, (most[0], most[1]), unit)
        yield Finding(
            "stitched-too-narrow" if stitched else "does-not-fit",
            Severity.CANNOT,
            f"the {held.title} of {wants}{thick} does not go into the {pocket.title}{where} with "
            f"{show_both(held.ease, unit)} of ease; the largest of its shape that does is "
            f"{goes}",
            f"Make the place for it about {show_both(short, unit)} larger{nearer}.",
            amount=short,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
        return
    if pocket.through_zip:
        yield from _through_the_zip(thing, held, pocket)
        return
    depth = deepest(spots, held, pocket)
    height = along_the_way_in(held, pocket)
    share = depth / height
    if share < held.share - 1e-6:
        need = held.share * height
        has, needs = show_apart(depth, need, unit)
        yield Finding(
            "held-too-little",
            Severity.DISAPPOINT,
            f"the {pocket.title} holds {has} of the {held.title} of {size}; it should hold {needs}",
            f"Make the pocket {show_both(need - depth, unit)} deeper.",
            amount=need - depth,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )
    if held.shows and height - depth < held.shows - 1e-6:
        has, needs = show_apart(max(0.0, height - depth), held.shows, unit)
        yield Finding(
            "no-grip",
            Severity.DISAPPOINT,
            f"only {has} of the {held.title} of {size} shows at the {pocket.title}; to grip it "
            f"{needs} should",
            f"Make the pocket {show_both(held.shows - height + depth, unit)} shallower.",
            amount=held.shows - height + depth,
            place=place_of([pocket.area]),
            piece=pocket.piece,
        )


def _through_the_zip(thing: FinishedThing, held: Held, pocket: Pocket) -> Iterator[Finding]:
    """A thing goes through a slit if its two smaller measures together do.

    They go round it: the slit opens to a ring twice its own length round.
    """
    unit = thing.project.unit
    needs = sum(sorted((*held.size, held.thickness))[:2])
    # The slider is parked at one end, and there the zip does not open.
    widest, narrowest = (
        SLIT_OPENS * max(0.0, float(pocket.mouths.length) - slider) for slider in PARKED_SLIDER
    )
    if needs <= narrowest:
        return
    has, wants = show_apart(narrowest, needs, unit)
    cannot = needs > widest
    how = "does not go through" if cannot else "may not go through"
    yield Finding(
        "mouth-narrow",
        Severity.CANNOT if cannot else Severity.DISAPPOINT,
        f"the {held.title} of {show_size(*held.size, unit)} {how} the zip: with the slider "
        f"parked at its end it opens {has}; {wants} must go through",
        f"Make the zip open {show_both((needs - narrowest) / SLIT_OPENS, unit)} more: make the "
        "project larger the way the zip runs.",
        amount=needs - narrowest,
        place=place_of([pocket.mouths]),
        piece=pocket.piece,
    )
