"""A recipe begun at the command line: by options, by answers, and never over a file."""

import os
from pathlib import Path

import pytest
from command_line import paramgen
from typer.testing import CliRunner

from paramgen.cli import new_command
from paramgen.cli.app import app
from paramgen.recipe.read_recipe import find_recipe


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def answered(monkeypatch: pytest.MonkeyPatch, *answers: str) -> tuple[int, str]:
    """Run `new` with a person at the keyboard."""

    class Stdin:
        def isatty(self) -> bool:
            return True

    class Sys:
        stdin = Stdin()

    monkeypatch.setattr(new_command, "sys", Sys)
    runner = CliRunner(env={"XDG_CONFIG_HOME": os.devnull})
    typed = "".join(f"{answer}\n" for answer in answers)
    ran = runner.invoke(app, ["new", "row-tag"], input=typed, catch_exceptions=False)
    return ran.exit_code, ran.output


def test_what_is_begun_can_be_checked_as_it_is() -> None:
    ran = paramgen("new", "row-tag", "--pockets", "1", "--holds", "bank card")
    assert ran.status == 0
    assert "Wrote row-tag.toml. It can be made as it is, in hoop 130x180." in ran.out
    assert [file.name for file in Path().iterdir()] == ["row-tag.toml"]
    checked = paramgen("check", "row-tag.toml", "--hoop", "130x180")
    assert checked.status == 0
    assert checked.out.endswith("It can be made as asked.")


def test_without_a_person_nothing_is_asked() -> None:
    assert paramgen("new", "mat").status == 0
    assert find_recipe("mat.toml").file.title == "Mat"


def test_a_person_is_asked_for_what_was_not_given(monkeypatch: pytest.MonkeyPatch) -> None:
    status, printed = answered(
        monkeypatch, "Dibber case", "sewn", "raw-edge", "oval", "1", "snap", "passprot", "passport"
    )
    assert status == 0, printed
    assert "`sewn` is not one of turned, raw-edge" in printed
    assert "Did you mean `passport`?" in printed
    file = find_recipe("row-tag.toml").file
    assert file.title == "Dibber case"
    assert file.holds["thing"].title == "passport"
    assert "snap" in file.notions


def test_each_question_has_a_usual_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    status, printed = answered(monkeypatch, "", "", "", "", "", "")
    assert status == 0, printed
    assert find_recipe("row-tag.toml").file.title == "Row tag"


def test_a_file_that_is_there_stays(folder: Path) -> None:
    (folder / "row-tag.toml").write_text("mine", "utf-8")
    ran = paramgen("new", "row-tag")
    assert (ran.status, ran.out) == (3, "")
    assert "row-tag.toml is there already; nothing was changed." in ran.err
    assert (folder / "row-tag.toml").read_text("utf-8") == "mine"


def test_a_link_that_leads_nowhere_is_not_written_through(folder: Path) -> None:
    (folder / "row-tag.toml").symlink_to(folder / "elsewhere.toml")
    assert paramgen("new", "row-tag").status == 3
    assert not (folder / "elsewhere.toml").exists()


def test_a_file_that_comes_meanwhile_stays(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(new_command, "_check_free", lambda file: file.write_text("new", "utf-8"))
    assert paramgen("new", "row-tag").status == 3
    assert (folder / "row-tag.toml").read_text("utf-8") == "new"


def test_all_that_is_wrong_is_told_at_once(folder: Path) -> None:
    ran = paramgen("new", "row-tag", "--zip", "--outline", "oval", "--pockets", "2")
    assert ran.status == 2
    assert "--zip: a zip runs" in ran.err
    assert "--pockets: what has a zip" in ran.err
    assert list(folder.iterdir()) == []


def test_what_no_hoop_takes_is_refused_with_why(folder: Path) -> None:
    ran = paramgen("new", "row-tag", "--pockets", "1", "--holds", "310x310mm", "--outline", "oval")
    assert ran.status in (1, 2)
    assert ran.out == ""
    assert list(folder.iterdir()) == []


def test_a_name_with_its_ending_is_the_same(folder: Path) -> None:
    assert paramgen("new", "row-tag.toml").status == 0
    assert [file.name for file in folder.iterdir()] == ["row-tag.toml"]


def test_the_same_answers_give_the_same_bytes(folder: Path) -> None:
    paramgen("new", "row-tag", "--zip")
    first = (folder / "row-tag.toml").read_bytes()
    (folder / "row-tag.toml").unlink()
    paramgen("new", "row-tag", "--zip")
    assert (folder / "row-tag.toml").read_bytes() == first
    assert b"\r" not in first
