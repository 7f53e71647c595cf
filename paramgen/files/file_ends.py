"""Whether a stitch file is what its ending says, and whether it is all there.

Each check reads the published layout of a kind (from memory where there is none but the
stitch library's own): what stands at the head, where the stitches end, and what counts and
offsets say of the length. It looks at bytes and never at stitches.
"""

from collections.abc import Callable

from paramgen.vocabulary.frozen_data import dataclass

#: What a file begins with that is something else altogether.
_FOREIGN = (
    (b"\x89PNG\r\n\x1a\n", "a PNG picture"),
    (b"\xff\xd8\xff\xe0", "a JPEG picture"),
    (b"\xff\xd8\xff\xe1", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"%PDF", "a PDF document"),
    (b"PK\x03\x04", "a ZIP archive"),
    (b"\x1f\x8b", "a compressed archive"),
    (b"Rar!", "an archive"),
    (b"7z\xbc\xaf", "an archive"),
)

#: What a kind of stitch file begins with, where it begins with anything.
_HEADS = {"dst": b"LA:", "pes": b"#PES", "pec": b"#PEC", "vp3": b"%vsm%\x00", "stx": b"STX"}

#: Kinds that are text.
TEXTS = ("csv", "json", "svg", "gcode", "g-code", "ngc", "nc", "g")

#: Kinds whose stitches end with a record that says so, beside those looked at below: a
#: reader that runs out of bytes has missed it.
WITH_END_RECORD = (
    "10o", "bro", "dat", "dsb", "dsz", "emd", "exy", "e00", "e01", "e02", "fxy", "f00", "f01",
    "f02", "gt", "inb", "jpx", "ksm", "new", "phb", "phc", "stc", "tap", "tbf", "u00", "u01",
    "u02", "zhs", "zxy", "z00", "z01", "z02",
)  # fmt: skip


@dataclass(frozen=True)
class FileEnd:
    """What can be known of where a file ends.

    Parameters
    ----------
    whole : bool or None
        Whether it is all there; None where its kind does not say.
    said : str
        Why, for the person.
    """

    whole: bool | None
    said: str


def looks_like(data: bytes) -> str:
    """Name the kind of stitch file whose head this is; empty if it is none of those known."""
    return next((kind for kind, head in _HEADS.items() if data.startswith(head)), "")


def foreign(data: bytes, kind: str) -> tuple[str, str] | None:
    """Say what a file is and what to do, if it is surely not of its kind; None if it may be.

    >>> foreign(b"%PDF-1.7", "exp")
    ('a PDF document', 'Give a stitch file.')
    """
    known = next((what for head, what in _FOREIGN if data.startswith(head)), "")
    if known:
        archive = known.endswith("archive")
        return known, "Take the stitch file out of it." if archive else "Give a stitch file."
    other = looks_like(data)
    if other and other != kind and not (other == "dst" and kind in ("dsb", "dsz")):
        return f"a {other} file by how it begins", f"Give its name the ending .{other}."
    if kind not in TEXTS and _is_text(data):
        return "a text", "Give a stitch file."
    if kind in TEXTS and b"\x00" in data[:4096]:
        return f"no text, as a {kind} file is", "Give a stitch file, with the ending of its kind."
    if kind in _HEADS and not data.startswith(_HEADS[kind][: len(data)]):
        return (
            f"no {kind} file by how it begins",
            "Give its name the ending of its kind, or copy it anew from where it came from.",
        )
    return None


def _is_text(data: bytes) -> bool:
    """Whether there are only letters in it, which no file of numbers has by chance."""
    head = data[:4096]
    if len(head) < 16:
        return False
    return all(byte in b"\t\n\r" or 32 <= byte < 127 for byte in head)


def end_of(data: bytes, kind: str) -> FileEnd:
    """Tell whether a file is all there, as far as its own kind lets that be known.

    Parameters
    ----------
    data : bytes
    kind : str
        As its name ends, in small letters.
    """
    check = _CHECKS.get(kind)
    if check is None:
        return FileEnd(None, f"a {kind} file does not say where it ends")
    return check(data)


DST_HEADER = 512


def _dst(data: bytes) -> FileEnd:
    """512 bytes of header, then records of three bytes up to the end record.

    The two lowest bits of a record's third byte are always set. `ST:` in the header is the
    number of records; some programs, the stitch library among them, count three moves for a
    cut as one, so there may be more, never fewer.
    """
    if len(data) < DST_HEADER + 3:
        return FileEnd(
            False, f"a dst file has {DST_HEADER} bytes of header, this has {len(data)} in all"
        )
    body = data[DST_HEADER:]
    marks = body[2::3]
    last = next((at for at, mark in enumerate(marks) if mark & 0xF3 == 0xF3), None)
    strange = next((at for at, mark in enumerate(marks[:last]) if mark & 0x03 != 0x03), None)
    if strange is not None:
        return FileEnd(
            False, f"byte {DST_HEADER + 3 * strange + 3} belongs to no record of a dst file"
        )
    stated = data[23:30].strip()
    many = int(stated) if stated.isdigit() else None
    header = f"; its header says {many} records" if many is not None else ""
    if last is None:
        return FileEnd(False, f"it stops after {len(marks)} records without an end record{header}")
    # The end may or may not be counted.
    if many is not None and last + 1 < many:
        return FileEnd(False, f"it ends after {last + 1} records{header}")
    return FileEnd(True, "it has its end record")


