"""Pictures small enough to stand beside their text: letters in them, the words below."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from paramgen.booklet.word_setting import capital
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.framed_picture import FramedPicture
from paramgen.drawings.front_end.legend import SAMPLE, LegendEntry, sample
from paramgen.drawings.primitives.drawn_paths import box_of, straight
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Group, Shape, Style, flat
from paramgen.drawings.primitives.symbols import badge, badge_radius
from paramgen.geometry.along_path import points_at
from paramgen.lengths import spaced
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Path, Point

#: Room for a picture beside its text on paper, mm.
WIDTH, HEIGHT = 76.0, 70.0
#: Size of the letters in it as it then stands, mm: 8.5 points.
LETTERS = 3.0
#: Things so small that a letter would hide them.
SMALL = (Style.HARDWARE, Style.SLIDER)

# So many times as high as another is a picture with a smaller one below it.
_WITH_BELOW = 1.2

# A letter hides what fits into a circle of so many of its radii.
_HIDES = 1.6

# In radii of a letter: half the width of an arrow's shaft, and a little more.
_SHAFT = 0.25

# Rings round a place in which room for its letter is looked for, in radii, and directions.
_RINGS, _DIRECTIONS = (0.0, 2.2, 3.2, 4.4, 6.0, 8.0), 12


@dataclass(frozen=True)
class LetterKey:
    """What a letter or a number in a picture stands for.

    Parameters
    ----------
    letter : str
    title : str
        Begins with a capital.
    says : str
        More about it; may be empty.
    """

    letter: str
    title: str
    says: str


@dataclass(frozen=True, kw_only=True)
class LetteredPicture:
    """A picture ready to be set.

    Parameters
    ----------
    name : str
        Unlike that of any other in the booklet.
    svg : str
    width, height : float
        As it is to stand on paper, mm.
    says : str
        All it shows, in words.
    key : tuple of LetterKey
    title, note : str
        What it is, and how it is seen, to be said above the key; may be empty.
    """

    name: str
    svg: str
    width: float
    height: float
    says: str
    key: tuple[LetterKey, ...] = ()
    title: str = ""
    note: str = ""


@dataclass(frozen=True)
class StyleSample:
    """A sample of what the pictures are drawn with, and what it means."""

    picture: LetteredPicture
    means: str


def plain(sheet: FramedPicture, width: float, height: float) -> LetteredPicture:
    """Leave out all but the picture.

    Parameters
    ----------
    sheet : FramedPicture
    width, height : float
        Room for it on paper, mm.
    """
    return _pictured(sheet, f"small-{sheet.name}", _shrunk(sheet, width, height))


def keyed(
    sheet: FramedPicture, width: float, height: float, key: tuple[LetterKey, ...]
) -> LetteredPicture:
    """Leave out all but the picture, and explain beside it the numbers that are in it.

    Parameters
    ----------
    sheet : FramedPicture
    width, height : float
        Room for it on paper, mm.
    key : tuple of LetterKey
    """
    return _pictured(sheet, f"picture-{sheet.name}", _shrunk(sheet, width, height), key=key)


def lettered(sheet: FramedPicture, width: float = WIDTH, height: float = HEIGHT) -> LetteredPicture:
    """Put letters into a picture where its labels lead to, and into the one below it.

    Parameters
    ----------
    sheet : FramedPicture
    width, height : float
        Room for it on paper, mm; with one below it, it is so much higher.
    """
    under = sheet.inset
    if under is not None:
        height *= _WITH_BELOW
        sheet = replace(
            sheet,
            view=around([sheet.view, under.view]),
            picture=(*sheet.picture, Group("inset", under.picture)),
            labels=(*sheet.labels, *under.labels),
        )
    view, shrunk = sheet.view, _shrunk(sheet, width, height)
    em = LETTERS / shrunk
    radius = badge_radius("W", em)
    letters: list[DrawnItem] = []
    key: list[LetterKey] = []
    # A letter must not hide what is hardly larger than itself.
    taken = [
        _round(item.path)
        for item in flat(sheet.picture)
        if isinstance(item, Shape) and (item.style in SMALL or _hidden_by(radius, item))
    ]
    for item in flat(sheet.picture):
        if isinstance(item, Shape) and item.style is Style.WAY:
            taken.extend(_arrow(item.path, _SHAFT * radius))
    for number, label in enumerate(sheet.labels):
        letter = letter_of(number)
        at = _free(label.at, taken, radius, view)
        taken.append((at, radius))
        if at != label.at:
            letters.append(Shape(straight(label.at, at), Style.LEADER))
        letters.extend(badge(at, letter, em))
        title, *more = (spaced(line.text) for line in label.lines)
        key.append(LetterKey(letter, capital(title), ", ".join(more)))
    return _pictured(sheet, f"picture-{sheet.name}", shrunk, tuple(letters), tuple(key))


def _shrunk(sheet: FramedPicture, width: float, height: float) -> float:
    return min(width / sheet.view.width, height / sheet.view.height, 1.0)


def _pictured(
    sheet: FramedPicture,
    name: str,
    shrunk: float,
    letters: tuple[DrawnItem, ...] = (),
    key: tuple[LetterKey, ...] = (),
) -> LetteredPicture:
    box = sheet.view.grown(0.5 / shrunk)
    items = (Group("picture", sheet.picture), Group("letters", letters))
    drawing = Drawing(
        name=name,
        title=sheet.title,
        description=sheet.description,
        box=box,
        scale=1 / shrunk,
        items=items,
    )
    return pictured(drawing, shrunk, key)


def pictured(
    drawing: Drawing, shrunk: float = 1.0, key: tuple[LetterKey, ...] = ()
) -> LetteredPicture:
    """Write a drawing out, to stand so many times its size."""
    box = drawing.box
    says = f"{drawing.title}. {drawing.description}"
    svg = to_svg(drawing)
    return LetteredPicture(
        name=drawing.name,
        svg=svg,
        width=box.width * shrunk,
        height=box.height * shrunk,
        says=says,
        key=key,
    )


def letter_of(number: int) -> str:
    """Letter for the nth of something, from 0: A to Z, then A2 and on."""
    turn, place = divmod(number, 26)
    return chr(ord("A") + place) + (str(turn + 1) if turn else "")


def samples(entries: Iterable[LegendEntry]) -> Iterator[StyleSample]:
    """Draw a sample of each style that has words, once."""
    seen: dict[str, LegendEntry] = {}
    for entry in entries:
        seen.setdefault(entry.caption, entry)
    em = 3.0
    box = Box(-1.0, -0.8 * em, SAMPLE * em + 1.0, 0.8 * em)
    for number, (caption, entry) in enumerate(seen.items(), 1):
        items: tuple[DrawnItem, ...] = sample(entry, (0.0, 0.0), em)
        drawing = Drawing(
            name=f"sample-{number}",
            title="Sample",
            description=caption,
            box=box,
            scale=1.0,
            items=(Group("sample", items),),
        )
        yield StyleSample(pictured(drawing), caption)


def _hidden_by(radius: float, item: Shape) -> bool:
    """Whether little would be seen of what a step is about, were a letter put on it."""
    told = item.now or item.style is Style.TAPE_OFF
    return told and _round(item.path)[1] < _HIDES * radius


def _round(outline: Path) -> tuple[Point, float]:
    """Middle and radius of a circle that holds an outline."""
    centre = box_of([outline]).centre
    return centre, max(math.dist(point, centre) for point in outline.points.tolist())


def _arrow(part: Path, thick: float) -> list[tuple[Point, float]]:
    """Circles that hold an arrow's head or its shaft, by middle and radius."""
    if part.closed:
        centre, reach = _round(part)
        return [(centre, reach + thick)]
    at = np.linspace(0.0, part.length, 2 + math.ceil(part.length / thick))
    return [((x, y), thick) for x, y in points_at(part, at).tolist()]


def _free(at: Point, taken: Sequence[tuple[Point, float]], radius: float, view: Box) -> Point:
    """Find the place nearest to a point where a letter hides nothing taken and stays in the view.

    What is taken is given as circles, by middle and radius.
    """
    inner = view.grown(-radius)
    for ring in _RINGS:
        for turn in range(_DIRECTIONS if ring else 1):
            angle = 2 * math.pi * turn / _DIRECTIONS
            x = min(max(at[0] + ring * radius * math.cos(angle), inner.left), inner.right)
            y = min(max(at[1] + ring * radius * math.sin(angle), inner.top), inner.bottom)
            if all(math.hypot(x - a, y - b) > 1.05 * (radius + r) for (a, b), r in taken):
                return x, y
    return at
