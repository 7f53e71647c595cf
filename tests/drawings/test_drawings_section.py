"""The section through the layers, against arithmetic on the recipes' declared sizes."""

from functools import lru_cache
from itertools import combinations

import pytest
import shapely
from drawings_read import clipped, of_style, overlapping, words
from finished_things import altered
from finished_things import sewn as worked
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.pictures.section import crossings, runs, section, section_line
from paramgen.drawings.primitives.items import Drawing, Shape, Style
from paramgen.lengths import show_both
from paramgen.recipe.read_recipe import listed
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.vocabulary.unit import Unit

#: Seam line 126 × 174 mm, its halves 87; pockets 54 and 54 + (87 − 54) / 2 = 70.5 deep.
WALLET = {"front_depth": "54mm", "most_stagger": "30mm", "tab_cut": "84mm"}


@lru_cache
def wallet() -> Rehearsed:
    return worked("fold-wallet", WALLET)


@lru_cache
def drawn() -> Drawing:
    return section(wallet())


def widths(drawing: Drawing, style: Style) -> list[float]:
    bounds = [shape.path.bounds for shape in of_style(drawing, style)]
    return [right - left for left, _, right, _ in bounds]


def folds(drawing: Drawing) -> list[Shape]:
    """The round ends of folded pieces: a plain sheet has four corners."""
    return [shape for shape in of_style(drawing, Style.SHEET) if len(shape.path.points) > 4]


def test_a_section_runs_where_the_recipe_says_or_down_the_middle_past_the_seam() -> None:
    # The recipe's: from 18 mm past the seam line at −87 to 18 mm past it at 87.
    assert list(section_line(wallet()).coords) == [(0.0, -105.0), (0.0, 105.0)]
    (ax, ay), (bx, by) = section_line(worked("coaster")).coords
    assert ax == bx == 0.0
    assert ay < -54.5 < 54.5 < by


def test_every_sheet_is_cut_where_it_lies() -> None:
    done = wallet()
    found = {
        (done.sandwich.sheets[run.sheet].title, round(run.start + run.end)): (run.start, run.end)
        for run in runs(done, section_line(done))
    }
    starts = {title: ends for (title, _), ends in sorted(found.items(), reverse=True)}
    # The section starts at −105. The upper pocket 1 folds 54 mm below the seam line at −87.
    assert starts["pocket 1"][1] == pytest.approx(18 + 54)
    assert starts["pocket 2"][1] == pytest.approx(18 + 70.5)
    # The tab: 5 mm past the lower seam line, half of 84 mm long.
    assert starts["tab"] == pytest.approx((18 + 174 + 5 - 42, 18 + 174 + 5))
    # The lower pocket 1 folds 54 mm above the seam line at 87.
    assert any(
        title == "pocket 1" and ends[0] == pytest.approx(18 + 174 - 54)
        for (title, _), ends in found.items()
    )


def test_sheets_that_lie_over_each_other_are_drawn_over_each_other_in_their_order() -> None:
    for name in (
        "fold-wallet",
        "zip-pouch",
        "coaster",
        "plant-tag",
        "flap-sleeve",
        "notebook-cover",
    ):
        done = worked(name)
        for one, other in combinations(runs(done, section_line(done)), 2):
            if min(one.end, other.end) - max(one.start, other.start) > 0.1:
                low, high = sorted((one, other), key=lambda run: run.sheet)
                assert low.level < high.level


def test_every_piece_folded_double_ends_round_at_its_fold() -> None:
    # Two outer pieces, two pockets at each end, and the tab.
    assert len(folds(drawn())) == 2 + 2 * 2 + 1
    assert len(folds(section(worked("coaster")))) == 0
    # Two fronts and two linings; the loop lies beside the section.
    assert len(folds(section(worked("zip-pouch")))) == 4
    # The round end reaches to the fold itself: the upper pocket 1's, at 18 + 54.
    assert any(shape.path.bounds[2] == pytest.approx(72.0) for shape in folds(drawn()))


