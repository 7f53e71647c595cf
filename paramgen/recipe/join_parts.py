"""A recipe's tables and those of the parts it uses, joined to one recipe: pure, on plain tables.

What a part makes keeps its name, or has the use's prefix before it; what it needs is put in where
it stands. Steps come where the recipe names them, and nowhere else. Of each key it is kept in
which file it stands, so that a fault can be told where it is and with who used it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import field
from typing import Any

from paramgen.budget import MOST_BYTES
from paramgen.recipe.declared_terms import Change, rewritten
from paramgen.recipe.file_tables import FileTables
from paramgen.recipe.key_lines import Loc
from paramgen.recipe.language import MOST_ENTRIES, PartFile, RecipeFile, StepsOfUse
from paramgen.recipe.part_in_use import NUMBERS_OF_PARTS, WORDS, GivenTerms, PartInUse
from paramgen.recipe.read_part import OF_OTHERS, PartText, with_words
from paramgen.recipe.read_uses import own_steps, parts_in_use, uses_parts
from paramgen.recipe.terms import NAME_AND_INDEX
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

#: Tables in which an entry comes after what it is made from.
_IN_ORDER = ("lengths", "values", "outlines")


@dataclass(frozen=True)
class JoinedTables:
    """A recipe with its parts, as the tables of one recipe.

    Parameters
    ----------
    raw : dict
    origins : mapping
        Of the first keys of what comes from a part, or has moved: which file, and where there.
    own : FileTables
        The recipe's own file.
    used : tuple of PartInUse
    """

    raw: dict[str, Any]
    origins: Mapping[Loc, tuple[FileTables, Loc]]
    own: FileTables
    used: tuple[PartInUse, ...] = ()

    def place(self, loc: Loc) -> tuple[FileTables, Loc]:
        """File and keys of what stands at a path of keys of the whole."""
        for end in range(len(loc), 0, -1):
            if loc[:end] in self.origins:
                tables, start = self.origins[loc[:end]]
                return tables, (*start, *loc[end:])
        return self.own, loc

    def rank(self, tables: FileTables) -> int:
        """In which order faults of the files are told: the recipe's own first."""
        return next((n for n, one in enumerate(self.used, 1) if one.tables is tables), 0)


def join_parts(own: FileTables, parts: Sequence[PartText], known: Sequence[str]) -> JoinedTables:
    """Join a recipe and the parts that it uses.

    Parameters
    ----------
    own : FileTables
        Of the recipe.
    parts : sequence of PartText
        Those it names that were found.
    known : sequence of str
        Names of all that there are.

    Raises
    ------
    InputError
        With what is wrong with the uses, else with the parts, else with what they are given.
    """
    if not uses_parts(own.raw):
        return JoinedTables(dict(own.raw), {}, own)
    used, entries = parts_in_use(own, parts, known)
    joining = _Joining(own, used)
    for one in used:
        joining.take(one)
    joining.put_steps(entries)
    joining.put_in_order()
    if joining.faults:
        raise InputError(joining.faults)
    return JoinedTables(joining.raw, joining.origins, own, tuple(used))


