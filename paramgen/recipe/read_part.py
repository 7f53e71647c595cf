"""Reading a part of recipes: strict, and checked whole on its own, whoever uses it."""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import islice
from typing import Any

from pydantic import ValidationError

from paramgen.nearest_word import did_you_mean
from paramgen.recipe.arithmetic import Formula, read_formula
from paramgen.recipe.built_in_lengths import ply_names_of
from paramgen.recipe.declared_terms import rewritten
from paramgen.recipe.file_tables import FileTables, file_tables
from paramgen.recipe.key_lines import Loc
from paramgen.recipe.language import (
    OF_NAMES,
    OF_NUMBERS,
    AskedCount,
    Choice,
    FabricTable,
    FinishTable,
    Length,
    LineTable,
    NeedTable,
    NotionTable,
    PartFile,
    PieceTable,
    RecipeFile,
    Rectangle,
    RepeatValues,
)
from paramgen.recipe.name_check import Clash, clashes
from paramgen.recipe.reader_faults import in_file, said
from paramgen.recipe.terms import Default
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.frozen_data import dataclass

#: No more faults than these are looked for in one part.
MOST_IN_A_PART = 50

#: Words that whoever uses a part gives it, in its titles and sentences.
GIVEN_WORDS = re.compile(r"<([a-z][a-z0-9_-]*)>")

_NO_USES = "A part uses no other: let it need what another gives."

#: Needs that stand for words, and keys of which a text may hold such words among others.
OF_WORDS = ("words", "one of")
_WORDED = ("title", "say", "say_once", "means", "remedy")

#: The tables of a part whose entries others may use by their names.
OF_OTHERS = ("lengths", "values", "notions", "fabrics", "pieces", "outlines", "lines")


@dataclass(frozen=True)
class PartText:
    """The file of a part as it was found, not yet understood.

    Parameters
    ----------
    name : str
        The file's name without its ending.
    source : str
        Where it was found, for messages.
    text : str
    trouble : str
        Why it could not be read; empty if it could.
    """

    name: str
    source: str
    text: str = ""
    trouble: str = ""


@dataclass(frozen=True)
class RecipePart:
    """A part, read and checked.

    Parameters
    ----------
    name : str
        The file's name without its ending.
    tables : FileTables
    file : PartFile
    """

    name: str
    tables: FileTables
    file: PartFile

    @property
    def own(self) -> dict[str, str]:
        """Names of what it makes, and the table where each stands."""
        return {name: table for table in OF_OTHERS for name in getattr(self.file, table)}

    @property
    def step_names(self) -> list[str]:
        """Names of its steps, in order."""
        return [step.name for step in self.file.steps]


@lru_cache(maxsize=64)
def read_part(text: str, name: str, source: str) -> RecipePart:
    """Read a part from the text of its file.

    Raises
    ------
    InputError
        With every fault found: those of form, and only if there are none those of names.
    """
    tables = file_tables(text, source)
    raw: Any = with_words(tables.raw, _first_options(tables.raw))
    try:
        file = PartFile.model_validate(raw)
    except ValidationError as problem:
        told = (said(dict(error), raw, PartFile) for error in problem.errors())
        faults = [
            tables.fault(loc, message, _NO_USES if loc == ("uses",) else hint)
            for loc, message, hint in islice(told, MOST_IN_A_PART)
        ]
        raise InputError(sorted(faults, key=lambda fault: fault.line or 0)) from None
    part = RecipePart(name, tables, file)
    found = islice(_clashes(part), MOST_IN_A_PART)
    if faults := [tables.fault(in_file(one.loc, raw), one.message, one.hint) for one in found]:
        raise InputError(faults)
    return part


def with_words(raw: Any, words: Mapping[str, str]) -> Any:
    """The same tables with each text that is nothing but `<name>` in those words."""
    match raw:
        case str():
            found = GIVEN_WORDS.fullmatch(raw)
            return words.get(found[1], raw) if found else raw
        case dict():
            return {key: with_words(value, words) for key, value in raw.items()}
        case list():
            return [with_words(value, words) for value in raw]
        case _:
            return raw


def _first_options(raw: Mapping[str, Any]) -> dict[str, str]:
    """One of its options for each need that is one of several; whatever else is wrong."""
    needs = raw.get("needs")
    return {
        name: need["options"][0]
        for name, need in (needs.items() if isinstance(needs, dict) else ())
        if isinstance(need, dict)
        and need.get("kind") == "one of"
        and isinstance(need.get("options"), list)
        and need["options"]
        and isinstance(need["options"][0], str)
    }


def _clashes(part: RecipePart) -> Iterator[Clash]:
    """All that is wrong with the names of a part, seen on its own."""
    yield from _double(part)
    yield from _words(part)
    file = part.file
    for index, name in enumerate(file.gives):
        if name not in part.own:
            hint = did_you_mean(name, part.own)
            yield Clash(("gives", index), f"nothing here is called `{name}`", hint)
        elif name in file.gives[:index]:
            yield Clash(("gives", index), f"`{name}` stands here already")
    for name, piece in file.pieces.items():
        if piece.fabric not in file.fabrics and piece.fabric not in file.needs:
            hint = "Name it under fabrics, or under needs."
            yield Clash(("pieces", name, "fabric"), f"no `{piece.fabric}` in fabrics", hint)
    referred = _referred(part)
    for clash in clashes(_alone(file)):
        table, name = (*map(str, clash.loc), "", "")[:2]
        if name in file.needs and _table_of(file.needs[name]) == table:
            if not clash.last:
                yield Clash(("needs", name), clash.message, clash.hint)
            elif name not in referred:
                yield Clash(("needs", name), f"`{name}` is never used", "Take it out.")
        elif name not in file.gives or not (clash.last or table == "notions"):
            yield clash  # what is given may be laid, stitched and needed by who uses it


