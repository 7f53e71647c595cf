"""A section through the layers in the hoop, and through the finished thing, along a line across.

Lengths along the line are true; sheets are drawn much thicker than they are, one over the
other from the back to the front.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import line_through
from paramgen.drawings.front_end.fabric_tones import tones_of
from paramgen.drawings.front_end.facing_sides import face_seen
from paramgen.drawings.front_end.framed_picture import FramedPicture, composed, letters_for
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.legend import entries_for
from paramgen.drawings.front_end.over_edge import tapes
from paramgen.drawings.front_end.sheets_across import fold_across, sheet_across
from paramgen.drawings.primitives.drawn_paths import rectangle, straight
from paramgen.drawings.primitives.items import (
    Anchor,
    Drawing,
    DrawnItem,
    Group,
    Shape,
    Style,
    Text,
    Tone,
    flat,
)
from paramgen.drawings.primitives.lettering import text_width
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.finished.finished_thing import FinishedThing, layers_of, turn_of_cloth
from paramgen.geometry.mirror import mirrored
from paramgen.layout.turning_gaps import is_open_edge
from paramgen.lengths import show_both, spaced, unbroken
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.sheets import Sheet as Cloth
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import SEWN_THROUGH, Leaf, Role, Side

# In ems: thickness of a sheet, of its right side, and the room between two sheets.
_THICK, _FACE, _ROOM = 1.5, 0.32, 0.6
_PITCH = _THICK + _ROOM
# Radius of a fold of neighbours outside, and how far a stitch stands out of its layers.
_OUTER, _OUT = _THICK + _ROOM / 2, 0.3
# A fold takes no more of the length of what it joins.
_OF_SHORT = 0.6

#: A section that the recipe does not give reaches so far past the seam, mm.
PAST = 15.0
#: Runs shorter than this are a touch, mm.
TOUCH = 0.01
# A seam that crosses the section so near to the seam line lies on it, mm.
_ON_LINE = 0.1
# What ends so near to the finished edge is held there, mm.
_AT_EDGE = 0.5

Interval = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class SheetInSection:
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
    swung : bool
        Whether it lies with its back in front, as what stands out does.
    """

    sheet: int
    start: float
    end: float
    level: int
    folded: tuple[bool, bool]
    swung: bool = False

    def right_sides(self, sheet: Cloth) -> tuple[bool, bool]:
        """Whether its face in front and that behind are right sides."""
        return (sheet.back, sheet.front) if self.swung else (sheet.front, sheet.back)


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


@dataclass(frozen=True, eq=False, kw_only=True)
class SectionCut:
    """What a section cuts, and what is said of it.

    Parameters
    ----------
    done : Rehearsed
    line : LineString
    laid : tuple of SheetInSection
        From the back to the front.
    stitches : tuple of Crossing
        In order along the line.
    named : tuple of (float, str)
        Places along the line, mm, with what is written over them.
    name, title, how : str
        Of the picture, and how the layers lie.
    above : str
        Which side lies above.
    tones : tuple of Tone or None
        What each sheet's fabric is told by; None for the tape of a zip.
    """

    done: Rehearsed
    line: shapely.LineString
    laid: tuple[SheetInSection, ...]
    stitches: tuple[Crossing, ...]
    named: tuple[tuple[float, str], ...]
    name: str
    title: str
    how: str
    above: str
    tones: tuple[Tone | None, ...]


def section_line(done: Rehearsed) -> shapely.LineString:
    """The line the recipe gives, or the vertical through the middle of the seam line's box."""
    if done.project.finish.section:
        return shapely.LineString(done.project.finish.section)
    box = done.project.seam.box
    middle = (box.left + box.right) / 2
    return shapely.LineString([(middle, box.top - PAST), (middle, box.bottom + PAST)])


def runs(done: Rehearsed, line: shapely.LineString) -> tuple[SheetInSection, ...]:
    """Every sheet where the section cuts it, from the back to the front.

    A run lies one level above the highest that it lies over, so that what lies side by side is
    drawn side by side.
    """
    sheets = ((at, one) for at, one in enumerate(done.sandwich.sheets) if one.shows)
    return _piled(line, ((index, sheet.area, sheet.folds, False) for index, sheet in sheets))


