"""Which lengths and counts matter with the choices that are made.

That is found by giving each other values, near and far, and laying out: formulas would have to be
read for what they may come to. Where all numbers that these take stay the same, so does what is
laid out.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from paramgen.layout.lay_out import lay_out
from paramgen.lengths import MOST
from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.built_in_lengths import BUILT_IN, NAMES
from paramgen.recipe.language import RecipeFile
from paramgen.recipe.name_check import terms_in
from paramgen.recipe.read_recipe import Recipe
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import Sized, size
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.unit import Unit

#: What is cut and laid, see `_shape`.
_Shape = tuple[object, ...]


def what_matters(sized: Sized) -> frozenset[str]:
    """Names of the lengths and counts by which what is cut, laid and stitched can change.

    Each is given other values with all else as it is, whatever the recipe's conditions say of
    them. Where none can be laid out, it cannot be known, and it matters.

    Parameters
    ----------
    sized : Sized
        It can be laid out.
    """
    file = sized.recipe.file.model_copy(update={"conditions": []})
    recipe = replace(sized.recipe, file=file)
    figures = (*sized.sizes, *sized.counts, *sized.lengths)
    fixed: dict[str, str | float] = {name: option for name, _, option, _ in sized.choices}
    fixed.update((figure.name, figure.value) for figure in figures)
    numbers = {name: sized.names[name] for name in _shaping(file)}
    now = numbers, _shape(sized)
    return frozenset(
        name for name, values in _others(sized) if _changes(recipe, fixed, name, values, now)
    )


def _shaping(file: RecipeFile) -> Iterator[str]:
    """Names in the formulas of what is cut, laid and stitched."""
    yield from NAMES
    known = {*file.sizes, *file.counts, *file.choices, *file.lengths, *file.values}
    seams = [term for one in file.finish for term in (one.when, one.seam)]
    for table in (file.outlines, file.pieces, file.lines, file.steps, seams):
        for use in terms_in(table):
            if isinstance(use.term, Formula) and not {*WORDS} & {*use.loc}:
                yield from use.term.names & known  # and none that counts repeats


#: Keys of sentences, which change no shape.
WORDS = ("title", "say", "say_once")


def _others(sized: Sized) -> Iterator[tuple[str, tuple[float, ...]]]:
    """Other values of each length and count, near ones first."""
    file, names = sized.recipe.file, sized.names
    for name, count in file.counts.items():
        value = int(names[name])
        near = (one for one in (value + 1, value - 1) if count.least <= one <= count.most)
        yield name, (*near, count.least, count.most)
    for name, length in {**file.lengths, **BUILT_IN}.items():
        now = float(names[name])
        least = 0.0 if length.least is None else length.least
        most = min(2 * now + 10, MOST) if length.most is None else length.most
        yield name, ((now + least) / 2, (now + most) / 2, least, most)


def _changes(
    recipe: Recipe,
    fixed: Mapping[str, str | float],
    name: str,
    values: tuple[float, ...],
    now: tuple[Mapping[str, object], _Shape],
) -> bool:
    """Whether any other value changes the shape; also where none can be laid out."""
    numbers, shape = now
    known = False
    for value in values:
        if value == fixed[name]:
            continue
        try:
            other = size(recipe, {**fixed, name: value}, unit=Unit.MM)
            same = all(other.names[one] == was for one, was in numbers.items())
            if not same and _shape(other) != shape:
                return True
        except (CannotMakeError, InputError):
            continue
        known = True
    return not known


def _shape(sized: Sized) -> _Shape:
    """What is cut, laid, stitched and marked, without words: equal where nothing changed."""
    project = lay_out(sized, chord_error=COARSE)
    pieces = {piece.name for piece in project.pieces}
    cut = [(one.name, one.quantity, one.cut, one.folded, one.creases) for one in project.pieces]
    steps = [
        (
            [(line.stitch, *map(_points, line.paths)) for line in step.lines],
            [(one.piece, _points(one.outline)) for one in step.layers if one.piece in pieces],
            [_points(mark) for mark in step.mark],
        )
        for step in project.steps
    ]
    return cut, steps


def _points(path: Path) -> bytes:
    return path.points.tobytes()
