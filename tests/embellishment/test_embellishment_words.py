"""Words on panels: as high as they can be sewn, fitted, clear of everything, exact to the grid."""

import math
import re

import numpy as np
import pytest
import shapely
from adorned import PANELS, adorned, found_of, needles, own_lines, sewn_stops
from adorned_clear import check_clear

from paramgen.embellishment.letter_heights import (
    PEN,
    height_in_width,
    least_height,
    words_set,
)
from paramgen.embellishment.satin_column import LEAST_WIDTH, Satin
from paramgen.embellishment.satin_letters import satin_letters
from paramgen.embellishment.single_line_letters import LONGEST, single_line_letters
from paramgen.letters.kerning import outline
from paramgen.rehearsal.rehearsal_limits import CROWD, CROWD_WITHIN
from paramgen.stitches.spacing import LEAST_STITCH, on_grid
from paramgen.vocabulary.facts import Mm, MmByMm
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said

TEXT = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789äßçğłøÆŤ&?!€"


def words_on(text: str, recipe: str = "fold-wallet", panel: str = "lower outer") -> Project:
    return adorned(recipe, f"{panel}=words:{text}")


def refusal(project: Project) -> str:
    (found,) = [one for one in found_of(project) if one.stops]
    return " ".join(said(found, Unit.MM))


def size_of(points: FloatArray) -> tuple[float, float]:
    width, height = np.ptp(points, axis=0).tolist()
    return float(width), float(height)


def test_the_lowest_satin_is_as_wide_as_the_narrowest_that_can_be_sewn() -> None:
    # Strokes of 0.14 of the height; at least 1.0 mm (common practice): 1.0 / 0.14 = 7.14 mm.
    least = least_height(satin=True)
    assert (least - 0.1) * PEN < LEAST_WIDTH <= least * PEN
    assert least == pytest.approx(7.2)


def test_the_lowest_single_line_has_stitches_that_can_be_sewn() -> None:
    # The bowl of a small letter is 0.66 × 5 = 3.3 mm high and 2.8 to 3.0 wide: some π × 3.1 = 9.7
    # round, in stitches that turn by 26° or less, so 14 of 0.7 mm: none is under 0.4.
    runs = single_line_letters(words_set(TEXT, least_height(satin=False), False, None))
    shortest = min(float(np.hypot(*np.diff(run, axis=0).T).min()) for run in runs)
    assert shortest >= 0.5
    o_runs = single_line_letters(words_set("o", 5.0, False, None))
    lengths = np.hypot(*np.diff(o_runs[0], axis=0).T)
    assert lengths.mean() == pytest.approx(0.7, abs=0.1)


@pytest.mark.parametrize("height", [7.2, 14.0])
def test_every_letter_in_satin_can_be_sewn(height: float) -> None:
    for letter in TEXT:
        set_out = words_set(letter, height, True, None)
        runs = satin_letters(set_out, Satin(width=height * PEN))
        crowd, shortest = _worst(runs)
        assert shortest >= LEAST_STITCH - 1e-9, letter
        # Rounding may bring one more together in a letter or two of all.
        assert crowd <= CROWD, letter
        box = np.concatenate(runs)
        half = np.array([set_out.box.width, set_out.box.height]) / 2 + 0.15 + height * PEN
        assert (np.abs(box) <= half).all(), letter


@pytest.mark.parametrize("height", [5.0, 12.0])
def test_every_letter_in_a_single_line_is_sewn_on_its_strokes(height: float) -> None:
    for letter in TEXT:
        set_out = words_set(letter, height, False, None)
        runs = single_line_letters(set_out)
        crowd, shortest = _worst(runs)
        assert shortest >= LEAST_STITCH - 1e-9, letter
        assert crowd < CROWD, letter
        strokes = shapely.union_all([s.line for one in set_out.letters for s in one.strokes])
        points = np.concatenate(runs)
        # Dots are drawn out to a dash of 1 mm, up to 0.5 mm past their stroke.
        off = shapely.distance(shapely.points(points), strokes)
        assert (off > 1e-3).sum() <= 6, letter
        assert off.max() <= 0.5, letter
        # Where strokes meet a needle point may be left out: a stitch of the way back then cuts
        # across a curve by a thread's width or so.
        middles = np.concatenate([(run[1:] + run[:-1]) / 2 for run in runs])
        assert shapely.distance(shapely.points(middles), strokes).max() <= 0.6, letter
        lengths = np.concatenate([np.hypot(*np.diff(run, axis=0).T) for run in runs])
        assert np.median(lengths) <= LONGEST, letter


