"""A folder appears complete or not at all, whatever happens on the way."""

import json
import os
import re
import shlex
import subprocess
import sys
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from folders import everything_in, files_in
from pack_cut_short import folder_of

from paramgen.pack.put_in_place import _exchanged, check_place, place
from paramgen.pack.seal import SEAL
from paramgen.vocabulary.findings import WriteError

needs_fork = pytest.mark.skipif(sys.platform == "win32", reason="forks")
MOVES = pytest.mark.parametrize("moves", ["one", "two"])


def looks(parent: Path, how: str, moves: str) -> list[dict[str, Any]]:
    """What is found after a run was cut short at each thing it asks of the system."""
    one, other = parent / "one", parent / "other"
    one.mkdir()
    other.mkdir()
    if moves == "one" and not _exchanged(one, other):
        pytest.skip("this file system cannot change two names in one move")
    script = Path(__file__).parents[1] / "helpers" / "pack_cut_short.py"
    run: list[str | Path] = [sys.executable, script, parent, how, moves]
    found: list[dict[str, Any]] = json.loads(
        subprocess.run(run, check=True, capture_output=True).stdout
    )
    asked = {look["event"] for look in found}
    # The run was cut short while it made, changed and cleared away.
    assert {"os.mkdir", "open", "os.rename" if moves == "two" else "ctypes.dlsym"} <= asked
    assert {"os.remove", "os.rmdir"} <= asked
    return found


@needs_fork
@MOVES
def test_a_run_killed_at_any_moment_leaves_a_whole_folder(moves: str, tmp_path: Path) -> None:
    for look in looks(tmp_path, "killed", moves):
        assert look["end"] == "killed"
        if look["found"] is None:
            # Only between the two moves, and then the older one stands beside its place ...
            assert moves == "two"
            assert look["event"] == "os.rename"
            assert look["found beside it"] == ["older"]
        else:
            assert look["found"] in ("older", "newer")
        # ... and is brought back by the next run, even by one that then fails.
        assert look["found after a run that fails"] == (look["found"] or "older")
        assert look["found after the next run"] == "newest"
        assert look["left"] == ["tags"]


@needs_fork
@MOVES
def test_whatever_the_system_refuses_the_folder_stays_whole(moves: str, tmp_path: Path) -> None:
    found = looks(tmp_path, "refused", moves)
    assert {look["end"] for look in found} == {"made", "write error"}
    for look in found:
        assert look["found"] == ("newer" if look["end"] == "made" else "older")
        assert look["found after a run that fails"] == look["found"]
        assert look["found after the next run"] == "newest"
        assert look["left"] == ["tags"]


def test_what_another_run_is_still_writing_is_left_alone(tmp_path: Path) -> None:
    place(folder_of("older"), tmp_path / "tags")
    writing = tmp_path / f".tags.paramgen-new-{os.getpid()}-abc"
    writing.mkdir()
    place(folder_of("newer"), tmp_path / "tags")
    assert writing.is_dir()
    assert files_in(tmp_path / "tags") == folder_of("newer")


@pytest.mark.parametrize("there", [True, False])
def test_a_new_or_empty_folder_is_filled(there: bool, tmp_path: Path) -> None:
    folder = tmp_path / "season" / "tags"
    if there:
        folder.mkdir(parents=True)
    place(folder_of("newer"), folder)
    assert files_in(folder) == folder_of("newer")
    assert list(folder.parent.iterdir()) == [folder]


def test_a_new_folder_may_be_read_like_any_other(tmp_path: Path) -> None:
    place(folder_of("newer"), tmp_path / "tags")
    (tmp_path / "plain").mkdir()
    assert (tmp_path / "tags").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_an_older_folder_is_replaced_with_nothing_of_it_left(tmp_path: Path) -> None:
    place(folder_of("older"), tmp_path / "tags")
    place(folder_of("newer"), tmp_path / "tags")
    assert files_in(tmp_path / "tags") == folder_of("newer")


def _refused(folder: Path) -> str:
    before = everything_in(folder.parent)
    with pytest.raises(WriteError) as refusal:
        place(folder_of("newer"), folder)
    assert everything_in(folder.parent) == before
    return str(refusal.value)


