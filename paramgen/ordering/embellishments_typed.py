"""What is typed to be stitched on panels, read; its motifs from their files."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from paramgen.embellishment.kind_options import Embellishment
from paramgen.vocabulary.findings import Fault, Faults, InputError

if TYPE_CHECKING:
    from paramgen.embellishment.motif_stitches import MotifStitches

#: Gives the motif in a file by its name; raises InputError.
MotifReader = Callable[[str], "MotifStitches"]


def read_motif(name: str) -> "MotifStitches":
    """The motif in a stitch file; raises InputError."""
    # The stitch library is slow to load, and seldom asked for here.
    from paramgen.files.read_any_kind import LARGEST_FILE  # noqa: PLC0415
    from paramgen.reading.read_motif import motif_of  # noqa: PLC0415

    file = Path(name)
    try:
        if not file.is_file():
            text = "it is no file" if file.exists() else "there is no such stitch file"
            raise InputError([Fault(text, name)])
        with file.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as problem:
        text = f"it cannot be read: {getattr(problem, 'strerror', None) or problem}"
        raise InputError([Fault(text, name)]) from None
    return motif_of(data, file.name)


def embellishments_typed(typed: str, read: MotifReader = read_motif) -> tuple[Embellishment, ...]:
    """What is asked for on panels, each motif with what its file holds.

    Raises
    ------
    InputError
        With every fault: what is not understood; then files that cannot be read, and motifs of
        which no file is named.
    """
    if not typed.strip():
        return ()
    # Every kind of embellishment is slow to load, and seldom asked for.
    from paramgen.embellishment.motif import FILE, MOTIF  # noqa: PLC0415
    from paramgen.embellishment.read_embellishment import embellishments_asked  # noqa: PLC0415

    faults, found = Faults(), []
    for one in embellishments_asked(typed):
        if one.kind != MOTIF.name:
            found.append(one)
        elif not (name := one.words_of(FILE)):
            hint = 'Say it in quotes: motif:"leaf.dst".'
            faults.append(Fault("no stitch file is named for the motif", one.where, hint=hint))
        elif (motif := faults.tried(partial(_read, name, one.where, read))) is not None:
            found.append(replace(one, motif=motif))
    if faults:
        raise InputError(faults)
    return tuple(found)


def _read(name: str, where: str, read: MotifReader) -> "MotifStitches":
    try:
        return read(name)
    except InputError as problem:
        # A reader that knows no file says not where.
        raise InputError(replace(one, where=one.where or where) for one in problem.faults) from None
