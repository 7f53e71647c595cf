"""Pipes, files without end and whole trees of others: asked about, never waited for."""

import os
import sys
from pathlib import Path

import pytest

from paramgen.budget import MOST_BYTES_OF_A_LIST
from paramgen.pack.put_in_place import place
from paramgen.reference.hoops import listed
from paramgen.reference.settings import read_settings
from paramgen.reference.things import listed_things
from paramgen.vocabulary.findings import InputError, WriteError

HAS_PIPES = pytest.mark.skipif(sys.platform == "win32", reason="has no such pipes")


@HAS_PIPES
@pytest.mark.parametrize("read", [listed, listed_things])
def test_a_list_of_ones_own_that_is_a_pipe_is_a_fault(read: object, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    os.mkfifo(own)
    with pytest.raises(InputError, match="this is not a file"):
        read(own)  # type: ignore[operator]


@HAS_PIPES
def test_a_list_of_ones_own_without_end_is_a_fault(tmp_path: Path) -> None:
    own = tmp_path / "hoops.toml"
    own.symlink_to("/dev/zero")
    with pytest.raises(InputError, match="this is not a file"):
        listed(own)


def test_a_list_of_ones_own_that_is_too_large_is_a_fault(tmp_path: Path) -> None:
    own = tmp_path / "hoops.toml"
    own.write_bytes(b"#" * MOST_BYTES_OF_A_LIST)
    assert listed(own) == listed()
    own.write_bytes(b"#" * (MOST_BYTES_OF_A_LIST + 1))
    with pytest.raises(InputError, match="at most 100 kB are read"):
        listed(own)


@pytest.mark.parametrize("read", [listed, listed_things, read_settings])
def test_a_key_of_ever_more_names_is_told_and_not_worked_out(read: object, tmp_path: Path) -> None:
    # The reader of TOML takes memory by the square of them: 40 kB took 1.6 GB.
    own = tmp_path / "own.toml"
    own.write_text("# mine\n" + ".".join(["a"] * 30) + " = 1\n", "utf-8")
    with pytest.raises(InputError, match="line 2: a key of more than 20 names with dots"):
        read(own)  # type: ignore[operator]


@HAS_PIPES
def test_a_plan_that_is_a_pipe_is_none_of_ours(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "plan.json")
    with pytest.raises(WriteError, match="was not made by this program"):
        place({"plan.json": b"{}"}, tmp_path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["plan.json"]


def test_a_folder_of_others_is_not_walked_through(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "theirs").write_bytes(b"")

    def walked(*_: object) -> None:
        raise AssertionError("it was walked through")

    monkeypatch.setattr(Path, "rglob", walked)
    with pytest.raises(WriteError, match="was not made by this program"):
        place({"plan.json": b"{}"}, tmp_path)
