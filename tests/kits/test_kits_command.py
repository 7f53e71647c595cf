"""`paramgen kit`: its folder, its file against its schema, its cuts against the simulator."""

import csv
import json
import os
import re
import signal
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from cloth_simulator import Panel, cut_out, find
from command_line import paramgen
from jsonschema import Draft202012Validator

from paramgen.cli.exit_status import CANNOT, UNWRITTEN, WRONG
from paramgen.cli.kit_command import kit_asked, plan_kit
from paramgen.kits.cloth_asked import cloth_asked
from paramgen.kits.kit_format import kit_schema
from paramgen.kits.kit_question import KitQuestion
from paramgen.ordering.typed_request import TypedRequest
from paramgen.papers.typeset import can_typeset
from paramgen.vocabulary.findings import InputError

WALLET = ("kit", "fold-wallet", "--hoop", "5x7in", "--count", "12")


def kit_of(folder: Path) -> dict[str, Any]:
    made: dict[str, Any] = json.loads((folder / "kit.json").read_text("utf-8"))
    return made


def check_cut_out(kit: dict[str, Any]) -> None:
    """Cut every cloth as its cuts say, and find every piece."""
    Draft202012Validator(kit_schema()).validate(kit)
    for cloth in kit["fabrics"]:
        left, right = cloth["selvedges"]
        end = cloth["length"] + 50 if cloth["there"] is None else cloth["there"]
        assert [cut["order"] for cut in cloth["cuts"]] == list(range(1, len(cloth["cuts"]) + 1))
        panels = cut_out(
            Panel(-left, 0, cloth["width"] + right, end),
            [(cut["kind"], cut["ruler"], cut["lines"]) for cut in cloth["cuts"]],
        )
        for piece in cloth["placed"]:
            place = (piece["x"], piece["y"], piece["width"], piece["height"])
            assert find(panels, *place) == 1
        assert cloth["bound"] <= cloth["length"]


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_folder_says_all_of_twelve_wallets(unit: str, tmp_path: Path) -> None:
    out = tmp_path / "kit"
    cloths = ("--fabric", "outer=110cm", "--fabric", "pocket=2 fat quarters")
    ran = paramgen(*WALLET, *cloths, "--fabric", "stabiliser=50cm", "--unit", unit, "--out", out)
    assert (ran.status, ran.err) == (0, "")
    files = {file.name for file in out.iterdir()}
    pdf = {"kit.pdf"} if can_typeset() else set()
    assert files == {"kit.json", "kit.html", "shopping.csv", ".paramgen.json", *pdf}
    kit = kit_of(out)
    check_cut_out(kit)
    # As many of each piece as twelve wallets have: cut lists are tested elsewhere.
    placed = Counter(one["piece"] for cloth in kit["fabrics"] for one in cloth["placed"])
    assert placed["lining"] == placed["upper-outer"] == 12
    assert placed["pocket[1]"] == placed["pocket[2]"] == 24
    assert placed["sheet-130x180"] == 12
    assert all(cloth["proven"] for cloth in kit["fabrics"])
    with (out / "shopping.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = {row["what"]: row for row in csv.DictReader(file)}
    step = 100 if unit == "mm" else 114.3
    for role in ("outer", "lining"):
        length = float(rows[role]["length mm"])
        (cloth,) = (one for one in kit["fabrics"] if one["role"] == role)
        assert length == pytest.approx(cloth["buy"], abs=0.01)
        assert 0 <= length - cloth["length"] < step
        assert length / step == pytest.approx(round(length / step))
    assert paramgen(*WALLET, *cloths, "--unit", unit, "--out", out).status == 0


def test_the_same_kit_is_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one", "two"):
        assert paramgen(*WALLET, "--out", tmp_path / name, "--no-papers").status == 0
    for file in ("kit.json", "kit.html", "shopping.csv"):
        first, second = ((tmp_path / name / file).read_bytes() for name in ("one", "two"))
        assert first == second


def test_several_copies_in_a_hooping_make_fewer_hoopings(tmp_path: Path) -> None:
    out = tmp_path / "kit"
    words = ("kit", "coaster", "width=90", "outline=round", "--hoop", "200x300", "--count", "7")
    assert paramgen(*words, "--copies", "2", "--singly", "--out", out, "--no-papers").status == 0
    kit = kit_of(out)
    check_cut_out(kit)
    # Seven need four hoopings of two, that is eight of each piece and four sheets.
    (project,) = kit["projects"]
    assert (project["count"], project["copies"], project["hoopings"]) == (7, 2, 4)
    assert {len(cloth["placed"]) for cloth in kit["fabrics"]} == {8}
    assert [one["sheets"] for one in kit["stabiliser"]] == [4]
    page = (out / "kit.html").read_text("utf-8")
    assert page.count('class="bag"') == 4
    assert "makes 2" in page


def test_a_table_is_cut_from_one_cloth(tmp_path: Path) -> None:
    table = tmp_path / "swap.csv"
    table.write_text(
        "recipe,name,hoop,count,width\n"
        "fold-wallet,Wallet,5x7in,3,\n"
        "zip-pouch,Sleeve,180x300,2,\n"
        "coaster,Mat,130x180,,95mm\n",
        "utf-8",
    )
    out = tmp_path / "kit"
    ran = paramgen("kit", table, "--fabric", "outer=110cm", "--out", out, "--no-papers")
    assert (ran.status, ran.err) == (0, "")
    kit = kit_of(out)
    check_cut_out(kit)
    assert [one["count"] for one in kit["projects"]] == [3, 2, 1]
    (outer,) = (one for one in kit["fabrics"] if one["role"] == "outer")
    placed = Counter(one["piece"] for one in outer["placed"])
    assert placed["upper-outer"] == 3  # of the wallets
    assert placed["upper-front"] == 2  # of the sleeves
    assert (out / "kit.html").read_text("utf-8").count('class="bag"') == 6


def test_a_row_that_cannot_be_made_is_named_and_nothing_is_written(tmp_path: Path) -> None:
    table = tmp_path / "swap.csv"
    table.write_text("recipe,name,hoop,count\nfold-wallet,Wallet,4x4in,3\n", "utf-8")
    ran = paramgen("kit", table, "--out", tmp_path / "kit")
    assert ran.status == CANNOT
    assert "Row 2, Wallet, cannot be made:" in ran.err
    assert not (tmp_path / "kit").exists()
    table.write_text("recipe,name,hoop,count\nfold-wallet,Wallet,5x7in,many\n", "utf-8")
    ran = paramgen("kit", table, "--out", tmp_path / "kit")
    assert ran.status == WRONG
    assert "row 2, count: `many` is no number of kits from 1 to 1000" in ran.err


def test_what_others_put_there_is_never_replaced(tmp_path: Path) -> None:
    out = tmp_path / "kit"
    out.mkdir()
    (out / "letter.txt").write_text("mine", "utf-8")
    ran = paramgen(*WALLET, "--out", out)
    assert ran.status == UNWRITTEN
    assert [file.name for file in out.iterdir()] == ["letter.txt"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--fabric", "outre=110cm"), "nothing is cut from `outre`. Did you mean `outer`?"),
        (("--fabric", "outer"), "`outer` says no cloth"),
        (("--fabric", "outer=wide"), "`wide` is no cloth. Write a width such as 110cm"),
        (("--fabric", "outer=110cm", "--fabric", "outer=44in"), "more than one is to be bought"),
        (("--fabric", "outer=110cm, up"), "`up` says nothing of a cloth"),
        (("--fabric", "outer=12cm"), "can be used. Take one at least"),
        (("--stages", "4"), "`4` is no number of stages. Write 2 for strips and pieces"),
        (("--layers", "0"), "`0` is no number of layers from 1 to 12"),
        (("--shrinkage", "70%"), "`70%` is no shrinkage from 0 to 20 %"),
        (("--seconds", "-1"), "`-1` is no number of seconds from 0 to 3600"),
    ],
)
def test_what_is_typed_wrongly_is_told(words: tuple[str, ...], said: str, tmp_path: Path) -> None:
    ran = paramgen(*WALLET, *words, "--out", tmp_path / "kit")
    assert ran.status == WRONG
    assert said in ran.err
    assert not (tmp_path / "kit").exists()


