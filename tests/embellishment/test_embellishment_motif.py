"""Motifs: read from stitch files, placed, turned, mirrored, a tenth larger or smaller at most.

The stitch files are written here with the stitch library, from places given in the test.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pyembroidery as pe
import pytest
from adorned import found_of, own_lines, own_steps
from adorned_clear import check_clear

from paramgen.embellishment.motif_stitches import LONGEST_STITCH, MotifStitches, placed_runs
from paramgen.embellishment.read_embellishment import embellishments_asked
from paramgen.layout.lay_out import lay_out
from paramgen.ordering.embellishments_typed import embellishments_typed, read_motif
from paramgen.reading.read_motif import motif_of
from paramgen.recipe.read_recipe import find_recipe
from paramgen.sizing import size
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

#: A triangle in one colour, and a bar in two runs in another; tenths of a millimetre, y down.
TRIANGLE = [(0, 0), (30, 0), (60, 0), (60, 40), (30, 20), (0, 0)]
BARS = [[(100, 0), (100, 20), (100, 40)], [(140, 40), (140, 20), (140, 0)]]
COLOURS = (0x208040, 0xC03020)
KINDS = ("dst", "exp", "pes", "vp3", "jef", "xxx")


def written(kind: str, folder: Path) -> Path:
    pattern = pe.EmbPattern()
    for colour in COLOURS:
        pattern.add_thread({"color": colour})
    pattern.add_stitch_absolute(pe.JUMP, *TRIANGLE[0])
    for x, y in TRIANGLE:
        pattern.add_stitch_absolute(pe.STITCH, x, y)
    pattern.add_command(pe.COLOR_BREAK)
    for run in BARS:
        pattern.add_command(pe.TRIM)
        pattern.add_stitch_absolute(pe.JUMP, *run[0])
        for x, y in run:
            pattern.add_stitch_absolute(pe.STITCH, x, y)
    pattern.add_command(pe.END)
    file = folder / f"leaf.{kind}"
    pe.write(pattern, str(file))
    return file


@pytest.fixture
def leaf(tmp_path: Path) -> MotifStitches:
    return read_motif(str(written("dst", tmp_path)))


@pytest.mark.parametrize("kind", KINDS)
def test_a_motif_is_read_from_any_kind_with_its_stops_and_places(kind: str, tmp_path: Path) -> None:
    found = read_motif(str(written(kind, tmp_path)))
    assert len(found.stops) == 2
    # 14 mm wide and 4 high, about its middle: (0, 0) comes to (-7, -2).
    box = found.box
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx((-7.0, -2.0, 7.0, 2.0))
    triangle = np.concatenate(found.stops[0].runs)
    expected = np.array(TRIANGLE) / 10 - (7.0, 2.0)
    assert np.unique(triangle.round(6), axis=0) == pytest.approx(np.unique(expected, axis=0))
    bars = np.concatenate(found.stops[1].runs)
    assert sorted({float(x) for x in bars[:, 0].round(6)}) == [3.0, 7.0]


def test_colours_that_a_kind_keeps_are_kept(tmp_path: Path) -> None:
    found = read_motif(str(written("vp3", tmp_path)))
    assert [stop.colour for stop in found.stops] == ["#208040", "#c03020"]


def test_a_motif_is_turned_mirrored_and_made_larger_about_its_middle(
    leaf: MotifStitches,
) -> None:
    # The corner at (-7, -2): a tenth larger (-7.7, -2.2); turned by 90° clockwise, y down, it
    # comes to (2, -7); mirrored first, to (7, -2), and then turned, to (2, 7).
    def has(x: float, y: float, **way: float | bool) -> bool:
        points = np.concatenate([run for stop in placed_runs(leaf, **way) for run in stop])  # type: ignore[arg-type]
        return bool(np.hypot(*(points - (x, y)).T).min() < 1e-6)

    assert has(-7.0, -2.0)
    assert has(-7.7, -2.2, percent=110.0)
    assert has(2.0, -7.0, turn=90.0)
    assert has(7.0, -2.0, mirrored=True)
    assert has(2.0, 7.0, mirrored=True, turn=90.0)
    # The notch of the triangle, (3, 2) in the file, lies at (-4, 0): mirrored and then turned at
    # (0, 4), and turned alone at (0, -4).
    assert has(0.0, 4.0, mirrored=True, turn=90.0)
    assert not has(0.0, -4.0, mirrored=True, turn=90.0)
    assert has(0.0, -4.0, turn=90.0)


def test_stitches_stay_as_many_and_none_is_longer_than_files_carry(tmp_path: Path) -> None:
    pattern = pe.EmbPattern()
    pattern.add_thread({"color": 0})
    for x in (0, 115, 230):
        pattern.add_stitch_absolute(pe.STITCH, x, 0)
    pattern.add_command(pe.END)
    file = tmp_path / "long.csv"
    pe.write(pattern, str(file))
    found = read_motif(str(file))
    lengths = [np.hypot(*np.diff(run, axis=0).T) for ((run,),) in [placed_runs(found, percent=110)]]
    # 11.5 mm are 12.65 when a tenth longer: two of 6.325 each.
    assert lengths[0] == pytest.approx(6.325)
    assert lengths[0].max() <= LONGEST_STITCH


@pytest.mark.parametrize("percent", ["89", "111", "200"])
def test_more_than_a_tenth_is_refused(percent: str) -> None:
    with pytest.raises(InputError, match="outside 90 to 110"):
        embellishments_asked(f'top=motif:"leaf.dst",percent {percent}')


def on_wallet(leaf: MotifStitches, options: str = "") -> Project:
    (one,) = embellishments_asked(f'lower outer=motif:"leaf.dst"{options}')
    recipe = replace(find_recipe("fold-wallet"), on=(replace(one, motif=leaf),))
    return lay_out(size(recipe, {}, unit=Unit.MM))


def test_each_of_its_stops_is_a_stop(leaf: MotifStitches) -> None:
    project = on_wallet(leaf, ",percent 105,turn 30,mirrored,bottom")
    steps = own_steps(project, "motif")
    assert [step.title for step in steps] == [
        "Stitch the motif, 1 of 2",
        "Stitch the motif, 2 of 2",
    ]
    assert len({step.colour for step in steps}) == 2
    points = np.concatenate([p.points for line in own_lines(project, "motif") for p in line.paths])
    check_clear(project, "lower outer", points)


def test_no_room_for_it_is_told(leaf: MotifStitches) -> None:
    large = replace(
        leaf,
        stops=tuple(
            replace(stop, runs=tuple(run * 20 for run in stop.runs)) for stop in leaf.stops
        ),
    )
    (found,) = [one for one in found_of(on_wallet(large)) if one.stops]
    assert found.code == "embellishment-no-room"


def test_what_cannot_be_read_is_told_with_every_other_fault(tmp_path: Path) -> None:
    broken = tmp_path / "broken.dst"
    broken.write_bytes(written("dst", tmp_path).read_bytes()[:-6])
    on = f'top=motif:"{broken}";back=motif;top=motif:"{tmp_path / "none.pes"}"'
    with pytest.raises(InputError) as problem:
        embellishments_typed(on)
    said = [str(one) for one in problem.value.faults]
    assert len(said) == 3
    assert any("no stitch file is named" in one for one in said)
    assert any("there is no such stitch file" in one for one in said)


def test_an_order_without_what_the_file_holds_is_refused() -> None:
    recipe = replace(
        find_recipe("fold-wallet"), on=embellishments_asked('lower outer=motif:"leaf.dst"')
    )
    project = lay_out(size(recipe, {}, unit=Unit.MM))
    assert [one.key for one in found_of(project) if one.stops] == ["motif-refused.not-read"]


@pytest.mark.parametrize("data", [b"", b"\x00" * 700, b"GIF89a" + b"\x00" * 900, b"x,y\n" * 50])
@pytest.mark.parametrize("kind", [*KINDS, "csv", "json", "svg"])
def test_whatever_a_file_holds_is_a_motif_or_a_fault(data: bytes, kind: str) -> None:
    try:
        found = motif_of(data, f"some.{kind}")
    except InputError:
        return
    assert found.stops
