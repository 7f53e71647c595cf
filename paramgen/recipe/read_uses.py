"""The parts that a recipe uses: each found, read, given what it needs, its steps put in once."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from pydantic import TypeAdapter, ValidationError

from paramgen.budget import MOST_BYTES
from paramgen.nearest_word import did_you_mean
from paramgen.recipe.arithmetic import FormulaError, read_formula
from paramgen.recipe.file_tables import FileTables
from paramgen.recipe.key_lines import Loc
from paramgen.recipe.language import (
    MOST_USES,
    OF_NAMES,
    OF_NUMBERS,
    NeedTable,
    RecipeFile,
    StepsOfUse,
    UseTable,
)
from paramgen.recipe.part_in_use import Gift, PartInUse
from paramgen.recipe.read_part import PartText, RecipePart, read_part
from paramgen.recipe.reader_faults import said
from paramgen.recipe.terms import NAME_AND_INDEX
from paramgen.vocabulary.findings import Fault, InputError

#: So many steps that are missing are named.
MOST_SHOWN = 6


def parts_in_use(
    own: FileTables, parts: Sequence[PartText], known: Sequence[str]
) -> tuple[list[PartInUse], Mapping[int, StepsOfUse]]:
    """Understand what a recipe says of the parts that it uses.

    Parameters
    ----------
    own : FileTables
        Of the recipe.
    parts : sequence of PartText
        Those it names that were found.
    known : sequence of str
        Names of all that there are.

    Returns
    -------
    list of PartInUse
    mapping of index to StepsOfUse
        Entries of its steps that stand for steps of a part.

    Raises
    ------
    InputError
        With what is wrong with the uses, else with the parts, else with what they are given.
    """
    uses, entries = _declared(own)
    if (much := sum(len(part.text) for part in parts)) > MOST_BYTES:
        what = (
            f"the parts that it uses have {much} characters together, at most {MOST_BYTES} are read"
        )
        raise InputError([own.fault(("uses",), what)])
    used = _found(own, uses, parts, known)
    if faults := [*_wrong_gifts(own, used), *_wrong_steps(own, entries, used)]:
        raise InputError(faults)
    return used, entries


def named_parts(raw: Mapping[str, Any]) -> list[str]:
    """Names of the parts that a recipe's tables ask for, each once; whatever else is wrong."""
    uses = raw.get("uses")
    entries = list(uses.values())[:MOST_USES] if isinstance(uses, dict) else []
    names = (entry.get("part") for entry in entries if isinstance(entry, dict))
    return list(dict.fromkeys(name for name in names if isinstance(name, str)))


def own_steps(raw: Mapping[str, Any]) -> list[Any]:
    """Entries of the steps of a recipe's tables, those of parts among them."""
    steps = raw.get("steps")
    return steps if isinstance(steps, list) else []


def uses_parts(raw: Mapping[str, Any]) -> bool:
    """Whether a recipe's tables speak of parts at all."""
    return "uses" in raw or any(_is_use(entry) for entry in own_steps(raw))


def _is_use(entry: object) -> bool:
    return isinstance(entry, dict) and "use" in entry


def _declared(own: FileTables) -> tuple[dict[str, UseTable], dict[int, StepsOfUse]]:
    """Uses and the places of their steps, as the language has them."""
    faults: list[Fault] = []
    uses: dict[str, UseTable] = {}
    form = {"uses": own.raw.get("uses", {})}
    try:
        adapter: TypeAdapter[dict[str, UseTable]] = TypeAdapter(dict[str, UseTable])
        uses = adapter.validate_python(form["uses"])
        if len(uses) > MOST_USES:
            faults.append(own.fault(("uses",), f"at most {MOST_USES} wanted, this has {len(uses)}"))
    except ValidationError as problem:
        for error in problem.errors():
            at = {**error, "loc": ("uses", *error["loc"])}
            faults.append(own.fault(*said(at, form, RecipeFile)))
    entries: dict[int, StepsOfUse] = {}
    for index, entry in enumerate(own_steps(own.raw)):
        if not _is_use(entry):
            continue
        try:
            entries[index] = StepsOfUse.model_validate(entry)
        except ValidationError as problem:
            for error in problem.errors():
                loc, message, hint = said(dict(error), entry, StepsOfUse)
                faults.append(own.fault(("steps", index, *loc), message, hint))
    if faults:
        raise InputError(sorted(faults, key=lambda fault: fault.line or 0))
    return uses, entries


