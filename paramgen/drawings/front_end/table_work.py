"""What is done to the pieces on the table, before anything is hooped."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.edge_stitching import edge_stitching
from paramgen.drawings.front_end.facing_sides import face_seen, fold_sides
from paramgen.drawings.front_end.framed_picture import letters_for
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.primitives.drawn_paths import (
    circle,
    lines_of,
    outer_paths,
    rectangle,
    rightmost,
    spot_in,
    straight,
)
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style, Tone
from paramgen.drawings.primitives.paragraphs import TextLine, listed
from paramgen.drawings.primitives.symbols import double_arrow
from paramgen.layout.piece_as_cut import to_cut, upright
from paramgen.lengths import show_both, show_size_both, unbroken
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Face, FoldKind, Side
from paramgen.vocabulary.path import Path, Point, path
from paramgen.vocabulary.project import Layer, Notion, Piece, Project, Step
from paramgen.vocabulary.unit import Unit

ON_THE_TABLE = "On the table, before anything is hooped."
CAPTIONS_ON_THE_TABLE: Mapping[Style, str] = MappingProxyType(
    {Style.NO_RIGHT_SIDE: "interfacing", Style.HIDDEN: "folded edge, underneath"}
)

#: Pieces lie in rows, together about so many times as wide as high.
_WIDER = 2.2
#: Room between two pieces, for the width of all of them.
_APART = 0.05
#: What is as near to the middle lies in it, mm.
_MIDDLE = 0.05


@dataclass(frozen=True)
class TablePicture:
    """A picture of pieces side by side.

    Parameters
    ----------
    view : Box
    letters : float
        Size of letters, mm.
    picture : tuple of DrawnItem
    labels : tuple of Label
    """

    view: Box
    letters: float
    picture: tuple[DrawnItem, ...]
    labels: tuple[Label, ...]


@dataclass(frozen=True, kw_only=True)
class _Lying:
    """A piece, how many lie so, whether as it is cut, and where the middle of it lies.

    Then what lies on it of what it is sewn to.
    """

    piece: Piece
    layer: Layer | None
    number: int
    flat: bool
    at: Point = (0.0, 0.0)
    under: tuple[BaseGeometry, ...] = ()

    @property
    def size(self) -> tuple[float, float]:
        """Its width and height as it lies, mm."""
        return self.piece.cut if self.flat else self.piece.folded

    def there(self, shape: Path) -> Path:
        """A path about the middle of the piece, moved to where the piece lies."""
        return Path(shape.points + np.array(self.at), shape.closed)

    @property
    def wrong_in_hoop(self) -> bool:
        """Whether in the hoop, too, its wrong side is seen from the front.

        As it is cut a piece is told as it is seen there.
        """
        return self.layer is not None and face_seen(self.layer, Side.FRONT) is Face.WRONG

    def wrong_side_up(self, shape: Path) -> Path:
        """A path on the piece as cut, where it lies with its wrong side up.

        What is laid right side up is turned over for that like a page.
        """
        return self.there(shape if self.wrong_in_hoop else shape.mirrored)

    def spot_wrong_side_up(self, at: Point) -> Point:
        """A place on the piece as cut, where it lies with its wrong side up."""
        x, y = at
        return self.at[0] + (x if self.wrong_in_hoop else -x), self.at[1] + y

    def area_wrong_side_up(self, area: BaseGeometry) -> BaseGeometry:
        """An area on the piece as cut, where it lies with its wrong side up."""
        across = 1.0 if self.wrong_in_hoop else -1.0
        return shapely.transform(area, lambda p: p * (across, 1.0) + np.array(self.at))


def on_the_table(hooped: Scene, step: Step) -> TablePicture:
    """Draw the pieces that something is done to before the hooping.

    Parameters
    ----------
    hooped : Scene
    step : Step
        To fuse the interfacing the pieces lie as cut, wrong side up; otherwise as they are
        folded to be laid. What is folded and never laid lies as cut and as folded. What is sewn
        together lies on each other, as it is laid. Where there is no piece to do it to, the table
        is bare.
    """
    # As it is cut a piece is not turned with the project.
    project = hooped.thing.project if hooped.thing else hooped.project
    pieces = tuple(_pieces(hooped.project, step))
    if not pieces:  # What is named is not there with these choices, or nothing is folded.
        return TablePicture(hooped.view, letters_for(hooped.view), (), ())
    step = project.steps[step.number - 1]
    ways = [way for piece in pieces for way in _ways(project, step, piece)]
    together = _as_laid(project, step, ways)
    if together is None:
        places, view = _rows([one.size for one in ways])
        lying = [replace(one, at=at) for one, at in zip(ways, places, strict=True)]
    else:
        lying, view = list(together), around(Box(*_area(one).bounds) for one in together)
    em = letters_for(view)
    items: list[DrawnItem] = []
    labels: list[Label] = []
    for number, one in enumerate(lying):
        tone, lies = hooped.tones.get(one.piece.fabric), _print_on(hooped, one)
        shapes = (
            _flat(project, step, one, em, tone, lies)
            if one.flat
            else _folded(step, one, tone, lies)
        )
        again = sum(other.piece is one.piece for other in lying[:number])
        name = f"piece-{one.piece.name}" + (f"-{again + 1}" if again else "")
        items.append(Group(name, tuple(shapes), one.piece.title))
        said = _flat_labels if one.flat else _folded_labels
        labels.extend(said(project, step, one))
    if together is not None:
        items.append(Group("sewn-together", tuple(_sewn(step, together)), step.title))
        labels.extend(_sewn_labels(project, step, together))
    return TablePicture(view.grown(0.5 * em), em, tuple(items), tuple(labels))


def _pieces(project: Project, step: Step) -> Iterator[Piece]:
    """The pieces a step names, or all that are folded and that no other step names to stitch.

    Ribbon and the like is folded when it is laid.
    """
    others = {name for one in project.steps if one.act is Act.EDGE_STITCH for name in one.pieces}
    for piece in project.pieces:
        folded = piece.creases and piece.name not in others and piece.fabric not in project.trims
        if piece.name in step.pieces or (folded and not step.pieces):
            yield piece


def _ways(project: Project, step: Step, piece: Piece) -> Iterator[_Lying]:
    """The ways in which a piece is laid, each with how many lie so; as it is cut it lies in one."""
    laid = [layer for one in project.steps for layer in one.layers if layer.piece == piece.name]
    never = not laid and bool(piece.creases)
    if step.act is Act.FUSE or never:
        yield _Lying(piece=piece, layer=laid[0] if laid else None, number=piece.quantity, flat=True)
    if step.act is Act.FUSE:
        return
    if not laid:
        yield _Lying(piece=piece, layer=None, number=piece.quantity, flat=False)
        return
    by_folds: dict[tuple[str, ...], list[Layer]] = {}
    for layer in laid:
        by_folds.setdefault(tuple(fold_sides(layer, Side.FRONT)), []).append(layer)
    for layers in by_folds.values():
        number = piece.quantity * len(layers) // len(laid)
        yield _Lying(piece=piece, layer=layers[0], number=number, flat=False)


def _rows(sizes: Sequence[tuple[float, float]]) -> tuple[list[Point], Box]:
    """Middles of pieces that lie in rows, and the box around them all."""
    widest = max(width for width, _ in sizes)
    apart = _APART * max(widest, math.sqrt(sum(width * height for width, height in sizes)))
    most = max(widest, math.sqrt(_WIDER * sum(w * (h + apart) for w, h in sizes)))
    places: list[Point] = []
    boxes: list[Box] = []
    x = y = high = 0.0
    for width, height in sizes:
        if x > 0.0 and x + width > most:
            x, y, high = 0.0, y + high + apart, 0.0
        places.append((x + width / 2, y + height / 2))
        boxes.append(Box(x, y, x + width, y + height))
        x, high = x + width + apart, max(high, height)
    return places, around(boxes)


# --- As cut, wrong side up ---------------------------------------------------------------


def _print_on(hooped: Scene, one: _Lying) -> Path | None:
    """How the print lies on a piece as it is laid, about the recipe's origin."""
    layers = hooped.thing.layers if hooped.thing else ()
    number = next((k for k, layer in enumerate(layers) if layer is one.layer), None)
    lies = None if number is None else hooped.prints.get(number)
    return None if lies is None else path(shapely.get_coordinates(lies), closed=False)


