"""A section through the layers as they lie in the hoop, along a line across the project.

Lengths along the line are true; sheets are drawn much thicker than they are, one over the
other from the back of the hoop to the front.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.boxes import Box, around
from paramgen.drawings.facing import face_seen
from paramgen.drawings.labels import Label
from paramgen.drawings.legend import entries_for
from paramgen.drawings.lettering import text_width
from paramgen.drawings.outlines import rectangle, straight
from paramgen.drawings.paragraphs import Words, whole_lengths
from paramgen.drawings.primitives import Anchor, Drawing, Group, Item, Shape, Style, Text, flat
from paramgen.drawings.sheet import Sheet, composed, letters_for
from paramgen.finished.thing import layers_of
from paramgen.geometry.path import FloatArray, Path, Point, path
from paramgen.layout.project import Role
from paramgen.lengths import show_both
from paramgen.rehearsal.sheets import Sheet as Cloth
from paramgen.rehearsal.turned import Rehearsed

# In ems: thickness of a sheet, of its right side, and the room between two sheets.
_THICK, _FACE, _ROOM = 1.5, 0.32, 0.6
_PITCH = _THICK + _ROOM
# Radius of a fold outside and inside, and how far a stitch stands out of its layers.
_OUTER, _INNER, _OUT = _THICK + _ROOM / 2, _ROOM / 2, 0.3

#: A section that the recipe does not give reaches so far past the seam, mm.
PAST = 15.0
#: Runs shorter than this are a touch, mm.
TOUCH = 0.01

Interval = tuple[float, float]


@dataclass(frozen=True)
class Run:
    """A sheet where the section cuts it.

    Parameters
    ----------
    sheet : int
    start, end : float
        Along the section, mm.
    level : int
        From the back, 0 the backmost.
    folded : (bool, bool)
        Whether it is folded at its start and at its end.
    """

    sheet: int
    start: float
    end: float
    level: int
    folded: tuple[bool, bool]


@dataclass(frozen=True)
class Crossing:
    """Stitches that cross the section.

    Parameters
    ----------
    at : float
        Along the section, mm.
    low, high : int
        Backmost and frontmost level they go through.
    title : str
        Of the line.
    seam : bool
    """

    at: float
    low: int
    high: int
    title: str
    seam: bool


def section_line(done: Rehearsed) -> shapely.LineString:
    """The line the recipe gives, or the vertical through the middle of the seam line's box."""
    if done.project.finish.section:
        return shapely.LineString(done.project.finish.section)
    left, top, right, bottom = done.project.seam.bounds
    middle = (left + right) / 2
    return shapely.LineString([(middle, top - PAST), (middle, bottom + PAST)])


def runs(done: Rehearsed, line: shapely.LineString) -> tuple[Run, ...]:
    """Every sheet where the section cuts it, from the back to the front.

    A run lies one level above the highest that it lies over, so that what lies side by side is
    drawn side by side.
    """
    found: list[Run] = []
    for index, sheet in enumerate(done.sandwich.sheets):
        for start, end in intervals(line, sheet.area):
            below = [run.level for run in found if _overlap((run.start, run.end), (start, end))]
            folded = _folds_at(sheet, line, start), _folds_at(sheet, line, end)
            found.append(Run(index, start, end, max(below, default=-1) + 1, folded))
    return tuple(found)


def intervals(line: shapely.LineString, room: BaseGeometry) -> list[Interval]:
    """Parts of a straight line within an area, as lengths along it, mm."""
    parts = shapely.get_parts(shapely.intersection(line, room))
    start = shapely.Point(shapely.get_coordinates(line)[0])
    ends = [
        sorted(float(start.distance(shapely.Point(xy))) for xy in shapely.get_coordinates(part))
        for part in parts
        if part.length > TOUCH
    ]
    return sorted((end[0], end[-1]) for end in ends)


def crossings(done: Rehearsed, line: shapely.LineString, laid: Sequence[Run]) -> list[Crossing]:
    """Stitched lines that cross the section, in order along it; the tallest at each place."""
    start = shapely.Point(shapely.get_coordinates(line)[0])
    found: dict[tuple[float, str], Crossing] = {}
    for sewn in done.sandwich.sewn:
        for at in _meets(line, start, sewn.path):
            levels = [
                run.level
                for run in laid
                if run.start < at < run.end and done.sandwich.sheets[run.sheet].step < sewn.step
            ]
            if levels:
                seam = sewn.line.role is Role.SEAM
                found[round(at, 2), sewn.line.title] = Crossing(
                    at, min(levels), max(levels), sewn.line.title, seam
                )
    return sorted(found.values(), key=lambda one: (one.at, one.title))


