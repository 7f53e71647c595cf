"""The lines to stitch: along outlines less their gaps, runs along edges, free paths."""

from collections.abc import Iterator

from paramgen.geometry import along
from paramgen.geometry.outlines import ShapeError
from paramgen.geometry.path import CHORD_ERROR, Path, path
from paramgen.layout.project import Kind, Line, Role, Stitch
from paramgen.layout.scope import Names, holds, label
from paramgen.layout.shapes import Shapes, find, route
from paramgen.recipe.file import EdgeGap, FlatGap, LineTable
from paramgen.sizing import Sized, repeats

#: How a line is sewn unless the recipe says otherwise, and which length it takes.
#: Common practice, no source.
STITCH_OF_ROLE = {
    Role.PLACEMENT: (Kind.RUN, "placement_stitch"),
    Role.TACK_DOWN: (Kind.RUN, "tack_down_stitch"),
    Role.BASTING: (Kind.BASTING, "basting_stitch"),
    Role.SEAM: (Kind.SEAM, "seam_stitch"),
    Role.TOP_STITCH: (Kind.TRIPLE, "top_stitch"),
}

#: Advance of a zigzag from side to side, mm; common practice, no source.
ZIGZAG_SPACING = 1.2

#: Least a turning gap keeps from a corner, mm (from memory).
CLEAR_OF_CORNERS = 10.0


def lines(sized: Sized, shapes: Shapes, chord_error: float = CHORD_ERROR) -> dict[str, Line]:
    """Every line there is to stitch, by name, in the recipe's order.

    Raises
    ------
    ShapeError
        If a line or its gap cannot be drawn; the text names the line.
    """
    made: dict[str, Line] = {}
    for name, table in sized.recipe.file.lines.items():
        for index, names in repeats(table.repeat, sized.names):
            if holds(table.when, names):
                one = label(name, index, names)
                try:
                    paths = tuple(_paths(table, names, shapes, chord_error))
                except ShapeError as problem:
                    raise ShapeError(f"line `{one}`: {problem}") from None
                if not paths:
                    raise ShapeError(f"line `{one}`: nothing is left of it to stitch")
                title = sized.speaker.say(table.title, names, index)
                made[one] = Line(one, title, Role(table.role), _stitch(table, names), paths)
    return made


def _stitch(table: LineTable, names: Names) -> Stitch:
    kind, length_name = STITCH_OF_ROLE[Role(table.role)]
    kind = Kind(table.stitch) if table.stitch else kind
    length = table.length.number(names) if table.length else float(names[length_name])
    if kind not in (Kind.SEAM, Kind.ZIGZAG):
        return Stitch(kind, length)
    swing = table.swing.number(names) if table.swing else float(names["seam_swing"])
    spacing = table.spacing.number(names) if table.spacing else ZIGZAG_SPACING
    return Stitch(kind, length, swing, spacing)


def _paths(table: LineTable, names: Names, shapes: Shapes, chord_error: float) -> Iterator[Path]:
    for whole in _whole(table, names, shapes, chord_error):
        kept: list[Path] = [whole]
        if table.within:
            regions = [find(ref, names, shapes) for ref in table.within]
            kept = [one for region in regions for p in kept for one in along.inside(p, region)]
        for ref in table.clear_of:
            region = find(ref, names, shapes)
            kept = [one for p in kept for one in along.inside(p, region, keep_outside=True)]
        yield from kept


def _whole(table: LineTable, names: Names, shapes: Shapes, chord_error: float) -> Iterator[Path]:
    if table.along:
        outline = find(table.along, names, shapes)
        gaps = [_gap(outline, gap, names) for gap in table.gaps]
        yield from along.without(outline, gaps)
    for run in table.run:
        outline = find(run.of, names, shapes)
        start, end = along.edge(outline, run.edge)
        less = run.less.number(names) if run.less else 0.0
        if end - start <= 2 * less:
            raise ShapeError(f"nothing is left of the {run.edge} edge")
        yield along.part(outline, start + less, end - less)
    for spots in table.points:
        first = spots[0]
        if not isinstance(first, list):
            raise ShapeError("a path starts with a point, not with an arc")
        yield path(route(first, spots[1:], names, chord_error), closed=False)


def _gap(outline: Path, gap: EdgeGap | FlatGap, names: Names) -> along.Span:
    length = gap.length.number(names)
    if length <= 0:
        raise ShapeError(f"a gap of {length:.1f} mm is no gap")
    if isinstance(gap, FlatGap):
        clear = gap.clear.number(names) if gap.clear else CLEAR_OF_CORNERS
        return along.flattest(outline, length, clear=clear)
    start, end = along.edge(outline, gap.edge)
    middle = (start + end) / 2
    if gap.centre is not None:
        axis = 1 if gap.edge in ("left", "right") else 0
        first, last = (along.point_at(outline, at)[axis] for at in (start, end))
        share = (gap.centre.number(names) - first) / (last - first)
        middle = start + share * (end - start)
    low, high = middle - length / 2, middle + length / 2
    if low < start - along.SAME or high > end + along.SAME:
        raise ShapeError(
            f"a gap of {length:.1f} mm does not lie within the {gap.edge} edge of "
            f"{end - start:.1f} mm"
        )
    return low, high
