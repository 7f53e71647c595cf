"""Words on a panel: a single line or satin, on a line or an arc, as high as asked or as fits."""

from functools import lru_cache
from types import MappingProxyType

import numpy as np

from paramgen.embellishment.embellishment_kind import (
    EmbellishmentKind,
    FreeGround,
    Worked,
    stop_to_stitch,
)
from paramgen.embellishment.ground_findings import largest_room, no_room
from paramgen.embellishment.kind_options import (
    Embellishment,
    MeasureOption,
    TextOption,
    WordOption,
)
from paramgen.embellishment.letter_heights import (
    MOST_HEIGHT,
    PEN,
    height_in_width,
    least_height,
    words_set,
)
from paramgen.embellishment.place_on_ground import (
    PLACING,
    TURN,
    largest_alike,
    place_for,
    taken_by,
    turned_points,
    turned_size,
)
from paramgen.embellishment.satin_column import SPACING, Satin
from paramgen.embellishment.satin_letters import satin_letters
from paramgen.embellishment.satin_options import DENSITY, PULLED
from paramgen.embellishment.single_line_letters import single_line_letters
from paramgen.lengths import round_down, show_both
from paramgen.letters.letterforms import unknown_letters
from paramgen.letters.set_words import FARTHEST_ROUND, TIGHTEST_ARC
from paramgen.vocabulary.facts import Mm, Name, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.path import FloatArray, Path
from paramgen.vocabulary.project import Stitch

TEXT = TextOption(name="text", means="the words, in quotes", longest=60)
LETTERS = WordOption(
    name="letters",
    words=MappingProxyType(
        {
            "satin": "filled strokes, sewn from edge to edge",
            "single line": "a single line, sewn out and back",
        }
    ),
    also=MappingProxyType({"line": "single line", "run": "single line", "filled": "satin"}),
)
HEIGHT = MeasureOption(
    name="height",
    means="of a capital",
    default=None,
    least=1.0,
    most=MOST_HEIGHT,
    bare=True,
)
WIDTH = MeasureOption(
    name="width",
    means="of the words; as high as they then come out",
    default=None,
    least=5.0,
    most=2000.0,
)
ARC = MeasureOption(
    name="arc", means="radius of the arc they stand on", default=None, least=5.0, most=2000.0
)
BEND = WordOption(
    name="bend",
    words=MappingProxyType(
        {
            "over": "over the top of the circle of an arc",
            "under": "along the foot of that circle",
        }
    ),
)

#: What words take of the width that there is, unless it is said, and their greatest height then.
_SHARE, _USUAL_HEIGHT = 0.6, 20.0
#: That height is a whole number of these where that is not too low, mm.
_USUAL_STEP = 0.5


def words(asked: Embellishment, ground: FreeGround) -> Worked:
    """Stitch words on a panel."""
    text = " ".join(asked.words_of(TEXT).split())
    if found := _not_drawn(ground, text):
        return Worked(findings=(found,))
    satin = asked.word(LETTERS) == "satin"
    radius = asked.measure(ARC)
    bend = None if radius is None else radius * (1 if asked.word(BEND) == "over" else -1)
    height = _height(asked, ground, text, satin, bend)
    least = least_height(satin=satin)
    if height < least - 1e-9:
        return Worked(findings=(_too_low(asked, ground, text, height, satin, bend),))
    try:
        set_out = words_set(text, height, satin, bend)
    except ValueError:
        return Worked(findings=(_too_bent(ground, text, height, abs(bend or 0.0), satin),))
    pull = asked.measure(PULLED) or 0.0
    edge = pull if satin else 0.0
    turn = asked.measure(TURN) or 0.0
    size = turned_size((set_out.box.width + edge, set_out.box.height + edge), turn)
    middle = place_for(asked, ground, size)
    if middle is None:
        return Worked(
            findings=(
                no_room(
                    asked,
                    ground,
                    what=f"“{text}”",
                    needs=size,
                    has=largest_alike(ground.area, size),
                ),
            )
        )
    needles = _needles(text, height, satin, bend, asked.measure(DENSITY) or SPACING, pull)
    paths = tuple(Path(turned_points(run, turn) + np.array(middle), False) for run in needles)
    how = "in satin" if satin else "in a single line"
    step = stop_to_stitch(
        f"Stitch “{text}”",
        f"Stitch “{text}” {how} on the {ground.title}, its capitals "
        f"{show_both(height, ground.unit)} high. Cut the threads between the letters as you go, "
        "or once it is out of the hoop.",
        "words",
        paths,
        Stitch(StitchKind.AS_DRAWN, 2.0),
        called=f"words on the {ground.title}",
    )
    return Worked(steps=(step,), taken=taken_by(middle, size))