def _worst(runs: tuple[FloatArray, ...]) -> tuple[int, float]:
    """Most needle points close together on the grid, and the shortest stitch."""
    sewn = [on_grid(run) / 10 for run in runs]
    points = np.concatenate(sewn)
    apart = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1))
    shortest = min(float(np.hypot(*np.diff(run, axis=0).T).min()) for run in sewn)
    return int((apart <= CROWD_WITHIN).sum(axis=1).max()), shortest


@pytest.mark.parametrize("letter", ["A", "B", "E", "T", "e", "g", "ø", "8"])
def test_the_thread_of_a_letter_is_not_cut_and_lies_under_it(letter: str) -> None:
    # Every stitch of a letter lies within what it covers, but for the curve that a stitch cuts
    # across: no move lies bare.
    set_out = words_set(letter, 20.0, True, None)
    runs = satin_letters(set_out, Satin(width=20.0 * PEN, pull=0.0))
    assert len(runs) == 1
    scale = (20.0 - set_out.pen) / 100
    area = shapely.affinity.scale(
        outline(letter, 100 * PEN / (1 - PEN)), scale, scale, origin=(0, 0)
    )
    left, top, right, bottom = area.bounds
    area = shapely.affinity.translate(area, -(left + right) / 2, -(top + bottom) / 2)
    assert shapely.LineString(runs[0]).difference(area.buffer(0.35)).length < 1.0


def test_words_fitted_to_a_width_are_as_wide() -> None:
    for style in ("satin", "single line"):
        points = needles(words_on(f'"SEED SWAP",{style},width 90mm'), "words")
        pull = 0.3 if style == "satin" else 0.0
        assert size_of(points)[0] == pytest.approx(90.0 + pull, abs=0.2)


def test_words_are_as_high_as_asked() -> None:
    # Satin stands out by half of what is added for the pull, 0.15 mm, at the sides of its
    # columns; of the bars of an E, above and below.
    points = needles(words_on('"E",12mm'), "words")
    assert size_of(points)[1] == pytest.approx(12.3, abs=0.15)


def test_words_grow_with_the_panel_and_their_stitches_stay() -> None:
    small, large = (
        adorned("fold-wallet", 'lower outer=words:"BASIL"', width=width)
        for width in ("110mm", "150mm")
    )
    sizes = [size_of(needles(one, "words")) for one in (small, large)]
    assert sizes[1][0] > sizes[0][0]
    for one in (small, large):
        (line,) = own_lines(one, "words")
        edges = [np.hypot(*np.diff(path.points, axis=0).T) for path in line.paths]
        assert max(float(one.max()) for one in edges) <= 7.0 + 1e-6


def heights_told(text: str, widths: range) -> list[float]:
    """How high words are on wallets of some widths, where they are not too low, as a step says."""
    wallets = [
        adorned("fold-wallet", f'lower outer=words:"{text}"', width=f"{width}mm")
        for width in widths
    ]
    said = [step.say for one in wallets for step in one.steps if step.title.startswith("Stitch “")]
    return [float(found[1]) for one in said if (found := re.search(r"capitals ([\d.]+) mm", one))]


def test_words_of_which_no_height_is_said_are_a_whole_number_of_half_millimetres_high() -> None:
    heights = heights_told("SEED SWAP", range(110, 131, 4))
    assert len(heights) == 6
    assert all(7.2 <= one < 20.0 and 2 * one == round(2 * one) for one in heights)


def test_no_words_are_made_too_low_for_that() -> None:
    # On wider and wider wallets they come to 7.2 mm at some width, and are sewn from there on.
    heights = heights_told("SEED SWAP AT THE SHED", range(130, 190, 2))
    assert 7.2 <= heights[0] < 7.5
    assert len(heights) < 30


