"""The work out of its hoop and not yet turned: trimmed, clipped, turned through its gap."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_zips import zip_items
from paramgen.drawings.front_end.fitted_hardware import fitted, fitting_labels
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.front_end.trimming import CLEAR, TrimCut, at_gaps, trimmed
from paramgen.drawings.front_end.work_in_hoop import cut_out, layered, zip_opened
from paramgen.drawings.primitives.drawn_paths import (
    lines_of,
    outer_paths,
    point_along,
    rightmost,
    seen,
)
from paramgen.drawings.primitives.hidden_items import uncovered
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.drawings.primitives.symbols import arrow
from paramgen.finished.finished_thing import round_edge
from paramgen.lengths import show_both, unbroken
from paramgen.vocabulary.kinds import Act, FinishWay, Role, Side
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Step

# In ems: how far an arrow through the gap reaches into the work and out of it.
_INTO, _OUT = 5.0, 4.0

# Part of a gap's length at which its label points.
_PART = 0.1

# Two lines as far apart as this all along are parallel, mm; a line that lies so near to an edge for
# so long runs along it.
_EVEN, _RUNS_ALONG = 0.1, 2.0

#: What is sewn along the lines that a step marks.
SEWN_HERE = {
    Act.TOP_STITCH: "top-stitch here",
    Act.BIND: "sew the binding here",
    Act.HAND_SEW: "sew here by hand",
}

_CLOSE = "close to the stitching, not through it"

# What is cut at a point once it is cut off.
_SLIVER = "then a sliver from either side"


def as_sewn(hooped: Scene, step: Step, em: float) -> tuple[DrawnItem, ...]:
    """Paint the work as it is when a step after it was taken out of its hoop is done.

    Parameters
    ----------
    hooped : Scene
    step : Step
        Before it is turned right side out, or any if it never is.
    em : float
        Size of letters, which small things go by, mm.
    """
    side = step.seen_from
    before, after = hooped.cuts(step).before, hooped.cuts(step).after
    waste: tuple[DrawnItem, ...] = ()
    if step.act is Act.TRIM and after is not None:
        waste = (Group("waste", tuple(_waste(hooped, step, em, before)), "Cut away"),)
    room = after if step.act is Act.TRIM else before
    items = (*waste, *layered(hooped, step, em, room), *cut_out(hooped, step, side))
    now = Group("now", tuple(_now(hooped, step, em)), step.title)
    clipped = tuple(
        Shape(seen(clip, side), Style.RAW_EDGE)
        for past in hooped.project.steps[: step.number - 1]
        for clip in hooped.cuts(past).snips
    )
    return uncovered((*items, *clipped, now))


def as_sewn_labels(hooped: Scene, step: Step) -> Iterator[Label]:
    """Say what is done, and where."""
    side, unit = step.seen_from, hooped.project.unit
    if step.act is Act.TEAR:
        lines = [seen(line, side) for line in step.mark or (hooped.project.seam,)]
        words = (TextLine("tear away the stabiliser"), TextLine("up to this line"))
        yield Label(rightmost(lines), words, on_line=True)
    if step.act is Act.TRIM and step.mark:
        marks = [seen(mark, side) for mark in _marked(hooped, step)]
        cut = (TextLine("cut along this line", bold=True), *_beyond(hooped, step))
        yield Label(rightmost(marks), cut, on_line=True)
    if step.act in (Act.CLIP, Act.NOTCH):
        yield from _cut_labels(hooped, step)
    if step.act in SEWN_HERE and step.mark:
        marks = [seen(mark, side) for mark in step.mark]
        yield Label(rightmost(marks), (TextLine(SEWN_HERE[step.act], bold=True),), on_line=True)
    if basting := _basting(hooped, step):
        lines = [seen(line, side) for line in basting]
        pull = TextLine("pull these stitches out", bold=True)
        yield Label(rightmost(lines), (pull,), on_line=True)
    if step.act in (Act.TRIM, Act.TURN):
        for gap in hooped.gaps:
            stays = gap in hooped.open_edges
            if step.act is Act.TRIM and (stays or _apart(hooped, step, gap)):
                continue  # cut along the line, as all round; or cut elsewhere alone
            length = TextLine(unbroken(show_both(gap.length, unit)))
            more = (TextLine("leave this, as the step says"),) if step.act is Act.TRIM else ()
            named = "open edge" if stays else "turning gap"
            said = (TextLine(named, bold=True), length, *more)
            yield Label(gap_point(gap, side), said, on_line=True)
    if step.act is Act.TURN and hooped.opening is not None:
        said = (TextLine("opening", bold=True), TextLine("turn it out between the folds"))
        yield Label(gap_point(hooped.opening, side), said, on_line=True)
    if step.act is Act.FOLD and step.mark:
        marks = [seen(mark, side) for mark in step.mark]
        yield Label(rightmost(marks), (TextLine("fold here"),), on_line=True)
    if step.act is Act.FASTEN:
        yield from fitting_labels(hooped, step, side)
    if step.act is Act.TURN and not hooped.gaps:
        for slit in _slits(hooped):
            words = (TextLine("open zip", bold=True), TextLine("turn the work out through it"))
            yield Label(gap_point(slit, side), words, on_line=True)


def _slits(hooped: Scene) -> tuple[Path, ...]:
    """Where zips open, within the seam line."""
    seam = hooped.project.seam.area
    layers = (layer for step in hooped.project.steps for layer in step.layers if layer.slit)
    lines = (shapely.LineString(layer.slit) & seam for layer in layers)
    return tuple(path for line in lines for path in lines_of(line))


def gap_point(gap: Path, side: Side) -> Point:
    """Where a label leads to a gap: clear of an arrow through its middle."""
    x, y = point_along(gap, _PART * gap.length)[0].tolist()
    return (-x if side is Side.BACK else x), y


def _waste(hooped: Scene, step: Step, em: float, room: BaseGeometry | None) -> Iterator[DrawnItem]:
    """What lies outside the line that is trimmed along, with the pieces' edges."""
    side = step.seen_from
    layers = [
        part
        for past in hooped.project.steps[: step.number]
        for layer in past.layers
        for part in ((layer,) if room is None else trimmed(layer, room))
    ]
    whole = shapely.union_all([layer.outline.area for layer in layers])
    yield from (Shape(seen(one, side), Style.CUT_AWAY) for one in outer_paths(whole))
    for layer in layers:
        if layer.side == side:
            yield Shape(seen(layer.outline, side), Style.RAW_EDGE)
        if layer.slit:
            yield from zip_items(layer, side, em, opened=zip_opened(hooped, step))


