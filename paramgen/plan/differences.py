"""Where a stitch file is not the project that a plan says."""

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher

import numpy as np
import shapely

from paramgen.lengths import show, show_both, show_sizes_apart
from paramgen.plan.read_plan import Planned, PlannedLine, PlannedStep
from paramgen.plan.write_plan import KEPT_WITHIN
from paramgen.reading.file_report import FileReport, ReadStop
from paramgen.sentences import number_of
from paramgen.stitches.needle_points import GRID_MM
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: Needle points are whole tenths of a millimetre, so what differs, differs by more, mm.
_SAME = GRID_MM / 2
#: A needle point is rounded to the grid in x and in y: half its diagonal, and a hair, mm.
_ROUNDED = GRID_MM / 2**0.5 + KEPT_WITHIN + 0.001
#: A change of size by less is told as what it is, and not as a scale.
_LEAST_SCALE = 0.002
#: With more stops it is not worked out which of them are missing.
_MOST_MATCHED = 1000
#: Of needle points that lie off the lines, so many are looked at for the farthest.
_MOST_MEASURED = 100


@dataclass(frozen=True)
class Difference:
    """One thing in which a file is not its plan.

    Parameters
    ----------
    code : str
        Stable short name, lower case with hyphens.
    message : str
        What is and what should be, in the person's unit.
    stop : int or None
        Of the file, from 1.
    """

    code: str
    message: str
    stop: int | None = None


def same_bytes(reading: FileReport, plan: Planned) -> str:
    """Name the file of the plan that this is, byte for byte; empty if it is none of them."""
    return next((file.name for file in plan.files if file.sha256 == reading.sha256), "")


def differences(reading: FileReport, plan: Planned, unit: Unit) -> tuple[Difference, ...]:
    """Compare stops and their order, stitches, lengths, extent, colours and places.

    The plan holds lines, not needle points: each needle point must lie on a line of its
    stop, or within the swing of its zigzag.

    Parameters
    ----------
    reading : FileReport
    plan : Planned
    unit : Unit
        The person's.
    """
    found = list(_extent(reading, plan, unit))
    move = _move(reading, plan)
    stops = plan.stops
    if len(reading.stops) != len(stops):
        text = f"it has {number_of(len(reading.stops), 'stop')}, the plan {len(stops)}"
        found.append(Difference("stops", text))
    for have, want in _matched(reading.stops, stops):
        if have is None and want is not None:
            text = f"stop {want.stop} of the plan, {want.title}, is missing"
            found.append(Difference("stop-missing", text))
        elif want is None and have is not None:
            text = f"stop {have.number} is not in the plan"
            found.append(Difference("stop-unplanned", text, have.number))
        elif have is not None and want is not None:
            found += _stop(have, want, stops, unit)
            if reading.exact_colours and want.colour and have.colour != want.colour.lower():
                text = f"stop {have.number} is coloured {have.colour or 'nothing'}, in the plan "
                found.append(Difference("colour", text + want.colour, have.number))
            if move is not None:
                found += _places(have, want, move, unit)
    return tuple(found) or tuple(_bytes(reading, plan))


def _bytes(reading: FileReport, plan: Planned) -> Iterator[Difference]:
    """A file in which nothing else is found to differ, and which is still not the very one."""
    kind = f".{reading.kind}"
    own = [file.name for file in plan.files if file.name.lower().endswith(kind)]
    if own and not same_bytes(reading, plan):
        names = " nor ".join(own)
        text = f"it is not byte for byte {names}: it was changed, or written anew"
        yield Difference("bytes", text)


def _key(stop: ReadStop | PlannedStep) -> tuple[int, int]:
    """What tells stops apart: their stitches, and their length in tenths of a millimetre."""
    return stop.stitches, round(stop.length / GRID_MM)


def _matched(
    have: Sequence[ReadStop], want: Sequence[PlannedStep]
) -> Iterator[tuple[ReadStop | None, PlannedStep | None]]:
    """Put stops beside those of the plan; where there are more of one, beside nothing."""
    if len(have) == len(want) or max(len(have), len(want)) > _MOST_MATCHED:
        yield from zip(have, want, strict=False)
        return
    keys = [_key(one) for one in have], [_key(one) for one in want]
    for _, i, j, k, m in SequenceMatcher(None, *keys, autojunk=False).get_opcodes():
        both = min(j - i, m - k)
        yield from zip(have[i : i + both], want[k : k + both], strict=True)
        yield from ((one, None) for one in have[i + both : j])
        yield from ((None, one) for one in want[k + both : m])