def _flat(
    project: Project, step: Step, one: _Lying, em: float, tone: Tone | None, lies: Path | None
) -> Iterator[DrawnItem]:
    outline = one.wrong_side_up(one.piece.outline)
    if lies is not None and one.layer is not None:
        there = Path(lies.points + np.array(to_cut(one.piece, one.layer)), closed=False)
        # The wrong side is seen: what lay the right side to the front is turned over.
        lies = one.there(there.mirrored if right_way_round(there) else there)
    yield Shape(outline, Style.WRONG_SIDE, tone=tone, print_at=lies)
    for area in (*_fused(project, step, one), *_patches(project, one)):
        for part in outer_paths(area):
            yield Shape(one.wrong_side_up(part), Style.NO_RIGHT_SIDE)
            yield Shape(one.wrong_side_up(part), Style.RAW_EDGE)
    yield Shape(outline, Style.RAW_EDGE)
    for crease in one.piece.creases:
        yield Shape(one.wrong_side_up(straight(crease.start, crease.end)), Style.CREASE)
    for notion, at in _behind_hardware(project, step, one):
        here = one.spot_wrong_side_up(at)
        for foot in _feet(one.piece, at):
            yield from double_arrow(here, one.spot_wrong_side_up(foot), em, Style.MEASURE)
        yield Shape(circle(here, (notion.width or 2 * em) / 2), Style.HARDWARE, now=True)
    for patch in _patches(project, one):
        for _, start, end in _measured_from(project, step, one, patch):
            first, last = one.spot_wrong_side_up(start), one.spot_wrong_side_up(end)
            if math.dist(first, last) > _MIDDLE:
                yield from double_arrow(first, last, em, Style.MEASURE)