def _now(hooped: Scene, step: Step, em: float) -> Iterator[DrawnItem]:
    side = step.seen_from
    if step.act in (Act.CLIP, Act.NOTCH):
        cuts = hooped.cuts(step)
        for cut in (*cuts.off, *cuts.notches):
            yield from (Shape(seen(one, side), Style.CUT_AWAY) for one in outer_paths(cut.tip))
            yield from (Shape(seen(one, side), Style.RAW_EDGE) for one in outer_paths(cut.tip))
        for line in (*(cut.line for cut in cuts.off), *cuts.snips):
            yield Shape(seen(line, side), Style.CUT_LINE, now=True)
        # A heavy line would fill a notch.
        yield from (Shape(seen(cut.line, side), Style.CUT_LINE) for cut in cuts.notches)
    if step.act in (Act.TRIM, Act.CLIP, Act.NOTCH, Act.TURN):
        yield from (Shape(seen(gap, side), Style.GAP) for gap in hooped.gaps)
    if step.act is Act.TURN and not hooped.gaps:
        yield from (Shape(seen(slit, side), Style.GAP) for slit in _slits(hooped))
    if step.act is Act.TURN:
        for gap in hooped.gaps:
            yield from arrow(*across(gap, hooped.project.seam, em, side), em)
        if hooped.opening is not None:
            yield from arrow(*_from_under(hooped, hooped.opening, em, side), em)
    yield from _bound(hooped, step)
    for mark in _marked(hooped, step):
        yield Shape(seen(mark, side), Style.BY_HAND, now=True)
    for line in _basting(hooped, step):
        yield Shape(seen(line, side), Style.BY_HAND, now=True)
    if step.act is Act.FASTEN:
        yield from fitted(hooped, step, side, em)


def _bound(hooped: Scene, step: Step) -> Iterator[Shape]:
    """The binding round the edge, once it has been sewn to one side and is folded to the other."""
    finish, project = hooped.project.finish, hooped.project
    before = any(one.act is Act.BIND for one in project.steps[: step.number - 1])
    if step.act is not Act.BIND or not before or finish.trimmed is None:
        return
    fabric = next(one.fabric for one in project.pieces if one.name == finish.binding)
    ring = round_edge(finish.trimmed.area, finish.covers)
    for one in outer_paths(ring):
        outline = seen(one, step.seen_from)
        yield Shape(outline, Style.RIGHT_SIDE, now=True, tone=hooped.tones.get(fabric))
        yield Shape(outline, Style.FOLDED_EDGE)


def _basting(hooped: Scene, step: Step) -> tuple[Path, ...]:
    """The basting that a step pulls out."""
    if step.act is not Act.PULL_OUT:
        return ()
    lines = (line for line in hooped.project.lines if line.role is Role.BASTING)
    return tuple(path for line in lines for path in line.paths)


