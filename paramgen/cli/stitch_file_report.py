"""What was found of a stitch file, as text and for another program."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from paramgen.cli.read_command import FileFindings
from paramgen.cli.text_tables import indented, table
from paramgen.plan.fact_parts import rounded
from paramgen.plan.write_plan import finding_part
from paramgen.reading.field_fits import InHoop
from paramgen.reading.file_report import FileReport, NearestHoles, StitchAt
from paramgen.reading.report_rows import (
    HOOP_HEAD,
    STOP_HEAD,
    fact_rows,
    hoop_rows,
    room_left,
    stop_rows,
)
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said

#: So many differences are told one by one.
MOST_TOLD = 60


def report(found: FileFindings) -> str:
    """Tell everything about a file, and in the end what it was asked to be held to."""
    reading, unit = found.reading, found.unit
    parts = [
        _facts(reading, unit),
        "Stops\n" + table(STOP_HEAD, stop_rows(reading, unit)),
        "Hoops\n" + table(HOOP_HEAD, hoop_rows(found.hoops, unit)),
    ]
    verdicts = [*_hoop_verdict(found), *_plan_verdict(found)]
    if verdicts:
        parts.append("".join(f"{indented(line)}\n" for line in verdicts))
    return "\n".join(parts)


def _facts(reading: FileReport, unit: Unit) -> str:
    rows = fact_rows(reading, unit)
    width = max(len(name) for name, _ in rows) + 2
    lines = [indented(f"{name:<{width}}{text}") for name, text in rows]
    return f"{reading.name}\n" + "".join(f"{line}\n" for line in lines)


def _hoop_verdict(found: FileFindings) -> Iterable[str]:
    if found.exceeds is not None:
        message, remedy = said(found.exceeds, found.unit)
        yield f"It exceeds the hoop: {message}. {remedy}"
    elif found.asked is not None:
        way = ", turned by 90°" if found.asked.turned else ""
        yield f"{found.asked.hoop.name} takes it{way}: {room_left(found.asked, found.unit)}."


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
