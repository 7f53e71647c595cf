"""What goes in comes out of every format, byte for byte the same each time, or not at all."""

import hashlib
import os
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from files_designs import designs, many_steps, outline, step
from hypothesis import given, settings
from told import mends, says

from paramgen.files import library, needle_svg
from paramgen.files.format_choice import formats_named
from paramgen.files.formats import FORMATS, Format
from paramgen.files.proven_files import write_stitch_files
from paramgen.layout.stop_colours import colour_of
from paramgen.stitches.needle_points import SewnStep
from paramgen.vocabulary.findings import CannotMakeError, InputError, WriteError


def _format(name: str) -> Format:
    return formats_named([name])[0]


def _read(data: bytes, kind: Format) -> list[list[list[float]]]:
    read = (needle_svg if kind.name == "svg" else library).read_back(data, kind)
    return [each.needles.tolist() for each in read]


def _asked(steps: list[SewnStep]) -> list[list[list[int]]]:
    return [[point for run in s.runs for point in run.needles.tolist()] for s in steps]


@given(designs())
@settings(max_examples=25)
def test_every_format_gives_back_every_step_and_needle_point(steps: list[SewnStep]) -> None:
    files = write_stitch_files(steps, FORMATS, "tag")
    assert [each.format for each in files] == list(FORMATS)
    for each in files:
        assert _read(each.data, each.format) == _asked(steps)
        assert each.steps == len(steps)
        # Needle points less one for each run, as `SewnStep.stitch_count` has it.
        points = sum(len(read) for read in _read(each.data, each.format))
        assert each.stitches == points - sum(len(s.runs) for s in steps)
        assert each.sha256 == hashlib.sha256(each.data).hexdigest()


# The longest stitch of each format along either axis and both ways, from the table of
# limits that was measured with the library.
@pytest.mark.parametrize(
    ("name", "longest"),
    [("dst", 121), ("exp", 127), ("pes", 2047), ("pes1", 2047), ("jef", 127), ("vp3", 255),
     ("xxx", 123)],
)  # fmt: skip
def test_the_longest_stitch_is_sewn_and_one_longer_is_refused(name: str, longest: int) -> None:
    def star(reach: int) -> list[SewnStep]:
        ends = [(i * reach, j * reach) for i in (-1, 0, 1) for j in (-1, 0, 1)]
        spokes = [[(3, 4), (3 + x, 4 + y), (3, 4)] for x, y in ends]
        return [step(1, *spokes), step(2, *spokes[::-1])]

    kind = _format(name)
    assert kind.longest_stitch == longest
    (file,) = write_stitch_files(star(longest), [kind], "tag")
    assert _read(file.data, kind) == _asked(star(longest))
    with pytest.raises(CannotMakeError) as refused:
        write_stitch_files(star(longest + 1), [kind], "tag")
    (finding,) = refused.value.findings
    assert finding.stops
    assert f"the {name} file sews at most {longest / 10:.1f} mm" in says(finding)
    assert f"a stitch of {(longest + 1) / 10:.1f} mm" in says(finding)


@pytest.mark.parametrize(("name", "most"), [("pes", 255), ("pes1", 255), ("vp3", 255), ("xxx", 21)])
def test_the_most_steps_are_kept_and_one_more_is_refused(name: str, most: int) -> None:
    kind = _format(name)
    assert kind.most_steps == most
    (file,) = write_stitch_files(many_steps(most), [kind], "tag")
    assert file.steps == len(_read(file.data, kind)) == most
    with pytest.raises(CannotMakeError) as refused:
        write_stitch_files(many_steps(most + 1), [kind], "tag")
    (finding,) = refused.value.findings
    assert finding.stops
    assert says(finding) == (
        f"the {name} file holds at most {most} steps, and this project has {most + 1}"
    )


def test_dst_counts_changes_of_colour_in_three_digits() -> None:
    # Header field CO has 7 bytes in the published layout, 3 of them digits: 999 changes lie
    # between 1000 steps.
    (file,) = write_stitch_files(many_steps(1000), [_format("dst")], "tag")
    assert file.data[31:38] == b"CO:999\r"
    with pytest.raises(CannotMakeError) as refused:
        write_stitch_files(many_steps(1001), [_format("dst")], "tag")
    (finding,) = refused.value.findings
    assert says(finding).endswith("holds at most 1,000 steps, and this project has 1,001")


def test_a_refusal_names_the_formats_that_would_do() -> None:
    steps = many_steps(22)
    with pytest.raises(CannotMakeError) as refused:
        write_stitch_files(steps, [_format("xxx")], "tag")
    assert mends(refused.value.findings[0]) == (
        "These would carry it: dst, exp, pes, pes1, jef, vp3, csv, json, svg."
    )
    steps[4] = step(5, [(0, 0), (0, 300)], title="Tack-down of the pocket")
    with pytest.raises(CannotMakeError) as refused:
        write_stitch_files(steps, [_format("dst")], "tag")
    (finding,) = refused.value.findings
    assert says(finding) == (
        "the dst file sews at most 12.1 mm along either axis, and stop 5 "
        "(Tack-down of the pocket) has a stitch of 30 mm"
    )
    assert mends(finding) == (
        "Shorten that step's stitches. These would carry it: pes, pes1, csv, json, svg."
    )


