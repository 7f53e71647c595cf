"""Every template at full size, on as few sheets as are found.

Pieces that are alike share a template, and templates share sheets; large ones are spread over
several. A template lies turned, and is half of a piece on a fold, only where that saves a sheet.

Sizes are read as a piece lies in the hoop, and a whole one is cut truer than one on a fold. Parts
of what is larger than a sheet are laid like all else, some equal, some as large as they go. The
test squares lie below or at the side of the first sheet.
"""

from collections.abc import Sequence
from dataclasses import field
from itertools import product

from paramgen.drawings.front_end.legend import entries_for
from paramgen.drawings.primitives.drawn_paths import straight
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style, flat
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.papers.alike_pieces import alike
from paramgen.papers.joined_sheets import JOIN_THEM
from paramgen.papers.prepared_template import Template, half_template, template
from paramgen.papers.sheet_filling import BoxForm, FilledSheets, SheetRoom, filled
from paramgen.papers.sheet_foot import BETWEEN, SQUARES_ALONE, SheetFoot
from paramgen.papers.sheet_frame import SheetFrame, UnnumberedSheet
from paramgen.papers.template_cells import TemplateCell, part_cells, placed, whole_cells
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Project

_TITLE = TextLine("Templates at full size", bold=True)
_CUT = "Cut along the outlines"
_FOLD = "fold in the order of the numbers"
_ON_FOLD = (
    "Half of a piece has a bracket: fold the fabric, lay that edge on the fold, and do not cut it."
)


_FIRST = (SheetFoot.SQUARES, SheetFoot.COLUMN)
# Of more templates than these it is not tried which of them need not be halves, and of more things
# to lay, whether smaller parts, that have room beside the squares, come to fewer sheets.
_FEW = 15
# All that the legend of a sheet may list.
_LEGEND = entries_for(
    Shape(straight((0.0, 0.0), (1.0, 0.0)), style)
    for style in (
        Style.CUT_LINE,
        Style.CREASE,
        Style.GRAIN,
        Style.ON_FOLD,
        Style.CENTRE_MARK,
        Style.JOIN_LINE,
    )
)


@dataclass(frozen=True)
class _Way:
    """One way to print all templates.

    Parameters
    ----------
    cells : tuple of tuples of TemplateCell
        Each thing that is laid, in every form that it may have.
    filled : FilledSheets
    """

    cells: tuple[tuple[TemplateCell, ...], ...]
    filled: FilledSheets

    @property
    def cost(self) -> tuple[int, int]:
        """Sheets, then things that are laid: parts are more of them."""
        return self.filled.count, len(self.cells)


def template_leaves(project: Project, frame: SheetFrame) -> tuple[UnnumberedSheet, ...]:
    """Lay out templates of all pieces: how often each is cut is written on it.

    Returns
    -------
    tuple of UnnumberedSheet
        The first has the test squares, and nothing else if nothing finds room beside them.
    """
    groups = alike(project.pieces)
    if not groups:
        return ()
    width = frame.inner.width
    whole = [template(group, project, width) for group in groups]
    drawn = _Drawn(frame)
    best = _way(whole, drawn)
    if frame.printing.halves and best.filled.count > 1:
        halves = [half_template(group, project, width) for group in groups]
        best = _with_halves(whole, halves, drawn, best)
    return tuple(_leaf(best, number, frame) for number in range(best.filled.count))


@dataclass(frozen=True)
class _Drawn:
    """Templates that are drawn already, so that many ways to lay them can be tried."""

    frame: SheetFrame
    wholes: dict[Template, tuple[TemplateCell, ...]] = field(default_factory=dict)
    parts: dict[tuple[Template, Box, bool], tuple[tuple[TemplateCell, ...], ...]] = field(
        default_factory=dict
    )

    def whole(self, one: Template) -> tuple[TemplateCell, ...]:
        if one not in self.wholes:
            self.wholes[one] = tuple(whole_cells(one, self.frame.inner.width))
        return self.wholes[one]

    def in_parts(
        self, one: Template, room: Box, *, full: bool
    ) -> tuple[tuple[TemplateCell, ...], ...]:
        key = one, room, full
        if key not in self.parts:
            self.parts[key] = part_cells(one, room, full=full)
        return self.parts[key]


