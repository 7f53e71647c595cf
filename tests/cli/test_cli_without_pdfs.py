"""Where the typesetting library is lacking, all but the PDFs is made, and what lacks is said."""

import json
import sys
from pathlib import Path

import pytest
from command_line import paramgen

from paramgen.papers.typeset import can_set

PDFS = {"booklet.pdf", "fit-sheet.pdf", "templates.pdf", "wall-strip.pdf"}
SAID = "Left out: booklet.pdf, fit-sheet.pdf, templates.pdf and wall-strip.pdf."
INSTALL = "Install it with `pip install typst`"
ROUND = ("coaster", "outline=round", "width=80", "--hoop", "100x100")


@pytest.fixture
def hidden(monkeypatch: pytest.MonkeyPatch) -> None:
    # None in place of a module: it is not there (Python Language Reference, 5.3.1).
    monkeypatch.setitem(sys.modules, "typst", None)
    can_set.cache_clear()


def files(folder: Path) -> set[str]:
    return {str(one.relative_to(folder)) for one in folder.rglob("*") if one.is_file()}


@pytest.mark.usefixtures("hidden")
def test_make_makes_all_but_the_pdfs_and_says_so(tmp_path: Path) -> None:
    ran = paramgen("make", *ROUND, "--out", tmp_path / "mat", "--title", "Mat ☂")
    assert ran.status == 0, ran.err
    assert SAID in ran.out
    assert INSTALL in ran.out
    made = files(tmp_path / "mat")
    assert {"booklet.html", "plan.json", "whole.svg"} <= made
    assert not PDFS & made
    plan = json.loads((tmp_path / "mat" / "plan.json").read_text())
    assert {*plan["contents"], ".paramgen.json"} == made
    assert plan["paper"] is None


def test_with_the_library_nothing_is_left_out(tmp_path: Path) -> None:
    ran = paramgen("make", *ROUND, "--out", tmp_path / "mat")
    assert ran.status == 0
    assert "Left out" not in ran.out + ran.err
    assert files(tmp_path / "mat") >= PDFS
    assert json.loads(paramgen("check", *ROUND, "--json").out)["left_out"] == []


@pytest.mark.usefixtures("hidden")
def test_without_papers_nothing_lacks(tmp_path: Path) -> None:
    ran = paramgen("make", *ROUND, "--out", tmp_path / "mat", "--no-papers")
    assert ran.status == 0
    assert "Left out" not in ran.out + ran.err


@pytest.mark.usefixtures("hidden")
def test_check_says_what_would_be_left_out() -> None:
    ran = paramgen("check", *ROUND)
    assert ran.status == 0
    assert SAID in ran.out
    assert INSTALL in ran.out
    report = json.loads(paramgen("check", *ROUND, "--json").out)
    assert set(report["left_out"]) == PDFS
    assert report["can_be_made"]


def test_rows_of_a_table_are_made_without_and_again_once_it_is_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    table = tmp_path / "mats.csv"
    table.write_text("recipe,name,outline,width\ncoaster,Mat,round,80mm\n")
    words = ("grade", table, "--hoop", "100x100", "--out", tmp_path / "out", "--jobs", "1")
    with monkeypatch.context() as hiding:
        hiding.setitem(sys.modules, "typst", None)
        ran = paramgen(*words)
        assert ran.status == 0, ran.err
        assert "Made 1 of 1 row" in ran.out
        assert SAID in ran.out
        assert not PDFS & files(tmp_path / "out" / "mat")
        assert "1 of them before" in paramgen(*words).out
    ran = paramgen(*words)
    assert ran.status == 0, ran.err
    assert "before" not in ran.out
    assert "Left out" not in ran.out
    assert files(tmp_path / "out" / "mat") >= PDFS
