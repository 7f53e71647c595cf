"""What cannot be made as asked: status 1, with by how much and what would do."""

import re
from pathlib import Path

import pytest
from command_line import Ran, paramgen

#: One stop more than the 21 colour slots that an XXX file has.
ROWS = """
format = 1
title = "Row of tags"
summary = "Felt for plant tags, with rows of stitching."

[sizes.width]
means = "finished width"
default = "60mm"
least = "40mm"
most = "100mm"

[counts.rows]
means = "rows of stitching"
default = 21
least = 1
most = 40

[pieces.felt]
title = "felt"
fabric = "felt"
around = "finished"
past = "10mm"
two_sided = true
frays = false

[outlines.finished]
shape = "rectangle"
width = "width"
height = "width"

[lines.row]
title = "row {k}"
role = "top-stitch"
repeat = { k = "rows" }
points = [[["-width / 3", "-width / 3 + k"], ["width / 3", "-width / 3 + k"]]]

[lines.seam]
title = "seam"
role = "seam"
along = "finished"

[[steps]]
title = "Lay the felt"
lay = [{ piece = "felt", side = "front", up = "right" }]
say = "Lay the felt on the stabiliser."

[[steps]]
repeat = { k = "rows" }
[[steps.steps]]
title = "Row {k}"
stitch = ["row[k]"]
say = "Stitch row {k}."

[[steps]]
title = "Seam"
stitch = ["seam"]
say = "Stitch the seam."

[finish]
way = "raw edge"
finished = "finished"
seam = "finished"
"""


def refused(folder: Path, *words: str | Path) -> Ran:
    """Ask for what cannot be made; no folder appears."""
    ran = paramgen("make", *words, "--out", folder / "made")
    assert ran.status == 1
    assert ran.out == ""
    assert not (folder / "made").exists()
    return ran


def test_check_says_the_same_as_make(tmp_path: Path) -> None:
    asked = ("coaster", "width=140", "--hoop", "100x100")
    assert paramgen("check", *asked) == refused(tmp_path, *asked)


def test_too_large_both_ways_says_by_how_much_and_what_would_fit(tmp_path: Path) -> None:
    # The tack-down runs 2 mm outside the seam line and that 0.5 mm outside the finished
    # edge, so 140 mm needs 140 + 2 × 2.5 = 145 mm: (145 − 100) / 2 = 22.5 mm over at each
    # side, and 100 − 5 = 95 mm would fit. 145 mm square lies in no listed field under
    # 200 × 200 mm: 160 × 260 mm is larger.
    ran = refused(tmp_path, "coaster", "width=140", "--hoop", "100x100")
    assert "the stitches need 145 × 145 mm" in ran.err.lower()
    assert "the field of 100x100 has 100 × 100 mm" in ran.err
    assert "22.5 mm (7/8 in) too wide on each side" in ran.err
    assert "22.5 mm (7/8 in) too high at both top and bottom" in ran.err
    assert "the largest width that fits is 95 mm" in ran.err
    assert "The smallest listed hoop that takes it as asked is 200x200." in ran.err


def test_it_is_said_in_the_unit_of_the_person(tmp_path: Path) -> None:
    # 5 1/2 in is 139.7 mm and needs 144.7 mm: 22.35 mm over, 14/16 in to the nearest
    # sixteenth. 95 mm is 59.8 sixteenths; of what fits, 59/16 in is shown.
    ran = refused(tmp_path, "coaster", "width=5 1/2in", "--hoop", "100x100")
    assert "the field of 100x100 has 3 15/16 × 3 15/16 in" in ran.err
    assert "7/8 in (22.4 mm) too wide on each side" in ran.err
    assert "the largest width that fits is 3 11/16 in" in ran.err


def test_two_sizes_are_found_together_where_neither_is_enough_alone(tmp_path: Path) -> None:
    # The seam line runs 1 mm outside the finished edge, the tack-downs 1 mm outside that, and its
    # zigzag swings out no farther: 140 × 200 mm needs 144 × 204 mm in 130 × 180 mm. So 130 - 4 by
    # 180 - 4 mm is the largest.
    asked = ("fold-wallet", "width=140", "height=200", "--hoop", "130x180")
    ran = refused(tmp_path, *asked)
    assert "7 mm (1/4 in) too wide on each side" in ran.err
    assert "12 mm (1/2 in) too high at both top and bottom" in ran.err
    assert "The largest that fits is width 126 mm with height 176 mm." in ran.err
    assert "The smallest listed hoop that takes it as asked is 160x260." in ran.err


