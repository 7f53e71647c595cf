"""What a row is made from, in one word: a row is done again only if that changes."""

import json
from collections.abc import Sequence
from hashlib import sha256

from paramgen import __version__
from paramgen.grading.rows_to_make import RowToMake
from paramgen.reference.hoops import Hoop


def made_from(
    recipe: str, row: RowToMake, options: Sequence[tuple[str, str]], hoop: Hoop | None
) -> str:
    """Everything that the files of a row follow from, as a digest.

    Parameters
    ----------
    recipe : str
        Text of the recipe's file.
    row : RowToMake
        With what is asked for all rows where it says nothing itself. Its number does not
        count, so rows may change places.
    options : sequence of (name, text)
        What is asked for all rows besides.
    hoop : Hoop or None
        The hoop as it is known now: a person may change one of their own.

    Returns
    -------
    str
        SHA-256, in hexadecimal.
    """
    field = [hoop.name, hoop.width, hoop.height] if hoop else None
    asked = [row.folder, row.recipe, row.hoop, row.unit, row.margin, row.copies, sorted(row.values)]
    asked += [row.called, row.holds, row.on]
    return digest([__version__, recipe, asked, sorted(options), field])


def digest(data: object) -> str:
    """Digest of plain data."""
    return sha256(json.dumps(data, ensure_ascii=False).encode("utf-8", "replace")).hexdigest()