@pytest.mark.parametrize(
    "plan",
    [
        None,
        b"",
        b"[]",
        b"\xff",
        b'{"contents": ["whole.svg", "plan.json"]}',
        b'{"made_by": "someone", "contents": ["whole.svg", "plan.json"]}',
        b'{"made_by": "paramgen"}',
        b'{"made_by": "paramgen", "contents": 3}',
    ],
)
def test_a_folder_that_is_not_ours_is_never_replaced(plan: bytes | None, tmp_path: Path) -> None:
    folder = tmp_path / "tags"
    folder.mkdir()
    (folder / "whole.svg").write_bytes(b"drawn by hand")
    if plan is not None:
        (folder / "plan.json").write_bytes(plan)
    said = _refused(folder)
    told = ("was not made by this program", "holds a project of this program without its mark")
    assert any(f"{folder} {one}" in said for one in told)


def test_a_folder_of_ours_with_a_file_of_someone_elses_is_never_replaced(tmp_path: Path) -> None:
    folder = tmp_path / "tags"
    place(folder_of("older"), folder)
    for name in ("notes.txt", "steps/photo-1.jpg", "steps/photo-2.jpg", "steps/photo-3.jpg"):
        (folder / name).write_bytes(b"worth keeping")
    said = _refused(folder)
    assert "notes.txt, steps/photo-1.jpg, steps/photo-2.jpg and 1 more" in said


def test_a_link_that_a_person_put_in_a_folder_of_ours_is_kept(tmp_path: Path) -> None:
    folder, elsewhere = tmp_path / "tags", tmp_path / "photos"
    elsewhere.mkdir()
    place(folder_of("older"), folder)
    (folder / "photos").symlink_to(elsewhere, target_is_directory=True)
    assert "photos" in _refused(folder)


def test_a_file_in_its_place_is_kept(tmp_path: Path) -> None:
    (tmp_path / "tags").write_bytes(b"worth keeping")
    assert f"{tmp_path / 'tags'} is not a folder" in _refused(tmp_path / "tags")


def test_a_link_in_its_place_is_kept_and_not_followed(tmp_path: Path) -> None:
    place(folder_of("older"), tmp_path / "elsewhere")
    (tmp_path / "tags").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    assert "is not a folder" in _refused(tmp_path / "tags")


def test_a_file_where_a_folder_above_should_be_is_kept(tmp_path: Path) -> None:
    (tmp_path / "season").write_bytes(b"worth keeping")
    with pytest.raises(WriteError, match="cannot be written"):
        place(folder_of("newer"), tmp_path / "season" / "tags")
    assert files_in(tmp_path) == {"season": b"worth keeping"}


def test_a_folder_above_that_may_not_be_written_to_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        if os.access(tmp_path, os.W_OK):
            pytest.skip("this user may write anywhere")
        with pytest.raises(WriteError, match=r"cannot be written: Permission denied.*--out"):
            place(folder_of("newer"), tmp_path / "tags")
    finally:
        tmp_path.chmod(0o700)
    assert files_in(tmp_path) == {}


