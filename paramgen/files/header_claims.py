"""What a stitch file says of itself, held to the stitches in it.

A header is believed only as far as the stitches agree. Where they do not, one of both was changed
after the file was written; which of them nobody can know, so the file is read and the person told.
What each header holds is from the published layout of the DST file, and for the other kinds from
the stitch library, which writes and reads them. Programs differ in what they count, so each claim
is held to all that any is known to mean by it.

Of a JEF file only the size and the number of records can disagree.
"""

from collections.abc import Callable, Iterator

import numpy as np

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray


@dataclass(frozen=True, eq=False)
class FileAsRead:
    """What was read of a file; lengths are tenths of a millimetre, y down.

    Parameters
    ----------
    places : array of float, shape (n, 2)
        After each record, from where the needle starts.
    needles : array of float, shape (m, 2)
        Those where it went down.
    changes : int
        Stops.
    """

    places: FloatArray
    needles: FloatArray
    changes: int

    def sizes(self) -> tuple[tuple[float, float], ...]:
        """Width and height, of the needle points and of the whole path."""
        every = (self.needles, self.places, np.concatenate([self.places, [[0.0, 0.0]]]))
        return tuple((float(w), float(h)) for w, h in (np.ptp(one, axis=0) for one in every))


def disagreement(data: bytes, kind: str, found: FileAsRead) -> str:
    """Say in what a file and its stitches disagree; empty if in nothing that is known."""
    check = _CHECKS.get(kind)
    try:
        return next(check(data, found), "") if check else ""
    except (IndexError, ValueError):
        return ""  # a header of a sort that is not known here claims nothing


# Bits of a record of a DST file that mean the same distance forwards and backwards: no writer
# sets both. Which byte, and the two bits.
_BOTH = tuple((byte, pair) for byte in (0, 1) for pair in (0x03, 0x0C, 0x30, 0xC0))
_BOTH += ((2, 0x0C), (2, 0x30))