def _double(part: RecipePart) -> Iterator[Clash]:
    seen: set[str] = set()
    for index, name in enumerate(part.step_names):
        if name in seen:
            yield Clash(("steps", index, "name"), f"a step before it is called `{name}` already")
        seen.add(name)
    for name, need in part.file.needs.items():
        if name in part.own:
            where = part.own[name]
            yield Clash(("needs", name), f"`{name}` is named already in {where}")
        dash, wanted = ("-", "underscores") if need.kind in OF_NUMBERS else ("_", "hyphens")
        if need.kind not in OF_WORDS and dash in name:
            yield Clash(("needs", name), f"`{name}` is a {need.kind}: its name has {wanted}")


def _words(part: RecipePart) -> Iterator[Clash]:
    """Words that are wanted in a text and are no need, and the other way round."""
    words = {name for name, need in part.file.needs.items() if need.kind in OF_WORDS}
    wanted: set[str] = set()
    for loc, text in _texts(part.tables.raw, ()):
        for name in GIVEN_WORDS.findall(re.sub(r"\{[^{}]*\}", "", text)):
            wanted.add(name)
            if name not in words:
                hint = did_you_mean(name, words)
                yield Clash(loc, f"no words are called `{name}` in needs", hint)
    for name in sorted(words - wanted):
        yield Clash(("needs", name), f"`{name}` is never used", f"Write <{name}> in a text.")


def _texts(raw: object, loc: Loc) -> Iterator[tuple[Loc, str]]:
    match raw:
        case str() if loc[-1] in _WORDED or GIVEN_WORDS.fullmatch(raw):
            yield loc, raw
        case dict() | list():
            pairs = raw.items() if isinstance(raw, dict) else enumerate(raw)
            for key, value in pairs:
                yield from _texts(value, (*loc, key))
        case _:
            pass


def _referred(part: RecipePart) -> set[str]:
    """Every name that a formula, a sentence or a table of the part refers to."""
    found: set[str] = set()

    def note(what: str, text: Any) -> Any:
        between = "_" if what in ("formula", "default", "sentence") else "-"
        found.update(re.findall(f"[a-z][a-z0-9{between}]*", str(text)))
        return text

    rewritten(part.tables.raw, PartFile, note)
    plies = {ply: name for name in part.file.needs for ply in ply_names_of(name)}
    return found | {name for ply, name in plies.items() if ply in found}


def _table_of(need: NeedTable) -> str:
    tables = {"length": "lengths", "count": "counts", "choice": "choices", "value": "values"}
    return {**tables, **OF_NAMES}.get(need.kind, "")


def _alone(file: PartFile) -> RecipeFile:
    """A recipe of this part alone, with something in place of each of its needs."""
    made: dict[str, dict[str, Any]] = {table: dict(getattr(file, table)) for table in OF_OTHERS}
    made |= {"counts": {}, "choices": {}}
    # Each is put before what is there already: so what is repeated comes after how often it is.
    for name, need in sorted(file.needs.items(), key=lambda one: one[1].repeat is None):
        if need.kind not in OF_WORDS:
            table = _table_of(need)
            made[table] = {name: _stand_in(need), **made[table]}
    return RecipeFile.model_construct(
        _fields_set=None,
        **made,
        format=1,
        title=file.title,
        summary=file.summary,
        ruler_mark=None,
        sizes={},
        holds={},
        uses={},
        steps=list(file.steps),
        conditions=file.conditions,
        finish=[FinishTable.model_construct(**_NO_FINISH)],
    )


#: How it ends is for a recipe to say.
_NO_FINISH: Mapping[str, Any] = {
    "way": None,
    "finished": None,
    "seam": None,
    "measured": None,
    "between": [],
    "pulled_over": [],
    "stands_out": [],
    "folds": [],
    "binding": None,
    "when": None,
}
#: A fold that there may be at any edge.
_ANY_FOLD = [
    {"fold": "hem", "along": way, "turn": 1, "when": "1 == 1"} for way in ("height", "width")
]
_SQUARE = {"title": "it", "width": 1, "height": 1}


def _stand_in(need: NeedTable) -> object:
    """Something of the kind of a need, as often as it is needed."""
    one = _one_stand_in(need)
    match one:
        case _ if need.repeat is None:
            return one
        case Formula():
            return RepeatValues.model_construct(repeat=need.repeat, is_=one)
        case list():
            return [case.model_copy(update={"repeat": need.repeat}) for case in one]
        case PieceTable() | LineTable():
            return one.model_copy(update={"repeat": need.repeat})
        case _:
            return one


def _one_stand_in(need: NeedTable) -> object:
    match need.kind:
        case "length":
            return Length.model_construct(
                means=need.means, default=Default(1.0, None), least=None, most=None
            )
        case "count":
            return AskedCount(means=need.means, default=1, least=0, most=1)
        case "choice":
            options = dict.fromkeys(need.options, need.means)
            return Choice.model_construct(
                means=need.means, default=need.options[0], options=options, also={}, lacks=[]
            )
        case "piece":
            return PieceTable.model_validate({**_SQUARE, "fabric": "any", "folds": _ANY_FOLD})
        case "notion":
            kind = {"title": "it", "sort": "other", "length": 1, "width": 1}
            return NotionTable.model_validate(kind)
        case "outline":
            return [Rectangle.model_validate({"shape": "rectangle", "width": 1, "height": 1})]
        case "line":
            points = [[["0", "0"], ["1", "0"]]]
            return LineTable.model_validate({"title": "it", "role": "seam", "points": points})
        case "fabric":
            return FabricTable(kind="quilting-cotton")
        case _:
            return read_formula(1)
