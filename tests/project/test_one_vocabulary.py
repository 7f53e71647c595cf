"""A name means one thing: no public class and no module goes by the name of another."""

import ast
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

from documents import ROOT

PACKAGE = ROOT / "paramgen"
FILES = {
    file.relative_to(PACKAGE).as_posix(): file
    for file in sorted(PACKAGE.rglob("*.py"))
    if not file.name.startswith("__")
}


def _public_types(source: str) -> Iterator[str]:
    """Classes that a module defines, and names that it gives to types: `Point = tuple[...]`."""
    for node in ast.parse(source).body:
        if isinstance(node, ast.ClassDef):
            names = [node.name]
        elif isinstance(node, ast.Assign) and not ast.unparse(node.value).startswith("TypeVar("):
            names = [one.id for one in node.targets if isinstance(one, ast.Name)]
        else:
            names = []
        yield from (name for name in names if name[0].isupper() and not name.isupper())


def _twice(where: Mapping[str, list[str]]) -> dict[str, list[str]]:
    return {name: files for name, files in where.items() if len(files) > 1}


def test_no_public_class_stands_in_two_rooms() -> None:
    where = defaultdict(list)
    for file, path in FILES.items():
        for name in _public_types(path.read_text("utf-8")):
            where[name].append(file)
    assert len(where) > 250
    assert _twice(where) == {}


def test_no_two_modules_have_one_name() -> None:
    where = defaultdict(list)
    for file in FILES:
        where[Path(file).stem].append(file)
    assert len(where) > 200
    assert _twice(where) == {}


def test_no_module_is_called_as_a_room_is() -> None:
    rooms = {path.parent.name for path in PACKAGE.rglob("__init__.py")}
    assert [file for file in FILES if Path(file).stem in rooms] == []


def test_no_two_test_files_have_one_name() -> None:
    where = defaultdict(list)
    for file in sorted((ROOT / "tests").rglob("*.py")):
        where[file.stem].append(file.relative_to(ROOT).as_posix())
    assert _twice(where) == {}


def test_what_a_class_is_called_is_seen() -> None:
    source = "class Box: ...\nPoint = tuple[float, float]\nMOST = 3\nclass _Own: ...\n"
    source += "Answer = TypeVar('Answer')\n"
    assert list(_public_types(source)) == ["Box", "Point"]


#: Fields from which on a frozen type takes keywords.
MANY = 6
#: Asked for so often, and always begun with the same few, that these may go without.
BEGUN_WITHOUT = {"Finding", "Order", "Shape"}


def _takes_places(source: str) -> Iterator[str]:
    """Frozen dataclasses of many fields that may be filled by the place of a value alone."""
    for node in ast.parse(source).body:
        if isinstance(node, ast.ClassDef):
            made = " ".join(ast.unparse(one) for one in node.decorator_list)
            fields = [one for one in node.body if isinstance(one, ast.AnnAssign)]
            if "dataclass(frozen=True" in made and "kw_only=True" not in made:
                yield from [node.name] if len(fields) >= MANY else []


def test_frozen_types_of_many_fields_take_keywords() -> None:
    found = [
        name
        for path in FILES.values()
        for name in _takes_places(path.read_text("utf-8"))
        if name not in BEGUN_WITHOUT
    ]
    assert found == []


def test_a_type_of_many_fields_is_seen() -> None:
    fields = "".join(f"    {name}: int\n" for name in "abcdef")
    assert list(_takes_places(f"@dataclass(frozen=True)\nclass Box:\n{fields}")) == ["Box"]
    assert not list(_takes_places(f"@dataclass(frozen=True, kw_only=True)\nclass Box:\n{fields}"))
