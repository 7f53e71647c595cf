"""Whether papers can show all that is written in a recipe, asked before anything is drawn.

Letters that the typesetter's own fonts lack are set with the system's, and only then, so that all
other papers stay the same everywhere. What no font has is told before anything is worked out.
"""

from collections.abc import Iterator, Mapping

from paramgen.ordering.order_from_words import UnderstoodRequest
from paramgen.papers.typeset import cannot_be_set
from paramgen.recipe.language import RecipeTable
from paramgen.recipe.terms import Sentence
from paramgen.vocabulary.findings import Fault, InputError

_HINT = "Write it with other letters, install a font that has them, or make it with --no-papers."


def check_letters(wanted: UnderstoodRequest) -> None:
    """See that all papers can be set.

    Raises
    ------
    InputError
        With each text of the recipe, and each other, that has letters no font here has.
    """
    order = wanted.order
    found = [
        *_faults(order.recipe.file, order.recipe.source),
        *_faults(order.room.hoop.name, "--hoop"),
    ]
    if found:
        raise InputError(found)


def _faults(written: object, source: str) -> Iterator[Fault]:
    for place, text in _texts(written, ""):
        if letters := "".join(cannot_be_set(text)):
            where = f"{source}: {place}" if place else source
            shown = f"{text[:40]}…" if len(text) > 40 else text
            message = f"no font here can show {letters[:20]} on paper, in `{shown}`"
            yield Fault(message, where, hint=_HINT)


def _texts(written: object, place: str) -> Iterator[tuple[str, str]]:
    """All texts in what a recipe says, and where each stands; formulas are none."""
    if isinstance(written, str):
        yield place, written
    elif isinstance(written, Mapping):
        for key, value in written.items():
            yield place, str(key)
            yield from _texts(value, _within(place, str(key)))
    elif isinstance(written, list | tuple):
        for number, value in enumerate(written, start=1):
            yield from _texts(value, f"{place}[{number}]")
    elif isinstance(written, Sentence):
        yield place, written.text
    elif isinstance(written, RecipeTable):
        for name, value in vars(written).items():
            yield from _texts(value, _within(place, name))


def _within(place: str, name: str) -> str:
    return f"{place}.{name}" if place else name
