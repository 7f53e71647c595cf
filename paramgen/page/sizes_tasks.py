"""The map of all sizes that work, to press on."""

import json
from collections.abc import Iterator
from dataclasses import replace

import shapely
from markupsafe import Markup
from shapely import Geometry

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.pictures.region_chart import region, sizes_in_picture
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_ranges import range_of
from paramgen.fit.size_regions import SizeRegions, regions
from paramgen.hooping import Room
from paramgen.lengths import show_both
from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.page.labelled_names import label_of
from paramgen.page.long_jobs import JobResult, JobStage, JobState, Told
from paramgen.page.project_parts import ShownProject
from paramgen.page.watched_work import Tell, watched
from paramgen.page.ways import WAYS
from paramgen.reference.hoops import smallest_first
from paramgen.vocabulary.findings import CannotMakeError, InputError, Instead
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said, sentence

#: What `over` says for every hoop there is, and not only those that were asked for.
EVERY = "every-hoop"

#: Corners of a region are told to this, mm.
_TOLD_TO = 3


def sizes_page(table: Desk, query: str, over: str) -> str:
    """The page of the map, which comes when it is drawn."""
    shown = ShownProject(table, query)
    form = shown.form
    if form is None:
        return filled("lost.html", faults=shown.faults, own=False, recipe=shown.words.recipe)
    return filled(
        "sizes.html",
        title=table.recipe(shown.words.recipe).kind_for(shown.unit),
        shown=shown,
        every=EVERY,
        over=over if over == EVERY else "",
        ways=WAYS,
        here="/sizes",
        query=shown.address,
    )


def sizes(table: Desk, query: str, over: str) -> Iterator[Told]:
    """Work out the map.

    Parameters
    ----------
    table : Desk
    query : str
    over : str
        `EVERY` for every hoop there is.
    """
    shown = ShownProject(table, query)
    attempt, wanted = shown.attempt, shown.wanted
    if attempt is None or wanted is None or shown.faults or attempt.sized is None:
        says = " ".join(map(str, shown.faults))
        yield JobState(JobStage.REFUSED, f"Not all that is asked is understood. {says}")
        return
    order = wanted.order
    asking = table.workshop.asking(order)
    rooms = (order.room, *order.further)
    if over == EVERY:
        every = (replace(order.room, hoop=one) for one in smallest_first(table.hoops))
        rooms = tuple(one for one in every if min(one.field) > 0)
    names = [*asking.sizes({})]
    try:
        if len(names) < 2:
            html = yield from watched(lambda tell: _one_size(asking, names[0], rooms, tell))
        else:
            found = yield from watched(lambda tell: _both(asking, names[0], names[1], rooms, tell))
            title = order.recipe.kind_for(shown.unit)
            html = _map(found, shown, title)
    except (CannotMakeError, InputError) as problem:
        told = (
            [sentence(said(one, shown.unit)[0]) for one in problem.findings]
            if isinstance(problem, CannotMakeError)
            else map(str, problem.faults)
        )
        yield JobState(JobStage.REFUSED, " ".join(told))
        return
    yield JobResult("text/html", "", html.encode())


def _both(
    asking: RememberedChecks, first: str, second: str, rooms: tuple[Room, ...], tell: Tell
) -> SizeRegions:
    with asking.heard_by(lambda tried: tell(_tried(tried))):
        return regions(asking, first, second, rooms)


def _one_size(asking: RememberedChecks, name: str, rooms: tuple[Room, ...], tell: Tell) -> str:
    with asking.heard_by(lambda tried: tell(_tried(tried))):
        whole = range_of(asking, name, None)
        found = [(room.hoop.name, range_of(asking, name, room, within=whole)) for room in rooms]
    ranges = [
        (
            hoop,
            f"{show_both(one.least.value, asking.unit)} to {show_both(one.most.value, asking.unit)}"
            if one
            else "nothing works",
        )
        for hoop, one in found
    ]
    return filled("part_range.html", size=label_of(name), ranges=ranges)


def _tried(number: int) -> JobState:
    return JobState(JobStage.WORKING, f"Looking for all sizes that work: {number:,} tried")


@dataclass(frozen=True)
class _MapHoop:
    """What works in a hoop: closed rings, of which an odd number lies round it, and lines."""

    name: str
    rings: list[list[Point]]
    lines: list[list[Point]]


def _map(found: SizeRegions, shown: ShownProject, title: str) -> str:
    unit = shown.unit
    there = sizes_in_picture(found, unit)
    # Whatever is not asked by name follows; what is scaled is not scaled twice.
    asked = Instead(tuple(zip((found.first, found.second), found.asked, strict=True)))
    told = {
        "first": found.first,
        "second": found.second,
        "inches": unit is Unit.INCH,
        "asked": found.asked,
        "middle": there.middle,
        "scale": there.scale,
        "box": (there.box.left, there.box.top, there.box.width, there.box.height),
        "whole": vars(_told("", found.whole.area)),
        "hoops": [
            vars(_told(one.room.hoop.name, one.area)) for one in found.hoops if one.room is not None
        ],
        "query": shown.address_instead(asked),
    }
    return filled(
        "part_map.html",
        svg=Markup(to_svg(region(found, unit, title))),
        told=json.dumps(told),
        first=label_of(found.first),
        second=label_of(found.second),
    )


def _told(name: str, area: Geometry) -> _MapHoop:
    rings: list[list[Point]] = []
    lines: list[list[Point]] = []
    for part in shapely.get_parts(area):
        if isinstance(part, shapely.Polygon):
            rings += [_points(ring) for ring in (part.exterior, *part.interiors) if ring.length]
        elif not shapely.is_empty(part):
            lines.append(_points(part))
    return _MapHoop(name, rings, lines)


def _points(line: Geometry) -> list[Point]:
    return [
        (round(float(x), _TOLD_TO), round(float(y), _TOLD_TO))
        for x, y in shapely.get_coordinates(line)
    ]