def _meets(line: shapely.LineString, start: shapely.Point, other: BaseGeometry) -> Iterator[float]:
    for part in shapely.get_parts(shapely.intersection(line, other)):
        if isinstance(part, shapely.Point):
            yield float(start.distance(part))


def _folds_at(sheet: Cloth, line: shapely.LineString, at: float) -> bool:
    spot = line.interpolate(at)
    return any(fold.distance(spot) < TOUCH for fold in sheet.folds)


def _overlap(one: Interval, other: Interval) -> bool:
    return min(one[1], other[1]) - max(one[0], other[0]) > TOUCH


def section(done: Rehearsed) -> Drawing:
    """Draw a section through the layers, the titles of the layers on them where there is room.

    Parameters
    ----------
    done : Rehearsed
        Laid out its own way round, not turned in a hoop.

    Returns
    -------
    Drawing
        Named `finished-section`.
    """
    length = float(section_line(done).length)
    return composed(section_sheet(done, letters_for(Box(0.0, 0.0, length, 0.5 * length))))


def section_sheet(done: Rehearsed, em: float, *, titled: bool = True) -> Sheet:
    """Picture of a section through the layers and its labels, before they are put together.

    Parameters
    ----------
    done : Rehearsed
    em : float
        Size of letters, mm; layers are so many times as thick.
    titled : bool
        Whether titles are written on the layers where there is room; else every layer has a
        label.

    Returns
    -------
    Sheet
        White hollows turn out or open in the end, tinted ones are hidden; of
        every sheet the right side is dark, and a fold is a round end.
    """
    done = _faced(done)
    project, line = done.project, section_line(done)
    length = float(line.length)
    laid = runs(done, line)
    stitches = crossings(done, line, laid)
    top = _height(max((run.level for run in laid), default=0) + 1, em)
    written, labels = _titles(done, laid, stitches, em, titled=titled)
    ends = _ends(line)
    picture: tuple[Item, ...] = (
        Group("hollows", tuple(_hollows(done, line, laid, em))),
        Group("sheets", tuple(_sheets(done, laid, em))),
        Group("stitches", tuple(_stitches(stitches, em))),
        Group("seam", tuple(_seam(done, line, stitches, top - 0.6 * em, em))),
        Group("titles", written),
        Text((0.0, 1.5 * em), ends[0], em),
        Text((length, 1.5 * em), ends[1], em, Anchor.END),
    )
    texts = [item.box for item in flat(picture) if isinstance(item, Text)]
    view = around([Box(0.0, top - 1.6 * em, length, 1.8 * em), *texts])
    named = [done.sandwich.sheets[run.sheet].title for run in laid]
    # The line runs on past what is cut; a person can measure no more than the layers.
    across = max(run.end for run in laid) - min(run.start for run in laid) if laid else 0.0
    told = whole_lengths(show_both(across, project.unit))
    where = f"From {ends[0]} (left) to {ends[1]} (right), {told}."
    return Sheet(
        name="finished-section",
        title=f"{project.title}: section through the layers",
        description=(
            f"{where} As it lies in the hoop when the last line is sewn. "
            f"Layers from the back: {', '.join(dict.fromkeys(named))}. "
            f"Stitches: {', '.join(dict.fromkeys(one.title for one in stitches))}."
        ).replace("\u00a0", " "),
        heading=(
            Words(f"{project.title}: section through the layers", bold=True),
            Words("As it lies in the hoop when the last line is sewn, the front above."),
            Words(f"{where} Lengths are true, thicknesses are not."),
        ),
        above="front of the hoop",
        view=view,
        picture=picture,
        legend=entries_for(picture),
        letters=em,
        labels=labels,
        column=bool(labels),
    )


def _faced(done: Rehearsed) -> Rehearsed:
    """The same, but batting and the like have no right side to show."""
    layers = tuple(layers_of(done.project))
    sheets = tuple(
        replace(sheet, front=False, back=False)
        if face_seen(layers[sheet.layer], "front") is None
        else sheet
        for sheet in done.sandwich.sheets
    )
    return replace(done, sandwich=replace(done.sandwich, sheets=sheets))