def test_every_fault_of_every_format_is_told_at_once() -> None:
    steps = [*many_steps(21), step(22, [(0, 0), (0, 300)])]
    with pytest.raises(CannotMakeError) as refused:
        write_stitch_files(steps, FORMATS, "tag")
    assert [says(finding).split(" file ")[0] for finding in refused.value.findings] == [
        "the dst", "the exp", "the jef", "the vp3", "the xxx", "the xxx"
    ]  # fmt: skip


def test_a_project_without_stitches_is_refused() -> None:
    with pytest.raises(InputError, match="no step is stitched"):
        write_stitch_files([], FORMATS, "tag")


def test_a_step_that_would_vanish_is_a_fault_of_the_program() -> None:
    with pytest.raises(WriteError, match="Stop 2 has nothing to sew"):
        write_stitch_files([*many_steps(1), step(2)], FORMATS, "tag")


def test_neighbours_of_one_colour_are_a_fault_of_the_program() -> None:
    one, two = many_steps(2)
    with pytest.raises(WriteError, match="Stops 1 and 2 have one colour"):
        write_stitch_files([one, replace(two, colour=one.colour.upper())], FORMATS, "tag")


def test_a_file_that_reads_back_differently_is_not_written(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    steps = [step(1, outline((0, 0), 90, 60)), step(2, outline((10, 10), 70, 40))]
    honest = library.encode

    def shifted(steps: list[SewnStep], kind: Format, label: str) -> bytes:
        needles = steps[1].runs[0].needles + np.array([0, 0])
        needles[2] += (1, -3)
        run = replace(steps[1].runs[0], needles=needles)
        return honest([steps[0], replace(steps[1], runs=(run,))], kind, label)

    monkeypatch.setattr(library, "encode", shifted)
    with pytest.raises(WriteError, match=r"jef .* point 3 of stop 2 is at \(8.1, 4.7\) mm inst"):
        write_stitch_files(steps, [_format("jef")], "tag")

    monkeypatch.setattr(library, "encode", lambda s, kind, label: honest(s[:1], kind, label))
    with pytest.raises(WriteError, match=r"dst .* 1 steps instead of 2"):
        write_stitch_files(steps, [_format("dst")], "tag")

    extra = replace(steps[0], runs=steps[0].runs * 2)
    monkeypatch.setattr(library, "encode", lambda _, kind, label: honest([extra], kind, label))
    with pytest.raises(WriteError, match=r"vp3 .* stop 1 has 10 needle points instead of 5"):
        write_stitch_files(steps[:1], [_format("vp3")], "tag")

    other = [replace(steps[0], colour="#123456")]
    monkeypatch.setattr(library, "encode", lambda _, kind, label: honest(other, kind, label))
    with pytest.raises(WriteError, match=r"xxx .* stop 1 is coloured #123456 instead of"):
        write_stitch_files(steps[:1], [_format("xxx")], "tag")


@pytest.mark.parametrize("title", ["Saatgut-Tütchen", "種の袋", 'a "quoted", title', "x" * 900, ""])
def test_any_title_is_safe_in_every_format(title: str) -> None:
    steps = [step(1, outline((0, 0), 90, 60), title=title), step(2, outline((9, 9), 70, 40))]
    for file in write_stitch_files(steps, FORMATS, title):
        assert _read(file.data, file.format) == _asked(steps)


def test_file_names_of_one_project_all_differ() -> None:
    assert len({kind.ending for kind in FORMATS}) == len(FORMATS)


_PRINT_HASHES = """
from files_designs import many_steps
from paramgen.files.formats import FORMATS
from paramgen.files.proven_files import write_stitch_files
print([file.sha256 for file in write_stitch_files(many_steps(21), FORMATS, "seed packet")])
"""


def test_the_same_steps_give_the_same_bytes_in_any_process() -> None:
    def start(seed: str) -> subprocess.Popen[str]:
        paths = os.pathsep.join(path for path in sys.path if path)
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": paths}
        command = [sys.executable, "-c", _PRINT_HASHES]
        return subprocess.Popen(command, env=env, stdout=subprocess.PIPE, text=True)

    processes = [start("1"), start("4242")]
    printed = [process.communicate()[0].strip() for process in processes]
    here = write_stitch_files(many_steps(21), FORMATS, "seed packet")
    assert printed == [str([file.sha256 for file in here])] * 2


def test_colours_of_steps_are_kept_where_the_format_keeps_them() -> None:
    steps = many_steps(20)
    for kind in FORMATS:
        codec = needle_svg if kind.name == "svg" else library
        read = codec.read_back(codec.encode(steps, kind, "tag"), kind)
        kept = [each.colour for each in read] == [colour_of(n) for n in range(1, 21)]
        assert kept == kind.keeps_colours, kind.name
