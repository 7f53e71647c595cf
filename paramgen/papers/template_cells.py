"""A template with its words, or one part of it, and the room that this takes on a sheet."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely

from paramgen.drawings.front_end.piece_marks import (
    SWATCH,
    MarkingPlace,
    TemplateFold,
    marked,
    spare,
    swatches,
)
from paramgen.drawings.primitives.drawn_paths import box_of, line_within
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style, flat
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, paragraph
from paramgen.papers.joined_sheets import PictureTile, assembly_map, joins, tiled
from paramgen.papers.move_and_clip import moved, within
from paramgen.papers.prepared_template import Template, quarter_turned
from paramgen.papers.sheet_foot import LETTERS, clipped
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.frozen_data import dataclass

# Half the width of a line, kept free round an outline, mm.
_EDGE = 0.5
# Words beside a piece take this width, in ems.
_NOTE = 22.0
# Sides of a map of how parts lie together, mm: the largest for which there is room.
_MAPS = (30.0, 22.0, 16.0)
# Kept clear round such a map, mm.
_CLEAR = 2.0
# Above a part, its name takes one line, as wide as the part or as this, mm.
_LEAST_NAME = 40.0
# A number on an edge that lies on a fold reaches so far past it, mm.
_PAST_FOLD = 3.6


@dataclass(frozen=True)
class TemplateCell:
    """A template with its words, and the room they take together.

    Parameters
    ----------
    items : tuple of DrawnItem
    box : Box
    says : str
    turned : bool
    part : bool
        Whether it is joined to others.
    """

    items: tuple[DrawnItem, ...]
    box: Box
    says: str
    turned: bool = False
    part: bool = False


def whole_cells(template: Template, width: float) -> Iterator[TemplateCell]:
    """Put a template and its words together, in every way that there is, and turned as well.

    Parameters
    ----------
    template : Template
    width : float
        Of a sheet, mm.
    """
    for one in (template, quarter_turned(template)):
        yield from _cells(one, width)


def _cells(template: Template, width: float) -> Iterator[TemplateCell]:
    box, em, words = template.box, template.em, template.words
    place = MarkingPlace(template.outline.area, box, em)
    on_it = marked(
        place,
        template.creases,
        template.grain,
        words,
        template.marks,
        template.tones,
        template.fold,
    )
    left = words if on_it.written == 0 else () if on_it.written == len(words) else words[1:]
    items: tuple[DrawnItem, ...] = (*template.lines, *on_it.items)
    edge = _around(items, box)
    if not left:
        yield TemplateCell(items, edge, template.says, template.turned)
        return
    note = min(_NOTE * em, width)
    # Where not even the title is on the piece, its fabrics stand over the words, as they do there.
    tones = () if on_it.written else template.tones
    for at, room in (
        ((box.left, edge.bottom + 1.0), max(note, box.width)),
        ((edge.right + 1.0, box.top), note),
    ):
        patches = tuple(swatches(tones, at, em))
        low = SWATCH[1] * em if patches else 0.0
        texts = paragraph(left, (at[0], at[1] + low), em, room)
        both = around([edge, box_of_texts(texts), *(box_of((one.path,)) for one in patches)])
        yield TemplateCell((*items, *patches, *texts), both, template.says, template.turned)


def _around(items: Sequence[DrawnItem], box: Box) -> Box:
    """Box round all that is drawn, half a line wider."""
    rings = [one.path for one in flat(items) if isinstance(one, Shape)]
    return around([box, box_of(rings)]).grown(_EDGE)


def part_cells(
    template: Template, room: Box, *, full: bool
) -> tuple[tuple[TemplateCell, ...], ...]:
    """Spread one template over several parts that are joined, turned if it then takes fewer.

    Parameters
    ----------
    template : Template
    room : Box
        Of a sheet: no part is larger.
    full : bool
        Whether all parts but the last are as large as they may be; else all are about equal.
    """
    spread = [(one, _spread(one, room, full=full)) for one in (template, quarter_turned(template))]
    template, tiles = min(spread, key=lambda one: len(one[1]))
    cells, written = [], False
    for tile in tiles:
        cell, all_of_it = _part(template, tile, tiles)
        cells.append((cell,))
        written = written or all_of_it
    if not written:
        texts = paragraph(template.words, (0.0, 0.0), LETTERS, room.width)
        cells.append((TemplateCell(texts, box_of_texts(texts), template.says),))
    return tuple(cells)


def _spread(template: Template, room: Box, *, full: bool) -> tuple[PictureTile, ...]:
    """Tiles, none of which is joined to another along a fold."""
    down, across = [], []
    for _, crease in template.creases:
        box = crease.box
        if box.width < box.height:
            down.append((box.left + box.right) / 2)
        else:
            across.append((box.top + box.bottom) / 2)
    name = paragraph((TextLine("A"),), (0.0, 0.0), LETTERS, _LEAST_NAME)
    past = 2 * _EDGE + (_PAST_FOLD if template.fold else 0.0)
    width, height = room.width - past, room.height - past - box_of_texts(name).height
    return tiled(template.box, width, height, template.outline.area, (down, across), full=full)


def _part(
    template: Template, tile: PictureTile, tiles: Sequence[PictureTile]
) -> tuple[TemplateCell, bool]:
    """One part with its name above it, and whether all words found room on it."""
    several = len(tiles) > 1
    title = template.words[0].text
    on_it, written = _on_part(template, tile, tiles)
    lines: tuple[DrawnItem, ...] = (
        *within(template.lines, tile.window),
        *(joins(tile, tuple(tiles)) if several else ()),
        *on_it,
    )
    across, down = tile.strip
    box = _around(
        lines,
        Box(
            tile.window.left - across,
            tile.window.top - down,
            tile.window.right + across,
            tile.window.bottom + down,
        ),
    )
    name = f"Part {tile.name} (A1 to {tiles[-1].name}): {title}" if several else title
    line = clipped(TextLine(name, bold=True), LETTERS, max(box.width, _LEAST_NAME), lines=1)
    texts = paragraph(line, (box.left, 0.0), LETTERS, 2 * max(box.width, _LEAST_NAME))
    texts = tuple(
        replace(one, at=(one.at[0], one.at[1] + box.top - box_of_texts(texts).bottom))
        for one in texts
    )
    says = f"part {tile.name} of {template.says}" if several else template.says
    both = around([box, box_of_texts(texts)])
    return TemplateCell((*texts, *lines), both, says, template.turned, several), written


def _on_part(
    template: Template, tile: PictureTile, tiles: Sequence[PictureTile]
) -> tuple[tuple[DrawnItem, ...], bool]:
    """Name a part, number its creases, and show where it lies, where there is room on it."""
    inner = tile.trim.grown(-2.0)
    inside = template.outline.area.intersection(_shape(inner))
    creases = [
        (order, part.path)
        for order, crease in template.creases
        for part in within((Shape(crease, Style.CREASE),), tile.window)
    ]
    others = [
        part.path
        for one in template.lines
        if one.style is Style.CENTRE_MARK
        for part in within((one,), tile.window)
    ]
    fold = _fold_on(template, tile)
    numbers = tile.window
    if fold:
        numbers = around([numbers, box_of((fold.edge,)).grown(_PAST_FOLD)])
    title, *words = template.words
    several = len(tiles) > 1
    name = TextLine(f"{title.text} {tile.name}", bold=True) if several else title
    place = MarkingPlace(inside, inner, template.em, numbers=numbers)
    on_it = marked(place, creases, template.grain, (name, *words), others, template.tones, fold)
    drawn = on_it.items
    if several:
        lines = tuple(Shape(one, Style.CREASE) for one in (*(c for _, c in creases), *others))
        drawn = (*drawn, *_map(template, tile, tiles, place, (*lines, *drawn)))
    return drawn, on_it.written == len(words) + 1


def _fold_on(template: Template, tile: PictureTile) -> TemplateFold | None:
    """Share that a part has of the edge on a fold."""
    if template.fold is None:
        return None
    parts = line_within(template.fold.edge, _shape(tile.trim.grown(0.01)))
    return replace(template.fold, edge=parts[0]) if parts else None


def _map(
    template: Template,
    tile: PictureTile,
    tiles: Sequence[PictureTile],
    place: MarkingPlace,
    taken: Sequence[DrawnItem],
) -> tuple[DrawnItem, ...]:
    view = template.box
    for side in _MAPS:
        ratio = side / max(view.width, view.height)
        clear = 2 * _CLEAR
        room = spare(place, taken, view.width * ratio + clear, view.height * ratio + clear)
        if room:
            room = room.grown(-_CLEAR)
            outline = (Shape(template.outline, Style.PIECE_OUTLINE),)
            return assembly_map(view, outline, tuple(tiles), tile, room)
    return ()


def _shape(box: Box) -> shapely.Polygon:
    return shapely.box(box.left, box.top, box.right, box.bottom)


def placed(cell: TemplateCell, box: Box) -> tuple[DrawnItem, ...]:
    """A cell's items where it lies on a sheet."""
    return moved(cell.items, box.left - cell.box.left, box.top - cell.box.top)