def _exp(data: bytes) -> FileEnd:
    """Pairs of bytes; 0x80 and a control escape, each followed by one more pair."""
    at = 0
    while at + 2 <= len(data):
        if data[at] == 0x80:
            if data[at + 1] not in (0x01, 0x02, 0x04, 0x80):
                return FileEnd(False, f"byte {at + 2} is no control of an exp file")
            at += 2
        at += 2
    if at != len(data):
        return FileEnd(False, "it stops in the middle of a record")
    return FileEnd(None, "an exp file has neither header nor end record, so nobody can know")


def _jef(data: bytes) -> FileEnd:
    """Where the stitches start is in the first four bytes; they end with 80 10."""
    if len(data) < 32:
        return FileEnd(
            False, f"a jef file has more than 32 bytes of header, this has {len(data)} in all"
        )
    start = _little(data, 0, 4)
    colours = _little(data, 24, 4)
    if start < 0x74 + 4 * colours or start > len(data):
        return FileEnd(False, f"its header puts the stitches at byte {start} of {len(data)}")
    at = start
    while at + 2 <= len(data):
        if data[at] == 0x80:
            if data[at + 1] == 0x10:
                return FileEnd(True, "it has its end record")
            if data[at + 1] not in (0x01, 0x02):
                return FileEnd(False, f"byte {at + 2} is no control of a jef file")
            at += 2
        at += 2
    return FileEnd(False, f"it stops at byte {len(data)} without an end record")


def _vp3(data: bytes) -> FileEnd:
    """A text, then a block that says how many bytes of it follow."""
    if len(data) < 8:
        return FileEnd(False, f"it stops at byte {len(data)}, in its header")
    at = 8 + _big(data, 6, 2)
    if at + 7 > len(data):
        return FileEnd(False, f"it stops at byte {len(data)}, in its header")
    if data[at : at + 3] != b"\x00\x02\x00":
        return FileEnd(False, f"at byte {at + 1} its one block should begin, and does not")
    return _long_enough(data, at + 7 + _big(data, at + 3, 4))


def _xxx(data: bytes) -> FileEnd:
    """Where the stitches end is at byte 252; there stands 7F 7F 02 14, then the colours."""
    if len(data) < 256:
        return FileEnd(False, f"an xxx file has 256 bytes of header, this has {len(data)} in all")
    end = _little(data, 252, 4)
    missing = _long_enough(data, end + 6 + 4 * _little(data, 39, 2))
    if missing.whole and data[end : end + 2] not in (b"\x7f\x7f", b"\x7f\x18"):
        return FileEnd(False, f"at byte {end + 1}, where its header puts its end record, is none")
    return missing


#: Of the block of stitches that all PES files end with: where, from its start, stand the
#: number of colours less one and the stitches with their length.
_PEC_COLOURS, _PEC_STITCHES = 48, 512


def _pes(data: bytes) -> FileEnd:
    if len(data) < 12:
        return FileEnd(False, f"it stops at byte {len(data)}, in its header")
    return _pec_block(data, _little(data, 8, 4))


def _pec(data: bytes) -> FileEnd:
    return _pec_block(data, 8)


def _pec_block(data: bytes, start: int) -> FileEnd:
    stitches = start + _PEC_STITCHES
    if stitches + 5 > len(data):
        return FileEnd(
            False, f"its stitches should begin at byte {stitches + 1}, it has {len(data)}"
        )
    if data[start : start + 3] != b"LA:":
        return FileEnd(
            False, f"at byte {start + 1}, where its stitches are described, is nothing of it"
        )
    end = stitches + _little(data, stitches + 2, 3)
    missing = _long_enough(data, end)
    if not missing.whole:
        return missing
    if end < stitches + 20 or 0xFF not in data[max(end - 2, 0) : end + 1]:
        return FileEnd(False, f"at byte {end}, where its stitches should end, is no end record")
    pictures = data[start + 34] * data[start + 35] * ((data[start + _PEC_COLOURS] + 1) % 256 + 1)
    if end + pictures > len(data):
        return FileEnd(
            None,
            "all stitches are there, but the small pictures that follow are not: it may be cut",
        )
    return FileEnd(True, "all its stitches are in it, and the small pictures that follow them")


def _long_enough(data: bytes, end: int) -> FileEnd:
    if end > len(data):
        return FileEnd(
            False, f"by its header it has at least {end} bytes, and it stops at {len(data)}"
        )
    return FileEnd(True, "it is as long as its header says")


def _little(data: bytes, at: int, size: int) -> int:
    return int.from_bytes(data[at : at + size], "little")


def _big(data: bytes, at: int, size: int) -> int:
    return int.from_bytes(data[at : at + size], "big")


_CHECKS: dict[str, Callable[[bytes], FileEnd]] = {
    "dst": _dst,
    "exp": _exp,
    "jef": _jef,
    "vp3": _vp3,
    "xxx": _xxx,
    "pes": _pes,
    "pec": _pec,
}
