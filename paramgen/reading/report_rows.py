"""What is told of a stitch file, as rows of words."""

from collections.abc import Iterable, Iterator, Sequence

from paramgen.lengths import TOLERANCE, show, show_both, show_size_both
from paramgen.reading.field_fits import InHoop
from paramgen.reading.file_report import FileReport, NearestHoles, StitchAt
from paramgen.sentences import number_of
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.unit import Unit

#: So many stops are told one by one.
MOST_STOPS = 60

#: What the rows below are about, each column.
STOP_HEAD = ("stop", "colour", "stitches", "length")
HOOP_HEAD = ("hoop", "takes it", "room left")


def fact_rows(reading: FileReport, unit: Unit) -> tuple[tuple[str, str], ...]:
    """What is told of a file as a whole: of what, and what."""
    whole = {True: "yes", False: "no", None: "cannot be known"}[reading.end.whole]
    stitches = f"{reading.stitches} in {number_of(len(reading.stops), 'stop')}"
    if reading.in_place:
        stitches += f", {reading.in_place} of them in place"
    moves = str(reading.moves)
    if reading.moves:
        moves += f", the longest {show_both(reading.longest_move, unit)}"
    return (
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
    )


def _middle(reading: FileReport, unit: Unit) -> str:
    x, y = (round(at, 4) for at in reading.extent.centre)
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


def stop_rows(reading: FileReport, unit: Unit) -> Iterator[Sequence[str]]:
    """Of each stop its number, colour, stitches and length."""
    for stop in reading.stops[:MOST_STOPS]:
        length = show_both(stop.length, unit)
        yield str(stop.number), stop.colour or "-", str(stop.stitches), length
    if len(reading.stops) > MOST_STOPS:
        rest = reading.stops[MOST_STOPS:]
        length = show_both(sum(stop.length for stop in rest), unit)
        yield f"{len(rest)} more", "", str(sum(stop.stitches for stop in rest)), length


def hoop_rows(hoops: Iterable[InHoop], unit: Unit) -> Iterator[Sequence[str]]:
    """Of each hoop its name, whether it takes the file, and the room that is left."""
    for one in hoops:
        way = "turned by 90°" if one.turned else "yes"
        yield one.hoop.name, way if one.takes else "no", room_left(one, unit)


def room_left(one: InHoop, unit: Unit) -> str:
    """The room beside the stitches in a hoop, in words."""
    across, along = (_spare(spare, unit) for spare in one.spare)
    return f"{across} at the left and right, {along} at the top and bottom"


def _spare(spare: float, unit: Unit) -> str:
    return f"{show(-spare, unit)} short" if spare < -TOLERANCE else show(max(spare, 0.0), unit)
