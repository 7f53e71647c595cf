"""Hoops: listed, a person's own, or any size typed."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.reference.hoops import Hoop, find_hoop, listed, own_file, smallest_first
from paramgen.vocabulary.findings import InputError

COMMON = listed()

# Common practice, no source.
SIZES = {
    "4x4in": (100, 100),
    "5x7in": (130, 180),
    "6x10in": (160, 260),
    "7x12in": (180, 300),
    "8x8in": (200, 200),
    "8x12in": (200, 300),
    "9.5x14in": (240, 360),
    "14x14in": (360, 350),
}


def test_the_common_fields_are_listed_with_both_names() -> None:
    assert {hoop.also: (hoop.width, hoop.height) for hoop in COMMON} == SIZES
    assert [hoop.name for hoop in COMMON] == [f"{w}x{h}" for w, h in SIZES.values()]


@pytest.mark.parametrize(
    "text",
    [
        "130x180",
        "130 X 180",
        "130×180",
        "130*180",
        " 130x180mm ",
        "130mm x 180mm",
        "13x18cm",
        "13 cm x 18 cm",
        "0.13x0.18m",
        "5x7in",
        "5X7IN",
        "5 × 7 in",
        "5in x 7in",
        "5.0x7.0in",
        '5"x7"',
        "5x7″",
        "5 x 7 inches",
    ],
)
def test_a_listed_hoop_is_found_by_either_name_however_written(text: str) -> None:
    assert find_hoop(text, COMMON) == Hoop("130x180", 130, 180, "5x7in")


def test_the_measure_of_an_inch_name_in_millimetres_is_not_the_listed_hoop() -> None:
    # 5 × 25.4 = 127 and 7 × 25.4 = 177.8.
    assert find_hoop("127x177.8mm", COMMON) == Hoop("127x177.8", 127, 177.8)


def test_a_listed_hoop_can_lie_the_other_way() -> None:
    for text in ("180x130", "7x5in"):
        hoop = find_hoop(text, COMMON)
        assert (hoop.name, hoop.width, hoop.height) == ("180x130", 180, 130)


# In inches: 5.5 × 25.4 = 139.7, 8 × 25.4 = 203.2, 4.5 × 25.4 = 114.3, 7 × 25.4 = 177.8.
@pytest.mark.parametrize(
    ("text", "hoop"),
    [
        ("140x200", Hoop("140x200", 140, 200)),
        ("140mm x 200mm", Hoop("140x200", 140, 200)),
        ("12 x 18 cm", Hoop("120x180", 120, 180)),
        ("12,5x18cm", Hoop("125x180", 125, 180)),
        ("5.5x8in", Hoop("5.5x8in", 139.7, 203.2)),
        ("4 1/2 x 7 in", Hoop("4.5x7in", 114.3, 177.8)),
        ('4½×7"', Hoop("4.5x7in", 114.3, 177.8)),
        ("5in x 180mm", Hoop("127x180", 127, 180)),
        ("39x41", Hoop("39x41", 39, 41)),
        ("5x7mm", Hoop("5x7", 5, 7)),
    ],
)
def test_any_size_with_a_unit_is_a_hoop_width_first(text: str, hoop: Hoop) -> None:
    assert find_hoop(text, COMMON) == hoop


REFUSED = [
    ("5x7", "Are inches meant? Then write 5x7in."),
    ("4 X 4", "Are inches meant? Then write 4x4in."),
    ("9.5x14", "Are inches meant? Then write 9.5x14in."),
    ("13x18", "Are centimetres meant? Then write 13x18cm."),
    ("5x6", "Are inches or centimetres meant? Then write 5x6in or 5x6cm."),
    ("4 1/2 x 7", "Are inches meant? Then write 4 1/2 x 7 in."),
    ("5in x 7", "If it is the same unit, write 5 in x 7 in."),
    ("130x18O", "Did you mean `130x180`? Write any other as a size: 140x200mm or 5.5x8in."),
    ("5x7ft", "Did you mean `5x7in`?"),
    ("130", "Known are: 100x100, 4x4in, 130x180, 5x7in"),
    ("garden", "Write any other as a size: 140x200mm or 5.5x8in."),
    ("", "is not a hoop known here"),
    ("x", "is not a hoop known here"),
    ("1x2x3", "is not a hoop known here"),
    ("0x100", "hoop width: `0` is zero."),
    ("100x0mm", "hoop height: `0 mm` is zero."),
    ("-5x7in", "hoop width: `-5 in` is negative."),
    ("1e999x100", "hoop width: `1e999` is not a finite length"),
    ("1/0 x 7 in", "is not a finite length"),
    ("100x2001", "hoop height: `2001` is longer than the limit of 2000 mm"),
]


@pytest.mark.parametrize(("text", "words"), REFUSED)
def test_what_is_no_hoop_is_refused_with_what_might_be_meant(text: str, words: str) -> None:
    with pytest.raises(InputError) as refusal:
        find_hoop(text, COMMON)
    assert words in str(refusal.value)
    assert str(refusal.value).startswith("hoop")


@pytest.mark.parametrize("bit", ["x", "9x", "9", "½", " ", "1/", "garden "])
def test_ten_thousand_characters_are_refused(bit: str) -> None:
    with pytest.raises(InputError, match="is not a hoop known here"):
        find_hoop(bit * (10_000 // len(bit)), COMMON)


def test_what_stands_far_behind_a_size_is_not_overlooked() -> None:
    with pytest.raises(InputError, match="is not a hoop known here"):
        find_hoop("50x70." + "0" * 200 + "in", COMMON)


def test_both_sides_are_judged_in_one_run() -> None:
    with pytest.raises(InputError) as refusal:
        find_hoop("0x3000", COMMON)
    assert [fault.where for fault in refusal.value.faults] == ["hoop width", "hoop height"]


@given(st.one_of(st.text(), st.text("0123456789 ./,-+eincmx×*½\"'", max_size=30)))
def test_any_text_is_a_hoop_or_refused_in_words(text: str) -> None:
    wheres = []
    try:
        hoop = find_hoop(text, COMMON)
    except InputError as refusal:
        hoop, wheres = COMMON[0], [fault.where for fault in refusal.faults]
    assert 0 < hoop.width <= 2000.000001
    assert 0 < hoop.height <= 2000.000001
    assert set(wheres) <= {"hoop", "hoop width", "hoop height"}


@given(st.integers(400, 20_000), st.integers(400, 20_000))
def test_the_name_of_any_hoop_finds_it_again(width: int, height: int) -> None:
    hoop = find_hoop(f"{width / 10}x{height / 10}", COMMON)
    assert (hoop.width, hoop.height) == (width / 10, height / 10)
    assert find_hoop(hoop.name, COMMON) == hoop


def test_smallest_first_goes_by_area() -> None:
    # 10,000 · 23,400 · 40,000 · 41,600 · 54,000 · 60,000 · 86,400 · 126,000 mm².
    names = ["4x4in", "5x7in", "8x8in", "6x10in", "7x12in", "8x12in", "9.5x14in", "14x14in"]
    assert [hoop.also for hoop in smallest_first(reversed(COMMON))] == names
    wide, tall = Hoop("wide", 200, 100), Hoop("tall", 100, 200)
    assert smallest_first([wide, tall]) == (tall, wide)


def test_a_persons_own_hoops_come_after_the_common_ones(tmp_path: Path) -> None:
    own = tmp_path / "hoops.toml"
    own.write_text(
        '[[hoop]]\nname = "Potting Shed"\nalso = "5.5x8in"\nwidth = 140\nheight = "20 cm"\n'
        '[[hoop]]\nname = "sleeve"\nwidth = "2 1/2 in"\nheight = 90.5\n',
        encoding="utf-8-sig",
    )
    hoops = listed(own)
    shed = Hoop("Potting Shed", 140, 200, "5.5x8in")
    assert hoops == (*COMMON, shed, Hoop("sleeve", 63.5, 90.5))
    for text in ("potting  shed", "5.5 x 8 in", "140x200"):
        assert find_hoop(text, hoops) == shed
    with pytest.raises(InputError, match="Did you mean `Potting Shed`"):
        find_hoop("poting shed", hoops)


@pytest.mark.parametrize("missing", ["none.toml", "file/none.toml"])
def test_a_file_that_is_not_there_holds_no_hoops(missing: str, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    assert listed(tmp_path / missing) == COMMON


def test_an_own_file_is_looked_for_in_the_configuration_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("platformdirs.user_config_path", lambda app, **_: tmp_path / app)
    assert own_file() == tmp_path / "paramgen" / "hoops.toml"


FAULTY = """
colour = "red"

