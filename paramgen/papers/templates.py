"""Every piece at full size, to cut along: small ones share a sheet, large ones take several."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.boxes import Box, around
from paramgen.drawings.facing import face_seen
from paramgen.drawings.legend import entries_for
from paramgen.drawings.marking import Place, marked
from paramgen.drawings.outlines import box_of, straight, thinned
from paramgen.drawings.paragraphs import Words, box_of_texts, paragraph
from paramgen.drawings.primitives import Item, Shape, Style
from paramgen.drawings.template import letters_on, piece_words
from paramgen.geometry.path import Path, Point, quarter_turn
from paramgen.layout.project import Grain, Layer, Piece, Project
from paramgen.papers.filling import Form, filled
from paramgen.papers.frame import Frame, Joined, Leaf, clipped
from paramgen.papers.moving import moved, within
from paramgen.papers.tiles import JOIN_THEM, Tile, joins, tiled

_GAP = 4.0
# Half the width of a line, kept free round an outline, mm.
_EDGE = 0.5
# A mark at the middle of an edge reaches so far in, mm, and stands on edges of this length.
_MARK, _LEAST_EDGE = 4.0, 12.0
# Words beside a piece take this width, in ems.
_NOTE = 22.0

_TURNED = Words("lies turned on this paper, its top at the right")
_ACROSS: dict[Grain, Grain] = {"width": "height", "height": "width", "any": "any"}

_TITLE = Words("Templates at full size", bold=True)
_HEADING = (_TITLE, Words("Cut along the outlines; fold in the order of the numbers."))
_NO_FOLDS = (_TITLE, Words("Cut along the outlines."))


@dataclass(frozen=True)
class _Template:
    """A piece made ready: its lines, its words, and how much of it there is.

    Parameters
    ----------
    piece : Piece
    outline : Path
        As it lies on the paper, like all that follows.
    lines : tuple of Shape
    creases : tuple of (int, Path)
    words : tuple of Words
    grain : str
    turned : bool
        Whether it lies turned by 90° clockwise.
    """

    piece: Piece
    outline: Path
    lines: tuple[Shape, ...]
    creases: tuple[tuple[int, Path], ...]
    words: tuple[Words, ...]
    grain: Grain
    turned: bool = False

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
    turned: bool


def template_leaves(project: Project, frame: Frame) -> tuple[Leaf, ...]:
    """Lay every piece out on sheets, once each: how often it is cut is written on it.

    A piece is turned on the paper only where that saves a sheet.

    Returns
    -------
    tuple of Leaf
        Those with several pieces first, then piece by piece those that are joined.
    """
    room = frame.below(_HEADING)
    kinds = _kinds(frame)
    cells: list[tuple[_Cell, ...]] = []
    large = []
    for piece in project.pieces:
        template = _template(piece, project, room.width)
        forms = tuple(
            cell
            for one in (template, _quarter_turned(template))
            for cell in _cells(one, room)
            if any(_fits(cell, room, taken) for taken in kinds)
        )
        if forms:
            cells.append(forms)
        else:
            large.append(template)
    joined = (leaf for template in large for leaf in _tile_leaves(template, frame))
    return (*_shared_leaves(cells, room, kinds), *joined)


def _kinds(frame: Frame) -> tuple[tuple[Box, ...], ...]:
    """What the test squares take of a sheet, either way that they can stand."""
    if frame.printing.paper.height is None:
        return ((),)
    bottom = frame.inner.bottom
    return tuple(frame.squares(bottom, beside=beside) for beside in (False, True))


def _fits(cell: _Cell, room: Box, taken: Sequence[Box]) -> bool:
    return bool(filled([[_form(cell)]], room, [taken], _GAP))


def _form(cell: _Cell) -> Form:
    return Form(cell.box.width, cell.box.height, cell.turned)


def _shared_leaves(
    cells: Sequence[Sequence[_Cell]], room: Box, kinds: Sequence[Sequence[Box]]
) -> Iterator[Leaf]:
    laid = filled([[_form(cell) for cell in forms] for forms in cells], room, kinds, _GAP)
    for sheet in range(max((one.sheet for one in laid), default=-1) + 1):
        items: list[Item] = []
        here = [one for one in laid if one.sheet == sheet]
        says = []
        for one in here:
            cell = cells[one.index][one.form]
            x, y = one.box.left - cell.box.left, one.box.top - cell.box.top
            items.extend(moved(cell.items, x, y))
            says.append(cell.says)
        folds = any(isinstance(one, Shape) and one.style is Style.CREASE for one in items)
        yield Leaf(
            _HEADING if folds else _NO_FOLDS,
            tuple(items),
            max(one.box.bottom for one in here),
            entries_for(items),
            f"Templates: {'. '.join(says)}.",
            beside=here[0].kind == 1,
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
    return _Template(piece, outline, lines, creases, tuple(words), piece.grain)


def _quarter_turned(template: _Template) -> _Template:
    """Turn a piece by 90° clockwise on the paper, and say so."""

    def turned(one: Path) -> Path:
        return Path(quarter_turn(one.points), one.closed)

    return replace(
        template,
        outline=turned(template.outline),
        lines=tuple(replace(line, path=turned(line.path)) for line in template.lines),
        creases=tuple((order, turned(crease)) for order, crease in template.creases),
        words=(*template.words, _TURNED),
        grain=_ACROSS[template.grain],
        turned=True,
    )


def _side_up(outline: Path, layers: Sequence[Layer]) -> Iterator[str]:
    """Say which side of the fabric is towards a person who looks at the template."""
    if not layers:
        return
    if layers[0].two_sided or face_seen(layers[0], "front") is None:
        yield "either side up"
        return
    shape = outline.area
    if shape.symmetric_difference(outline.mirrored.area).area < 1e-3 * shape.area:
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
        on_edge = outline.line.distance(shapely.Point(at)) < 0.02
        taken = [*outline.points[outline.corners], *(mark.points[0] for mark in found)]
        if on_edge and all(np.hypot(*(point - at)) > 1.0 for point in taken):
            found.append(straight(at, (at[0] + _MARK * way[0], at[1] + _MARK * way[1])))
    return tuple(found)


def _inwards(outline: Path, at: Point, way: Point) -> Path:
    """Mark from a point of an edge to the side on which the area is."""
    inner = (at[0] + 0.1 * way[0], at[1] + 0.1 * way[1])
    sign = 1.0 if outline.area.contains(shapely.Point(inner)) else -1.0
    return straight(at, (at[0] + sign * _MARK * way[0], at[1] + sign * _MARK * way[1]))


def _marks(template: _Template) -> tuple[Path, ...]:
    return tuple(one.path for one in template.lines if one.style is Style.CENTRE_MARK)


def _cells(template: _Template, room: Box) -> Iterator[_Cell]:
    """Put a piece and its words together, in every way that there is."""
    box, em = template.box, letters_on(template.piece)
    words = template.words
    place = Place(template.outline.area, box, em)
    on_it = marked(place, template.creases, template.grain, words, _marks(template))
    left = words if on_it.written == 0 else () if on_it.written == len(words) else words[1:]
    items: tuple[Item, ...] = (*template.lines, *on_it.items)
    edge = box.grown(_EDGE)
    if not left:
        yield _Cell(items, edge, template.says, template.turned)
        return
    note = min(_NOTE * em, room.width)
    below = paragraph(left, (box.left, edge.bottom + 1.0), em, max(note, box.width))
    beside = paragraph(left, (edge.right + 1.0, box.top), em, note)
    for texts in (below, beside):
        both = around([edge, box_of_texts(texts)])
        yield _Cell((*items, *texts), both, template.says, template.turned)


def _tile_leaves(template: _Template, frame: Frame) -> Iterator[Leaf]:
    """Spread one piece over several sheets, turned if it then takes fewer."""
    spread = [(one, *_spread(one, frame)) for one in (template, _quarter_turned(template))]
    template, room, shape, tiles = min(spread, key=lambda one: len(one[3]))
    for tile in tiles:
        x, y = tile.shift(room)
        picture = (
            *within(template.lines, tile.window),
            *(joins(tile, tiles) if len(tiles) > 1 else ()),
            *_tile_marks(template, shape, tile),
        )
        picture = moved(picture, x, y)
        says = f"Template, sheet {tile.name}: {template.says}."
        yield Leaf(
            _tile_heading(template, tile.name, tiles[-1].name),
            picture,
            tile.window.bottom + y + tile.strip[1],
            entries_for(picture),
            says,
            Joined(template.box, template.lines[:1], tiles, tile) if len(tiles) > 1 else None,
        )


def _spread(template: _Template, frame: Frame) -> tuple[Box, BaseGeometry, tuple[Tile, ...]]:
    shape = template.outline.area
    # The longest heading there can be, so that it does not change the tiles.
    room = frame.room(_tile_heading(template, "AA88", "AA88"))
    return room, shape, tiled(template.box, room.width, room.height, shape)


def _tile_heading(template: _Template, name: str, last: str) -> tuple[Words, ...]:
    title = template.words[0].text
    several = last != "A1"
    sheet = f": sheet {name}, of A1 to {last}" if several else ""
    heading = [
        Words(f"{title}{sheet}", bold=True),
        Words(f"{'; '.join(line.text for line in template.words[1:])}."),
    ]
    return (*heading, Words(JOIN_THEM)) if several else tuple(heading)


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
    return marked(place, creases, template.grain, named, others).items
