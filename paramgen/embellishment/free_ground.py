"""Where on a panel there is room: the panel less the clearances of everything that is there.

Lines may run out into the allowance wherever the seam crosses the panel and it is trimmed, but
for the turning gap, whose edges are folded in. Of what is sewn raw-edged nothing runs out: its last
line is seen, and what runs under it would be cut open at the edge.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.embellishment_kind import FreeGround
from paramgen.embellishment.ground_limits import (
    CLEAR_OF_COIL,
    CLEAR_OF_FINISHED_FOLD,
    CLEAR_OF_FOLD,
    CLEAR_OF_GAP,
    CLEAR_OF_HARDWARE,
    CLEAR_OF_RAW_EDGE,
    CLEAR_OF_SEAM,
    CLEAR_OF_STITCHING,
    CLEAR_OF_TAPE,
    CURVE,
    INSIDE_SEAM,
    RUNS_OUT,
    UNDER_AT_ALL,
)
from paramgen.vocabulary.facts import Clause, facts
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Face, FinishWay, Role, Side
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Layer, Project, Step

#: Farther than anything in a hoop, mm.
_FAR = 6000.0
#: How far the chords of a round lie from its middle at least, as a share of its radius: 16 of them
#: to a quarter.
_ROUND = math.cos(math.pi / 64)
#: Speck that is no ground, mm².
_SPECK = 4.0


@dataclass(frozen=True)
class Obstacle:
    """Something that stitching keeps clear of.

    Parameters
    ----------
    called : Clause
        As findings say it.
    area : BaseGeometry
        Its clearance included.
    """

    called: Clause
    area: BaseGeometry


@dataclass(frozen=True)
class PanelPlace:
    """A panel in the order of the work.

    Parameters
    ----------
    panel : Layer
    laid : int
        Place among the steps of the one that lays it.
    stitched : int
        Place before which its own stitching comes: it lies, is held, and nothing covers it.
    """

    panel: Layer
    laid: int
    stitched: int


@dataclass(frozen=True, eq=False, kw_only=True)
class PanelGround:
    """Where on a panel there is room before anything is stitched on it for its looks.

    Parameters
    ----------
    ground : FreeGround
        With its areas as they are then.
    whole, kept, inner, reach : BaseGeometry
        All of the panel; what is clear of its edges and of obstacles; what is clear of the seam;
        how far lines may run out.
    obstacles : tuple of Obstacle
        What is in the way there.
    """

    ground: FreeGround
    whole: BaseGeometry
    kept: BaseGeometry
    inner: BaseGeometry
    reach: BaseGeometry
    obstacles: tuple[Obstacle, ...]


def panel_ground(project: Project, place: PanelPlace, *, gaps: Sequence[Path] = ()) -> PanelGround:
    """Find where on a panel there is room, and what is in the way there.

    Parameters
    ----------
    project : Project
        As the recipe has it, about its origin.
    place : PanelPlace
    gaps : sequence of Path
        The parts of the seam that are left open for turning.
    """
    panel = place.panel
    whole, seam = _flat(panel.outline), _flat(project.seam)
    seen = whole & seam
    for cover in _covers(project, place):
        seen = seen - cover
    obstacles = _on(whole, _obstacles(project, place))
    edges = _within_edges(panel, whole)
    kept = _clear_of(obstacles, edges)
    inner = seam.buffer(-CLEAR_OF_SEAM, join_style="mitre")
    reach: BaseGeometry = inner
    if project.finish.way is FinishWay.TURNED:
        reach = seam.buffer(RUNS_OUT, join_style="mitre")
        for gap in gaps:
            reach = reach - (gap.line.buffer(CLEAR_OF_GAP + RUNS_OUT) - inner)
    under = under_panel(project, place)
    plies = [panel.ply[1] * panel.plies, *(one.ply[1] * one.plies for one in under)]
    ground = FreeGround(
        panel=panel,
        unit=project.unit,
        seen=seen,
        area=_tidy(kept & inner & seen),
        runs_out=_tidy(kept & reach),
        seam=seam,
        ply=sum(plies),
        padded=_tidy(_padded(project, edges) & seam.buffer(-INSIDE_SEAM)),
        on_batting=any(one.fabric in _batting(project) for one in under),
        sews_through=tuple(dict.fromkeys(one.title for one in under)),
    )
    return PanelGround(
        ground=ground, whole=whole, kept=kept, inner=inner, reach=reach, obstacles=obstacles
    )


def ground_left(
    there: PanelGround, taken: Sequence[BaseGeometry]
) -> tuple[FreeGround, tuple[Obstacle, ...]]:
    """Find where on a panel there is room still, and what is in the way there.

    Parameters
    ----------
    there : PanelGround
    taken : sequence of BaseGeometry
        Where something else is stitched on the panel.
    """
    others = _on(there.whole, _of_taken(taken))
    if not others:
        return there.ground, there.obstacles
    kept = _clear_of(others, there.kept)
    ground = replace(
        there.ground,
        area=_tidy(kept & there.inner & there.ground.seen),
        runs_out=_tidy(kept & there.reach),
    )
    return ground, (*there.obstacles, *others)


def _on(whole: BaseGeometry, obstacles: Iterable[Obstacle]) -> tuple[Obstacle, ...]:
    return tuple(one for one in obstacles if one.area.intersects(whole))


def _clear_of(obstacles: Iterable[Obstacle], area: BaseGeometry) -> BaseGeometry:
    for one in obstacles:
        area = area - one.area
    return area


def under_panel(project: Project, place: PanelPlace) -> tuple[Layer, ...]:
    """What lies under a panel, or behind the stabiliser, when it is stitched; zips left out."""
    area = place.panel.outline.area & project.seam.area
    return tuple(
        layer
        for at, step in enumerate(project.steps[: place.stitched])
        for layer in step.layers
        if layer is not place.panel
        and not layer.slit
        and (at < place.laid or layer.side is Side.BACK)
        and (layer.outline.area & area).area > UNDER_AT_ALL
    )


def _obstacles(project: Project, place: PanelPlace) -> Iterator[Obstacle]:
    coils = {one.name: one.coil or 0.0 for one in project.notions}
    for layer in (layer for step in project.steps for layer in step.layers):
        if layer.slit:
            beside = coils.get(layer.piece, 0.0) / 2 + CLEAR_OF_COIL
            yield Obstacle(Clause("way-zip"), shapely.LineString(layer.slit).buffer(beside))
    for fold in project.finish.folds:
        yield Obstacle(Clause("way-fold"), _through(*fold).buffer(CLEAR_OF_FINISHED_FOLD))
    yield from _hardware(project)
    yield from _stitching(project, place)
    tape = list(_tape_on(project.steps[: place.stitched]))
    if tape:
        yield Obstacle(Clause("way-tape"), shapely.union_all(tape).buffer(CLEAR_OF_TAPE))
    out = next((at for at, one in enumerate(project.steps) if one.act is Act.UNHOOP), 0)
    for step in project.steps[:out]:
        if step.act is Act.TRIM and step.mark:
            holes = shapely.union_all([_flat(mark) for mark in step.mark])
            yield Obstacle(Clause("way-opening"), holes.buffer(CLEAR_OF_RAW_EDGE))


def _hardware(project: Project) -> Iterator[Obstacle]:
    """What is set in, whatever it pierces: pliers and its rim want room on every layer there."""
    for notion in project.notions:
        radius = max((notion.width or 0.0) / 2 + CLEAR_OF_HARDWARE, notion.clearance)
        for spot in (*notion.halves, *notion.at):
            called = Clause("way-notion", facts(notion=notion.called))
            yield Obstacle(called, shapely.Point(spot).buffer(radius / _ROUND, quad_segs=16))


def _stitching(project: Project, place: PanelPlace) -> Iterator[Obstacle]:
    """Lines of the recipe that are seen on the panel."""
    for step in project.steps[place.laid :]:
        if step.act is Act.UNHOOP:
            return
        for line in step.lines:
            if line.role is Role.TOP_STITCH:
                path = shapely.union_all([one.line for one in line.paths])
                near = path.buffer(CLEAR_OF_STITCHING + line.stitch.aside)
                yield Obstacle(Clause("way-line", facts(line=line.called)), near)


def _tape_on(steps: Sequence[Step]) -> Iterator[BaseGeometry]:
    """Strips of tape that are on the front once some steps are done."""
    for at, step in enumerate(steps):
        if step.act is Act.TAPE and step.seen_from is Side.FRONT:
            off = any(later.takes_tape_off(step.taped) for later in steps[at + 1 :])
            if not off:
                yield from (strip.area for strip in step.tape)


def _of_taken(taken: Iterable[BaseGeometry]) -> Iterator[Obstacle]:
    for area in taken:
        yield Obstacle(Clause("way-other"), area.buffer(CLEAR_OF_STITCHING))


def _covers(project: Project, place: PanelPlace) -> Iterator[BaseGeometry]:
    """What lies over a panel for good: no flap, no closing piece."""
    finish = project.finish
    flaps = {*finish.pulled_over, *finish.stands_out, *finish.between}
    for at, step in enumerate(project.steps):
        for layer in step.layers:
            later = at > place.laid and layer.side is Side.FRONT and layer.up is Face.RIGHT
            if later and layer.piece not in flaps and not layer.slit and not layer.clear:
                yield layer.outline.area


def _within_edges(panel: Layer, whole: BaseGeometry) -> BaseGeometry:
    """A panel less what lies beside its edges."""
    kept: BaseGeometry = whole.buffer(-CLEAR_OF_RAW_EDGE, join_style="mitre")
    for edge in panel.folded_edges:
        kept = kept - shapely.LineString(edge).buffer(CLEAR_OF_FOLD, cap_style="square")
    for hem in panel.hems:
        kept = kept - hem.outline.area.buffer(CLEAR_OF_STITCHING, join_style="mitre")
    return kept


def _padded(project: Project, kept: BaseGeometry) -> BaseGeometry:
    """A panel less its edges, and less the tapes of zips."""
    for layer in (layer for step in project.steps for layer in step.layers if layer.slit):
        kept = kept - layer.outline.area.buffer(INSIDE_SEAM)
    return kept


def _batting(project: Project) -> frozenset[str]:
    """The roles of fabrics that are batting."""
    return frozenset(one.role for one in project.fabrics if one.material.sort == "batting")


def _through(a: tuple[float, float], b: tuple[float, float]) -> shapely.LineString:
    """The line through two points, farther than anything in a hoop."""
    (ax, ay), (bx, by) = a, b
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    ux, uy = (bx - ax) / length * _FAR, (by - ay) / length * _FAR
    return shapely.LineString([(ax - ux, ay - uy), (ax + ux, ay + uy)])


def _flat(outline: Path) -> BaseGeometry:
    """What an outline encloses, with no more chords than stitching needs."""
    area = outline.area
    return area if len(outline.points) < 40 else area.simplify(CURVE)


def _tidy(area: BaseGeometry) -> BaseGeometry:
    """Polygons alone, no specks."""
    parts = [one for one in shapely.get_parts(area) if one.geom_type == "Polygon"]
    kept = [one for one in parts if one.area > _SPECK]
    if not kept:
        return shapely.Polygon()
    return kept[0] if len(kept) == 1 else shapely.MultiPolygon(kept)