@lru_cache(maxsize=64)
def _needles(
    text: str, height: float, satin: bool, bend: float | None, spacing: float, pull: float
) -> tuple[FloatArray, ...]:
    set_out = words_set(text, height, satin, bend)
    if not satin:
        return single_line_letters(set_out)
    return satin_letters(set_out, Satin(width=height * PEN, spacing=spacing, pull=pull))


def _height(
    asked: Embellishment, ground: FreeGround, text: str, satin: bool, bend: float | None
) -> float:
    """Height of a capital: as said, as the width that is said gives, or as there is room."""
    said, width = asked.measure(HEIGHT), asked.measure(WIDTH)
    if width is not None:
        fitted = height_in_width(text, width, satin, bend)
        return fitted if said is None else min(said, fitted)
    if said is not None:
        return said
    room = largest_room(ground.area)
    if room is None:
        return _USUAL_HEIGHT
    usual = _SHARE * room[0]
    fitted = min(_USUAL_HEIGHT, height_in_width(text, usual, satin, bend), _SHARE * room[1])
    # The same while a panel grows by a little, so that they need not be stitched anew for that.
    stepped = round_down(fitted, _USUAL_STEP)
    return stepped if stepped >= least_height(satin=satin) else fitted


def _not_drawn(ground: FreeGround, text: str) -> Finding | None:
    """That there are no words, or letters in them that are not drawn."""
    unknown = unknown_letters(text)
    if text and not unknown:
        return None
    return Finding(
        "words-not-drawn",
        Severity.CANNOT,
        facts(
            letters=Name("key", "letters", " ".join(unknown)) if unknown else None,
            panel=ground.panel.called,
        ),
        variant="" if unknown else "no-words",
        piece=ground.panel.piece,
    )


def _too_low(
    asked: Embellishment,
    ground: FreeGround,
    text: str,
    height: float,
    satin: bool,
    bend: float | None,
) -> Finding:
    """That words would be too low to be sewn, and the width that they need."""
    least = least_height(satin=satin)
    said = asked.measure(HEIGHT) is not None and asked.measure(WIDTH) is None
    try:
        width = None if said else Mm(words_set(text, least, satin, bend).box.width, "up")
    except ValueError:
        width = None
    return Finding(
        "words-too-low",
        Severity.CANNOT,
        facts(
            what=Name("key", "words", f"“{text}”"),
            panel=ground.panel.called,
            has=Mm(height),
            needs=Mm(least, "up"),
            width=width,
        ),
        variant="satin" if satin else "single-line",
        amount=least - height,
        piece=ground.panel.piece,
    )


def _too_bent(ground: FreeGround, text: str, height: float, radius: float, satin: bool) -> Finding:
    """That an arc is too tight, and the radius that is enough."""
    straight = words_set(text, height, satin, None).box.width
    round_it = straight / np.radians(FARTHEST_ROUND - 20.0) + height
    return Finding(
        "words-bent-too-much",
        Severity.CANNOT,
        facts(
            what=Name("key", "words", f"“{text}”"),
            panel=ground.panel.called,
            has=Mm(radius),
            needs=Mm(max(TIGHTEST_ARC * height, float(round_it)), "up"),
        ),
        piece=ground.panel.piece,
    )


WORDS = EmbellishmentKind(
    name="words",
    means="words in letters of our own drawing, in satin or in a single line",
    options=(TEXT, LETTERS, HEIGHT, WIDTH, ARC, BEND, DENSITY, PULLED, *PLACING),
    work=words,
)
