"""The summary of things that lack what most have: every cell stays in its column."""

import re

from paramgen.grading.rows_to_make import RowToMake
from paramgen.grading.summary_entry import SummaryEntry
from paramgen.grading.summary_page import page
from paramgen.grading.summary_sheet import COLUMNS, GradedRow, sheet
from paramgen.vocabulary.unit import Unit

ROW = RowToMake(
    number=2,
    folder="bare",
    title="Bare",
    recipe="bare",
    hoop="100x100",
    unit="",
    margin="",
    copies="",
    values=(),
)
BARE = SummaryEntry(
    recipe="bare",
    title="Bare",
    unit=Unit.MM,
    finished=(12345.678, 100),
    field=(100, 100),
    hoop="100x100",
    turned=False,
    copies=1,
    fabrics=(),
    ready=(),
    stops=1,
    stitches=12,
    found=(),
    picture="<svg/>",
    view=(100, 100),
    read_first="whole.svg",
)


def test_a_thing_of_no_fabric_and_no_notion_keeps_its_columns() -> None:
    text = "".join(page("set.csv", [BARE.view], lambda: [GradedRow(ROW, BARE)], (1, 0)))
    row = text.partition('<tr id="row-bare">')[2].partition("</tr>")[0]
    cells = re.findall(r"<t[dh][^>]*>(.*?)</t[dh]>", row)
    heads = re.findall(r'<th scope="col"[^>]*>(.*?)</th>', text)
    assert len(cells) == len(heads)
    told = dict(zip(heads, cells, strict=True))
    assert (told["Fabric"], told["Have ready"], told["Found"]) == ("", "", "")
    assert told["Stitches"] == "12 in 1 stop"


def test_a_length_in_the_sheet_has_two_decimals_however_long_it_is() -> None:
    _, line = sheet([GradedRow(ROW, BARE)])
    told = dict(zip(COLUMNS, line.rstrip().split(","), strict=True))
    assert (told["finished width mm"], told["finished height mm"]) == ("12345.68", "100")
