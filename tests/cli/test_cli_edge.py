"""What no one foresaw ends at the edge: a status of its own, plain words, nothing left unsaid."""

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from command_line import joined
from documents import ROOT

from paramgen.cli.unforeseen import guarded

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="a shell and devices of POSIX")

#: The program with one of its functions changed for one that fails.
BROKEN = """
import importlib, sys
def fails(*_, **__):
    raise {error}
where, name = sys.argv.pop(1), sys.argv.pop(1)
setattr(importlib.import_module(where), name, fails)
from paramgen.__main__ import main
main()
"""
MAKE = ("make", "coaster", "--hoop", "130x180", "--no-papers", "--files", "dst", "--out", "made")


def run(
    *words: str | bytes, folder: Path, shell: str = "", **settings: str
) -> subprocess.CompletedProcess[bytes]:
    """Run Python with these words in a folder, by a shell's redirection if one is given."""
    start: list[str | bytes] = ["sh", "-c", f'exec "$@" {shell}', "sh"] if shell else []
    return subprocess.run(
        [*start, sys.executable, *words],
        cwd=folder,
        capture_output=True,
        check=False,
        env={**os.environ, "XDG_CONFIG_HOME": os.devnull, "PYTHONUTF8": "1", **settings},
    )


def broken(
    where: str, name: str, *words: str, folder: Path, error: str = "ValueError('of all things')"
) -> tuple[int, str]:
    """Exit status and errors of the program with something in it that fails."""
    kept = folder / "kept"
    kept.mkdir(exist_ok=True)
    script = BROKEN.format(error=error)
    ran = run("-c", script, where, name, *words, folder=folder, TMPDIR=str(kept))
    return ran.returncode, joined(ran.stderr.decode())


def details(said: str) -> str:
    """What is in the file that a message names."""
    named = re.search(r"The details are in (\S+);", said)
    assert named
    return Path(named[1]).read_text("utf-8")


def test_a_failure_has_a_status_and_words_and_a_file_of_its_own(tmp_path: Path) -> None:
    status, said = broken("paramgen.workshop", "Attempt", *MAKE, folder=tmp_path)
    assert status == 4
    assert said.startswith(
        "The program itself failed (ValueError: of all things). Nothing was written. "
    )
    assert "Traceback" not in said
    held = details(said)
    assert "Traceback" in held
    assert "in fails" in held
    assert "'--out', 'made'" in held
    assert not (tmp_path / "made").exists()


def test_a_failure_after_the_pack_is_in_place_says_so(tmp_path: Path) -> None:
    status, said = broken("paramgen.cli.made_report", "made_report", *MAKE, folder=tmp_path)
    assert status == 4
    assert f"Made {tmp_path / 'made'}." in said
    assert "Nothing was written" not in said
    assert (tmp_path / "made" / "plan.json").is_file()


def test_stopped_by_hand_says_what_was_written(tmp_path: Path) -> None:
    error = "KeyboardInterrupt"
    before = broken("paramgen.workshop", "Attempt", *MAKE, folder=tmp_path, error=error)
    assert before == (130, "Stopped. Nothing was written.")
    after = broken("paramgen.cli.made_report", "made_report", *MAKE, folder=tmp_path, error=error)
    assert after == (130, f"Stopped. Made {tmp_path / 'made'}.")


def test_lack_of_memory_is_said_in_plain_words(tmp_path: Path) -> None:
    status, said = broken(
        "paramgen.workshop", "Attempt", *MAKE, folder=tmp_path, error="MemoryError"
    )
    assert status == 4
    assert said.startswith("The program itself failed: there was not enough memory. Nothing was")


def test_where_no_details_can_be_kept_the_place_is_said(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "no such folder"))

    def fails() -> None:
        raise ValueError("of all things\n\x1b[31m" + "long " * 1000)

    assert guarded(fails) == 4
    said = capsys.readouterr().err
    assert "it was in fails, test_cli_edge.py." in joined(said)
    assert "\x1b" not in said
    assert len(said) < 1000


SHOWING = [
    ["list"], ["make", "--help"], ["about", "coaster"], ["schema"], ["--version"],
    ["check", "coaster", "--hoop", "130x180", "--json"],
]  # fmt: skip


@POSIX
@pytest.mark.parametrize("words", SHOWING, ids=" ".join)
@pytest.mark.parametrize(
    ("shell", "why"), [(">&-", "it is closed"), (">/dev/full", os.strerror(28))]
)
def test_what_cannot_be_shown_is_told(
    words: list[str], shell: str, why: str, tmp_path: Path
) -> None:
    if "full" in shell and not Path("/dev/full").exists():
        pytest.skip("this system has no device that is full")
    ran = run("-m", "paramgen", *words, folder=tmp_path, shell=shell)
    said = f"Standard output cannot be written: {why}. Nothing was written."
    assert (ran.returncode, joined(ran.stderr.decode())) == (3, said)


@POSIX
def test_what_was_made_is_told_where_nothing_can_be_shown(tmp_path: Path) -> None:
    ran = run("-m", "paramgen", *MAKE, folder=tmp_path, shell=">&-")
    assert ran.returncode == 3
    assert joined(ran.stderr.decode()).endswith(f"it is closed. Made {tmp_path / 'made'}.")
    assert (tmp_path / "made" / "plan.json").is_file()


@POSIX
@pytest.mark.parametrize("shell", ["2>&-", ">&- 2>&-", "2>/dev/full"])
def test_the_status_is_right_where_no_error_can_be_said(shell: str, tmp_path: Path) -> None:
    wrong = run("-m", "paramgen", *MAKE, "width=4 furlongs", folder=tmp_path, shell=shell)
    assert wrong.returncode == 2
    cannot = run("-m", "paramgen", *MAKE, "width=300", folder=tmp_path, shell=shell)
    assert cannot.returncode == 1


@pytest.mark.parametrize("words", [["about", "coaster"], ["make", "--help"]], ids=" ".join)
@pytest.mark.parametrize("encoding", ["cp1251", "ascii", "cp437"])
def test_any_output_takes_what_is_shown(words: list[str], encoding: str, tmp_path: Path) -> None:
    plain = run("-m", "paramgen", *words, folder=tmp_path)
    ran = run("-m", "paramgen", *words, folder=tmp_path, PYTHONIOENCODING=encoding)
    assert (ran.returncode, ran.stderr) == (0, b"")
    shown = ran.stdout.decode(encoding)
    # The letters it lacks are told by others; no other is touched.
    expected = plain.stdout.decode()
    for letter, told in {"×": "x", "°": " degrees", "½": "1/2", "…": "..."}.items():
        if letter.encode(encoding, "ignore") == b"":
            expected = expected.replace(letter, told)
    assert shown == expected


@POSIX
def test_names_that_are_no_text_are_taken_and_shown_as_far_as_they_can_be(tmp_path: Path) -> None:
    own = os.fsencode(tmp_path) + b"/\xff-mat.toml"
    try:
        Path(os.fsdecode(own)).write_bytes((ROOT / "templates" / "coaster.toml").read_bytes())
    except OSError:
        pytest.skip("this file system takes only names that are text")
    out = os.fsencode(tmp_path) + b"/\xfe"
    ran = run("-m", "paramgen", "make", own, *MAKE[2:-1], out, folder=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert ran.stdout.decode().endswith(f"Made {tmp_path}/?\n")
    assert Path(os.fsdecode(out), "plan.json").is_file()
    wrong = run("-m", "paramgen", "read", own[:-5] + b".dst", folder=tmp_path)
    assert (wrong.returncode, b"Traceback" in wrong.stderr) == (2, False)
