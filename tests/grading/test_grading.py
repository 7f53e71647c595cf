"""Every row of a table becomes a pack of its own, or its reasons are told."""

import csv
import io
import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from command_line import Ran, paramgen
from flat_recipe import flat_text
from folders import files_in

from paramgen.grading.kept_rows import PAGE, ROW, SHEET
from paramgen.making import make
from paramgen.pack.seal import SEAL

HEAD = "recipe,name,hoop,width,outline,padding\n"
ROUND = "coaster,Round,4x4in,90,round,none\n"
SQUARE = "coaster,Square,130x180,100,,none\n"
LARGE = "coaster,Large,4x4in,300,,none\n"
TYPO = "coaster,Typo,4x4in,9o,rund,none\n"


def quick(*words: str | Path) -> list[str]:
    """Small and quick: one kind of stitch file, one process, unless the words say others."""
    ours = {"--files": "dst", "--jobs": "1"}
    return ["--no-papers", *(f"{name}={ours[name]}" for name in ours if name not in words)]


def grade(folder: Path, lines: str, *words: str | Path, head: str = HEAD) -> Ran:
    table = folder / "set.csv"
    table.write_text(head + lines, "utf-8")
    return paramgen("grade", table, "--out", folder / "set", *quick(*words), *words)


def summary(folder: Path) -> list[dict[str, str]]:
    text = (folder / "set" / SHEET).read_bytes().decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline="")))


def made_at(folder: Path) -> dict[str, int]:
    """What tells one making of a row from the next: the file that came with it."""
    return {file.parent.name: file.stat().st_ino for file in (folder / "set").glob(f"*/{ROW}")}


def plan(folder: Path, row: str) -> Any:
    return json.loads((folder / "set" / row / "plan.json").read_bytes())


@pytest.fixture(scope="module")
def mixed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Ran]:
    folder = tmp_path_factory.mktemp("mixed")
    return folder, grade(folder, ROUND + LARGE + SQUARE + TYPO)


def test_good_rows_are_made_and_the_others_tell_all_their_reasons(mixed: tuple[Path, Ran]) -> None:
    folder, ran = mixed
    assert ran.status == 1
    assert f"Made 2 of 4 rows: {folder / 'set'}" in ran.out
    assert sorted(made_at(folder)) == ["round", "square"]
    assert [row["made"] for row in summary(folder)] == ["yes", "no", "yes", "no"]
    # 4x4in is the field of 100 × 100 mm; 300 mm is too much of it by about 100 mm at each side.
    assert "Row 3, Large, was not made: cannot be made: The stitches need" in ran.err
    assert "The smallest listed hoop that takes it as asked is" in ran.err
    assert "Row 5, Typo, was not made:" in ran.err
    assert "width: `9o` is not" in ran.err
    assert "outline: `rund` is not one of" in ran.err
    assert "Did you mean `round`?" in ran.err
    reasons = {row["name"]: row["findings"] for row in summary(folder)}
    assert "The stitches need" in reasons["Large"]
    assert "`9o`" in reasons["Typo"]
    assert "`rund`" in reasons["Typo"]


def test_a_row_is_what_make_makes_of_it_and_one_file_more(
    mixed: tuple[Path, Ran], tmp_path: Path
) -> None:
    asked = ("width=90", "outline=round", "padding=none", "--hoop", "4x4in")
    ran = paramgen("make", "coaster", *asked, "--files", "dst", "--no-papers",
                   "--out", tmp_path / "made")  # fmt: skip
    assert ran.status == 0
    by_make, by_grade = files_in(tmp_path / "made"), files_in(mixed[0] / "set" / "round")
    listed = json.loads(by_grade.pop("plan.json"))
    del by_grade[ROW]
    of_make = json.loads(by_make.pop("plan.json"))
    assert by_grade == by_make
    assert listed.pop("contents") == sorted([*of_make.pop("contents"), ROW])
    assert listed == of_make