def test_a_hem_is_joined_to_its_piece_by_a_fold_and_turned_in_twice_by_another() -> None:
    done = worked("fold-wallet", {**WALLET, "layers": "single", "pocket_hem": "12mm"})
    drawing = section(done)
    # The upper outer piece folded double, the lower outer and its hem, the tab, and four pockets
    # whose hems are turned in twice.
    assert len(folds(drawing)) == 3 + 4 * 2
    # No fold reaches past the edge that it is: the section starts 18 mm past the seam line, of
    # which the upper pocket 1 is 54 mm deep; nor past the inner end of its hem of 12 mm.
    ends = [shape.path.bounds[2] for shape in folds(drawing)]
    assert any(end == pytest.approx(18 + 54) for end in ends)
    starts = [shape.path.bounds[0] for shape in folds(drawing)]
    assert any(start == pytest.approx(18 + 54 - 12) for start in starts)


@pytest.mark.parametrize("size", [{}, {"width": 330, "height": 360}])
def test_a_fold_of_a_short_hem_leaves_some_of_it(size: dict[str, int]) -> None:
    asked: dict[str, str | float] = {"layers": "single", "pocket_hem": "6mm", "tab": "none", **size}
    drawing = section(worked("fold-wallet", asked))
    lengths = [shape.path.bounds[2] - shape.path.bounds[0] for shape in folds(drawing)]
    assert len(lengths) == 2 + 4 * 2
    assert min(lengths) > 0.0
    assert sum(length < 6.0 for length in lengths) >= 8  # those of the hems


def test_every_right_side_is_marked() -> None:
    coaster = section(worked("coaster"))
    # Top and back have a right side, batting has none.
    assert len(of_style(coaster, Style.SHEET)) == 3
    assert len(of_style(coaster, Style.RIGHT_FACE)) == 2
    back, top = sorted(of_style(coaster, Style.SHEET), key=lambda s: s.path.bounds[1])[:2]
    faces = sorted(of_style(coaster, Style.RIGHT_FACE), key=lambda s: s.path.bounds[1])
    # Right sides together: the back's at its lower edge, the top's at its upper.
    assert faces[0].path.bounds[3] == back.path.bounds[3]
    assert faces[1].path.bounds[1] == top.path.bounds[1]


def test_hollows_that_turn_out_are_white_and_the_hidden_inside_tinted() -> None:
    coaster = section(worked("coaster"))
    # Finished 108, turn of cloth 0.5 each side: seam line 109; the batting 1 mm inside it.
    assert sum(widths(coaster, Style.OUTSIDE)) == pytest.approx(109.0, abs=0.01)
    assert sum(widths(coaster, Style.HIDDEN_INSIDE)) == pytest.approx(107.0, abs=0.01)
    # Felt or vinyl sewn flat: what lies between front and back stays hidden, the tag 95 high
    # with a strap of 80, less the 3 mm to the last line at both ends.
    tag = section(worked("plant-tag", {"height": "95mm", "strap_length": "80mm"}))
    assert sum(widths(tag, Style.HIDDEN_INSIDE)) == pytest.approx(95 + 80 - 6, abs=0.01)


def test_inside_a_folded_piece_it_stays_hidden() -> None:
    # Between the seam line and its fold: upper outer 32 − 3.25, lower 174 − 32 − 3.25; pockets
    # 54 and 70.5 at both ends; and from the pouch lining's stitches at 6 to its end at 12.
    expected = (32 - 3.25) + (174 - 32 - 3.25) + 2 * (54 + 70.5) + (12 - 6)
    assert sum(widths(drawn(), Style.HIDDEN_INSIDE)) == pytest.approx(expected, abs=0.05)


def test_stitches_cross_what_lay_there_when_they_were_sewn() -> None:
    done = wallet()
    laid = runs(done, section_line(done))
    crossed = crossings(done, section_line(done), laid)
    seams = [one for one in crossed if one.seam]
    assert [one.at for one in seams] == pytest.approx([18.0, 18 + 174.0])
    # The seam goes through everything there is.
    assert seams[0].low == 0
    assert seams[0].high == max(run.level for run in laid)
    # The line of the pouch lining, 6 mm below the fold line: lining and lower outer, no pocket.
    (pouch,) = (one for one in crossed if one.at == pytest.approx(105 + 6.0))
    over = [done.sandwich.sheets[r.sheet].title for r in laid if r.start < pouch.at < r.end]
    assert over == ["pouch lining", "lower outer", "lower outer", "lining"]
    assert (pouch.low, pouch.high) == (0, 3)


