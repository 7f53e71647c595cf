"""What is worked out once for several questions is what each would have worked out by itself."""

from collections.abc import Sequence

import pytest

from paramgen.finished.all_findings import prove
from paramgen.layout.lay_out import lay_out, without_curves
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import Sized, size
from paramgen.stitches.needle_points import SewnStep
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


@pytest.mark.parametrize("recipe", listed())
def test_what_is_rehearsed_is_as_coarse_as_it_may_be(recipe: str) -> None:
    works, one = Works(), sized(recipe)
    works.needs(one)  # lays it out as finely as it is sewn
    assert told(works.found(one)) == told(prove(lay_out(one, chord_error=COARSE)).findings)


def test_curves_are_told_from_corners() -> None:
    # Chords of 0.02 and of 0.0001 mm differ on a circle, and a square has none.
    assert not without_curves(sized("coaster", outline="round"), COARSE)
    assert without_curves(sized("fold-wallet"), COARSE)


def test_why_nothing_can_be_sewn_is_said_as_it_lies(monkeypatch: pytest.MonkeyPatch) -> None:
    # The wallet is turned by a quarter, and so are the words that its steps have for directions.
    def refuse(steps: Sequence[Step]) -> tuple[tuple[SewnStep, ...], tuple[Finding, ...]]:
        said = tuple(step.say for step in steps)
        return (), (Finding("too-short", Severity.CANNOT, facts(why=Written(said))),)

    monkeypatch.setattr("paramgen.works.sew", refuse)
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
