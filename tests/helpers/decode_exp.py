"""Reads an EXP file by its published record layout; knows nothing of the stitch library.

Layout: no header; pairs of signed bytes dx, dy, y up. A first byte of 0x80 escapes: 80 01
stop, 80 04 jump, 80 80 trim, each followed by one more pair.
"""

from decode_dst import Record

_ESCAPED = {0x01: "stop", 0x04: "jump", 0x80: "trim"}


def records(data: bytes) -> list[Record]:
    if len(data) % 2:
        raise ValueError("half a pair at the end")
    pairs = zip(data[0::2], data[1::2], strict=True)
    found = []
    for first, second in pairs:
        if first == 0x80:
            dx, dy = next(pairs)
            # The pair after a trim is not a move.
            kind = _ESCAPED[second]
            move = (0, 0) if kind == "trim" else (_signed(dx), _signed(dy))
            found.append(Record(kind, *move))
        else:
            found.append(Record("stitch", _signed(first), _signed(second)))
    return found


def _signed(byte: int) -> int:
    return byte - 256 if byte > 127 else byte
