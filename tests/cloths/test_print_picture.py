"""Pictures of prints: what is taken, how large it is on the fabric, and what is refused.

Sizes of one repeat follow from the width asked and the picture's pixels; turning by the camera
is that of Exif 2.32 (CIPA DC-008), tag 274: 6 is turned by 90° clockwise to be looked at.
"""

from contextlib import suppress
from io import BytesIO
from pathlib import Path
from struct import pack

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from prints import huge_png, photograph, seedling, written

from paramgen.cloths.print_picture import (
    LEAST_REPEAT,
    MOST_BYTES,
    MOST_REPEAT,
    USUAL_REPEAT,
    cloth_of_picture,
)
from paramgen.cloths.read_print import print_in
from paramgen.vocabulary.cloth import Cloth, ClothPicture
from paramgen.vocabulary.findings import InputError

WEBP_BOMB = (  # of RFC 9649 (3.4): a lossless picture of 16383 × 16383 and no more than its head
    b"RIFF\x16\0\0\0WEBPVP8L\x0a\0\0\0\x2f\xfe\xbf\xff\x0f\0\0\0\0\0"
)


def taken(data: bytes, repeat: float = 60.0) -> ClothPicture:
    picture = cloth_of_picture(data, "leaves", repeat=repeat).picture
    assert picture is not None
    return picture


def fault(data: bytes, name: str = "leaves.png", repeat: float = USUAL_REPEAT) -> str:
    with pytest.raises(InputError) as refused:
        cloth_of_picture(data, name, repeat=repeat)
    (found,) = refused.value.faults
    assert found.where == name
    assert found.hint
    return found.message


def shown(picture: ClothPicture) -> Image.Image:
    return Image.open(BytesIO(picture.data)).convert("RGB")


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
def test_three_kinds_are_taken_by_what_they_hold(kind: str) -> None:
    # 120 × 60 pixels, 60 mm wide: half as high.
    picture = taken(written(seedling(120, 60), kind))
    assert (picture.width, picture.height) == (60.0, 30.0)
    assert shown(picture).size == (120, 60)


def test_a_picture_is_made_small() -> None:
    # At most 5 pixels a millimetre: of 60 mm 300, and 200 for 40 mm.
    assert shown(taken(written(photograph(3000, 2000)))).size == (300, 200)
    assert len(taken(written(photograph(3000, 2000))).data) < 30_000
    # And no more than 320 along the longer side, however large the repeat: 213 for the other.
    assert shown(taken(written(photograph(3000, 2000)), 500.0)).size == (320, 213)


def test_what_is_smaller_as_a_photograph_is_kept_as_one() -> None:
    assert taken(written(photograph())).mime == "image/jpeg"
    assert taken(written(Image.new("RGB", (300, 300), "teal"))).mime == "image/png"


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
def test_the_same_picture_gives_the_same_bytes(kind: str) -> None:
    data = written(photograph(), kind)
    assert cloth_of_picture(data, "a") == cloth_of_picture(data, "a")
    assert taken(data, 60.0) != taken(data, 61.0)


def test_the_colour_of_a_print_is_the_middle_of_its_colours() -> None:
    # Half of it is #204060 and half #406080: each part lies in the middle, 0x30, 0x50 and 0x70.
    half = Image.new("RGB", (40, 40), "#204060")
    half.paste("#406080", (0, 0, 20, 40))
    assert cloth_of_picture(written(half), "").colour == "#305070"


def test_a_picture_is_turned_as_its_camera_says() -> None:
    lying = seedling(120, 60).transpose(Image.Transpose.ROTATE_90)
    exif = Image.Exif()
    exif[274] = 6
    picture = taken(written(lying, "JPEG", exif=exif, quality=95))
    assert (picture.width, picture.height) == (60.0, 30.0)
    pixels = np.asarray(shown(picture))
    red, green, _ = pixels[12, 60]  # the tip, in the middle and at the top
    assert red > 150
    assert green < 90


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
@pytest.mark.filterwarnings("ignore::UserWarning")
def test_a_picture_is_taken_whatever_its_camera_wrote(kind: str) -> None:
    for said in (b"Exif\0\0", b"Exif\0\0II*\0\xff\0\0\0", b"Exif\0\0MM\0*\0\0\0\x08\xff\xff\x01"):
        assert taken(written(seedling(120, 60), kind, exif=said)).height == 30.0
    # To be turned, and then its camera (tag 272, a text: Exif 2.32) told as fractions (kind 10):
    # what cannot be written again is left as it lies.
    turned, camera = pack("<HHIHH", 274, 3, 1, 6, 0), pack("<HHII", 272, 10, 2, 8)
    said = b"Exif\0\0II*\0\x08\0\0\0\x02\0" + turned + camera + bytes(20)
    assert taken(written(seedling(120, 60), kind, exif=said)).height == 30.0


