"""The picture of a plan, true to scale: strips, pieces by their letters, what is left over."""

import math
from collections.abc import Iterator, Sequence

from paramgen.drawings.primitives.drawn_paths import rectangle, straight
from paramgen.drawings.primitives.items import (
    Anchor,
    Drawing,
    DrawnItem,
    Group,
    Shape,
    Style,
    Text,
    Tone,
)
from paramgen.drawings.primitives.lettering import text_width
from paramgen.kits.cutting_plan import PlacedPiece, SheetPlan
from paramgen.kits.kit_words import letters_of, plan_title
from paramgen.kits.worked_kit import Kit
from paramgen.lengths import show, show_both
from paramgen.sentences import number_of
from paramgen.vocabulary.box import Box

#: How many times smaller than the cloth a picture is shown.
SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50)
#: Room on a page for the picture, mm.
ROOM = (165.0, 125.0)
#: Letters as they are shown, mm.
_EM = 3.2
#: Room beside the cloth for the numbers of strips and for their heights, in ems.
_BESIDE, _HEIGHTS = 3.0, 7.0


def scale_of(plan: SheetPlan) -> int:
    """How many times smaller a cloth is shown: one scale for all of it."""
    whole = plan.width + sum(plan.selvedges)
    beside = (_BESIDE + _HEIGHTS) * _EM
    wanted = whole / (ROOM[0] - beside)
    return next((one for one in SCALES if one >= wanted), math.ceil(wanted))


def cutting_pictures(plan: SheetPlan, kit: Kit, name: str) -> tuple[Drawing, ...]:
    """Draw a plan, in as many pictures as its length takes.

    Parameters
    ----------
    plan : SheetPlan
    kit : Kit
    name : str
        Of the pictures; each has a number behind it.
    """
    scale = scale_of(plan)
    strips = _strips(plan)
    parts: list[list[list[PlacedPiece]]] = [[]]
    for strip in strips:
        first = _top((parts[-1] or [strip])[0])
        if parts[-1] and _end(strip) - first > ROOM[1] * scale:
            parts.append([])
        parts[-1].append(strip)
    return tuple(
        _picture(plan, kit, part, f"{name}-{number}", (number, len(parts)))
        for number, part in enumerate(parts, 1)
    )


def _strips(plan: SheetPlan) -> list[list[PlacedPiece]]:
    numbers = dict.fromkeys(one.strip for one in plan.placed)
    return [[one for one in plan.placed if one.strip == number] for number in numbers]


def _top(strip: Sequence[PlacedPiece]) -> float:
    return min(one.y for one in strip)


def _end(strip: Sequence[PlacedPiece]) -> float:
    return max(one.y + one.height for one in strip)


def _picture(
    plan: SheetPlan,
    kit: Kit,
    strips: Sequence[Sequence[PlacedPiece]],
    name: str,
    of: tuple[int, int],
) -> Drawing:
    scale = scale_of(plan)
    em = _EM * scale
    left, right = -plan.selvedges[0], plan.width + plan.selvedges[1]
    top = 0.0 if of[0] == 1 else _top(strips[0])
    bottom = _end(strips[-1])
    cloth = Box(left, top, right, bottom)
    first, last = strips[0][0].strip, strips[-1][0].strip
    title = f"{plan_title(plan, kit)}: strips {first} to {last}, drawn 1 : {scale}"
    return Drawing(
        name=name,
        title=title,
        description=_told(plan, strips, kit),
        box=Box(left - _BESIDE * em, top - 0.6 * em, right + _HEIGHTS * em, bottom + 1.2 * em),
        scale=float(scale),
        items=tuple(_items(plan, kit, strips, cloth, em)),
    )


def _told(plan: SheetPlan, strips: Sequence[Sequence[PlacedPiece]], kit: Kit) -> str:
    said = []
    for strip in strips:
        height = show_both(_end(strip) - _top(strip), kit.unit)
        names = dict.fromkeys(one.title for one in strip)
        counted = (f"{sum(one.title == name for one in strip)} × {name}" for name in names)
        said.append(f"strip {strip[0].strip}, {height} high: {', '.join(counted)}")
    pieces = number_of(len(plan.placed), "piece")
    return f"{pieces} in all. The length of the cloth runs down. {'; '.join(said)}."