@pytest.mark.parametrize("which", [".", "..", "../..", "/"])
def test_the_folder_that_someone_is_in_is_not_taken_from_under_them(
    which: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = tmp_path / "season" / "tags"
    here.mkdir(parents=True)
    monkeypatch.chdir(here)
    with pytest.raises(WriteError, match="nothing was changed"):
        place(folder_of("newer"), Path(which))
    assert Path.cwd() == here
    assert everything_in(tmp_path) == {"season": "folder", "season/tags": "folder"}


def test_leavings_with_a_number_that_no_process_has_are_no_hindrance(tmp_path: Path) -> None:
    (tmp_path / f".tags.paramgen-new-{'9' * 30}-abc").mkdir()
    place(folder_of("newer"), tmp_path / "tags")
    assert files_in(tmp_path / "tags") == folder_of("newer")


def test_a_plan_nested_beyond_reading_is_no_plan_of_ours(tmp_path: Path) -> None:
    folder = tmp_path / "tags"
    folder.mkdir()
    (folder / "plan.json").write_text('{"made_by":' + "[" * 100_000, encoding="utf-8")
    assert "was not made by this program" in _refused(folder)


@pytest.mark.parametrize("folder_was", ["older", "someone else's"])
def test_a_plan_that_lists_files_does_not_make_them_ours(folder_was: str, tmp_path: Path) -> None:
    folder = tmp_path / "tags"
    if folder_was == "older":
        place(folder_of("older"), folder)
        (folder / "photo.jpg").write_bytes(b"worth keeping")
    else:
        folder.mkdir()
        (folder / "photo.jpg").write_bytes(b"worth keeping")
    plan = {"made_by": "paramgen", "contents": ["photo.jpg", "plan.json", *folder_of("older")]}
    (folder / "plan.json").write_text(json.dumps(plan), encoding="utf-8")
    _refused(folder)


def test_a_file_of_ours_that_someone_changed_is_theirs(tmp_path: Path) -> None:
    folder = tmp_path / "tags"
    place(folder_of("older"), folder)
    (folder / "steps" / "older.svg").write_bytes(b"with notes of mine")
    said = _refused(folder)
    assert "files that were changed since this program made them: steps/older.svg" in said


@pytest.mark.parametrize("names", [["../photo.jpg"], ["/etc/hostname"], ["steps/../../photo.jpg"]])
def test_a_mark_that_names_files_elsewhere_reaches_none(names: list[str], tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"worth keeping")
    folder = tmp_path / "tags"
    place(folder_of("older"), folder)
    mark = json.loads((folder / SEAL).read_bytes())
    mark["files"] |= dict.fromkeys(names, sha256(b"worth keeping").hexdigest())
    (folder / SEAL).write_text(json.dumps(mark), encoding="utf-8")
    place(folder_of("newer"), folder)
    assert (tmp_path / "photo.jpg").read_bytes() == b"worth keeping"
    assert files_in(folder) == folder_of("newer")


@pytest.mark.parametrize("name", [".tags.paramgen-new-{}-abc", ".tags.paramgen-before"])
def test_a_folder_that_only_has_the_name_of_leavings_is_kept(name: str, tmp_path: Path) -> None:
    left = tmp_path / name.format("9" * 9)
    left.mkdir()
    (left / "photo.jpg").write_bytes(b"worth keeping")
    place(folder_of("newer"), tmp_path / "tags")
    assert (left / "photo.jpg").read_bytes() == b"worth keeping"


@needs_fork
@pytest.mark.parametrize("file", ["plan.json", SEAL, "tags"])
def test_a_pipe_is_not_waited_for(file: str, tmp_path: Path) -> None:
    folder = tmp_path / "tags"
    if file == "tags":
        os.mkfifo(folder)
    else:
        folder.mkdir()
        os.mkfifo(folder / file)
    with pytest.raises(WriteError, match="nothing was changed"):
        place(folder_of("newer"), folder)


@pytest.mark.parametrize("name", ["tags", "tags of felt"])
def test_a_pack_from_before_there_were_marks_is_told_with_the_way_out(
    tmp_path: Path, name: str
) -> None:
    # As an earlier version left it: all files, and no mark.
    folder = tmp_path / name
    place({"plan.json": b'{"made_by": "paramgen"}', "whole.svg": b"<svg/>"}, folder)
    (folder / SEAL).unlink()
    before = everything_in(tmp_path)
    with pytest.raises(WriteError) as refused:
        place({"plan.json": b"{}"}, folder)
    said = str(refused.value)
    assert "holds a project of this program without its mark" in said
    assert "an earlier version" in said
    assert everything_in(tmp_path) == before
    # The command is ready to copy, and after it there is room.
    (command,) = re.findall(r"mv .*", said)
    subprocess.run(shlex.split(command), check=True)
    place({"plan.json": b"{}"}, folder)
    assert (tmp_path / f"{name}-before" / "whole.svg").read_bytes() == b"<svg/>"
    # Where that name is taken too, another is said.
    (folder / SEAL).unlink()
    (folder / "plan.json").write_bytes(b'{"made_by": "paramgen"}')
    with pytest.raises(WriteError, match=f"{name}-before-2"):
        check_place(folder)


def test_what_only_has_a_plan_of_another_program_is_not_called_ours(tmp_path: Path) -> None:
    (tmp_path / "bed").mkdir()
    (tmp_path / "bed" / "plan.json").write_text('{"rows": 4}', "utf-8")
    with pytest.raises(WriteError, match="was not made by this program, or lost its mark"):
        check_place(tmp_path / "bed")