def _height(level: int, em: float) -> float:
    """Where the back face of a level lies: y goes down, levels go up."""
    return -level * _PITCH * em


def _ends(line: shapely.LineString) -> tuple[str, str]:
    (ax, ay), (bx, by) = shapely.get_coordinates(line)[[0, -1]]
    names = ("top", "bottom") if abs(by - ay) >= abs(bx - ax) else ("left", "right")
    return names if (by - ay if names[0] == "top" else bx - ax) > 0 else (names[1], names[0])


# --- Sheets and their folds --------------------------------------------------------------


def _sheets(done: Rehearsed, laid: Sequence[Run], em: float) -> Iterator[Item]:
    pairs = _fold_pairs(done, laid)
    rounded = {(id(run), end) for back, front, end in pairs for run in (back, front)}
    for run in laid:
        sheet = done.sandwich.sheets[run.sheet]
        start, end = (
            at + (sign * _OUTER * em if (id(run), place) in rounded else 0.0)
            for place, at, sign in ((0, run.start, 1), (1, run.end, -1))
        )
        low = _height(run.level, em)
        name = f"sheet-{run.sheet + 1}-{run.level}-{round(run.start)}"
        box = Box(start, low - _THICK * em, end, low)
        yield Group(name, tuple(_sheet(sheet, box, em)), sheet.title)
    for back, front, end in pairs:
        yield from _fold(done, back, front, end, em)


def _sheet(sheet: Cloth, box: Box, em: float) -> Iterator[Shape]:
    yield Shape(rectangle(box), Style.ZIP_TAPE if sheet.sort == "zip" else Style.SHEET)
    if sheet.front:
        face = Box(box.left, box.top, box.right, box.top + _FACE * em)
        yield Shape(rectangle(face), Style.RIGHT_FACE)
    if sheet.back:
        face = Box(box.left, box.bottom - _FACE * em, box.right, box.bottom)
        yield Shape(rectangle(face), Style.RIGHT_FACE)


def _fold_pairs(done: Rehearsed, laid: Sequence[Run]) -> list[tuple[Run, Run, int]]:
    """Leaves of a folded layer that lie on each other, and the end at which they are joined."""
    sheets = done.sandwich.sheets
    return [
        (back, front, end)
        for back in laid
        for front in laid
        if sheets[back.sheet].leaf == "back"
        if front.sheet == back.sheet + 1 and sheets[front.sheet].layer == sheets[back.sheet].layer
        if (front.start, front.end) == (back.start, back.end) and front.level == back.level + 1
        for end in (0, 1)
        if back.folded[end]
    ]


def _fold(done: Rehearsed, back: Run, front: Run, end: int, em: float) -> Iterator[Shape]:
    """Draw the round end of two leaves, its outer or its inner face dark."""
    at = (back.start + _OUTER * em) if end == 0 else (back.end - _OUTER * em)
    middle = (at, _height(front.level, em) + _ROOM / 2 * em)
    sheet = done.sandwich.sheets[front.sheet]
    yield Shape(_half_ring(middle, _INNER * em, _OUTER * em, end), Style.SHEET)
    if sheet.front:
        yield Shape(_half_ring(middle, (_OUTER - _FACE) * em, _OUTER * em, end), Style.RIGHT_FACE)
    if sheet.back:
        yield Shape(_half_ring(middle, _INNER * em, (_INNER + _FACE) * em, end), Style.RIGHT_FACE)


def _half_ring(middle: Point, inner: float, outer: float, end: int) -> Path:
    """Half of a ring, bulging to the left at the start of a run and to the right at its end."""
    angle = np.linspace(-np.pi / 2, np.pi / 2, 17)
    way = 1.0 if end else -1.0
    arc: FloatArray = np.stack([way * np.cos(angle), np.sin(angle)], axis=1)
    return path(np.vstack([arc * outer, arc[::-1] * inner]) + middle, closed=True)


# --- Hollows and stitches ----------------------------------------------------------------


