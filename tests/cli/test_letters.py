"""Whatever letters a recipe is written in: papers show them, or `check` says that none can."""

from pathlib import Path

import pytest
from command_line import paramgen
from letters_nowhere import NOWHERE
from papers_read import opened
from spoiled_text import changed

from paramgen.papers.typeset import _KNOWN, LettersError, can_set, quoted, typeset

TITLE = 'title = "Coaster"'


def titled(folder: Path, title: str) -> Path:
    return changed(folder, {TITLE: f'title = "{title}"'})


@pytest.mark.parametrize("title", ["Mat 1/2", "Mat 1/2 of 3/4", "1/16"])
def test_a_fraction_in_a_title_is_set_on_all_papers(title: str, tmp_path: Path) -> None:
    words = (titled(tmp_path, title), "--hoop", "130x180", "--files", "dst")
    assert paramgen("check", *words).status == 0
    ran = paramgen("make", *words, "--out", tmp_path / "made")
    assert (ran.status, ran.err) == (0, "")
    for paper in ("booklet.pdf", "wall-strip.pdf", "templates.pdf"):
        with opened((tmp_path / "made" / paper).read_bytes()) as document:
            assert document.metadata["title"].startswith(title)


def test_check_says_what_no_font_can_show_and_where(tmp_path: Path) -> None:
    recipe = changed(
        tmp_path, {TITLE: f'title = "Mat {NOWHERE}"', "Take off the tape.": f"Off {NOWHERE} goes."}
    )
    out = tmp_path / "made"
    words = (recipe, "--hoop", "130x180", "--files", "dst")
    said = [paramgen("check", *words), paramgen("make", *words, "--out", out)]
    for ran in said:
        assert ran.status == 2
        assert f"{recipe}: title: no font here can show" in ran.err
        assert "--no-papers" in ran.err
    assert said[0].err.count("no font here can show") == 2
    assert said[0].err == said[1].err
    assert not out.exists()
    assert paramgen("make", *words, "--no-papers", "--out", out).status == 0
    assert f"Mat {NOWHERE}" in (out / "plan.json").read_text("utf-8")


def test_so_does_a_hoop_of_ones_own(tmp_path: Path) -> None:
    settings = tmp_path / "paramgen"
    settings.mkdir()
    own = f'[[hoop]]\nname = "shed {NOWHERE}"\nwidth = 140\nheight = 180\n'
    (settings / "hoops.toml").write_text(own, encoding="utf-8")
    ran = paramgen("check", "coaster", "--hoop", f"shed {NOWHERE}", settings=tmp_path)
    assert ran.status == 2
    assert "--hoop: no font here can show" in ran.err


@pytest.mark.parametrize("text", ["q\u0323\u0307 mat", "Ma\u200dt", "a\u0338", "e\u0301"])
def test_accents_put_together_are_set_on_pages_and_in_pictures(text: str) -> None:
    assert can_set(text)


@pytest.mark.parametrize("text", ["札", "札, finished 4 in", "The first 札 of the office"])
def test_a_letter_that_another_font_has_is_set_with_it(text: str) -> None:
    if not can_set("札"):
        pytest.skip("no font here has the letter")
    assert can_set(text)
    pdf = typeset(f'#set document(title: "Trial")\n#{quoted(text)}', {})
    with opened(pdf) as document:
        assert document[0].get_text().split() == text.split()


def test_a_letter_that_no_font_has_is_refused_by_the_typesetter() -> None:
    assert not can_set(NOWHERE)
    with pytest.raises(LettersError):
        typeset(f'#set document(title: "Trial")\n#set text(lang: "en")\n#{quoted(NOWHERE)}', {})


def test_letters_that_are_taken_as_known_are() -> None:
    codes = [*range(0x20, 0x180), *map(ord, "–—‘’“”•…′″−×→½¼¾⅛⅜⅝⅞")]
    known = [chr(code) for code in codes if _KNOWN.fullmatch(chr(code))]
    assert len(known) > 300
    assert can_set("".join(known))
