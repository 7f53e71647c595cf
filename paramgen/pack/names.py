"""File names that every desktop system takes."""

import unicodedata

from paramgen.hooping import Hooped
from paramgen.lengths import INCH, Unit

#: Longest stem of a file name; leaves room for endings and folders in 255 characters.
LONGEST = 60

_RESERVED = {"con", "prn", "aux", "nul", *(f"{p}{n}" for p in ("com", "lpt") for n in range(10))}


def safe_name(words: str) -> str:
    """File name stem of small letters, digits and single hyphens.

    Examples
    --------
    >>> safe_name("Pocket[2]: the larger")
    'pocket-2-the-larger'
    >>> safe_name("CON")
    'con-file'
    >>> safe_name("種")
    'file'
    """
    plain = unicodedata.normalize("NFKD", words).lower()
    kept = "".join(
        letter if letter.isascii() and letter.isalnum() else "-"
        for letter in plain
        if letter.isprintable() and not unicodedata.combining(letter)  # accents
    )
    stem = "-".join(bit for bit in kept.split("-") if bit)[:LONGEST].rstrip("-") or "file"
    return f"{stem}-file" if stem in _RESERVED else stem


def distinct(stems: list[str]) -> list[str]:
    """Number the later of equal names: a, b, a gives a, b, a-2."""
    seen: set[str] = set()
    found = []
    for stem in stems:
        one, count = stem, 1
        while one in seen:
            count += 1
            one = f"{stem}-{count}"
        seen.add(one)
        found.append(one)
    return found


def project_name(made: Hooped) -> str:
    """Name of a project's folder and stitch files, from its recipe and finished size.

    `fold-wallet-124x172mm`, or in inches as decimals, `fold-wallet-4.5x7in`; several in one
    hooping, `coaster-108x108mm-4-copies`.
    """
    unit = made.project.unit
    scale = INCH if unit is Unit.INCH else 1.0
    width, height = (f"{round(size / scale, 2):g}" for size in made.project.finished)
    copies = f"-{made.project.copies}-copies" if made.project.copies > 1 else ""
    return f"{safe_name(made.project.recipe)}-{width}x{height}{unit.value}{copies}"
