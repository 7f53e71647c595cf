"""plan.json says what it may, and nothing but what the folder holds."""

import json
import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from itertools import pairwise
from typing import Any

import decode_dst
import pytest
from jsonschema import Draft202012Validator

from paramgen.cli.check_command import as_report
from paramgen.making import make
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.pack.pack_files import contents
from paramgen.plan.plan_format import schema
from paramgen.plan.write_plan import plan, to_json
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.unit import Unit

#: What is asked, and the hoop: both recipes, with choices that bring every kind of thing.
ASKED = {
    "coaster": ("coaster", [], "130x180"),
    "coaster, round": ("coaster", ["outline=round", "padding=none", "width=90"], "100x100"),
    "coaster, polygon": ("coaster", ["outline=polygon", "sides=8", "width=6in"], "8x8in"),
    "coaster, turned": ("coaster", ["outline=oval", "width=165", "height=110"], "130x180"),
    "wallet": ("fold-wallet", [], "130x180"),
    "wallet, inches": ("fold-wallet", ["width=5in", "pockets=1"], "160x260"),
    "wallet, hemmed": ("fold-wallet", ["layers=single"], "160x260"),
    "wallet, long": (
        "fold-wallet",
        ["pouch=long", "tab=none", "corners=rounded", "width=132", "height=184"],
        "160x260",
    ),
}
NAMES = pytest.mark.parametrize("name", ASKED)


@dataclass(frozen=True)
class Folder:
    """Files of a project's folder, and its plan as JSON reads it."""

    files: dict[str, bytes]
    plan: Any


@cache
def folder(name: str) -> Folder:
    """A whole folder, in memory."""
    recipe, values, hoop = ASKED[name]
    kinds = "" if name == "wallet" else "dst,svg"
    wanted = asked(TypedRequest(recipe=recipe, values=values, hoop=hoop, files=kinds))
    files = contents(make(wanted.order), wanted.formats)
    return Folder(files, json.loads(files["plan.json"]))


def numbers(text: bytes) -> Iterator[str]:
    """Every number as it is written, and what JSON should not have besides."""
    found: list[str] = []

    def seen(number: str) -> str:
        found.append(number)
        return number

    json.loads(text, parse_float=seen, parse_int=seen, parse_constant=seen)
    yield from found


@NAMES
def test_it_is_as_its_schema_says(name: str) -> None:
    validator = Draft202012Validator(schema())
    assert [error.message for error in validator.iter_errors(folder(name).plan)] == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("format", 2),
        ("unit", "cm"),
        ("finished", [100.0]),
        ("steps", [{}]),
        ("contents", "whole.svg"),
        ("extra", 1),
    ],
)
def test_its_schema_refuses_what_it_is_not(key: str, value: object) -> None:
    wrong = {**folder("coaster").plan, key: value}
    assert not Draft202012Validator(schema()).is_valid(wrong)
    missing = {name: part for name, part in folder("coaster").plan.items() if name != "hoop"}
    assert not Draft202012Validator(schema()).is_valid(missing)


@NAMES
def test_every_number_can_be_read_by_any_program(name: str) -> None:
    for number in numbers(folder(name).files["plan.json"]):
        assert math.isfinite(float(number))
        assert not (float(number) == 0 and number.startswith("-"))
        assert len(number.partition(".")[2]) <= 4


def test_what_is_no_number_is_never_written() -> None:
    wanted = asked(TypedRequest(recipe="coaster", values=[], hoop="130x180"))
    made = plan(make(wanted.order), {}, [])
    wrong = made.model_copy(update={"finished": [math.nan, 1.0]})
    with pytest.raises(ValueError, match="not JSON compliant"):
        to_json(wrong)


@NAMES
def test_it_lists_exactly_the_files_there_are(name: str) -> None:
    made = folder(name)
    assert made.plan["contents"] == sorted(made.files)
    stitch = {file for file in made.files if file.startswith("stitch/")}
    assert {file["name"] for file in made.plan["files"]} == stitch


@NAMES
def test_a_stitch_files_digest_is_that_of_its_bytes(name: str) -> None:
    made = folder(name)
    for file in made.plan["files"]:
        assert file["sha256"] == sha256(made.files[file["name"]]).hexdigest()


@dataclass(frozen=True)
class Sewn:
    """What a DST file has the machine do, by its record layout; tenths of a millimetre."""

    points: list[tuple[int, int]]
    stitches: list[int]


def sewn(data: bytes) -> Sewn:
    """Needle points of all stops, y down; and for each stop its stitches, moves left out."""
    x = y = 0
    points: list[tuple[int, int]] = []
    stitches = [0]
    moved = True
    for record in decode_dst.records(data):
        x, y = x + record.dx, y - record.dy
        if record.kind == "stop":
            stitches.append(0)
        elif record.kind == "stitch":
            points.append((x, y))
            # The first point after a move is where a run starts, not the end of a stitch.
            stitches[-1] += not moved
        moved = record.kind != "stitch"
    return Sewn(points, stitches)


