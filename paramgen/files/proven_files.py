"""Steps in, proven stitch files out; nothing is put on disk here."""

from collections.abc import Iterable, Sequence
from hashlib import sha256

from paramgen.files import library, needle_svg
from paramgen.files.format_limits import check_limits
from paramgen.files.formats import Format
from paramgen.files.readback import difference
from paramgen.stitches.needle_points import SewnStep
from paramgen.vocabulary.findings import WriteError
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class StitchFile:
    """A stitch file, read back and found to hold what was asked.

    Parameters
    ----------
    format : Format
    ending : str
        What to put after the project's name to name the file.
    data : bytes
    steps, stitches : int
        Stops of the machine, and stitches as `SewnStep.stitch_count` counts them.
    sha256 : str
        Of the data, in hexadecimal.
    """

    format: Format
    ending: str
    data: bytes
    steps: int
    stitches: int
    sha256: str


def write_stitch_files(
    steps: Sequence[SewnStep], formats: Iterable[Format], label: str
) -> tuple[StitchFile, ...]:
    """Write the steps in each format, read each file back and compare.

    Parameters
    ----------
    steps : sequence of SewnStep
        In order.
    formats : iterable of Format
    label : str
        The project's name, in any letters; each file gets what it can hold of it.

    Raises
    ------
    InputError
        If nothing is stitched.
    CannotMakeError
        If a format asked for cannot carry the steps: one finding for each limit of each
        format.
    WriteError
        If a file does not hold what was to be written, or the steps are such that a
        format would lose one: a fault of the program.
    """
    kinds = tuple(formats)
    check_limits(steps, kinds)
    return tuple(_write(steps, kind, label) for kind in kinds)


def _write(steps: Sequence[SewnStep], kind: Format, label: str) -> StitchFile:
    codec = needle_svg if kind.name == "svg" else library
    data = codec.encode(steps, kind, label)
    lost = difference(steps, codec.read_back(data, kind), colours=kind.keeps_colours)
    if lost:
        raise WriteError(f"The {kind.name} file does not read back as it was written: {lost}.")
    return StitchFile(
        format=kind,
        ending=kind.ending,
        data=data,
        steps=len(steps),
        stitches=sum(step.stitch_count for step in steps),
        sha256=sha256(data).hexdigest(),
    )
