"""The recipes that come with the program: whatever is asked, made or refused in words."""

import re
from collections.abc import Iterator, Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from told import mends, says

from paramgen.layout.lay_out import lay_out
from paramgen.lengths import MOST
from paramgen.recipe.built_in_lengths import BUILT_IN, LEAST_MARK, MOST_MARK
from paramgen.recipe.language import AskedSize, Length
from paramgen.recipe.read_recipe import Recipe, find_recipe, listed
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError, Finding, InputError
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

RECIPES = {name: find_recipe(name) for name in listed()}
EACH = pytest.mark.parametrize("recipe", RECIPES.values(), ids=RECIPES)

Asking = Mapping[str, str | float]


def limits(recipe: Recipe) -> dict[str, tuple[float, float]]:
    """Least and most of every size and length; the least of one that has none is 1 mm."""
    file = recipe.file
    entries: dict[str, AskedSize | Length] = {**file.sizes, **file.lengths, **BUILT_IN}
    found = {
        name: (1.0 if one.least is None else one.least, MOST if one.most is None else one.most)
        for name, one in entries.items()
    }
    return found | {"ruler_mark": (LEAST_MARK, MOST_MARK)}


def usual(recipe: Recipe) -> dict[str, float]:
    """Every size and length as the recipe has it."""
    found = size(recipe, {}, unit=Unit.MM)
    return {figure.name: figure.value for figure in (*found.sizes, *found.lengths)}


def ends(recipe: Recipe) -> Iterator[tuple[str, str | float]]:
    """Every number at its least, its most and well away from the usual; every option."""
    own = usual(recipe)
    for name, (least, most) in limits(recipe).items():
        yield from ((name, least), (name, most), (name, min(most, 3 * own[name])))
    for name, count in recipe.file.counts.items():
        yield from ((name, count.least), (name, count.most))
    for name, choice in recipe.file.choices.items():
        yield from ((name, option) for option in choice.options)


def outcome(recipe: Recipe, asked: Asking, unit: Unit = Unit.MM) -> tuple[Finding, ...]:
    """What is said when it is laid out; anything raised but a refusal comes through.

    What is wrong before that can be asked says what to change, and comes to nothing here.
    """
    try:
        project = lay_out(size(recipe, asked, unit=unit), turned=unit is Unit.INCH)
    except CannotMakeError as refusal:
        return refusal.findings
    except InputError as wrong:
        # Only a number that was not asked may be wrong: it follows from what was.
        if all("follows from" in fault.message and fault.hint for fault in wrong.faults):
            return ()
        raise
    assert not any(finding.stops for finding in project.findings)
    assert well_said(" ".join(texts(project)))
    return project.findings


def texts(project: Project) -> Iterator[str]:
    yield from (text for step in project.steps for text in (step.title, step.say))
    yield from (piece.title for piece in project.pieces)
    yield from (line.title for line in project.lines)
    yield from (notion.title for notion in project.notions)


def well_said(text: str) -> bool:
    """Whether nothing is left unfilled or is no number in it."""
    return bool(text.strip()) and not re.search(r"[{}]|\b(?:nan|inf|None|True|False)\b", text)


def assert_can_be_acted_on(found: tuple[Finding, ...]) -> None:
    for finding in found:
        assert well_said(says(finding))
        assert well_said(mends(finding)), says(finding)


@EACH
def test_it_is_made_as_it_comes(recipe: Recipe) -> None:
    assert not any(finding.stops for finding in outcome(recipe, {}))


@EACH
def test_each_number_alone_at_its_ends_is_made_or_refused_with_a_remedy(recipe: Recipe) -> None:
    for name, value in ends(recipe):
        assert_can_be_acted_on(outcome(recipe, {name: value}))


@EACH
@pytest.mark.parametrize("end", [0, 1], ids=["least", "most"])
def test_all_numbers_at_once_at_one_end_are_made_or_refused_with_a_remedy(
    recipe: Recipe, end: int
) -> None:
    sizes = {name: limits(recipe)[name][end] for name in recipe.file.sizes}
    every = {name: both[end] for name, both in limits(recipe).items()}
    counts = {n: (c.least, c.most)[end] for n, c in recipe.file.counts.items()}
    for asked in (sizes, every):
        for name, choice in recipe.file.choices.items():
            for option in choice.options:
                assert_can_be_acted_on(outcome(recipe, {**asked, **counts, name: option}))


@st.composite
def orders(draw: st.DrawFn, recipe: Recipe) -> dict[str, str | float]:
    """Anything that may be asked of a recipe, near what is usual or anywhere in its limits."""
    asked: dict[str, str | float] = {}
    lengths = draw(st.lists(st.sampled_from([*recipe.file.lengths, *BUILT_IN]), max_size=4))
    own, bounds = usual(recipe), limits(recipe)
    for name in [*recipe.file.sizes, *lengths]:
        least, most = bounds[name]
        near = min(most, 4 * own[name])
        # Not one strategy or the other: where both are the same, hypothesis takes them for one
        # or for two as its cache has it, and then finds that what it draws is not steady.
        asked[name] = draw(st.floats(least, draw(st.sampled_from([near, most]))))
    for name, count in recipe.file.counts.items():
        asked[name] = draw(st.integers(count.least, count.most))
    for name, choice in recipe.file.choices.items():
        asked[name] = draw(st.sampled_from(list(choice.options)))
    if draw(st.booleans()):
        del asked[draw(st.sampled_from([*asked]))]
    return asked


def test_what_follows_from_sizes_within_their_limits_may_be_too_much_and_says_so() -> None:
    # 2 · 4 · 18 = 144 mm of packets, and the cloth: more than the 150 mm a wallet may be thick.
    asked: Asking = {"packet_thickness": 18.0, "pockets": "4"}
    with pytest.raises(InputError, match=r"from packet_thickness `18.*Change packet_th"):
        size(RECIPES["fold-wallet"], {**asked, "width": 75.0, "height": 110.0}, unit=Unit.MM)


@EACH
@settings(max_examples=40)
@given(data=st.data())
def test_any_order_within_the_limits_is_made_or_refused_with_a_remedy(
    recipe: Recipe, data: st.DataObject
) -> None:
    asked = data.draw(orders(recipe))
    assert_can_be_acted_on(outcome(recipe, asked, data.draw(st.sampled_from(list(Unit)))))
