"""A recipe from a stranger in which every text tries to be more than one, on all that is written.

What is written of it is held against what is written of the same recipe with plain texts: the same
elements, and no more; no cell of a table that a spreadsheet would work out; no file elsewhere.
"""

import csv
import io
import json
import re
import shlex
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from attack_recipes import GOOD
from command_line import paramgen
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

#: For pages, pictures, tables, shells and the typesetting language, each at the start of a text.
TRICKS = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    '=HYPERLINK("http://example.org")',
    "$(touch owned) ; touch owned",
    "`touch owned`",
    "#read('/etc/hosts')",
    "$ sum $ *bold* _it_ <label>",
    "@cmd",
    "&amp;lt;b&gt;",
    "%s %n ../../owned",
    "'; DROP -- ",
    "javascript:alert(1)",
]
_TEXT = re.compile(r'^(title|summary|say|means|remedy) = "(.*)"$', re.MULTILINE)


def hostile() -> str:
    """The row marker, each of its texts begun with a trick; what it measures stays."""
    tricks = iter(TRICKS * 9)

    def spoil(found: re.Match[str]) -> str:
        text = json.dumps(f"{next(tricks)} ", ensure_ascii=False)[1:-1] + found[2]
        return f'{found[1]} = "{text}"'

    return _TEXT.sub(spoil, GOOD)


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Folders with what is made of the plain and of the hostile recipe, one row of a table each."""
    folders = []
    for text in (GOOD, hostile()):
        folder = tmp_path_factory.mktemp("texts")
        (folder / "marker.toml").write_text(text, "utf-8")
        table = "recipe,name,hoop\n./marker.toml,plain,100x100\n"
        if text is not GOOD:
            table = table.replace("plain", "\"=cmd|' /C calc'!A0\"")
        (folder / "rows.csv").write_text(table, "utf-8")
        with pytest.MonkeyPatch.context() as patch:
            patch.chdir(folder)
            ran = paramgen("grade", "rows.csv", "--out", "out", "--jobs", "1")
        assert ran.status == 0, ran.err
        folders.append(folder)
    return folders[0], folders[1]


def files(folder: Path, ending: str) -> list[Path]:
    found = sorted(folder.rglob(f"*{ending}"))
    assert found
    return found


class Elements(HTMLParser):
    """Names of elements and of their attributes, and where they lead."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: set[str] = set()
        self.leads: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen |= {tag, *(f"{tag} {name}" for name, _ in attrs)}
        self.leads |= {
            value.partition(":")[0] for name, value in attrs if name in ("href", "src") and value
        }


def elements(folder: Path) -> Elements:
    found = Elements()
    for page in files(folder / "out", ".html"):
        found.feed(page.read_text("utf-8"))
    return found


def test_the_texts_are_those_of_a_stranger(packs: tuple[Path, Path]) -> None:
    plain, odd = ("".join(page.read_text("utf-8") for page in files(one, ".html")) for one in packs)
    assert "touch owned" in odd
    assert "alert(1)" in odd
    assert "alert(1)" not in plain


def test_a_page_has_no_element_more(packs: tuple[Path, Path]) -> None:
    plain, odd = map(elements, packs)
    assert odd.seen - plain.seen == set()
    assert not [one for one in odd.leads if one in ("javascript", "http", "https", "vbscript")]


def test_a_picture_has_no_element_more(packs: tuple[Path, Path]) -> None:
    def seen(folder: Path) -> set[str]:
        return {
            name
            for picture in files(folder / "out", ".svg")
            for one in ET.parse(picture).iter()
            for name in (one.tag, *(f"{one.tag} {key}" for key in one.attrib))
        }

    plain, odd = map(seen, packs)
    assert odd - plain == set()
    assert not [one for one in odd if "script" in one or " on" in one]


def test_a_paper_does_nothing_and_shows_the_texts(packs: tuple[Path, Path]) -> None:
    for paper in files(packs[1] / "out", ".pdf"):
        reader = PdfReader(paper)
        assert not {"/JS", "/JavaScript", "/Launch", "/URI", "/EmbeddedFiles"} & set(_names(reader))
    (booklet,) = files(packs[1] / "out", "booklet.pdf")
    text = "".join(page.extract_text() for page in PdfReader(booklet).pages)
    assert "touch owned" in " ".join(text.split())
    assert "#read(" in text


def _names(reader: PdfReader) -> Iterator[str]:
    """Every key of every object of a paper."""
    waiting: list[object] = [reader.trailer]
    seen: set[tuple[int, int]] = set()
    while waiting:
        one = waiting.pop()
        if isinstance(one, IndirectObject):
            if (one.idnum, one.generation) in seen:
                continue
            seen.add((one.idnum, one.generation))
            one = one.get_object()
        if isinstance(one, DictionaryObject):
            yield from map(str, one)
            waiting += [one.raw_get(key) for key in one]
        elif isinstance(one, ArrayObject):
            waiting += list(one)


def test_no_cell_of_a_table_is_worked_out(packs: tuple[Path, Path]) -> None:
    number = re.compile(r"[+-]?[\d.,]+")
    for table in files(packs[1] / "out", ".csv"):
        rows = csv.reader(io.StringIO(table.read_text("utf-8-sig")))
        cells = [cell for row in rows for cell in row if not number.fullmatch(cell)]
        # A record of a stitch file may be called @: what is more than a mark is a text.
        assert not [one for one in cells if one[:1] in tuple("=+-@\t\r") and len(one) > 1]


def test_nothing_is_written_but_in_the_folder_asked_for(packs: tuple[Path, Path]) -> None:
    folder = packs[1]
    assert {one.name for one in folder.iterdir()} == {"marker.toml", "rows.csv", "out"}
    assert not list(folder.rglob("owned*"))
    for file in folder.rglob("*"):
        assert re.fullmatch(r"[\w.,+ ×-]+", file.name), file.name
    for plan in files(folder / "out", "plan.json"):
        assert "<script>" in json.dumps(json.loads(plan.read_text("utf-8")))


def test_a_command_that_is_offered_is_one_command(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    name = "$(touch owned); touch owned.toml"
    (tmp_path / name).write_text(hostile(), "utf-8")
    ran = paramgen("check", f"./{name}", "--title", "a `touch owned` $(b)", "--hoop", "40x40mm")
    assert ran.status == 1
    offered = re.findall(r"paramgen (?:make|fit) .*?(?= paramgen (?:make|fit) |$)", ran.err)
    assert offered
    for command in offered:
        words = shlex.split(command)
        assert f"./{name}" in words
    assert not (tmp_path / "owned").exists()
