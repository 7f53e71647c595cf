"""From what a person asks to every number of the project."""

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from types import MappingProxyType
from typing import Any

from paramgen.budget import TERMS, up_to
from paramgen.lengths import (
    INCH,
    MOST,
    TOLERANCE,
    as_typed,
    is_inch,
    parse_length,
    show,
    show_both,
    split_unit,
)
from paramgen.nearest_word import did_you_mean
from paramgen.recipe.arithmetic import Formula, FormulaError
from paramgen.recipe.arithmetic_work import work_in
from paramgen.recipe.built_in_lengths import (
    BUILT_IN,
    LEAST_MARK,
    MOST_MARK,
    NAMES,
    RULER_MARK_MEANS,
    RULER_MARKS,
    ply_names,
)
from paramgen.recipe.language import AskedCount, AskedSize, Choice, Length, RepeatValues
from paramgen.recipe.other_words import option_meant
from paramgen.recipe.read_recipe import Recipe
from paramgen.recipe.terms import Sentence, ShownMeasure
from paramgen.reference.materials import ANY_CLOTH, listed_materials
from paramgen.sentences import Speaker
from paramgen.vocabulary.facts import facts
from paramgen.vocabulary.findings import CannotMakeError, Fault, Finding, InputError, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Fabric, Figure
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english
from paramgen.wording.say import said


@dataclass(frozen=True, eq=False, kw_only=True)
class Sized:
    """A recipe with every number worked out; `key` tells those that are alike.

    Parameters
    ----------
    recipe : Recipe
    unit : Unit
        The person's.
    names : mapping
        Value of every name that formulas may use: millimetres, whole numbers for counts,
        option names for choices, and a dict by index for a value that is repeated.
    sizes, counts, lengths : tuple of Figure
    choices : tuple of (name, means, option, what the option means)
    """

    recipe: Recipe
    unit: Unit
    names: Mapping[str, Any]
    sizes: tuple[Figure, ...]
    counts: tuple[Figure, ...]
    lengths: tuple[Figure, ...]
    choices: tuple[tuple[str, str, str, str], ...]

    @cached_property
    def key(self) -> tuple[Hashable, ...]:
        """Equal for sized recipes from which the same is worked out."""
        names = tuple(
            (name, tuple(value.items()) if isinstance(value, Mapping) else value)
            for name, value in self.names.items()
        )
        asked = tuple(one.asked for one in (*self.sizes, *self.counts, *self.lengths))
        return (self.recipe.key, self.unit, names, asked)

    @property
    def own_sizes(self) -> dict[str, float]:
        """Sizes by name, mm, but for those that are not asked for and follow from others."""
        entries = self.recipe.file.sizes
        return {
            one.name: one.value
            for one in self.sizes
            if one.asked or entries[one.name].default.formula is None
        }

    @property
    def fabrics(self) -> dict[str, Fabric]:
        """What each fabric of the pieces is; any cloth where the recipe does not say."""
        known, said = listed_materials(), self.recipe.file.fabrics
        found = {}
        for role in dict.fromkeys(piece.fabric for piece in self.recipe.file.pieces.values()):
            table = said.get(role)
            interfacing = known[table.interfacing] if table and table.interfacing else None
            found[role] = Fabric(role, known[table.kind if table else ANY_CLOTH], interfacing)
        return found

    @property
    def varied(self) -> tuple[tuple[str, str], ...]:
        """The choices and counts that are not those of the recipe, and what they are."""
        file = self.recipe.file
        counts = [
            (one.name, f"{one.value:g}")
            for one in self.counts
            if one.value != file.counts[one.name].default
        ]
        choices = [
            (name, option)
            for name, _, option, _ in self.choices
            if option != file.choices[name].default
        ]
        return (*counts, *choices)

    @cached_property
    def speaker(self) -> Speaker:
        """Whoever fills in the recipe's sentences."""
        counts = frozenset(figure.name for figure in self.counts)
        titles = {name: self.recipe.title_of(name) for name in self.recipe.file.holds}
        return Speaker(self.unit, counts, titles=titles)


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
    order = _Order(recipe, asked, unit)
    valid = [*file.sizes, *file.counts, *file.choices, *file.lengths, *NAMES]
    for name in asked:
        if name not in valid:
            hint = _no_such_name(recipe, name, str(asked[name]), valid)
            order.fault(name, f"{recipe.name} has no such size or choice", hint)
    if not 0.01 <= scale <= 100:
        order.fault("--scale", f"`{scale:g}` is outside 0.01 to 100")
        scale = 1.0
    mark = _ruler_mark(order)
    counts = tuple(_count(order, name, entry) for name, entry in file.counts.items())
    choices = tuple(_choice(order, name, entry) for name, entry in file.choices.items())
    order.names.update(ply_names(file.fabrics))
    common = [_length(order, name, entry) for name, entry in BUILT_IN.items()]
    sizes = tuple(
        replace(_length(order, name, entry, scale), along=entry.goes_along(name))
        for name, entry in file.sizes.items()
    )
    own = [_length(order, name, entry) for name, entry in file.lengths.items()]
    if not order.faults:
        try:
            work = 0
            for name, entry in file.values.items():
                if isinstance(entry, RepeatValues):
                    work += turns(entry.repeat, order.names) * work_in(entry)
                    TERMS.ask(work, up_to("values", name))
                order.names[name] = _value(entry, order.names)
        except FormulaError as problem:
            order.fault(f"{recipe.source}: values.{name}", str(problem))
        except CannotMakeError as problem:
            (finding,) = problem.findings
            order.fault(f"{recipe.source}: values.{name}", *said(finding, unit))
    if order.faults:
        raise InputError(order.faults)
    lengths = (*own, mark, *common)
    return Sized(
        recipe=recipe,
        unit=unit,
        names=MappingProxyType(order.names),
        sizes=sizes,
        counts=counts,
        lengths=lengths,
        choices=choices,
    )


