"""The program as people start it: in a process of its own."""

import subprocess
import sys
from pathlib import Path

import pytest
from folders import files_in
from processes import start

from paramgen.cli.command_help import top_help

#: Libraries that take longer to import than a person who asks for help wants to wait.
HEAVY = (
    "numpy", "platformdirs", "pydantic", "pyembroidery", "shapely", "svgwrite",
    "typer", "typst",
)  # fmt: skip


def run(*words: str | Path, **settings: str) -> tuple[int, str, str]:
    """Exit status, output and errors."""
    process = start(*words, **settings)
    out, err = process.communicate()
    return process.returncode, out, err


@pytest.mark.parametrize("words", [[], ["--help"]])
def test_help_is_what_a_person_gets_who_does_not_know_what_to_ask(words: list[str]) -> None:
    assert run(*words) == (0, top_help(), "")


def test_help_says_where_a_hoop_is_needed() -> None:
    # Where none is said, `make` and `check` refuse, and `fit` answers for every one.
    for command, needed in (("make", True), ("check", True), ("fit", False)):
        said = " ".join(run(command, "--help")[1].split())
        assert ("--hoop HOOP Needed: a listed hoop" in said) is needed
        assert (
            run(command, "coaster", *([] if needed else ["--largest", "width"]))[0] == 2
        ) is needed


def test_the_statuses_are_those_of_the_process(tmp_path: Path) -> None:
    quick = ("make", "coaster", "padding=none", "--files", "dst", "--out")
    made = (*quick, tmp_path / "made")
    runs = [
        start(*made, "--hoop", "130x180"),
        start(*made, "--hoop", "130x180", "outline=round", "height=90"),
        start(*made, "--hoop", "5x7"),
        start(*quick, Path(__file__), "--hoop", "130x180"),
    ]
    said = [process.communicate() for process in runs]
    assert [process.returncode for process in runs] == [0, 1, 2, 3]
    for (out, err), process in zip(said, runs, strict=True):
        assert (out == "", err == "") == (
            (False, True) if process.returncode == 0 else (True, False)
        )
        assert "Traceback" not in err


def test_the_same_input_gives_the_same_bytes_in_any_process(tmp_path: Path) -> None:
    # Sets of strings have another order under each seed.
    asked = ("make", "fold-wallet", "pouch=long", "--hoop", "160x260")
    runs = [
        start(*asked, "--out", tmp_path / seed, PYTHONHASHSEED=seed, TZ=zone)
        for seed, zone in (("1", "UTC"), ("4242", "Asia/Tokyo"))
    ]
    said = [process.communicate()[0] for process in runs]
    one, other = files_in(tmp_path / "1"), files_in(tmp_path / "4242")
    assert len(one) > 40
    assert one == other
    assert said[0].replace(str(tmp_path / "1"), "") == said[1].replace(str(tmp_path / "4242"), "")


@pytest.mark.parametrize("words", [["list"], ["--help"], ["about", "coaster"]])
def test_a_reader_that_goes_away_is_no_error_to_speak_of(words: list[str]) -> None:
    process = start(*words)
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    process.wait()
    assert process.stderr.read() == ""
    process.stderr.close()


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("paramgen ma", ["make"]),
        ("paramgen about fold", ["fold-wallet"]),
        ("paramgen make coaster --hoop 130", ["130x180"]),
    ],
)
def test_a_shell_is_offered_the_words_that_may_follow(typed: str, offered: list[str]) -> None:
    words = typed.split()
    asked = {"COMP_WORDS": typed, "COMP_CWORD": str(len(words) - 1)}
    _, out, err = run(_PARAMGEN_COMPLETE="complete_bash", **asked)
    assert (out.split(), err) == (offered, "")


@pytest.mark.parametrize("words", [["--help"], ["list"]])
def test_nothing_heavy_is_loaded_for_what_should_be_quick(words: list[str]) -> None:
    _, _, err = run(*words, PYTHONPROFILEIMPORTTIME="1")
    loaded = {line.rpartition("|")[2].strip().partition(".")[0] for line in err.splitlines()}
    assert "paramgen" in loaded
    assert not loaded & {*HEAVY, "dataclasses", "tomllib"}


@pytest.mark.parametrize("what", ["hoops", "things"])
def test_what_is_known_is_listed_without_the_full_command_line(what: str, tmp_path: Path) -> None:
    _, out, err = run(what, PYTHONPROFILEIMPORTTIME="1")
    loaded = {line.rpartition("|")[2].strip().partition(".")[0] for line in err.splitlines()}
    assert loaded & set(HEAVY) == {"platformdirs"}  # which knows where a person's own lie
    assert out.splitlines()[1].startswith("----")
    # What is wrong with a file of theirs is told as the full command line tells it.
    own = tmp_path / "paramgen" / f"{what}.toml"
    own.parent.mkdir()
    own.write_text(f'[[{what[:-1]}]]\nname = "shed"\nwidth = 120\n', "utf-8")
    status, out, err = run(what, XDG_CONFIG_HOME=str(tmp_path))
    assert (status, out) == (2, "")
    assert "key `height`: this key is missing." in " ".join(err.split())


def test_a_recipe_is_told_without_the_full_command_line(tmp_path: Path) -> None:
    _, out, err = run("about", "coaster", PYTHONPROFILEIMPORTTIME="1")
    loaded = {line.rpartition("|")[2].strip().partition(".")[0] for line in err.splitlines()}
    assert loaded & set(HEAVY) == {"platformdirs", "pydantic"}
    # Just what the full command line says, for which an option is reason enough.
    assert run("about", "coaster", "--unit", "mm") == (0, out, "")
    # And what is wrong with a file is told as the full command line tells it.
    (tmp_path / "shed.toml").write_text("format = 1\n", "utf-8")
    status, out, err = run("about", str(tmp_path / "shed.toml"))
    assert (status, out) == (2, "")
    assert "the key `title` is missing" in " ".join(err.split())


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="only there is it told so")
def test_no_threads_are_started_for_large_matrices() -> None:
    check = ["paramgen", "check", "coaster", "--hoop", "130x180"]
    code = (
        "import os, sys\n"
        "from paramgen.__main__ import main\n"
        f"sys.argv = {check}\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "import numpy\nnumpy.linalg.inv(numpy.eye(3))\n"
        "print(len(os.listdir('/proc/self/task')))\n"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)
    assert said.stdout.splitlines()[-1] == "1"