def _items(
    plan: SheetPlan,
    kit: Kit,
    strips: Sequence[Sequence[PlacedPiece]],
    cloth: Box,
    em: float,
) -> Iterator[DrawnItem]:
    letters = letters_of(plan)
    yield Shape(rectangle(cloth), Style.CUT_AWAY)
    if plan.motif is not None:
        yield from _motifs(plan, plan.motif, cloth, em)
    tones = {name: Tone(place, name) for place, name in enumerate(letters)}
    for strip in strips:
        number, top, bottom = strip[0].strip, _top(strip), _end(strip)
        held: list[DrawnItem] = []
        for one in strip:
            box = Box(one.x, one.y, one.x + one.width, one.y + one.height)
            held.append(Shape(rectangle(box), Style.SWATCH, tone=tones[one.piece]))
            held.append(Shape(rectangle(box), Style.CUT_LINE))
            held.extend(letter_on(letters[one.piece], box, em))
        for y in (top, bottom):
            held.append(Shape(straight((cloth.left, y), (cloth.right, y)), Style.CUT_LINE))
        middle = (top + bottom) / 2 + 0.35 * em
        held.append(Text((cloth.left - 0.8 * em, middle), str(number), em, Anchor.END, bold=True))
        height = show(bottom - top, kit.unit)
        held.append(Text((cloth.right + 0.6 * em, middle), height, em))
        yield Group(f"strip-{number}", tuple(held), f"strip {number}")
    for x, off in ((0.0, plan.selvedges[0]), (plan.width, plan.selvedges[1])):
        if off > 0:
            line = straight((x, cloth.top), (x, cloth.bottom))
            yield Shape(line, Style.HIDDEN)
    yield Shape(rectangle(cloth), Style.RAW_EDGE)


def _motifs(
    plan: SheetPlan, repeat: tuple[float, float], cloth: Box, em: float
) -> Iterator[DrawnItem]:
    """A cross at the middle of each motif that lies beside the pieces, one of which is on one."""
    first = plan.placed[0]
    middle = first.x + first.width / 2, first.y + first.height / 2
    columns = _places(middle[0], repeat[0], 0.0, plan.width)
    rows = _places(middle[1], repeat[1], cloth.top, cloth.bottom)
    arm = min(0.35 * em, *(one / 4 for one in repeat))
    for y in rows:
        for x in columns:
            if not any(_lies_on(one, x, y) for one in plan.placed):
                yield Shape(straight((x - arm, y), (x + arm, y)), Style.CENTRE_MARK)
                yield Shape(straight((x, y - arm), (x, y + arm)), Style.CENTRE_MARK)


def _places(middle: float, repeat: float, first: float, last: float) -> list[float]:
    """Where motifs stand between two places."""
    least, most = math.ceil((first - middle) / repeat), math.floor((last - middle) / repeat)
    return [middle + number * repeat for number in range(least, most + 1)]


def _lies_on(one: PlacedPiece, x: float, y: float) -> bool:
    return one.x < x < one.x + one.width and one.y < y < one.y + one.height


def letter_on(letter: str, box: Box, em: float) -> Iterator[DrawnItem]:
    """A letter in the middle of its piece, as large as there is room for."""
    room = min(box.height / 1.3, box.width / max(text_width(letter, 1.0), 0.1) / 1.2)
    size = min(1.25 * em, room)
    x, y = box.centre
    plate = text_width(letter, size) / 2 + 0.25 * size
    ground = Box(x - plate, y - 0.65 * size, x + plate, y + 0.65 * size)
    yield Shape(rectangle(ground), Style.OUTSIDE)
    yield Text((x, y + 0.35 * size), letter, size, Anchor.MIDDLE, bold=True)