def test_every_fault_is_told_at_once() -> None:
    ran = paramgen("kit", "coaster", "width=2m", "--count", "0", "--layers", "x", "--seconds", "y")
    assert ran.status == WRONG
    for said in ("`0` is no number of kits", "`x` is no number of layers", "`y` is no number of"):
        assert said in ran.err
    assert "width:" in ran.err
    assert "say which hoop" in ran.err
    with pytest.raises(InputError) as refused:
        cloth_asked(["outer=wide", "lning=2m", "lining=1m, round"], ["outer", "lining"])
    assert len(refused.value.faults) == 3


def test_ctrl_c_takes_the_best_found_so_far() -> None:
    question = KitQuestion(count="12", seconds="600")
    wanted = kit_asked(TypedRequest(recipe="fold-wallet", hoop="5x7in"), question)
    before = signal.getsignal(signal.SIGINT)
    told: list[str] = []

    def tell(role: str) -> None:
        told.append(role)
        if len(told) == 1:  # a second would stop all
            os.kill(os.getpid(), signal.SIGINT)

    kit = plan_kit(wanted, question, tell)
    assert signal.getsignal(signal.SIGINT) == before
    assert sum(len(plan.placed) for plan in kit.sheets) == 12 * 8


def test_the_schema_is_printed_by_its_name() -> None:
    ran = paramgen("schema", "kit")
    assert ran.status == 0
    told = json.loads(ran.out)
    Draft202012Validator.check_schema(told)
    assert {"role", "width", "length", "bound", "proven", "cuts", "placed"} <= set(
        told["$defs"]["KitClothPart"]["properties"]
    )


