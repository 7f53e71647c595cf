"""Outlines drawn as SVG path data: `M 0,0 H 40 A 20,20 0 0 1 40,40 Z`.

The grammar is that of SVG 1.1 (second edition), 8.3.9; arcs are worked out as in its appendix F.6.
It is read strictly: what is not of the grammar is a fault with its place, and nothing is guessed.
"""

import math
import re

import numpy as np

from paramgen.geometry.outlines import MOST_DEGREES_A_CHORD, ShapeError, arc_points
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import CHORD_ERROR, FloatArray, Path, Point, path

#: No data is longer, in letters, and no drawing has more strokes: many times what can be sewn.
LONGEST_DATA, MOST_STROKES = 20_000, 2_000
#: No number is larger, in the drawing's own unit.
_FARTHEST = 1e5
#: A curve is broken into no more chords, and a drawing into no more: many times what is sewn.
_MOST_CHORDS, _MOST_POINTS = 2_000, 60_000
#: A shape is first looked at as if it were so large, mm.
_LOOKED_AT = 100.0

_SPACE = re.compile(r"[\x20\x09\x0d\x0a]*")
_COMMA = re.compile(r"[\x20\x09\x0d\x0a]*(?:,[\x20\x09\x0d\x0a]*)?")
_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_FLAG = re.compile("[01]")

#: How many numbers each command takes at a time; those at 3 and 4 of an arc are flags.
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_FLAGS = (3, 4)


@dataclass(frozen=True)
class PathStroke:
    """One straight line, curve or arc, as it stands in path data.

    Parameters
    ----------
    command : str
        `M`, `L`, `C`, `Q`, `A` or `Z`: short forms are written out, all places are absolute.
    numbers : tuple of float
        As the command takes them.
    """

    command: str
    numbers: tuple[float, ...] = ()


def read_path_data(text: str, where: str = "") -> tuple[PathStroke, ...]:
    """Read SVG path data.

    Parameters
    ----------
    text : str
    where : str
        Where it stands, for messages.

    Raises
    ------
    InputError
        If it is not path data, is too long, or leads too far away.

    Examples
    --------
    >>> [one.command for one in read_path_data("m 1 2 h3 v4 z")]
    ['M', 'L', 'L', 'Z']
    >>> read_path_data("m 1 2 h3")[1].numbers
    (4.0, 2.0)
    >>> read_path_data("M 0 0 L 1")
    Traceback (most recent call last):
        ...
    paramgen.vocabulary.findings.InputError: the path data ends where `L` takes another number
    """
    if len(text) > LONGEST_DATA:
        message = f"the path data is {len(text):,} letters long; {LONGEST_DATA:,} are read at most"
        raise InputError([Fault(message, where, hint="Draw a simpler shape.")])
    return _PathReader(text, where).strokes()


