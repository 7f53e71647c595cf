"""`paramgen kit --mat`: the lines to cut are the pieces, apart; sheets are cut from the cloth."""

import json
import re
from collections import Counter
from itertools import combinations
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
import shapely
from command_line import paramgen
from jsonschema import Draft202012Validator

from paramgen.amounts.project_materials import ClothToCut, PieceToCut
from paramgen.cli.exit_status import WRONG
from paramgen.kits.cloth_on_mats import on_mats
from paramgen.kits.cloth_there import OneWay
from paramgen.kits.kit_format import kit_schema
from paramgen.mats.outlines_to_nest import Mat
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.unit import Unit

COASTER = ("kit", "coaster", "--hoop", "130x180", "--no-papers", "--seconds", "1")
WALLET = ("kit", "fold-wallet", "--hoop", "5x7in", "--no-papers", "--seconds", "1")


def kit_of(folder: Path) -> dict[str, Any]:
    made: dict[str, Any] = json.loads((folder / "kit.json").read_text("utf-8"))
    Draft202012Validator(kit_schema()).validate(made)
    return made


def drawn(file: Path) -> tuple[tuple[float, float], list[shapely.Polygon]]:
    """Size of a file in mm and every closed line in it, by a reader of its own."""
    root = ElementTree.fromstring(file.read_text("utf-8"))
    width, height = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert [float(one) for one in root.attrib["viewBox"].split()] == [0, 0, width, height]
    lines = []
    for one in root.iter("{http://www.w3.org/2000/svg}path"):
        assert re.fullmatch(r"M[\d. ML]+Z", one.attrib["d"])
        numbers = [float(found) for found in re.findall(r"[\d.]+", one.attrib["d"])]
        lines.append(shapely.Polygon(list(zip(numbers[::2], numbers[1::2], strict=True))))
    return (width, height), lines


def check_mats(kit: dict[str, Any], folder: Path) -> Counter[str]:
    """Hold every file against what is said of it; gives how many there are of each piece."""
    cut: Counter[str] = Counter()
    for cloth in kit["on_mats"]:
        edge, gap = cloth["edge"], cloth["gap"]
        for mat in cloth["mats"]:
            size, lines = drawn(folder / mat["file"])
            assert size == (cloth["width"], cloth["height"])
            across, down = mat["sheet"]
            assert across <= cloth["width"]
            assert down <= cloth["height"]
            sheet = shapely.box(edge, edge, across - edge, down - edge).buffer(0.01)
            assert len(lines) == len(mat["placed"])
            for line, placed in zip(lines, mat["placed"], strict=True):
                assert sheet.covers(line)
                assert line.symmetric_difference(shapely.Polygon(placed["outline"])).area < 0.5
                assert line.bounds[:2] == pytest.approx((placed["x"], placed["y"]), abs=0.01)
                cut[placed["piece"]] += mat["times"]
            assert all(one.distance(other) > gap - 0.01 for one, other in combinations(lines, 2))
        assert cloth["count"] == sum(mat["times"] for mat in cloth["mats"]) >= cloth["bound"]
    return cut


def test_round_coasters_are_cut_as_circles(tmp_path: Path) -> None:
    words = ("outline=round", "width=100", "height=100", "--count", "9", "--mat", "40x40cm")
    ran = paramgen(*COASTER, *words, "--out", tmp_path / "kit")
    assert (ran.status, ran.err) == (0, "")
    kit = kit_of(tmp_path / "kit")
    assert set(check_mats(kit, tmp_path / "kit").values()) == {9}
    for cloth in kit["on_mats"]:
        for mat in cloth["mats"]:
            for placed in mat["placed"]:
                shape = shapely.Polygon(placed["outline"])
                # A circle covers all but 4π/16 of the square round it.
                left, top, right, bottom = shape.bounds
                round_part = shape.area / ((right - left) * (bottom - top))
                assert round_part == pytest.approx(0.7854, abs=2e-3) or round_part > 0.999
    page = (tmp_path / "kit" / "kit.html").read_text("utf-8")
    assert "On the mats of the cutting machine" in page
    assert "keep hands, hair and sleeves clear" in page


