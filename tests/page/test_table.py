"""A table of sizes: it stands in the address, is read by grade, and is taken as grade makes it."""

import io
import re
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from command_line import paramgen
from hypothesis import given, settings
from hypothesis import strategies as st
from prints import seedling, written

from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.desk import Desk, desk, keep_print
from paramgen.page.given_files import GivenFiles
from paramgen.page.long_jobs import JobResult, JobState
from paramgen.page.table_in_address import MOST_ROWS, AskedTable, as_csv, table_in
from paramgen.page.table_taken import take_all
from paramgen.page.table_view import RowsKept, ShownTable, pasted, table_page, table_parts
from paramgen.page.typed_address import asked_in
from paramgen.vocabulary.findings import InputError

BASE = TypedRequest(recipe="coaster", hoop="130x180", files="dst")


@pytest.fixture(scope="module")
def table() -> Desk:
    return desk({})


words = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1)
columns = st.from_regex(r"[a-z]+(_[a-z]+)?", fullmatch=True)


@settings(max_examples=30)
@given(st.lists(st.dictionaries(columns, words, max_size=4), min_size=1, max_size=5))
def test_a_table_comes_back_from_its_address(rows: list[dict[str, str]]) -> None:
    asked = AskedTable(BASE, tuple(rows), ("title",))
    if len(asked.address) < 8000:
        assert table_in(asked.address) == asked
        assert asked_in(asked.address).words == BASE  # other views pass over it


def test_a_table_has_no_more_rows_than_lie_side_by_side() -> None:
    query = "recipe=coaster&" + "&".join(f"row=width%3D{90 + n}mm" for n in range(MOST_ROWS + 5))
    assert len(table_in(query).rows) == MOST_ROWS


def test_rows_are_those_that_grade_reads(table: Desk, tmp_path: Path) -> None:
    base = replace(BASE, values=("width=95mm", "outline=round"), files="", title="Mats")
    rows = ({"name": "small"}, {"width": "4 1/2 in"}, {"recipe": "plant-tag", "copies": "2"})
    shown = ShownTable(table, AskedTable(base, rows).address)
    assert not shown.faults
    first, second, third = (shown.shown(one).words for one in shown.to_make)
    assert (first.recipe, [*first.values]) == ("coaster", ["width=95mm", "outline=round"])
    assert [*second.values] == ["width=4 1/2 in", "outline=round"]
    # What is asked of one recipe says nothing of another.
    assert (third.recipe, [*third.values], third.copies) == ("plant-tag", [], "2")
    assert {one.title for one in (first, second, third)} == {"Mats"}
    # RFC 4180: lines end in CRLF; the first names the columns.
    lines = shown.csv.decode("utf-8-sig").split("\r\n")
    assert lines[0].startswith("recipe,name,hoop,")
    assert len(lines) == 5
    assert lines[-1] == ""


def test_a_spreadsheet_takes_no_cell_for_a_formula() -> None:
    # OWASP, CSV injection: such cells are led by a quote.
    text = as_csv([{"name": "=HYPERLINK(1)", "width": "+1"}]).decode("utf-8-sig")
    assert text == "name,width\r\n'=HYPERLINK(1),'+1\r\n"


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("width\theight\n90\t80\n", ({"width": "90", "height": "80"},)),
        ("Name;width\nmat;9,5cm\n", ({"name": "mat", "width": "9,5cm"},)),
        # Without names the columns are those that are shown: name, width, height.
        (
            "mat\t90mm\t80mm\n\t4 in",
            ({"name": "mat", "width": "90mm", "height": "80mm"}, {"width": "4 in"}),
        ),
    ],
)
def test_rows_of_a_spreadsheet_are_put_under_the_others(
    table: Desk, text: str, rows: tuple[dict[str, str], ...]
) -> None:
    query = AskedTable(BASE, ({"width": "3 in"},)).address
    assert table_in(pasted(table, query, text)).rows == ({"width": "3 in"}, *rows)


@pytest.mark.parametrize("text", ["", "\n\n", "width\n", "width\n" + "90\n" * (MOST_ROWS + 1)])
def test_what_is_no_table_is_not_put_under_the_others(table: Desk, text: str) -> None:
    with pytest.raises(InputError):
        pasted(table, AskedTable(BASE, ({"name": "a"},)).address, text)


