"""Pictures with the words to them beside, as text of the page: letters that never shrink with them.

A picture alone is drawn as wide as there is room. On a phone words in it would be too small to
read, and at a desk it would be as high as the window with a third of that for its legend.
"""

from base64 import b64encode
from functools import lru_cache

from markupsafe import Markup

from paramgen.booklet.lettered_pictures import (
    LETTERS,
    LetteredPicture,
    LetterKey,
    keyed,
    lettered,
    samples,
)
from paramgen.booklet.word_setting import capital
from paramgen.drawings.front_end.framed_picture import FramedPicture
from paramgen.drawings.front_end.legend import LegendEntry
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.pictures.whole_project import numbered_words, whole_sheet
from paramgen.vocabulary.frozen_data import dataclass

#: Room for a picture, mm: drawn as wide as a phone, 358 of 390 px, letters of 3 mm are 9 to 11 px.
WHOLE_ROOM, FINISHED_ROOM = (116.0, 128.0), (100.0, 108.0)

#: So many samples are kept: those of a person's last few projects.
_MOST_SAMPLES = 512


@dataclass(frozen=True)
class ShownSample:
    """A sample of what a picture is drawn with, as a picture of its own.

    Parameters
    ----------
    data : str
        SVG, in base 64.
    means : str
    """

    data: str
    means: str


@dataclass(frozen=True, kw_only=True)
class SaidPicture:
    """A picture and what is said beside it.

    Parameters
    ----------
    svg : Markup
    title, note : str
        What it is, and how it is seen.
    key : tuple of LetterKey
        What letters in it stand for.
    samples : tuple of ShownSample
    """

    svg: Markup
    title: str
    note: str
    key: tuple[LetterKey, ...]
    samples: tuple[ShownSample, ...]


def whole_said(scene: Scene) -> SaidPicture:
    """Every stitched line of a project in its hoop; the numbers are explained by the samples."""
    view, (wide, high) = scene.whole_view, WHOLE_ROOM
    em = LETTERS * max(view.width / wide, view.height / high)
    sheet = whole_sheet(scene, em)
    note = f"Seen from the front; {sheet.above}. {numbered_words(scene, em)}".rstrip()
    return said_beside(sheet, keyed(sheet, wide, high, ()), note)


def finished_said(sheet: FramedPicture) -> SaidPicture:
    """The finished thing from one side."""
    note = " ".join(line.text for line in sheet.heading[2:])
    return said_beside(sheet, lettered(sheet, *FINISHED_ROOM), note)


def said_beside(sheet: FramedPicture, picture: LetteredPicture, note: str = "") -> SaidPicture:
    """What stands beside a picture that has letters instead of words.

    Parameters
    ----------
    sheet : FramedPicture
    picture : LetteredPicture
        The same with letters.
    note : str
        How it is seen.
    """
    return SaidPicture(
        svg=Markup(picture.svg),
        title=capital(sheet.title.rpartition(": ")[2].removeprefix("finished, ")),
        note=note,
        key=picture.key,
        samples=tuple(_sample(one) for one in sheet.legend),
    )


@lru_cache(_MOST_SAMPLES)
def _sample(entry: LegendEntry) -> ShownSample:
    (one,) = samples((entry,))
    return ShownSample(b64encode(one.picture.svg.encode()).decode(), one.means)
