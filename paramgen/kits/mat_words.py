"""What is said of mats: how a sheet is laid, how many there are, what goes on none."""

from collections.abc import Iterator

from paramgen.drawings.primitives.paragraphs import fabric_name
from paramgen.kits.cloth_on_mats import ClothOnMats, sheet_size
from paramgen.kits.kit_words import letter_of
from paramgen.lengths import show_both, show_size_both
from paramgen.sentences import number_of
from paramgen.vocabulary.unit import Unit

#: Before the first mat; common practice, no source.
BEFORE_MATS = (
    "Cut each sheet by hand, as above.",
    (
        "Lay it right side up, its corner in the upper left corner of the mat, its lengthwise "
        "grain along the height of the mat; smooth it down from the middle."
    ),
    "Each file in the folder mats has the lines of one mat at true size.",
    (
        "Before the first cut, hold its width and height against those said here, and try blade "
        "and pressure on a scrap."
    ),
    (
        "A moving blade cuts: keep hands, hair and sleeves clear while the machine works, and heed "
        "what came with it."
    ),
)


def mats_title(laid: ClothOnMats) -> str:
    """Which cloth."""
    name = fabric_name(laid.role)
    title = f"{name}, {laid.title}" if laid.title else name
    return f"{title[:1].upper()}{title[1:]}"


def mat_title(laid: ClothOnMats, number: int) -> str:
    """Which mat of which cloth, and how often it is cut."""
    _, times = laid.plan.mats[number - 1]
    often = f", {times} times" if times > 1 else ""
    return f"{mats_title(laid)}: mat {number}{often}"


def letters_on(laid: ClothOnMats) -> dict[int, str]:
    """A letter for each piece that is cut on mats, by its place."""
    places = dict.fromkeys(
        laid.place(piece.name) for one, _ in laid.plan.mats for piece in one.pieces
    )
    return {place: letter_of(number) for number, place in enumerate(places)}


def mats_words(laid: ClothOnMats, unit: Unit) -> Iterator[str]:
    """How many mats it takes, how good that is, and what is cut by hand."""
    plan = laid.plan
    yield f"{mats_title(laid)}:"
    if plan.mats:
        size = show_size_both(plan.mat.width, plan.mat.height, unit)
        gap = show_both(plan.mat.gap, unit)
        yield f"{number_of(plan.count, 'mat')} of {size}, the pieces {gap} apart or more."
        if plan.proven:
            yield "No plan takes fewer."
        else:
            yield f"By their area alone the pieces would need {plan.least}; fewer were not found."
    if laid.by_hand:
        titles = ", ".join(piece.title for piece in laid.by_hand)
        yield f"Too large for the mat, so cut by hand: {titles}."


def mat_rows(laid: ClothOnMats, number: int, unit: Unit) -> Iterator[tuple[str, str, str, int]]:
    """Letter, title, size and how many of each piece on a mat."""
    one, _ = laid.plan.mats[number - 1]
    places = [laid.place(piece.name) for piece in one.pieces]
    for place, letter in letters_on(laid).items():
        if place in places:
            piece = laid.pieces[place]
            shaped = ", in its shape" if piece.shapes else ""
            size = f"{show_size_both(*piece.cut, unit)}{shaped}"
            yield letter, piece.title, size, places.count(place)


def sheet_words(laid: ClothOnMats, number: int, unit: Unit) -> str:
    """How large the sheet for a mat is."""
    one, _ = laid.plan.mats[number - 1]
    return f"Sheet: {show_size_both(*sheet_size(laid.plan.mat, one), unit)}."