[[hoop]]
name = "shed"
widht = 100
height = "5 1/2"

[[hoop]]
name = "130 X 180 mm"
also = "5x8"
width = 130
height = 180

[[hoop]]
name = "Shed"
width = 0
height = true

[[hoop]]
name = " "
also = 5
width = "3m"
height = nan
"""
FOUND = {
    ("key `colour`", "no such key. Keys here: hoop."),
    ("hoop 1, key `width`", "missing"),
    ("hoop 1, key `widht`", "no such key. Did you mean `width`?"),
    ("hoop 1, key `height`", "Are inches meant?"),
    ("hoop 2", "`5x8` reads as a size in mm that this hoop does not have"),
    ("hoop 2, key `name`", "already the name of a hoop in"),
    ("hoop 3, key `name`", "already the name of a hoop in"),
    ("hoop 3, key `width`", "is zero"),
    ("hoop 3, key `height`", "is not a length"),
    ("hoop 4, key `name`", "is not a name"),
    ("hoop 4, key `also`", "Put it in quotes."),
    ("hoop 4, key `width`", "longer than the limit"),
    ("hoop 4, key `height`", "is not a finite length"),
}


def test_every_fault_of_a_file_is_found_in_one_run(tmp_path: Path) -> None:
    own = tmp_path / "hoops.toml"
    own.write_text(FAULTY, encoding="utf-8")
    with pytest.raises(InputError) as refusal:
        listed(own)
    faults = {fault.where: str(fault) for fault in refusal.value.faults}
    assert set(faults) == {f"{own}, {place}" for place, _ in FOUND}
    for place, words in FOUND:
        assert words in faults[f"{own}, {place}"]
    assert len(refusal.value.faults) == len(FOUND)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\xff", "is not text in UTF-8"),
        (b'\n[[hoop]]\nname "shed"', "line 3: is not TOML"),
        (b"a = " + b"[" * 20_000, "too deep"),
        (b"a = " + b"1" * 5_000, "is not TOML"),
        (b"hoop = 1", "Head each one [[hoop]]."),
        (b"hoop = [1]", "hoop 1: a hoop is a table"),
        (b'[hoop]\nname = "shed"', "Head each one [[hoop]]."),
        (b'"\\u001b[31m" = 1', "key `?[31m`"),
    ],
)
def test_a_file_that_cannot_be_read_says_why(content: bytes, words: str, tmp_path: Path) -> None:
    own = tmp_path / "hoops.toml"
    own.write_bytes(content)
    with pytest.raises(InputError) as refusal:
        listed(own)
    assert words in str(refusal.value)
    assert str(own) in str(refusal.value)


def test_a_folder_in_place_of_the_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be read"):
        listed(tmp_path)