def turned_runs(thing: FinishedThing, line: shapely.LineString) -> tuple[SheetInSection, ...]:
    """The same of the finished thing."""
    return _piled(
        line,
        (
            (
                ply.index,
                ply.area,
                [mirrored(f, ply.swung) if ply.swung else f for f in ply.sheet.folds],
                ply.swung is not None,
            )
            for ply in thing.plies
            if ply.sheet.shows
        ),
    )


def _piled(
    line: shapely.LineString,
    sheets: Iterable[tuple[int, BaseGeometry, Sequence[BaseGeometry], bool]],
) -> tuple[SheetInSection, ...]:
    """Runs of sheets, each with where it lies, its folds and whether it is swung out."""
    found: list[SheetInSection] = []
    for index, area, folds, swung in sheets:
        for start, end in intervals(line, area):
            folded = _folds_at(folds, line, start), _folds_at(folds, line, end)
            found.append(
                SheetInSection(
                    sheet=index,
                    start=start,
                    end=end,
                    level=_level(found, (start, end), swung=swung),
                    folded=folded,
                    swung=swung,
                )
            )
    return tuple(found)


def _level(found: Sequence[SheetInSection], one: Interval, *, swung: bool) -> int:
    """The level of a run above those so far: of what is swung out, where it leaves the edge.

    That is between two sheets; its own first sheet lies as high as the one behind it there.
    """
    start, end = (one[0] - _AT_EDGE, one[1] + _AT_EDGE) if swung else one
    below = [run for run in found if _overlap((run.start, run.end), (start, end))]
    if swung and not any(run.swung for run in below):
        return max((run.level for run in below), default=0)
    return max((run.level for run in below), default=-1) + 1


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


def crossings(
    done: Rehearsed, line: shapely.LineString, laid: Sequence[SheetInSection]
) -> list[Crossing]:
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


def turned_crossings(
    thing: FinishedThing, line: shapely.LineString, laid: Sequence[SheetInSection]
) -> list[Crossing]:
    """Stitches that cross the section of the finished thing, in order along it.

    What is sewn by machine goes through the sheets that lay there then, the stitching by hand
    through all of them; the seam lies at the finished edge.
    """
    start = shapely.Point(shapely.get_coordinates(line)[0])
    swung = {ply.index: ply.swung for ply in thing.plies if ply.swung is not None}
    levels: dict[tuple[float, str], list[int]] = {}
    for sewn in thing.done.sandwich.sewn:
        if sewn.line.role is Role.SEAM:
            continue
        for run in laid:
            if thing.done.sandwich.sheets[run.sheet].step >= sewn.step:
                continue
            path = mirrored(sewn.path, swung[run.sheet]) if run.swung else sewn.path
            for at in _meets(line, start, path):
                if run.start < at < run.end:
                    levels.setdefault((round(at, 2), sewn.line.title), []).append(run.level)
    for step in thing.project.steps:
        for mark in step.mark if step.act in SEWN_THROUGH else ():
            for at in _meets(line, start, mark.line):
                here = [run.level for run in laid if run.start < at < run.end]
                levels[round(at, 2), step.title] = here
    found = [
        Crossing(at, low, high, title, seam=False)
        for (at, title), through in levels.items()
        for low, high in _together(through)
    ]
    for at in _meets(line, start, thing.room.boundary):
        here = [run.level for run in laid if run.start - _AT_EDGE < at < run.end + _AT_EDGE]
        if here:
            found.append(Crossing(at, min(here), max(here), "seam", seam=True))
    return sorted(found, key=lambda one: (one.at, one.low, one.title))


