"""What was found of a stitch file, as text and for another program."""

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from typing import Any

from paramgen.cli.read_command import FileFindings
from paramgen.cli.text_tables import indented, table
from paramgen.lengths import TOLERANCE, show, show_both, show_size_both
from paramgen.plan.fact_parts import DECIMALS, rounded
from paramgen.plan.write_plan import finding_part
from paramgen.reading.field_fits import InHoop
from paramgen.reading.file_report import FileReport, NearestHoles, StitchAt
from paramgen.sentences import number_of
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said

#: So many stops and differences are told one by one.
MOST_TOLD = 60


def report(found: FileFindings) -> str:
    """Tell everything about a file, and in the end what it was asked to be held to."""
    reading, unit = found.reading, found.unit
    parts = [
        _facts(reading, unit),
        "Stops\n" + table(("stop", "colour", "stitches", "length"), _stops(reading, unit)),
        "Hoops\n" + table(("hoop", "takes it", "room left"), _hoops(found.hoops, unit)),
    ]
    verdicts = [*_hoop_verdict(found), *_plan_verdict(found)]
    if verdicts:
        parts.append("".join(f"{indented(line)}\n" for line in verdicts))
    return "\n".join(parts)


def _facts(reading: FileReport, unit: Unit) -> str:
    whole = {True: "yes", False: "no", None: "cannot be known"}[reading.end.whole]
    stitches = f"{reading.stitches} in {number_of(len(reading.stops), 'stop')}"
    if reading.in_place:
        stitches += f", {reading.in_place} of them in place"
    moves = str(reading.moves)
    if reading.moves:
        moves += f", the longest {show_both(reading.longest_move, unit)}"
    rows = [
        ("kind", f"{reading.kind}, {reading.size} bytes"),
        ("complete", f"{whole}: {reading.end.said}"),
        ("size", show_size_both(reading.width, reading.height, unit)),
        ("middle", _middle(reading, unit)),
        ("stitches", stitches),
        ("colours", str(len(reading.colours)) if reading.colours else "none in the file"),
        ("longest stitch", _stitch(reading.longest, unit)),
        ("shortest stitch", _stitch(reading.shortest, unit)),
        ("closest holes", _closest(reading.closest, unit)),
        ("moves without sewing", moves),
        ("cuts", "its kind does not say" if reading.cuts is None else str(reading.cuts)),
    ]
    width = max(len(name) for name, _ in rows) + 2
    lines = [indented(f"{name:<{width}}{text}") for name, text in rows]
    return f"{reading.name}\n" + "".join(f"{line}\n" for line in lines)


def _middle(reading: FileReport, unit: Unit) -> str:
    x, y = (round(at, DECIMALS) for at in reading.extent.centre)
    # Half a step of the files' grid is as near the middle as some sizes can lie.
    if max(abs(x), abs(y)) <= 0.05:
        return "in the middle of the file's own field"
    across = f"{show(abs(x), unit)} to the {'right' if x > 0 else 'left'}"
    along = f"{show(abs(y), unit)} {'below' if y > 0 else 'above'}"
    return f"{across} and {along} the file's own; a machine may start there"


def _stitch(stitch: StitchAt | None, unit: Unit) -> str:
    if stitch is None:
        return "none"
    place = f"stop {stitch.stop}, stitch {stitch.number}, from {_point(stitch.start)}"
    return f"{show_both(stitch.length, unit)}, {place} to {_point(stitch.end)}"


def _closest(closest: NearestHoles | None, unit: Unit) -> str:
    if closest is None:
        return "none but the ends of one stitch"
    one, two = closest.stops
    stops = f"stop {one}" if one == two else f"stops {one} and {two}"
    holes = " and ".join(_point(hole) for hole in closest.holes)
    return (
        f"{show_both(closest.distance, unit)} apart, {stops}, {holes}; the two ends of one "
        "stitch are not meant"
    )


def _point(point: Point) -> str:
    return f"x {point[0]:.1f}, y {point[1]:.1f} mm"


def _stops(reading: FileReport, unit: Unit) -> Iterable[Sequence[str]]:
    for stop in reading.stops[:MOST_TOLD]:
        length = show_both(stop.length, unit)
        yield str(stop.number), stop.colour or "-", str(stop.stitches), length
    if len(reading.stops) > MOST_TOLD:
        rest = reading.stops[MOST_TOLD:]
        length = show_both(sum(stop.length for stop in rest), unit)
        yield f"{len(rest)} more", "", str(sum(stop.stitches for stop in rest)), length


