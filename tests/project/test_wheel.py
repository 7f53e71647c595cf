"""What is built and installed is whole: the data lies inside, and nothing of the checkout."""

import json
import os
import subprocess
import sys
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = "from paramgen.installed import *; print(templates(), shared(), sep='\\n')"


def _run(*words: str, cwd: Path, **settings: str) -> str:
    """Output of a Python command that must succeed, away from the checkout."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(
        [sys.executable, *words],
        cwd=cwd,
        env={**kept, "PYTHONIOENCODING": "utf-8", **settings},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stderr + done.stdout
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from the source archive and not from the checkout."""
    out = tmp_path_factory.mktemp("built")
    _run("-m", "build", "--no-isolation", "--outdir", str(out), str(ROOT), cwd=out)
    (built,) = out.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the wheel installed in it; the libraries are this environment's."""
    target = tmp_path_factory.mktemp("installed")
    wanted = ["--no-deps", "--no-index", "--no-compile", "--target", str(target)]
    _run("-m", "pip", "install", "--quiet", *wanted, str(wheel), cwd=target)
    return target


def test_a_built_install_finds_its_data_in_itself(installed: Path, tmp_path: Path) -> None:
    package = installed.resolve() / "paramgen"
    found = _run("-c", FOLDERS, cwd=tmp_path, PYTHONPATH=str(installed)).splitlines()
    assert found == [str(package / "templates"), str(package / "shared")]


def test_a_built_install_lists_every_recipe(installed: Path, tmp_path: Path) -> None:
    listed = _run("-m", "paramgen", "list", cwd=tmp_path, PYTHONPATH=str(installed))
    recipes = sorted(recipe.stem for recipe in (ROOT / "templates").glob("*.toml"))
    names = [line.split()[0] for line in listed.splitlines() if not line.startswith(" ")]
    assert names == recipes


def test_a_built_install_makes_a_project(installed: Path, tmp_path: Path) -> None:
    words = ["make", "coaster", "--hoop", "130x180", "--files", "dst,svg", "--out", "made"]
    _run("-m", "paramgen", *words, cwd=tmp_path, PYTHONPATH=str(installed))
    plan = json.loads((tmp_path / "made" / "plan.json").read_text("utf-8"))
    assert (plan["recipe"], plan["hoop"]["width"], plan["hoop"]["height"]) == ("coaster", 130, 180)
    there = {file for file in (tmp_path / "made").rglob("*") if file.is_file()}
    assert there == {tmp_path / "made" / name for name in (*plan["contents"], ".paramgen.json")}


def test_a_built_install_begins_a_recipe(installed: Path, tmp_path: Path) -> None:
    settings = {"PYTHONPATH": str(installed)}
    _run("-m", "paramgen", "new", "row-tag", "--pockets", "1", cwd=tmp_path, **settings)
    _run("-m", "paramgen", "check", "row-tag.toml", "--hoop", "130x180", cwd=tmp_path, **settings)


def test_an_editable_install_uses_the_checkout(tmp_path: Path) -> None:
    found = _run("-c", FOLDERS, cwd=tmp_path).splitlines()
    assert found == [str(ROOT / "templates"), str(ROOT / "shared")]


def test_the_wheel_holds_the_package_its_data_and_its_licence(wheel: Path) -> None:
    def files(folder: str) -> set[str]:
        found = (ROOT / folder).rglob("*")
        kept = (file for file in found if file.is_file() and file.suffix != ".pyc")
        return {file.relative_to(ROOT).as_posix() for file in kept}

    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
        (about,) = [name for name in names if name.endswith(".dist-info/METADATA")]
        said = Parser().parsestr(archive.read(about).decode())
        licence = archive.read(about.replace("METADATA", "licenses/.licences/MIT.txt")).decode()
    data = {f"paramgen/{name}" for name in files("templates") | files("shared")}
    assert {name for name in names if ".dist-info/" not in name} == files("paramgen") | data
    assert said["License-Expression"] == "MIT"
    assert licence == (ROOT / ".licences" / "MIT.txt").read_text("utf-8")
