"""Things to hold: listed with their sources, a person's own, or any size typed."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.reference.things import (
    SeveralThings,
    Thing,
    find_several,
    find_thing,
    listed_things,
    own_things,
    thing_key,
)
from paramgen.vocabulary.findings import InputError

COMMON = listed_things()
BY_NAME = {name: thing for thing in COMMON for name in thing.names}

INCH = 25.4  # mm exactly: "Refinement of values for the yard and the pound", 1959

#: Width and height in mm, and who fixes them.
PUBLISHED = [
    ("ISO/IEC 7810", "bank card", (85.60, 53.98)),
    ("ISO/IEC 7810", "ID-1", (85.60, 53.98)),
    ("ISO/IEC 7810", "ID-2", (105, 74)),
    ("ISO/IEC 7810", "passport", (125, 88)),
    ("ISO/IEC 7810", "ID-000", (25, 15)),
    ("Decision ECB/2003/4", "5 euro note", (120, 62)),
    ("Decision ECB/2003/4", "10 euro note", (127, 67)),
    ("Decision ECB/2003/4", "20 euro note", (133, 72)),
    ("Decision ECB/2003/4", "50 euro note", (140, 77)),
    # second series, from memory
    ("Decision ECB/2013/10", "100 euro note", (147, 77)),
    ("Decision ECB/2013/10", "200 euro note", (153, 77)),
    ("US Bureau of Engraving and Printing", "US dollar note", (6.14 * INCH, 2.61 * INCH)),
    # polymer notes, from memory
    ("Bank of England", "5 pound note", (125, 65)),
    ("Bank of England", "10 pound note", (132, 69)),
    ("Bank of England", "20 pound note", (139, 73)),
    ("Bank of England", "50 pound note", (146, 77)),
    ("Bank of Japan", "1000 yen note", (150, 76)),
    ("Bank of Japan", "2000 yen note", (154, 76)),
    ("Bank of Japan", "5000 yen note", (156, 76)),
    ("Bank of Japan", "10000 yen note", (160, 76)),
    ("Bank of Canada Review 2006", "Canadian dollar note", (6 * INCH, 2.75 * INCH)),
    # the 100: from memory
    *(
        ("Reserve Bank of Australia", f"{value} Australian dollar note", (width, 65))
        for value, width in ((5, 130), (10, 137), (20, 144), (50, 151), (100, 158))
    ),
    ("ANSI/ASME Y14.1", "Letter", (8.5 * INCH, 11 * INCH)),
    # from memory: the largest diameter or width, and the largest height
    ("IEC 60086-2", "LR6", (14.5, 50.5)),
    ("IEC 60086-2", "LR03", (10.5, 44.5)),
    ("IEC 60086-2", "LR14", (26.2, 50.0)),
    ("IEC 60086-2", "LR20", (34.2, 61.5)),
    ("IEC 60086-2", "6LR61", (26.5, 48.5)),
    ("IEC 60086-3", "CR2032", (20.0, 20.0)),
]


@pytest.mark.parametrize(("source", "name", "size"), PUBLISHED)
def test_what_a_standard_fixes_has_that_size_and_names_it(
    source: str, name: str, size: tuple[float, float]
) -> None:
    thing = BY_NAME[name]
    assert (thing.width, thing.height) == pytest.approx(size, abs=1e-9)
    assert thing.source.startswith(source)


def test_a_card_has_the_thickness_of_its_standard() -> None:
    # ISO/IEC 7810: 0.76 ± 0.08 mm; relief of embossing 0.46 to 0.48, ISO/IEC 7811-1, from memory
    assert BY_NAME["bank card"].thickness == 0.76
    assert BY_NAME["embossed bank card"].thickness == pytest.approx(0.76 + 0.48)


def test_a_round_battery_is_as_thick_as_wide_and_the_others_as_thick_as_their_standard() -> None:
    for name in ("AA battery", "AAA battery", "C battery", "D battery"):
        assert BY_NAME[name].thickness == BY_NAME[name].width
    # IEC 60086, from memory: 17.5 and 3.2 mm at most; the 20 and the 32 of CR2032 say the latter.
    assert BY_NAME["6LR61"].thickness == 17.5
    assert BY_NAME["CR2032"].thickness == 3.2


def test_a_banknote_is_the_box_round_every_note_listed() -> None:
    notes = [one for one in COMMON if one.name.endswith(" note")]
    assert len(notes) > 15
    any_note = BY_NAME["banknote"]
    for size in ("width", "height", "thickness"):
        assert getattr(any_note, size) == max(getattr(one, size) for one in notes)


@pytest.mark.parametrize("phone", ["small phone", "phone", "large phone"])
def test_a_phone_in_its_case_is_larger_each_way(phone: str) -> None:
    # Common practice, no source: 3 mm of case round it, 4 mm over both its faces.
    bare, cased = BY_NAME[phone], BY_NAME[f"{phone} in a case"]
    assert (cased.width, cased.height) == (bare.width + 6, bare.height + 6)
    assert cased.thickness == bare.thickness + 4


def test_papers_halve_from_a4_down() -> None:
    # ISO 216: each is the one before halved across its longer side, whole mm, rounded down.
    width, height = 210, 297
    for name in ("A4", "A5", "A6", "A7"):
        assert (BY_NAME[name].width, BY_NAME[name].height) == (width, height)
        width, height = height // 2, width


@pytest.mark.parametrize(("paper", "size"), [("A4", (210, 297)), ("Letter", (215.9, 279.4))])
def test_folded_paper_is_a_part_of_its_sheet_and_as_many_layers_thick(
    paper: str, size: tuple[float, float]
) -> None:
    width, height = size
    folded = {
        "half": (width, height / 2, 2),
        "thirds": (width, height / 3, 3),
        "quarters": (width / 2, height / 2, 4),
    }
    for fold, (across, down, layers) in folded.items():
        thing = BY_NAME[f"{paper} folded in {fold}"]
        assert sorted((thing.width, thing.height)) == pytest.approx(
            sorted((across, down)), abs=1e-3
        )
        assert thing.thickness == pytest.approx(layers * BY_NAME[paper].thickness)


def test_a_size_in_inches_in_a_name_is_that_size() -> None:
    sized = {
        "2x2in photo": (2, 2),
        "2.5x3.5in photo": (2.5, 3.5),
        "3.5x5in photo": (3.5, 5),
        "4x6in photo": (4, 6),
        "5x7in photo": (5, 7),
        "3x5in index card": (5, 3),
        "4x6in index card": (6, 4),
    }
    for name, (width, height) in sized.items():
        size = (BY_NAME[name].width, BY_NAME[name].height)
        assert size == pytest.approx((width * INCH, height * INCH))


def test_every_thing_says_where_its_size_is_from() -> None:
    standards = {source for source, _, _ in PUBLISHED} | {"ISO 216", "ISO 269"}
    for thing in COMMON:
        said = (*sorted(standards), "common practice, no source", "from memory")
        assert thing.source.startswith(said), thing.name


def test_what_makers_at_home_ask_for_is_listed() -> None:
    names = (
        "seed packet, business card, tea bag, glasses, packet of tissues, key, pencil, ruler, "
        "plant label, index card, photo, paper label, sticking plaster, phone, small phone, large "
        "phone, sanitary pad, crayon, AA battery, bunch of keys, tin, tube of hand cream, banknote"
    )
    for name in names.split(", "):
        assert BY_NAME[name].name == name


@pytest.mark.parametrize(
    "text", ["bank card", "Bank Card", "BANK  CARDS", "bank-cards", "credit card", " credit cards "]
)
def test_a_thing_is_found_by_either_name_however_written(text: str) -> None:
    assert find_thing(text, COMMON) is BY_NAME["bank card"]


@pytest.mark.parametrize(
    ("text", "number", "name"),
    [
        ("cards", 1, "bank card"),
        ("4 cards", 4, "bank card"),
        ("notes", 1, "banknote"),
        ("money", 1, "banknote"),
        ("10 bills", 10, "banknote"),
        ("Cash", 1, "banknote"),
        ("phones", 1, "phone"),
        ("smartphone", 1, "phone"),
        ("cell-phone", 1, "phone"),
        ("earbuds", 1, "earbuds in their case"),
        ("spectacles", 1, "glasses"),
        ("tissues", 1, "packet of tissues"),
        ("sanitary pads", 1, "sanitary pad"),
        ("6 crayons", 6, "crayon"),
        ("2 AA batteries", 2, "AA battery"),
        ("plasters", 1, "sticking plaster"),
        ("hand cream", 1, "tube of hand cream"),
        ("keys", 1, "key"),
        ("set of keys", 1, "bunch of keys"),
        ("tins", 1, "tin"),
    ],
)
def test_an_everyday_word_finds_what_is_most_asked_for(text: str, number: int, name: str) -> None:
    assert find_several(text, COMMON) == SeveralThings(BY_NAME[name], number)


def test_a_word_finds_one_thing_and_none_that_has_the_name() -> None:
    keys = [thing_key(word) for thing in COMMON for word in (*thing.names, *thing.words)]
    assert len(set(keys)) == len(keys)


def test_a_persons_own_name_comes_before_a_word_and_may_have_words(tmp_path: Path) -> None:
    own = tmp_path / "things.toml"
    own.write_text(
        '[[thing]]\nname = "card"\nwidth = 70\nheight = 50\nwords = "shed card, bed card"\n'
    )
    things = listed_things(own)
    assert find_thing("cards", things).width == 70
    assert find_thing("bed cards", things).width == 70
    own.write_text('[[thing]]\nname = "card"\nwidth = 70\nheight = 50\nwords = ["bed card"]\n')
    with pytest.raises(InputError, match=r"key `words`: this is a text\. Put it in quotes\."):
        listed_things(own)


@pytest.mark.parametrize("thing", COMMON, ids=lambda thing: thing.name)
def test_each_name_finds_its_thing_alone_and_with_a_number(thing: Thing) -> None:
    for name in thing.names:
        assert find_several(name.upper(), COMMON) == SeveralThings(thing, 1)
        assert find_several(f"3 x {name}", COMMON) == SeveralThings(thing, 3)
        assert find_several(f"{name} x 12", COMMON) == SeveralThings(thing, 12)


def of_size(width: float, height: float, thickness: float = 0.0) -> tuple[float, float, float]:
    return pytest.approx((width, height, thickness))  # type: ignore[return-value]


# In inches: 4 × 25.4 = 101.6, 6 × 25.4 = 152.4, 3.5 × 25.4 = 88.9, 1/8 × 25.4 = 3.175.
@pytest.mark.parametrize(
    ("text", "number", "size"),
    [
        ("90x150mm", 1, of_size(90, 150)),
        ("90 × 150", 1, of_size(90, 150)),
        ("9x15cm", 1, of_size(90, 150)),
        ("4 x 6 in", 1, of_size(101.6, 152.4)),
        ('3 1/2 × 4"', 1, of_size(88.9, 101.6)),
        ("90x150x3mm", 1, of_size(90, 150, 3)),
        ("90mm x 6in x 1/8 in", 1, of_size(90, 152.4, 3.175)),
        ("90x150mm x4", 4, of_size(90, 150)),
        ("90x150x3mm x 4", 4, of_size(90, 150, 3)),
        ("90x150mmx4", 4, of_size(90, 150)),
        ("bank card ×4", 4, of_size(85.6, 53.98, 0.76)),
        ("4 of 90x150mm", 4, of_size(90, 150)),
        ("4 x 6 in x 3", 3, of_size(101.6, 152.4)),
        ("4 bank cards", 4, of_size(85.6, 53.98, 0.76)),
        ("4x bank card", 4, of_size(85.6, 53.98, 0.76)),
        ("4 of bank cards", 4, of_size(85.6, 53.98, 0.76)),
        ("bank card x4", 4, of_size(85.6, 53.98, 0.76)),
        ("5 euro notes", 1, of_size(120, 62, 0.11)),
        ("3 5 euro notes", 3, of_size(120, 62, 0.11)),
        ("4 x 6 in photos", 1, of_size(101.6, 152.4, 0.3)),
        ("2 4x6in photos", 2, of_size(101.6, 152.4, 0.3)),
    ],
)
def test_a_size_or_a_name_may_have_a_number_of_each(
    text: str, number: int, size: tuple[float, float, float]
) -> None:
    several = find_several(text, COMMON)
    thing = several.thing
    assert several.number == number
    assert (thing.width, thing.height, thing.thickness) == size


REFUSED = [
    ("pasport", "Did you mean `passport`? Write any other as a size: 90x150mm or 3.5x6in."),
    ("4 bank crads", "Did you mean `bank card`?"),
    ("bank crads x4", "Did you mean `bank card`?"),
    ("garden shed", "is not a thing known here. `paramgen things` lists them."),
    ("", "is not a thing known here"),
    ("x4", "is not a thing known here"),
    ("5x7", "Then write 5x7in or 5x7cm."),
    ("4 1/2 x 7", "Are inches meant? Then write 4 1/2 x 7 in."),
    ("90mm x 150", "`90mm x 150` has no unit after its height."),
    ("90mm x 150 x 3", "has no unit after its thickness"),
    ("0x100", "thing width: `0` is zero."),
    ("100x-5mm", "thing height: `-5 mm` is negative."),
    ("90x3000mm", "thing height: `3000 mm` is longer than the limit of 2000 mm"),
    ("20x30x40mm", "is thicker than it is wide or high"),
    ("0 passports", "`0 passports` is 0 of a thing; 1 to 500 can be held."),
    ("501 passports", "1 to 500 can be held"),
    ("passport x99999999999", "is not a thing known here"),
    ("batteries", "There are AA battery, AAA battery, C battery, D battery, 9 V battery, button"),
    ("3 folded", "There are A4 folded in half, A4 folded in thirds, A4 folded in quarters, Letter"),
    ("dollar bill", "Did you mean `US dollar note`?"),
    ("lunch box 4", "`lunch box 4` is not a thing known here"),
    ("4 x-ray films", "`x-ray films` is not a thing known here"),
]


@pytest.mark.parametrize(("text", "words"), REFUSED)
def test_what_is_no_thing_is_refused_with_what_might_be_meant(text: str, words: str) -> None:
    with pytest.raises(InputError) as refusal:
        find_several(text, COMMON)
    assert words in str(refusal.value)
    assert str(refusal.value).startswith("thing")


@pytest.mark.parametrize("bit", ["x", "9x", "9", "½", " ", "1/", "key "])
def test_ten_thousand_characters_are_refused(bit: str) -> None:
    with pytest.raises(InputError, match="is not a thing known here"):
        find_several(bit * (10_000 // len(bit)), COMMON)


@given(st.one_of(st.text(), st.text("0123456789 ./,-+eincmx×*½\"'", max_size=30)))
def test_any_text_is_a_thing_or_refused_in_words(text: str) -> None:
    try:
        several = find_several(text, COMMON)
    except InputError as refusal:
        assert all(fault.where.startswith("thing") for fault in refusal.faults)  # noqa: PT017
        return
    thing = several.thing
    assert 1 <= several.number <= 500
    assert 0 < thing.width <= 2000.000001
    assert 0 < thing.height <= 2000.000001
    assert 0 <= thing.thickness <= max(thing.width, thing.height)


@given(st.integers(200, 20_000), st.integers(200, 20_000), st.integers(1, 200), st.integers(1, 500))
def test_any_size_with_a_thickness_and_a_number_is_read(
    width: int, height: int, thickness: int, number: int
) -> None:
    size = f"{width / 10}x{height / 10}x{thickness / 10}mm"
    for text in (f"{number} of {size}", f"{size} x{number}"):
        several = find_several(text, COMMON)
        thing = several.thing
        assert several.number == number
        assert (thing.width, thing.height) == (width / 10, height / 10)
        assert thing.thickness == thickness / 10


def test_no_two_things_share_a_name_also_where_there_are_several() -> None:
    keys = [thing_key(name) for thing in COMMON for name in thing.names]
    assert len(set(keys)) == len(keys)


def test_a_persons_own_things_come_after_the_common_ones(tmp_path: Path) -> None:
    own = tmp_path / "things.toml"
    own.write_text(
        '[[thing]]\nname = "Trowel Card"\nalso = "shed card"\nwidth = "3 1/2 in"\nheight = 50\n'
        'thickness = "1mm"\nsource = "measured"\n'
        '[[thing]]\nname = "seed box"\nwidth = 60\nheight = 60\n',
        encoding="utf-8-sig",
    )
    things = listed_things(own)
    card = Thing(
        name="Trowel Card", width=88.9, height=50, thickness=1, also="shed card", source="measured"
    )
    assert things == (
        *COMMON,
        card,
        Thing(name="seed box", width=60, height=60, thickness=0, also="", source="your own"),
    )
    assert find_several("2 trowel cards", things) == SeveralThings(card, 2)
    assert find_several("3 seed boxes", things).thing.name == "seed box"
    with pytest.raises(InputError, match="Did you mean `shed card`"):
        find_thing("shed crad", things)


@pytest.mark.parametrize("missing", ["none.toml", "file/none.toml"])
def test_a_file_that_is_not_there_holds_no_things(missing: str, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    assert listed_things(tmp_path / missing) == COMMON


def test_an_own_file_is_looked_for_beside_the_own_hoops(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("platformdirs.user_config_path", lambda app, **_: tmp_path / app)
    assert own_things() == tmp_path / "paramgen" / "things.toml"


FAULTY = """
thingy = 1