def _marked(hooped: Scene, step: Step) -> tuple[Path, ...]:
    """What a step marks; a line to trim along stands out round what is left at the gaps.

    It is drawn only where something is cut off beyond it.
    """
    along = hooped.cuts(step).trimmed_along
    marks = (*along, *step.mark[1:]) if along else step.mark
    if step.act is not Act.TRIM:
        return marks
    before = hooped.cuts(step).before
    if before is not None:
        inside = before.buffer(-_EVEN)
        return tuple(part for mark in marks for part in lines_of(mark.line & inside))
    edge = hooped.whole.boundary.buffer(_EVEN)
    return tuple(part for mark in marks for part in _cutting(mark, edge))


def _apart(hooped: Scene, step: Step, gap: Path) -> bool:
    """Whether nothing is cut off beside what is left at a gap: that was trimmed before."""
    before, after = hooped.cuts(step).before, hooped.cuts(step).after
    if before is None or after is None:
        return False
    left = at_gaps(hooped.course, (gap,), before)
    return not (before - after).dwithin(left, _EVEN)


def _cutting(mark: Path, edge: BaseGeometry) -> tuple[Path, ...]:
    """A line without what of it runs along the edge of all that lies there."""
    along = shapely.get_parts(shapely.line_merge(mark.line & edge))
    runs = [part.buffer(_EVEN / 2) for part in along if part.length > _RUNS_ALONG]
    return lines_of(mark.line - shapely.union_all(runs)) if runs else (mark,)


def across(
    gap: Path, seam: Path, em: float, side: Side, into: float = _INTO, out: float = _OUT
) -> tuple[Point, Point]:
    """Ends of an arrow through the middle of a gap, from within the seam to outside it."""
    inside = seam.area
    spot, along = point_along(gap, gap.length / 2)
    way = np.array((-along[1], along[0]))
    if inside.contains(shapely.Point(spot + way * 0.5)):
        way = -way
    ends = seen(Path(np.array([spot - way * into * em, spot + way * out * em]), False), side)
    (ax, ay), (bx, by) = ends.points.tolist()
    return (ax, ay), (bx, by)


def _from_under(hooped: Scene, fold: Path, em: float, side: Side) -> tuple[Point, Point]:
    """Ends of an arrow out from under a fold: from the side where its piece lies."""
    layers = [layer for step in hooped.project.steps for layer in step.layers]
    own = next(
        layer.outline
        for layer in reversed(layers)
        if layer.piece in hooped.project.finish.closing and layer.outline.line.dwithin(fold.line, 1)
    )
    return across(fold, own, em, side)


def _cut_labels(hooped: Scene, step: Step) -> Iterator[Label]:
    """Say what is cut off the corners, cut out of the curves and snipped, and how close."""
    side, cuts = step.seen_from, hooped.cuts(step)
    if step.mark:
        marks = [seen(mark, side) for mark in step.mark]
        here = TextLine(f"{'clip' if step.act is Act.CLIP else 'notch'} here", bold=True)
        yield Label(rightmost(marks), (here, TextLine(_CLOSE)), on_line=True)
    across = tuple(point.across for point in cuts.points)
    for off, all_of, one, *then in (
        (
            across,
            "cut all {} points off straight across",
            "cut the point off straight across",
            _SLIVER,
        ),
        (cuts.corners, "cut off all {} corners", "cut off the corner"),
        (cuts.notches, "cut out {} notches", "cut out one notch"),
    ):
        if off:
            lines = [seen(cut.line, side) for cut in off]
            many = all_of.replace("all {}", "both") if len(off) == 2 else all_of
            said = TextLine(many.format(len(off)) if len(off) > 1 else one, bold=True)
            more = [TextLine(words) for words in (_how_close(hooped, off), *then)]
            yield Label(rightmost(lines), (said, *more), on_line=True)
    if cuts.snips:
        snips = [seen(snip, side) for snip in cuts.snips]
        times = f"{len(snips)} times" if len(snips) > 1 else "once"
        said = TextLine(f"snip straight in, {times}", bold=True)
        yield Label(rightmost(snips), (said, TextLine(_CLOSE)), on_line=True)


def _how_close(hooped: Scene, cuts: tuple[TrimCut, ...]) -> str:
    """How far cuts stay from the stitching, if there is room for it."""
    if min(cut.clear for cut in cuts) < CLEAR:
        return _CLOSE
    length = unbroken(show_both(CLEAR, hooped.project.unit))
    return f"{length} from the stitching, not through it"


def _beyond(hooped: Scene, step: Step) -> Iterator[TextLine]:
    """How far outside the last line it is cut, if that is the same all along."""
    cut = step.mark[0].line
    seam = hooped.project.seam.line
    away = shapely.distance(cut, seam)
    ends = seam.buffer(away + _EVEN, join_style="mitre")
    if away > 0.0 and ends.covers(cut):
        last = "seam line" if hooped.project.finish.way is FinishWay.TURNED else "last line"
        yield TextLine(f"{unbroken(show_both(away, hooped.project.unit))} outside the {last}")
