"""Typesetting: the only place that knows the library for it.

The library's own fonts are used and no others, so that a paper is the same on every
machine; all of them have the fractions ½ ¼ ⅛. Nothing in a paper tells when it was made.
"""

from collections.abc import Mapping
from typing import cast

#: The font of running text. It comes with the library.
FONT = "Libertinus Serif"

# How the library writes that a paper is tagged. `/Suspects false` is what a reader takes for
# granted where nothing is said (ISO 32000-1, table 321; ISO 14289-1 forbids only `true`), and
# `pdfinfo` calls it an object of the wrong type: it is left out, and blanks of the same length
# leave every place in the file where the table of objects says that it is.
_MARKED = b"/MarkInfo<</Marked true/Suspects false>>"
_MARKED_PLAIN = b"/MarkInfo<</Marked true>>".ljust(len(_MARKED))

_ESCAPED = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t"}


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
    """
    import typst  # noqa: PLC0415 (82 MB that only a paper needs)

    head = f"#set document(date: none)\n#set text(font: {quoted(FONT)}, fallback: true)\n"
    every = {"main.typ": (head + source).encode(), **files}
    pdf = typst.compile(
        cast(bytes, every),  # files by name are documented, but not in the library's types
        format="pdf",
        ignore_system_fonts=True,
        pdf_standards=["ua-1"],
    )
    # The catalogue is the last object of the file; the same words in a text come before it.
    before, _, after = pdf.rpartition(_MARKED)
    return before + _MARKED_PLAIN + after if before else pdf


def cannot_be_set(words: str) -> tuple[str, ...]:
    """Letters of a text for which no font has a shape, each once; the text is set to find out.

    >>> cannot_be_set("Sleeve ½"), cannot_be_set("Sleeve 種")
    ((), ('種',))
    """
    if words.isascii() or _set(words):
        return ()
    letters = tuple(letter for letter in dict.fromkeys(words) if not _set(letter))
    return letters or (words,)  # only together they have no shape


def _set(words: str) -> bool:
    import typst  # noqa: PLC0415

    try:
        for bold in ("regular", "bold"):
            title = quoted(words)
            typeset(f"#set document(title: {title})\n#text(weight: {quoted(bold)}, {title})", {})
    except typst.TypstError:
        return False
    return True


def quoted(words: str) -> str:
    r"""Write any words as a text in the markup.

    >>> quoted('4" \\ #set')
    '"4\\" \\\\ #set"'
    """
    return f'"{"".join(_written(letter) for letter in words)}"'


def _written(letter: str) -> str:
    if letter in _ESCAPED:
        return _ESCAPED[letter]
    # Surrogates cannot be encoded, and control characters mean nothing on paper.
    return letter if letter.isprintable() or letter == "\u00a0" else "\ufffd"