def _no_such_name(recipe: Recipe, name: str, value: str, valid: Sequence[str]) -> str:
    """What may be meant by a name that a recipe has not, or what it has."""
    meant = option_meant(value, recipe.file)
    if near := did_you_mean(name, valid):
        return near
    if meant:
        return f"Did you mean `{' '.join(meant)}`?"
    return f"There are {', '.join(valid)}."


@dataclass
class _Order:
    """What is asked, and what is known of it so far, right and wrong."""

    recipe: Recipe
    asked: Mapping[str, str | float]
    unit: Unit
    names: dict[str, Any] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    wrong: set[str] = field(default_factory=set)
    #: What was asked that a number follows from, by the number's name.
    roots: dict[str, frozenset[str]] = field(default_factory=dict)

    def follow(self, name: str, formula: Formula | None) -> None:
        """Keep what was asked that a number follows from."""
        if name in self.asked:
            self.roots[name] = frozenset({name})
        elif formula is not None:
            each = (self.roots.get(of, frozenset({of} & self.asked.keys())) for of in formula.names)
            self.roots[name] = frozenset[str]().union(*each)

    def fault(self, name: str, message: str, hint: str = "") -> None:
        self.faults.append(Fault(message, name, hint=hint))
        self.wrong.add(name)

    def figure(self, name: str, means: str, value: float) -> Figure:
        self.names[name] = value
        return Figure(name, self.in_words(means), value, name in self.asked)

    def in_words(self, text: str) -> str:
        """A text of the recipe in the words of who measures in the unit."""
        return english().as_used(text, self.unit)