def _stop(
    have: ReadStop, want: PlannedStep, stops: Sequence[PlannedStep], unit: Unit
) -> Iterator[Difference]:
    """Stitches of a stop, and their length."""
    same_length = abs(have.length - want.length) <= _SAME
    if have.stitches == want.stitches and same_length:
        return
    other = next((one for one in stops if one is not want and _key(one) == _key(have)), None)
    if other is not None:
        text = (
            f"stop {have.number} is stop {other.stop} of the plan, {other.title}; "
            f"it should be {want.title}"
        )
        yield Difference("order", text, have.number)
        return
    if have.stitches != want.stitches:
        text = f"stop {have.number}, {want.title}, has "
        text += number_of(have.stitches, "stitch", "stitches")
        yield Difference("stitches", f"{text}, in the plan {want.stitches}", have.number)
    if not same_length:
        text = (
            f"the stitches of stop {have.number}, {want.title}, are {show_both(have.length, unit)} "
            f"long together, in the plan {show_both(want.length, unit)}"
        )
        yield Difference("length", text, have.number)


def _box(plan: Planned) -> Box:
    extent = plan.extent
    return Box(extent.left, extent.top, extent.right, extent.bottom)


def _move(reading: FileReport, plan: Planned) -> tuple[float, float] | None:
    """How far the whole is moved as it is; None if it is also of another size."""
    now, then = reading.extent, _box(plan)
    x, y = now.left - then.left, now.top - then.top
    if max(abs(x - (now.right - then.right)), abs(y - (now.bottom - then.bottom))) > _SAME:
        return None
    return x, y


def _extent(reading: FileReport, plan: Planned, unit: Unit) -> Iterator[Difference]:
    """Size and place of the whole."""
    wide, high = _box(plan).width, _box(plan).height
    move = _move(reading, plan)
    if move is not None:
        if max(map(abs, move)) > _SAME:
            x, y = move
            across = f"{show(abs(x), unit)} to the {'right' if x > 0 else 'left'}"
            along = f"{show(abs(y), unit)} {'down' if y > 0 else 'up'}"
            moved = [text for text, by in ((across, x), (along, y)) if abs(by) > _SAME]
            yield Difference("moved", f"all of it lies {' and '.join(moved)} of where it should")
        return
    now, then = (reading.width, reading.height), (wide, high)
    takes, planned = show_sizes_apart(now, then, unit)
    text = f"its stitches take {takes}, in the plan {planned}"
    if max(abs(now[0] - high), abs(now[1] - wide)) <= _SAME:
        yield Difference("turned", f"{text}: it lies turned by 90°")
        return
    if min(*now, *then) > 0 and (scale := _scale(now, then)) is not None:
        yield Difference("scaled", f"{text}: it looks scaled to {100 * scale:.1f} %")
        return
    yield Difference("extent", text)


def _scale(now: tuple[float, float], then: tuple[float, float]) -> float | None:
    """By how much a size was scaled, if both its sides were by the same."""
    one, other = now[0] / then[0], now[1] / then[1]
    # Within what rounding each end to the grid can do.
    same = abs(one - other) <= 2 * GRID_MM / min(then)
    return one if same and min(abs(one - 1), abs(other - 1)) > _LEAST_SCALE else None


def _places(
    have: ReadStop, want: PlannedStep, move: tuple[float, float], unit: Unit
) -> Iterator[Difference]:
    """Needle points of a stop that lie on none of its lines."""
    if not want.lines or not len(have.needles):
        return
    points = shapely.points(have.needles - np.array(move))
    off = np.ones(len(points), dtype=bool)
    lines = [(_drawn(line), _ROUNDED + _aside(line)) for line in want.lines]
    for line, reach in lines:
        shapely.prepare(line)
        off[off] = ~shapely.dwithin(line, points[off], reach)
    if not off.any():
        return
    strays = points[off][:_MOST_MEASURED]
    away = np.min([shapely.distance(line, strays) - reach for line, reach in lines], axis=0)
    worst = int(away.argmax())
    x, y = shapely.get_coordinates(strays[worst])[0].tolist()
    needles = "needle point lies" if off.sum() == 1 else "needle points lie"
    text = (
        f"{int(off.sum())} {needles} off the lines of stop {have.number}, {want.title}: "
        f"one by {show(float(away[worst]) + _ROUNDED, unit)}, at x {x:.1f} mm, y {y:.1f} mm"
    )
    yield Difference("place", text, have.number)


def _aside(line: PlannedLine) -> float:
    """Farthest a needle point lies beside a line, mm."""
    return (line.swing or 0.0) / (1 if line.outward else 2)


def _drawn(line: PlannedLine) -> shapely.LineString:
    return shapely.LineString([*line.points, line.points[0]] if line.closed else line.points)
