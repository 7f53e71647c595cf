"""The notebook cover: its parts, its layers, the order of its work, the books that go in.

Sizes are checked against arithmetic shown beside them; how it goes together is common practice,
no source.
"""

from functools import cache
from itertools import product

import pytest
from finished_things import altered, worked
from layout_orders import HOOPS, Asked, hooped, laid, layers, line, piece, step_of
from told import mends, says
from work_order import work_order

from paramgen.finished.all_findings import prove
from paramgen.finished.flaps import FlapSide
from paramgen.fit.smallest_holding import held
from paramgen.hooping import Room
from paramgen.layout.lay_out import lay_out
from paramgen.making import Order
from paramgen.ordering.things_to_hold import holding
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop
from paramgen.reference.things import find_several, listed_things
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import conditions, size
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

COVER = find_recipe("notebook-cover")
#: An A6 notebook of 10 mm: ISO 216; its thickness is common practice, no source.
A6: Asked = {}
#: An A5 notebook of 15 mm, the same.
A5: Asked = {
    "width": 321,
    "height": 217,
    "cover_width": 148,
    "cover_height": 210,
    "book_thickness": 15,
}
#: A passport: ISO/IEC 7810, ID-3; its thickness from memory.
PASSPORT: Asked = {
    "width": 189,
    "height": 132,
    "cover_width": 88,
    "cover_height": 125,
    "book_thickness": 3,
}
NAMES = ["A6", "A5", "passport"]


@cache
def _cover(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(COVER, dict(asked))


def cover(asked: Asked = A6, **more: str | float) -> Project:
    """Lay a cover out, once for all tests that ask for the same."""
    return _cover(tuple(sorted({**asked, **more}.items())))


def said(asked: Asked, **more: str | float) -> list[Finding]:
    """What is found of its sizes alone."""
    return list(conditions(size(COVER, {**asked, **more}, unit=Unit.MM)))


def found(asked: Asked) -> tuple[Finding, ...]:
    return prove(lay_out(size(COVER, asked, unit=Unit.MM), chord_error=COARSE)).findings


# Seam box: finished and 1 mm of turn of cloth all round; cut 10 past it. A flap of 0.6 of a cover
# (63, 88.8, 52.8), 1 and 10 more, rounded up folded to 74, 100 and 64, and twice that.
@pytest.mark.parametrize(
    ("asked", "outer", "flap", "fold"),
    [
        (A6, (252, 177), (148, 177), 115 - 63),
        (A5, (343, 239), (200, 239), 160.5 - 88.8),
        (PASSPORT, (211, 154), (128, 154), 94.5 - 52.8),
    ],
    ids=NAMES,
)
def test_pieces_are_cut_to_the_arithmetic(
    asked: Asked, outer: tuple[float, float], flap: tuple[float, float], fold: float
) -> None:
    project = cover(asked)
    assert piece(project, "outer").cut == pytest.approx(outer)
    assert piece(project, "lining").cut == pytest.approx(outer)
    assert piece(project, "flap").cut == pytest.approx(flap)
    assert piece(project, "flap").quantity == 2
    left, right = layers(project, "flap")
    assert [x for x, _ in left.folded_edges[0]] == pytest.approx([-fold] * 2)
    assert [x for x, _ in right.folded_edges[0]] == pytest.approx([fold] * 2)


# min(90, what lies between the folds - 24): 104 - 24, 143.4 - 24 and 83.4 - 24.
@pytest.mark.parametrize(("asked", "gap"), [(A6, 80), (A5, 90), (PASSPORT, 59.4)], ids=NAMES)
def test_the_gap_lies_between_the_flaps(asked: Asked, gap: float) -> None:
    project = cover(asked)
    (seam,) = line(project, "seam").paths
    ends = sorted((float(seam.points[0][0]), float(seam.points[-1][0])))
    assert ends == pytest.approx([-gap / 2, gap / 2])


def test_elastic_and_loop_are_cut_and_lie_as_reckoned() -> None:
    project = cover()
    (elastic,) = (one for one in project.notions if one.name == "elastic")
    assert elastic.length == 173  # 157 + 2 · (7 + 1)
    (lies,) = layers(project, "elastic")
    assert (lies.outline.bounds[0] + lies.outline.bounds[2]) / 2 == pytest.approx(25 - 115)
    # Half round a pen of 10, and 1: 16.7; 1 and 7 more are 24.7, cut 2 · 25.
    assert piece(project, "loop").cut == pytest.approx((50, 18))
    (loop,) = layers(project, "loop")
    assert loop.outline.bounds[0] == pytest.approx(-116 - 7)


# The seam box and the tack-down 1.5 outside it: 232 + 3 by 157 + 3, 323 + 3 by 219 + 3, 191 + 3 by
# 134 + 3. The marks lie inside the tack-down.
@pytest.mark.parametrize(
    ("asked", "hoop", "needs"),
    [
        (A6, "160x260", (160, 235)),
        (A5, "240x360", (222, 326)),
        (PASSPORT, "160x260", (137, 194)),
    ],
    ids=NAMES,
)
def test_turned_it_fits_the_hoop_that_seam_and_tack_down_fit(
    asked: Asked, hoop: str, needs: tuple[float, float]
) -> None:
    extent = hooped(COVER, asked, hoop).extent
    assert (extent.width, extent.height) == pytest.approx(needs, abs=0.2)


# --- The book ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "width", "height"),
    [
        # Both covers, the thickness, 6 of ease and 2 on both sides; the height, 3 and 2 · 2.
        (A6, 2 * 105 + 10 + 6 + 4, 148 + 3 + 4),
        (A5, 2 * 148 + 15 + 6 + 4, 210 + 3 + 4),
        (PASSPORT, 2 * 88 + 3 + 6 + 4, 125 + 3 + 4),
    ],
    ids=NAMES,
)
def test_a_book_goes_in_from_its_own_size_on(asked: Asked, width: float, height: float) -> None:
    fits = {**asked, "width": width, "height": height}
    assert [one for one in said(fits) if one.stops] == []
    for less in ({"width": width - 0.1}, {"height": height - 0.1}):
        (one,) = (one for one in said({**fits, **less}) if one.stops)
        assert "does not go into a cover" in says(one)
        assert f"{width} mm" in mends(one)
    assert [one for one in found(fits) if one.severity is not Severity.KNOW] == []