def _hollows(
    done: Rehearsed, line: shapely.LineString, laid: Sequence[Run], em: float
) -> Iterator[Shape]:
    """Draw the spaces between sheets within the seam line, by what becomes of them."""
    plane, spaces = done.plane, done.spaces
    for face, area in enumerate(plane.areas):
        if not plane.within[face]:
            continue
        for start, end in intervals(line, area):
            middle = (start + end) / 2
            here = {run.sheet: run for run in laid if run.start < middle < run.end}
            for place, (under, over) in enumerate(pairwise(plane.stack(face)), start=1):
                if under not in here or over not in here:
                    continue
                node = int(spaces.first[face]) + place
                style = Style.OUTSIDE if done.shows(node) else Style.HIDDEN_INSIDE
                low = _height(here[under].level, em) - _THICK * em
                high = _height(here[over].level, em)
                # Under a fold the sheet is drawn shorter than it is.
                yield Shape(rectangle(Box(start, high, end, low)), style)


def _stitches(stitches: Sequence[Crossing], em: float) -> Iterator[Item]:
    for one in stitches:
        low = _height(one.low, em) + _OUT * em
        high = _height(one.high, em) - (_THICK + _OUT) * em
        yield Shape(straight((one.at, low), (one.at, high)), Style.CROSSING)


def _seam(
    done: Rehearsed, line: shapely.LineString, stitches: Sequence[Crossing], y: float, em: float
) -> Iterator[Item]:
    """Name the seam where the section crosses it, and the turning gap where it is open."""
    seam = done.project.seam.line
    start = shapely.Point(shapely.get_coordinates(line)[0])
    named: list[Text] = []
    for at in sorted(_meets(line, start, seam)):
        sewn = [one for one in stitches if one.seam and abs(one.at - at) < 1.0]
        text = Text((at, y), "seam" if sewn else "turning gap", em, Anchor.MIDDLE)
        if any(text.box.overlaps(other.box) for other in named):
            continue
        named.append(text)
        high = _height(max((one.high for one in sewn), default=-1), em) - (_THICK + _OUT) * em
        if high > y + em or not sewn:
            yield Shape(straight((at, y + 0.3 * em), (at, high)), Style.LEADER)
    yield from named


# --- Titles ------------------------------------------------------------------------------


def _titles(
    done: Rehearsed,
    laid: Sequence[Run],
    stitches: Sequence[Crossing],
    em: float,
    *,
    titled: bool,
) -> tuple[tuple[Text, ...], tuple[Label, ...]]:
    """Write each layer's title on it where there is room between stitches, or beside it."""
    longest: dict[tuple[int, bool], Run] = {}
    for run in laid:
        sheet = done.sandwich.sheets[run.sheet]
        key = (sheet.layer, sheet.leaf == "lower")
        known = longest.get(key)
        if known is None or run.end - run.start >= known.end - known.start:
            longest[key] = run
    written: list[Text] = []
    labels: dict[str, Label] = {}
    done_titles: set[str] = set()
    for run in longest.values():
        sheet = done.sandwich.sheets[run.sheet]
        title = f"{sheet.title}, {sheet.plies} layers" if sheet.plies > 1 else sheet.title
        # In the middle of what the right side leaves.
        middle = _height(run.level, em) - _THICK / 2 * em
        middle += (sheet.front - sheet.back) * _FACE / 2 * em
        across = [one.at for one in stitches if one.low <= run.level <= one.high]
        spot = _free(run, across, text_width(title, 0.85 * em) + em, _OUTER * em)
        if not titled:
            at = ((run.start + run.end) / 2 if spot is None else spot, middle)
            labels.setdefault(title, Label(at, (Words(title, bold=True),)))
        elif spot is not None:
            written.append(Text((spot, middle + 0.3 * em), title, 0.85 * em, Anchor.MIDDLE))
            done_titles.add(title)
        else:
            # Its line then runs clear of the titles of its level, which are on the front leaf.
            behind = _PITCH * em if sheet.leaf == "front" else 0.0
            at = ((run.start + run.end) / 2, middle + behind)
            labels.setdefault(title, Label(at, (Words(title, bold=True),)))
    return tuple(written), tuple(
        label for title, label in labels.items() if title not in done_titles
    )


def _free(run: Run, across: Sequence[float], width: float, rounded: float) -> float | None:
    """Middle of the widest room between stitches on a run; None if it is less than asked."""
    start = run.start + (rounded if run.folded[0] else 0.0)
    end = run.end - (rounded if run.folded[1] else 0.0)
    bounds = [start, *sorted(at for at in across if start < at < end), end]
    low, high = max(pairwise(bounds), key=lambda gap: gap[1] - gap[0])
    return (low + high) / 2 if high - low >= width else None
