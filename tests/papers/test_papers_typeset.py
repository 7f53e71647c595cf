import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from papers_checked import complaints
from papers_read import opened

from paramgen.papers.typeset import FONT, quoted, typeset

TITLE = '#set document(title: "Trial")\n'
FRACTIONS = "½¼¾⅛⅜⅝⅞"


def text_of(pdf: bytes) -> str:
    with opened(pdf) as document:
        return "".join(page.get_text() for page in document)


def test_the_font_has_the_fractions_in_plain_and_bold() -> None:
    pdf = typeset(f"{TITLE}{FRACTIONS} *{FRACTIONS}* × –", {})
    assert text_of(pdf).split() == [FRACTIONS, FRACTIONS, "×", "–"]
    with opened(pdf) as document:
        names = {font[3].partition("+")[2] for font in document[0].get_fonts()}
    # None came from another font, which the library takes for what its own lacks.
    assert all(name.replace(" ", "").startswith(FONT.replace(" ", "")) for name in names)
    assert len(names) == 2


def test_a_paper_is_tagged_and_tells_no_time() -> None:
    pdf = typeset(f"{TITLE}Seeds", {})
    with opened(pdf) as document:
        about = document.metadata
        assert "/StructTreeRoot" in document.xref_object(document.pdf_catalog())
    assert about["title"] == "Trial"
    assert (about["creationDate"], about["modDate"]) == ("", "")


def test_a_checker_of_tagged_pdf_has_nothing_to_complain_of() -> None:
    # Words that look like the entry which is mended are words, in the text and in the title.
    entry = "/MarkInfo<</Marked true/Suspects false>>"
    told = f"#set document(title: {quoted(entry)})\n= #{quoted(entry)}"
    for source in (f"{TITLE}Seeds", f"{TITLE}= Seeds\n#pagebreak()\n= Swap", told):
        assert complaints(typeset(source, {})) == []
    with opened(typeset(told, {})) as document:
        assert document.metadata["title"] == entry
        assert document.get_toc()[0][1] == entry


def test_the_same_source_gives_the_same_bytes_in_any_process() -> None:
    source = f"{TITLE}Seed swap"
    code = (
        "import sys; from paramgen.papers.typeset import typeset;"
        f"sys.stdout.buffer.write(typeset({source!r}, {{}}))"
    )
    other = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True).stdout
    assert typeset(source, {}) == other


def test_a_picture_without_words_is_refused() -> None:
    picture = (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path d="M0 0H9"/></svg>'
    )
    files = {"a.svg": picture}
    with pytest.raises(RuntimeError, match=r"(?i)alt"):
        typeset(f'{TITLE}#image("a.svg")', files)
    assert typeset(f'{TITLE}#image("a.svg", alt: "A line")', files).startswith(b"%PDF")


@settings(max_examples=20)
@given(st.text(max_size=30))
def test_any_words_are_set_as_words(words: str) -> None:
    pdf = typeset(f"#set document(title: {quoted('t' + words)})\nx", {})
    assert pdf.startswith(b"%PDF")


@pytest.mark.parametrize("words", ['4" \\ #panic("no")', "*seed* _swap_ $x$ @tag", "a\\"])
def test_words_are_not_taken_for_markup(words: str) -> None:
    pdf = typeset(f"{TITLE}#text({quoted(words)})", {})
    assert text_of(pdf).strip() == words
