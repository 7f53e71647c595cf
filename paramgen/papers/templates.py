"""Every piece at full size, to cut along: small ones share a sheet, large ones take several."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.boxes import Box, around
from paramgen.drawings.facing import face_seen
from paramgen.drawings.legend import entries_for
from paramgen.drawings.marking import Place, marked
from paramgen.drawings.outlines import (
    area,
    box_of,
    line_string,
    mirrored,
    straight,
    thinned,
)
from paramgen.drawings.paragraphs import Words, box_of_texts, paragraph
from paramgen.drawings.primitives import Item, Shape, Style
from paramgen.drawings.template import letters_on, piece_words
from paramgen.geometry.path import Path, Point
from paramgen.layout.project import Layer, Piece, Project
from paramgen.papers.frame import Frame, Joined, Leaf, clipped
from paramgen.papers.moving import moved, within
from paramgen.papers.shelves import shelved
from paramgen.papers.tiles import JOIN_THEM, STRIP, Tile, joins, tiled

_GAP = 5.0
# Half the width of a line, kept free round an outline, mm.
_EDGE = 0.5
# A mark at the middle of an edge reaches so far in, mm, and stands on edges of this length.
_MARK, _LEAST_EDGE = 4.0, 12.0
# Words beside a piece take this width, in ems.
_NOTE = 22.0

_HEADING = (
    Words("Templates at full size", bold=True),
    Words("Cut along the outlines; fold in the order of the numbers."),
)


@dataclass(frozen=True)
class _Template:
    """A piece made ready: its lines, its words, and how much of it there is."""

    piece: Piece
    outline: Path
    lines: tuple[Shape, ...]
    creases: tuple[tuple[int, Path], ...]
    words: tuple[Words, ...]

    @property
    def box(self) -> Box:
        return box_of((self.outline,))

    @property
    def says(self) -> str:
        """All its words in one line."""
        return "; ".join(line.text for line in self.words).replace("\u00a0", " ")


@dataclass(frozen=True)
class _Cell:
    """A template with its words, and the room they take together."""

    items: tuple[Item, ...]
    box: Box
    says: str


def template_leaves(project: Project, frame: Frame) -> tuple[Leaf, ...]:
    """Lay every piece out on sheets, once each: how often it is cut is written on it.

    Returns
    -------
    tuple of Leaf
        Those with several pieces first, then piece by piece those that are joined.
    """
    room = frame.room(_HEADING)
    cells, large = [], []
    for piece in project.pieces:
        template = _template(piece, project, room.width)
        cell = _cell(template, room)
        if cell:
            cells.append(cell)
        else:
            large.append(template)
    joined = (leaf for template in large for leaf in _tile_leaves(template, frame))
    return (*_shared_leaves(cells, room), *joined)


def _shared_leaves(cells: Sequence[_Cell], room: Box) -> Iterator[Leaf]:
    sizes = [(cell.box.width, cell.box.height) for cell in cells]
    spots = shelved(sizes, room.width, room.height, _GAP)
    for sheet in range(max((spot.sheet for spot in spots), default=-1) + 1):
        items: list[Item] = []
        says, low = [], room.top
        for spot in (spot for spot in spots if spot.sheet == sheet):
            cell = cells[spot.index]
            x, y = room.left + spot.x, room.top + spot.y
            items.extend(moved(cell.items, x - cell.box.left, y - cell.box.top))
            says.append(cell.says)
            low = max(low, y + cell.box.height)
        yield Leaf(
            _HEADING, tuple(items), low, entries_for(items), f"Templates: {'. '.join(says)}."
        )


def _template(piece: Piece, project: Project, width: float) -> _Template:
    (outline,) = thinned((piece.outline,))
    creases = tuple((one.order, straight(one.start, one.end)) for one in piece.creases)
    words = [
        line
        for long in piece_words(piece, project.unit)
        for line in clipped(long, letters_on(piece), width)
    ]
    layers = [layer for step in project.steps for layer in step.layers if layer.piece == piece.name]
    words.extend(Words(one) for one in _side_up(outline, layers))
    lines = (
        Shape(outline, Style.CUT_LINE),
        *(Shape(crease, Style.CREASE) for _, crease in creases),
        *(Shape(mark, Style.CENTRE_MARK) for mark in centre_marks(outline)),
    )
    return _Template(piece, outline, lines, creases, tuple(words))


def _side_up(outline: Path, layers: Sequence[Layer]) -> Iterator[str]:
    """Say which side of the fabric is towards a person who looks at the template."""
    if not layers:
        return
    if layers[0].two_sided or face_seen(layers[0], "front") is None:
        yield "either side up"
        return
    shape = area(outline)
    if shape.symmetric_difference(area(mirrored(outline))).area < 1e-3 * shape.area:
        yield "right side up"
        return
    # An outline is as it is seen from the front of the hoop.
    counts = Counter(layer.up for layer in layers)
    if len(counts) == 1:
        yield f"{layers[0].up} side up"
    else:
        yield ", ".join(f"{counts[face]} {face} side up" for face in ("right", "wrong"))


def centre_marks(outline: Path) -> tuple[Path, ...]:
    """Marks by which pieces are lined up: inwards from the middle of every edge.

    An edge is a straight part of at least 12 mm; a curved outline is marked where the
    middle lines of its box meet it.
    """
    found: list[Path] = []
    ends = outline.points + outline.chords
    for (ax, ay), (bx, by) in zip(outline.points.tolist(), ends.tolist(), strict=True):
        length = float(np.hypot(bx - ax, by - ay))
        if length >= _LEAST_EDGE:
            middle = ((ax + bx) / 2, (ay + by) / 2)
            found.append(_inwards(outline, middle, ((by - ay) / length, (ax - bx) / length)))
    box = box_of((outline,))
    x, y = box.centre
    for at, way in (
        ((x, box.top), (0.0, 1.0)),
        ((x, box.bottom), (0.0, -1.0)),
        ((box.left, y), (1.0, 0.0)),
        ((box.right, y), (-1.0, 0.0)),
    ):
        on_edge = line_string(outline).distance(shapely.Point(at)) < 0.02
        taken = [*outline.points[outline.corners], *(mark.points[0] for mark in found)]
        if on_edge and all(np.hypot(*(point - at)) > 1.0 for point in taken):
            found.append(straight(at, (at[0] + _MARK * way[0], at[1] + _MARK * way[1])))
    return tuple(found)


def _inwards(outline: Path, at: Point, way: Point) -> Path:
    """Mark from a point of an edge to the side on which the area is."""
    inner = (at[0] + 0.1 * way[0], at[1] + 0.1 * way[1])
    sign = 1.0 if area(outline).contains(shapely.Point(inner)) else -1.0
    return straight(at, (at[0] + sign * _MARK * way[0], at[1] + sign * _MARK * way[1]))


def _marks(template: _Template) -> tuple[Path, ...]:
    return tuple(one.path for one in template.lines if one.style is Style.CENTRE_MARK)


def _cell(template: _Template, room: Box) -> _Cell | None:
    """Put a piece and its words together; None if there is no room for them on a sheet."""
    box, em = template.box, letters_on(template.piece)
    words = template.words
    place = Place(area(template.outline), box, em)
    on_it = marked(place, template.creases, template.piece.grain, words, _marks(template))
    left = words if on_it.written == 0 else () if on_it.written == len(words) else words[1:]
    items: tuple[Item, ...] = (*template.lines, *on_it.items)
    edge = box.grown(_EDGE)
    if not left:
        found = [_Cell(items, edge, template.says)]
    else:
        note = min(_NOTE * em, room.width)
        below = paragraph(left, (box.left, edge.bottom + 1.0), em, max(note, box.width))
        beside = paragraph(left, (edge.right + 1.0, box.top), em, note)
        found = [
            _Cell((*items, *texts), around([edge, box_of_texts(texts)]), template.says)
            for texts in (below, beside)
        ]
    return next(
        (c for c in found if c.box.width <= room.width and c.box.height <= room.height), None
    )


def _tile_leaves(template: _Template, frame: Frame) -> Iterator[Leaf]:
    """Spread one piece over several sheets."""
    shape = area(template.outline)
    # The longest heading there can be, so that it does not change the tiles.
    room = frame.room(_tile_heading(template, "AA88", "AA88"))
    tiles = tiled(template.box, room.width, room.height, shape)
    for tile in tiles:
        x, y = room.left + STRIP - tile.window.left, room.top + STRIP - tile.window.top
        picture = (
            *within(template.lines, tile.window),
            *joins(tile, tiles),
            *_tile_marks(template, shape, tile),
        )
        picture = moved(picture, x, y)
        says = f"Template, sheet {tile.name}: {template.says}."
        yield Leaf(
            _tile_heading(template, tile.name, tiles[-1].name),
            picture,
            tile.window.bottom + y + STRIP,
            entries_for(picture),
            says,
            Joined(template.box, template.lines[:1], tiles, tile),
        )


def _tile_heading(template: _Template, name: str, last: str) -> tuple[Words, ...]:
    title = template.words[0].text
    return (
        Words(f"{title}: sheet {name}, of A1 to {last}", bold=True),
        Words(f"{'; '.join(line.text for line in template.words[1:])}."),
        Words(JOIN_THEM),
    )


def _tile_marks(template: _Template, shape: BaseGeometry, tile: Tile) -> tuple[Item, ...]:
    """Name a tile and number its creases, where there is room on it."""
    inner = tile.trim.grown(-2.0)
    room = shape.intersection(shapely.box(inner.left, inner.top, inner.right, inner.bottom))
    lines = [(order, Shape(crease, Style.CREASE)) for order, crease in template.creases]
    creases = [(order, part.path) for order, one in lines for part in within((one,), tile.window)]
    others = [
        part.path
        for part in within(
            (one for one in template.lines if one.style is Style.CENTRE_MARK), tile.window
        )
    ]
    title, *words = template.words
    named = (Words(f"{title.text} {tile.name}", bold=True), *words)
    place = Place(room, inner, letters_on(template.piece), numbers=tile.window)
    return marked(place, creases, template.piece.grain, named, others).items
