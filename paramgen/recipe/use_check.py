"""Do a recipe and its parts hang together? What a use is given must be there, and be open to it."""

from collections.abc import Iterator, Mapping

from paramgen.nearest_word import did_you_mean
from paramgen.recipe.arithmetic import Formula, read_formula
from paramgen.recipe.built_in_lengths import NAMES, ply_names
from paramgen.recipe.join_parts import JoinedTables
from paramgen.recipe.language import OF_NAMES, OF_NUMBERS, RecipeFile, RepeatValues
from paramgen.recipe.name_check import Clash, terms_in
from paramgen.recipe.part_in_use import KIND_TABLES, NUMBERS_OF_PARTS, PartInUse


def use_clashes(file: RecipeFile, joined: JoinedTables) -> Iterator[Clash]:
    """Find what is wrong between a recipe and its parts.

    Parameters
    ----------
    file : RecipeFile
        The whole, as it was read from the joined tables.
    joined : JoinedTables

    Yields
    ------
    Clash
        A gift that names nothing, and each name of a part that is not among what it gives.
    """
    kept = _kept(joined)
    for use in joined.used:
        for need, value in use.given.items():
            loc = ("uses", use.name, "with", need)
            table = use.part.file.needs[need]
            kind = table.kind
            if kind in OF_NUMBERS:
                tables: tuple[str, ...] = NUMBERS_OF_PARTS
                named = sorted(read_formula(_plain(value)).names)
                known = set(file.choices) if kind == "choice" else _numbers(file)
                words = "choices" if kind == "choice" else ""
            elif kind in OF_NAMES:
                tables = (OF_NAMES[kind],)
                given = value if isinstance(value, tuple) else (value,)
                named = [str(one).partition("[")[0] for one in given]
                known = set(getattr(file, OF_NAMES[kind]))
                words = OF_NAMES[kind]
            else:
                continue
            for name in named:
                other = _owner(kept, tables, name)
                if name not in known:
                    what = f"no `{name}` in {words}" if words else f"`{name}` is not defined here"
                    yield Clash(loc, what, did_you_mean(name, known))
                elif other:
                    yield _not_given(loc, name, other)
                elif table.repeat is not None and not _is_repeated(file, kind, name):
                    one = f"`{need}[{next(iter(table.repeat))}]`"
                    yield Clash(loc, f"`{name}` is not repeated, and `{use.part.name}` needs {one}")
    for term in terms_in(file):
        if joined.place(term.loc)[0] is not joined.own:
            continue
        if isinstance(term.term, Formula):
            found = [
                (name, _owner(kept, NUMBERS_OF_PARTS, name)) for name in sorted(term.term.names)
            ]
        else:
            ref = term.term
            found = [(ref.name, _owner(kept, KIND_TABLES.get(ref.kind, ()), ref.name))]
        yield from (_not_given(term.loc, name, use) for name, use in found if use)


def _is_repeated(file: RecipeFile, kind: str, name: str) -> bool:
    """Whether what a recipe calls so is there for each of a number of repeats."""
    if kind in OF_NUMBERS:
        return isinstance(file.values.get(name), RepeatValues)
    made = getattr(file, OF_NAMES[kind])[name]
    cases = made if isinstance(made, list) else [made]
    return any(case.repeat is not None for case in cases)


def _kept(joined: JoinedTables) -> Mapping[tuple[str, str], PartInUse]:
    """By table and name in the whole: what a part makes and keeps to itself."""
    return {
        (table, use.called(name, number=table in NUMBERS_OF_PARTS)): use
        for use in joined.used
        for name, table in use.part.own.items()
        if name not in use.part.file.gives
    }


def _owner(
    kept: Mapping[tuple[str, str], PartInUse], tables: tuple[str, ...], name: str
) -> PartInUse | None:
    return next((kept[table, name] for table in tables if (table, name) in kept), None)


def _not_given(loc: tuple[str | int, ...], name: str, use: PartInUse) -> Clash:
    gives = use.part.file.gives
    hint = f"It gives {', '.join(gives)}." if gives else "It gives nothing."
    return Clash(loc, f"the part `{use.part.name}` keeps `{name}` to itself", hint)


def _numbers(file: RecipeFile) -> set[str]:
    plies = ply_names(file.fabrics)
    return {*file.sizes, *file.counts, *file.choices, *file.lengths, *file.values, *NAMES, *plies}


def _plain(value: str | int | float | tuple[str, ...]) -> str | float:
    return " ".join(value) if isinstance(value, tuple) else value
