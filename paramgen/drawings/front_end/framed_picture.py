"""What every drawing has round its picture: heading, labels, legend and check marks."""

from paramgen.drawings.front_end.labels import Label, labelled
from paramgen.drawings.front_end.legend import LegendEntry, legend_block
from paramgen.drawings.primitives.drawn_paths import rectangle
from paramgen.drawings.primitives.items import Anchor, Drawing, DrawnItem, Group, Shape, Style, Text
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, moved, paragraph
from paramgen.drawings.primitives.symbols import check_marks, check_marks_width
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Path

#: Least size of letters, mm: about 7 points, which print clearly.
LEAST_LETTERS = 2.6

# A large drawing is shown shrunk to the width of a page: its letters grow with it.
_LETTERS_PER_WIDTH = 0.0215
_LETTERS_PER_HEIGHT = 0.015

# In ems.
_MARGIN = 1.2
_COLUMN = 17.0
_PLAN = 7.0
_LEAST_WIDTH = 24.0


@dataclass(frozen=True)
class Inset:
    """A smaller picture below another.

    Parameters
    ----------
    heading : str
    view : Box
        Room that it takes, right below the picture's; the heading stands at its top.
    picture : tuple of DrawnItem
    labels : tuple of Label
    """

    heading: str
    view: Box
    picture: tuple[DrawnItem, ...]
    labels: tuple[Label, ...]


@dataclass(frozen=True, kw_only=True)
class FramedPicture:
    """A picture and what goes round it.

    Parameters
    ----------
    name, title, description : str
        As for `Drawing`.
    heading : tuple of TextLine
    above : str
        Over the middle of the picture; may be empty.
    view : Box
        Room that the picture takes.
    picture : tuple of DrawnItem
    legend : tuple of LegendEntry
    letters : float
        Size of the text, mm.
    labels : tuple of Label
    notes : tuple of TextLine
        Below the picture.
    plan : (Box, Box) or None
        The hoop field and the part of it that the view shows, for a small plan at the
        head of the column of labels.
    column : bool
        Whether room is kept for labels, wanted or not.
    inset : Inset or None
    """

    name: str
    title: str
    description: str
    heading: tuple[TextLine, ...]
    above: str
    view: Box
    picture: tuple[DrawnItem, ...]
    legend: tuple[LegendEntry, ...]
    letters: float
    labels: tuple[Label, ...] = ()
    notes: tuple[TextLine, ...] = ()
    plan: tuple[Box, Box] | None = None
    column: bool = False
    inset: Inset | None = None


def letters_for(view: Box) -> float:
    """Size of letters that can be read whether the drawing is shown large or small, mm."""
    return max(LEAST_LETTERS, _LETTERS_PER_WIDTH * view.width, _LETTERS_PER_HEIGHT * view.height)


def composed(sheet: FramedPicture) -> Drawing:
    """Put a picture and what goes round it together."""
    em, view = sheet.letters, sheet.view
    margin = _MARGIN * em
    frame = view.right + ((_COLUMN + 1.5) * em if sheet.column else 0.0) - view.left
    missing = max(0.0, check_marks_width(em) - frame, _LEAST_WIDTH * em - frame)
    left, right = view.left - missing / 2, view.left + frame + missing / 2

    heading = paragraph(sheet.heading, (left, 0.0), em * 1.1, right - left)
    lift = view.top - 1.9 * em - box_of_texts(heading).bottom
    heading = tuple(moved(text, 0.0, lift) for text in heading)
    if sheet.above:
        middle = (view.centre[0], view.top - 0.6 * em)
        heading = (*heading, Text(middle, sheet.above, em, Anchor.MIDDLE))

    column = Box(view.right + 1.5 * em, view.top, view.right + (1.5 + _COLUMN) * em, view.bottom)
    plan, low = _plan(sheet.plan, column, em) if sheet.plan else ((), column.top)
    column = Box(column.left, low, column.right, column.bottom)
    labels, low = labelled(sheet.labels, column, em)

    inset: tuple[Group, ...] = ()
    if sheet.inset is not None:
        group, low = _inset(sheet.inset, column, low, em)
        inset, view = (group,), sheet.inset.view

    y = max(low, view.bottom) + em
    notes = paragraph(sheet.notes, (left, y), em, right - left)
    y = box_of_texts(notes).bottom + 0.6 * em if notes else y
    legend, y = legend_block(sheet.legend, Box(left, y, right, y), em)
    marks, y = check_marks((left, y + 0.3 * em), em)

    top = min(text.box.top for text in heading)
    return Drawing(
        name=sheet.name,
        title=sheet.title,
        description=sheet.description,
        box=Box(left, top, right, y).grown(margin),
        scale=em / LEAST_LETTERS,
        items=(
            Group("picture", sheet.picture),
            Group("heading", heading),
            Group("labels", (*plan, *labels)),
            *inset,
            Group("notes", notes),
            Group("legend", legend, "Legend"),
            Group("check-marks", marks, "Check marks"),
        ),
    )


def _inset(inset: Inset, column: Box, low: float, em: float) -> tuple[Group, float]:
    """Put the smaller picture together, its labels below those that end so low."""
    view = inset.view
    heading = paragraph((TextLine(inset.heading),), (view.left, view.top + em), em, view.width)
    top = max(view.top, low + 0.8 * em)
    labels, low = labelled(
        inset.labels, Box(column.left, top, column.right, max(top, view.bottom)), em
    )
    return Group("inset", (*inset.picture, *heading, *labels)), low


def _plan(plan: tuple[Box, Box], column: Box, em: float) -> tuple[tuple[DrawnItem, ...], float]:
    """Draw the hoop field small, with the part that is shown; say where it ends."""
    field, shown = plan
    ratio = _PLAN * em / max(field.width, field.height)

    def small(box: Box) -> Path:
        left = column.left + (box.left - field.left) * ratio
        top = column.top + (box.top - field.top) * ratio
        return rectangle(Box(left, top, left + box.width * ratio, top + box.height * ratio))

    items = (Shape(small(field), Style.HOOP_FIELD), Shape(small(shown), Style.CUT_LINE))
    return items, column.top + field.height * ratio + em