@dataclass
class _Joining:
    """The joined tables while they grow."""

    own: FileTables
    used: Sequence[PartInUse]
    raw: dict[str, Any] = field(init=False)
    origins: dict[Loc, tuple[FileTables, Loc]] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    steps: dict[tuple[str, str], tuple[FileTables, int, Any]] = field(default_factory=dict)
    left: int = MOST_BYTES

    def __post_init__(self) -> None:
        self.raw = dict(self.own.raw)

    def take(self, use: PartInUse) -> None:
        """Put in all that a part makes but its steps, which are kept until they are named."""
        words = GivenTerms(use)
        needs = use.part.file.needs
        one_of = {name: text for name, text in words.texts.items() if needs[name].kind == "one of"}
        try:
            raw = with_words(use.part.tables.raw, one_of)
            part = rewritten(raw, PartFile, self._counted(words))
        except _TooLongError:
            what = f"what `{use.name}` puts in makes a recipe of more than {MOST_BYTES} characters"
            self.faults.append(self.own.fault(("uses", use.name), what))
            return
        if full := [table for table in OF_OTHERS if self._holds(table, part) > MOST_ENTRIES]:
            where = " and ".join(full)
            what = f"with what `{use.name}` puts in there are more than {MOST_ENTRIES} {where}"
            self.faults.append(self.own.fault(("uses", use.name), what))
            return
        met = [
            one
            for table in OF_OTHERS
            for name, entry in part.get(table, {}).items()
            if (one := self._put(use, table, name, entry))
        ]
        if met:
            what = f"the part `{use.part.name}` makes what is there already: {', '.join(met)}"
            hint = f'Write `prefix = "{use.name}"`: it is put before its names.'
            self.faults.append(self.own.fault(("uses", use.name), what, hint))
        own = self.raw.get("conditions", [])
        conditions = [*own] if isinstance(own, list) else []  # what else it is, is told below
        for index, entry in enumerate(part.get("conditions", [])):
            self.origins["conditions", len(conditions)] = use.tables, ("conditions", index)
            conditions.append(entry)
        if conditions and isinstance(own, list):
            self.raw["conditions"] = conditions
        for index, step in enumerate(part.get("steps", [])):
            bare = {key: value for key, value in step.items() if key != "name"}
            self.steps[use.name, step["name"]] = use.tables, index, bare

    def _holds(self, table: str, part: Mapping[str, Any]) -> int:
        """How many entries a table would have with those of a part, asked before they are."""
        own = self.raw.get(table, {})
        return (len(own) if isinstance(own, dict) else 0) + len(part.get(table, {}))

    def _counted(self, words: GivenTerms) -> Change:
        def change(what: str, text: Any) -> Any:
            new = words.changed(what, text)
            self.left -= sum(map(len, new)) if isinstance(new, list) else len(str(new))
            if self.left < 0:
                raise _TooLongError
            return new

        return change

    def _put(self, use: PartInUse, table: str, name: str, entry: Any) -> str:
        """Put in what a part makes; gives back where another of its name is, if there is one."""
        called = use.called(name, number=table in NUMBERS_OF_PARTS)
        entries = self.raw.get(table, {})
        if not isinstance(entries, dict):
            return ""  # told when the whole is read
        if called in entries:
            before = self.origins.get((table, called))
            other = next((one for one in self.used if before and one.tables is before[0]), None)
            return f"`{called}` in " + (f"the part of `{other.name}`" if other else table)
        self.raw[table] = {**entries, called: entry}
        self.origins[table, called] = use.tables, (table, name)
        return ""

    def put_steps(self, entries: Mapping[int, StepsOfUse]) -> None:
        """Put every step of a part where the recipe names it."""
        steps: list[Any] = []
        for index, entry in enumerate(own_steps(self.own.raw)):
            if index not in entries:
                self.origins["steps", len(steps)] = self.own, ("steps", index)
                steps.append(entry)
                continue
            named = entries[index]
            use = next(one for one in self.used if one.name == named.use)
            for name in named.steps or use.part.step_names:
                if (use.name, name) in self.steps:
                    tables, place, step = self.steps[use.name, name]
                    self.origins["steps", len(steps)] = tables, ("steps", place)
                    steps.append(step)
        if "steps" in self.raw:
            self.raw["steps"] = steps

    def put_in_order(self) -> None:
        """Put what a part makes before the first that uses it; the recipe's own stays in order."""
        for table in _IN_ORDER:
            entries = self.raw.get(table)
            if isinstance(entries, dict):
                self.raw[table] = _after_what_it_uses(table, entries, self.origins)


class _TooLongError(Exception):
    """The joined recipe is longer than one file may be."""


def _after_what_it_uses(
    table: str, entries: Mapping[str, Any], origins: Mapping[Loc, object]
) -> dict[str, Any]:
    kind = RecipeFile.model_fields[table].annotation
    made = {name for name in entries if (table, name) in origins}
    placed: dict[str, Any] = {}
    own_first = sorted(entries, key=lambda name: name in made)
    waiting = [(name, False) for name in reversed(own_first)]
    opened: set[str] = set()
    while waiting:
        name, ready = waiting.pop()
        if name in placed:
            continue
        if ready or name in opened:
            placed[name] = entries[name]
            continue
        opened.add(name)
        waiting.append((name, True))
        uses = sorted(_named_in({name: entries[name]}, kind, table) & made - opened)
        order = [one for one in entries if one in uses]
        waiting += [(one, False) for one in reversed(order)]
    return placed


def _named_in(entry: Any, kind: Any, table: str) -> set[str]:
    """Names that formulas of an entry use; of an outline, the outlines that it is made from."""
    found: set[str] = set()

    def note(what: str, text: Any) -> Any:
        if table == "outlines" and what == "outlines":
            found.update(name for name, _ in NAME_AND_INDEX.findall(str(text)))
        elif table != "outlines" and what in ("formula", "default"):
            found.update(WORDS.findall(str(text)))
        return text

    rewritten(entry, kind, note)
    return found
