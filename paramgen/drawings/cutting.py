"""What is cut off the work once it is out of the hoop, and what that leaves of a layer."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.outlines import area_within, line_within, lines_of, point_along, straight
from paramgen.geometry.path import FloatArray, Path, Point
from paramgen.layout.project import Act, Layer, Step

#: A cut ends so far from the stitching, mm, or half way where there is less room: close to it
#: and not through it (Apparel: Design, Textiles & Construction, 2012, chapter 26).
CLEAR = 1.5

#: Farthest from one clip to the next along a curve, mm: common practice, every 1/4 to 1/2 in.
APART = 12.0

# Chords of a curve are no longer than this, mm, and turn by more than this, degrees.
_CHORD, _TURNS = 2.0, 1e-3

# Far less than can be seen, mm.
_THREAD = 0.01

# Beyond anything that is cut, mm.
_FAR = 2000.0


@dataclass(frozen=True, eq=False)
class Cut:
    """A corner cut off.

    Parameters
    ----------
    line : Path
        Where it is cut.
    tip : BaseGeometry
        What comes off.
    """

    line: Path
    tip: BaseGeometry


@dataclass(frozen=True, eq=False)
class Cuts:
    """What a step cuts off the work once it is out of the hoop.

    Parameters
    ----------
    before, after : BaseGeometry or None
        What is left of the work when the step begins and when it is done; None if nothing has
        been cut off.
    corners : tuple of Cut
        Corners that are cut off, if the recipe does not mark them itself.
    clips : tuple of Path
        Clips along the curves, if the recipe does not mark them itself.
    """

    before: BaseGeometry | None
    after: BaseGeometry | None
    corners: tuple[Cut, ...] = ()
    clips: tuple[Path, ...] = ()


def cuts_of(
    steps: Sequence[Step], seam: Path, gaps: Sequence[Path], whole: BaseGeometry
) -> tuple[Cuts, ...]:
    """What each step cuts off, in their order.

    Only what is cut after the work is out of the hoop goes through all its layers.

    Parameters
    ----------
    steps : sequence of Step
        All of a project.
    seam : Path
        As finely as it was laid out.
    gaps : sequence of Path
        Parts of the seam line that are left open.
    whole : BaseGeometry
        All that was laid.
    """
    found: list[Cuts] = []
    room: BaseGeometry | None = None
    out = False
    for step in steps:
        before = room
        corners: tuple[Cut, ...] = ()
        clips: tuple[Path, ...] = ()
        if out and step.act is Act.TRIM and step.mark and step.mark[0].closed:
            kept = step.mark[0].area
            room = kept if room is None else room & kept
        if out and step.act is Act.CLIP and not step.mark:
            left = whole if room is None else room
            corners = corner_cuts(seam, left)
            open_runs = shapely.union_all([gap.line for gap in gaps])
            clips = curve_clips(seam, left, open_runs)
            tips = shapely.union_all([cut.tip for cut in corners])
            if not tips.is_empty:
                # A little more comes off, that no thread of the tips stays.
                room = left - tips.buffer(_THREAD, join_style="mitre")
        out = out or step.act is Act.UNHOOP
        found.append(Cuts(before, room, corners, clips))
    return tuple(found)


def trimmed(layer: Layer, room: BaseGeometry) -> tuple[Layer, ...]:
    """Cut a layer to what lies within an area: nothing, one part or several."""
    folds = tuple(part for edge in layer.folded_edges for part in _straight_within(edge, room))
    slit = _straight_within(layer.slit, room) if layer.slit else ()
    return tuple(
        replace(layer, outline=part, folded_edges=folds, slit=slit[0] if slit else None)
        for part in area_within(layer.outline, room)
    )


def corner_cuts(seam: Path, room: BaseGeometry) -> tuple[Cut, ...]:
    """Cut every outer corner of a seam line off diagonally.

    Parameters
    ----------
    seam : Path
        Closed.
    room : BaseGeometry
        The trimmed work.
    """
    return tuple(_corner_cuts(seam, room))


def curve_clips(seam: Path, room: BaseGeometry, keep: BaseGeometry) -> tuple[Path, ...]:
    """Clip the allowance evenly along every curve of a seam line.

    Parameters
    ----------
    seam : Path
        Closed, with chords short enough to be told from straight sides.
    room : BaseGeometry
        The trimmed work.
    keep : BaseGeometry
        Parts of the seam line at which nothing is clipped.
    """
    return tuple(_curve_clips(seam, room, keep))


def _straight_within(
    edge: tuple[Point, Point], room: BaseGeometry
) -> tuple[tuple[Point, Point], ...]:
    ends = [part.points[[0, -1]].tolist() for part in line_within(straight(*edge), room)]
    return tuple(((ax, ay), (bx, by)) for (ax, ay), (bx, by) in ends)


def _corner_cuts(seam: Path, room: BaseGeometry) -> Iterator[Cut]:
    inside, points = seam.area, seam.points
    for place in seam.corners:
        corner = points[place]
        back = _unit(points[place - 1] - corner)
        on = _unit(points[(place + 1) % len(points)] - corner)
        out = -_unit(back + on)
        if inside.contains(shapely.Point(corner + out * 0.1)):
            continue  # it turns inwards: there is nothing to cut off
        clear = _clear(corner, out, room)
        middle, aside = corner + out * clear, np.array((-out[1], out[0])) * _FAR
        far = middle + out * _FAR
        beyond = shapely.Polygon([middle - aside, far - aside, far + aside, middle + aside])
        spot = shapely.Point(corner + out * clear * 1.01)
        for tip in shapely.get_parts(room & beyond):
            if isinstance(tip, shapely.Polygon) and tip.dwithin(spot, 0.1):
                across = shapely.LineString([middle - aside, middle + aside])
                for line in lines_of(room & across):
                    if line.line.dwithin(spot, 0.1):
                        yield Cut(line, tip)


def _curve_clips(seam: Path, room: BaseGeometry, keep: BaseGeometry) -> Iterator[Path]:
    inside = seam.area
    for start, length in _curves(seam):
        count = math.ceil(length / APART)
        for number in range(count):
            at = (start + (number + 0.5) / count * length) % seam.length
            spot, along = point_along(seam, at)
            out = np.array((-along[1], along[0]))
            if inside.contains(shapely.Point(spot + out * 0.1)):
                out = -out
            if keep.dwithin(shapely.Point(spot), 0.5):
                continue
            near = spot + out * _clear(spot, out, room)
            ray = shapely.LineString([near, near + out * _FAR])
            for line in lines_of(room & ray):
                if np.hypot(*(line.points - near).T).min() < 0.1:
                    yield line


def _curves(seam: Path) -> Iterator[tuple[float, float]]:
    """Where along a closed path each curve starts, and how long it is."""
    lengths = np.diff(seam.reach)
    bends = (np.abs(seam.turns) > _TURNS) & ~np.isin(np.arange(len(seam.points)), seam.corners)
    curved = (lengths <= _CHORD) & (bends | np.roll(bends, -1))
    if curved.all():
        yield 0.0, seam.length
        return
    starts = np.flatnonzero(curved & ~np.roll(curved, 1))
    for start in starts.tolist():
        run = 0
        while curved[(start + run) % len(curved)]:
            run += 1
        taken = [(start + step) % len(curved) for step in range(run)]
        yield float(seam.reach[start]), float(lengths[taken].sum())


def _clear(spot: FloatArray, out: FloatArray, room: BaseGeometry) -> float:
    """How far from the stitching a cut ends."""
    ray = shapely.LineString([spot, spot + out * _FAR]) & room
    parts = [part for part in shapely.get_parts(ray) if part.dwithin(shapely.Point(spot), 0.1)]
    return min(CLEAR, parts[0].length / 2) if parts else 0.0


def _unit(vector: FloatArray) -> FloatArray:
    found: FloatArray = vector / (np.hypot(*vector) or 1.0)
    return found
