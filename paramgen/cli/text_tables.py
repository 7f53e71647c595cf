"""Tables and messages as plain text."""

import textwrap
from collections.abc import Iterable, Sequence
from itertools import zip_longest

from paramgen.lengths import show_both, show_bound, show_size_both, spaced, unbroken
from paramgen.making import Made
from paramgen.recipe.built_in_lengths import BUILT_IN, RULER_MARK_MEANS, RULER_MARKS
from paramgen.recipe.language import AskedSize, Length, StepGroup
from paramgen.recipe.read_recipe import Recipe
from paramgen.recipe.terms import Default
from paramgen.reference.hoops import Hoop
from paramgen.supplies.all_supplies import supplies
from paramgen.supplies.cut_list import cut_list
from paramgen.vocabulary.findings import Fault, Finding
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

WIDTH = 96
#: Widest a table may be where the words of its cells allow it: columns of a terminal.
TABLE_WIDTH = 100


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Columns as wide as they need to be; the cells of the widest wrapped where it is too wide."""
    listed = [list(head), *(list(row) for row in rows)]
    widths = _widths(listed)
    lines = [line for row in listed for line in _lines(row, widths)]
    under = len(_lines(listed[0], widths))
    rule = "  ".join("-" * width for width in widths)
    return "\n".join([*lines[:under], rule, *lines[under:]]) + "\n"


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    """Width of each column; the widest gives way, but never within a word."""
    columns = list(zip(*rows, strict=True))
    widths = [max(map(len, cells)) for cells in columns]
    words = [
        max(len(word) for cell in cells for word in unbroken(cell).split(" ")) for cells in columns
    ]
    while sum(widths) + 2 * (len(widths) - 1) > TABLE_WIDTH:
        able = [place for place, width in enumerate(widths) if width > words[place]]
        if not able:
            break
        widths[max(able, key=widths.__getitem__)] -= 1
    return widths


def _lines(row: Sequence[str], widths: Sequence[int]) -> list[str]:
    """A row, in as many lines as its longest cell takes."""
    cells = [
        textwrap.wrap(unbroken(cell), width, break_long_words=False, break_on_hyphens=False) or [""]
        for cell, width in zip(row, widths, strict=True)
    ]
    return [
        spaced(
            "  ".join(part.ljust(width) for part, width in zip(parts, widths, strict=True))
        ).rstrip()
        for parts in zip_longest(*cells, fillvalue="")
    ]


def made_report(made: Made) -> str:
    """Pieces to cut, notions to have ready and steps of a project."""
    project = made.project
    unit = project.unit
    hoop = made.room.hoop
    way = ", turned by 90°" if project.turned else ""
    way += f", {project.copies} copies at once" if project.copies > 1 else ""
    field = show_size_both(hoop.width, hoop.height, unit)
    kind = f" ({project.kind})" if project.own_title else ""
    parts = [
        f"{project.title}{kind}, finished {show_size_both(*project.finished, unit)}",
        f"Hoop {hoop.name}, field {field}{way}\n",
        "Cut\n" + table(("piece", "fabric", "pieces", "cut", "folded"), _cut(project)),
        "Fabric\n" + table(("fabric", "how much"), _fabric(made)),
        "Have ready\n" + table(("what", "how much", "first needed"), _ready(made)),
        "Steps\n" + table(("step", "stop", "what", "stitches"), _steps(made)),
    ]
    return "\n".join(parts)


def _cut(project: Project) -> Iterable[Sequence[str]]:
    for row in cut_list(project):
        yield row.title, row.fabric, str(row.quantity), row.cut, row.folded


def _fabric(made: Made) -> Iterable[Sequence[str]]:
    """How much of each fabric, as the booklet has it."""
    return ((one.title, one.amount) for one in supplies(made) if one.sort == "fabric")


def _ready(made: Made) -> Iterable[Sequence[str]]:
    """What goes into it besides fabric; the booklet has needles and tools as well."""
    for one in supplies(made):
        if one.sort not in ("fabric", "needle", "tool"):
            yield one.title, one.amount, one.first_needed


def _steps(made: Made) -> Iterable[Sequence[str]]:
    counts = {step.stop: step.stitch_count for step in made.sewn}
    for step in made.project.steps:
        count = str(counts[step.stop]) if step.stop else ""
        stop = str(step.stop) if step.stop else "by hand"
        yield str(step.number), stop, step.title, count


def finding_text(finding: Finding) -> str:
    """One finding as a person reads it: what, how bad, and what would mend it."""
    text = finding.message[:1].upper() + finding.message[1:]
    stop = "" if text.endswith((".", "?", "!")) else "."
    return indented(f"{finding.severity.value}: {text}{stop} {finding.remedy}".rstrip())


def fault_text(fault: Fault) -> str:
    """One fault of what was typed or read."""
    return indented(str(fault))


def indented(text: str) -> str:
    """A paragraph as wide as a screen, all but its first line set in; no measure is broken.

    Lines below it that are set in stay as they are: commands to copy.
    """
    text, *below = text.split("\n  ")
    filled = textwrap.fill(
        unbroken(text),
        WIDTH,
        subsequent_indent="    ",
        break_long_words=False,
        break_on_hyphens=False,
    )
    return "\n  ".join([spaced(filled), *below])


def recipe_report(recipe: Recipe, unit: Unit) -> str:
    """What a recipe asks and does."""
    file = recipe.file
    sizes = [_length_row(name, entry, unit) for name, entry in file.sizes.items()]
    parts = [
        f"{file.title} ({recipe.name})\n{textwrap.fill(file.summary, WIDTH)}\n",
        "Sizes\n" + table(("name", "default", "least", "most", "what it is"), sizes),
    ]
    if file.counts:
        rows = [
            (name, str(one.default), str(one.least), str(one.most), one.means)
            for name, one in file.counts.items()
        ]
        parts.append("Counts\n" + table(("name", "default", "least", "most", "what it is"), rows))
    if file.choices:
        options = [
            (f"{name}={option}", "default" if option == one.default else "", means, one.means)
            for name, one in file.choices.items()
            for option, means in one.options.items()
        ]
        parts.append("Choices\n" + table(("option", "", "it means", "it chooses"), options))
    if file.holds:
        held = [f"  {one.title}" for one in file.holds.values()]
        parts.append("Made to hold\n" + "\n".join(held) + "\n")
    every = {**file.lengths, **BUILT_IN}
    lengths = [_length_row(name, entry, unit) for name, entry in every.items()]
    mark = file.ruler_mark or RULER_MARKS[unit]
    lengths.append(("ruler_mark", show_both(mark, unit), "", "", RULER_MARK_MEANS))
    head = ("name", "default", "least", "most", "what it is")
    parts.append("Lengths that stay as they are; any can be set\n" + table(head, lengths))
    parts.append("Steps\n" + "".join(f"  {line}\n" for line in _step_titles(recipe)))
    return "\n".join(parts)


def _length_row(name: str, entry: AskedSize | Length, unit: Unit) -> Sequence[str]:
    def bound(value: float | None, *, least: bool) -> str:
        return "" if value is None else show_bound(value, unit, least=least)

    least, most = bound(entry.least, least=True), bound(entry.most, least=False)
    return name, _default(entry.default, unit), least, most, entry.means


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


def hoop_report(hoops: Iterable[Hoop], unit: Unit) -> str:
    """The hoops and their fields, a person's own first."""
    listed = sorted(hoops, key=lambda hoop: not hoop.mine)
    rows = [
        (one.name, one.also, show_size_both(one.width, one.height, unit), "yes" * one.mine)
        for one in listed
    ]
    if not any(one.mine for one in listed):
        return table(("hoop", "also called", "field"), [row[:3] for row in rows])
    return table(("hoop", "also called", "field", "yours"), rows)
