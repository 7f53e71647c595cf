"""File names that every desktop system takes."""

import unicodedata

from paramgen.hooping import Hooped
from paramgen.lengths import show
from paramgen.vocabulary.unit import Unit

#: Longest stem of a file name; leaves room for endings and folders in 255 characters.
LONGEST = 60
#: Longest name of a project's folder: words that would make it longer are left out.
LONGEST_WHOLE = 90

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
    """Name of a project's folder and stitch files: what it is, its finished size, its choices.

    What it is called, if it has a title of its own; else the recipe.

    `fold-wallet-124x172mm`, or in inches with their fractions, `fold-wallet-4-1-2x7in`; several
    in one hooping, `coaster-108x108mm-4-copies`; with choices and counts that are not those of
    the recipe, `coaster-108x108mm-outline-round`.
    """
    project = made.project
    finished = (*project.finished, project.depth) if project.depth else project.finished
    sizes = "x".join(length_name(size, project.unit) for size in finished)
    words = [f"{sizes}{project.unit.value}"]
    words += [f"{project.copies}-copies"] if project.copies > 1 else []
    words += [safe_name(f"{name} {said}") for name, said in project.varied]
    words += [safe_name(f"for {held}") for held in project.own_held]
    name = _title_name(project.own_title) or safe_name(project.recipe)
    for word in words:
        if len(name) + len(word) >= LONGEST_WHOLE:
            break
        name += f"-{word}"
    return name


def _title_name(title: str) -> str:
    """A title for a file name; empty if no letter of it can stand there."""
    name = safe_name(title) if title else ""
    return "" if name == "file" and "file" not in title.casefold() else name


def length_name(mm: float, unit: Unit) -> str:
    """Write a length for a file name, without its unit; inches as whole, over and under.

    Of three numbers it is the last two that are the fraction, so there is always a whole.

    >>> length_name(114.3, Unit.INCH), length_name(19.05, Unit.INCH), length_name(127, Unit.INCH)
    ('4-1-2', '0-3-4', '5')
    >>> length_name(114.25, Unit.MM)
    '114.25'
    """
    if unit is Unit.MM:
        return f"{round(mm, 2):g}"
    whole, _, fraction = show(mm, unit).removesuffix(f" {unit}").rpartition(" ")
    if "/" not in fraction:
        return fraction
    return f"{whole or 0}-{fraction.replace('/', '-')}"