@pytest.mark.parametrize(("recipe", "panel"), PANELS)
@pytest.mark.parametrize("style", ["satin", "single line"])
def test_words_keep_clear_of_everything_on_any_panel(recipe: str, panel: str, style: str) -> None:
    project = words_on(f'"Fig",{style}', recipe, panel)
    if any(one.stops for one in found_of(project)):
        # Too little room for letters that can be sewn, or none.
        assert "high" in refusal(project) or "has no clear room" in refusal(project)
        return
    check_clear(project, panel, needles(project, "words"))


def test_needle_points_in_the_hoop_are_where_they_are_worked_out_to_the_grid() -> None:
    # What is sewn and what was drawn: off by rounding alone, 0.05 mm along each axis.
    project = words_on('"Fig & plum",turn 20')
    (line,) = own_lines(project, "words")
    drawn = {tuple(path.points[at]) for path in line.paths for at in range(len(path.points))}
    exact = shapely.STRtree([shapely.Point(one) for one in sorted(drawn)])
    points = []
    for step in sewn_stops(project, "words"):
        for run in step.runs:
            first, last = run.ties
            points.append(run.needles[first : len(run.needles) - last] * 0.1)
    sewn = np.concatenate(points)
    near = 0.05 + 1e-6
    round_each = shapely.box(*(sewn - near).T, *(sewn + near).T)
    has_one = np.unique(exact.query(round_each, predicate="intersects")[0])
    assert len(has_one) == len(sewn)
    assert len(sewn) == sum(len(path.points) for path in line.paths)


def test_too_low_is_refused_with_the_height_and_the_width_that_are_enough() -> None:
    project = words_on('"SEED SWAP FOR ALL",width 40mm')
    (found,) = [one for one in found_of(project) if one.stops]
    known = dict(found.facts)
    assert found.key == "words-too-low.satin"
    assert known["needs"] == Mm(least_height(satin=True), "up")
    width = known["width"]
    assert isinstance(width, Mm)
    assert height_in_width("SEED SWAP FOR ALL", width.value, True, None) == pytest.approx(7.2)
    assert "SEED SWAP FOR ALL" in refusal(project)
    enough = words_on(f'"SEED SWAP FOR ALL",width {math.ceil(width.value)}mm')
    assert not [one for one in found_of(enough) if one.stops]
    lower = words_on('"SEED SWAP FOR ALL",width 50mm,single line')
    assert [one.key for one in found_of(lower) if one.stops] == ["words-too-low.single-line"]


def test_no_room_is_told_with_the_room_there_is_and_that_is_enough() -> None:
    project = words_on('"BASIL",60mm')
    (found,) = [one for one in found_of(project) if one.stops]
    has, needs = dict(found.facts)["has"], dict(found.facts)["needs"]
    assert isinstance(has, MmByMm)
    assert isinstance(needs, MmByMm)
    assert has.width / has.height == pytest.approx(needs.width / needs.height)
    fits = 60.0 * has.width / needs.width
    assert not [one for one in found_of(words_on(f'"BASIL",{fits - 0.5:.2f}mm')) if one.stops]
    assert [one for one in found_of(words_on(f'"BASIL",{fits + 1.0:.2f}mm')) if one.stops]


def test_the_radius_that_is_named_is_enough() -> None:
    project = words_on('"Basil basil",10mm,arc 12mm')
    (found,) = [one for one in found_of(project) if one.stops]
    needs = dict(found.facts)["needs"]
    assert isinstance(needs, Mm)
    again = words_on(f'"Basil basil",10mm,arc {math.ceil(needs.value)}mm')
    assert "words-bent-too-much" not in [one.code for one in found_of(again)]


@pytest.mark.parametrize(
    ("asked", "said_of_it"),
    [
        ('"a✂日"', "✂ 日"),
        ("8mm", "no words are said"),
    ],
)
def test_words_that_cannot_be_are_refused(asked: str, said_of_it: str) -> None:
    assert said_of_it in refusal(words_on(asked))


def test_two_words_on_one_panel_keep_clear_of_each_other() -> None:
    on = 'lower outer=words:"FIG",12mm,top;lower outer=words:"PLUM",12mm,top'
    first, second = own_lines(adorned("fold-wallet", on), "words")
    shapes = [shapely.MultiLineString([one.line for one in line.paths]) for line in (first, second)]
    assert shapes[0].distance(shapes[1]) >= 3.0 - 1e-6