@NAMES
def test_it_agrees_with_what_the_machine_is_told(name: str) -> None:
    made = folder(name)
    (file,) = (file for file in made.plan["files"] if file["format"] == "dst")
    machine = sewn(made.files[file["name"]])
    stitched = [step for step in made.plan["steps"] if not step["by_hand"]]
    assert [step["stop"] for step in stitched] == list(range(1, len(stitched) + 1))
    assert machine.stitches == [step["stitches"] for step in stitched]
    for each in made.plan["files"]:
        assert (each["steps"], each["stitches"]) == (len(stitched), sum(machine.stitches))
    xs, ys = zip(*machine.points, strict=True)
    extent = made.plan["extent"]
    # A DST file counts in tenths of a millimetre.
    assert [10 * extent[side] for side in ("left", "right", "top", "bottom")] == pytest.approx(
        [min(xs), max(xs), min(ys), max(ys)]
    )


@NAMES
def test_all_needle_points_lie_in_the_hoop(name: str) -> None:
    made = folder(name).plan
    extent, hoop = made["extent"], made["hoop"]
    assert max(-extent["left"], extent["right"]) <= hoop["width"] / 2 - hoop["margin"]
    assert max(-extent["top"], extent["bottom"]) <= hoop["height"] / 2 - hoop["margin"]


@NAMES
def test_steps_are_numbered_without_holes_and_stitched_or_done_by_hand(name: str) -> None:
    steps = folder(name).plan["steps"]
    assert [step["number"] for step in steps] == list(range(1, len(steps) + 1))
    for step in steps:
        stitched = step["kind"] == Act.STITCH
        assert stitched == (not step["by_hand"]) == bool(step["lines"]) == bool(step["stitches"])
        assert stitched == (step["stop"] is not None) == (step["colour"] is not None)
        assert step["say"]
        assert step["title"]
        # No stitch is shorter than the line from its start to its end, so the stitches sewn
        # are at least as long as the lines they follow, less what the grid of 0.1 mm cuts.
        drawn = sum(map(_length, step["lines"]))
        assert step["length"] >= 0.98 * drawn


def _length(line: Any) -> float:
    points = [*line["points"], line["points"][0]] if line["closed"] else line["points"]
    return sum(math.dist(one, two) for one, two in pairwise(points))


@NAMES
def test_everything_laid_is_a_piece_or_a_notion_and_is_laid_in_a_step_for_it(name: str) -> None:
    made = folder(name).plan
    known = {one["name"] for one in (*made["pieces"], *made["notions"])}
    acts = {step["number"]: step["kind"] for step in made["steps"]}
    assert made["layers"]
    for layer in made["layers"]:
        assert layer["piece"] in known
        assert acts[layer["step"]] == Act.LAY
    assert {piece["name"] for piece in made["pieces"]} <= {one["piece"] for one in made["layers"]}


@NAMES
def test_a_layer_is_as_large_as_its_folded_piece(name: str) -> None:
    made = folder(name).plan
    folded = {piece["name"]: piece["folded"] for piece in made["pieces"]}
    for layer in made["layers"]:
        if layer["piece"] in folded:
            xs, ys = zip(*layer["outline"], strict=True)
            size = [max(xs) - min(xs), max(ys) - min(ys)]
            wanted = folded[layer["piece"]]
            # Curves are thinned, and that takes less than 0.001 mm from either end.
            assert size == pytest.approx(
                wanted[::-1] if made["hoop"]["turned"] else wanted, abs=0.0025
            )


