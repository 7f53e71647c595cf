"""The README is true: its commands run, print what it quotes, and write what it lists."""

import re
import shlex
import signal
import subprocess
import sys
from pathlib import Path
from urllib.request import HTTPCookieProcessor, build_opener
from xml.etree import ElementTree as ET

import pytest
from documents import ROOT, Example, blocks, examples, prints, run, table

from paramgen.cli import exit_status
from paramgen.files.formats import FORMATS
from paramgen.reference.hoops import own_file
from paramgen.reference.things import find_several, find_thing, listed_things, own_things

README = (ROOT / "README.md").read_text("utf-8")
DEMO, TESTS = ([step.strip() for step in block.split("&&")] for block in blocks(README, "sh"))
SAID = re.findall(r"`(paramgen [^`]+)`", README)
#: Commands that end by themselves, and those that serve a page until they are stopped.
INLINE = [command for command in SAID if not command.startswith("paramgen page")]
PAGES = [command for command in SAID if command.startswith("paramgen page")]
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that the README's first command makes."""
    folder = tmp_path_factory.mktemp("demo")
    assert run(DEMO[-1], folder).status == 0
    words = shlex.split(DEMO[-1])
    return folder / words[words.index("--out") + 1]


def test_both_commands_start_from_nothing_but_python_with_venv() -> None:
    first = ["python3 -m venv .venv", ". .venv/bin/activate"]
    assert DEMO[:-1] == [*first, "pip install ."]
    assert TESTS[:-1] == [*first, 'pip install --editable ".[dev]"']


def test_every_change_is_held_to_the_readmes_test_command() -> None:
    run_by_ci = (ROOT / ".ci" / "run").read_text("utf-8").splitlines()
    assert run_by_ci[-1] == TESTS[-1]


@pytest.mark.parametrize("example", examples(README), ids=lambda example: example.command)
def test_an_example_prints_what_is_quoted(example: Example, tmp_path: Path) -> None:
    ran = run(example.command, tmp_path)
    assert prints(example.quoted, ran.printed), ran.printed
    assert ran.status == (exit_status.CANNOT if example.quoted.startswith("cannot be made") else 0)


@pytest.mark.parametrize("command", INLINE)
def test_a_command_in_the_text_runs(command: str, demo: Path, tmp_path: Path) -> None:
    (tmp_path / demo.name).symlink_to(demo, target_is_directory=True)
    wallet = (ROOT / "templates" / "fold-wallet.toml").read_bytes()
    (tmp_path / "my-wallet.toml").write_bytes(wallet)
    (swap,) = blocks(README, "csv")
    (tmp_path / "seed-swap.csv").write_text(swap, "utf-8")
    ran = run(command, tmp_path)
    assert ran.status == 0, ran.printed


@pytest.mark.skipif(sys.platform == "win32", reason="a process is stopped otherwise there")
@pytest.mark.parametrize("command", PAGES)
def test_a_page_in_the_text_opens_and_ends(command: str, tmp_path: Path) -> None:
    (tmp_path / "my-wallet.toml").write_bytes(
        (ROOT / "templates" / "fold-wallet.toml").read_bytes()
    )
    words = [sys.executable, "-m", *shlex.split(command), "--no-open", "--port", "0"]
    with subprocess.Popen(words, cwd=tmp_path, stdout=subprocess.PIPE, text=True) as page:
        assert page.stdout is not None
        try:
            address = page.stdout.readline().strip()
            # It is shown once its key is kept in a cookie.
            opener = build_opener(HTTPCookieProcessor())
            with opener.open(address, timeout=60) as answer:
                assert answer.status == 200
                assert b"<h1>" in answer.read()
            page.send_signal(signal.SIGINT)
            assert page.wait(timeout=30) == 0
        finally:
            page.kill()


def test_the_folder_holds_what_is_listed(demo: Path) -> None:
    listed = {name.rstrip("/") for name, _ in table(README, "in the folder", "what it is")}
    assert {file.name for file in demo.iterdir()} == listed


def test_the_kinds_of_stitch_file_are_those_there_are(demo: Path) -> None:
    rows = table(README, "kind", "file ends in", "what it holds")
    assert rows == [(kind.name, kind.ending, kind.title) for kind in FORMATS]
    written = [file.name for file in (demo / "stitch").iterdir()]
    endings = sorted((ending for _, ending, _ in rows), key=len, reverse=True)
    found = [next(end for end in endings if name.endswith(end)) for name in written]
    assert sorted(found) == sorted(endings)


def test_the_exit_statuses_are_those_the_program_has() -> None:
    ran = (exit_status.CANNOT, exit_status.WRONG, exit_status.UNWRITTEN, exit_status.FAILED)
    rows = table(README, "status", "what happened")
    assert [int(status) for status, _ in rows] == [0, *ran, exit_status.STOPPED]


@pytest.mark.parametrize("picture", re.findall(r'<img src="([^"]+[.]svg)"', README))
def test_a_picture_is_of_what_the_demo_makes_now(picture: str, demo: Path) -> None:
    shown = ET.fromstring((ROOT / picture).read_text("utf-8"))
    (made,) = demo.rglob(Path(picture).name)
    now = ET.fromstring(made.read_text("utf-8"))
    for part in ("title", "desc"):
        assert shown.findtext(f"{SVG}{part}") == now.findtext(f"{SVG}{part}")


def test_a_hoop_of_ones_own_is_found_as_described(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own, _ = blocks(README, "toml")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    own_file().parent.mkdir(parents=True)
    own_file().write_text(own, "utf-8")
    (said,) = re.findall(r"`(--hoop \"[^`]+)`", README)
    assert run(f"paramgen check coaster {said}", tmp_path).status == 0


def test_a_thing_of_ones_own_is_found_as_described(tmp_path: Path) -> None:
    _, own = blocks(README, "toml")
    (tmp_path / own_things().name).write_text(own, "utf-8")
    things = listed_things(tmp_path / own_things().name)
    # 5 7/8 in × 25.4 = 149.225 mm
    assert find_thing("trowel card", things).height == pytest.approx(149.225)
    assert f"`{own_things().name}`" in README
    for typed, number in (("passport", 1), ("4 bank cards", 4), ("4 of 90x150x3mm", 4)):
        assert f"`{typed}`" in README
        assert find_several(typed, things).number == number


def test_the_own_hoops_file_is_named_as_the_program_looks_for_it() -> None:
    assert f"`{own_file().name}`" in README
    assert own_file().parent.name == "paramgen"
    assert README.count("/paramgen`") + README.count("\\paramgen`") == 3


def test_every_link_leads_somewhere() -> None:
    links = [*re.findall(r"\]\(([^)#]+)\)", README), *re.findall(r'src="([^"]+)"', README)]
    assert links
    assert [link for link in links if not (ROOT / link).is_file()] == []
