"""The picture of the whole project in its hoop."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from paramgen.drawings.front_end.framed_picture import FramedPicture, composed, letters_for
from paramgen.drawings.front_end.legend import LegendEntry, entries_for
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.front_end.thread_styles import stitched_style
from paramgen.drawings.front_end.work_in_hoop import stop_colour
from paramgen.drawings.primitives.drawn_paths import rectangle, straight
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Group, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine, listed
from paramgen.drawings.primitives.symbols import badge, badge_radius
from paramgen.lengths import show_both, show_size_both, unbroken
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import FloatArray, IntArray, Path, Point
from paramgen.vocabulary.project import Line, Project, Step

# A number is looked for at so many places along its line, then so many rings away from it.
_PLACES, _DIRECTIONS = 48, 12
_RINGS = (1.6, 2.6, 4.0, 6.0, 9.0, 13.0, 18.0, 24.0)
# Rows of points are numbered so far apart, mm: farther than anything in a hoop.
_APART = 1e5
# Of copies that are alike only so many have numbers as take no more of the picture than this.
_MOST_TAKEN = 1 / 16


def whole(hooped: Scene) -> Drawing:
    """Draw every stitched line of a project in its hoop, with the number of its stop.

    Parameters
    ----------
    hooped : Scene

    Returns
    -------
    Drawing
        Named `whole`.
    """
    return composed(whole_sheet(hooped, letters_for(hooped.whole_view)))


def whole_sheet(hooped: Scene, em: float) -> FramedPicture:
    """Picture of every stitched line, before what goes round it is put to it.

    Parameters
    ----------
    hooped : Scene
    em : float
        Size of its numbers, mm.
    """
    project, view = hooped.project, hooped.whole_view
    outlines = [
        Shape(layer.outline, Style.PIECE_OUTLINE) for step in project.steps for layer in step.layers
    ]
    stops = [step for step in project.steps if step.lines]
    gap = Group("gap", tuple(Shape(one, Style.GAP) for one in hooped.every_gap), "Turning gap")
    picture: tuple[DrawnItem, ...] = (
        Shape(rectangle(hooped.field), Style.HOOP_FIELD),
        Group("pieces", tuple(outlines), "Outlines of the pieces"),
        *(Group(f"stop-{step.stop}", tuple(_lines(step)), step.title) for step in stops),
        # Other lines run along it.
        gap,
        Group("numbers", tuple(_numbers(hooped, em)), "Numbers of the stops"),
    )
    finished = show_size_both(*project.finished, project.unit, depth=project.depth)
    turned = " It lies turned by 90° in the hoop." if project.turned else ""
    turned = f" {project.copies} copies{_sheets(project)}." if project.copies > 1 else turned
    turned += f" {said}" if (said := numbered_words(hooped, em)) else ""
    lines = "; ".join(f"stop {step.stop}, {what_is_stitched(step)}" for step in stops)
    left_open = gap_words(hooped)
    end = f" {left_open}." if left_open else ""
    return FramedPicture(
        name="whole",
        title=f"{project.title}: every stitched line",
        description=f"Finished size {finished}. {hooped.hoop_caption}.{turned} {lines}.{end}",
        heading=(
            TextLine(project.title, bold=True),
            TextLine(f"Finished size {finished}.{turned}"),
            TextLine(f"{hooped.hoop_caption}. Seen from the front."),
        ),
        above="top, away from you",
        view=view,
        picture=picture,
        legend=(
            *(
                LegendEntry(
                    style=Style.STITCHED_NOW,
                    caption=what_is_stitched(step),
                    now=True,
                    colour=stop_colour(step),
                    number=step.stop,
                )
                for step in stops
            ),
            *entries_for((*picture[:2], gap), {Style.GAP: left_open}, hooped.project.unit),
        ),
        letters=em,
    )


def _sheets(project: Project) -> str:
    """Say which pieces are one sheet over all copies."""
    laid = dict.fromkeys(s.title for step in project.steps for s in step.layers if s.shares)
    if not laid:
        return ""
    each = "one sheet" if len(laid) == 1 else "one sheet each"
    return f", {each} for {listed(list(laid))}"


def what_is_stitched(step: Step) -> str:
    """Title of a step that stitches, and of each of its lines if it has several."""
    titles = list(dict.fromkeys(line.title for line in step.lines))
    return f"{step.title}: {'; '.join(titles)}" if len(titles) > 1 else step.title


def gap_words(hooped: Scene) -> str:
    """Say that a part of the seam is left open, and how long it is; empty if none is."""
    lengths = dict.fromkeys(
        unbroken(show_both(gap.length, hooped.project.unit)) for gap in hooped.gaps
    )
    return f"{hooped.gap_called}: {listed(list(lengths))}" if lengths else ""


def _lines(step: Step) -> Iterator[Shape]:
    for line in step.lines:
        for path in line.paths:
            style = stitched_style(line, now=True)
            yield Shape(path, style, now=True, colour=stop_colour(step))


def numbered_words(hooped: Scene, em: float) -> str:
    """Say on how many of several copies the stops are numbered; empty if on all.

    Parameters
    ----------
    hooped : Scene
    em : float
        Size of the numbers, mm.
    """
    many, copies = len(_numbered(hooped, em)), hooped.project.copies
    if many == copies:
        return ""
    return f"Stops are numbered on {many} of the {copies} copies; the others are alike."


def _numbered(hooped: Scene, em: float) -> tuple[int, ...]:
    """The copies that have numbers: all, or some of them evenly where all would hide the lines."""
    project, view = hooped.project, hooped.whole_view
    radii = [badge_radius(str(s.stop), em) for s in project.steps for _ in s.lines]
    share = sum(math.pi * one**2 for one in radii) / (view.width * view.height)
    copies = max(1, project.copies)
    many = copies if share <= _MOST_TAKEN else max(1, int(copies * _MOST_TAKEN / share))
    return tuple(place * copies // many for place in range(many))


def _to_number(step: Step, numbered: Sequence[int], copies: int) -> Iterator[Line]:
    """Lines of a step that have a number: those of the copies that do, where each has its own."""
    each, rest = divmod(len(step.lines), copies)
    if rest:
        yield from step.lines
        return
    for one in numbered:
        yield from step.lines[one * each : (one + 1) * each]


def _numbers(hooped: Scene, em: float) -> Iterator[DrawnItem]:
    """Put each line's number on it where it is clear of other numbers and lines, or beside it."""
    project, view = hooped.project, hooped.whole_view
    numbered, copies = _numbered(hooped, em), max(1, project.copies)
    lines = [(step, line) for step in project.steps for line in step.lines if line.paths]
    wanted = {id(one) for s in project.steps for one in _to_number(s, numbered, copies)}
    spots = [np.vstack([_spots(path) for path in line.paths]) for _, line in lines]
    taken: list[tuple[float, float, float]] = []
    for place, (step, line) in enumerate(lines):
        if id(line) not in wanted:
            continue
        words = str(step.stop)
        radius = badge_radius(words, em)
        others = np.vstack([np.empty((0, 2)), *spots[:place], *spots[place + 1 :]])
        found = _place(spots[place], others, taken, radius, view)
        if found is not None:
            at, spot = found
            taken.append((*at, radius))
            if at != spot:
                yield Shape(straight(spot, at), Style.LEADER)
            yield from badge(at, words, em, stop_colour(step))