def _length(order: _Order, name: str, entry: AskedSize | Length, times: float = 1.0) -> Figure:
    given, formula = name in order.asked, entry.default.formula
    least = entry.least if entry.least is not None else 0.0
    most = entry.most if entry.most is not None else MOST
    value = stand_in = least or 1.0
    order.follow(name, formula)
    try:
        if given:
            value = parse_length(order.asked[name], name=name, zero=entry.least == 0) * times
        elif formula is None:
            value = (entry.default.length or 0.0) * times
        elif formula.names & order.wrong:
            order.wrong.add(name)  # nothing can be said of what follows from a wrong number
        else:
            value = formula.number(order.names)
    except InputError as problem:
        order.faults.extend(problem.faults)
        order.wrong.add(name)
    except FormulaError as problem:
        order.fault(f"{order.recipe.source}: {name}", str(problem))
        order.wrong.add(name)
    if given and times == 1 and name not in order.wrong and not least <= value <= most:
        value = _read_as(order.asked[name], value, (least, most))
    if not least - TOLERANCE <= value <= most + TOLERANCE:
        typed = as_typed(order.asked[name]) if given and times == 1 else show(value, order.unit)
        means = order.in_words(entry.means)
        low, high = show_both(least, order.unit), show_both(most, order.unit)
        hint = ""
        if given and is_plain(order.asked[name]):
            inches = least <= value * INCH <= most
            if inches or order.unit is Unit.INCH:
                hint = _plain(name, order.asked[name], inches)
        elif not given and formula is not None:
            roots = sorted(order.roots[name])
            asked = ", ".join(f"{root} {as_typed(order.asked[root])}" for root in roots)
            typed = f"{typed}, which follows from {asked or f'`{formula.text}`'},"
            hint = f"Change {' or '.join(roots)}, or set {name} itself." if roots else ""
        order.fault(name, f"{typed} is outside {low} to {high} ({means})", hint)
    return order.figure(name, entry.means, stand_in if name in order.wrong else value)


def _plain(name: str, typed: str | float, inches: bool) -> str:
    """Say how a plain number was read, and what to write if inches were meant."""
    told = "A plain number is millimetres."
    return f"{told} Are inches meant? Then write {name}={typed}in." if inches else told


def is_plain(typed: object) -> bool:
    """Whether a length was typed without a unit.

    Examples
    --------
    >>> is_plain("4"), is_plain("4 in"), is_plain(4.0)
    (True, False, False)
    """
    return isinstance(typed, str) and not split_unit(typed)[1]


def as_inches(name: str, typed: str, entry: AskedSize | Length) -> tuple[str, bool]:
    """What a plain number of millimetres is in inches, and whether it would do as inches.

    Returns
    -------
    text : str
        As it is typed.
    would_do : bool
    """
    value = parse_length(typed, name=name, zero=True)
    least = 0.0 if entry.least is None else entry.least
    most = MOST if entry.most is None else entry.most
    shown = show(value, Unit.INCH).replace(" in", "in")
    return shown, value > 0 and least <= value * INCH <= most


def _read_as(typed: str | float, value: float, limits: Sequence[float]) -> float:
    """The limit that is shown just as it was typed, if it is one; else the value.

    So what is shown as a limit, to a mark of a ruler, may be typed.
    """
    if isinstance(typed, str):
        unit = Unit.INCH if is_inch(split_unit(typed)[1]) else Unit.MM
        for limit in limits:
            if abs(parse_length(show(limit, unit), zero=True) - value) <= TOLERANCE:
                return limit
    return value


def _ruler_mark(order: _Order) -> Figure:
    name = "ruler_mark"
    value = order.recipe.file.ruler_mark or RULER_MARKS[order.unit]
    if name in order.asked:
        try:
            value = parse_length(order.asked[name], name=name, most=MOST_MARK)
        except InputError as problem:
            order.faults.extend(problem.faults)
        if value < LEAST_MARK:
            typed = as_typed(order.asked[name])
            order.fault(name, f"{typed} is finer than the finest mark, {LEAST_MARK:g} mm")
    return order.figure(name, RULER_MARK_MEANS, value)