def test_what_hands_do_is_told_by_its_lines_and_pieces() -> None:
    made = folder("wallet").plan
    steps = made["steps"]
    (top,) = (step for step in steps if step["kind"] == Act.TOP_STITCH)
    # 124 × 172 mm, top-stitched 2 mm inside the edge: 120 × 168 mm, round to where it began.
    (line,) = top["mark"]
    assert line[0] == line[-1]
    xs, ys = zip(*line, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((120, 168))
    (sewn,) = (step for step in steps if step["kind"] == Act.HAND_SEW)
    assert sewn["pieces"]
    assert {*sewn["pieces"]} <= {piece["name"] for piece in made["pieces"]}
    assert not any(step["mark"] for step in steps if not step["by_hand"])
    # Trimmed 3.2 mm outside a seam 1 mm outside the finished edge: 2 * 4.2 mm more.
    xs, ys = zip(*made["finish"]["trimmed"], strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((132.4, 180.4))
    # Folded across the middle, and the tab at the upper edge; it lies about the hoop's middle.
    middle = sum(y for _, y in made["finish"]["finished"]) / 4
    (across, _), (tab, _) = made["finish"]["folds"]
    assert (across[1], tab[1]) == pytest.approx((middle, middle - 86))


def test_a_layer_tells_what_its_cloth_is() -> None:
    made = folder("wallet, hemmed").plan
    by_name = {layer["piece"]: layer for layer in made["layers"]}
    pocket, ribbon = by_name["pocket[1]"], by_name["ribbon"]
    # Of one layer: its wrong side may be seen from within the pocket. Its hem is 6 mm, twice.
    assert pocket["unlined"]
    (hem,) = pocket["hems"]
    assert hem["twice"]
    xs, ys = zip(*hem["outline"], strict=True)
    across = next(one for one in made["pieces"] if one["name"] == "pocket[1]")["folded"][0]
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((across, 6))
    # Quilting cotton is 0.15 to 0.3 mm thick (from memory, as the materials say).
    assert pocket["ply"] == [0.15, 0.3]
    # Ribbon has two right sides and sealed edges.
    assert (ribbon["two_sided"], ribbon["frays"]) == (True, False)
    assert (pocket["two_sided"], pocket["frays"], pocket["clear"]) == (False, True, False)
    assert not ribbon["right_sides_in"]
    assert ribbon["hems"] == []


def test_a_project_that_lies_turned_says_so() -> None:
    made = folder("coaster, turned").plan
    # 165 + 5 mm lie along the 180 mm of the field, and only so.
    assert made["hoop"]["turned"]
    assert made["finished"] == [165.0, 110.0]
    extent = made["extent"]
    assert extent["bottom"] - extent["top"] == pytest.approx(170, abs=0.2)
    assert extent["right"] - extent["left"] == pytest.approx(115, abs=0.2)
    assert "turned-in-hoop" in {finding["code"] for finding in made["findings"]}
    assert not folder("coaster").plan["hoop"]["turned"]


def test_the_hoop_is_told_with_the_margin_kept_free() -> None:
    wanted = asked(
        TypedRequest(recipe="coaster", values=["padding=none"], hoop="5x7in", margin="1/4in")
    )
    hoop = plan(make(wanted.order), {}, []).hoop
    # The inch name stands for the field of 130 × 180 mm.
    assert (hoop.name, hoop.width, hoop.height, hoop.margin) == ("130x180", 130.0, 180.0, 6.35)


@pytest.mark.parametrize(
    ("paper", "margin", "printed", "told"),
    [
        # ANSI/ASME Y14.1, size A: 8 1/2 × 11 in of 25.4 mm. A half inch is 12.7 mm.
        (
            "letter",
            "1/2in",
            "49.5x50.2mm",
            {"name": "Letter", "width": 215.9, "height": 279.4, "margin": 12.7,
             "square": [49.5, 50.2], "corrected": True},
        ),
        # ISO 216; the margin and the square as they are unless told.
        (
            "",
            "",
            "",
            {"name": "A4", "width": 210.0, "height": 297.0, "margin": 6.0,
             "square": [50.0, 50.0], "corrected": False},
        ),
        (
            "roll:610mm",
            "",
            "",
            {"name": "roll 610 mm", "width": 610.0, "height": None, "margin": 6.0,
             "square": [50.0, 50.0], "corrected": False},
        ),
    ],
)  # fmt: skip
def test_the_paper_is_told_with_its_margin_and_how_the_printer_is_made_up_for(
    paper: str, margin: str, printed: str, told: dict[str, object]
) -> None:
    words = TypedRequest(
        recipe="coaster",
        values=[],
        hoop="130x180",
        files="dst",
        paper=paper,
        paper_margin=margin,
        printed=printed,
        unit="mm",
    )
    wanted = asked(words)
    made = json.loads(contents(make(wanted.order), wanted.formats, wanted.printing)["plan.json"])
    assert made["paper"] == told
    assert Draft202012Validator(schema()).is_valid(made)


def test_what_was_asked_is_told_from_what_is_the_recipes_own() -> None:
    made = folder("wallet, inches").plan
    sizes = {size["name"]: (size["value"], size["asked"]) for size in made["sizes"]}
    assert sizes == {"width": (127.0, True), "height": (172.0, False)}  # 5 × 25.4 mm
    (pockets,) = made["counts"]
    assert (pockets["name"], pockets["value"], pockets["asked"]) == ("pockets", 1.0, True)
    assert made["unit"] == "in"
    assert not any(length["asked"] for length in made["lengths"])


def test_the_report_of_a_check_has_a_plan_of_the_same_form() -> None:
    made = make(asked(TypedRequest(recipe="coaster", values=[], hoop="130x180")).order)
    report = as_report(made, made.project.findings, Unit.MM)
    assert Draft202012Validator(schema()).is_valid(report["plan"])
    assert report["plan"]["steps"] == folder("coaster").plan["steps"]
    with pytest.raises(CannotMakeError) as problem:
        make(asked(TypedRequest(recipe="coaster", values=["width=200"], hoop="130x180")).order)
    report = as_report(None, problem.value.findings, Unit.MM)
    assert report["findings"][0]["severity"] == "cannot be made"
