"""The folder of all rows: what is someone else's stays, and what cannot be written is told."""

import os
import sys
from pathlib import Path

import pytest
from command_line import Ran, paramgen
from folders import everything_in
from processes import start

from paramgen.grading import kept_rows
from paramgen.pack.whole_file import put

TABLE = "recipe,name,width,padding\ncoaster,Mat,90,none\n"
LONG = TABLE + "coaster,Mug,95,none\ncoaster,Jug,100,none\n"
ASKED = ("--hoop", "130x180", "--no-papers", "--files", "dst", "--jobs", "1")


def grade(folder: Path, *words: str | Path, name: str = "set.csv") -> Ran:
    (folder / name).write_text(TABLE, "utf-8")
    return paramgen("grade", folder / name, *ASKED, *words)


@pytest.mark.parametrize("name", ["..csv", "...csv", ".csv", "set", " .csv"])
def test_a_table_whose_name_names_no_folder_wants_one(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    ran = grade(tmp_path, name=name)
    assert ran.status == 2
    assert "its name gives none for the folder of all rows. Name the folder with --out." in ran.err
    assert os.listdir(tmp_path) == [name]  # noqa: PTH208 (dots and blanks as they are)
    assert grade(tmp_path, "--out", tmp_path / "swap", name=name).status == 0


@pytest.mark.parametrize("theirs", [".photos", ".hidden.txt", "coaster"])
def test_a_folder_of_someone_elses_is_not_taken_for_ours(theirs: str, tmp_path: Path) -> None:
    folder = tmp_path / "swap"
    (folder / theirs).mkdir(parents=True)
    (folder / theirs / "row.json").write_bytes(b"worth keeping")
    before = everything_in(folder)
    ran = grade(tmp_path, "--out", folder)
    assert ran.status == 3
    assert "and no rows made before; nothing was changed" in ran.err
    assert everything_in(folder) == before


def test_what_a_killed_run_left_is_cleared_though_its_row_is_whole(tmp_path: Path) -> None:
    out = tmp_path / "swap"
    assert grade(tmp_path, "--out", out).status == 0
    once = everything_in(out)
    pack = out / ".mat.paramgen-new-999999999-abc_1"
    pack.mkdir()
    (pack / ".paramgen.json").write_bytes((out / "mat" / ".paramgen.json").read_bytes())
    (pack / "whole.svg").write_bytes(b"<svg")
    (out / ".paramgen-999999999-abc_1.part").write_bytes(b"recipe,")
    theirs = out / ".mat.paramgen-new-999999999-photos"
    theirs.mkdir()
    (theirs / "photo.jpg").write_bytes(b"worth keeping")
    ran = grade(tmp_path, "--out", out)
    assert "1 of them before" in ran.out
    assert (theirs / "photo.jpg").read_bytes() == b"worth keeping"
    (theirs / "photo.jpg").unlink()
    theirs.rmdir()
    assert everything_in(out) == once


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="no folder that nothing goes into")
def test_where_nothing_can_be_written_no_row_is_begun(tmp_path: Path) -> None:
    ran = grade(tmp_path, "--out", "/proc/swap")
    assert ran.status == 3
    assert ran.err.startswith("/proc/swap cannot be written: ")
    assert ran.err.endswith("Nothing was made. Choose another place with --out.")
    assert ran.out == ""


def test_a_full_disk_is_told_for_rows_and_summary(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(file: Path, pieces: object) -> None:
        raise OSError(28, os.strerror(28))

    with monkeypatch.context() as patched:
        patched.setattr(kept_rows, "put", full)
        ran = grade(tmp_path, "--out", tmp_path / "swap")
    assert ran.status == 3
    assert f"summary.csv cannot be written: {os.strerror(28)}. 1 row made before" in ran.err
    assert "stay; run the same command again" in ran.err
    assert "Made 1 of 1 row" in ran.out
    assert grade(tmp_path, "--out", tmp_path / "swap").status == 0


@pytest.mark.skipif(sys.platform == "win32", reason="limits of POSIX")
def test_a_disk_that_fills_up_makes_no_row_and_says_so(tmp_path: Path) -> None:
    (tmp_path / "set.csv").write_text(TABLE, "utf-8")
    script = (
        "import resource, sys; resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000)); "
        "from paramgen.__main__ import main; main()"
    )
    words = ["grade", str(tmp_path / "set.csv"), "--out", str(tmp_path / "swap"), *ASKED]
    import subprocess  # noqa: PLC0415

    ran = subprocess.run(
        [sys.executable, "-c", script, *words],
        capture_output=True,
        encoding="utf-8",
        check=False,
        env={**os.environ, "XDG_CONFIG_HOME": os.devnull},
    )
    assert ran.returncode == 3, ran.stderr
    assert "cannot be written" in " ".join(ran.stderr.split())
    assert "Made 0 of 1 row" in ran.stdout
    assert "the rows are made" not in ran.stderr.lower()
    assert not [one for one in (tmp_path / "swap").iterdir() if one.name == "mat"]


def test_two_runs_over_one_folder_do_not_meet(tmp_path: Path) -> None:
    (tmp_path / "set.csv").write_text(LONG, "utf-8")
    words = ("grade", tmp_path / "set.csv", "--out", tmp_path / "swap", *ASKED)
    runs = [start(*words) for _ in range(2)]
    said = [run.communicate() for run in runs]
    assert [run.returncode for run in runs] == [0, 0], said
    assert not [one.name for one in (tmp_path / "swap").iterdir() if "paramgen-" in one.name]


def test_a_file_of_the_summary_comes_whole_however_many_write_it(tmp_path: Path) -> None:
    from concurrent.futures import ThreadPoolExecutor  # noqa: PLC0415

    texts = [bytes([letter]) * 5000 for letter in b"abcdefgh"]
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda text: put(tmp_path / "summary.csv", [text] * 20), texts * 10))
    assert (tmp_path / "summary.csv").read_bytes() in [text * 20 for text in texts]
    assert os.listdir(tmp_path) == ["summary.csv"]  # noqa: PTH208
