"""What to have for all rows is the sum of what each row takes, told apart where it differs."""

import csv
import io
import re
from pathlib import Path

import pytest
from command_line import paramgen
from hypothesis import given
from hypothesis import strategies as st

from paramgen.grading.summary_entry import FabricToHave, SummaryEntry, ThingToHave
from paramgen.grading.totals import totals
from paramgen.supplies.fabrics_to_have import cloth_length
from paramgen.supplies.yards import yards
from paramgen.vocabulary.unit import Unit

METRE = 1000.0


def entry(*things: FabricToHave | ThingToHave, unit: Unit = Unit.MM) -> SummaryEntry:
    fabrics = tuple(one for one in things if isinstance(one, FabricToHave))
    ready = tuple(one for one in things if isinstance(one, ThingToHave))
    return SummaryEntry(
        recipe="bag",
        title="Bag",
        unit=unit,
        finished=(100, 100),
        field=(100, 100),
        hoop="100x100",
        turned=False,
        copies=1,
        fabrics=fabrics,
        ready=ready,
        stops=1,
        stitches=12,
        found=(),
        picture="<svg/>",
        view=(100, 100),
        read_first="whole.svg",
    )


def cloth(
    name: str, length: float, *, material: str = "cotton", width: float = METRE
) -> FabricToHave:
    return FabricToHave(
        name=name, material=material, pieces=1, length=length, width=width, narrow=False
    )


def zip_of(length: float, quantity: int = 1) -> ThingToHave:
    return ThingToHave(
        sort="notion", title="coil zip", amount="", quantity=quantity, length=length, width=25.0
    )


def tape(metres: int) -> ThingToHave:
    return ThingToHave(
        sort="tape",
        title="tape that comes off clean",
        amount="",
        quantity=None,
        length=metres * METRE,
        width=12.0,
    )


def told(*entries: SummaryEntry) -> list[tuple[str, str, int]]:
    return [(one.title, one.amount, one.rows) for one in totals(entries)]


def test_lengths_of_one_fabric_are_added_up() -> None:
    # 250 + 350 = 600 mm: 23.62 in, 378 sixteenths and so 23 10/16; of a yard of 914.4 mm 0.656,
    # and so 6 eighths.
    assert told(entry(cloth("outer", 250)), entry(cloth("outer", 350))) == [
        ("outer: cotton", "600 mm (23 5/8 in), 3/4 yd, of a width of 1000 mm", 2)
    ]


@pytest.mark.parametrize(
    "other", [cloth("lining", 100), cloth("outer", 100, material="felt"),
              cloth("outer", 100, width=1016)]
)  # fmt: skip
def test_what_is_no_such_fabric_is_told_apart(other: FabricToHave) -> None:
    found = totals([entry(cloth("outer", 100)), entry(other)])
    assert [one.rows for one in found] == [1, 1]


def test_a_ribbon_is_bought_by_its_length_and_told_by_its_width() -> None:
    wide = FabricToHave(
        name="ribbon", material="grosgrain ribbon", pieces=1, length=100.0, width=19.0, narrow=True
    )
    # 19 mm is 11.97 sixteenths of an inch; 2 × 100 mm is 0.219 yd, and so 2 eighths.
    assert told(entry(wide), entry(wide)) == [
        ("ribbon: grosgrain ribbon", "200 mm (7 7/8 in), 1/4 yd, 19 mm (3/4 in) wide", 2)
    ]


def test_zips_are_counted_by_their_length() -> None:
    # 203.2 mm is 8 in; 254 mm is 10 in.
    found = told(
        entry(zip_of(203.2), unit=Unit.INCH), entry(zip_of(254.0, 2)), entry(zip_of(203.2, 3))
    )
    assert found == [
        ("coil zip", "4, each at least 8 in (203.2 mm), 1 in (25 mm) wide", 2),
        ("coil zip", "2, each at least 254 mm (10 in), 25 mm (1 in) wide", 1),
    ]


def test_tape_and_thread_are_added_up_in_metres_and_yards() -> None:
    # 7 m are 7.66 yd, and so 7 6/8; 12 m 13.1 yd, and so 14 whole ones.
    thread = ThingToHave(
        sort="thread",
        title="needle thread",
        amount="",
        quantity=None,
        length=12 * METRE,
        width=None,
    )
    assert told(entry(tape(3), thread), entry(tape(4))) == [
        ("tape that comes off clean", "about 7 m (7 3/4 yd), 12 mm (1/2 in) wide", 2),
        ("needle thread", "about 12 m (14 yd)", 1),
    ]


def test_stabiliser_and_what_has_no_length_are_counted() -> None:
    sheet = ThingToHave(
        sort="stabiliser",
        title="tear-away stabiliser",
        amount="",
        quantity=1,
        length=260.0,
        width=210.0,
    )
    snap = ThingToHave(sort="notion", title="snap", amount="", quantity=1, length=None, width=None)
    assert [(one.title, one.amount) for one in totals([entry(sheet, snap)] * 3)] == [
        ("tear-away stabiliser", "3, each at least 260 mm (10 1/4 in)"),
        ("snap", "3"),
    ]


THINGS = st.one_of(
    st.builds(
        cloth, st.sampled_from(["outer", "lining"]), st.integers(1, 40).map(lambda n: 50.0 * n)
    ),
    st.builds(zip_of, st.sampled_from([150.0, 200.0]), st.integers(1, 4)),
    st.builds(tape, st.integers(1, 9)),
)


