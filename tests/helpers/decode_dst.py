"""Reads a DST file by its published record layout; knows nothing of the stitch library.

Layout: 512 bytes of header, then three bytes a record. x and y are sums of balanced
ternary digits, one bit each; y is up. The two highest bits of the third byte say what the
record is, the two lowest are always set.
"""

from dataclasses import dataclass

_X = ((0, 0, 1), (0, 1, -1), (0, 2, 9), (0, 3, -9), (1, 0, 3), (1, 1, -3), (1, 2, 27),
      (1, 3, -27), (2, 2, 81), (2, 3, -81))  # fmt: skip
_Y = ((0, 7, 1), (0, 6, -1), (0, 5, 9), (0, 4, -9), (1, 7, 3), (1, 6, -3), (1, 5, 27),
      (1, 4, -27), (2, 5, 81), (2, 4, -81))  # fmt: skip
_KINDS = {0x00: "stitch", 0x80: "jump", 0xC0: "stop"}
_END = bytes([0x00, 0x00, 0xF3])

HEADER_BYTES = 512
#: Where each field starts and how many bytes it has.
_FIELDS = {"LA": (0, 20), "ST": (20, 11), "CO": (31, 7), "+X": (38, 9), "-X": (47, 9),
           "+Y": (56, 9), "-Y": (65, 9)}  # fmt: skip


@dataclass(frozen=True)
class Record:
    """What the machine does (`stitch`, `jump`, `stop` or `end`) and how far it moves, y up."""

    kind: str
    dx: int
    dy: int


def record(three: bytes) -> Record:
    if three == _END:
        return Record("end", 0, 0)
    if three[2] & 0x03 != 0x03:
        raise ValueError(f"{three.hex(' ')} is no record")
    dx = sum(value for byte, bit, value in _X if three[byte] >> bit & 1)
    dy = sum(value for byte, bit, value in _Y if three[byte] >> bit & 1)
    return Record(_KINDS[three[2] & 0xC0], dx, dy)


def records(data: bytes) -> list[Record]:
    """All records, the end included; nothing may follow it."""
    body = data[HEADER_BYTES:]
    found = [record(body[at : at + 3]) for at in range(0, len(body), 3)]
    if [each.kind for each in found].index("end") != len(found) - 1:
        raise ValueError("records after the end")
    return found


def header(data: bytes) -> dict[str, str]:
    """The fields of the header, checked for name, place and the carriage return."""
    values = {}
    for name, (start, length) in _FIELDS.items():
        field = data[start : start + length].decode("ascii")
        if not (field.startswith(f"{name}:") and field.endswith("\r")):
            raise ValueError(f"{field!r} is not the field {name}")
        values[name] = field[3:-1].strip()
    return values
