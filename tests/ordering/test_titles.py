"""What a person calls a project stands on all of it, and nothing else comes of it.

Characters by their general category, as the Unicode Character Database has it: controls (Cc),
marks of direction and other format characters (Cf, among them U+202E RIGHT-TO-LEFT OVERRIDE),
surrogates (Cs), private use (Co), unassigned (Cn), separators of lines and paragraphs (Zl, Zp).
"""

import json
import unicodedata
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from command_line import paramgen
from folders import files_in
from hypothesis import example, given, settings
from hypothesis import strategies as st
from letters_nowhere import NOR, NOWHERE
from papers_read import opened

from paramgen.ordering.titles import LONGEST_TITLE, LONGEST_WORD, title_asked
from paramgen.papers.typeset import cannot_be_set
from paramgen.vocabulary.findings import InputError

NEVER = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
QUICK = ("coaster", "padding=none", "--hoop", "130x180", "--files", "dst,svg")


def refusal(typed: str) -> str:
    with pytest.raises(InputError) as refused:
        title_asked(typed)
    (fault,) = refused.value.faults
    assert fault.where == "--title"
    assert fault.hint
    return fault.message


@pytest.mark.parametrize(
    ("typed", "title"),
    [
        ("", ""),
        ("Phone sleeve for the shed", "Phone sleeve for the shed"),
        ("  two   spaces ", "two spaces"),
        ("no\u00a0break", "no break"),
        # U+0065 and U+0301 are U+00E9, in Unicode's normalisation form C.
        ("Cafe\u0301", "Café"),
        ("Größe ½, “4”: #1 & <b>", "Größe ½, “4”: #1 & <b>"),
        ("Чехол", "Чехол"),
        ("x" * 24 + " " + "y" * 24 + " " + "z" * 10, "x" * 24 + " " + "y" * 24 + " " + "z" * 10),
    ],
)
def test_a_title_is_kept_as_it_reads(typed: str, title: str) -> None:
    assert title_asked(typed) == title


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("one\ntwo", "is more than one line"),
        ("one\ttwo", "is more than one line"),
        ("one\u2028two", "is more than one line"),
        ("\x1b[31mred", "a character that cannot be shown, U+001B"),
        ("a\u202eb", "a character that cannot be shown, U+202E"),
        ("a\u2066b", "a character that cannot be shown, U+2066"),
        ("a\u200bb", "a character that cannot be shown, U+200B"),
        ("a\x00b", "a character that cannot be shown, U+0000"),
        ("a\udc80b", "a character that cannot be shown, U+DC80"),
        ("a\ue000b", "a character that cannot be shown, U+E000"),
        ("   ", "is blank"),
        ("ab " * 20 + "c", "has 61 letters; 60 at most"),
        ("x" * 25, "has a word of 25 letters; 24 at most"),
        ("a" + "\u0316\u0317\u0318", "piles up accents"),
        (
            f"{NOWHERE} and {NOWHERE}",
            f"holds a letter that the papers cannot be set with: {NOWHERE}",
        ),
        (f"{NOR} {NOWHERE}", f"holds letters that the papers cannot be set with: {NOR}, {NOWHERE}"),
    ],
)
def test_what_cannot_stand_on_a_paper_is_refused_by_name(typed: str, said: str) -> None:
    assert said in refusal(typed)


@given(st.text(st.characters(), max_size=70))
@example("x" * 10_000)
@example("\u202e" * 100)
@settings(max_examples=60)
def test_whatever_is_typed_comes_out_as_one_line_to_read_or_is_refused(typed: str) -> None:
    try:
        title = title_asked(typed)
    except InputError:
        assert refusal(typed).isprintable()
        return
    assert title == title_asked(title)
    assert len(title) <= LONGEST_TITLE
    assert all(len(word) <= LONGEST_WORD for word in title.split())
    assert not [letter for letter in title if unicodedata.category(letter) in NEVER]
    assert cannot_be_set(title) == ()