def test_the_summary_says_what_the_plans_say(mixed: tuple[Path, Ran]) -> None:
    folder, _ = mixed
    for row in summary(folder):
        if row["made"] == "yes":
            told = plan(folder, row["folder"])
            width, height = told["finished"]
            assert float(row["finished width mm"]) == pytest.approx(width, abs=0.01)
            assert float(row["finished height mm"]) == pytest.approx(height, abs=0.01)
            assert row["hoop"] == told["hoop"]["name"]
            assert int(row["stitches"]) == sum(step["stitches"] for step in told["steps"])
            assert int(row["stops"]) == sum(1 for step in told["steps"] if step["stop"])
            for piece in told["pieces"]:
                assert piece["fabric"] in row["fabric"]
    first, third = summary(folder)[0], summary(folder)[2]
    # 90 / 25.4 = 3.543 in: 56.7 sixteenths, shown as 57, that is 3 9/16.
    assert (first["finished width mm"], first["finished in"]) == ("90", "3 9/16 × 3 9/16 in")
    # 100 / 25.4 = 3.937 in: 62.99 sixteenths, shown as 63, that is 3 15/16.
    assert third["finished in"].startswith("3 15/16 × ")


def test_papers_are_left_out_only_where_that_is_asked(tmp_path: Path) -> None:
    (tmp_path / "set.csv").write_text(HEAD + ROUND, "utf-8")
    for name, words in (("with", ["--paper", "legal"]), ("without", ["--no-papers"])):
        ran = paramgen("grade", tmp_path / "set.csv", "--out", tmp_path / name,
                       "--files", "dst", "--jobs", "1", *words)  # fmt: skip
        assert ran.status == 0
    full, less = (set(files_in(tmp_path / name / "round")) for name in ("with", "without"))
    papers = {"booklet.html", "booklet.pdf", "wall-strip.pdf", "templates.pdf", "fit-sheet.pdf"}
    assert full - less == papers
    assert less < full
    papers_of = [json.loads((tmp_path / name / "round" / "plan.json").read_bytes())["paper"]
                 for name in ("with", "without")]  # fmt: skip
    assert papers_of[0]["name"] == "Legal"
    assert papers_of[1] is None
    page = (tmp_path / "with" / PAGE).read_text("utf-8")
    assert 'href="round/booklet.html"' in page


def test_what_is_there_is_not_made_again(tmp_path: Path) -> None:
    grade(tmp_path, ROUND + SQUARE)
    first, once = files_in(tmp_path / "set"), made_at(tmp_path)
    ran = grade(tmp_path, ROUND + SQUARE)
    assert "Made 2 of 2 rows, 2 of them before" in ran.out
    assert made_at(tmp_path) == once
    assert files_in(tmp_path / "set") == first


def test_a_changed_row_is_made_again_and_no_other(tmp_path: Path) -> None:
    grade(tmp_path, ROUND + SQUARE)
    once = made_at(tmp_path)
    # The row moves down, too: where it stands does not matter.
    ran = grade(tmp_path, SQUARE.replace("100", "102") + ROUND)
    again = made_at(tmp_path)
    assert "1 of them before" in ran.out
    assert again["round"] == once["round"]
    assert again["square"] != once["square"]
    assert plan(tmp_path, "square")["finished"][0] == 102


@pytest.mark.parametrize(
    "words", [["--no-turn"], ["--margin", "1mm"], ["--unit", "in"], ["--scale", "1.01"],
              ["--files", "exp"]]
)  # fmt: skip
def test_what_is_asked_of_all_rows_makes_them_again(words: list[str], tmp_path: Path) -> None:
    grade(tmp_path, SQUARE)
    once = made_at(tmp_path)
    assert grade(tmp_path, SQUARE, *words).status == 0
    assert made_at(tmp_path)["square"] != once["square"]


def test_a_changed_recipe_makes_its_rows_again(tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    text = flat_text("coaster")
    own.write_text(text, "utf-8")
    line = f"{own},Own,130x180,100,,none\n"
    grade(tmp_path, line + SQUARE)
    once = made_at(tmp_path)
    own.write_text(text.replace('title = "Coaster', 'title = "My coaster', 1), "utf-8")
    grade(tmp_path, line + SQUARE)
    again = made_at(tmp_path)
    assert again["own"] != once["own"]
    assert again["square"] == once["square"]
    assert plan(tmp_path, "own")["title"].startswith("My coaster")


def test_a_hoop_of_ones_own_that_grows_makes_its_rows_again(tmp_path: Path) -> None:
    own = tmp_path / "settings" / "paramgen" / "hoops.toml"
    own.parent.mkdir(parents=True)
    (tmp_path / "set.csv").write_text("recipe,name\ncoaster,One\n", "utf-8")
    made = []
    for width in (150, 150, 160):
        own.write_text(f'[[hoop]]\nname = "shed"\nwidth = {width}\nheight = 200\n', "utf-8")
        ran = paramgen("grade", tmp_path / "set.csv", "--out", tmp_path / "set", *quick(),
                       "--hoop", "shed", settings=tmp_path / "settings")  # fmt: skip
        assert ran.status == 0, ran.err
        made.append(made_at(tmp_path)["one"])
    assert made[0] == made[1] != made[2]


def test_a_version_of_the_program_makes_all_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    grade(tmp_path, SQUARE)
    once = made_at(tmp_path)
    monkeypatch.setattr("paramgen.grading.row_digest.__version__", "99")
    grade(tmp_path, SQUARE)
    assert made_at(tmp_path) != once


def _cut(file: Path) -> None:
    file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])