def test_where_a_picture_is_clear_it_is_white() -> None:
    clear = Image.new("RGBA", (20, 20), (255, 0, 0, 0))
    assert cloth_of_picture(written(clear), "").colour == "#ffffff"


@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "RGBA", "I;16", "CMYK"])
def test_every_way_of_telling_colours_is_read(mode: str) -> None:
    kind = "JPEG" if mode == "CMYK" else "PNG"
    grey = Image.new("L", (30, 30), 255)
    picture = grey.convert(mode)
    if mode == "I;16":
        picture = picture.point(lambda value: value * 257)
    assert cloth_of_picture(written(picture, kind), "").colour in ("#ffffff", "#fefefe")


def test_one_pixel_is_a_print_of_one_colour() -> None:
    cloth = cloth_of_picture(written(Image.new("RGB", (1, 1), "#123456")), "dot", repeat=40.0)
    assert cloth.colour == "#123456"
    assert cloth.picture is not None
    assert (cloth.picture.width, cloth.picture.height) == (40.0, 40.0)


@pytest.mark.parametrize(("width", "height"), [(20000, 1), (1, 20000), (210, 10), (10, 210)])
def test_a_line_is_no_repeat(width: int, height: int) -> None:
    assert f"{width} × {height}" in fault(written(Image.new("L", (width, height))))


def test_twenty_times_as_long_is_one() -> None:
    assert taken(written(Image.new("L", (200, 10))), 40.0).height == 2.0


@pytest.mark.parametrize(
    "data",
    [
        huge_png(60_000, 60_000),
        huge_png(5001, 5000),
        huge_png(2**31 - 1, 2**31 - 1),
        WEBP_BOMB,
        written(Image.new("1", (6000, 5000))),
    ],
)
def test_more_pixels_than_are_read_are_refused_before_they_are_unpacked(data: bytes) -> None:
    assert len(data) < 10_000
    assert "more than 25 million pixels" in fault(data)


def test_a_large_file_is_refused_by_its_bytes(tmp_path: Path) -> None:
    data = written(seedling()) + b"\0" * MOST_BYTES
    assert "larger than 5 MB" in fault(data)
    file = tmp_path / "large.png"
    file.write_bytes(data)
    with pytest.raises(InputError, match="larger than 5 MB"):
        print_in(file)


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
def test_what_is_cut_short_is_refused(kind: str) -> None:
    whole = written(photograph(), kind)
    for length in (30, len(whole) // 2):
        assert "cut short or broken" in fault(whole[:length])


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"leaves",
        b"GIF89a" + b"\0" * 50,
        b"BM" + b"\0" * 50,
        b"%PDF-1.7",
        b"\x89PNG",
        b"\xff\xd8",
    ],
)
def test_what_is_no_picture_of_these_is_refused_whatever_its_name_is(data: bytes) -> None:
    assert fault(data, "leaves.png") == "it is no PNG, JPEG or WebP picture"


@pytest.mark.parametrize(
    "text",
    [
        "<svg xmlns='http://www.w3.org/2000/svg'/>",
        "\ufeff<?xml version='1.0'?>",
        "\n <SVG>",
        "<!DOCTYPE svg PUBLIC '-//W3C//DTD SVG 1.1//EN'>",
    ],
)
def test_a_drawing_in_svg_is_refused_by_its_name(text: str) -> None:
    assert "SVG" in fault(text.encode())


@pytest.mark.parametrize("repeat", [0.0, LEAST_REPEAT / 2, MOST_REPEAT * 2, float("nan")])
def test_no_fabric_repeats_so(repeat: float) -> None:
    assert "wide" in fault(written(seedling()), repeat=repeat)


@given(st.binary(max_size=400), st.sampled_from(["PNG", "JPEG", "WEBP"]), st.integers(0, 200))
def test_whatever_a_file_holds_it_is_a_cloth_or_a_fault(data: bytes, kind: str, at: int) -> None:
    whole = written(seedling(16, 16), kind)
    for spoiled in (data, whole[:at] + data, whole[:at] + data + whole[at + len(data) :]):
        with suppress(InputError):
            assert isinstance(cloth_of_picture(spoiled, "x"), Cloth)


def test_a_print_goes_by_the_name_of_its_file(tmp_path: Path) -> None:
    file = tmp_path / "lea\x1b[31mves.png"
    file.write_bytes(written(seedling()))
    cloth = print_in(file, 30.0)
    assert cloth.called == "lea?[31mves.png"
    assert cloth.picture is not None
    assert cloth.picture.width == 30.0


@pytest.mark.parametrize("name", [".", "nothing.png", "n" * 3000, "nul\0.png"])
def test_what_cannot_be_read_is_a_fault(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError):
        print_in(tmp_path / name)