def right_way_round(lies: Path) -> bool:
    """Whether a print is seen from its right side, and not mirrored."""
    at, right, below = lies.points
    (ax, ay), (bx, by) = (right - at).tolist(), (below - at).tolist()
    return bool(ax * by - ay * bx > 0.0)


def _flat_labels(project: Project, step: Step, one: _Lying) -> Iterator[Label]:
    unit, piece = project.unit, one.piece
    area = one.wrong_side_up(one.piece.outline).area
    fused = list(_fused(project, step, one))
    words = [*_named(one, piece.cut, unit), TextLine("wrong side towards you")]
    yield Label(_corner(area), tuple(words))
    for part in fused:
        box = Box(*part.bounds)
        size = unbroken(show_size_both(box.width, box.height, unit))
        said = (
            TextLine("interfacing", bold=True),
            TextLine(size),
            TextLine("none in the allowances"),
        )
        spot = spot_in(one.area_wrong_side_up(part))
        yield Label(spot, said if not step.mark else said[:2])
    for patch in _patches(project, one):
        box = Box(*patch.bounds)
        size = unbroken(show_size_both(box.width, box.height, unit))
        told = [TextLine("patch of interfacing", bold=True), TextLine(size)]
        for what, start, end in _measured_from(project, step, one, patch):
            apart = math.dist(start, end)
            far = f"{unbroken(show_both(apart, unit))} from" if apart > _MIDDLE else "up to"
            told.append(TextLine(f"{far} {what}"))
        yield Label(spot_in(one.area_wrong_side_up(patch)), tuple(told))
    for _, (x, y) in _behind_hardware(project, step, one):
        said_ = [TextLine("middle of the patch", bold=True)]
        for foot in _feet(piece, (x, y)):
            away = unbroken(show_both(math.dist((x, y), foot), unit))
            said_.append(TextLine(f"{away} from the fold line"))
        if abs(x) < _MIDDLE:
            said_.append(TextLine("in the middle of the width"))
        yield Label(one.spot_wrong_side_up((x, y)), tuple(said_))


