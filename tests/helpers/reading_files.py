"""Stitch files for the tests of reading: written from needle points, and made by hand."""

import struct

from files_designs import outline, step
from pyembroidery.EmbCompress import compress

from paramgen.files.formats import FORMATS
from paramgen.files.proven_files import write_stitch_files
from paramgen.stitches.needle_points import SewnStep

#: Three stops, four runs; no stitch over 12 mm.
STEPS = (
    step(1, outline((-50, -40), 100, 80), [(-30, 0), (-10, 0), (10, 3), (30, 0)]),
    step(2, outline((-40, -30), 80, 60)),
    step(3, [(0, -20), (0, 0), (5, 20), (0, 35), (-60, 36)]),
)


def written(steps: tuple[SewnStep, ...] | list[SewnStep] = STEPS) -> dict[str, bytes]:
    """The same stitches as a file of each kind that is written, by the file's name."""
    files = write_stitch_files(steps, FORMATS, "tag")
    return {f"tag{file.ending}": file.data for file in files}


def dst(*records: str, stated: int | None = None) -> bytes:
    """A DST file of records in hexadecimal, with a header by the published layout."""
    count = len(records) if stated is None else stated
    header = f"LA:{'tag':<16}\rST:{count:7d}\rCO:  0\r".encode().ljust(512)
    return header + bytes.fromhex("".join(records))


# Records worked out from the published layout, x right and y up, tenths of a millimetre.
RIGHT_1, RIGHT_2, RIGHT_121, UP_121 = "01 00 03", "02 01 03", "05 05 07", "A0 A0 23"
STAY, STOP, END = "00 00 83", "00 00 C3", "00 00 F3"


def hus(moves: list[tuple[int, int]], *, streams: list[bytes] | None = None) -> bytes:
    """A HUS file of stitches by how far they go, y up; or of other packed streams."""
    count = len(moves)
    plain = [
        bytes([0x80] * count),
        bytes(x & 0xFF for x, _ in moves),
        bytes(y & 0xFF for _, y in moves),
    ]
    packed = streams or [bytes(compress(bytearray(each))) for each in plain]
    places = [44, 44 + len(packed[0]), 44 + len(packed[0]) + len(packed[1])]
    head = struct.pack("<III8x", 0x00C8AF5B, count, 0) + struct.pack("<III", *places)
    return head.ljust(44, b"\0") + b"".join(packed)