def _dst(data: bytes, found: FileAsRead) -> Iterator[str]:
    """Extents from the start (+X, -X, +Y, -Y), colour changes (CO) and end point (AX, AY)."""
    body = np.frombuffer(data[512 : 512 + (len(data) - 512) // 3 * 3], np.uint8).reshape(-1, 3)
    ends = np.flatnonzero((body[:, 2] & 0xF3) == 0xF3)
    body = body[: int(ends[0])] if ends.size else body
    for byte, pair in _BOTH:
        both = np.flatnonzero((body[:, byte] & pair) == pair)
        if both.size:
            yield f"record {int(both[0]) + 1} goes both ways at once, as no program writes it"
    if int(((body[:, 2] & 0xF3) == 0x43).sum()) % 2:
        yield "it turns to sequins and never back"
    changes = _number(data, 34, 37)
    if changes is not None and changes != found.changes:
        yield f"its header says {changes} changes of colour, its stitches have {found.changes}"
    sides = {
        name: _number(data, at, at + 5) for name, at in zip("rlud", (41, 50, 59, 68), strict=True)
    }
    if None not in sides.values() and any(sides.values()):
        yield from _reach(sides, found)
    end = _number(data, 77, 83), _number(data, 87, 93)
    last = found.places[-1] * (1, -1)
    if None not in end and end not in ((0, 0), tuple(last)):
        yield (
            f"its header says that it ends at x {_mm(end[0])}, y {_mm(end[1])} mm, it ends at "
            f"x {_mm(last[0])}, y {_mm(last[1])} mm"
        )


def _reach(sides: dict[str, int | None], found: FileAsRead) -> Iterator[str]:
    """Extents: with their signs, or as the library writes them, y the other way and unsigned.

    Some count the needle points alone, some the moves as well, or some of them.
    """
    said = [float(value or 0) for value in sides.values()]
    least, most = (_sides(points) for points in (found.needles, found.places))
    signed = [(max(a, 0.0), max(b, 0.0)) for a, b in zip(least, most, strict=True)]
    right, left, up, down = zip(least, most, strict=True)
    # It cuts long moves in parts and rounds them otherwise than they are read.
    plain = [(min(map(abs, p)) - 1, max(map(abs, p)) + 1) for p in (right, left, down, up)]
    for known in (signed, plain):
        if all(low <= value <= high for value, (low, high) in zip(said, known, strict=True)):
            return
    width, height = found.sizes()[0]
    yield (
        f"its header says {_mm(said[0] + said[1])} × {_mm(said[2] + said[3])} mm, its stitches "
        f"are {_mm(width)} × {_mm(height)} mm, or lie elsewhere"
    )


def _sides(points: FloatArray) -> tuple[float, float, float, float]:
    """How far points reach to the right, left, top and bottom of the start."""
    low, high = points.min(axis=0), points.max(axis=0)
    return float(high[0]), float(-low[0]), float(-low[1]), float(high[1])


def _jef(data: bytes, found: FileAsRead) -> Iterator[str]:
    """Colours at byte 24, pairs of bytes of stitches at 28, half of the size at 36."""
    start, colours, pairs = (_little(data, at, 4) for at in (0, 24, 28))
    have = _pairs_of_jef(data, start)
    if pairs != have:
        yield f"its header says {pairs} records, it has {have}"
    if colours != found.changes + 1:
        yield f"its header says {colours} colours, its stitches have {found.changes + 1}"
    across, down = (2 * _little(data, at, 4) for at in (36, 40))
    if (across or down) and not _of_size((across, down), found, 1.5):
        yield _other_size((across, down), found)


def _pairs_of_jef(data: bytes, start: int) -> int:
    at = start
    while at + 2 <= len(data) and data[at : at + 2] != b"\x80\x10":
        at += 2
    return (at - start) // 2 + 1


def _xxx(data: bytes, found: FileAsRead) -> Iterator[str]:
    """Records at byte 23, colours at 39; then the size, the end point and two extents."""
    colours = _little(data, 39, 4)
    if colours != found.changes + 1:
        yield f"its header says {colours} colours, its stitches have {found.changes + 1}"
    across, down = _little(data, 45, 2), _little(data, 47, 2)
    if (across or down) and not _of_size((across, down), found, 0.5):
        yield _other_size((across, down), found)
    end = _signed(data, 49), -_signed(data, 51)
    last = tuple(round(value) for value in found.places[-1])
    if any(end) and end != last:
        yield (
            f"its header says that it ends at x {_mm(end[0])}, y {_mm(end[1])} mm, it ends at "
            f"x {_mm(last[0])}, y {_mm(last[1])} mm"
        )


def _pec(data: bytes, found: FileAsRead, start: int = 8) -> Iterator[str]:
    """Colours less one at byte 48 of its block, and the size 8 bytes into its stitches."""
    colours = data[start + 48] + 1
    if colours != found.changes + 1 and data[start + 48] != 0xFF:
        yield f"its header says {colours} colours, its stitches have {found.changes + 1}"
    across, down = _little(data, start + 520, 2), _little(data, start + 522, 2)
    if (across or down) and not _of_size((across, down), found, 0.5):
        yield _other_size((across, down), found)


def _pes(data: bytes, found: FileAsRead) -> Iterator[str]:
    """A PES file holds its stitches twice: as segments, and in the block of a PEC file."""
    yield from _twice(data, found)
    yield from _pec(data, found, _little(data, 8, 4))


#: Of two records of the same stitches at most so many differ; where more do, they are not the same.
_MOST_DIFFERENT = 0.05


def _twice(data: bytes, found: FileAsRead) -> Iterator[str]:
    at = data.find(b"\x07\x00CSewSeg")
    if at < 0:
        return
    segments = _segments(data, at + 9)
    with_moves = _segments(data, at + 9, moves=True)
    if all(_differ(one, found.needles) for one in (segments, with_moves)):
        yield "it holds its stitches twice, and the one record is not the other"


def _differ(segments: FloatArray, needles: FloatArray) -> bool:
    """Whether two records are of the same stitches but for a few."""
    one, two = (np.diff(_going(points), axis=0) for points in (segments, needles))
    most = max(3, int(_MOST_DIFFERENT * len(two)))
    if abs(len(one) - len(two)) > most:
        return False
    # Where they differ in number, all up to the first that differs and after it is the same.
    short = min(len(one), len(two))
    forward = (np.abs(one[:short] - two[:short]) < 0.5).all(axis=1)
    back = (np.abs(one[len(one) - short :] - two[len(two) - short :]) < 0.5).all(axis=1)
    same = forward | back
    return (len(one) != len(two) or not same.all()) and int((~same).sum()) <= most


def _going(points: FloatArray) -> FloatArray:
    """Points, each that repeats the one before left out."""
    apart = (np.diff(points, axis=0) != 0).any(axis=1)
    going: FloatArray = points[np.concatenate([[True], apart])]
    return going


def _segments(data: bytes, at: int, *, moves: bool = False) -> FloatArray:
    """Points of all stitched segments: a flag, a colour, a number, and so many points each.

    With the moves the end of each is a point, too, but for the one that leads to the first.
    """
    found: list[FloatArray] = []
    while True:
        many = _little(data, at + 4, 2)
        points = np.frombuffer(data, "<i2", 2 * many, at + 6).reshape(-1, 2).astype(np.float64)
        if _little(data, at, 2) == 0:
            found.append(points)
        elif moves:
            found.append(points[-1:] if found else points[:0])
        at += 6 + 4 * many
        if _little(data, at, 2) != 0x8003:
            return np.concatenate(found)
        at += 2


def _vp3(data: bytes, found: FileAsRead) -> Iterator[str]:
    """The extents of all, and where the stitches of each colour start and how far they lead.

    In thousandths of a millimetre, y up.
    """
    at = 8 + _big(data, 6, 2) + 7
    at += 2 + _big(data, at, 2)
    right, top, left, bottom = (_big_signed(data, at + 4 * n) / 100 for n in range(4))
    low, high = found.needles.min(axis=0), found.needles.max(axis=0)
    # It may reach farther: moves count in it, and there are none in the file.
    within = left <= low[0] + 1 and -top <= low[1] + 1
    if any((right, top, left, bottom)) and not (
        within and right >= high[0] - 1 and -bottom >= high[1] - 1
    ):
        yield _other_size((right - left, top - bottom), found)
    block = data.find(b"\x00\x05\x00", at)
    number = 0
    while block >= 0:
        number += 1
        length = _big(data, block + 3, 4)
        end = block + 7 + length
        stitches = data.find(b"\x0a\xf6\x00", block)
        if length <= 0 or stitches < 0 or stitches > end:
            return
        # Before the stitches: a mark of three bytes and their length; before that, the way.
        way = np.array([_big_signed(data, stitches - 15 + 4 * n) / 100 for n in (0, 1)])
        led = _led(data[stitches + 3 : end])
        if way.any() and (np.abs(way - led * (1, -1)) > 1).any():
            yield (
                f"the stitches of colour {number} lead x {_mm(led[0])}, y {_mm(led[1])} mm, by its "
                f"header x {_mm(way[0])}, y {_mm(-way[1])} mm"
            )
        block = end if data[end : end + 3] == b"\x00\x05\x00" else -1


def _led(data: bytes) -> FloatArray:
    """How far the stitches of a VP3 block lead."""
    x = y = at = 0
    while at + 1 < len(data):
        across, down = data[at], data[at + 1]
        at += 2
        if across != 0x80:
            x += (across ^ 0x80) - 0x80
            y += (down ^ 0x80) - 0x80
        elif down == 0x01:
            x += int.from_bytes(data[at : at + 2], "big", signed=True)
            y += int.from_bytes(data[at + 2 : at + 4], "big", signed=True)
            at += 6
    return np.array([x, y], dtype=np.float64)


def _of_size(said: tuple[float, float], found: FileAsRead, slack: float) -> bool:
    """Whether a size is that of the needle points, or of them and some moves or the start."""
    least = found.sizes()[0]
    most = np.max(found.sizes(), axis=0)
    return all(
        low - slack <= value <= high + slack
        for value, low, high in zip(said, least, most, strict=True)
    )


def _other_size(said: tuple[float, float], found: FileAsRead) -> str:
    width, height = found.sizes()[0]
    return (
        f"its header says {_mm(said[0])} × {_mm(said[1])} mm, its stitches are {_mm(width)} × "
        f"{_mm(height)} mm"
    )


def _number(data: bytes, start: int, end: int) -> int | None:
    """A number as a header has it, with blanks between its sign and itself."""
    text = data[start:end].replace(b" ", b"")
    return int(text) if text.lstrip(b"+-").isdigit() else None


def _mm(tenths: float | None) -> str:
    return f"{(tenths or 0) / 10:.1f}".replace("-0.0", "0.0")


def _little(data: bytes, at: int, size: int) -> int:
    if at + size > len(data):
        raise IndexError
    return int.from_bytes(data[at : at + size], "little")


def _signed(data: bytes, at: int) -> int:
    return int.from_bytes(data[at : at + 2], "little", signed=True)


def _big(data: bytes, at: int, size: int) -> int:
    if at + size > len(data):
        raise IndexError
    return int.from_bytes(data[at : at + size], "big")


def _big_signed(data: bytes, at: int) -> int:
    value = _big(data, at, 4)
    return value - 2**32 if value >= 2**31 else value


_CHECKS: dict[str, Callable[[bytes, FileAsRead], Iterator[str]]] = {
    "dst": _dst,
    "jef": _jef,
    "xxx": _xxx,
    "pec": _pec,
    "pes": _pes,
    "vp3": _vp3,
}
