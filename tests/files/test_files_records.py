"""DST and EXP files, read by decoders that owe nothing to the library that writes them."""

from itertools import pairwise

import decode_dst
import decode_exp
import numpy as np
import pytest
from decode_dst import Record
from files_designs import designs, outline, step
from hypothesis import given, settings

from paramgen.files import library
from paramgen.files.format_choice import formats_named
from paramgen.stitches.needle_points import SewnStep

DST, EXP = formats_named(["dst", "exp"])


def _work(records: list[Record]) -> list[list[list[tuple[int, int]]]]:
    """Needle points by step and by run, y down; a run ends where the machine moves or cuts."""
    x = y = 0
    steps: list[list[list[tuple[int, int]]]] = [[]]
    sewing = False
    for record in records:
        x, y = x + record.dx, y - record.dy
        if record.kind == "stop":
            steps.append([])
        if record.kind == "stitch":
            if not sewing:
                steps[-1].append([])
            steps[-1][-1].append((x, y))
        sewing = record.kind == "stitch"
    return steps


def _asked(steps: list[SewnStep]) -> list[list[list[tuple[int, int]]]]:
    return [[[tuple(point) for point in run.needles.tolist()] for run in s.runs] for s in steps]


@given(designs())
@settings(max_examples=40)
def test_needle_points_in_dst_and_exp_are_those_asked_for(steps: list[SewnStep]) -> None:
    dst = decode_dst.records(library.encode(steps, DST, "tag"))
    exp = decode_exp.records(library.encode(steps, EXP, "tag"))
    assert _work(dst) == _asked(steps)
    assert _work(exp) == _asked(steps)


@given(designs())
@settings(max_examples=40)
def test_the_machine_sews_nothing_on_its_way_between_runs(steps: list[SewnStep]) -> None:
    # All it sews is a stitch in place at the start of each run and the stitches asked for.
    wanted = []
    for sewn in steps:
        for run in sewn.runs:
            wanted.append((0, 0))
            wanted += [(dx, -dy) for dx, dy in np.diff(run.needles, axis=0).tolist()]
    dst = decode_dst.records(library.encode(steps, DST, "tag"))
    exp = decode_exp.records(library.encode(steps, EXP, "tag"))
    for records in (dst, exp):
        assert [(r.dx, r.dy) for r in records if r.kind == "stitch"] == wanted


def test_y_is_up_in_the_file_and_down_in_the_project() -> None:
    steps = [step(1, [(0, 0), (0, 100)])]  # 10 mm towards the person
    assert Record("stitch", 0, -100) in decode_dst.records(library.encode(steps, DST, ""))
    assert Record("stitch", 0, -100) in decode_exp.records(library.encode(steps, EXP, ""))


def test_thread_is_cut_after_every_run() -> None:
    steps = [step(1, [(0, 0), (20, 0)], [(50, 0), (70, 0)]), step(2, [(0, 9), (20, 9)])]
    exp = decode_exp.records(library.encode(steps, EXP, ""))
    last_stitches = [one for one, two in pairwise(exp) if two.kind == "trim"]
    assert [each.kind for each in last_stitches] == ["stitch"] * 3
    # DST has no cut: three moves that end where they began say so (common practice, no
    # source).
    dst = decode_dst.records(library.encode(steps, DST, ""))
    kinds = "".join(each.kind[0] for each in dst if each.kind != "stop")
    in_place = [
        at
        for at in range(len(dst) - 2)
        if [each.kind for each in dst[at : at + 3]] == ["jump"] * 3
        and sum(each.dx for each in dst[at : at + 3]) == 0
        and sum(each.dy for each in dst[at : at + 3]) == 0
        and dst[at].dx != 0
    ]
    assert len(in_place) == 3, kinds


# Extents: the reach of the needle's path from its start, right, left, up and down, in
# tenths of a millimetre; 30 × 20 mm boxes, so the arithmetic is at a glance.
@pytest.mark.parametrize(
    ("corner", "extents"),
    [
        ((-150, -100), {"+X": "150", "-X": "150", "+Y": "100", "-Y": "100"}),  # centred
        ((-200, -100), {"+X": "100", "-X": "200", "+Y": "100", "-Y": "100"}),  # to the left
        ((-150, -190), {"+X": "150", "-X": "150", "+Y": "190", "-Y": "10"}),  # towards the top
        ((-150, 0), {"+X": "150", "-X": "150", "+Y": "0", "-Y": "200"}),  # from the middle down
        ((40, 50), {"+X": "340", "-X": "0", "+Y": "0", "-Y": "250"}),  # all in one quarter
        ((-400, -300), {"+X": "0", "-X": "400", "+Y": "300", "-Y": "0"}),  # in another
    ],
)
def test_dst_header_states_the_true_extents(
    corner: tuple[int, int], extents: dict[str, str]
) -> None:
    x, y = corner
    half = [(x, y), (x + 100, y), (x + 200, y), (x + 300, y), (x + 300, y + 100)]
    other = [(x + 300, y + 200), (x + 200, y + 200), (x + 100, y + 200), (x, y + 200)]
    data = library.encode([step(1, half), step(2, [*other, (x, y + 100), (x, y)])], DST, "tag")
    header = decode_dst.header(data)
    assert {name: header[name] for name in extents} == extents


@given(designs())
@settings(max_examples=40)
def test_dst_extents_are_those_of_the_records_that_follow(steps: list[SewnStep]) -> None:
    data = library.encode(steps, DST, "tag")
    x = y = 0
    reached = [(0, 0)]
    for record in decode_dst.records(data):
        x, y = x + record.dx, y + record.dy
        if record.kind == "stitch":
            reached.append((x, y))
    across, up = zip(*reached, strict=True)
    header = decode_dst.header(data)
    assert [int(header[name]) for name in ("+X", "-X", "+Y", "-Y")] == [
        max(across), -min(across), max(up), -min(up)
    ]  # fmt: skip


def test_dst_header_has_its_published_shape() -> None:
    data = library.encode([step(1, outline((0, 0), 100, 60))], DST, "seed packet")
    assert decode_dst.header(data)["LA"] == "seed pac"
    assert decode_dst.header(data)["CO"] == "0"
    # LA 20 bytes, ST 11, CO 7, four extents of 9; then AX, AY, MX, MY and PD of 10 each (from
    # memory): 124, and the closing 0x1A makes 125 bytes used.
    assert data[124:125] == b"\x1a"
    assert set(data[125:512]) == {0x20}


def test_exp_has_no_header() -> None:
    assert library.encode([step(1, [(0, 0), (5, -7)])], EXP, "tag")[:2] == bytes([0x80, 0x04])