class _PathReader:
    """Path data, and how far it has been read."""

    def __init__(self, text: str, where: str) -> None:
        self._text, self._where = text, where
        self._at = 0
        self._here: Point = (0.0, 0.0)
        self._start: Point = (0.0, 0.0)
        self._handle: tuple[str, Point] = ("", (0.0, 0.0))
        self._found: list[PathStroke] = []

    def strokes(self) -> tuple[PathStroke, ...]:
        self._skip(_SPACE)
        while self._at < len(self._text):
            self._command()
            self._skip(_SPACE)
        return tuple(self._found)

    def _command(self) -> None:
        letter = self._text[self._at]
        command = letter.upper()
        if command not in _TAKES:
            raise self._fault(f"`{letter}` is no command of SVG path data")
        if not self._found and command != "M":
            raise self._fault("SVG path data begins with `M`")
        self._at += 1
        self._skip(_SPACE)
        if command == "Z":
            self._add("Z")
            self._here = self._start
            return
        relative = letter.islower()
        self._take(command, letter, relative)
        # What is given after a first place are lines to further places.
        command = "L" if command == "M" else command
        while self._more():
            self._take(command, letter, relative)

    def _more(self) -> bool:
        place = _COMMA.match(self._text, self._at)
        at = place.end() if place else self._at
        if at < len(self._text) and (self._text[at].isdigit() or self._text[at] in "+-."):
            self._at = at
            return True
        return False

    def _take(self, command: str, letter: str, relative: bool) -> None:
        numbers = []
        for place in range(_TAKES[command]):
            if place:
                self._skip(_COMMA)
            is_flag = command == "A" and place in _FLAGS
            numbers.append(self._number(letter, _FLAG if is_flag else _NUMBER))
        self._draw(command, numbers, self._here if relative else (0.0, 0.0))

    def _number(self, letter: str, form: re.Pattern[str]) -> float:
        found = form.match(self._text, self._at)
        if not found:
            if self._at >= len(self._text):
                message = f"the path data ends where `{letter}` takes another number"
                raise InputError([Fault(message, self._where)])
            what = "0 or 1" if form is _FLAG else "another number"
            raise self._fault(f"`{self._text[self._at]}` stands where `{letter}` takes {what}")
        self._at = found.end()
        number = float(found[0])
        if not abs(number) <= _FARTHEST:
            raise self._fault(f"`{found[0][:20]}` is too large a number")
        return number

    def _draw(self, command: str, numbers: list[float], base: Point) -> None:
        last, handle = self._handle
        reflected = (2 * self._here[0] - handle[0], 2 * self._here[1] - handle[1])
        if command == "A":
            if numbers[0] < 0 or numbers[1] < 0:
                raise self._fault("the radius of an arc is less than 0")
            self._to("A", [*numbers[:5], numbers[5] + base[0], numbers[6] + base[1]])
            return
        if command == "H":
            self._to("L", [numbers[0] + base[0], self._here[1]])
            return
        if command == "V":
            self._to("L", [self._here[0], numbers[0] + base[1]])
            return
        moved = [value + base[at % 2] for at, value in enumerate(numbers)]
        if command == "S":
            moved = [*(reflected if last == "C" else self._here), *moved]
        elif command == "T":
            moved = [*(reflected if last == "Q" else self._here), *moved]
        self._to({"S": "C", "T": "Q"}.get(command, command), moved)
        if command == "M":
            self._start = self._here

    def _to(self, command: str, numbers: list[float]) -> None:
        if max(map(abs, numbers[-2:])) > _FARTHEST:
            raise self._fault(f"it leads farther than {_FARTHEST:,.0f} away")
        self._add(command, *numbers)
        self._here = (numbers[-2], numbers[-1])
        if command in ("C", "Q"):
            self._handle = (command, (numbers[-4], numbers[-3]))

    def _add(self, command: str, *numbers: float) -> None:
        if len(self._found) >= MOST_STROKES:
            raise self._fault(f"there are more than {MOST_STROKES:,} strokes in it")
        self._found.append(PathStroke(command, numbers))
        self._handle = ("", (0.0, 0.0))

    def _skip(self, form: re.Pattern[str]) -> None:
        found = form.match(self._text, self._at)
        self._at = found.end() if found else self._at

    def _fault(self, what: str) -> InputError:
        message = f"the path data cannot be read at letter {self._at + 1}: {what}"
        return InputError([Fault(message, self._where)])


def drawn(strokes: tuple[PathStroke, ...], scale: float = 1.0) -> tuple[Path, ...]:
    """Lines that path data draws, one from each `M`, in millimetres.

    Parameters
    ----------
    strokes : tuple of PathStroke
    scale : float
        Millimetres for one unit of the drawing.

    Returns
    -------
    tuple of Path
        Closed where it says so; what is a point alone is left out.

    Raises
    ------
    ShapeError
        If a curve is far larger than any hoop, or there is more to draw than could be sewn.

    Examples
    --------
    >>> (corner,) = drawn(read_path_data("M 0 0 L 3 0 L 3 4 Z"), scale=2)
    >>> corner.length, corner.closed  # twice 3 + 4 + 5
    (24.0, True)
    >>> drawn(read_path_data("M 5 5"))
    ()
    """
    lines: list[Path] = []
    parts: list[FloatArray] = []
    start = here = (0.0, 0.0)
    many = 0

    def finish(*, closed: bool) -> None:
        if parts:
            line = path(np.concatenate([[start], *parts]) * scale, closed=closed)
            if len(line.points) > 1:
                lines.append(line)
        parts.clear()

    for stroke in strokes:
        end = here if stroke.command == "Z" else (stroke.numbers[-2], stroke.numbers[-1])
        if stroke.command == "Z":
            finish(closed=True)
            here = start
            continue
        if stroke.command == "M":
            finish(closed=False)
            start = end
        else:
            if not parts:
                start = here
            parts.append(_points(stroke, here, scale))
            many += len(parts[-1])
            if many > _MOST_POINTS:
                raise ShapeError("path-too-fine")
        here = end
    finish(closed=False)
    return tuple(lines)


def _points(stroke: PathStroke, here: Point, scale: float) -> FloatArray:
    """Points of one stroke after its first, in the drawing's unit."""
    ends = np.array([here, *zip(stroke.numbers[::2], stroke.numbers[1::2], strict=False)])
    if stroke.command == "L":
        return ends[1:]
    if stroke.command == "A":
        return _arc(stroke.numbers, here, scale)
    return _bezier(ends, scale)


