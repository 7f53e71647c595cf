"""The lines to stitch: along outlines less their gaps, runs along edges, free paths.

Outlines run clockwise, and so do lines along them: their outside is at the left.

So it is whatever gaps have left of them, and no move or turn of the project changes that.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import shapely

from paramgen.budget import MILLIMETRES, POINTS, POINTS_COMPARED, up_to
from paramgen.geometry import along_path
from paramgen.geometry.outlines import ShapeError
from paramgen.layout.name_scope import NamedValues, as_named, ending, holds, label
from paramgen.layout.outline_shapes import Shapes, find, route
from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.language import EdgeGap, FlatGap, LineTable, RunAlong
from paramgen.recipe.terms import Reference
from paramgen.sizing import Sized, repeats
from paramgen.vocabulary.facts import Clause, Mm, Term
from paramgen.vocabulary.kinds import Role, StitchKind
from paramgen.vocabulary.path import CHORD_ERROR, FloatArray, Path, path
from paramgen.vocabulary.project import Line, Stitch

#: How a line is sewn unless the recipe says otherwise, and which length it takes.
#: Common practice, no source.
STITCH_OF_ROLE = {
    Role.PLACEMENT: (StitchKind.RUN, "placement_stitch"),
    Role.TACK_DOWN: (StitchKind.RUN, "tack_down_stitch"),
    Role.BASTING: (StitchKind.BASTING, "basting_stitch"),
    Role.SEAM: (StitchKind.SEAM, "seam_stitch"),
    Role.OVERCAST: (StitchKind.ZIGZAG, "seam_stitch"),
    Role.TOP_STITCH: (StitchKind.TRIPLE, "top_stitch"),
}

#: Advance of a zigzag from side to side, mm; common practice, no source.
ZIGZAG_SPACING = 1.2

#: Least a turning gap keeps from a corner, mm (from memory).
CLEAR_OF_CORNERS = 10.0

#: A free path is asked for its outside every so far along it, and so far to its sides, mm.
_EVERY = 1.0
_ASIDE = 0.1

#: What it takes to cut a line by an outline, however small both are, in points.
_AN_AREA = 2_000


def lines(sized: Sized, shapes: Shapes, chord_error: float = CHORD_ERROR) -> dict[str, Line]:
    """Every line there is to stitch, by name, in the recipe's order.

    Raises
    ------
    ShapeError
        If a line or its gap cannot be drawn; the text names the line.
    """
    made: dict[str, Line] = {}
    seam = ending(sized.recipe.file, sized.names).seam
    points, compared, millimetres = 0, 0, 0.0
    for name, table in sized.recipe.file.lines.items():
        for index, names in repeats(table.repeat, sized.names):
            if holds(table.when, names):
                one = label(name, index, names)
                compared += _compared(table, names, shapes)
                POINTS_COMPARED.ask(compared, up_to("lines", one))
                try:
                    stitch, paths = _sewn(table, names, shapes, chord_error, seam)
                except ShapeError as problem:
                    raise ShapeError("of-line", name=as_named(one), why=problem.why) from None
                title = sized.speaker.say(table.title, names, index)
                millimetres += sum(path.length for path in paths)
                MILLIMETRES.ask(millimetres, up_to("lines", one))
                points += sum(len(path.points) for path in paths)
                POINTS.ask(points, up_to("lines", one))
                made[one] = Line(one, title, Role(table.role), stitch, paths)
    return made


def _compared(table: LineTable, names: NamedValues, shapes: Shapes) -> int:
    """How many points are looked at to cut a line out of its outline, less gaps and outlines."""
    refs = [ref for ref in (table.along, *(run.of for run in table.run)) if ref]
    outlines = [len(find(ref, names, shapes).points) for ref in refs]
    whole = max(outlines, default=sum(map(len, table.points)))
    regions = [*table.within, *table.clear_of]
    areas = [_AN_AREA + len(find(ref, names, shapes).points) + whole for ref in regions]
    return sum(outlines) + whole * len(table.gaps) + max(1, len(table.points)) * sum(areas)


def _sewn(
    table: LineTable, names: NamedValues, shapes: Shapes, chord_error: float, seam: Reference
) -> tuple[Stitch, tuple[Path, ...]]:
    stitch = _stitch(table, names)
    wholes = tuple(_whole(table, names, shapes, chord_error))
    MILLIMETRES.ask(sum(one.length for one in wholes), Clause("in-one-line"))
    if stitch.outward and table.points:
        turned = _clockwise(wholes, find(seam, names, shapes))
        if not turned and table.swing_to:
            raise ShapeError("no-telling-the-outside")
        stitch = replace(stitch, outward=bool(turned))
        wholes = turned or wholes
    paths = tuple(kept for whole in wholes for kept in _kept(whole, table, names, shapes))
    if not paths:
        raise ShapeError("nothing-to-stitch")
    return stitch, paths


def _stitch(table: LineTable, names: NamedValues) -> Stitch:
    kind, length_name = STITCH_OF_ROLE[Role(table.role)]
    kind = StitchKind(table.stitch) if table.stitch else kind
    length = table.length.number(names) if table.length else float(names[length_name])
    if kind not in (StitchKind.SEAM, StitchKind.ZIGZAG):
        if table.swing_to:
            way = Clause("the-outside" if table.swing_to == "outside" else "both-sides")
            raise ShapeError("does-not-swing", way=way, stitch=as_named(kind))
        return Stitch(kind, length)
    swing = table.swing.number(names) if table.swing else float(names["seam_swing"])
    spacing = table.spacing.number(names) if table.spacing else ZIGZAG_SPACING
    # Swung to both sides it would sew the finished edge narrower, and show there.
    outward = table.swing_to == "outside" if table.swing_to else kind is StitchKind.SEAM
    return Stitch(kind, length, swing, spacing, outward)


def _clockwise(paths: tuple[Path, ...], seam: Path) -> tuple[Path, ...]:
    """Lay free paths clockwise on an outline or round it; none if one of them does not lie so."""
    edge = shapely.get_coordinates(seam.line)
    parts = shapely.linestrings(np.stack([edge[:-1], edge[1:]], axis=1))
    tree = shapely.STRtree(shapely.get_parts(parts))
    shapely.prepare(seam.area)
    turned = []
    for one in paths:
        side = _outside(one, seam, tree)
        if not side:
            return ()
        turned.append(one if side > 0 else Path(one.points[::-1].copy(), one.closed))
    return tuple(turned)


def _outside(one: Path, seam: Path, edge: shapely.STRtree) -> int:
    """Tell on which side of a path an outline is farther: 1 on the left, -1 on the right.

    0 if that is not so all along it: it crosses the outline, or lies inside.
    """
    line = Path(shapely.get_coordinates(one.line.segmentize(_EVERY)), closed=False)
    chords = line.chords / np.hypot(line.chords[:, 0], line.chords[:, 1])[:, None]
    middles = (line.points[1:] + line.points[:-1]) / 2
    aside = _ASIDE * np.stack([chords[:, 1], -chords[:, 0]], axis=1)
    left, right = (_away(middles + by, seam, edge) for by in (aside, -aside))
    lean = left - right
    return int(lean.min() > along_path.SAME) - int(lean.max() < -along_path.SAME)


def _away(places: FloatArray, seam: Path, edge: shapely.STRtree) -> FloatArray:
    """How far places lie outside an outline, mm; 0 within it."""
    nearest, away = edge.query_nearest(
        shapely.points(places), return_distance=True, all_matches=False
    )
    found = np.empty(len(places))
    found[nearest[0]] = away
    found[shapely.contains_xy(seam.area, places[:, 0], places[:, 1])] = 0.0
    return found


def _kept(whole: Path, table: LineTable, names: NamedValues, shapes: Shapes) -> list[Path]:
    kept: list[Path] = [whole]
    if table.within:
        regions = [find(ref, names, shapes) for ref in table.within]
        kept = list(along_path.inside_any(whole, regions))
    for ref in table.clear_of:
        region = find(ref, names, shapes)
        kept = [one for p in kept for one in along_path.inside(p, region, keep_outside=True)]
    return kept


def _whole(
    table: LineTable, names: NamedValues, shapes: Shapes, chord_error: float
) -> Iterator[Path]:
    if table.along:
        outline = find(table.along, names, shapes)
        gaps = [_gap(outline, gap, names) for gap in table.gaps]
        yield from along_path.without(outline, gaps)
    for run in table.run:
        yield run_along(run, names, shapes)
    for spots in table.points:
        first = spots[0]
        if not isinstance(first, list):
            raise ShapeError("starts-with-an-arc")
        yield _open(route(first, spots[1:], names, chord_error))


def straight_through(points: list[list[Formula]], names: NamedValues) -> Path:
    """The open path straight from point to point."""
    return _open(route(points[0], points[1:], names))


def _open(points: FloatArray) -> Path:
    drawn = path(points, closed=False)
    if len(drawn.points) < 2:
        raise ShapeError("points-in-one-place")
    return drawn


def run_along(run: RunAlong, names: NamedValues, shapes: Shapes) -> Path:
    """The path along one straight edge of an outline, less a length at either end."""
    outline = find(run.of, names, shapes)
    start, end = along_path.edge(outline, run.edge)
    less = run.less.number(names) if run.less else 0.0
    if less < 0:
        raise ShapeError("run-longer-than-edge", edge=Term("edge", run.edge), less=Mm(less))
    if end - start <= 2 * less:
        raise ShapeError("nothing-left-of-edge", edge=Term("edge", run.edge))
    return along_path.part(outline, start + less, end - less)


def _gap(outline: Path, gap: EdgeGap | FlatGap, names: NamedValues) -> along_path.Span:
    if isinstance(gap, EdgeGap) and gap.length is None:
        return along_path.edge(outline, gap.edge)
    assert gap.length is not None
    length = gap.length.number(names)
    if length <= 0:
        raise ShapeError("no-gap", length=Mm(length))
    if isinstance(gap, FlatGap):
        clear = gap.clear.number(names) if gap.clear else CLEAR_OF_CORNERS
        if clear < 0:
            raise ShapeError("gap-in-corners", clear=Mm(clear))
        return along_path.flattest(outline, length, clear=clear)
    start, end = along_path.edge(outline, gap.edge)
    middle = (start + end) / 2
    if gap.centre is not None:
        axis = 1 if gap.edge in ("left", "right") else 0
        first, last = (along_path.point_at(outline, at)[axis] for at in (start, end))
        share = (gap.centre.number(names) - first) / (last - first)
        middle = start + share * (end - start)
    low, high = middle - length / 2, middle + length / 2
    if low < start - along_path.SAME or high > end + along_path.SAME:
        raise ShapeError(
            "gap-past-edge", gap=Mm(length), edge=Term("edge", gap.edge), has=Mm(end - start)
        )
    return low, high
