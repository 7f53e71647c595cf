"""Letters on paper: what no font here can show is known before anything is worked out."""

import re
from collections.abc import Iterable

from paramgen.papers.typeset import can_set

#: Letters that the library's own fonts are known to have: Latin, and what rulers and sentences
#: want. Only what has others is tried out.
_KNOWN = re.compile("[\n\x20-\x7e\xa0-\xac\xae-\u017f–—‘’“”•…′″−×→½¼¾⅛⅜⅝⅞]*")


def unshown(texts: Iterable[str]) -> tuple[str, ...]:
    """Those texts that a paper cannot show, whatever fonts are looked through.

    >>> unshown(["Mat for a pot", "Größe 4½ × 7"])
    ()
    """
    return tuple(text for text in texts if not _KNOWN.fullmatch(text) and not can_set(text))


def letters_unshown(text: str) -> str:
    """Letters of a text that no font here has, each once; all of it if none has so alone."""
    alone = "".join(dict.fromkeys(letter for letter in text if unshown([letter])))
    return alone or text