def test_a_class_takes_as_many_rounds_as_its_machines_need(tmp_path: Path) -> None:
    """Twelve at three machines: four rounds, after what comes before and before what follows."""
    own = tmp_path / "paramgen"
    own.mkdir()
    (own / "work-times.toml").write_text(
        """
        [machine]
        stitches_per_minute = 5000
        slow_stitches_per_minute = 5000
        trim = 0
        stop = 600
        """,
        "utf-8",
    )
    words = ("kit", "coaster", "padding=none", "--hoop", "130x180", "--count", "12", "--no-papers")
    asked = (*words, "--people", "12", "--machines", "3", "--out", tmp_path / "kit")
    ran = paramgen(*asked, settings=tmp_path)
    assert ran.status == 0, ran.err
    one = r"\s+((?:\d+ h ?)?(?:\d+ min)?)"
    row = re.search(rf"Coaster\s+12{one}{one}{one}", ran.out)
    said = re.search(r"each making their own: (.*?)\. No order of work is shorter\.", ran.out)
    assert row
    assert said
    before, machine, after = map(minutes, row.groups())
    found = minutes(said[1])
    # Each is rounded to a minute.
    assert abs(found - (before + 4 * machine + after)) <= 4


def minutes(text: str) -> int:
    found = re.findall(r"(\d+) (h|min)", text)
    return sum(int(number) * (60 if unit == "h" else 1) for number, unit in found)


def test_what_is_no_class_is_told_at_once(tmp_path: Path) -> None:
    words = ("kit", "coaster", "--hoop", "130x180", "--people", "many", "--machines", "0")
    ran = paramgen(*words, "--out", tmp_path / "kit")
    assert ran.status == 2
    assert "--people: `many` is no number from 1 to 200" in ran.err
    assert "--machines: `0` is no number from 1 to 200" in ran.err
    assert not (tmp_path / "kit").exists()
