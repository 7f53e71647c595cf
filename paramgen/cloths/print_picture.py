"""A picture of a fabric as one repeat of its print; the only room that knows the picture library.

A picture may come from anyone. Its bytes and pixels are counted before it is unpacked, it is read
as PNG, JPEG or WebP alone, and whatever its decoder stumbles over is told as a fault.
"""

import math
from io import BytesIO

from PIL import Image, ImageOps
from PIL.ImageFile import ImageFile
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile
from PIL.WebPImagePlugin import WebPImageFile

from paramgen.lengths import MOST, show_both
from paramgen.vocabulary.cloth import Cloth, ClothPicture
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.unit import Unit

#: Largest picture that is read.
MOST_BYTES, MOST_PIXELS = 5_000_000, 25_000_000
#: Longer ones, for their width or height, are no repeat of a print but a line.
MOST_TIMES = 20
#: Width of one repeat where nobody said it, mm; prints for small goods repeat at some 20 to 100:
#: from memory.
USUAL_REPEAT = 50.0
#: Least and most that one repeat is wide, mm.
LEAST_REPEAT, MOST_REPEAT = 2.0, MOST

# Pixels that a millimetre of fabric is drawn with, some 130 to an inch, and the most of all along
# the longer side: more is not seen.
_TO_A_MM, _MOST_ALONG = 5.0, 320

_QUALITY = 85
_SMALLER = "Save it smaller: 1000 pixels across are plenty."


def cloth_of_picture(data: bytes, name: str, *, repeat: float = USUAL_REPEAT) -> Cloth:
    """Take a picture as one repeat of a print.

    Parameters
    ----------
    data : bytes
        PNG, JPEG or WebP.
    name : str
        For faults and for the person.
    repeat : float
        How wide the picture is on the fabric itself, mm; its height follows from its pixels.

    Returns
    -------
    Cloth
        The same picture and repeat give the same bytes, with the same version of the library.

    Raises
    ------
    InputError
        If it is no such picture, is cut short or too large, or no repeat is so wide.

    Examples
    --------
    >>> stream = BytesIO()
    >>> Image.new("RGB", (40, 20), "#204060").save(stream, "PNG")
    >>> cloth = cloth_of_picture(stream.getvalue(), "leaves.png", repeat=30.0)
    >>> cloth.colour, cloth.picture.width, cloth.picture.height
    ('#204060', 30.0, 15.0)
    """
    check_repeat(repeat, name)
    if len(data) > MOST_BYTES:
        raise InputError([too_many_bytes(name)])
    picture = _read(data, name)
    wide, high = picture.size
    if max(wide, high) > MOST_TIMES * min(wide, high):
        text = (
            f"the picture has {wide} × {high} pixels; "
            f"one repeat of a print is at most {MOST_TIMES} times as long as it is wide"
        )
        raise InputError([Fault(text, name, hint="Cut it to one repeat of the print.")])
    tall = repeat * high / wide
    small = _made_small(picture, repeat, tall)
    tile, mime = _smallest(small)
    mean = small.resize((1, 1), Image.Resampling.BOX).tobytes()
    called = "".join(char if char.isprintable() else "?" for char in name)
    return Cloth("#" + mean.hex(), called, ClothPicture(tile, mime, repeat, tall))


def check_repeat(repeat: float, name: str) -> None:
    """Refuse a repeat that no fabric has; raises InputError."""
    if not LEAST_REPEAT <= repeat <= MOST_REPEAT:
        least, most = (show_both(one, Unit.MM) for one in (LEAST_REPEAT, MOST_REPEAT))
        text = f"one repeat of a print is {least} to {most} wide"
        raise InputError([Fault(text, name, hint="Measure it on the fabric.")])


def too_many_bytes(name: str) -> Fault:
    """The fault of a picture whose file is too large."""
    text = f"the picture is larger than {MOST_BYTES // 1_000_000} MB"
    return Fault(text, name, hint=_SMALLER)


def _read(data: bytes, name: str) -> Image.Image:
    """Unpack a picture, its way up as its camera says."""
    hint = "Give a PNG, JPEG or WebP picture of the print, seen straight from above."
    head = data[:1000].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if head.startswith((b"<svg", b"<?xml", b"<!doctype svg")):
        text = "it is a drawing in SVG, which can hold more than a picture"
        raise InputError([Fault(text, name, hint="Save it as PNG.")])
    kind = _kind(data)
    if kind is None:
        raise InputError([Fault("it is no PNG, JPEG or WebP picture", name, hint=hint)])
    try:
        found = kind(BytesIO(data))  # reads no more than how large it is
        if math.prod(found.size) <= MOST_PIXELS:
            found.load()
            return _in_colours(_turned(found))
    except Image.DecompressionBombError:
        pass
    except Exception:  # a decoder may stumble over anything
        text = "the picture is cut short or broken"
        raise InputError([Fault(text, name, hint="Save or copy it again.")]) from None
    text = f"the picture has more than {MOST_PIXELS // 1_000_000} million pixels"
    raise InputError([Fault(text, name, hint=_SMALLER)])


def _kind(data: bytes) -> type[ImageFile] | None:
    """The decoder for a picture, by how its file begins.

    The first eight bytes are of the PNG specification (third edition, 5.2), the first two of a
    JPEG's, SOI, with those of the marker after it of ITU-T T.81 (B.1.1), and the first twelve of
    RFC 9649 (2.3).
    """
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return PngImageFile
    if data.startswith(b"\xff\xd8\xff"):
        return JpegImageFile
    return WebPImageFile if data[:4] == b"RIFF" and data[8:12] == b"WEBP" else None


def _turned(picture: Image.Image) -> Image.Image:
    """A picture as its camera says; as it is, where what the camera said is broken."""
    try:
        return ImageOps.exif_transpose(picture)
    except Exception:
        return picture


def _in_colours(picture: Image.Image) -> Image.Image:
    """Every pixel as red, green and blue, and as how far one can see through it."""
    if picture.mode.startswith("I"):  # 16 bits of grey
        picture = picture.convert("F").point(lambda value: value / 257.0).convert("L")
    clear = "A" in picture.getbands() or "transparency" in picture.info
    return picture.convert("RGBA" if clear else "RGB")


def _made_small(picture: Image.Image, width: float, height: float) -> Image.Image:
    """As many pixels as are seen and no more than there are, on white where they are clear."""
    wide, high = picture.size
    share = min(
        1.0,
        _TO_A_MM * max(width, height) / max(wide, high),
        _MOST_ALONG / max(wide, high),
    )
    size = max(1, round(wide * share)), max(1, round(high * share))
    small = picture.resize(size, Image.Resampling.LANCZOS) if size != picture.size else picture
    if small.mode == "RGBA":
        small = Image.alpha_composite(Image.new("RGBA", size, "white"), small)
    return small.convert("RGB")


def _smallest(picture: Image.Image) -> tuple[bytes, str]:
    """A picture as PNG, or as JPEG where that is smaller, as of a photograph."""
    found = []
    for kind, mime, settings in (
        ("PNG", "image/png", {"optimize": True}),
        ("JPEG", "image/jpeg", {"quality": _QUALITY, "optimize": True}),
    ):
        stream = BytesIO()
        picture.save(stream, kind, **settings)
        found.append((stream.getvalue(), mime))
    return min(found, key=lambda one: len(one[0]))