def test_each_row_has_its_verdict_and_all_fronts_one_scale(table: Desk) -> None:
    rows = (
        {"width": "120mm", "height": "120mm"},
        {"width": "100mm", "height": "100mm"},
        {"width": "abc"},
        {"width": "300mm", "height": "100mm"},
    )
    parts = dict(table_parts(table, AskedTable(BASE, rows).address))
    assert "It can be made:" in parts["verdict-0"]
    assert "is not a length" in parts["verdict-2"]
    assert "Not as asked." in parts["verdict-3"]
    widths = [
        float(found[1])
        for place in (0, 1, 3)
        if (found := re.search(r'width="(\d+)"', parts[f"front-{place}"]))
    ]
    # A mat of 120 mm is 1.2 times as wide as one of 100 mm, one of 300 mm 3 times: to a pixel,
    # and to the little that is left free round each.
    assert widths[0] / widths[1] == pytest.approx(1.2, rel=0.03)
    assert widths[2] / widths[1] == pytest.approx(3.0, rel=0.03)
    assert "<img" not in parts["front-2"]


def test_only_rows_that_were_changed_are_worked_out_anew(table: Desk) -> None:
    kept = RowsKept(10)
    rows: tuple[dict[str, str], ...] = ({"width": "100mm"}, {"width": "110mm"})
    before = dict(table_parts(table, AskedTable(BASE, rows).address, kept))
    assert len(kept) == 2
    changed = AskedTable(BASE, (rows[0], {"width": "105mm"})).address
    after = dict(table_parts(table, changed, kept))
    assert len(kept) == 3
    assert after["verdict-0"] == before["verdict-0"]
    assert after["verdict-1"] != before["verdict-1"]


def test_faults_of_the_table_itself_stand_over_it(table: Desk) -> None:
    rows = ({"name": "mat"}, {"name": "mat"}, {"colour": "red"})
    parts = dict(table_parts(table, AskedTable(BASE, rows).address))
    assert [*parts] == ["table-faults"]
    assert "row 3" in parts["table-faults"]
    assert "colour" in parts["table-faults"]


def test_foreign_text_is_escaped(table: Desk) -> None:
    rows = ({"name": "<script>x</script>", "width": '"><img src=x>'},)
    query = AskedTable(BASE, rows, ("<b>",)).address
    for html in (table_page(table, query), *dict(table_parts(table, query)).values()):
        assert "<script>x" not in html
        assert "<img src=x" not in html
        assert "<b>" not in html


def test_all_rows_are_taken_as_grade_makes_them(table: Desk, tmp_path: Path) -> None:
    rows = ({"name": "mat", "width": "100mm"}, {"width": "300mm", "height": "100mm"})
    query = AskedTable(BASE, rows).address
    file = tmp_path / "sizes.csv"
    file.write_bytes(ShownTable(table, query).csv)
    ran = paramgen("grade", file, "--files", "dst", "--out", tmp_path / "graded", "--jobs", "1")
    assert "Made 1 of 2 rows" in ran.out
    made = {
        one.relative_to(tmp_path / "graded").as_posix(): one.read_bytes()
        for one in (tmp_path / "graded").rglob("*")
        # Why a row was not made is kept there only to save time.
        if one.is_file() and one.parent.name != ".not-made"
    }
    *_, before, last = take_all(table, query)
    assert isinstance(before, JobState)
    assert dict(before.facts)["less"].startswith("1 of 2 rows made")
    assert isinstance(last, JobResult)
    with zipfile.ZipFile(io.BytesIO(last.data)) as archive:
        assert {name: archive.read(name) for name in archive.namelist()} == made


def test_no_picture_on_the_disk_is_read_for_a_row(table: Desk, tmp_path: Path) -> None:
    picture = tmp_path / "leaves.png"
    picture.write_bytes(b"")
    base = replace(BASE, cloths=(f"top={picture}",))
    query = AskedTable(base, ({"width": "100mm"},)).address
    *_, last = take_all(table, query)
    assert isinstance(last, JobState)
    assert "was given to the page" in last.says
    assert "was given to the page" in dict(table_parts(table, query))["verdict-0"]


def test_a_row_is_worked_out_anew_once_its_picture_is_given() -> None:
    table, other = desk({}), GivenFiles()
    name = other.add(written(seedling()))  # by what it holds, before this page has it
    query = f"recipe=coaster&hoop=130x180&cloth=top%3D{name},+repeat+30+mm&row=width%3D90mm"
    kept = RowsKept(MOST_ROWS)
    assert "no picture of that name" in dict(table_parts(table, query, kept))["verdict-0"]
    keep_print(table, written(seedling()))
    after = dict(table_parts(table, query, kept))
    assert "no picture of that name" not in after["verdict-0"]
    assert "<img" in after["front-0"]
