"""A broken, cut, altered, foreign or hostile file is refused in words, or read; never worse."""

import random
from collections.abc import Iterator

import pytest
from reading_files import END, RIGHT_1, RIGHT_121, STEPS, dst, hus, written

from paramgen.files import read_any_kind
from paramgen.files.read_any_kind import LARGEST_FILE, READABLE
from paramgen.reading.examine import read
from paramgen.reading.file_report import FileReport
from paramgen.vocabulary.findings import InputError

FILES = written()
STITCHES = sum(each.stitch_count for each in STEPS)


def refusal(data: bytes, name: str) -> str:
    with pytest.raises(InputError) as refused:
        read(data, name)
    (fault,) = refused.value.faults
    assert fault.where == name
    assert fault.hint
    return str(fault)


def tried(data: bytes, name: str) -> FileReport | str:
    """What is read, or why not; anything else that is raised fails the test."""
    try:
        return read(data, name)
    except InputError as refused:
        said = str(refused)
        assert said.startswith(f"{name}: ")
        return said


# Where each kind may be cut without losing a stitch or anything that says so: the line's
# end in a text; of PES what stands after the stitches; the empty slots of XXX's colours.
@pytest.mark.parametrize("name", FILES)
def test_a_file_cut_anywhere_is_refused_or_has_lost_nothing(name: str) -> None:
    data = FILES[name]
    step = max(1, len(data) // 250)
    for length in [*range(len(data) - 1, 0, -step), *range(1, 12)]:
        found = tried(data[:length], name)
        if isinstance(found, str):
            assert name in found
        elif name == "tag.exp":
            # It has no end, and it is told that nobody can know.
            assert found.end.whole is None
            assert length % 2 == 0
        else:
            assert found.stitches == STITCHES, length
    refused = sum(
        isinstance(tried(data[: len(data) * part // 20], name), str) for part in range(20)
    )
    assert refused >= {"tag.exp": 5, "tag.pes": 5, "tag-v1.pes": 7}.get(name, 17)


@pytest.mark.parametrize(
    ("name", "kept", "said"),
    [
        ("tag.dst", 400, "a dst file has 512 bytes of header, this has 400 in all"),
        ("tag.dst", -3, "without an end record; its header says"),
        ("tag.exp", -1, "it stops in the middle of a record"),
        ("tag.jef", 20, "a jef file has more than 32 bytes of header"),
        ("tag.jef", -2, "without an end record"),
        ("tag.vp3", 30, "in its header"),
        ("tag.vp3", -1, "by its header it has at least"),
        ("tag.xxx", 100, "an xxx file has 256 bytes of header"),
        ("tag.xxx", -90, "by its header it has at least"),
        ("tag.pes", 10, "in its header"),
        ("tag.pes", 300, "its stitches should begin at byte"),
        ("tag-v1.pes", 880, "by its header it has at least"),
        ("tag.csv", -18, "it is cut short"),
        ("tag.json", -3, "it is cut short, damaged or no json file"),
        ("tag.svg", -5, "it is cut short, damaged, or an SVG picture"),
    ],
)
def test_a_cut_file_is_told_as_cut(name: str, kept: int, said: str) -> None:
    assert said in refusal(FILES[name][:kept], name)


def test_small_pictures_that_are_missing_are_told() -> None:
    data = FILES["tag-v1.pes"]
    found = read(data[:-10], "tag.pes")
    assert (found.stitches, found.end.whole) == (STITCHES, None)
    assert "small pictures" in found.end.said


def test_fewer_records_than_the_header_says() -> None:
    assert "it ends after 3 records; its header says 9 records" in refusal(
        dst(RIGHT_121, RIGHT_1, END, stated=9), "tag.dst"
    )
    # The end record may be counted or not.
    for stated in (2, 3):
        assert read(dst(RIGHT_121, RIGHT_1, END, stated=stated), "tag.dst").stitches == 1


def altered(data: bytes, chance: random.Random) -> bytes:
    """A few bytes changed, or a piece taken out, doubled or filled with one byte."""
    made = bytearray(data)
    for _ in range(chance.randint(1, 3)):
        start = chance.randrange(len(made))
        end = start + chance.choice([1, 2, 4, 60])
        made[start:end] = chance.choice(
            [
                bytes([chance.choice([0, 1, 0x7F, 0x80, 0xFF, chance.randrange(256)])]),
                b"",
                bytes(made[start:end]) * 2,
                bytes([chance.randrange(256)]) * (end - start),
            ]
        )
        if not made:
            break
    return bytes(made)


@pytest.mark.parametrize("name", FILES)
def test_hundreds_of_altered_files_are_refused_or_read(name: str) -> None:
    chance = random.Random(f"altered {name}")
    results = [tried(altered(FILES[name], chance), name) for _ in range(250)]
    assert any(isinstance(each, str) for each in results)
    assert any(isinstance(each, FileReport) for each in results)


def nonsense() -> Iterator[bytes]:
    chance = random.Random("nonsense")
    for length in (1, 2, 3, 17, 600, 5000):
        yield bytes(length)
        yield b"\xff" * length
        yield b"\x80" * length
        yield b"\x80\x01" * length
        yield chance.randbytes(length)
    yield b"\x80" * 300 + chance.randbytes(9000)


@pytest.mark.parametrize("kind", READABLE)
def test_nonsense_of_every_kind_is_refused_or_read(kind: str) -> None:
    for data in nonsense():
        first = tried(data, f"x.{kind}")
        again = tried(data, f"x.{kind}")
        if isinstance(first, str):
            assert again == first
        else:
            assert isinstance(again, FileReport)
            assert [stop.colour for stop in again.stops] == [stop.colour for stop in first.stops]


@pytest.mark.parametrize(
    ("data", "name", "said"),
    [
        (b"", "tag.dst", "tag.dst: it is empty: there is not one byte in it. Copy it anew"),
        (bytes(LARGEST_FILE + 1), "tag.exp", "it is larger than 16 MB"),
        (b"\x89PNG\r\n\x1a\n" + bytes(90), "tag.dst", "this is a PNG picture"),
        (b"%PDF-1.7\n%\xe2\xe3", "tag.exp", "this is a PDF document"),
        (b"PK\x03\x04" + bytes(90), "tag.pes", "this is a ZIP archive. Take the stitch file out"),
        (b"Dear gardener, here are the seeds.", "tag.exp", "this is a text. Give a stitch file."),
        (b"Dear gardener, here are the seeds.", "tag.vp3", "this is a text. Give a stitch file."),
        (b"\x00\x01\x02", "tag.csv", "this is no text, as a csv file is"),
        (bytes(2000), "tag.dst", "this is no dst file by how it begins"),
        (bytes(2000), "tag.vp3", "this is no vp3 file"),
        (FILES["tag.pes"], "tag.dst",
         "this is a pes file by how it begins. Give its name the ending .pes."),
        (FILES["tag.dst"], "tag.jef", "Give its name the ending .dst."),
        (FILES["tag.dst"], "tag", "its name has no ending"),
        (FILES["tag.dst"], "tag.bin", "begins as a dst file does. Give it the ending .dst."),
        (bytes(9), "tag.dts", "`.dts` is no kind of stitch file known here. Known are 100, 10o"),
        (bytes(9), "tag.png", "`.png` is no kind of stitch file known here"),
        (bytes(9), "tag.edr", ".edr files are lists of colours; they hold no stitch"),
        (dst("00 00 83", "00 00 83", END), "tag.dst", "it holds no stitch"),
        (dst("00 00 80", RIGHT_1, END), "tag.dst", "byte 515 belongs to no record of a dst file"),
        (dst(RIGHT_1, "01 00 01", END), "tag.dst", "byte 518 belongs to no record of a dst file"),
        (bytes.fromhex("0101 8077 0101"), "tag.exp", "byte 4 is no control of an exp file"),
        (b'{"a": 1}', "tag.json", "it is cut short, damaged or no json file"),
        (b"[" * 100_000, "tag.json", "it is cut short, damaged or no json file"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><g><path d='M 1,1 C 2'/></g></svg>", "tag.svg",
         "an SVG picture that this program did not draw"),
        (b"<!DOCTYPE svg [<!ENTITY a 'aaaa'>]><svg>&a;</svg>", "tag.svg", "it is cut short"),
        (b'"*","0","STITCH","0","0"\n', "tag.csv", "it is cut short: its last row is not END"),
        (b'"*","0","SEW","0","0"\n', "tag.csv", "it is cut short, damaged or no csv file"),
    ],
)  # fmt: skip
def test_what_is_no_whole_stitch_file_is_said_to_be_so(data: bytes, name: str, said: str) -> None:
    assert said in refusal(data, name)


# TAP is DST without its header; U01 has 256 bytes of header, then records of what to do, how
# far down and how far right, and ends with F8 (from memory).
@pytest.mark.parametrize(
    ("name", "head", "end"),
    [
        ("tag.tap", bytes.fromhex("010003 050507 010003"), "0000F3"),
        ("tag.u01", bytes(256) + bytes.fromhex("80000A 80000A 80140A"), "F80000"),
    ],
)
def test_an_end_record_that_is_missing(name: str, head: bytes, end: str) -> None:
    found = read(head + bytes.fromhex(end), name)
    assert (found.stitches, found.end.whole) == (2, True)
    assert f"stops at byte {len(head)} without the end record" in refusal(head, name)


@pytest.mark.parametrize("number", ["NaN", "Infinity", "1e400", '"wide"', "null", "[]", "9" * 500])
def test_places_that_are_no_numbers(number: str) -> None:
    text = f'{{"extras": {{}}, "threadlist": [], "stitches": [[{number}, 0, "STITCH"]]}}'
    assert "damaged" in refusal(text.encode(), "tag.json")


@pytest.mark.parametrize("data", ["", "M ", "M nan,0 0,0", "M 1e999,0 0,0", "M 0,0 1", "L 0,0"])
def test_a_picture_with_places_that_are_no_numbers(data: str) -> None:
    head, tail = FILES["tag.svg"].split(b' d="', 1)
    made = head + b' d="' + data.encode() + b'"' + tail.split(b'"', 1)[1]
    assert "damaged" in refusal(made, "tag.svg")


def test_a_path_that_leads_out_of_every_hoop() -> None:
    # 12.1 mm each: 827 of them are more than 10 m.
    assert "more than 10 m away" in refusal(dst(*[RIGHT_121] * 827, END), "tag.dst")
    assert read(dst(*[RIGHT_121] * 826, END), "tag.dst").width == pytest.approx(825 * 12.1)


def test_more_records_than_are_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(read_any_kind, "MOST_RECORDS", 100)
    assert "more than 100 records" in refusal(dst(*[RIGHT_1] * 100, END), "tag.dst")
    assert read(dst(*[RIGHT_1] * 99, END), "tag.dst").stitches == 98
    assert "more than 100 records" in refusal(hus([(1, 0)] * 101), "tag.hus")


def bits(*pairs: tuple[int, int]) -> bytes:
    text = "".join(f"{value:0{width}b}" for value, width in pairs)
    return bytes(int(text[at : at + 8].ljust(8, "0"), 2) for at in range(0, len(text), 8))


def test_packed_stitches_that_unpack_without_end() -> None:
    # A block of 65,535 values whose one code takes no bits: each is a copy of 256 bytes
    # before it, of which there are none. Seven bytes a block, so 3,000 blocks are 200 million
    # steps that lead nowhere.
    block = [(65535, 16), (0, 5), (0, 5), (0, 9), (509, 9), (0, 5), (20, 5)]
    streams = [bits(*block * 3000)] * 3
    assert "cut short, damaged" in refusal(hus([(1, 0)] * 400, streams=streams), "tag.hus")


def test_colours_drawn_by_chance_are_none() -> None:
    rows = [
        '"$","0","random","leaf"', '"*","0","STITCH","0","0"',
        '"*","1","STITCH","9","0"', '"*","2","END","9","0"',
    ]  # fmt: skip
    found = read("\n".join(rows).encode(), "tag.csv")
    assert [stop.colour for stop in found.stops] == [""]
