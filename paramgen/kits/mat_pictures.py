"""Mats as they are laid: the lines to cut at true size, and the picture with letters."""

from collections.abc import Iterator

import shapely

from paramgen.drawings.primitives.drawn_paths import rectangle
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Group, Shape, Style, Tone
from paramgen.kits.cloth_on_mats import ClothOnMats, sheet_size
from paramgen.kits.cutting_picture import ROOM, SCALES, letter_on
from paramgen.kits.mat_words import letters_on, mat_title
from paramgen.mats.outlines_to_nest import Mat, NestedMat
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import Path, path

#: Letters as they are shown, mm.
_EM = 3.2
#: Round the mat, mm as it is shown.
_ROUND = 1.0
#: Two are to go on a page, mm.
_HIGH = 90.0


def mat_scale(mat: Mat) -> int:
    """How many times smaller a mat is shown."""
    wanted = max(mat.width / ROOM[0], mat.height / _HIGH)
    return next((one for one in SCALES if one >= wanted), SCALES[-1])


def lines_to_cut(laid: ClothOnMats, number: int, name: str) -> Drawing:
    """The outlines of one mat at true size and nothing else, from its upper left corner.

    Parameters
    ----------
    laid : ClothOnMats
    number : int
        Of the mat, from 1.
    name : str
        Of the drawing.
    """
    one, _ = laid.plan.mats[number - 1]
    mat = laid.plan.mat
    title = mat_title(laid, number)
    return Drawing(
        name=name,
        title=title,
        description="Lines to cut, at true size.",
        box=Box(0.0, 0.0, mat.width, mat.height),
        scale=1.0,
        items=tuple(Shape(_outline(shape), Style.CUT_LINE) for shape in one.shapes),
    )


def mat_picture(laid: ClothOnMats, number: int, name: str) -> Drawing:
    """A mat with its sheet of cloth, and each piece with its letter."""
    one, _ = laid.plan.mats[number - 1]
    mat = laid.plan.mat
    scale = float(mat_scale(mat))
    letters = letters_on(laid)
    counted: dict[str, int] = {}
    for piece in one.pieces:
        title = laid.piece(piece.name).title
        counted[title] = counted.get(title, 0) + 1
    told = ", ".join(f"{many} × {title}" for title, many in counted.items())
    return Drawing(
        name=name,
        title=f"{mat_title(laid, number)}, drawn 1 : {scale:.0f}",
        description=f"{told}.",
        box=Box(0.0, 0.0, mat.width, mat.height).grown(_ROUND * scale),
        scale=scale,
        items=tuple(_items(laid, one, letters, scale)),
    )


def _items(
    laid: ClothOnMats, one: NestedMat, letters: dict[int, str], scale: float
) -> Iterator[DrawnItem]:
    mat = laid.plan.mat
    yield Shape(rectangle(Box(0.0, 0.0, mat.width, mat.height)), Style.HOOP_FIELD)
    sheet = rectangle(Box(0.0, 0.0, *sheet_size(mat, one)))
    yield Shape(sheet, Style.CUT_AWAY)
    yield Shape(sheet, Style.RAW_EDGE)
    tones = {letter: Tone(place, letter) for place, letter in enumerate(letters.values())}
    for place, (piece, shape) in enumerate(zip(one.pieces, one.shapes, strict=True), 1):
        letter = letters[laid.place(piece.name)]
        outline = _outline(shape)
        held: list[DrawnItem] = [
            Shape(outline, Style.SWATCH, tone=tones[letter]),
            Shape(outline, Style.CUT_LINE),
            *letter_on(letter, _middle(shape), _EM * scale),
        ]
        yield Group(f"piece-{place}", tuple(held), laid.piece(piece.name).title)


def _outline(shape: shapely.Polygon) -> Path:
    return path(shapely.get_coordinates(shape.exterior)[:-1], closed=True)


def _middle(shape: shapely.Polygon) -> Box:
    """A box about a point well inside a shape: its middle, or where most room is."""
    widest, edge = map(shapely.Point, shapely.maximum_inscribed_circle(shape, 0.5).coords)
    most, middle = widest.distance(edge), shape.centroid
    about = (
        middle if middle.within(shape) and middle.distance(shape.boundary) > most / 2 else widest
    )
    half = about.distance(shape.boundary) / 2**0.5
    return Box(about.x - half, about.y - half, about.x + half, about.y + half)