def _count(order: _Order, name: str, entry: AskedCount) -> Figure:
    value = entry.default
    if name in order.asked:
        text = str(order.asked[name]).strip()
        limits = f"a whole number from {entry.least} to {entry.most}"
        if not text.isdecimal() or len(text) > 6 or not entry.least <= int(text) <= entry.most:
            means = order.in_words(entry.means)
            order.fault(name, f"{as_typed(text)} is not {limits} ({means})")
        else:
            value = int(text)
    return order.figure(name, entry.means, value)


def _choice(order: _Order, name: str, entry: Choice) -> tuple[str, str, str, str]:
    option = str(order.asked.get(name, entry.default)).strip().lower()
    if option not in entry.options:
        listed, meant = ", ".join(entry.options), option_meant(option, order.recipe.file, name)
        hint = f"Write {' '.join(meant)}." if meant else did_you_mean(option, entry.options)
        hint = hint or entry.instead or ""
        order.fault(name, f"{as_typed(option)} is not one of {listed}", hint)
        option = entry.default
    order.names[name] = option
    means, told = (order.in_words(text) for text in (entry.means, entry.options[option]))
    return name, means, option, told


def _value(entry: Formula | RepeatValues, names: Mapping[str, Any]) -> Any:
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

    Examples
    --------
    >>> from paramgen.recipe.arithmetic import read_formula
    >>> [names for _, names in repeats({"k": read_formula("2")}, {"edge": 5.0})]
    [{'edge': 5.0, 'k': 1}, {'edge': 5.0, 'k': 2}]
    >>> list(repeats(None, {"edge": 5.0})), list(repeats({"k": read_formula("0")}, {}))
    ([('', {'edge': 5.0})], [])
    """
    if not repeat:
        yield "", names
        return
    (index,) = repeat
    for turn in range(1, turns(repeat, names) + 1):
        yield index, {**names, index: turn}


def turns(repeat: Mapping[str, Formula] | None, names: Mapping[str, Any]) -> int:
    """How often a thing is repeated; once where it is not said.

    Raises
    ------
    FormulaError
        If that is no number of repeats, or more than can be made.

    Examples
    --------
    >>> from paramgen.recipe.arithmetic import read_formula
    >>> turns({"k": read_formula("pockets + 1")}, {"pockets": 2}), turns(None, {})
    (3, 1)
    >>> turns({"k": read_formula("0")}, {}), turns({"k": read_formula("1 / 2")}, {})
    Traceback (most recent call last):
        ...
    paramgen.recipe.arithmetic.FormulaError: `1 / 2` gives 0.5 repeats; 0 to 200 can be made
    """
    if not repeat:
        return 1
    (times,) = repeat.values()
    count = times.number(names)
    if count != int(count) or not 0 <= count <= MOST_REPEATS:
        raise FormulaError(
            f"`{times.text}` gives {count:g} repeats; 0 to {MOST_REPEATS} can be made"
        )
    return int(count)


#: More repeats than any project has; a bound on the work a recipe can ask for.
MOST_REPEATS = 200


def _possible(remedy: Sentence, names: Mapping[str, Any]) -> bool:
    """Whether no measure in a remedy comes out at less than nothing."""
    values = (part.formula.value(names) for part in remedy.parts if isinstance(part, ShownMeasure))
    return not any(isinstance(value, int | float) and value < 0 for value in values)


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
            remedy = entry.remedy if entry.remedy and _possible(entry.remedy, names) else None
            found.append(
                Finding(
                    "recipe-condition",
                    Severity(entry.severity),
                    facts=facts(
                        says=speaker.written(entry.say, names),
                        remedy=speaker.written(remedy, names) if remedy else None,
                    ),
                    variant="no-one-value" if entry.remedy and not remedy else "",
                )
            )
        except FormulaError as problem:
            where = f"{sized.recipe.source}: conditions[{index}]"
            raise InputError([Fault(str(problem), where)]) from None
    order = list(Severity)
    return tuple(sorted(found, key=lambda finding: order.index(finding.severity)))
