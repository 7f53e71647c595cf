"""The extents in the header of a DST file.

The header is lines of fixed length that end with a carriage return: `+X` starts at byte
38, `-X` at 47, `+Y` at 56 and `-Y` at 65, nine bytes each; values are in tenths of a
millimetre from the point where the needle starts, y up.
"""

import numpy as np

from paramgen.stitches.needle_points import GridArray

_EXTENTS_AT = 38
_EXTENTS_END = 74


def with_true_extents(data: bytes, needles: GridArray) -> bytes:
    """Put the reach of the needle's path, seen from its start at (0, 0), in the header.

    The stitch library writes the outermost coordinates without their sign, and the two of
    y the wrong way round: right only for a design that is centred.

    Parameters
    ----------
    data : bytes
        A DST file.
    needles : array of int, shape (n, 2)
        Every needle point, tenths of a millimetre, y down.
    """
    right, down = np.maximum(needles.max(axis=0), 0)
    left, up = np.maximum(-needles.min(axis=0), 0)
    extents = f"+X:{right:5d}\r-X:{left:5d}\r+Y:{up:5d}\r-Y:{down:5d}\r"
    return data[:_EXTENTS_AT] + extents.encode("ascii") + data[_EXTENTS_END:]
