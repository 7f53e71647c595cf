"""Pictures of prints for tests, made here: seedlings that stand upright, and what is no picture."""

import struct
import zlib
from io import BytesIO

from PIL import Image, ImageDraw

#: The tip of a seedling, which is up, and its larger leaf, which is at the right.
TIP, LEAF, EARTH = (190, 40, 40), (60, 140, 50), (250, 236, 200)


def seedling(width: int = 120, height: int = 120) -> Image.Image:
    """A seedling in the middle: its tip is red and up, its large leaf green and at the right."""
    picture = Image.new("RGB", (width, height), EARTH)
    draw = ImageDraw.Draw(picture)
    draw.line(
        [(width * 0.5, height * 0.9), (width * 0.5, height * 0.35)], (90, 70, 40), width // 20
    )
    draw.ellipse([width * 0.52, height * 0.3, width * 0.9, height * 0.55], LEAF)
    draw.polygon(
        [
            (width * 0.5, height * 0.05),
            (width * 0.4, height * 0.25),
            (width * 0.6, height * 0.25),
        ],
        TIP,
    )
    return picture


def written(picture: Image.Image, kind: str = "PNG", **settings: object) -> bytes:
    """A picture as a file of a kind."""
    stream = BytesIO()
    picture.save(stream, kind, **settings)
    return stream.getvalue()


def photograph(width: int = 600, height: int = 400) -> Image.Image:
    """Colours that run into each other, of which JPEG makes less than PNG does."""
    across = Image.linear_gradient("L").resize((width, height))
    down = Image.radial_gradient("L").resize((width, height))
    return Image.merge("RGB", (across, down, across.transpose(Image.Transpose.ROTATE_180)))


def huge_png(width: int, height: int) -> bytes:
    """A PNG that says it is so large, of few bytes, after its specification (5.3, 11.2)."""
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 1000)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in parts
    )
