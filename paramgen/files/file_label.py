"""A project's name in the few plain letters a stitch file has room for."""

import unicodedata

#: Letters that do not fall apart into a plain letter and an accent.
_SPELT_OUT = str.maketrans(
    {
        "ß": "ss", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ø": "o", "Ø": "O",
        "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "ð": "d", "Ð": "D", "þ": "th", "Þ": "Th",
        "ı": "i",
    }
)  # fmt: skip


def safe_label(title: str, length: int) -> str:
    """Spell a title with ASCII letters, digits, spaces, hyphens and underscores.

    Parameters
    ----------
    title : str
        Anything.
    length : int
        Most letters to keep.

    Returns
    -------
    str
        `project`, cut to the length, if nothing of the title can be spelt.

    Examples
    --------
    >>> safe_label("Bœuf & thé", 8)
    'Boeuf th'
    >>> safe_label("種", 8)
    'project'
    """
    parts = unicodedata.normalize("NFKD", title.translate(_SPELT_OUT))
    plain = "".join(
        letter if letter.isalnum() or letter in "-_" else " "
        for letter in parts
        if letter.isascii()
    )
    return " ".join(plain.split())[:length].rstrip() or "project"[:length]
