"""Habits of the stitch library that this project relies on or keeps clear of.

Each was measured with the pinned version. A test that fails after an upgrade says which
line of `paramgen/files` to look at again; nothing here was tried on a machine.
"""

import struct
from collections.abc import Callable
from importlib.metadata import version
from io import BytesIO, StringIO
from itertools import pairwise
from typing import Any

import pyembroidery as pe
import pytest
from files_designs import many_steps, outline, step

from paramgen.files import library
from paramgen.files.format_choice import formats_named
from paramgen.files.formats import FORMATS, Format
from paramgen.files.proven_files import write_stitch_files
from paramgen.layout.stop_colours import colour_of

Write = Callable[..., None]


def _pattern(*runs: list[tuple[int, int]], colours: tuple[str, ...] = ()) -> Any:
    """Runs with a break of colour between them."""
    pattern = pe.EmbPattern()
    for place, points in enumerate(runs):
        if colours:
            pattern.add_thread(pe.EmbThread(colours[place], f"thread {place}"))
        pattern.add_command(pe.COLOR_BREAK)
        pattern.add_stitch_absolute(pe.JUMP, *points[0])
        for x, y in points:
            pattern.add_stitch_absolute(pe.STITCH, x, y)
        pattern.add_command(pe.TRIM)
    return pattern


def _written(write: Write, pattern: Any, **settings: Any) -> bytes:
    stream = BytesIO()
    write(pattern, stream, settings)
    return stream.getvalue()


def _commands(pattern: Any, command: int) -> int:
    return sum(flags & pe.COMMAND_MASK == command for _, _, flags in pattern.stitches)


def _through(write: Write, read: Callable[..., Any], pattern: Any, **settings: Any) -> Any:
    return read(BytesIO(_written(write, pattern, **settings)))


def test_the_version_measured_is_the_version_installed() -> None:
    assert version("pyembroidery") == "1.5.1"


@pytest.mark.parametrize(
    ("name", "longest"),
    [("dst", 121), ("exp", 127), ("pes", 2047), ("jef", 127), ("vp3", 255), ("xxx", 123)],
)
def test_a_stitch_over_the_longest_becomes_moves_and_one_stitch(name: str, longest: int) -> None:
    write, read = getattr(pe, f"write_{name}"), getattr(pe, f"read_{name}")

    def read_as(length: int) -> tuple[list[tuple[float, float]], int]:
        back = _through(write, read, _pattern([(0, 0), (length, 0)]))
        sewn = [(x, y) for x, y, flags in back.stitches if flags & pe.COMMAND_MASK == pe.STITCH]
        return sewn, _commands(back, pe.JUMP)

    sewn, moves = read_as(longest)
    assert sewn == [(0, 0), (longest, 0)]
    if name != "vp3":  # There it is one record, which machines take for a move.
        assert read_as(longest + 1)[1] > moves


def test_a_long_line_given_by_its_ends_is_not_resampled() -> None:
    back = _through(pe.write_dst, pe.read_dst, _pattern([(0, 0), (500, 0)]))
    assert _commands(back, pe.STITCH) == 2
    assert _commands(back, pe.JUMP) >= 4  # 500 is four times 121 and some


def test_a_longest_xxx_stitch_reads_back_as_a_move() -> None:
    back = _through(pe.write_xxx, pe.read_xxx, _pattern([(0, 0), (124, 0)]))
    assert _commands(back, pe.STITCH) == 1


def test_xxx_takes_more_colours_than_it_has_slots_without_complaint() -> None:
    runs = [[(n, 0), (n + 9, 0)] for n in range(22)]
    colours = tuple(f"#0000{n:02x}" for n in range(22))
    twenty_two = _written(pe.write_xxx, _pattern(*runs, colours=colours))
    twenty_one = _written(pe.write_xxx, _pattern(*runs[:21], colours=colours[:21]))
    twenty = _written(pe.write_xxx, _pattern(*runs[:20], colours=colours[:20]))
    # A step is a change of colour, a move, two stitches and a cut; four bytes, four, two
    # each and four. Slots are filled, so only the last step makes the file longer by more.
    assert len(twenty_one) - len(twenty) == 16
    assert len(twenty_two) - len(twenty_one) == 16 + 4


def test_a_long_dst_label_spoils_the_stitches() -> None:
    pattern = _pattern([(0, 0), (50, 0)])
    pattern.metadata("name", "x" * 450)
    assert len(_written(pe.write_dst, pattern)) > len(_written(pe.write_dst, _pattern([(0, 0)])))
    assert _written(pe.write_dst, pattern)[512:515] != bytes.fromhex("00 00 83")


def test_dst_extents_of_the_library_have_lost_their_signs() -> None:
    # From x 40 to 140 and y 50 to 110, down: the path reaches 140 right and 110 down.
    data = _written(pe.write_dst, _pattern([(40, 50), (140, 50), (140, 110)]))
    assert data[38:74] == b"+X:  140\r-X:   40\r+Y:  110\r-Y:   50\r"


