"""What is wrong with what is asked for on panels: each kept beside what must be said of it.

`tests/specimens/embellished_files.py` says how they are kept. Of every finding about what is asked
for, and of every fault in what is typed, there is one.
"""

import ast
import re
import sys
from pathlib import Path
from types import ModuleType

import pytest
from adorned import found_of
from embellished_files import BAD_EMBELLISHMENTS, BadEmbellishment
from told import mends, says

from paramgen import embellishment
from paramgen.embellishment import read_embellishment
from paramgen.layout import panel_names
from paramgen.layout.panel_names import panel_faults
from paramgen.ordering import embellishments_typed as typed
from paramgen.page.desk import desk
from paramgen.reading import read_motif
from paramgen.recipe.read_recipe import find_recipe
from paramgen.sizing import size
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

LAID = [one for one in BAD_EMBELLISHMENTS if "finds" in one.told]
TYPED = [one for one in BAD_EMBELLISHMENTS if "faults" in one.told]
#: Where something is found to be wrong with what is typed.
READERS = (read_embellishment, typed, read_motif, panel_names)


def name(one: BadEmbellishment) -> str:
    return one.name


def test_each_has_what_it_is_beside_what_is_said() -> None:
    assert len(LAID) + len(TYPED) == len(BAD_EMBELLISHMENTS)
    assert all(one.told["why"] for one in BAD_EMBELLISHMENTS)


@pytest.mark.parametrize("bad", LAID, ids=name)
def test_exactly_what_is_kept_beside_it_is_found(bad: BadEmbellishment) -> None:
    found = found_of(bad.project)
    assert [(one.key, one.piece) for one in found] == bad.finds
    for unit in Unit:
        for one in found:
            # With every field of its sentences filled in.
            said = f"{says(one, unit)} {mends(one, unit)}"
            assert not re.search(r"[\[\]{}]|\b(?:None|nan|inf)\b|  |\w\($", said.strip()), said


def told_of(bad: BadEmbellishment, folder: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The faults in what is typed, in a folder with its files."""
    monkeypatch.chdir(folder)
    for file, figures in bad.told.get("files", {}).items():
        (folder / file).write_bytes(bytes.fromhex(figures))
    if "recipe" in bad.told:
        sized = size(find_recipe(bad.told["recipe"]), {}, unit=Unit.MM)
        return [str(one) for one in panel_faults(sized, bad.told["on"])]
    read = desk({}).motif_given if bad.told.get("on_a_page") else typed.read_motif
    with pytest.raises(InputError) as refusal:
        typed.embellishments_typed(bad.told["on"], read)
    return [str(one) for one in refusal.value.faults]


@pytest.mark.parametrize("bad", TYPED, ids=name)
def test_exactly_the_faults_kept_beside_it_are_told(
    bad: BadEmbellishment, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert told_of(bad, tmp_path, monkeypatch) == bad.told["faults"]


def test_no_finding_about_an_embellishment_is_without_one() -> None:
    room = Path(embellishment.__path__[0])
    made = "".join(file.read_text(encoding="utf-8") for file in sorted(room.glob("*.py")))
    codes = [
        key for key, entry in english().findings.items()
        if "says" in entry and f'"{key.partition(".")[0]}"' in made
    ]  # fmt: skip
    assert len(codes) > 10
    kept = {code for one in LAID for code, _ in one.finds}
    assert [code for code in codes if code not in kept] == []


def faults_made(module: ModuleType) -> list[tuple[int, int]]:
    """First and last line of each place in a module that makes a fault."""
    tree = ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))
    calls = (node for node in ast.walk(tree) if isinstance(node, ast.Call))
    return [
        (node.lineno, node.end_lineno or node.lineno)
        for node in calls
        if isinstance(node.func, ast.Name) and node.func.id == "Fault"
    ]


def test_no_fault_in_what_is_typed_is_without_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at: set[tuple[str, int]] = set()

    def noted(*parts: str, **named: str) -> Fault:
        frame = sys._getframe(1)
        at.add((frame.f_code.co_filename, frame.f_lineno))
        return Fault(*parts, **named)  # type: ignore[arg-type]

    for module in READERS:
        monkeypatch.setattr(module, "Fault", noted)
    for bad in TYPED:
        told_of(bad, tmp_path, monkeypatch)
    missed = [
        f"{Path(str(module.__file__)).name}, line {first}"
        for module in READERS
        for first, last in faults_made(module)
        if not any((str(module.__file__), line) in at for line in range(first, last + 1))
    ]
    assert missed == []