def _spots(path: Path) -> FloatArray:
    """Points evenly along a path, none nearer than a millimetre to the next."""
    ring = np.vstack([path.points, path.points[:1]]) if path.closed else path.points
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))])
    count = max(2, min(_PLACES, math.ceil(along[-1])))
    at = (np.arange(count) + 0.5) / count * along[-1]
    return np.stack([np.interp(at, along, ring[:, 0]), np.interp(at, along, ring[:, 1])], axis=1)


def _place(
    own: FloatArray,
    others: FloatArray,
    taken: Sequence[tuple[float, float, float]],
    radius: float,
    view: Box,
) -> tuple[Point, Point] | None:
    """Find where a number goes and the point of its line that it is for."""
    angles = np.arange(_DIRECTIONS) * (2 * np.pi / _DIRECTIONS)
    rays = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    for ring in (0.0, *_RINGS):
        steps = rays * ring * radius if ring else np.zeros((1, 2))
        spots = np.repeat(own, len(steps), axis=0)
        places = spots + np.tile(steps, (len(own), 1))
        free = (
            (places[:, 0] >= view.left + radius)
            & (places[:, 0] <= view.right - radius)
            & (places[:, 1] >= view.top + radius)
            & (places[:, 1] <= view.bottom - radius)
        )
        for x, y, other in taken:
            free &= np.hypot(places[:, 0] - x, places[:, 1] - y) > 1.1 * (radius + other)
        if free.any():
            spots, places = spots[free], places[free]
            best = int(np.argmin(_crowding(places, others, radius)))
            (x, y), (sx, sy) = places[best].tolist(), spots[best].tolist()
            return (x, y), (sx, sy)
    return None


def _crowding(places: FloatArray, others: FloatArray, radius: float) -> IntArray:
    """How many points of other lines a number would hide, at each place."""
    reach = 1.4 * radius
    wide = 1.01 * reach
    # Row by row, and in each from left to right, those that a place may hide follow each other.
    along = others[:, 0] + _APART * np.floor(others[:, 1] / wide)
    order = np.argsort(along)
    along = along[order]
    lefts, tops = np.ascontiguousarray(others[order].T)
    rows = np.floor(places[:, 1:] / wide) + np.array([-1.0, 0.0, 1.0])
    middle = (places[:, :1] + _APART * rows).ravel()
    first = np.searchsorted(along, middle - wide)
    count = np.searchsorted(along, middle + wide) - first
    place = np.repeat(np.arange(len(middle)) // 3, count)
    other = np.arange(count.sum()) + np.repeat(first - (np.cumsum(count) - count), count)
    across, down = places[place, 0] - lefts[other], places[place, 1] - tops[other]
    near = across * across + down * down < reach**2
    return np.bincount(place[near], minlength=len(places))
