"""Typesetting: the only place that knows the library for it.

The library's own fonts are used and no others, so that a paper is the same on every
machine; all of them have the fractions ½ ¼ ⅛. Only where a text has letters that they lack, the
system's fonts are looked through as well. Nothing in a paper tells when it was made.

One entry of every PDF is blanked: it is valid, but checkers complain of it.

Some systems have no build of the library. All but the PDFs works without it: whoever makes them
asks `can_typeset` first.
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from importlib.util import find_spec
from typing import Literal, cast

#: The font of running text. It comes with the library.
FONT = "Libertinus Serif"

# How the library writes that a paper is tagged. `/Suspects false` is what a reader takes for
# granted where nothing is said (ISO 32000-1, table 321; ISO 14289-1 forbids only `true`), and
# `pdfinfo` calls it an object of the wrong type: it is left out, and blanks of the same length
# leave every place in the file where the table of objects says that it is.
_MARKED = b"/MarkInfo<</Marked true/Suspects false>>"
_MARKED_PLAIN = b"/MarkInfo<</Marked true>>".ljust(len(_MARKED))

_ESCAPED = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t"}


# What the library says of a letter that no font has, and of letters in a picture that only
# together make a shape that a font has (an accent below with one above): it shows them, but
# what a screen reader would make of them is lost, so the standard does not allow them.
_NO_FONT = "could not be displayed"
_NO_LETTERS = "missing codepoints"

# Whether the system's fonts are left out, whether letters of pictures are kept apart, and the
# standard kept to.
_WAYS: tuple[tuple[bool, bool, Literal["ua-1"] | None], ...] = (
    (True, False, "ua-1"),
    (False, False, "ua-1"),
    (False, True, "ua-1"),
    (False, True, None),
)

# In a picture the library gives up on other fonts for a text in which its own joins letters to
# one shape, "fi". A mark of no width between them keeps them apart.
_JOINED = re.compile(r"([fTt])(?=[^\W\d_])")
_IN_PICTURE = re.compile(rb">[^<]+<")


#: Letters that the library's own fonts are known to have: Latin, and what rulers and sentences
#: want. Only what has others is tried out.
_KNOWN = re.compile("[\n\x20-\x7e\xa0-\xac\xae-\u017f–—‘’“”•…′″−×→½¼¾⅛⅜⅝⅞]*")

_SVG = "http://www.w3.org/2000/svg"


#: The package to install where it is lacking.
PACKAGE = "typst"


def can_typeset() -> bool:
    """Whether the library is installed here; to find out does not load it."""
    return find_spec(PACKAGE) is not None


class LettersError(Exception):
    """No font here has the letters of a text."""


@lru_cache(maxsize=512)
def can_set(words: str) -> bool:
    """Whether fonts here have all letters of a text, on a page and in a picture.

    Of no text if nothing can be set: there is no paper that would lack them.
    """
    if not can_typeset():
        return True
    page = '#set document(title: "Letters")\n#set text(lang: "en")\n'
    page += "".join(f"#text(weight: {quoted(w)}, {quoted(words)})\n" for w in ("regular", "bold"))
    picture = "".join(letter for letter in words if letter not in "<&")
    svg = f'<svg xmlns="{_SVG}" width="9" height="9"><text>{picture}</text></svg>'
    try:
        typeset(f'{page}#image("1.svg", alt: "letters")', {"1.svg": svg.encode()})
    except LettersError:
        return False
    return True


def typeset(source: str, files: Mapping[str, bytes]) -> bytes:
    """Set a document as a tagged PDF that a screen reader can follow (PDF/UA-1).

    Parameters
    ----------
    source : str
        Markup. The library refuses a document without a title and a picture without words
        (`alt`) in their place.
    files : mapping of file name to bytes
        What the source names: pictures, other sources.

    Returns
    -------
    bytes
        The same for the same source and files.

    Raises
    ------
    LettersError
        If no font here has all its letters.
    """
    import typst  # noqa: PLC0415 (82 MB that only a paper needs)

    head = f"#set document(date: none)\n#set text(font: {quoted(FONT)}, fallback: true)\n"
    every = {"main.typ": (head + source).encode(), **files}
    pdf = b""
    for ignored, apart, standard in _WAYS:
        taken = {name: _apart(data) for name, data in every.items()} if apart else every
        try:
            pdf = typst.compile(
                cast(bytes, taken),  # files by name are documented, not in the library's types
                format="pdf",
                ignore_system_fonts=ignored,
                pdf_standards=standard,
            )
            break
        except typst.TypstError as problem:
            if _NO_FONT not in str(problem) and _NO_LETTERS not in str(problem):
                raise
            if _NO_FONT in str(problem) and apart:
                raise LettersError(str(problem)) from None
    # The catalogue is the last object of the file; the same words in a text come before it.
    before, _, after = pdf.rpartition(_MARKED)
    return before + _MARKED_PLAIN + after if before else pdf


def _apart(data: bytes) -> bytes:
    """A picture whose letters do not join; any other file as it is."""
    if not data.lstrip().startswith((b"<svg", b"<?xml")):
        return data
    return _IN_PICTURE.sub(lambda text: _JOINED.sub("\\1\u200c", text[0].decode()).encode(), data)


def cannot_be_set(words: str) -> tuple[str, ...]:
    """Letters of a text for which no font here has a shape, each once; it is set to find out.

    >>> cannot_be_set("Sleeve ½"), cannot_be_set("Größe 4½ × 7")
    ((), ())
    """
    if _KNOWN.fullmatch(words) or can_set(words):
        return ()
    letters = tuple(letter for letter in dict.fromkeys(words) if not can_set(letter))
    return letters or (words,)  # only together they have no shape


def quoted(words: str) -> str:
    r"""Write any words as a text in the markup.

    >>> quoted('4" \\ #set')
    '"4\\" \\\\ #set"'
    """
    if words.isprintable() and _ESCAPED.keys().isdisjoint(words):
        return f'"{words}"'  # as almost all are
    return f'"{"".join(_written(letter) for letter in words)}"'


def _written(letter: str) -> str:
    if letter in _ESCAPED:
        return _ESCAPED[letter]
    # Surrogates cannot be encoded, and control characters mean nothing on paper.
    return letter if letter.isprintable() or letter == "\u00a0" else "\ufffd"