def _corner(area: BaseGeometry) -> Point:
    """A place in the corner of a piece, which is left to the allowances."""
    box = Box(*area.bounds)
    in_x, in_y = 0.02 * box.width, 0.02 * box.height
    at = shapely.Point(box.right - in_x, box.top + in_y)
    return (at.x, at.y) if area.covers(at) else spot_in(area)


def _fused(project: Project, step: Step, one: _Lying) -> Iterator[BaseGeometry]:
    """What interfacing covers, on the piece as cut, as that is seen in the hoop.

    What the step marks; else, of a piece whose fabric has one, what lies within the seam line.
    """
    if one.layer is None:
        return
    marks = step.mark
    areas = [mark.area for mark in marks]
    if not marks and project.fused(one.piece):
        areas = [project.seam.area]
    dx, dy = to_cut(one.piece, one.layer)
    for area in areas:
        there = shapely.transform(area & one.layer.outline.area, lambda p: p + np.array((dx, dy)))
        if there.area > 0.0:
            yield there & one.piece.outline.area


def _patches(project: Project, one: _Lying) -> Iterator[BaseGeometry]:
    """Patches of interfacing on a piece, as it is cut and seen in the hoop."""
    if one.layer is None:
        return
    dx, dy = to_cut(one.piece, one.layer)
    for patch in (patch for notion in project.notions for patch in notion.fused_to):
        if patch.piece == one.piece.name:
            there = shapely.transform(patch.outline.area, lambda p: p + np.array((dx, dy)))
            yield there & one.piece.outline.area


def _measured_from(
    project: Project, step: Step, one: _Lying, patch: BaseGeometry
) -> Iterator[tuple[str, Point, Point]]:
    """What a patch on interfacing is measured from, and the two ends of that, on the piece as cut.

    Its nearest edge from a fold line in half; where there is none, and it lies in the middle of the
    width, its middle from the edge of the interfacing straight above or below it.
    """
    x, y = Box(*patch.bounds).centre
    fused = shapely.union_all(list(_fused(project, step, one)))
    if fused.is_empty:
        return
    for foot in _feet(one.piece, (x, y)):
        line = shapely.shortest_line(shapely.Point(foot), patch)
        (ax, ay), (bx, by) = shapely.get_coordinates(line).tolist()
        yield "the fold line", (ax, ay), (bx, by)
        return
    if abs(x) < _MIDDLE:
        edges = [at for at in fused.boundary.bounds[1::2] if abs(at - y) > _MIDDLE]
        nearest = min(edges, key=lambda at: abs(at - y))
        yield "the edge of the interfacing to its middle", (x, nearest), (x, y)


def _behind_hardware(project: Project, step: Step, one: _Lying) -> Iterator[tuple[Notion, Point]]:
    """Where hardware pierces a piece that has no interfacing all over, on the piece as cut."""
    if one.layer is None or any(_fused(project, step, one)):
        return
    dx, dy = to_cut(one.piece, one.layer)
    for notion in project.notions:
        places = (*notion.halves, *notion.at)
        for (x, y), pieces in zip(places, notion.through, strict=False):
            if one.piece.name in pieces:
                yield notion, (x + dx, y + dy)


def _feet(piece: Piece, at: Point) -> Iterator[Point]:
    """Where the fold line of a piece folded in half is nearest to a place."""
    for crease in piece.creases:
        if crease.kind is FoldKind.HALF:
            line = shapely.LineString([crease.start, crease.end])
            x, y = shapely.get_coordinates(line.interpolate(line.project(shapely.Point(at))))[0]
            yield float(x), float(y)
            return


# --- Folded as it is laid ----------------------------------------------------------------


