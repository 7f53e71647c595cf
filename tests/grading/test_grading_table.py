"""Tables as spreadsheets save them are read, and what is wrong with one is told with its row.

The form of CSV is RFC 4180; that spreadsheets write semicolons where the comma is the decimal
sign, a first line `sep=;`, and a mark of UTF-8 is common practice, no source.
"""

import csv
import io
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.grading.table_file import (
    MOST_BYTES,
    MOST_CELLS,
    MOST_COLUMNS,
    MOST_ROWS,
    column_name,
    load_table,
    read_table,
)
from paramgen.vocabulary.findings import InputError

#: Cells that stay as they are when what surrounds them is dropped.
CELLS = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=12).map(
    lambda text: " ".join(text.split())
)


def read(text: str, mark: bytes = b"") -> list[tuple[int, dict[str, str]]]:
    table = read_table(mark + text.encode(), "set.csv")
    assert table.faults == ()
    return [(row.number, dict(row.cells)) for row in table.rows]


def refused(data: bytes) -> list[str]:
    with pytest.raises(InputError) as refusal:
        read_table(data, "set.csv")
    return [str(fault) for fault in refusal.value.faults]


def faults(text: str) -> list[str]:
    return [str(fault) for fault in read_table(text.encode(), "set.csv").faults]


@pytest.mark.parametrize("sign", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_cells_are_parted_as_the_row_of_names_has_them(sign: str, end: str, mark: bytes) -> None:
    text = end.join([sign.join(["recipe", "width"]), sign.join(["coaster", '"4,5 in"']), ""])
    assert read(text, mark) == [(2, {"recipe": "coaster", "width": "4,5 in"})]


def test_a_line_that_names_the_sign_is_taken_at_its_word_and_counted() -> None:
    for sign in ";\t|":
        assert read(f"sep={sign}\nrecipe{sign}width\ncoaster{sign}4,5in\n") == [
            (3, {"recipe": "coaster", "width": "4,5in"})
        ]


def test_rows_have_the_numbers_that_a_spreadsheet_shows() -> None:
    # A cell of two lines is one row; rows that say nothing keep their numbers.
    text = '\nrecipe,name\ncoaster,"two\nlines"\n,\n\ncoaster,last\n'
    assert [number for number, _ in read(text)] == [3, 6]


@given(st.lists(st.lists(CELLS, min_size=3, max_size=3), min_size=1, max_size=6),
       st.sampled_from([",", ";", "\t"]))  # fmt: skip
def test_what_the_standard_library_writes_is_read_back(rows: list[list[str]], sign: str) -> None:
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=sign)
    writer.writerows([["recipe", "hoop", "name"], *rows])
    said = [
        {column: cell for column, cell in zip(("recipe", "hoop", "name"), row, strict=True) if cell}
        for row in rows
    ]
    table = read_table(out.getvalue().encode(), "set.csv")
    assert [dict(row.cells) for row in table.rows] == [row for row in said if row]


@given(st.binary(max_size=200))
def test_no_bytes_are_anything_worse_than_a_bad_table(data: bytes) -> None:
    with suppress(InputError):
        assert all(row.number > 1 for row in read_table(data, "set.csv").rows)


@pytest.mark.parametrize(
    ("typed", "name"),
    [(" Width ", "width"), ("Front depth", "front_depth"), ("front-depth", "front_depth")],
)
def test_names_of_columns_may_be_written_as_people_do(typed: str, name: str) -> None:
    assert column_name(typed) == name


@pytest.mark.parametrize("data", [b"", b"\xef\xbb\xbf", b"\r\n\r\n", b",,,\n,,,\n", b"  \n"])
def test_an_empty_table_is_told(data: bytes) -> None:
    (said,) = refused(data)
    assert said.startswith("set.csv: the table is empty")


def test_names_without_rows_are_told() -> None:
    assert faults("recipe,width\n,\n") == [
        "set.csv: the table has column names and no row under them"
    ]


@pytest.mark.parametrize(
    ("data", "line"),
    [
        ("recipe,width\ncoaster,4½in\n".encode("latin-1"), 2),
        ("recipe,width\n".encode("utf-16"), 1),
        (b"recipe,width\ncoaster,\0\n", 2),
    ],
)
def test_what_is_not_utf_8_is_told_with_its_line(data: bytes, line: int) -> None:
    (said,) = refused(data)
    assert said.startswith(f"set.csv, line {line}: this is not a text in UTF-8")
    assert "Save it from the spreadsheet as CSV in UTF-8." in said


def test_a_quote_left_open_is_told_with_its_row() -> None:
    (said,) = refused(b'recipe,name\ncoaster,one\ncoaster,"two\ncoaster,three\n')
    assert said.startswith("set.csv, row 3: a quote that opens a cell is never closed")


def test_something_after_a_closing_quote_is_told_with_its_row() -> None:
    (said,) = refused(b'recipe,width\ncoaster,"4 1/2" in\n')
    assert said.startswith("set.csv, row 2: something follows the quote that closes a cell")


def test_every_fault_of_form_is_told_at_once() -> None:
    said = faults("recipe,width,,Width,\ncoaster,1,stray,2,\ncoaster,4,,5,in\n")
    assert len(said) == 3
    assert said[0].startswith("set.csv, row 1: `width` names 2 columns")
    assert said[1].startswith("set.csv, row 1: column 3 has no name, but row 2 says something")
    assert said[2].startswith("set.csv, row 3: more cells than there are columns, `in` is the")


def test_a_table_too_large_and_one_not_there_are_told(tmp_path: Path) -> None:
    large = tmp_path / "large.csv"
    with large.open("wb") as stream:
        stream.truncate(MOST_BYTES + 1)
    with pytest.raises(InputError, match="too large"):
        load_table(large)
    with pytest.raises(InputError, match="no such file"):
        load_table(tmp_path / "none.csv")
    with pytest.raises(InputError, match="this is a folder"):
        load_table(tmp_path)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("recipe\n" + "coaster\n" * MOST_ROWS, f"more than {MOST_ROWS:,} rows"),
        ("\n" * MOST_ROWS + "recipe\ncoaster\n", f"more than {MOST_ROWS:,} rows"),
        (",".join(["c"] * (MOST_COLUMNS + 1)) + "\n1\n", f"more than {MOST_COLUMNS} columns"),
        ("," * MOST_COLUMNS + "c\n1\n", f"more than {MOST_COLUMNS} columns"),
        ("a,b\n" + "," * (MOST_CELLS // 4) + "\n", ""),
        ("a,b\n" + ("," * (MOST_CELLS // 4) + "\n") * 4, f"more than {MOST_CELLS:,} cells"),
        (",".join(["column"] * 9000) + "\n1\n", f"its row of names is longer than {MOST_COLUMNS}"),
    ],
)
def test_no_more_of_a_table_is_read_than_can_be_made(text: str, said: str) -> None:
    # Names were counted for each of them, and a row of names that are all empty was held to
    # every row: 400 kB took 17 s.
    if said:
        (fault,) = refused(text.encode())
        assert said in fault
    else:
        assert faults(text) == ["set.csv: the table has column names and no row under them"]


@pytest.mark.parametrize("letter", ["\x1b", "\u202e", "\ufeff", "\u200f"])
def test_what_would_do_more_to_a_screen_than_be_read_there_is_told(letter: str) -> None:
    (said,) = faults(f"recipe,name\ncoaster,plain\ncoaster,a{letter}b\n")
    assert said.startswith("set.csv, row 3: a character that cannot be shown stands in `a?b`")
