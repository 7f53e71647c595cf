"""From what a person asks to every number of the project."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from paramgen.findings import Fault, Finding, InputError, Severity
from paramgen.layout.project import Figure
from paramgen.lengths import Unit, parse_length, show
from paramgen.nearest import did_you_mean
from paramgen.recipe.arithmetic import Formula, FormulaError
from paramgen.recipe.built_in import BUILT_IN, NAMES, RULER_MARK_MEANS, RULER_MARKS
from paramgen.recipe.file import Asked, Each, Length, RecipeFile
from paramgen.recipe.read import Recipe
from paramgen.sentences import Speaker


@dataclass(frozen=True)
class Sized:
    """A recipe with every number worked out.

    Parameters
    ----------
    recipe : Recipe
    unit : Unit
        The person's.
    names : mapping
        Value of every name that formulas may use: millimetres, whole numbers for counts,
        option names for choices, and a dict by index for a value that is repeated.
    sizes, counts, lengths : tuple of Figure
    choices : tuple of (name, means, option)
    """

    recipe: Recipe
    unit: Unit
    names: Mapping[str, Any]
    sizes: tuple[Figure, ...]
    counts: tuple[Figure, ...]
    lengths: tuple[Figure, ...]
    choices: tuple[tuple[str, str, str], ...]

    @property
    def speaker(self) -> Speaker:
        """Whoever fills in the recipe's sentences."""
        counts = frozenset(figure.name for figure in self.counts)
        return Speaker(self.unit, counts)


def size(
    recipe: Recipe, asked: Mapping[str, str | float], *, unit: Unit, scale: float = 1.0
) -> Sized:
    """Work out every number of a recipe.

    Parameters
    ----------
    recipe : Recipe
    asked : mapping of name to text
        Sizes, counts, choices and lengths that the person gives.
    unit : Unit
        The person's unit; it sets the ruler mark where nothing else does.
    scale : float
        Multiplies the finished sizes and nothing else.

    Raises
    ------
    InputError
        With every fault in what was asked; or if the recipe's own arithmetic fails for it.
    """
    file = recipe.file
    faults: list[Fault] = []
    names: dict[str, Any] = {}
    valid = [*file.sizes, *file.counts, *file.choices, *file.lengths, *NAMES]
    for name in asked:
        if name not in valid:
            hint = did_you_mean(name, valid) or f"There are {', '.join(valid)}."
            faults.append(Fault(f"{recipe.name} has no such size or choice", name, hint=hint))
    if not 0.01 <= scale <= 100:
        faults.append(Fault(f"`{scale:g}` is outside 0.01 to 100", "scale"))
        scale = 1.0

    def length(name: str, entry: Asked | Length, times: float = 1.0) -> Figure:
        given = name in asked
        least = entry.least if entry.least is not None else 0.0
        most = entry.most if entry.most is not None else 2000.0
        zero = entry.least == 0
        try:
            if given:
                value = parse_length(asked[name], name=name, zero=zero)
            elif entry.default.formula is not None:
                value, times = entry.default.formula.number(names), 1.0
            else:
                value = entry.default.length or 0.0
        except InputError as problem:
            faults.extend(problem.faults)
            value = entry.default.length or least or 1.0
        except FormulaError as problem:
            faults.append(Fault(str(problem), f"{recipe.source}: {name}"))
            value = least or 1.0
        value *= times
        if not least - 1e-6 <= value <= most + 1e-6:
            limits = f"from {show(least, unit)} to {show(most, unit)}"
            faults.append(Fault(f"{show(value, unit)} is outside {limits} ({entry.means})", name))
        names[name] = value
        return Figure(name, entry.means, value, given)

    mark = _ruler_mark(file, asked, unit, faults)
    names["ruler_mark"] = mark.value
    sizes = tuple(length(name, entry, scale) for name, entry in file.sizes.items())
    counts = tuple(_counts(file, asked, names, faults))
    choices = tuple(_choices(file, asked, names, faults))
    common = [length(name, entry) for name, entry in BUILT_IN.items()]
    lengths = (*(length(name, entry) for name, entry in file.lengths.items()), mark, *common)
    if not faults:
        try:
            for name, entry in file.values.items():
                names[name] = _value(entry, names)
        except FormulaError as problem:
            faults.append(Fault(str(problem), f"{recipe.source}: values.{name}"))
    if faults:
        raise InputError(faults)
    return Sized(recipe, unit, MappingProxyType(names), sizes, counts, lengths, choices)