def _folded(step: Step, one: _Lying, tone: Tone | None, lies: Path | None) -> Iterator[DrawnItem]:
    outline = one.there(_about_its_middle(one))
    if lies is not None and one.layer is not None:
        lies = one.there(Path(lies.points - np.array(one.layer.outline.box.centre), closed=False))
    yield Shape(outline, _face(one.layer), tone=tone, print_at=lies)
    yield Shape(outline, Style.RAW_EDGE)
    for start, end in _edges(one, one.layer.folded_edges if one.layer else ()):
        yield Shape(straight(start, end), Style.FOLDED_EDGE, now=True)
    for start, end in _folds(one).values():
        yield Shape(straight(start, end), Style.FOLDED_EDGE, now=True)
    yield from (Shape(line, Style.BY_HAND, now=True) for line in _stitched(step, one))


def _folded_labels(project: Project, step: Step, one: _Lying) -> Iterator[Label]:
    piece, layer, unit = one.piece, one.layer, project.unit
    room = _area(one)
    for over in one.under:
        room = shapely.difference(room, over)
    words = [*_named(one, piece.folded, unit)]
    folds = fold_sides(layer, Side.FRONT) if layer else tuple(_folds(one))
    if folds:
        edges = "edge" if len(folds) == 1 else "edges"
        words.append(TextLine(f"folded {edges} at the {listed(folds)}"))
    if layer is None and folds:
        words.append(TextLine("the same, folded"))
    yield Label(spot_in(room), tuple(words))
    lines = tuple(_stitched(step, one))
    if lines:
        where = "close to the inner edge of the hem"
        if piece.edge_stitched is not None:
            inside = unbroken(show_both(piece.edge_stitched, unit))
            where = f"{inside} inside the edge"
        yield Label(
            rightmost(lines), (TextLine("edge-stitch here", bold=True), TextLine(where)), True
        )


def _about_its_middle(one: _Lying) -> Path:
    """A piece as it is laid, folded, about its middle."""
    if one.layer is None:
        width, height = one.piece.folded
        return rectangle(Box(-width / 2, -height / 2, width / 2, height / 2))
    box = one.layer.outline.box
    middle = np.array(box.centre)
    return Path(one.layer.outline.points - middle, closed=True)


def _face(layer: Layer | None) -> Style:
    """Which face of a folded piece is seen."""
    if layer is not None and face_seen(layer, Side.FRONT) is None:
        return Style.NO_RIGHT_SIDE
    inside_out = layer is not None and layer.right_sides_in
    return Style.WRONG_SIDE if inside_out else Style.RIGHT_SIDE


def _edges(one: _Lying, edges: Sequence[tuple[Point, Point]]) -> Iterator[tuple[Point, Point]]:
    """Edges of a layer, where the piece lies."""
    if one.layer is None:
        return
    box = one.layer.outline.box
    dx, dy = one.at[0] - (box.left + box.right) / 2, one.at[1] - (box.top + box.bottom) / 2
    for (ax, ay), (bx, by) in edges:
        yield (ax + dx, ay + dy), (bx + dx, by + dy)


def _folds(one: _Lying) -> dict[str, tuple[Point, Point]]:
    """Folded edges of a piece that no step lays, by their sides.

    What is folded in four or in three has one at both sides, what is folded in half at the side
    that its first half came from.
    """
    if one.layer is not None:
        return {}
    (x, y), (width, height) = one.at, one.piece.folded
    left, right, top, bottom = x - width / 2, x + width / 2, y - height / 2, y + height / 2
    sides = {
        "left": ((left, top), (left, bottom)),
        "right": ((right, top), (right, bottom)),
        "top": ((left, top), (right, top)),
        "bottom": ((left, bottom), (right, bottom)),
    }
    found = set()
    for crease in one.piece.creases:
        runs_up = upright(crease.start, crease.end)
        low, high = ("left", "right") if runs_up else ("top", "bottom")
        both = crease.kind in (FoldKind.QUARTER, FoldKind.THIRDS)
        late = crease.kind is FoldKind.HEM and crease.start[0 if runs_up else 1] > 0.0
        found |= {low, high} if both else {high if late else low}
    return {side: edge for side, edge in sides.items() if side in found}