def test_every_sheet_for_a_mat_is_cut_from_the_cloth(tmp_path: Path) -> None:
    words = ("--count", "4", "--mat", "30x30cm")
    assert paramgen(*WALLET, *words, "--out", tmp_path / "kit").status == 0
    kit = kit_of(tmp_path / "kit")
    cut = check_mats(kit, tmp_path / "kit")
    by_hand: Counter[str] = Counter()
    for cloth in kit["on_mats"]:
        (lengths,) = ([c for c in kit["fabrics"] if c["role"] == cloth["role"]],)
        placed = Counter(one["piece"] for length in lengths for one in length["placed"])
        for number, mat in enumerate(cloth["mats"], 1):
            assert placed.pop(f"mat-{number}") == mat["times"]
            sizes = {
                (one["width"], one["height"])
                for length in lengths
                for one in length["placed"]
                if one["piece"] == f"mat-{number}"
            }
            assert sizes == {tuple(mat["sheet"])}
        assert set(placed) == set(cloth["by_hand"])
        by_hand += placed
    # The lower outer is 12 1/4 in long: 311 mm on a mat of 300.
    assert by_hand == {"lower-outer": 4}
    assert cut["upper-outer"] == cut["lining"] == 4
    assert cut["pocket[1]"] == 8


@pytest.mark.parametrize(
    ("grain", "one_way", "turns"),
    [
        (Grain.HEIGHT, OneWay.NO, {0, 180}),
        (Grain.WIDTH, OneWay.NO, {90, 270}),
        (Grain.ANY, OneWay.NO, {0, 90, 180, 270}),
        (Grain.HEIGHT, OneWay.ALONG, {0}),
        (Grain.ANY, OneWay.ALONG, {0}),
        (Grain.WIDTH, OneWay.ACROSS, {90}),
    ],
)
def test_a_piece_is_turned_only_as_grain_and_print_allow(
    grain: Grain, one_way: OneWay, turns: set[int]
) -> None:
    # Eight of 30 mm and seven gaps of 2 mm are 254 mm, within 300 less 6 mm on each side.
    strap = PieceToCut(name="strap", title="strap", quantity=8, cut=(30, 250), grain=grain)
    cloth = ClothToCut(role="outer", sort="fabric", title="", wash=False, pieces=(strap,))
    laid, sheets = on_mats(cloth, Mat(width=300, height=300), one_way, Unit.MM)
    ((mat, times),) = laid.plan.mats
    assert {one.turned for one in mat.pieces} <= turns
    along = {one.turned % 180 == 90 for one in mat.pieces}
    for shape in mat.shapes:
        left, top, right, bottom = shape.bounds
        assert (right - left > bottom - top) in along
    assert (times, sheets.pieces[0].quantity, sheets.pieces[0].grain) == (1, 1, Grain.HEIGHT)


def test_pieces_of_one_title_in_two_sizes_have_letters_of_their_own(tmp_path: Path) -> None:
    table = tmp_path / "swap.csv"
    table.write_text(
        "recipe,name,hoop,count,width,height,outline\n"
        "coaster,Small,130x180,2,80mm,80mm,rectangle\n"
        "coaster,Large,130x180,3,100mm,100mm,rectangle\n",
        "utf-8",
    )
    words = ("--mat", "50x50cm", "--no-papers", "--seconds", "1", "--out", tmp_path / "kit")
    ran = paramgen("kit", table, *words)
    assert (ran.status, ran.err) == (0, "")
    check_mats(kit_of(tmp_path / "kit"), tmp_path / "kit")
    page = (tmp_path / "kit" / "kit.html").read_text("utf-8")
    mats = page[page.index('id="mats"') : page.index('id="settings"')]
    (first, *_) = re.findall(r"<caption>Batting.*?</table>", mats, re.DOTALL)
    rows = re.findall(r"<td>([AB])</td><td>batting</td><td>(\d+)\D.*?</td><td>(\d)</td>", first)
    # The larger are laid first; each is cut smaller than its coaster by the same.
    assert [(letter, many) for letter, _, many in rows] == [("A", "3"), ("B", "2")]
    assert int(rows[0][1]) - int(rows[1][1]) == 100 - 80


def test_a_print_that_the_grain_lays_on_its_side_is_refused(tmp_path: Path) -> None:
    words = ("--mat", "40x60cm", "--fabric", "top=110cm, one-way across")
    ran = paramgen(*COASTER, *words, "--out", tmp_path / "kit")
    assert ran.status == WRONG
    assert "lays a one-way across print on its side" in ran.err


@pytest.mark.parametrize("typed", ["12in", "5 x 5 cm", "3m x 1m", "a x b", "30x30x2cm"])
def test_what_is_no_mat_is_refused(typed: str, tmp_path: Path) -> None:
    ran = paramgen(*COASTER, "--mat", typed, "--out", tmp_path / "kit")
    assert ran.status == WRONG
    assert "--mat" in ran.err
    assert not (tmp_path / "kit").exists()