def test_the_seam_is_named_and_so_is_the_turning_gap() -> None:
    assert words(drawn(), "picture").count("seam") == 2
    pouch = words(section(worked("zip-pouch")), "picture")  # it is turned through its bottom
    assert pouch.count("seam") == 1
    assert pouch.count("turning gap") == 1


def test_every_layer_is_named_once_where_it_lies_or_beside() -> None:
    said = words(drawn(), "picture", "labels")
    for title in ("pouch lining", "coil zip", "upper outer", "lower outer", "tab"):
        assert said.count(title) == 1
    assert said.count("pocket 1") == 2  # one at each end


def test_only_the_length_of_a_section_is_kept_on_one_line() -> None:
    heading = " ".join(text.words for text in drawn().texts)
    assert "From top (left) to bottom (right), " in heading


def test_a_section_may_run_across() -> None:
    line = 'section = [["0", "-half - outer_past_end"], ["0", "half + outer_past_end"]]'
    across = 'section = [["-cut_width / 2", "0"], ["cut_width / 2", "0"]]'
    drawing = section(worked(altered("fold-wallet", line, across)))
    assert "From left (left) to right (right)" in words(drawing, "heading")
    # 124 + 2 × (1 + 6.5) = 139 mm
    assert "139 mm" in words(drawing, "heading")
    assert not folds(drawing)


@settings(max_examples=10)
@given(
    st.integers(120, 330),
    st.integers(170, 360),
    st.integers(1, 4),
    st.sampled_from(["ribbon", "fabric", "none"]),
    st.sampled_from(list(Unit)),
)
def test_no_text_overlaps_another_or_is_clipped_at_any_size(
    width: int, height: int, pockets: int, tab: str, unit: Unit
) -> None:
    asked: dict[str, str | float] = {"width": width, "height": height, "pockets": pockets}
    drawing = section(worked("fold-wallet", {**asked, "tab": tab, "front_depth": "40mm"}, unit))
    assert overlapping(drawing) == []
    assert clipped(drawing) == []
    for shape in drawing.shapes:
        left, top, right, bottom = shape.path.bounds
        assert drawing.box.left <= left <= right <= drawing.box.right
        assert drawing.box.top <= top <= bottom <= drawing.box.bottom


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("coaster", {"width": 50, "corner_radius": "2mm"}),
        ("coaster", {"outline": "oval", "width": 330, "height": 200}),
        ("zip-pouch", {"width": 330, "height": 330}),
        ("zip-pouch", {"loop": "none"}),
        ("plant-tag", {}),
        ("plant-tag", {"hang": "slot", "width": 330, "height": 330}),
    ],
)
def test_no_text_overlaps_another_or_is_clipped_in_other_recipes(
    name: str, asked: dict[str, str | float]
) -> None:
    drawing = section(worked(name, asked))
    assert overlapping(drawing) == []
    assert clipped(drawing) == []


def test_the_same_thing_gives_the_same_bytes() -> None:
    assert to_svg(drawn()) == to_svg(section(worked("fold-wallet", WALLET)))
    assert drawn().title
    assert "tab" in drawn().description


@pytest.mark.parametrize("name", list(listed()))
def test_it_is_told_to_be_as_long_as_the_layers_that_it_cuts(name: str) -> None:
    done = worked(name)
    cut = shapely.union_all([sheet.area for sheet in done.sandwich.sheets]) & section_line(done)
    left, top, right, bottom = cut.bounds
    long = max(right - left, bottom - top)
    assert f", {show_both(long, Unit.MM)}." in words(section(done), "heading")


def test_a_section_of_a_tag_goes_through_all_that_is_cut() -> None:
    # 94.5 and a strap of 80, and 10 mm of allowance at both ends: 194.5, cut to the next mm.
    done = worked("plant-tag", {"height": "94.5mm", "strap_length": "80mm"})
    assert "195 mm (7 11/16 in)" in words(section(done), "heading")