def test_exp_and_dst_hold_no_colours() -> None:
    for name in ("dst", "exp"):
        pattern = _pattern([(0, 0), (9, 0)], [(9, 9), (0, 9)], colours=("#8e2f4f", "#3f8f5a"))
        back = _through(getattr(pe, f"write_{name}"), getattr(pe, f"read_{name}"), pattern)
        assert _commands(back, pe.COLOR_CHANGE) == 1
        assert back.threadlist == []


def test_pes_1_makes_one_step_of_neighbours_of_one_colour() -> None:
    pattern = _pattern([(0, 0), (9, 0)], [(9, 9), (0, 9)], colours=("#8e2f4f", "#8e2f4f"))
    for thread in pattern.threadlist:
        thread.description = "same"
    for pes in (1, 6):
        back = _through(pe.write_pes, pe.read_pes, pattern, version=pes)
        assert _commands(back, pe.COLOR_CHANGE) == 0


def test_pes_6_keeps_neighbours_whose_colours_differ_at_all() -> None:
    pattern = _pattern([(0, 0), (9, 0)], [(9, 9), (0, 9)], colours=("#8e2f4f", "#8e2f50"))
    back = _through(pe.write_pes, pe.read_pes, pattern, version=6)
    assert [thread.hex_color() for thread in back.threadlist] == ["#8e2f4f", "#8e2f50"]


def test_pes_cuts_the_label_to_eight_letters() -> None:
    pattern = _pattern([(0, 0), (9, 0)])
    pattern.metadata("name", "seedpacket")
    assert b"LA:seedpack        \r" in _written(pe.write_pes, pattern, version=1)


def test_pes_stops_at_255_steps() -> None:
    runs = [[(n, 0), (n + 9, 0)] for n in range(256)]
    colours = tuple(f"#0000{n:02x}" for n in range(256))
    _written(pe.write_pes, _pattern(*runs[:255], colours=colours[:255]), version=1)
    with pytest.raises(AssertionError, match="too many color changes"):
        _written(pe.write_pes, _pattern(*runs, colours=colours), version=1)


def test_pes_gives_every_differently_described_thread_a_colour_of_its_own() -> None:
    # So the description must be the colour's, or the 64 of the chart are used up by stops.
    def chart(descriptions: list[str]) -> list[int]:
        pattern = pe.EmbPattern()
        for n, said in enumerate(descriptions):
            pattern.add_command(pe.COLOR_BREAK)
            pattern.add_thread(pe.EmbThread(colour_of(n + 1), said))
            pattern.add_stitch_absolute(pe.STITCH, n, 0)
            pattern.add_stitch_absolute(pe.STITCH, n, 9)
        data = _written(pe.write_pes, pattern, version=1)
        (block,) = struct.unpack("<I", data[8:12])
        # The count, less one, and the colours follow 48 bytes of label and blanks.
        assert data[block + 48] == len(descriptions) - 1
        return list(data[block + 49 : block + 49 + len(descriptions)])

    by_colour = chart([colour_of(n + 1) for n in range(160)])
    assert all(one != two for one, two in pairwise(by_colour))
    by_stop = chart([f"stop {n + 1}" for n in range(160)])
    assert any(one == two for one, two in pairwise(by_stop))


def test_pes_states_its_field_whatever_the_size() -> None:
    pattern = _pattern([(-800, -800), (800, 800)])
    # Version 1 says 1 for 130 × 180; version 6 says 100 × 100 after the five empty names.
    assert _written(pe.write_pes, pattern, version=1)[14:16] == b"\x01\x00"
    assert _written(pe.write_pes, pattern, version=6)[25:29] == struct.pack("<HH", 100, 100)


def test_an_unknown_pes_version_writes_nothing() -> None:
    assert _written(pe.write_pes, _pattern([(0, 0), (9, 0)]), version=4) == b""


def test_a_label_outside_ascii_moves_what_follows_it() -> None:
    plain, accented = _pattern([(0, 0), (9, 0)]), _pattern([(0, 0), (9, 0)])
    plain.metadata("name", "Tuetchen")
    accented.metadata("name", "Tütchenn")
    lengths = [len(_written(pe.write_pes, each, version=1)) for each in (plain, accented)]
    assert lengths[0] != lengths[1]


def test_jef_holds_the_date_it_is_given() -> None:
    data = _written(pe.write_jef, _pattern([(0, 0), (9, 0)]), date="20000101000000")
    assert data[8:22] == b"20000101000000"
    (file,) = write_stitch_files(many_steps(1), formats_named(["jef"]), "tag")
    assert file.data[8:22] == b"20000101000000"


@pytest.mark.parametrize(
    ("width", "height", "code"),
    [
        (499, 499, 1), (500, 499, 3), (1259, 1099, 3), (1260, 1099, 2), (1399, 1999, 2),
        (1400, 1999, 4), (1999, 1999, 4), (2000, 1999, 0), (1400, 2000, 0),
    ],
)  # fmt: skip
def test_jef_chooses_its_hoop_from_the_extents(width: int, height: int, code: int) -> None:
    data = _written(pe.write_jef, _pattern([(0, 0), (width, height)]))
    assert struct.unpack("<I", data[32:36]) == (code,)