def _with_halves(
    whole: Sequence[Template], halves: Sequence[Template | None], drawn: _Drawn, best: _Way
) -> _Way:
    """Take halves where that saves a sheet, and no more of them than that needs."""
    chosen = [half or one for one, half in zip(whole, halves, strict=True)]
    if not any(halves):
        return best
    way = _way(chosen, drawn)
    if way.filled.count >= best.filled.count:
        return best
    if len(whole) > _FEW:
        return way
    for place, half in enumerate(halves):
        if half:
            fewer = [*chosen[:place], whole[place], *chosen[place + 1 :]]
            other = _way(fewer, drawn)
            if other.filled.count <= way.filled.count:
                chosen, way = fewer, other
    return way


def _way(templates: Sequence[Template], drawn: _Drawn) -> _Way:
    """Lay templates on sheets; those that fit on none are spread over parts."""
    frame = drawn.frame
    whole = [drawn.whole(one) for one in templates]
    heading = _longest_heading(templates, parts=False)
    found = _laid(whole, *_free(frame, heading))
    if found:
        return found
    heading = _longest_heading(templates, parts=True)
    room, sheets = _free(frame, heading)
    fit = [tuple(cell for cell in forms if _fits(cell, room, sheets)) for forms in whole]
    ways: list[_Way] = []
    for foot, full in product((SheetFoot.SCALE, *_FIRST), (False, True)):
        if foot is not SheetFoot.SCALE and any(len(way.cells) > _FEW for way in ways):
            break
        largest = frame.room(heading, foot, _LEGEND)
        cells: list[tuple[TemplateCell, ...]] = []
        for one, forms in zip(templates, fit, strict=True):
            cells.extend([forms] if forms else drawn.in_parts(one, largest, full=full))
        found = _laid(cells, room, sheets)
        ways.extend([found] if found else [])
    return min(ways, key=lambda way: way.cost)


def _longest_heading(templates: Sequence[Template], *, parts: bool) -> tuple[TextLine, ...]:
    """The longest heading that a sheet can have, so that it does not change what has room."""
    folds = any(one.creases for one in templates)
    return _heading(folds=folds, halves=any(one.fold for one in templates), parts=parts)


def _laid(cells: Sequence[tuple[TemplateCell, ...]], room: Box, sheets: SheetRoom) -> _Way | None:
    found = filled([[_form(cell) for cell in forms] for forms in cells], room, sheets, BETWEEN)
    return _Way(tuple(cells), found) if found else None


def _fits(cell: TemplateCell, room: Box, sheets: SheetRoom) -> bool:
    """Whether a cell fits on any sheet but the first."""
    return (
        filled([[_form(cell)]], room, SheetRoom([sheets.others], sheets.others), BETWEEN)
        is not None
    )


def _free(frame: SheetFrame, heading: Sequence[TextLine]) -> tuple[Box, SheetRoom]:
    """Room of a sheet, and what its foot takes of it in every way that there is."""
    if frame.printing.paper.height is None:
        return frame.room(heading, SheetFoot.SQUARES), SheetRoom(((),), ())
    first = [frame.taken(foot, _LEGEND) for foot in _FIRST]
    return frame.below(heading), SheetRoom(first, frame.taken(SheetFoot.SCALE, _LEGEND))


def _form(cell: TemplateCell) -> BoxForm:
    return BoxForm(cell.box.width, cell.box.height, cell.turned)


def _leaf(way: _Way, number: int, frame: SheetFrame) -> UnnumberedSheet:
    here = [one for one in way.filled.laid if one.sheet == number]
    cells = [way.cells[one.index][one.form] for one in here]
    items: list[DrawnItem] = []
    for one, cell in zip(here, cells, strict=True):
        items.extend(placed(cell, one.box))
    styles = {one.style for one in flat(items) if isinstance(one, Shape)}
    heading = _heading(
        folds=Style.CREASE in styles,
        halves=Style.ON_FOLD in styles,
        parts=any(cell.part for cell in cells),
    )
    if not cells:
        heading = (_TITLE, SQUARES_ALONE)
    says = ". ".join(cell.says for cell in cells)
    return UnnumberedSheet(
        heading=heading,
        picture=tuple(items),
        bottom=max((one.box.bottom for one in here), default=frame.below(heading).top),
        legend=tuple(entry for entry in _LEGEND if entry.style in styles),
        says=f"Templates: {says}." if says else SQUARES_ALONE.text,
        foot=SheetFoot.SCALE if number else _FIRST[way.filled.first],
    )


def _heading(*, folds: bool, halves: bool, parts: bool) -> tuple[TextLine, ...]:
    say = [f"{_CUT}; {_FOLD}." if folds else f"{_CUT}."]
    say.extend([_ON_FOLD] if halves else [])
    say.extend([JOIN_THEM] if parts else [])
    return (_TITLE, TextLine(" ".join(say)))
