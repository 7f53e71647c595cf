"""A person's own fabrics on the command line: in the report, in the folder, in a table of rows."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from command_line import paramgen
from folders import files_in
from prints import seedling, written

from paramgen.cli.command_that_makes import make_command
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest

QUICK = ("--hoop", "130x180", "--files", "dst")


@pytest.fixture
def leaves(tmp_path: Path) -> Path:
    file = tmp_path / "leaves.png"
    file.write_bytes(written(seedling(120, 60)))
    return file


def test_the_report_says_how_a_fabric_is_shown(leaves: Path) -> None:
    ran = paramgen("check", "coaster", *QUICK, "--cloth", f"top={leaves}", "--cloth", "back=teal")
    assert ran.status == 0
    # 50 mm unless said, 1 31/32 in on a ruler of 1/32: on one of 1/16, 1 15/16.
    assert (
        "leaves.png, one repeat 50 mm (1 15/16 in) wide, upright in the finished front" in ran.out
    )
    assert "back teal" in ran.out
    assert "upside down" not in ran.out


def test_the_report_says_where_a_print_stands_upside_down(leaves: Path) -> None:
    words = ("--hoop", "8x12in", "--files", "dst", "--cloth")
    ran = paramgen("check", "fold-wallet", *words, f"outer={leaves}, repeat 20 mm")
    assert "one repeat 13/16 in (20 mm) wide" in ran.out
    assert "upside down past a fold, as one piece goes over it" in ran.out
    ran = paramgen("check", "fold-wallet", *words, f"lining={leaves}, repeat 20 mm")
    assert "upside down" not in ran.out


def test_what_is_see_through_is_told_to_be_drawn_without() -> None:
    words = ("--hoop", "8x12in", "--files", "dst", "--cloth", "clear-vinyl=teal")
    assert (
        "teal; it is see-through, and drawn without" in paramgen("check", "plant-tag", *words).out
    )


def test_a_fabric_that_no_piece_is_of_with_these_choices_is_told(leaves: Path) -> None:
    words = ("padding=none", *QUICK, "--cloth", "batting=white")
    assert "no piece is of it with these choices" in paramgen("check", "coaster", *words).out


def test_what_a_camera_wrote_badly_is_no_word_for_who_typed(tmp_path: Path) -> None:
    file = tmp_path / "leaves.jpg"
    tag = b"II*\0\x08\0\0\0\x02\0\x12\x01\x03\0\xff\0\0\0\xff\0\0\0"
    file.write_bytes(written(seedling(), "JPEG", exif=b"Exif\0\0" + tag))
    command = [
        sys.executable,
        "-m",
        "paramgen",
        "check",
        "coaster",
        *QUICK,
        "--cloth",
        f"top={file}",
    ]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    assert ran.stderr == ""


def test_a_fault_of_a_fabric_is_told_with_the_others() -> None:
    ran = paramgen("check", "coaster", "widht=90", *QUICK, "--cloth", "tpo=teal")
    assert ran.status == 2
    assert "Did you mean `width`?" in ran.err
    assert "Did you mean `top`?" in ran.err


def test_a_fabric_typed_as_a_value_is_told_what_it_is() -> None:
    ran = paramgen("check", "coaster", "cloth=teal", *QUICK)
    assert "Write --cloth teal" in ran.err


def test_the_plan_tells_what_was_asked_and_the_pictures_show_it(
    leaves: Path, tmp_path: Path
) -> None:
    words = ("make", "coaster", *QUICK, "--no-papers")
    cloths = ("--cloth", f"top={leaves}, repeat 40mm", "--cloth", "back=#123")
    for name in ("one", "two"):
        assert paramgen(*words, *cloths, "--out", tmp_path / name).status == 0
    one, two = (files_in(tmp_path / name) for name in ("one", "two"))
    assert one == two
    assert json.loads(one["plan.json"])["cloths"] == [
        {"fabric": "back", "called": "#123", "colour": "#112233", "repeat": None},
        # 120 × 60 pixels: 40 mm wide and 20 high.
        {
            "fabric": "top",
            "called": "leaves.png",
            "colour": json.loads(one["plan.json"])["cloths"][1]["colour"],
            "repeat": [40.0, 20.0],
        },
    ]
    assert b"data:image/" in one["finished/front.svg"]
    assert b"#112233" in one["finished/back.svg"]
    assert str(tmp_path).encode() not in b"".join(one.values())


def test_another_fabric_is_no_other_project(leaves: Path, tmp_path: Path) -> None:
    words = ("make", "coaster", *QUICK, "--no-papers", "--out", tmp_path / "mat")
    assert paramgen(*words).status == 0
    assert paramgen(*words, "--cloth", f"top={leaves}").status == 0
    assert paramgen("check", "coaster", *QUICK, "--json", "--cloth", "top=teal").status == 0


def test_each_row_of_a_table_has_the_fabrics_of_its_recipe(leaves: Path, tmp_path: Path) -> None:
    table = tmp_path / "set.csv"
    table.write_text("recipe,name,hoop\ncoaster,Mat,130x180\nplant-tag,Tag,8x12in\n", "utf-8")
    out = tmp_path / "set"
    words = ("grade", table, "--out", out, "--no-papers", "--files=dst", "--jobs=1", "--cloth")
    cloths = (f"outer={leaves}, repeat 15mm", "--cloth", "top=teal")
    assert paramgen(*words, *cloths).status == 0
    tag = (out / "tag" / "finished" / "front.svg").read_text("utf-8")
    mat = (out / "mat" / "finished" / "front.svg").read_text("utf-8")
    assert "data:image/" in tag
    assert "#008080" in mat
    assert "data:image/" not in mat
    # Made anew only where the picture that its name stands for is another now.
    leaves.write_bytes(written(seedling(60, 60)))
    before = (out / "mat" / "plan.json").stat().st_mtime_ns
    assert paramgen(*words, *cloths).status == 0
    assert (out / "tag" / "finished" / "front.svg").read_text("utf-8") != tag
    assert (out / "mat" / "plan.json").stat().st_mtime_ns == before
    ran = paramgen(*words, "oter=teal", "--cloth", "top=teal")
    assert ran.status == 2
    assert "Did you mean `outer`?" in ran.err


def test_the_command_that_makes_has_the_fabrics_too() -> None:
    words = TypedRequest(recipe="coaster", hoop="130x180", cloths=("top=teal", "back=#123456"))
    order = asked(words).order
    command = make_command(order, {}, "130x180", words)
    assert command.endswith(' --cloth top=teal --cloth "back=#123456"')