def test_the_thickness_of_a_book_lies_at_its_spine_and_not_in_the_flaps() -> None:
    # 151 between the stitching take a cover of 148 with 3 of ease, whatever lies between covers.
    (book,) = cover().holds
    assert book.opens
    assert book.thickness == 10
    assert book.thickness_in_place == 0
    flat = altered("notebook-cover", "opens = true\n", "")
    thing = lay_out(size(flat, {}, unit=Unit.MM), chord_error=COARSE)
    # As a slab of 10 it is held too little, whichever way round.
    assert "held-too-little" in {one.code for one in prove(thing).findings}


def test_a_book_is_put_in_upright_its_spine_along_its_longer_side() -> None:
    # An A6 notebook lying would ask for 2 · 148 + 10 + 6 + 4 by 105 + 3 + 4, which is less area.
    order = Order(COVER, {}, Room(find_hoop("240x360", HOOPS)))
    answer = held(order, [find_several("A6 notebook", listed_things())], hoops=HOOPS)
    assert answer.best is not None
    assert answer.best.sizes == {"width": 230, "height": 155}
    assert len(answer.holdings) == 1


def test_flaps_too_deep_too_shallow_or_too_near_each_other_are_refused_with_what_is_enough() -> (
    None
):
    # A flap may be 105 - 10 deep; between them lie 74, for a gap of 50 clear of both folds by 12.
    (deep,) = (one for one in said({**A6, "width": 300}, flap=96) if one.stops)
    assert mends(deep).startswith("Set flap to at most 95 mm")
    (near,) = (one for one in said(A6, flap=79) if one.stops)
    assert mends(near) == (
        "Make it at least 232 mm (9 1/8 in) wide, or set flap to at most 78 mm (3 1/16 in)."
    )
    assert [one for one in said(A6, flap=78) if one.stops] == []
    # 0.4 of a cover of 105 are 42, and 2 to the stitching.
    (shallow,) = said(A6, flap=43)
    assert mends(shallow) == "Set flap to at least 44 mm (1 3/4 in)."


def test_an_elastic_is_too_tight_round_a_book_that_is_thick_for_its_height() -> None:
    # It goes round 21 of book and 4 of cover twice: 50, half of the 100 that it is long.
    low: Asked = {"width": 300, "height": 100, "cover_height": 93}
    assert said(low, book_thickness=21) == []
    (tight,) = said(low, book_thickness=22)
    assert tight.severity is Severity.DISAPPOINT
    # Twice 26 are half of 104.
    assert mends(tight) == "Make it at least 104 mm (4 1/8 in) high, or take closing=none."
    assert said({**low, "height": 104}, book_thickness=22) == []
    assert said(low, book_thickness=22, closing="none") == []