def _hoops(hoops: Iterable[InHoop], unit: Unit) -> Iterable[Sequence[str]]:
    for one in hoops:
        way = "turned by 90°" if one.turned else "yes"
        yield one.hoop.name, way if one.takes else "no", _room(one, unit)


def _room(one: InHoop, unit: Unit) -> str:
    across, along = (_spare(spare, unit) for spare in one.spare)
    return f"{across} at the left and right, {along} at the top and bottom"


def _spare(spare: float, unit: Unit) -> str:
    return f"{show(-spare, unit)} short" if spare < -TOLERANCE else show(max(spare, 0.0), unit)


def _hoop_verdict(found: FileFindings) -> Iterable[str]:
    if found.exceeds is not None:
        message, remedy = said(found.exceeds, found.unit)
        yield f"It exceeds the hoop: {message}. {remedy}"
    elif found.asked is not None:
        way = ", turned by 90°" if found.asked.turned else ""
        yield f"{found.asked.hoop.name} takes it{way}: {_room(found.asked, found.unit)}."


def _plan_verdict(found: FileFindings) -> Iterable[str]:
    plan = found.plan
    if plan is None:
        return
    project = f"{plan.title} for {plan.hoop.name}"
    if not found.differences:
        same = f", byte for byte its {found.same_bytes}" if found.same_bytes else ""
        yield f"It is as planned: {project}{same}."
        return
    yield f"It is not as planned: {project}."
    for one in found.differences[:MOST_TOLD]:
        yield f"different: {one.message}."
    if len(found.differences) > MOST_TOLD:
        yield f"different: {len(found.differences) - MOST_TOLD} things more; --json tells them all."


def as_report(found: FileFindings) -> dict[str, Any]:
    """Everything about a file, in millimetres."""
    reading = found.reading
    plan = None
    if found.plan is not None:
        plan = {
            "recipe": found.plan.recipe,
            "title": found.plan.title,
            "as_planned": not found.differences,
            "same_bytes_as": found.same_bytes or None,
            "differences": [
                {"code": one.code, "message": one.message, "stop": one.stop}
                for one in found.differences
            ],
        }
    asked = None
    if found.asked is not None:
        asked = _as_hoop(found.asked)
        asked["finding"] = (
            finding_part(found.exceeds, found.unit).model_dump(mode="json")
            if found.exceeds
            else None
        )
    return {
        "format": 1,
        "file": reading.name,
        "kind": reading.kind,
        "bytes": reading.size,
        "sha256": reading.sha256,
        "all_there": reading.end.whole,
        "all_there_because": reading.end.said,
        "size": [_number(reading.width), _number(reading.height)],
        "extent": {side: _number(at) for side, at in asdict(reading.extent).items()},
        "stitches": reading.stitches,
        "stitches_in_place": reading.in_place,
        "colours": list(reading.colours),
        "stops": [
            {
                "stop": stop.number,
                "colour": stop.colour or None,
                "needle_points": len(stop.needles),
                "stitches": stop.stitches,
                "length": _number(stop.length),
            }
            for stop in reading.stops
        ],
        "longest_stitch": _as_stitch(reading.longest),
        "shortest_stitch": _as_stitch(reading.shortest),
        "closest_holes": _as_closest(reading.closest),
        "moves_without_sewing": reading.moves,
        "longest_move": _number(reading.longest_move),
        "cuts": reading.cuts,
        "hoops": [_as_hoop(one) for one in found.hoops],
        "hoop": asked,
        "plan": plan,
    }


def _as_stitch(stitch: StitchAt | None) -> dict[str, Any] | None:
    if stitch is None:
        return None
    return {
        "length": _number(stitch.length),
        "from": _numbers(stitch.start),
        "to": _numbers(stitch.end),
        "stop": stitch.stop,
        "stitch": stitch.number,
    }


def _as_closest(closest: NearestHoles | None) -> dict[str, Any] | None:
    if closest is None:
        return None
    return {
        "apart": _number(closest.distance),
        "holes": [_numbers(hole) for hole in closest.holes],
        "stops": list(closest.stops),
    }


def _as_hoop(one: InHoop) -> dict[str, Any]:
    return {
        "name": one.hoop.name,
        "takes_it": one.takes,
        "turned": one.turned,
        "room_at_sides": _number(one.spare[0]),
        "room_at_ends": _number(one.spare[1]),
    }


def _numbers(point: Point) -> list[float]:
    return [_number(value) for value in point]


def _number(value: float) -> float:
    return rounded(value)
