"""What is worked out once for several questions is what each would have worked out by itself."""

from collections.abc import Sequence

import pytest
from layout_orders import STITCH_TRIAL, TAG, recipe_of

from paramgen.finished.all_findings import prove
from paramgen.layout.lay_out import lay_out, without_curves
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import Sized, size
from paramgen.stitches.needle_points import SewnStep
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.facts import Written, facts
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.vocabulary.project import Step
from paramgen.vocabulary.unit import Unit
from paramgen.works import Works, stitch


def sized(recipe: str, **asked: str | float) -> Sized:
    return size(find_recipe(recipe), asked, unit=Unit.MM)


#: Everything in a project is compared by its text: paths have none of their own equality.
def told(value: object) -> str:
    return repr(value)


@pytest.mark.parametrize("recipe", listed())
@pytest.mark.parametrize("turned", [False, True])
def test_the_field_that_stitches_need_is_that_of_the_stitches(recipe: str, turned: bool) -> None:
    works, one = Works(), sized(recipe)
    assert works.needs(one, turned=turned) == stitch(one, turned=turned).needs
    assert works.needs(one, turned=not turned) == stitch(one, turned=not turned).needs


def test_what_lies_out_of_the_middle_needs_no_more_of_the_field() -> None:
    # A mark ends 60 right of the middle of a tag of 80 × 40 mm: as wide as half the tag and 60,
    # not twice 60, to a step of the grid on either side.
    def tag(parts: str = "", steps: str = "") -> Sized:
        return size(recipe_of(TAG.format(parts=parts, steps=steps)), {}, unit=Unit.MM)

    keys = 'title = "mark"\nrole = "placement"\npoints = [[["0", "0"], ["60", "0"]]]'
    works, marked = Works(), tag(f"[lines.trial]\n{keys}\n", STITCH_TRIAL)
    width, height = works.needs(tag())
    assert works.needs(marked) == pytest.approx((width / 2 + 60, height), abs=0.21)
    assert works.needs(marked, turned=True) == pytest.approx((height, width / 2 + 60), abs=0.21)


@pytest.mark.parametrize("recipe", listed())
def test_what_is_rehearsed_is_as_coarse_as_it_may_be(recipe: str) -> None:
    works, one = Works(), sized(recipe)
    works.needs(one)  # lays it out as finely as it is sewn
    coarse = lay_out(one, chord_error=COARSE)
    assert told(works.found(one)) == told(prove(coarse).findings)
    rehearsed = works.proven(one).thing.project
    assert len(rehearsed.seam.points) == len(coarse.seam.points)


def test_curves_are_told_from_corners() -> None:
    # Chords of 0.02 and of 0.0001 mm differ on a circle, and a square has none.
    assert not without_curves(sized("coaster", outline="round"), COARSE)
    assert without_curves(sized("fold-wallet"), COARSE)


def test_why_nothing_can_be_sewn_is_said_as_it_lies(monkeypatch: pytest.MonkeyPatch) -> None:
    # The wallet is turned by a quarter, and so are the words that its steps have for directions.
    def refuse(steps: Sequence[Step]) -> tuple[tuple[SewnStep, ...], tuple[Finding, ...]]:
        said = tuple(step.say for step in steps)
        return (), (Finding("too-short", Severity.CANNOT, facts(why=Written(said))),)

    def farthest(steps: Sequence[Step]) -> tuple[Box, tuple[Finding, ...]]:
        return Box(0.0, 0.0, 0.0, 0.0), refuse(steps)[1]

    monkeypatch.setattr("paramgen.works.sew", refuse)
    monkeypatch.setattr("paramgen.works.farthest_needles", farthest)
    works, one = Works(), sized("fold-wallet")
    why = []
    for turned in (False, True):
        with pytest.raises(CannotMakeError) as refused:
            works.needs(one, turned=turned)
        with pytest.raises(CannotMakeError) as alone:
            stitch(one, turned=turned)
        assert told(refused.value.findings) == told(alone.value.findings)
        why.append(told(refused.value.findings))
    assert why[0] != why[1]


def test_whether_lines_can_be_sewn_is_what_sewing_them_would_find() -> None:
    # No stitch is made along a tenth of a millimetre, one step of the grid.
    keys = 'title = "mark"\nrole = "top-stitch"\npoints = [[["0", "0"], ["{mm}", "0"]]]'
    for mm in (60, 0.1):
        parts = f"[lines.trial]\n{keys.format(mm=mm)}\n"
        one = size(recipe_of(TAG.format(parts=parts, steps=STITCH_TRIAL)), {}, unit=Unit.MM)
        found = []
        for ask in (Works().ask_to_sew, Works().needs):
            try:
                ask(one)
                found.append("")
            except CannotMakeError as refused:
                found.append(told(refused.findings))
        assert found[0] == found[1]
        assert bool(found[0]) is (mm < 1)


@pytest.mark.parametrize(("width", "sound"), [(130, True), (100, False)])
def test_what_is_asked_first_changes_nothing_that_is_found(width: float, sound: bool) -> None:
    # A wallet of 130 mm is sound; one of 100 mm does not hold its packet of 108 mm.
    one = sized("fold-wallet", width=width)
    found = Works().found(one)
    stops = tuple(finding for finding in found if finding.stops)
    assert bool(stops) is not sound
    works = Works()
    assert [first.stops for first in works.first_stop(one)] == [True] * bool(stops)
    assert told(works.stops(one)) == told(stops)
    assert told(works.found(one)) == told(found)
    assert told(Works().stops(one)) == told(stops)