def test_an_elastic_keeps_off_the_fold_of_a_flap_and_its_mark() -> None:
    # The flap 63: 63 - 4 - 1 = 58, or 63 + 4 + 7 = 74.
    for asked, good in ((58, True), (59, False), (73, False), (74, True)):
        assert (said(A6, elastic_in=asked) == []) is good


@pytest.mark.parametrize(
    ("closing", "pen", "padding"),
    list(product(["elastic", "none"], ["loop", "none"], ["none", "fleece"])),
)
def test_every_choice_can_be_made_at_its_least_and_at_its_largest(
    closing: str, pen: str, padding: str
) -> None:
    choice = {"closing": closing, "pen": pen, "padding": padding}
    small: Asked = {
        **choice,
        "width": 130,
        "height": 80,
        "cover_width": 56,
        "cover_height": 73,
        "book_thickness": 3,
    }
    large: Asked = {**choice, "width": 355, "height": 355, "cover_width": 160, "cover_height": 340}
    for asked in (small, large):
        told = [one for one in found(asked) if one.severity is not Severity.KNOW]
        assert told == [], asked


# --- How it goes together ----------------------------------------------------------------


def test_elastic_and_loop_lie_next_to_the_outer_and_come_to_lie_outside() -> None:
    project = cover()
    order = [step_of(project, name).number for name in ("outer", "elastic", "loop", "flap")]
    assert order == sorted(order)
    thing = worked("notebook-cover")
    lies = [(flap.piece, flap.lies) for flap in thing.flaps]
    assert set(lies) == {
        ("elastic", FlapSide.WORK),
        ("loop", FlapSide.OUT),
        ("flap", FlapSide.CLOSING),
    }


def test_the_work_goes_on_in_the_order_that_works() -> None:
    assert work_order(cover(pen="none")) == [
        "fuse the interfacing",
        "fold",
        "sew place",
        "lay outer",
        "tape",
        "sew outer-tack, flap-marks, elastic-marks",
        "remove tape",
        "lay elastic",
        "tape",
        "sew elastic-tack",
        "remove tape",
        "lay flap, flap",
        "tape",
        "sew flap-tack",
        "remove tape",
        "lay lining",
        "tape",
        "sew seam",
        "take out of the hoop",
        "trim",
        "clip",
        "turn right side out",
        "pull over",
        "finger-press",
        "press",
        "top-stitch",
        "put in what it holds",
    ]
    assert [one.act for one in cover().steps if one.act is Act.PULL_OVER] == [Act.PULL_OVER]


# It is there to be worn by a book: the last that is done is to put that in.
def test_at_last_the_book_is_put_in() -> None:
    for closing, pen in product(("elastic", "none"), ("loop", "none")):
        last = cover(closing=closing, pen=pen).steps[-1]
        assert last.act is Act.PUT_IN
        assert "A book goes in opened wide" in last.say
        assert "one of them into each flap" in last.say


# A person may ask for several: what is said of one is not said of those.
def test_the_last_step_is_right_for_one_and_for_several() -> None:
    one, several = (holding(COVER, {}, Unit.MM, text) for text in ("passport", "4 passports"))
    says_of_one, says_of_several = (
        lay_out(size(*asked, unit=Unit.MM), chord_error=COARSE).steps[-1].say
        for asked in (one, several)
    )
    assert says_of_one == says_of_several
    assert "passport" not in says_of_several


# The elastic is caught at the upper and lower edges, where the top-stitching runs; the pen loop is
# caught at the side and stands away from the work.
def test_the_top_stitching_runs_over_the_elastic_and_past_the_pen_loop() -> None:
    for closing, pen in product(("elastic", "none"), ("loop", "none")):
        steps = cover(closing=closing, pen=pen).steps
        (sewn,) = (step.say for step in steps if step.act is Act.TOP_STITCH)
        assert ("over both ends of the elastic, which lies flat" in sewn) is (closing == "elastic")
        assert ("the pen loop standing outward" in sewn) is (pen == "loop")
        assert "held out of the way" not in sewn


def test_only_an_elastic_is_drawn_round_to_close_it() -> None:
    for closing in ("elastic", "none"):
        last = cover(closing=closing).steps[-1].say
        assert ("draw the elastic from the back round onto the front" in last) is (
            closing == "elastic"
        )
