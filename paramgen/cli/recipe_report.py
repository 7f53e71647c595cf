"""What a recipe asks and does, as tables of plain text."""

import textwrap
from collections.abc import Iterable, Sequence
from functools import partial

from paramgen.cli.text_tables import WIDTH, table
from paramgen.lengths import show_both
from paramgen.recipe.built_in_lengths import BUILT_IN, RULER_MARK_MEANS, RULER_MARKS
from paramgen.recipe.language import AskedSize, Length, StepGroup
from paramgen.recipe.read_recipe import Recipe
from paramgen.recipe.terms import Default
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english


def recipe_report(recipe: Recipe, unit: Unit) -> str:
    """What a recipe asks and does, in the words of who measures in a unit."""
    words = partial(english().as_used, unit=unit)
    file = recipe.file
    sizes = [_length_row(name, entry, unit) for name, entry in file.sizes.items()]
    parts = [
        f"{words(file.title)} ({recipe.name})\n{textwrap.fill(words(file.summary), WIDTH)}\n",
        "Sizes\n" + table(("name", "default", "least", "most", "what it is"), sizes),
    ]
    if file.counts:
        rows = [
            (name, str(one.default), str(one.least), str(one.most), words(one.means))
            for name, one in file.counts.items()
        ]
        parts.append("Counts\n" + table(("name", "default", "least", "most", "what it is"), rows))
    if file.choices:
        options = [
            (
                f"{name}={option}",
                "default" if option == one.default else "",
                words(means),
                words(one.means),
            )
            for name, one in file.choices.items()
            for option, means in one.options.items()
        ]
        parts.append("Choices\n" + table(("option", "", "what it does", "setting"), options))
    if file.holds:
        held = [f"  {one.title}" for one in file.holds.values()]
        parts.append("Made to hold\n" + "\n".join(held) + "\n")
    every = {**file.lengths, **BUILT_IN}
    lengths = [_length_row(name, entry, unit) for name, entry in every.items()]
    mark = file.ruler_mark or RULER_MARKS[unit]
    lengths.append(("ruler_mark", show_both(mark, unit), "", "", RULER_MARK_MEANS))
    head = ("name", "default", "least", "most", "what it is")
    parts.append("Lengths that stay as they are; any can be set\n" + table(head, lengths))
    parts.append("Steps\n" + "".join(f"  {words(line)}\n" for line in _step_titles(recipe)))
    return "\n".join(parts)


def _length_row(name: str, entry: AskedSize | Length, unit: Unit) -> Sequence[str]:
    def bound(value: float | None) -> str:
        return "" if value is None else show_both(value, unit)

    least, most = bound(entry.least), bound(entry.most)
    return name, _default(entry.default, unit), least, most, english().as_used(entry.means, unit)


def _default(default: Default, unit: Unit) -> str:
    if default.formula is not None:
        return default.formula.text
    return show_both(default.length or 0.0, unit)


def _step_titles(recipe: Recipe) -> Iterable[str]:
    for entry in recipe.file.steps:
        if isinstance(entry, StepGroup):
            ((index, times),) = entry.repeat.items()
            yield f"for each {index} from 1 to {times.text}:"
            yield from (f"  {step.title.text}" for step in entry.steps)
        else:
            yield entry.title.text
