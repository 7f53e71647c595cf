"""The folders of recipes and reference data, in a built and in an editable install."""

from collections.abc import Callable
from pathlib import Path

import pytest

from paramgen.installed import shared, templates
from paramgen.vocabulary.findings import ParamgenError

FOLDERS = pytest.mark.parametrize(("find", "name"), [(templates, "templates"), (shared, "shared")])
Find = Callable[[Path], Path]


def _package(root: Path) -> Path:
    package = root / "paramgen"
    package.mkdir()
    return package


@FOLDERS
def test_a_built_install_holds_them_in_the_package(find: Find, name: str, tmp_path: Path) -> None:
    package = _package(tmp_path)
    (package / name).mkdir()
    assert find(package) == package / name


@FOLDERS
def test_a_checkout_holds_them_beside_the_package(find: Find, name: str, tmp_path: Path) -> None:
    package = _package(tmp_path)
    (tmp_path / name).mkdir()
    (tmp_path / "pyproject.toml").touch()
    assert find(package) == tmp_path / name


@FOLDERS
def test_a_folder_of_another_package_is_not_taken(find: Find, name: str, tmp_path: Path) -> None:
    package = _package(tmp_path)
    (tmp_path / name).mkdir()
    with pytest.raises(ParamgenError, match="missing"):
        find(package)


@FOLDERS
def test_the_error_says_which_folder_where_and_what_to_do(
    find: Find, name: str, tmp_path: Path
) -> None:
    package = _package(tmp_path)
    with pytest.raises(ParamgenError) as refusal:
        find(package)
    message = str(refusal.value)
    assert f"`{name}`" in message
    assert str(package / name) in message
    assert "Install paramgen again." in message


def test_this_install_has_both() -> None:
    assert (shared() / "hoops.toml").is_file()
    assert list(templates().glob("*.toml"))