def test_one_size_is_found_with_the_other_as_asked(tmp_path: Path) -> None:
    asked = ("fold-wallet", "width=140", "--hoop", "130x180")
    ran = refused(tmp_path, *asked)
    assert "too high" not in ran.err
    assert "With the other sizes as asked, the largest width that fits is 126 mm." in ran.err
    assert "largest height" not in ran.err


def test_sizes_that_were_not_asked_for_stay_scaled_while_others_are_tried(tmp_path: Path) -> None:
    # 124 × 172 mm by 1.5 is 186 × 258 mm, and 4 mm more: neither size alone makes it fit
    # 130 × 180 mm.
    ran = refused(tmp_path, "fold-wallet", "--scale", "1.5", "--hoop", "130x180")
    assert "the stitches need 190 × 262 mm" in ran.err.lower()
    assert "With the other sizes as asked" not in ran.err
    assert "The largest that fits is width 126 mm with height 176 mm." in ran.err


def test_a_margin_is_taken_from_the_field(tmp_path: Path) -> None:
    # 75 + 5 = 80 mm lies in a field of 100 mm less 2 × 10 mm, and in none less 2 × 10.1 mm.
    asked = ("coaster", "width=75", "corner_radius=8", "--hoop", "100x100", "--margin")
    assert paramgen("check", *asked, "10").status == 0
    assert "has 79.8 × 79.8 mm" in refused(tmp_path, *asked, "10.1").err


def test_it_can_be_forbidden_to_turn_in_the_hoop(tmp_path: Path) -> None:
    asked = ("coaster", "outline=rectangle", "width=160", "height=110", "--hoop", "130x180")
    turned = paramgen("check", *asked)
    assert turned.status == 0
    assert "turned by 90°" in turned.out
    # 160 + 5 = 165 mm in 130 mm: 17.5 mm over at each side.
    ran = refused(tmp_path, *asked, "--no-turn")
    assert "17.5 mm (11/16 in) too wide on each side" in ran.err
    assert "turned" not in ran.err


def test_a_project_that_no_listed_hoop_takes(tmp_path: Path) -> None:
    ran = refused(tmp_path, "fold-wallet", "width=330", "height=360", "--hoop", "130x180")
    assert "No listed hoop takes it as asked." in ran.err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ["coaster", "outline=round", "width=100", "height=120"],
            "this outline is as high as it is wide; 100 mm (3 15/16 in) and 120 mm (4 3/4 in)",
        ),
        (["coaster", "corner_radius=50"], "corners of radius 50 mm"),
        (["fold-wallet", "height=140", "pockets=4"], "4 pockets leave"),
    ],
)
def test_a_recipes_own_condition(words: list[str], said: str, tmp_path: Path) -> None:
    ran = refused(tmp_path, *words, "--hoop", "360x350")
    assert said in ran.err.lower()
    assert ran.err.startswith("cannot be made: ")


def test_a_file_that_cannot_carry_all_steps_is_refused_with_those_that_can(tmp_path: Path) -> None:
    recipe = tmp_path / "rows.toml"
    recipe.write_text(ROWS, encoding="utf-8")
    ran = refused(tmp_path, recipe, "--hoop", "100x100")
    assert "The xxx file holds at most 21 steps, and this project has 22." in ran.err
    assert "These would carry it: dst, exp, pes, pes1, jef, vp3, csv, json, svg." in ran.err


def test_a_file_that_is_not_asked_for_refuses_nothing(tmp_path: Path) -> None:
    recipe = tmp_path / "rows.toml"
    recipe.write_text(ROWS, encoding="utf-8")
    assert paramgen("check", recipe, "--hoop", "100x100", "--files", "dst,pes").status == 0
    assert paramgen("check", recipe, "rows=20", "--hoop", "100x100").status == 0


# Of length alone, and of width and length together, the largest that fits is the same.
@pytest.mark.parametrize("wide", ["40", "40mm"])
def test_what_can_be_made_is_written_once(wide: str, tmp_path: Path) -> None:
    asked = ("key-fob", "ends=rivet", f"width={wide}", "length=170mm", "--hoop", "200x300")
    ran = refused(tmp_path, *asked)
    lengths = re.findall(r"paramgen make .*?length=(\S+)", ran.err)
    assert lengths == ["149mm", "170mm"]