def test_a_title_stands_on_every_paper_and_picture(tmp_path: Path) -> None:
    title = 'Mat <for> Aloë & "Thé"'
    ran = paramgen("make", *QUICK, "--title", title, "--out", tmp_path / "made")
    assert ran.status == 0
    assert ran.out.startswith(f"{title} (Coaster), finished 108 × 108 mm")
    files = files_in(tmp_path / "made")
    assert json.loads(files["plan.json"])["title"] == title
    for name, data in files.items():
        if name.endswith(".svg") and not name.startswith("cutting/"):
            root = ET.fromstring(data)
            assert title in " ".join(" ".join(root.itertext()).split()), name
            seen = " ".join(" ".join(one.itertext()) for one in root.findall(".//{*}text"))
            assert name.startswith("stitch/") or "Mat <for> Aloë" in seen, name
        if name.endswith(".pdf"):
            paper = opened(data)
            assert title in paper.metadata["title"], name
            first = " ".join(paper[0].get_text().split())
            assert "Mat <for> Aloë" in first, name
    assert b"Mat &lt;for&gt; Al" in files["booklet.html"]
    assert b"<for>" not in files["booklet.html"]


def test_a_stitch_file_and_the_folder_get_what_they_can_hold_of_a_title(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    quick = (*QUICK, "--no-papers", "width=4in")
    assert paramgen("make", *quick, "--title", "Mat for Thé").status == 0
    folder = "mat-for-the-4x4in-padding-none"
    data = (tmp_path / folder / "stitch" / f"{folder}.dst").read_bytes()
    # The header of a DST file begins with LA: and a label of 16 letters, blanks at its end.
    assert data[:3] == b"LA:"
    label = data[3:19].decode("ascii").strip()
    assert label
    assert "Mat for The".startswith(label)
    # Nothing of this can be spelt in plain letters: the recipe's name stands for it.
    assert paramgen("make", *quick, "--title", "Чехол").status == 0
    folder = "coaster-4x4in-padding-none"
    data = (tmp_path / folder / "stitch" / f"{folder}.dst").read_bytes()
    assert folder.startswith(data[3:19].decode("ascii").strip())


@pytest.mark.parametrize("command", ["make", "check"])
def test_a_title_is_refused_together_with_all_else(command: str, tmp_path: Path) -> None:
    ran = paramgen(
        command, "coaster", "width=wide", "--hoop", "130x180", "--title", "a\nb",
        *(("--out", tmp_path / "made") if command == "make" else ()),
    )  # fmt: skip
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.count("--title: is more than one line.") == 1
    assert ran.err.count("width: `wide` is not a length.") == 1
    assert list(tmp_path.iterdir()) == []


def test_a_table_has_a_column_for_it(tmp_path: Path) -> None:
    table = tmp_path / "set.csv"
    table.write_text(
        "recipe,name,title,width\ncoaster,a,Mat for Aloë,90\ncoaster,,Mat for Thé,90\n"
        f"coaster,c,,90\ncoaster,d,{NOWHERE},90\n",
        "utf-8",
    )
    quick = ("--no-papers", "--files", "dst", "--jobs", "1", "--hoop", "130x180")
    ran = paramgen("grade", table, "--title", "For the class", "--out", tmp_path / "set", *quick)
    assert ran.status == 1
    assert "Row 5, d, was not made: title: holds a letter that the papers cannot" in ran.err
    titles = {
        file.parent.name: json.loads(file.read_bytes())["title"]
        for file in (tmp_path / "set").glob("*/plan.json")
    }
    assert titles == {"a": "Mat for Aloë", "mat-for-the": "Mat for Thé",
                      "c": "For the class"}  # fmt: skip
    summary = (tmp_path / "set" / "summary.csv").read_text("utf-8-sig")
    page = (tmp_path / "set" / "summary.html").read_text("utf-8")
    for title in ("Mat for Aloë", "Mat for Thé", "For the class"):
        assert title in summary
        assert title in page