def test_jef_makes_neighbours_of_near_colours_distinct() -> None:
    pattern = _pattern([(0, 0), (9, 0)], [(9, 9), (0, 9)], colours=("#8e2f4f", "#8e2f50"))
    one, two = _through(pe.write_jef, pe.read_jef, pattern, date="20000101000000").threadlist
    assert one != two


def test_vp3_shifts_steps_whose_middle_lies_between_grid_points() -> None:
    # 45 tenths wide: the middle is at 22.5, kept as 22. The second step starts where the first
    # ended, 44 - 22.5 = 21.5 right of it, kept as 21: one tenth too far left.
    steps = [step(1, [(0, 10), (44, 10)]), step(2, [(45, 10), (0, 12)])]
    pattern = _pattern(*[s.runs[0].needles.tolist() for s in steps])
    back = _through(pe.write_vp3, pe.read_vp3, pattern)
    last = [(x, y) for x, y, f in back.stitches if f & pe.COMMAND_MASK == pe.STITCH][-1]
    assert last == (-1, 12)
    (file,) = write_stitch_files(steps, formats_named(["vp3"]), "tag")
    read = library.read_back(file.data, file.format)
    assert read[1].needles.tolist() == [[45, 10], [0, 12]]


def test_a_trailing_colour_change_makes_an_empty_step_and_a_break_does_not() -> None:
    for command, changes in ((pe.COLOR_CHANGE, 1), (pe.COLOR_BREAK, 0)):
        pattern = _pattern([(0, 0), (9, 0)], colours=("#8e2f4f",))
        pattern.add_command(command)
        back = _through(pe.write_dst, pe.read_dst, pattern)
        assert _commands(back, pe.COLOR_CHANGE) == changes


def test_a_missing_thread_is_made_up_by_chance(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []

    def by_chance() -> Any:
        asked.append("a thread")
        return pe.EmbThread("#000000")

    monkeypatch.setattr(pe.EmbPattern, "get_random_thread", staticmethod(by_chance))
    _written(pe.write_vp3, _pattern([(0, 0), (9, 0)], [(9, 9), (0, 9)]))
    assert asked
    asked.clear()
    write_stitch_files(many_steps(8), formats_named(["pes", "pes1", "jef", "vp3", "xxx"]), "tag")
    assert not asked


def test_bounds_count_commands_where_they_were_put() -> None:
    pattern = pe.EmbPattern()
    pattern.add_stitch_absolute(pe.STITCH, 50, 60)
    pattern.add_command(pe.TRIM)
    assert pattern.bounds() == (0, 0, 50, 60)


def test_what_was_written_before_leaves_no_trace_in_a_file() -> None:
    # The library encodes once for all files with the same limits: written alone, each kind of
    # file must come out the same, its label too.
    # Moves of 30 and 250 mm are longer than each kind takes in one.
    steps = [step(n, outline((x, 0), 90, 70)) for n, x in enumerate((0, 300, 2800), 1)]
    kinds = [kind for kind in FORMATS if kind.name != "svg"]

    def alone(kind: Format) -> bytes:
        library._pattern.cache_clear()
        return library.encode(steps, kind, "seed tag")

    apart = {kind.name: alone(kind) for kind in kinds}
    library._pattern.cache_clear()
    for kind in (*kinds, *reversed(kinds)):
        assert library.encode(steps, kind, "seed tag") == apart[kind.name], kind.name
    other = [step(1, outline((0, 0), 90, 70)), step(2, outline((5, 5), 60, 50))]
    assert library.encode(other, kinds[0], "seed tag") != apart[kinds[0].name]


def test_a_writer_changes_no_stitch_of_what_it_is_given() -> None:
    # So the stitches encoded once may be given to the next writer.
    for kind in FORMATS:
        if kind.name != "svg":
            codec = library._CODECS[kind.name]
            pattern = _pattern([(0, 0), (9, 0), (9, 9)], [(9, 9), (0, 9)])
            pattern.threadlist = [pe.EmbThread(c, c) for c in ("#8e2f4f", "#2f4f8e")]
            before = [list(one) for one in pattern.stitches]
            stream = StringIO() if kind.name == "json" else BytesIO()
            codec.write(pattern, stream, dict(codec.settings) | {"encode": False})
            assert pattern.stitches == before, kind.name


def test_open_files_put_commands_where_the_needle_is() -> None:
    # Otherwise the extents stated in the table would reach to the middle of the hoop.
    (kind,) = formats_named(["csv"])
    text = library.encode([step(1, outline((40, 50), 100, 60))], kind, "tag").decode()
    for name, value in (("LEFT", 40), ("TOP", 50), ("RIGHT", 140), ("BOTTOM", 110)):
        assert f'"EXTENTS_{name}:","{value}"' in text


def test_a_table_does_not_quote_what_it_is_given() -> None:
    # So only labels and descriptions of plain letters may go in.
    pattern = _pattern([(0, 0), (9, 0)])
    pattern.metadata("name", 'a "b", c')
    assert b'"a "b", c"' in _written(pe.write_csv, pattern)