def _together(levels: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Lowest and highest of each run of levels that follow on each other."""
    low: int | None = None
    for level in (order := sorted(set(levels))):
        low = level if low is None else low
        if level + 1 not in order:
            yield low, level
            low = None


def _meets(line: shapely.LineString, start: shapely.Point, other: BaseGeometry) -> Iterator[float]:
    for part in shapely.get_parts(shapely.intersection(line, other)):
        if isinstance(part, shapely.Point):
            yield float(start.distance(part))


def _folds_at(folds: Sequence[BaseGeometry], line: shapely.LineString, at: float) -> bool:
    spot = line.interpolate(at)
    return any(fold.distance(spot) < TOUCH for fold in folds)


def _overlap(one: Interval, other: Interval) -> bool:
    return min(one[1], other[1]) - max(one[0], other[0]) > TOUCH


def section(done: Rehearsed, cloths: Cloths = NO_CLOTHS) -> Drawing:
    """Draw a section through the layers, the titles of the layers on them where there is room.

    Parameters
    ----------
    done : Rehearsed
        Laid out its own way round, not turned in a hoop.
    cloths : mapping of name to Cloth
        What its fabrics look like, as far as the person said it; of a print its colour is shown.

    Returns
    -------
    Drawing
        Named `finished-section`.
    """
    return composed(section_sheet(done, _letters(section_line(done)), cloths))


def turned_section(thing: FinishedThing, cloths: Cloths = NO_CLOTHS) -> Drawing | None:
    """Draw a section through the finished thing along the same line; None if it is not turned.

    Returns
    -------
    Drawing or None
        Named `finished-turned-section`.
    """
    sheet = turned_section_sheet(thing, _letters(section_line(thing.done)), cloths)
    return composed(sheet) if sheet else None


def _letters(line: shapely.LineString) -> float:
    length = float(line.length)
    return letters_for(Box(0.0, 0.0, length, 0.5 * length))


def section_sheet(
    done: Rehearsed, em: float, cloths: Cloths = NO_CLOTHS, *, titled: bool = True
) -> FramedPicture:
    """Picture of a section through the layers and its labels, before they are put together.

    Parameters
    ----------
    done : Rehearsed
    em : float
        Size of letters, mm; layers are so many times as thick.
    cloths : mapping of name to Cloth
    titled : bool
        Whether titles are written on the layers where there is room; else every layer has a
        label.

    Returns
    -------
    FramedPicture
        White hollows turn out or open in the end, tinted ones are hidden; of
        every sheet the right side is dark, and a fold is a round end.
    """
    done, line = _faced(done), section_line(done)
    laid = runs(done, line)
    stitches = tuple(crossings(done, line, laid))
    cut = SectionCut(
        done=done,
        line=line,
        laid=laid,
        stitches=stitches,
        named=tuple(_seam_places(done, line, stitches)),
        name="finished-section",
        title="section through the layers",
        how="As it lies in the hoop when the last line is sewn",
        above="front of the hoop",
        tones=_tones(done, cloths),
    )
    return _sheet_of(cut, em, titled=titled)


def turned_section_sheet(
    thing: FinishedThing, em: float, cloths: Cloths = NO_CLOTHS, *, titled: bool = True
) -> FramedPicture | None:
    """Picture of a section through the finished thing, open and flat; None if it is not turned.

    Parameters
    ----------
    thing : FinishedThing
    em, cloths, titled
        As for `section_sheet`.
    """
    if not thing.done.turned:
        return None
    line = _across_all(thing)
    laid = turned_runs(thing, line)
    stitches = tuple(turned_crossings(thing, line, laid))
    sides = ("outside", "inside") if thing.project.finish.folds else ("front", "back")
    above = sides[0] if thing.outer is Side.FRONT else sides[1]
    # No tape over its edge is drawn in a section.
    bare = ", without the tape over its edge" if any(tapes(thing.project)) else ""
    cut = SectionCut(
        done=_faced(thing.done),
        line=line,
        laid=laid,
        stitches=stitches,
        named=tuple((one.at, _closed_by(thing, line, one.at)) for one in stitches if one.seam),
        name="finished-turned-section",
        title="section through the finished thing",
        how=f"Turned out, open and flat{bare}, its allowances left out",
        above=above,
        tones=_tones(thing.done, cloths),
    )
    return _sheet_of(cut, em, titled=titled)


def _across_all(thing: FinishedThing) -> shapely.LineString:
    """The line of the section, from where it meets the finished thing to where it leaves it."""
    line = section_line(thing.done)
    whole = shapely.union_all([ply.area for ply in thing.plies])
    start, end = shapely.get_coordinates(line)
    along = (end - start) / line.length
    met = shapely.get_coordinates(line_through(line) & whole)
    reach = (met - start) @ along if len(met) else np.array((0.0, line.length))
    return shapely.LineString([start + reach.min() * along, start + reach.max() * along])


def _closed_by(thing: FinishedThing, line: shapely.LineString, at: float) -> str:
    """What holds the edge together where the section crosses it."""
    near = line.interpolate(at).buffer(turn_of_cloth(thing.project) + 0.5)
    there = [gap for gap in thing.done.plane.gaps if near.intersects(gap)]
    if any(is_open_edge(thing.project.seam, gap) for gap in there):
        return "open edge"
    return "turning gap, closed" if there else "seam"


def _sheet_of(cut: SectionCut, em: float, *, titled: bool) -> FramedPicture:
    project, line, laid = cut.done.project, cut.line, cut.laid
    length = float(line.length)
    top = _height(max((run.level for run in laid), default=0) + 1, em)
    written, labels = _titles(cut, em, titled=titled)
    ends = _ends(line)
    picture: tuple[DrawnItem, ...] = (
        Group("hollows", tuple(_hollows(cut, em))),
        Group("sheets", tuple(_sheets(cut, em))),
        Group("stitches", tuple(_stitches(cut.stitches, em))),
        Group("seam", tuple(_seam(cut, top - 0.6 * em, em))),
        Group("titles", written),
        Text((0.0, 1.5 * em), ends[0], em),
        Text((length, 1.5 * em), ends[1], em, Anchor.END),
    )
    texts = [item.box for item in flat(picture) if isinstance(item, Text)]
    view = around([Box(0.0, top - 1.6 * em, length, 1.8 * em), *texts])
    named = [cut.done.sandwich.sheets[run.sheet].title for run in laid]
    # The line runs on past what is cut; a person can measure no more than the layers.
    across = max(run.end for run in laid) - min(run.start for run in laid) if laid else 0.0
    told = unbroken(show_both(across, project.unit))
    where = f"From {ends[0]} (left) to {ends[1]} (right), {told}."
    return FramedPicture(
        name=cut.name,
        title=f"{project.title}: {cut.title}",
        description=spaced(
            f"{where} {cut.how}. "
            f"Layers from the back: {', '.join(dict.fromkeys(named))}. "
            f"Stitches: {', '.join(dict.fromkeys(one.title for one in cut.stitches))}."
        ),
        heading=(
            TextLine(f"{project.title}: {cut.title}", bold=True),
            TextLine(f"{cut.how}, the {cut.above.removesuffix(' of the hoop')} above."),
            TextLine(f"{where} Lengths are true, thicknesses are not."),
        ),
        above=cut.above,
        view=view,
        picture=picture,
        legend=entries_for(picture, unit=project.unit),
        letters=em,
        labels=labels,
        column=bool(labels),
    )


def _faced(done: Rehearsed) -> Rehearsed:
    """The same, but batting and the like have no right side to show."""
    layers = tuple(layers_of(done.project))
    sheets = tuple(
        replace(sheet, front=False, back=False)
        if face_seen(layers[sheet.layer], Side.FRONT) is None
        else sheet
        for sheet in done.sandwich.sheets
    )
    return replace(done, sandwich=replace(done.sandwich, sheets=sheets))


def _tones(done: Rehearsed, cloths: Cloths) -> tuple[Tone | None, ...]:
    """What each sheet's fabric is told by."""
    layers, tones = tuple(layers_of(done.project)), tones_of(done.project, cloths)
    laid = [layers[sheet.layer] for sheet in done.sandwich.sheets]
    return tuple(None if layer.slit else tones[layer.fabric] for layer in laid)


def _height(level: int, em: float) -> float:
    """Where the back face of a level lies: y goes down, levels go up."""
    return -level * _PITCH * em


def _ends(line: shapely.LineString) -> tuple[str, str]:
    (ax, ay), (bx, by) = shapely.get_coordinates(line)[[0, -1]]
    names = ("top", "bottom") if abs(by - ay) >= abs(bx - ax) else ("left", "right")
    return names if (by - ay if names[0] == "top" else bx - ax) > 0 else (names[1], names[0])


# --- Sheets and their folds --------------------------------------------------------------


def _sheets(cut: SectionCut, em: float) -> Iterator[DrawnItem]:
    joined = _joined(cut)
    rounded = {(id(run), one.end): one.out(em) for one in joined for run in (one.behind, one.front)}
    for run in cut.laid:
        sheet = cut.done.sandwich.sheets[run.sheet]
        start, end = (
            at + sign * rounded.get((id(run), place), 0.0)
            for place, at, sign in ((0, run.start, 1), (1, run.end, -1))
        )
        low = _height(run.level, em)
        name = f"sheet-{run.sheet + 1}-{run.level}-{round(run.start)}"
        box = Box(start, low - _THICK * em, end, low)
        faces = run.right_sides(sheet)
        raw = [end for end in (0, 1) if run.folded[end] and (id(run), end) not in rounded]
        if sheet.leaf is Leaf.HEM and sheet.plies > 1 and raw:
            shapes = _turned_in(cut.tones[run.sheet], box, raw[0], any(faces), em)
        else:
            shapes = sheet_across(cut.tones[run.sheet], *faces, box, _FACE * em)
        yield Group(name, tuple(shapes), sheet.title)
    for one in joined:
        yield from _fold(cut, one, em)


@dataclass(frozen=True)
class _Joined:
    """Two sheets of a layer that a fold joins.

    Parameters
    ----------
    behind, front : SheetInSection
    end : int
        0 if they are joined at their start, 1 at their end.
    """

    behind: SheetInSection
    front: SheetInSection
    end: int

    @property
    def outer(self) -> float:
        """Radius of the fold outside, in ems."""
        return ((self.front.level - self.behind.level) * _PITCH + _THICK) / 2

    def out(self, em: float) -> float:
        """How much of the sheets' length it takes, mm: of a short one only a part."""
        shorter = min(run.end - run.start for run in (self.behind, self.front))
        return min(self.outer * em, _OF_SHORT * shorter)


def _joined(cut: SectionCut) -> list[_Joined]:
    """Leaves of folded layers that lie on each other, and hems with what they are turned in on."""
    sheets = cut.done.sandwich.sheets
    return [
        _Joined(behind, front, end)
        for behind in cut.laid
        for front in cut.laid
        if behind.level < front.level
        if sheets[front.sheet].layer == sheets[behind.sheet].layer
        if {sheets[one.sheet].leaf for one in (behind, front)} in ({"back", "front"}, {"hem", ""})
        for end in (0, 1)
        if behind.folded[end] and front.folded[end]
        if abs((behind.end, behind.start)[end == 0] - (front.end, front.start)[end == 0]) < TOUCH
    ]


def _fold(cut: SectionCut, one: _Joined, em: float) -> Iterator[Shape]:
    """Draw the round end of two sheets, its outer or its inner face dark."""
    outer, inner = one.outer, one.outer - _THICK
    out = one.out(em)
    at = (one.behind.start + out) if one.end == 0 else (one.behind.end - out)
    middle = (at, _height(one.behind.level, em) - outer * em)
    faces = one.front.right_sides(cut.done.sandwich.sheets[one.front.sheet])
    tone = cut.tones[one.front.sheet]
    radii = inner * em, outer * em
    yield from fold_across(tone, middle, radii, one.end, faces, _FACE * em, out)


def _turned_in(tone: Tone | None, box: Box, end: int, right: bool, em: float) -> Iterator[Shape]:
    """A hem turned twice, cut across: its raw edge lies inside, folded in at one end.

    Parameters
    ----------
    tone : Tone or None
    box : Box
    end : int
        At which it is folded in.
    right : bool
        Whether its right side is outside, that of what is turned in as well.
    em : float
    """
    half, face = box.height / 2, _FACE * em
    out = min(half, _OF_SHORT * box.width)
    start, stop = (box.left + out, box.right) if end == 0 else (box.left, box.right - out)
    middle = (box.top + box.bottom) / 2
    yield from sheet_across(tone, right, False, Box(start, box.top, stop, middle), face)
    yield from sheet_across(tone, False, right, Box(start, middle, stop, box.bottom), face)
    centre = (start if end == 0 else stop, middle)
    yield from fold_across(tone, centre, (0.0, half), end, (right, False), face, out)


# --- Hollows and stitches ----------------------------------------------------------------


def _hollows(cut: SectionCut, em: float) -> Iterator[Shape]:
    """Draw the spaces between sheets within the seam line, by what becomes of them."""
    plane = cut.done.plane
    for face, area in enumerate(plane.areas):
        if not plane.within[face]:
            continue
        for start, end in intervals(cut.line, area):
            middle = (start + end) / 2
            here = [run for run in cut.laid if not run.swung and run.start < middle < run.end]
            for under, over in pairwise(sorted(here, key=lambda run: run.level)):
                style = Style.OUTSIDE if _opens(cut, face, under, over) else Style.HIDDEN_INSIDE
                low = _height(under.level, em) - _THICK * em
                high = _height(over.level, em)
                left, right = max(start, under.start, over.start), min(end, under.end, over.end)
                # Under a fold the sheet is drawn shorter than it is.
                yield Shape(rectangle(Box(left, high, right, low)), style)


def _opens(cut: SectionCut, face: int, under: SheetInSection, over: SheetInSection) -> bool:
    """Whether what lies between two sheets turns out or opens in the end.

    Sheets that turning has brought together have the hidden inside between them, or the one that an
    opening or, where it is turned through that alone, a zip leads to.
    """
    done, stack = cut.done, cut.done.plane.stack(face)
    if under.sheet not in stack or over.sheet not in stack:
        return False
    if (under.sheet, over.sheet) == (stack[-1], stack[0]):
        return done.looked_into
    place = stack.index(under.sheet) + 1
    if place >= len(stack) or stack[place] != over.sheet:
        return done.through_zip
    return done.in_sight(int(done.spaces.first[face]) + place)


def _stitches(stitches: Sequence[Crossing], em: float) -> Iterator[DrawnItem]:
    for one in stitches:
        low = _height(one.low, em) + _OUT * em
        high = _height(one.high, em) - (_THICK + _OUT) * em
        yield Shape(straight((one.at, low), (one.at, high)), Style.CROSSING)


def _seam_places(
    done: Rehearsed, line: shapely.LineString, stitches: Sequence[Crossing]
) -> Iterator[tuple[float, str]]:
    """Where the section crosses the seam line, and the turning gap where that is open."""
    start = shapely.Point(shapely.get_coordinates(line)[0])
    for at in sorted(_meets(line, start, done.project.seam.line)):
        sewn = any(one.seam and abs(one.at - at) < _ON_LINE for one in stitches)
        stays = any(is_open_edge(done.project.seam, gap) for gap in done.plane.gaps)
        yield at, "seam" if sewn else "open edge" if stays else "turning gap"


def _seam(cut: SectionCut, y: float, em: float) -> Iterator[DrawnItem]:
    """Write over the places that are named, each with a line down to its stitches."""
    named: list[Text] = []
    for at, words in cut.named:
        sewn = [one for one in cut.stitches if one.seam and abs(one.at - at) < 1.0]
        text = Text((at, y), words, em, Anchor.MIDDLE)
        if any(text.box.overlaps(other.box) for other in named):
            continue
        named.append(text)
        high = _height(max((one.high for one in sewn), default=-1), em) - (_THICK + _OUT) * em
        if high > y + em or not sewn:
            yield Shape(straight((at, y + 0.3 * em), (at, high)), Style.LEADER)
    yield from named


# --- Titles ------------------------------------------------------------------------------


def _titles(
    cut: SectionCut, em: float, *, titled: bool
) -> tuple[tuple[DrawnItem, ...], tuple[Label, ...]]:
    """Write each layer's title on it where there is room between stitches, or beside it.

    The pattern of its fabric is left out under it.
    """
    done, longest = cut.done, dict[tuple[int, bool], SheetInSection]()
    for run in cut.laid:
        sheet = done.sandwich.sheets[run.sheet]
        key = (sheet.layer, sheet.leaf == "lower")
        known = longest.get(key)
        if known is None or run.end - run.start >= known.end - known.start:
            longest[key] = run
    written: dict[str, list[Text]] = {}
    labels: dict[str, Label] = {}
    tones: dict[str, Tone | None] = {}
    for run in longest.values():
        sheet = done.sandwich.sheets[run.sheet]
        title = f"{sheet.title}, {sheet.plies} layers" if sheet.plies > 1 else sheet.title
        # In the middle of what the right side leaves.
        middle = _height(run.level, em) - _THICK / 2 * em
        above, below = run.right_sides(sheet)
        middle += (above - below) * _FACE / 2 * em
        across = [one.at for one in cut.stitches if one.low <= run.level <= one.high]
        spot = _free(run, across, text_width(title, 0.85 * em) + em, _OUTER * em)
        if not titled:
            at = ((run.start + run.end) / 2 if spot is None else spot, middle)
            labels.setdefault(title, Label(at, (TextLine(title, bold=True),)))
        elif spot is not None:
            text = Text((spot, middle + 0.3 * em), title, 0.85 * em, Anchor.MIDDLE)
            written.setdefault(title, []).append(text)
            tones[title] = cut.tones[run.sheet]
        else:
            # Its line then runs clear of the titles of its level, which are on the front leaf.
            behind = _PITCH * em if sheet.leaf is Leaf.FRONT else 0.0
            at = ((run.start + run.end) / 2, middle + behind)
            labels.setdefault(title, Label(at, (TextLine(title, bold=True),)))
    beside = {title: label for title, label in labels.items() if title not in written}
    while crossed := _under_a_line(written, beside):
        at = written.pop(crossed)[0].at
        beside[crossed] = Label((at[0], at[1] - 0.3 * em), (TextLine(crossed, bold=True),))
    items: list[DrawnItem] = []
    for title, texts in written.items():
        for text in texts:
            items += [*_ground(text, tones[title]), text]
    return tuple(items), tuple(beside.values())


def _ground(text: Text, tone: Tone | None) -> Iterator[Shape]:
    """A plain ground for a title on a sheet; the tape of a zip is plain as it is."""
    if tone is not None:
        middle, half = text.at[1] - 0.3 / 0.85 * text.size, 0.5 * text.size
        box = Box(text.box.left, middle - half, text.box.right, middle + half)
        yield Shape(rectangle(box), Style.TITLE_GROUND, tone=tone)


def _under_a_line(written: Mapping[str, Sequence[Text]], beside: Mapping[str, Label]) -> str | None:
    """A title that the line of a label to its left would run through; None if there is none."""
    for title, texts in written.items():
        for box in (text.box for text in texts):
            for x, y in (label.at for label in beside.values()):
                if x < box.left and box.top < y < box.bottom:
                    return title
    return None


def _free(
    run: SheetInSection, across: Sequence[float], width: float, rounded: float
) -> float | None:
    """Middle of the widest room between stitches on a run; None if it is less than asked."""
    start = run.start + (rounded if run.folded[0] else 0.0)
    end = run.end - (rounded if run.folded[1] else 0.0)
    bounds = [start, *sorted(at for at in across if start < at < end), end]
    low, high = max(pairwise(bounds), key=lambda gap: gap[1] - gap[0])
    return (low + high) / 2 if high - low >= width else None
