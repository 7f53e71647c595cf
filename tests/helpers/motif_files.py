"""Stitch files of motifs for tests, written here: DST after its published layout.

A DST file is a head of 512 bytes and three bytes for each stitch, in which each bit moves the
needle by 1, 3, 9, 27 or 81 tenths of a millimetre (Tajima DST: common practice, no source).
"""

import io

import pyembroidery as pe

#: A leaf: its rim and its rib, tenths of a millimetre, y down; 12 mm wide and 20 mm high.
RIM = [
    (0, -100),
    (40, -60),
    (60, 0),
    (40, 60),
    (0, 100),
    (-40, 60),
    (-60, 0),
    (-40, -60),
    (0, -100),
]
RIB = [(0, -60), (0, -20), (0, 20), (0, 60)]


def leaf(kind: str = "dst", *, times: float = 1.0) -> bytes:
    """The leaf in two stops, as a file of a kind."""
    pattern = pe.EmbPattern()
    for colour in (0x208040, 0xC03020):
        pattern.add_thread({"color": colour})
    for number, run in enumerate((RIM, RIB)):
        if number:
            pattern.add_command(pe.COLOR_BREAK)
        pattern.add_stitch_absolute(pe.JUMP, *(times * one for one in run[0]))
        for x, y in run:
            pattern.add_stitch_absolute(pe.STITCH, times * x, times * y)
    pattern.add_command(pe.END)
    stream = io.BytesIO()
    pe.write_dst(pattern, stream) if kind == "dst" else pe.write_vp3(pattern, stream)
    return stream.getvalue()


def to_and_fro(stitches: int, *, fine: bool = False) -> bytes:
    """So many stitches of 1 mm, or of 0.1 mm, to and fro, as DST.

    In the first byte the bits of 1 and 2 move it across by a tenth, those of 4 and 8 by nine.
    """
    head = b"LA:line".ljust(512, b" ")
    to, fro = (b"\x01\x00\x03", b"\x02\x00\x03") if fine else (b"\x05\x00\x03", b"\x0a\x00\x03")
    return head + (to + fro) * (stitches // 2) + b"\x00\x00\xf3"