def _found(
    own: FileTables, uses: Mapping[str, UseTable], parts: Sequence[PartText], known: Sequence[str]
) -> list[PartInUse]:
    """Every use with its part, read and checked on its own."""
    by_name = {part.name: part for part in parts}
    faults: list[Fault] = []
    read: dict[str, RecipePart | None] = {}
    used: list[PartInUse] = []
    for name, use in uses.items():
        found = by_name.get(use.part)
        if found is None:
            hint = did_you_mean(use.part, known)
            hint = hint or (f"There are {', '.join(known)}." if known else "")
            faults.append(own.fault(("uses", name, "part"), f"there is no part `{use.part}`", hint))
            continue
        label = f"{found.source}, as `{name}` in {own.source}"
        if found.trouble:
            faults.append(Fault(found.trouble, label))
            continue
        if use.part not in read:
            read[use.part] = None
            try:
                read[use.part] = read_part(found.text, found.name, found.source)
            except InputError as problem:
                start = len(found.source)
                faults += [replace(one, where=label + one.where[start:]) for one in problem.faults]
        if part := read[use.part]:
            tables = replace(part.tables, source=label)
            used.append(PartInUse(name, part, use.with_, use.prefix or "", tables))
    if faults:
        raise InputError(faults)
    return used


def _wrong_gifts(own: FileTables, used: Sequence[PartInUse]) -> Iterator[Fault]:
    """What a use is given and does not need, lacks, or cannot be."""
    for use in used:
        needs = use.part.file.needs
        for need, value in use.given.items():
            loc: Loc = ("uses", use.name, "with", need)
            if need not in needs:
                hint = did_you_mean(need, needs)
                hint = hint or (f"It needs {', '.join(needs)}." if needs else "It needs nothing.")
                what = f"the part `{use.part.name}` needs no `{need}`"
                yield own.fault(loc, what, hint)
            elif wrong := _not_of_its_kind(needs[need], value):
                yield own.fault(loc, wrong)
        for need, table in needs.items():
            if need not in use.given and table.default is None:
                what = f"the part `{use.part.name}` needs `{need}`, {table.means}"
                yield own.fault(("uses", use.name, "with"), what, f"Write `{need} = ...` there.")


def _not_of_its_kind(need: NeedTable, value: Gift) -> str:
    """Why a value cannot be what is needed; empty if it can."""
    if need.repeat is not None:
        between = "_" if need.kind in OF_NUMBERS else "-"
        named = isinstance(value, str) and re.fullmatch(f"[a-z][a-z0-9{between}]*", value)
        return "" if named else f"the bare name of a {need.kind} that is repeated is wanted"
    if need.kind == "words":
        return "" if isinstance(value, str) else "a text is wanted"
    if need.kind == "one of":
        return "" if value in need.options else f"one of {', '.join(need.options)} is wanted"
    if need.kind in OF_NAMES:
        names = value if isinstance(value, tuple) else (value,)
        fits = all(isinstance(one, str) and NAME_AND_INDEX.match(one) for one in names)
        return "" if fits else f"a name in {OF_NAMES[need.kind]} is wanted, or a list of such names"
    if isinstance(value, tuple):
        return f"a {need.kind} is wanted, not a list"
    if need.kind == "choice":
        named = isinstance(value, str) and re.fullmatch(r"[a-z][a-z0-9_]*", value)
        return "" if named else "the name of a choice is wanted"
    try:
        read_formula(value)
    except FormulaError as problem:
        return str(problem)
    return ""


def _wrong_steps(
    own: FileTables, entries: Mapping[int, StepsOfUse], used: Sequence[PartInUse]
) -> Iterator[Fault]:
    """Steps that are put in and are not there, come twice, in another order, or not at all."""
    by_name = {use.name: use for use in used}
    put: dict[str, list[str]] = {name: [] for name in by_name}
    for index, entry in entries.items():
        loc: Loc = ("steps", index)
        use = by_name.get(entry.use)
        if use is None:
            hint = did_you_mean(entry.use, by_name)
            yield own.fault((*loc, "use"), f"no `{entry.use}` in uses", hint)
            continue
        there = use.part.step_names
        before = put[use.name]
        for place, step in enumerate(entry.steps or there):
            at: Loc = (*loc, "steps", place) if entry.steps else (*loc, "use")
            if step not in there:
                hint = did_you_mean(step, there) or f"There are {', '.join(there)}."
                yield own.fault(at, f"the part `{use.part.name}` has no step `{step}`", hint)
            elif step in before:
                yield own.fault(at, f"the step `{step}` of `{use.name}` stands here already")
            else:
                if before and there.index(step) < there.index(before[-1]):
                    what = f"in the part `{use.part.name}` the step `{step}` comes before "
                    yield own.fault(at, f"{what}`{before[-1]}`", "Keep its order.")
                before.append(step)
    for name, use in by_name.items():
        if left := [step for step in use.part.step_names if step not in put[name]]:
            named = ", ".join(f"`{step}`" for step in left[:MOST_SHOWN])
            more = f" and {len(left) - MOST_SHOWN} more" if len(left) > MOST_SHOWN else ""
            what = f"its steps {named}{more} are put in nowhere"
            hint = f'Write `use = "{name}"` under [[steps]], where they come.'
            yield own.fault(("uses", name), what, hint)
