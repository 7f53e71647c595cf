"""How much arithmetic stands in a table of a recipe, so that repeats of it can be bounded."""

from pydantic import BaseModel

from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.terms import Default, Reference, Sentence, ShownMeasure

#: What a table takes beside its arithmetic each time it is worked out, in terms.
_BESIDE = 10


def work_in(thing: object) -> int:
    """Terms of all the formulas of a table, and some for the table itself."""
    return _BESIDE + _terms(thing)


def _terms(thing: object) -> int:
    match thing:
        case Formula():
            return thing.terms
        case Sentence():
            return sum(map(_terms, thing.parts))
        case Default() | ShownMeasure():
            return _terms(thing.formula)
        case Reference():
            return 1 + _terms(thing.index)
        case BaseModel():
            return sum(_terms(getattr(thing, key)) for key in type(thing).model_fields)
        case dict():
            return sum(map(_terms, thing.values()))
        case list():
            return sum(map(_terms, thing))
        case _:
            return 0
