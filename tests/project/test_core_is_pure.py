"""The core prints nothing and reads no global state; each library has its room.

What a room may know of the others is held by the map in DEVELOPERS.md; see its test.
"""

import ast
import subprocess
import sys
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "paramgen"
FILES = {file.relative_to(PACKAGE).as_posix(): file for file in sorted(PACKAGE.rglob("*.py"))}

#: Who may speak to the world, and whom a person or a system may reach.
EDGES = ("cli/", "__main__.py")

#: What a module must not touch, and the modules that are for just that.
WORLD = {
    "print": (),
    "input": (),
    "breakpoint": (),
    "sys.stdout": (),
    "sys.stderr": (),
    "sys.stdin": (),
    "sys.argv": (),
    "sys.exit": (),
    "os.environ": (),
    "os.getenv": (),
    "os.getcwd": (),
    "pathlib.Path.cwd": (),
    "pathlib.Path.home": (),
    "logging": (),
    "warnings": (),
    "locale": (),
    "random": (),
    "numpy.random": (),
    "secrets": ("page/serve.py",),
    "uuid": (),
    "time": ("page/seconds_left.py", "page/worker_processes.py"),
    "datetime": (),
    "getpass": (),
    "platform": (),
    "socket": ("page/serve.py",),
    "subprocess": (),
    # Its methods are made there, of the names of the fields that stand in the code.
    "hash": ("vocabulary/frozen_data.py",),
    "eval": (),
    "exec": ("vocabulary/frozen_data.py",),
    "tempfile": ("pack/put_in_place.py", "pack/whole_file.py"),
    "shutil": ("pack/put_in_place.py",),
    "os": ("pack/put_in_place.py", "pack/whole_file.py", "page/worker_side.py"),
    "sys": ("pack/put_in_place.py", "page/serve.py"),
    "ctypes": ("pack/put_in_place.py",),
    "platformdirs": ("reference/own_folder.py",),
}

#: The one room of each library.
ROOMS = {
    "pyembroidery": ("files/library.py", "files/read_any_kind.py"),
    "svgwrite": ("drawings/back_end/svg.py",),
    "pydantic": (
        "recipe/",
        "reference/",
        "plan/plan_format.py",
        "plan/read_plan.py",
        "kits/kit_format.py",
    ),
    "typer": ("cli/",),
    "typst": ("papers/typeset.py",),
    "PIL": ("cloths/",),
    "highspy": ("kits/strip_choice.py",),
    "starlette": ("page/",),
    "uvicorn": ("page/serve.py", "page/patient_connection.py"),
    "jinja2": ("page/filled_templates.py", "own_recipe/recipe_text.py"),
    "multiprocessing": (
        "page/process_start.py",
        "page/worker_processes.py",
        "page/worker_side.py",
        "cli/workers.py",
    ),
}


def names_used(source: str) -> Iterator[str]:
    """Names that a module imports or calls for, in full, as far as it can be read."""
    tree = ast.parse(source)
    known: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for one in node.names:
                yield one.name
                known[one.asname or one.name.partition(".")[0]] = (
                    one.name if one.asname else one.name.partition(".")[0]
                )
        elif isinstance(node, ast.ImportFrom) and node.module:
            for one in node.names:
                yield f"{node.module}.{one.name}"
                known[one.asname or one.name] = f"{node.module}.{one.name}"
    own = {node.arg for node in ast.walk(tree) if isinstance(node, ast.arg)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute | ast.Name):
            parts = dotted(node)
            if parts and parts[0] not in own:
                yield ".".join([known.get(parts[0], parts[0]), *parts[1:]])


def dotted(node: ast.expr) -> list[str]:
    """The words of a name with dots; none of what begins otherwise, whose parts are told apart."""
    after: list[str] = []
    while isinstance(node, ast.Attribute):
        after.append(node.attr)
        node = node.value
    return [node.id, *reversed(after)] if isinstance(node, ast.Name) else []


@cache  # and not where it is imported: each process that shares out the tests does that
def used() -> dict[str, set[str]]:
    """Names that each module uses."""
    return {file: set(names_used(path.read_text("utf-8"))) for file, path in FILES.items()}


def touches(names: Iterable[str], name: str) -> bool:
    return any(f"{one}.".startswith(f"{name}.") for one in names)


def wrongly_touching(name: str, allowed: tuple[str, ...]) -> list[str]:
    """Modules that touch a name and may not."""
    return [
        file
        for file, names in used().items()
        if not file.startswith(allowed) and touches(names, name)
    ]


@pytest.mark.parametrize("name", WORLD)
def test_only_the_edges_touch_the_world(name: str) -> None:
    assert wrongly_touching(name, (*EDGES, *WORLD[name])) == []


@pytest.mark.parametrize("library", ROOMS)
def test_one_room_knows_each_library(library: str) -> None:
    assert wrongly_touching(library, ROOMS[library]) == []


@pytest.mark.parametrize(
    ("source", "name"),
    [
        ("print('hallo')", "print"),
        ("import sys\nsys.stdout.write('hallo')", "sys.stdout"),
        ("from sys import stdout", "sys.stdout"),
        ("import os as system\nsystem.environ['HOME']", "os.environ"),
        ("from os import environ as known", "os.environ"),
        ("from pathlib import Path\nPath.home()", "pathlib.Path.home"),
        ("import numpy as np\nnp.random.default_rng()", "numpy.random"),
        ("def act():\n    import pyembroidery.EmbPattern", "pyembroidery"),
    ],
)
def test_what_is_touched_is_seen(source: str, name: str) -> None:
    assert touches(names_used(source), name)
    harmless = "import numpy as np\n\ndef act(print):\n    print(np.sum([1]))"
    assert not touches(names_used(harmless), name)


def test_nothing_is_changed_that_outlives_a_call() -> None:
    kept = [
        file
        for file, path in FILES.items()
        if any(
            isinstance(node, ast.Global) for node in ast.walk(ast.parse(path.read_text("utf-8")))
        )
    ]
    assert kept == []


def test_the_words_of_the_command_line_load_nothing_heavy() -> None:
    code = (
        "import sys, paramgen.cli.command_help, paramgen.cli.recipe_list\n"
        "from paramgen.files.formats import FORMATS\n"
        "paramgen.cli.recipe_list.recipe_list()\n"
        "sys.stdout.write(' '.join(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    heavy = {"numpy", "shapely", "typer", *ROOMS}
    assert not heavy & set(done.stdout.split())