[[thing]]
name = "Bank Cards"
widht = 100
height = "5 1/2"

[[thing]]
name = "90x150mm"
width = 80
height = 150
thickness = -1

[[thing]]
name = "trowel"
also = "trowels"
width = 0
height = true
source = ""
"""
FOUND = {
    ("key `thingy`", "no such key. Did you mean `thing`?"),
    ("thing 1, key `name`", "already the name of a thing in"),
    ("thing 1, key `width`", "missing"),
    ("thing 1, key `widht`", "no such key. Did you mean `width`?"),
    ("thing 1, key `height`", "Are inches meant?"),
    ("thing 2, key `thickness`", "is negative"),
    ("thing 3, key `also`", "already the name of a thing in"),
    ("thing 3, key `width`", "is zero"),
    ("thing 3, key `height`", "is not a length"),
    ("thing 3, key `source`", "is not a note"),
}


def test_every_fault_of_a_file_is_found_in_one_run(tmp_path: Path) -> None:
    own = tmp_path / "things.toml"
    own.write_text(FAULTY, encoding="utf-8")
    with pytest.raises(InputError) as refusal:
        listed_things(own)
    faults = {fault.where: str(fault) for fault in refusal.value.faults}
    assert set(faults) == {f"{own}, {place}" for place, _ in FOUND}
    for place, words in FOUND:
        assert words in faults[f"{own}, {place}"]


def test_what_is_thicker_than_wide_is_refused_in_a_file_as_it_is_when_typed(tmp_path: Path) -> None:
    own = tmp_path / "things.toml"
    own.write_text(
        '[[thing]]\nname = "dibber"\nwidth = 30\nheight = 200\nthickness = 30\n'
        '[[thing]]\nname = "brick"\nwidth = 30\nheight = 200\nthickness = 31\n',
        encoding="utf-8",
    )
    with pytest.raises(InputError) as refusal:
        listed_things(own)
    (fault,) = map(str, refusal.value.faults)
    assert f"{own}, thing 2: `brick` is thicker than it is wide or high." in fault


def test_a_name_that_reads_as_another_size_is_refused(tmp_path: Path) -> None:
    own = tmp_path / "things.toml"
    own.write_text('[[thing]]\nname = "4x6in"\nwidth = 100\nheight = 150\n', encoding="utf-8")
    with pytest.raises(InputError, match="reads as a size that this thing does not have"):
        listed_things(own)
