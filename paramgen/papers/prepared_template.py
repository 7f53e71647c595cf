"""One template made ready: its lines, its words, and how it lies on the paper."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely

from paramgen.drawings.front_end.fabric_tones import tones_of
from paramgen.drawings.front_end.facing_sides import face_seen
from paramgen.drawings.front_end.piece_marks import TemplateFold
from paramgen.drawings.pictures.piece_template import letters_on, template_words
from paramgen.drawings.primitives.drawn_paths import (
    area_within,
    box_of,
    line_within,
    lines_of,
    straight,
    thinned,
)
from paramgen.drawings.primitives.items import Shape, Style, Tone
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.geometry.mirror import mirrored
from paramgen.lengths import spaced
from paramgen.papers.sheet_foot import clipped
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Face, FoldKind, Grain, Side
from paramgen.vocabulary.path import Path, Point, quarter_turn
from paramgen.vocabulary.project import Crease, Layer, Piece, Project

# A mark at the middle of an edge reaches so far in, mm, and stands on edges of this length.
_MARK, _LEAST_EDGE = 4.0, 12.0
# Lines that are so near to each other are the same, mm.
_SAME = 0.02

_TURNED = TextLine("lies turned on this paper, its top at the right")
_ACROSS: dict[Grain, Grain] = {
    Grain.WIDTH: Grain.HEIGHT,
    Grain.HEIGHT: Grain.WIDTH,
    Grain.BIAS: Grain.BIAS,
    Grain.ANY: Grain.ANY,
}


@dataclass(frozen=True, kw_only=True)
class Template:
    """A template made ready.

    Parameters
    ----------
    outline : Path
        As it lies on the paper, like all that follows; closed.
    lines : tuple of Shape
        All that is drawn of it; what is cut, folded and lined up.
    creases : tuple of (int, Path)
        With the number of each.
    words : tuple of TextLine
        The title first.
    grain : str
    em : float
        Size of letters, mm.
    fold : TemplateFold or None
        The edge that is laid on a fold of the fabric, if it is half of a piece.
    turned : bool
        Whether it lies turned by 90° clockwise.
    tones : tuple of Tone
        Of the fabrics that are cut by it.
    """

    outline: Path
    lines: tuple[Shape, ...]
    creases: tuple[tuple[int, Path], ...]
    words: tuple[TextLine, ...]
    grain: Grain
    em: float
    fold: TemplateFold | None = None
    turned: bool = False
    tones: tuple[Tone, ...] = ()

    @property
    def box(self) -> Box:
        """Round the outline."""
        return box_of((self.outline,))

    @property
    def says(self) -> str:
        """All its words in one line."""
        return spaced("; ".join(line.text for line in self.words))

    @property
    def marks(self) -> tuple[Path, ...]:
        """Marks at the middles of its edges."""
        return tuple(one.path for one in self.lines if one.style is Style.CENTRE_MARK)


def template(pieces: Sequence[Piece], project: Project, width: float) -> Template:
    """Make a template of pieces that are alike.

    Parameters
    ----------
    pieces : sequence of Piece
    project : Project
    width : float
        No line of its words is wider, mm.
    """
    piece = pieces[0]
    (outline,) = thinned((piece.outline,))
    creases = tuple((one.order, straight(one.start, one.end)) for one in piece.creases)
    lines = (
        Shape(outline, Style.CUT_LINE),
        *(Shape(crease, Style.CREASE) for _, crease in creases),
        *(Shape(mark, Style.CENTRE_MARK) for mark in centre_marks(outline)),
    )
    em = letters_on(piece.cut)
    words = (*template_words(pieces, project.unit), *_sides_up(outline, pieces, project))
    return Template(
        outline=outline,
        lines=lines,
        creases=creases,
        words=_fitted(words, em, width),
        grain=piece.grain,
        em=em,
        tones=_tones(pieces, project),
    )


def half_template(pieces: Sequence[Piece], project: Project, width: float) -> Template | None:
    """Make a template of half of pieces that are alike, to lay on a fold of the fabric.

    Returns
    -------
    Template or None
        None where no fold in half parts the pieces into two that mirror each other.
    """
    piece = pieces[0]
    (outline,) = thinned((piece.outline,))
    found = next((one for one in piece.creases if _halves(one, piece, outline)), None)
    if found is None:
        return None
    box = box_of((outline,))
    x, y = box.centre
    upright = abs(found.start[0] - found.end[0]) < _SAME
    kept = Box(box.left, box.top, x if upright else box.right, box.bottom if upright else y)
    room = shapely.box(kept.left, kept.top, kept.right, kept.bottom)
    (half,) = area_within(outline, room)
    edge = straight(found.start, found.end)
    cut = shapely.difference(half.line, edge.line.buffer(_SAME))
    creases = (
        (found.order, edge),
        *(
            (one.order, part)
            for one in piece.creases
            if one is not found
            for part in line_within(straight(one.start, one.end), room)
        ),
    )
    lines = (
        *(Shape(part, Style.CUT_LINE) for part in lines_of(cut)),
        *(Shape(crease, Style.CREASE) for _, crease in creases),
        *(
            Shape(mark, Style.CENTRE_MARK)
            for mark in centre_marks(outline)
            if room.covers(mark.line) and mark.line.distance(edge.line) > _SAME
        ),
    )
    size = kept.width, kept.height
    em = letters_on(size)
    words = _fitted(template_words(pieces, project.unit, half=True), em, width)
    fold = TemplateFold(edge, (-1.0, 0.0) if upright else (0.0, -1.0))
    tones = _tones(pieces, project)
    return Template(
        outline=half,
        lines=lines,
        creases=creases,
        words=words,
        grain=piece.grain,
        em=em,
        fold=fold,
        tones=tones,
    )


def _tones(pieces: Sequence[Piece], project: Project) -> tuple[Tone, ...]:
    """How the fabrics of pieces look in all pictures, each once."""
    tones = tones_of(project)
    return tuple(dict.fromkeys(tones[piece.fabric] for piece in pieces))


def _halves(crease: Crease, piece: Piece, outline: Path) -> bool:
    """Whether a fold in half is a line of symmetry of a piece and of its other folds."""
    if crease.kind is not FoldKind.HALF:
        return False
    axis = shapely.LineString([crease.start, crease.end])
    area = outline.area
    others = shapely.MultiLineString(
        [(one.start, one.end) for one in piece.creases if one is not crease]
    )
    return (
        min(abs(a - b) for a, b in zip(crease.start, crease.end, strict=True)) < _SAME
        and area.symmetric_difference(mirrored(area, axis)).area < _SAME * outline.length
        and (others.is_empty or others.hausdorff_distance(mirrored(others, axis)) < _SAME)
    )


def _fitted(words: Iterable[TextLine], em: float, width: float) -> tuple[TextLine, ...]:
    return tuple(line for long in words for line in clipped(long, em, width))


def quarter_turned(one: Template) -> Template:
    """Turn a template by 90° clockwise on the paper, and say so."""

    def turned(path: Path) -> Path:
        return Path(quarter_turn(path.points), path.closed)

    x, y = one.fold.inwards if one.fold else (0.0, 0.0)
    return replace(
        one,
        outline=turned(one.outline),
        lines=tuple(replace(line, path=turned(line.path)) for line in one.lines),
        creases=tuple((order, turned(crease)) for order, crease in one.creases),
        words=(*one.words, _TURNED),
        grain=_ACROSS[one.grain],
        fold=TemplateFold(turned(one.fold.edge), (-y, x)) if one.fold else None,
        turned=True,
    )


def _sides_up(outline: Path, pieces: Sequence[Piece], project: Project) -> Iterator[TextLine]:
    """Say which side of the fabric is towards a person who looks at the template."""
    said = {}
    for piece in pieces:
        layers = [one for step in project.steps for one in step.layers if one.piece == piece.name]
        said[piece.title] = _side_up(outline, layers)
    if len(set(said.values())) == 1:
        said = {"": next(iter(said.values()))}
    for title, words in said.items():
        if words:
            yield TextLine(f"{title}: {words}" if title else words)


def _side_up(outline: Path, layers: Sequence[Layer]) -> str:
    if not layers:
        return ""
    if layers[0].two_sided or face_seen(layers[0], Side.FRONT) is None:
        return "either side up"
    shape = outline.area
    if shape.symmetric_difference(outline.mirrored.area).area < 1e-3 * shape.area:
        return "right side up"
    # An outline is as it is seen from the front of the hoop.
    counts = Counter(layer.up for layer in layers)
    if len(counts) == 1:
        return f"{layers[0].up} side up"
    return ", ".join(f"{counts[face]} {face} side up" for face in Face)


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