DAMAGES: dict[str, Callable[[Path], object]] = {
    "a stitch file is gone": lambda row: next(row.glob("stitch/*.dst")).unlink(),
    "a picture is empty": lambda row: (row / "whole.svg").write_bytes(b""),
    "the plan is gone": lambda row: (row / "plan.json").unlink(),
    "its own file is gone": lambda row: (row / ROW).unlink(),
    "all is gone": shutil.rmtree,
}
#: Who knows but that a person did it, and wants it kept.
CHANGES: dict[str, Callable[[Path], object]] = {
    "*.dst": _cut,
    "whole.svg": lambda file: file.write_bytes(file.read_bytes().replace(b"a", b"b", 1)),
    "plan.json": _cut,
    ROW: lambda file: file.write_text('{"made_from": 1}', "utf-8"),
}


@pytest.fixture(scope="module")
def two(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("two")
    assert grade(folder, ROUND + SQUARE).status == 0
    return folder


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_row_that_is_not_whole_is_made_again(damage: str, two: Path, tmp_path: Path) -> None:
    shutil.copytree(two / "set", tmp_path / "set")
    once = made_at(tmp_path)
    DAMAGES[damage](tmp_path / "set" / "round")
    ran = grade(tmp_path, ROUND + SQUARE)
    assert ran.status == 0, ran.err
    assert "1 of them before" in ran.out
    assert made_at(tmp_path)["square"] == once["square"]
    assert files_in(tmp_path / "set") == files_in(two / "set")


@pytest.mark.parametrize("changed", CHANGES)
def test_a_row_with_a_file_that_someone_changed_is_kept_and_told(
    changed: str, two: Path, tmp_path: Path
) -> None:
    shutil.copytree(two / "set", tmp_path / "set")
    (file,) = (tmp_path / "set" / "round").rglob(changed)
    CHANGES[changed](file)
    before = files_in(tmp_path / "set" / "round")
    ran = grade(tmp_path, ROUND + SQUARE)
    assert ran.status == 3
    assert "round holds files that were changed since this program made them" in ran.err
    assert files_in(tmp_path / "set" / "round") == before
    file.unlink()
    assert grade(tmp_path, ROUND + SQUARE).status == 0
    assert files_in(tmp_path / "set") == files_in(two / "set")


def test_a_folder_that_is_not_known_for_ours_is_kept_and_told(two: Path, tmp_path: Path) -> None:
    shutil.copytree(two / "set", tmp_path / "set")
    (tmp_path / "set" / "round" / SEAL).unlink()
    (tmp_path / "set" / "round" / "plan.json").unlink()
    (tmp_path / "set" / "square" / "notes.txt").write_bytes(b"worth keeping")
    before = files_in(tmp_path / "set" / "round")
    ran = grade(tmp_path, ROUND + SQUARE.replace("100", "101"))
    assert ran.status == 3
    assert "Row 2, Round, was not made:" in ran.err
    assert (
        "was not made by this program, or lost its mark .paramgen.json; nothing was changed"
        in ran.err
    )
    assert "notes.txt" in ran.err
    assert files_in(tmp_path / "set" / "round") == before
    # It is for the person to mend, and then it is made.
    (tmp_path / "set" / "square" / "notes.txt").unlink()
    shutil.rmtree(tmp_path / "set" / "round")
    assert grade(tmp_path, ROUND + SQUARE.replace("100", "101")).status == 0


def test_a_row_that_fails_now_leaves_its_older_pack(two: Path, tmp_path: Path) -> None:
    shutil.copytree(two / "set", tmp_path / "set")
    before = files_in(tmp_path / "set" / "round")
    ran = grade(tmp_path, ROUND.replace("90", "300") + SQUARE)
    assert ran.status == 1
    assert files_in(tmp_path / "set" / "round") == before
    assert [row["made"] for row in summary(tmp_path)] == ["no", "yes"]
    assert grade(tmp_path, ROUND + SQUARE).status == 0


def test_why_a_row_was_not_made_is_remembered_but_not_for_other_hoops(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = grade(tmp_path, LARGE)
    with monkeypatch.context() as patched:
        patched.setattr("paramgen.cli.make_row.workshop", None)  # would fail if it were asked
        again = grade(tmp_path, LARGE)
    assert (again.status, again.err) == (first.status, first.err) == (1, first.err)
    own = tmp_path / "settings" / "paramgen" / "hoops.toml"
    own.parent.mkdir(parents=True)
    own.write_text('[[hoop]]\nname = "barn"\nwidth = 320\nheight = 320\n', "utf-8")
    ran = paramgen("grade", tmp_path / "set.csv", "--out", tmp_path / "set", *quick(),
                   settings=tmp_path / "settings")  # fmt: skip
    assert "The smallest listed hoop that takes it as asked is barn" in ran.err


def test_a_fault_of_the_program_costs_one_row_and_is_not_remembered(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_workshop: Any, order: Any, hoops: Any) -> Any:
        if order.asked.get("outline") == "round":
            raise ZeroDivisionError("division by zero")
        return make(order, hoops)

    with monkeypatch.context() as patched:
        patched.setattr("paramgen.workshop.Workshop.make", fails)
        ran = grade(tmp_path, ROUND + SQUARE)
    assert ran.status == 4
    assert "Row 2, Round, was not made: The program itself failed (" in ran.err
    assert list(made_at(tmp_path)) == ["square"]
    assert grade(tmp_path, ROUND + SQUARE).status == 0


def test_a_hoop_given_once_is_for_all_rows_that_say_none(tmp_path: Path) -> None:
    ran = grade(tmp_path, ROUND + SQUARE.replace("130x180", ""), "--hoop", "160x260")
    assert ran.status == 0
    assert plan(tmp_path, "round")["hoop"]["name"] == "100x100"
    assert plan(tmp_path, "square")["hoop"]["name"] == "160x260"


def test_what_is_asked_of_all_rows_is_nothing_to_a_row_that_says_its_own(tmp_path: Path) -> None:
    head = "recipe,name,hoop,unit,margin,copies,padding\n"
    lines = "coaster,Own,130x180,mm,1mm,1,none\ncoaster,Any,,,,,none\n"
    grade(tmp_path, lines, "--hoop", "130x180", head=head)
    once = made_at(tmp_path)
    others = ("--hoop", "360x350", "--unit", "in", "--margin", "2mm", "--copies", "2")
    grade(tmp_path, lines, *others, head=head)
    again = made_at(tmp_path)
    assert again["own"] == once["own"]
    assert again["any"] != once["any"]


def test_a_row_may_have_its_own_unit_and_margin(tmp_path: Path) -> None:
    head = "recipe,name,width,unit,margin\n"
    lines = "coaster,A,100,,\ncoaster,B,100,in,\ncoaster,C,100,,12mm\ncoaster,D,100,ell,70mm\n"
    ran = grade(tmp_path, lines, "--hoop", "130x180", "--unit", "mm", head=head)
    assert [plan(tmp_path, one)["unit"] for one in "abc"] == ["mm", "in", "mm"]
    assert [plan(tmp_path, one)["hoop"]["margin"] for one in "abc"] == [0, 0, 12]
    assert "Row 5, D, was not made: unit: `ell` is no unit" in ran.err
    assert "margin: 70 mm all round leaves nothing of the field" in ran.err


def test_a_row_may_ask_for_several_in_one_hooping(tmp_path: Path) -> None:
    head = "recipe,name,hoop,width,outline,padding,copies\n"
    lines = "coaster,Many,200x300,90,round,none,2\ncoaster,One,200x300,90,round,none,\n"
    ran = grade(tmp_path, lines + "coaster,Wrong,200x300,90,round,none,two\n", head=head)
    assert "Row 4, Wrong, was not made: copies: `two` is no number of copies" in ran.err
    many, one = (plan(tmp_path, row) for row in ("many", "one"))
    assert [len(row["copies"]) for row in (many, one)] == [2, 1]
    first, second, _ = summary(tmp_path)
    assert (first["copies"], second["copies"]) == ("2", "1")
    assert first["stops"] == second["stops"]
    # No line is shared between two, so two of one thing take twice its stitches.
    assert int(first["stitches"]) == 2 * int(second["stitches"])


def test_two_runs_of_one_table_give_the_same_bytes(two: Path, tmp_path: Path) -> None:
    grade(tmp_path, ROUND + SQUARE)
    assert files_in(tmp_path / "set") == files_in(two / "set")


@pytest.mark.parametrize(
    ("lines", "words", "said"),
    [
        ("", (), "the table has column names and no row under them"),
        (ROUND, ("--jobs", "none"), "--jobs: `none` is not a whole number from 1 to 999"),
        (ROUND, ("--jobs", "0"), "--jobs: `0` is not a whole number"),
        (ROUND, ("--hoop", "5x7"), "Are inches"),
        (ROUND, ("--files", "dts"), "Did you mean `dst`?"),
        (ROUND, ("--paper", "a44"), "Did you mean"),
        (ROUND, ("--scale", "big"), "--scale: `big` is not a number"),
        (ROUND, ("--scale", "0"), "--scale: `0` is outside 0.01 to 100"),
        (ROUND, ("--margin", "1 2"), "--margin"),
        (ROUND, ("--unit", "ell"), "--unit: `ell` is no unit"),
    ],
)
def test_a_bad_table_or_option_stops_before_anything_is_made(
    lines: str, words: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    ran = grade(tmp_path, lines, *words)
    assert ran.status == 2
    assert said in ran.err
    assert not (tmp_path / "set").exists()


def test_faults_of_table_and_options_are_told_together(tmp_path: Path) -> None:
    head = HEAD.replace("width", "widht").replace("hoop", "name")
    ran = grade(tmp_path, ROUND, "--files", "dts", "--jobs", "x", head=head)
    assert ran.status == 2
    for said in ("`dts`", "--jobs", "`widht`", "`name` names 2 columns"):
        assert said in ran.err


def test_a_table_that_says_no_hoop_is_told(tmp_path: Path) -> None:
    ran = grade(tmp_path, "coaster,90\n", head="recipe,width\n")
    assert ran.status == 2
    assert "set.csv: nothing says which hoop. Add a column `hoop`" in ran.err


@pytest.mark.parametrize("name", [SHEET, PAGE])
def test_a_summary_of_someone_elses_is_never_replaced(name: str, tmp_path: Path) -> None:
    (tmp_path / "set").mkdir()
    (tmp_path / "set" / name).write_bytes(b"worth keeping")
    ran = grade(tmp_path, ROUND)
    assert ran.status == 3
    assert "was not made by this program; nothing was changed" in ran.err
    assert files_in(tmp_path / "set") == {name: b"worth keeping"}


@pytest.mark.parametrize(
    ("there", "told"),
    [("plan.json", "is the folder of one project"), ("letter.txt", "holds letter.txt")],
)
def test_rows_are_not_put_among_other_things(there: str, told: str, tmp_path: Path) -> None:
    out = tmp_path / "set"
    out.mkdir()
    (out / there).write_text("{}", "utf-8")
    ran = grade(tmp_path, ROUND)
    assert ran.status == 3
    assert told in ran.err
    assert [file.name for file in out.iterdir()] == [there]


def test_rows_go_on_where_a_run_was_stopped_before_its_summary(tmp_path: Path) -> None:
    grade(tmp_path, ROUND)
    for name in (SHEET, PAGE):
        (tmp_path / "set" / name).unlink()
    assert grade(tmp_path, ROUND + SQUARE).status == 0
    assert sorted(made_at(tmp_path)) == ["round", "square"]


def test_a_folder_in_place_of_a_table_is_told(tmp_path: Path) -> None:
    ran = paramgen("grade", tmp_path, "--hoop", "4x4in", "--out", tmp_path / "set")
    assert ran.status == 2
    assert "this is a folder" in ran.err


def test_a_recipe_that_is_not_there_is_the_reason_of_its_row(tmp_path: Path) -> None:
    ran = grade(tmp_path, ROUND + "coastre,Other,4x4in,90,,\n")
    assert ran.status == 1
    assert "Row 3, Other, was not made: coastre: no recipe of that name." in ran.err
    assert "Did you mean `coaster`?" in ran.err
    assert list(made_at(tmp_path)) == ["round"]
