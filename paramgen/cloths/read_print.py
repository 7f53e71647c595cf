"""Reading the picture of a print from its file, bounded."""

from pathlib import Path

from paramgen.cloths.print_picture import (
    MOST_BYTES,
    USUAL_REPEAT,
    cloth_of_picture,
    too_many_bytes,
)
from paramgen.vocabulary.cloth import Cloth
from paramgen.vocabulary.findings import Fault, InputError


def print_in(file: Path, repeat: float | None = None) -> Cloth:
    """Read a picture as one repeat of a print; it goes by the name of its file.

    Parameters
    ----------
    file : Path
    repeat : float or None
        How wide it is on the fabric itself, mm; as prints usually are if it was not said.

    Raises
    ------
    InputError
        If it cannot be read, or is no such picture.
    """
    where = str(file)
    try:
        if not file.is_file():
            text = "it is no file" if file.exists() else "there is no such picture"
            raise InputError([Fault(text, where)])
        with file.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except (OSError, ValueError) as problem:
        text = f"it cannot be read: {getattr(problem, 'strerror', None) or problem}"
        raise InputError([Fault(text, where)]) from None
    if len(data) > MOST_BYTES:
        raise InputError([too_many_bytes(where)])
    return cloth_of_picture(data, file.name, repeat=USUAL_REPEAT if repeat is None else repeat)