def _ruler_mark(
    file: RecipeFile, asked: Mapping[str, str | float], unit: Unit, faults: list[Fault]
) -> Figure:
    value = file.ruler_mark or RULER_MARKS[unit]
    if "ruler_mark" in asked:
        try:
            value = parse_length(asked["ruler_mark"], name="ruler_mark", most=25.4)
        except InputError as problem:
            faults.extend(problem.faults)
    return Figure("ruler_mark", RULER_MARK_MEANS, value, "ruler_mark" in asked)


def _counts(
    file: RecipeFile, asked: Mapping[str, str | float], names: dict[str, Any], faults: list[Fault]
) -> Iterator[Figure]:
    for name, entry in file.counts.items():
        value = entry.default
        if name in asked:
            text = str(asked[name]).strip()
            limits = f"a whole number from {entry.least} to {entry.most}"
            if not text.isdecimal() or len(text) > 6:
                faults.append(Fault(f"`{text}` is not {limits} ({entry.means})", name))
            elif not entry.least <= int(text) <= entry.most:
                faults.append(Fault(f"{text} is outside {limits} ({entry.means})", name))
            else:
                value = int(text)
        names[name] = value
        yield Figure(name, entry.means, value, name in asked)


def _choices(
    file: RecipeFile, asked: Mapping[str, str | float], names: dict[str, Any], faults: list[Fault]
) -> Iterator[tuple[str, str, str]]:
    for name, entry in file.choices.items():
        option = str(asked.get(name, entry.default)).strip().lower()
        if option not in entry.options:
            listed = ", ".join(entry.options)
            hint = did_you_mean(option, entry.options)
            faults.append(Fault(f"`{option}` is not one of {listed}", name, hint=hint))
            option = entry.default
        names[name] = option
        yield name, entry.means, option


def _value(entry: Formula | Each, names: Mapping[str, Any]) -> Any:
    if isinstance(entry, Formula):
        return entry.value(names)
    return {scope[index]: entry.is_.number(scope) for index, scope in repeats(entry.repeat, names)}


def repeats(
    repeat: Mapping[str, Formula] | None, names: Mapping[str, Any]
) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Names to work with in each repeat, from 1 up; the given names once where there is none.

    Yields
    ------
    index : str
        Name of the index; empty if there is no repeat.
    names : mapping
    """
    if not repeat:
        yield "", names
        return
    ((index, times),) = repeat.items()
    count = times.number(names)
    if count != int(count) or not 0 <= count <= MOST_REPEATS:
        raise FormulaError(
            f"`{times.text}` gives {count:g} repeats; 0 to {MOST_REPEATS} can be made"
        )
    for turn in range(1, int(count) + 1):
        yield index, {**names, index: turn}


#: More repeats than any project has; a bound on the work a recipe can ask for.
MOST_REPEATS = 200


def conditions(sized: Sized) -> tuple[Finding, ...]:
    """What the recipe's own conditions say of the numbers, worst first.

    Raises
    ------
    InputError
        If a condition cannot be worked out.
    """
    found: list[Finding] = []
    names, speaker = sized.names, sized.speaker
    for index, entry in enumerate(sized.recipe.file.conditions, start=1):
        try:
            if entry.when is not None and not entry.when.truth(names):
                continue
            if entry.require.truth(names):
                continue
            remedy = speaker.say(entry.remedy, names) if entry.remedy else ""
            found.append(
                Finding(
                    "recipe-condition",
                    Severity(entry.severity),
                    speaker.say(entry.say, names),
                    remedy,
                )
            )
        except FormulaError as problem:
            where = f"{sized.recipe.source}: conditions[{index}]"
            raise InputError([Fault(str(problem), where)]) from None
    order = list(Severity)
    return tuple(sorted(found, key=lambda finding: order.index(finding.severity)))