def _bezier(handles: FloatArray, scale: float) -> FloatArray:
    """Points of a Bézier curve after its first."""
    degree = len(handles) - 1
    second = np.diff(handles, 2, axis=0)
    # A chord over 1/n of it leaves the curve by no more than |second derivative| / (8 n²).
    bent = degree * (degree - 1) * float(np.hypot(second[:, 0], second[:, 1]).max()) * scale
    by_error = math.sqrt(bent / (8 * CHORD_ERROR))
    # No curve turns more than the line through its handles does.
    legs = np.diff(handles, axis=0)
    turn = np.diff(np.arctan2(legs[:, 1], legs[:, 0]))
    turn = np.abs((turn + math.pi) % (2 * math.pi) - math.pi).sum()
    by_turn = 2 * math.degrees(float(turn)) / MOST_DEGREES_A_CHORD
    count = min(_MOST_CHORDS, 1 + math.ceil(max(by_error, by_turn)))
    if bent < CHORD_ERROR:
        count = 1
    along = np.linspace(0.0, 1.0, count + 1)[1:, None]
    points: FloatArray = np.zeros((count, 2))
    for at, handle in enumerate(handles):
        weight = math.comb(degree, at) * along**at * (1 - along) ** (degree - at)
        points = points + weight * handle
    points[-1] = handles[-1]
    return points


def _arc(numbers: tuple[float, ...], here: Point, scale: float) -> FloatArray:
    """Points of an arc after its first, SVG 1.1, F.6.5 and F.6.6."""
    rx, ry, turned, large, clockwise, x, y = numbers
    end = np.array([[x, y]])
    if rx == 0 or ry == 0 or (here[0] == x and here[1] == y):
        return end
    angle = math.radians(turned % 360)
    cos, sin = math.cos(angle), math.sin(angle)
    dx, dy = (here[0] - x) / 2, (here[1] - y) / 2
    x1, y1 = cos * dx + sin * dy, cos * dy - sin * dx
    too_small = math.hypot(x1 / rx, y1 / ry)
    if too_small > 1:
        rx, ry = rx * too_small, ry * too_small
    under = max(0.0, 1 / max((x1 / rx) ** 2 + (y1 / ry) ** 2, 1e-300) - 1)
    factor = math.sqrt(under) * (1 if large != clockwise else -1)
    cx, cy = factor * rx * y1 / ry, -factor * ry * x1 / rx
    first = math.atan2((y1 - cy) / ry, (x1 - cx) / rx)
    sweep = (math.atan2((-y1 - cy) / ry, (-x1 - cx) / rx) - first) % (2 * math.pi)
    if not clockwise:
        sweep -= 2 * math.pi
    if min(rx, ry) * scale < CHORD_ERROR or max(rx, ry) > _FARTHEST * 10:
        return end
    points = arc_points((cx, cy), rx, ry, first, sweep, CHORD_ERROR / scale)[1:]
    middle = ((here[0] + x) / 2, (here[1] + y) / 2)
    moved: FloatArray = points @ np.array([[cos, sin], [-sin, cos]]) + middle
    moved[-1] = (x, y)
    return moved


def reach_of(strokes: tuple[PathStroke, ...]) -> float:
    """About how large path data draws: how far apart its places lie, in the drawing's unit.

    >>> reach_of(read_path_data("M 10 10 H 40 V 20"))
    30.0
    """
    places = [one.numbers[-2:] for one in strokes if one.numbers]
    if not places:
        return 0.0
    found = np.ptp(np.array(places), axis=0)
    return float(found.max())


def closed_outlines(text: str, where: str = "") -> tuple[PathStroke, ...]:
    """Path data of closed outlines alone.

    Raises
    ------
    InputError
        If it cannot be read, draws nothing, or a line in it is left open.

    Examples
    --------
    >>> len(closed_outlines("M0 0 H4 V3 Z"))
    4
    """
    strokes = read_path_data(text, where)
    try:
        lines = drawn(strokes, _LOOKED_AT / max(reach_of(strokes), 1e-9))
    except ShapeError:
        hint = "Draw a simpler shape."
        text = "there is more in the path data than can be stitched"
        raise InputError([Fault(text, where, hint=hint)]) from None
    if not lines:
        raise InputError([Fault("the path data draws nothing", where)])
    ends = [line.points[[0, -1]] for line in lines if not line.closed]
    if any(np.hypot(*(end - start)) > 1e-6 for start, end in ends):
        hint = "End each part of it with `Z`."
        raise InputError([Fault("the shape is not closed", where, hint=hint)])
    if any(line.area.area == 0 for line in lines):
        raise InputError([Fault("the path data draws a shape of no area", where)])
    return strokes