def _stitched(step: Step, one: _Lying) -> Iterator[Path]:
    """Lines along which it is stitched in a step, where it lies."""
    if step.act is Act.EDGE_STITCH and one.layer is not None:
        for line in edge_stitching(one.piece, one.layer):
            yield one.there(Path(line.points - np.array(one.layer.outline.box.centre), False))


def _named(one: _Lying, size: tuple[float, float], unit: Unit) -> Iterator[TextLine]:
    """Its title, how many there are, and its size as it lies."""
    yield TextLine(one.piece.title, bold=True)
    yield TextLine(unbroken(show_size_both(*size, unit)))
    if one.number < one.piece.quantity:
        yield TextLine("one lies so" if one.number == 1 else f"{one.number} lie so")
    elif one.number > 1:
        yield TextLine(f"{one.number} pieces alike")


# --- Sewn together as it is laid ---------------------------------------------------------


def _as_laid(project: Project, step: Step, ways: Sequence[_Lying]) -> tuple[_Lying, ...] | None:
    """Pieces that are sewn together along a marked line, from the lowest to the uppermost.

    None where that is not what is done, or where no one step lays them all on the front.
    """
    if step.act not in (Act.HAND_SEW, Act.EDGE_STITCH) or not step.mark:
        return None
    for later in project.steps:
        layers = [layer for layer in later.layers if layer.side is Side.FRONT]
        found = [(one, layer) for layer in layers for one in ways if one.layer is layer]
        if 1 < len(found) == len(ways):
            lying = [replace(one, at=layer.outline.box.centre) for one, layer in found]
            rooms = [_area(one) for one in lying]
            return tuple(
                replace(one, under=tuple(rooms[number:])) for number, one in enumerate(lying, 1)
            )
    return None


def _sewn(step: Step, lying: Sequence[_Lying]) -> Iterator[DrawnItem]:
    """Folded edges that lie underneath, and the line along which all is sewn together."""
    for one in lying:
        over = shapely.union_all(one.under)
        for fold in _folds_of(one):
            yield from (Shape(line, Style.HIDDEN) for line in lines_of(fold & over))
    yield from (Shape(line, Style.BY_HAND, now=True) for line in _sewn_along(step, lying))


def _sewn_labels(project: Project, step: Step, lying: Sequence[_Lying]) -> Iterator[Label]:
    """Say where it is sewn: so far from a fold of the lowest, if it runs along one."""
    lines = tuple(_sewn_along(step, lying))
    words = [TextLine("stitch them together here", bold=True)]
    away = [
        found for line in lines for fold in _folds_of(lying[0]) for found in _beside(line, fold)
    ]
    if away:
        far = unbroken(show_both(min(away), project.unit))
        words.append(TextLine(f"{far} from the fold of the {lying[0].piece.title}"))
    if lines:
        yield Label(rightmost(lines), tuple(words), on_line=True)


def _sewn_along(step: Step, lying: Sequence[_Lying]) -> Iterator[Path]:
    """Of the lines that are marked, what runs on all of the pieces."""
    there = shapely.intersection_all([_area(one) for one in lying])
    for mark in step.mark:
        yield from lines_of(mark.line & there)


def _folds_of(one: _Lying) -> Iterator[shapely.LineString]:
    """Folded edges of a piece, where it lies."""
    yield from map(shapely.LineString, _edges(one, one.layer.folded_edges if one.layer else ()))


def _beside(line: Path, fold: shapely.LineString) -> Iterator[float]:
    """How far a line runs from a fold, mm, if that is the same all along."""
    away = shapely.distance(shapely.points(line.points), fold)
    if np.ptp(away) < _MIDDLE:
        yield float(np.mean(away))


def _area(one: _Lying) -> BaseGeometry:
    """Where a folded piece lies."""
    return one.there(_about_its_middle(one)).area
