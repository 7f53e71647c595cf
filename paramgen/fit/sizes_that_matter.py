"""Which lengths and counts matter with the choices that are made.

What stands in no formula of what is cut, laid and stitched does not. For the rest it is found by
giving each other values, near and far, and laying out: formulas would have to be read for what they
may come to.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from paramgen.layout.lay_out import lay_out
from paramgen.lengths import MOST
from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.built_in_lengths import BUILT_IN
from paramgen.recipe.language import RecipeFile
from paramgen.recipe.name_check import TermInPlace, terms_in
from paramgen.recipe.read_recipe import Recipe
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import Sized, size
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit


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
    now = _shape(lay_out(sized, chord_error=COARSE))
    shaping = {*BUILT_IN, *_shaping(file)}
    return frozenset(
        name
        for name, values in _others(sized)
        if name in shaping and _changes(recipe, fixed, name, values, now)
    )


def _shaping(file: RecipeFile) -> set[str]:
    """Names in the formulas of what is cut, laid and stitched, or in values that these take."""
    shapes = (file.outlines, file.pieces, file.lines, file.steps, file.finish.seam)
    uses = (use for table in shapes for use in terms_in(table) if not {*WORDS} & {*use.loc})
    found = _names(uses)
    for name, value in reversed(file.values.items()):  # each takes none but earlier ones
        if name in found:
            found |= _names(terms_in(value))
    return found


def _names(uses: Iterable[TermInPlace]) -> set[str]:
    return {name for use in uses if isinstance(use.term, Formula) for name in use.term.names}


#: Keys of sentences, which change no shape.
WORDS = ("title", "say")


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
    now: tuple[object, ...],
) -> bool:
    """Whether any other value changes the shape; also where none can be laid out."""
    known = False
    for value in values:
        if value == fixed[name]:
            continue
        try:
            other = size(recipe, {**fixed, name: value}, unit=Unit.MM)
            shape = _shape(lay_out(other, chord_error=COARSE))
        except (CannotMakeError, InputError):
            continue
        if shape != now:
            return True
        known = True
    return not known


def _shape(project: Project) -> tuple[object, ...]:
    """What is cut, laid, stitched and marked, without words: equal where nothing changed."""
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