@given(st.lists(st.lists(THINGS, max_size=6), max_size=8))
def test_nothing_is_lost_in_whatever_order_rows_stand(
    rows: list[list[FabricToHave | ThingToHave]],
) -> None:
    entries = [entry(*row) for row in rows]
    found = list(totals(entries))
    assert sorted(map(repr, found)) == sorted(map(repr, totals(entries[::-1])))
    every = [one for row in rows for one in row]
    lengths = sum(one.length for one in every if isinstance(one, FabricToHave))
    said = [one.amount for one in found if one.title.endswith(": cotton")]
    assert sum(float(words.partition(" mm")[0]) for words in said) == lengths
    zips = sum(
        one.quantity or 0 for one in every if isinstance(one, ThingToHave) and one.sort == "notion"
    )
    counted = [one.amount for one in found if one.title == "coil zip"]
    assert sum(int(words.partition(",")[0]) for words in counted) == zips


@given(st.integers(1, 200_000))
def test_yards_hold_the_length_and_an_eighth_less_would_not(tenths: int) -> None:
    # A yard is 914.4 mm exactly, an eighth of it 114.3 mm.
    words = yards(tenths / 10).removesuffix(" yd")
    whole, part = re.fullmatch(r"(?:(\d+))?(?: ?([1357]/8|[13]/4|1/2))?", words).groups()  # type: ignore[union-attr]
    over, under = map(int, part.split("/")) if part else (0, 1)
    eighths = 8 * int(whole or 0) + 8 * over // under
    assert 1143 * (eighths - 1) < tenths <= 1143 * eighths


@pytest.mark.parametrize("unit", Unit)
def test_a_fabrics_length_says_yards_beside_both_units(unit: Unit) -> None:
    # 457.2 mm is half a yard, 18 in.
    words = cloth_length(457.2, 1016, unit, narrow=False)
    assert ", 1/2 yd, of a width of " in words
    assert {"18 in", "457.2 mm"} <= set(re.findall(r"[\d.]+ (?:in|mm)", words))


def test_make_tells_fabric_as_the_booklet_does() -> None:
    # The top is cut 4 in and twice an allowance of 1/2 in: more than the 4 1/2 in of 1/8 yd, and
    # less than the 9 in of 2/8.
    ran = paramgen("check", "coaster", "width=4in", "--hoop", "5x7in")
    assert "Fabric fabric how much" in ran.out
    assert re.search(r"top 9 in \(228\.6 mm\), 1/4 yd, of a width of 40 in", ran.out)
    assert "tape that comes off clean about" in ran.out


def test_the_summary_has_the_totals_and_tape(tmp_path: Path) -> None:
    table = tmp_path / "set.csv"
    table.write_text(
        "recipe,name,width,hoop\ncoaster,a,90,100x100\ncoaster,b,90,100x100\ncoaster,c,9000,100x100\n"
    )
    paramgen("grade", table, "--no-papers", "--files", "dst", "--jobs", "1",
             "--out", tmp_path / "set")  # fmt: skip
    page = (tmp_path / "set" / "summary.html").read_text("utf-8")
    rows = page.partition("To have for all rows")[2]
    sheet = (tmp_path / "set" / "summary.csv").read_text("utf-8-sig")
    first, second, refused = csv.DictReader(io.StringIO(sheet))
    together = (tmp_path / "set" / "totals.csv").read_text("utf-8-sig")
    sums = {one["what"]: one for one in csv.DictReader(io.StringIO(together))}
    assert first["fabric"] == second["fabric"]
    assert refused["fabric"] == ""
    for one in (first, second):
        assert "tape that comes off clean, about" in one["to have ready"]
    (each,) = re.findall(r"top (\d+) mm", first["fabric"])
    plain = re.sub("<[^>]+>", " ", rows).replace("\u00a0", " ")
    plain = " ".join(plain.split())
    assert f"top: quilting cotton {2 * int(each)} mm" in plain
    assert "tape that comes off clean about" in plain
    assert (
        "tear-away stabiliser, one sheet to fill the hoop; what lies inside the seam stays in 2"
        in (plain)
    )
    # In a file of its own, so that either is one table: every line has as many cells.
    assert len({len(line) for line in csv.reader(io.StringIO(together))}) == 1
    top = sums["top: quilting cotton"]
    assert (float(top["length mm"]), top["rows"]) == (2 * int(each), "2")
    assert top["amount"].startswith(f"{2 * int(each)} mm")
    assert sums["tape that comes off clean"]["amount"].startswith("about")
    assert all(name and one["rows"] in ("1", "2") for name, one in sums.items())


def test_totals_are_numbers_for_a_spreadsheet() -> None:
    (cloths, zips) = totals(
        [entry(cloth("outer", 250), zip_of(203.2)), entry(cloth("outer", 350), zip_of(203.2, 2))]
    )
    assert (cloths.quantity, cloths.length, cloths.width) == (None, 600, METRE)
    # Three zips, each so long.
    assert (zips.quantity, zips.length, zips.width) == (3, 203.2, 25)


def test_someones_own_file_of_that_name_is_not_replaced(tmp_path: Path) -> None:
    table = tmp_path / "set.csv"
    table.write_text("recipe,width,hoop\ncoaster,90,100x100\n", "utf-8")
    words = ("grade", table, "--no-papers", "--files", "dst", "--jobs", "1")
    assert paramgen(*words, "--out", tmp_path / "set").status == 0
    own = tmp_path / "set" / "totals.csv"
    own.write_text("seeds,12\n", "utf-8")
    ran = paramgen(*words, "--out", tmp_path / "set")
    assert ran.status == 3
    assert "totals.csv was not made by this program; nothing was changed" in ran.err
    assert own.read_text("utf-8") == "seeds,12\n"
