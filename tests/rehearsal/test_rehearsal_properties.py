"""What must hold of the rehearsal whatever is rehearsed."""

from collections.abc import Callable
from functools import lru_cache
from random import Random

import numpy as np
import pytest
import shapely
from flat_recipe import flat_text
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from told import says

from paramgen.finished.all_findings import prove
from paramgen.finished.clear_room import largest_through
from paramgen.finished.finished_limits import HAIR
from paramgen.layout.lay_out import lay_out, moved
from paramgen.recipe.read_recipe import Recipe, find_recipe, read_recipe
from paramgen.rehearsal.faces import plane, trimmed_to
from paramgen.rehearsal.hollows import spaces
from paramgen.rehearsal.rehearse import COARSE
from paramgen.rehearsal.sheets import sandwich
from paramgen.sizing import size
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import CannotMakeError, InputError, Severity
from paramgen.vocabulary.path import FloatArray, quarter_turn
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

CASES: dict[str, tuple[str, dict[str, str]]] = {
    "wallet": ("fold-wallet", {}),
    "wallet-long-rounded": (
        "fold-wallet",
        {"pouch": "long", "corners": "rounded", "pockets": "3", "height": "200mm"},
    ),
    "wallet-narrow": ("fold-wallet", {"width": "105mm"}),
    "coaster": ("coaster", {}),
    "coaster-oval": ("coaster", {"outline": "oval", "height": "90mm"}),
    "coaster-hexagon": ("coaster", {"outline": "polygon", "padding": "none"}),
    "coaster-trimmed-close": (
        "coaster",
        {"outline": "rectangle", "height": "90mm", "allowance": "5mm", "trim_allowance": "3mm",
         "tack_offset": "1mm"},
    ),
    "wallet-one-layer": ("fold-wallet", {"layers": "single", "pockets": "3"}),
    "wallet-fabric-tab": (
        "fold-wallet",
        {"tab": "fabric", "zip_below_top": "60mm", "height": "200mm"},
    ),
    "wallet-packets-too-wide": ("fold-wallet", {"tab": "none", "packet_width": "117mm"}),
    "pouch": ("zip-pouch", {}),
    "pouch-rounded": (
        "zip-pouch",
        {"corners": "rounded", "loop": "none", "width": "124mm", "packet_width": "90mm"},
    ),
    "tag": ("plant-tag", {}),
    "tag-slot": ("plant-tag", {"hang": "slot", "width": "120mm"}),
    "cover": ("notebook-cover", {}),
    "sleeve": ("flap-sleeve", {}),
    "sleeve-pointed": ("flap-sleeve", {"shape": "pointed", "padding": "fleece", "width": "150mm"}),
    "tag-eyelet": ("plant-tag", {"hang": "hole", "label_height": "60mm"}),
}  # fmt: skip

Move = Callable[[FloatArray], FloatArray]


@lru_cache
def recipe(name: str) -> Recipe:
    return find_recipe(name)


def project(case: str) -> Project:
    name, asked = CASES[case]
    return lay_out(size(recipe(name), asked, unit=Unit.MM), chord_error=COARSE)


def said(one: Project) -> list[tuple[str, str | None, int | None, float | None]]:
    return [
        (f.code, f.piece, f.step, None if f.amount is None else round(f.amount, 2))
        for f in prove(one).findings
    ]


def mirrored(points: FloatArray) -> FloatArray:
    there: FloatArray = points * np.array([-1.0, 1.0])
    return there


def shifted(points: FloatArray) -> FloatArray:
    there: FloatArray = points + np.array([13.7, -4.2])
    return there


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("move", [mirrored, quarter_turn, shifted], ids=lambda m: m.__name__)
def test_moving_the_project_changes_no_finding(case: str, move: Move) -> None:
    one = project(case)
    assert said(moved(one, move)) == said(one)


@pytest.mark.parametrize("case", CASES)
def test_the_spaces_between_the_layers_add_up(case: str) -> None:
    # Over a face with n sheets lie n + 1 spaces, so all spaces together have the area of the
    # trimmed work once, and of every sheet in it once more.
    one = project(case)
    pile = sandwich(one)
    cut = plane(one, pile)
    between = spaces(cut)
    room = trimmed_to(one, pile)
    areas = np.array([area.area for area in cut.areas])
    total = areas[between.face[1:]].sum()
    expected = room.area + sum(shapely.intersection(sheet.area, room).area for sheet in pile.sheets)
    assert total == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("case", CASES)
def test_faces_cover_the_trimmed_work_once(case: str) -> None:
    one = project(case)
    pile = sandwich(one)
    room = trimmed_to(one, pile)
    cut = plane(one, pile)
    assert sum(area.area for area in cut.areas) == pytest.approx(room.area, rel=1e-6)
    assert shapely.union_all(list(cut.areas)).area == pytest.approx(room.area, rel=1e-6)


#: What sizes within a recipe's limits can lead to; anything else is the recipe's own fault.
FROM_SIZES_ALONE = {
    "bottom-shallow",
    "bulky-by-hand",
    "bulky-by-machine",
    "closed-too-thick",
    "does-not-fit",
    "does-not-stand",
    "fold-crowded",
    "hardware-past-pliers",
    "held-too-little",
    "many-stitches",
    "mouth-narrow",
    "no-grip",
    "stitched-too-narrow",
    "thickness-jump",
    "too-bulky-by-hand",
    "too-bulky-by-machine",
    "too-thick",
}


@settings(max_examples=30, suppress_health_check=[HealthCheck.too_slow])
@given(
    name=st.sampled_from(["fold-wallet", "coaster", "zip-pouch", "plant-tag", "flap-sleeve"]),
    data=st.data(),
)
def test_any_size_within_limits_is_sound_or_told_why(name: str, data: st.DataObject) -> None:
    file = recipe(name).file
    asked: dict[str, str] = {}
    for size_name, entry in file.sizes.items():
        asked[size_name] = str(data.draw(st.integers(round(entry.least), round(entry.most))))
    for count_name, count in file.counts.items():
        asked[count_name] = str(data.draw(st.integers(count.least, count.most)))
    for choice_name, choice in file.choices.items():
        asked[choice_name] = data.draw(st.sampled_from(sorted(choice.options)))
    try:
        one = lay_out(size(recipe(name), asked, unit=Unit.MM), chord_error=COARSE)
    except CannotMakeError:
        return  # the recipe's own condition says why
    codes = {finding.code for finding in prove(one).findings}
    assert codes <= FROM_SIZES_ALONE, "mend the recipe, or say that a size alone may lead to it"


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(
    name=st.sampled_from(["fold-wallet", "coaster", "zip-pouch", "plant-tag"]),
    seed=st.randoms(use_true_random=False),
)
def test_a_recipe_spoiled_at_random_never_crashes_the_rehearsal(name: str, seed: Random) -> None:
    lines = flat_text(name).splitlines()
    places = [at for at, line in enumerate(lines) if "[[steps]]" in line]
    for _ in range(seed.randint(1, 3)):
        kind = seed.randrange(4)
        at = seed.randrange(len(lines))
        if kind == 0:  # a number or side changed
            for old, new in (("right", "wrong"), ("front", "back"), ("/ 2", "/ 3"), (" + ", " - ")):
                if old in lines[at] and seed.random() < 0.7:
                    lines[at] = lines[at].replace(old, new, 1)
        elif kind == 1 and len(places) > 2:  # a step left out
            number = seed.randrange(len(places) - 1)
            start, end = places[number], places[number + 1]
            lines[start:end] = [""] * (end - start)
        elif kind == 2 and len(places) > 3:  # two steps changed round
            number = seed.randrange(1, len(places) - 1)
            a, b, c = places[number - 1], places[number], places[number + 1]
            lines[a:c] = lines[b:c] + lines[a:b]
        elif 'role = "' in lines[at]:
            lines[at] = 'role = "tack-down"'
    try:
        spoiled = read_recipe("\n".join(lines), name=name, source="spoiled")
        one = lay_out(size(spoiled, {}, unit=Unit.MM), chord_error=COARSE)
    except (InputError, CannotMakeError):
        return
    sewn, _ = sew(one.steps)
    for finding in prove(one, sewn).findings:
        assert says(finding)
        assert all(np.isfinite(finding.place).flat) if finding.place else True


def held_findings(size_mm: tuple[float, float], width: float) -> dict[str, float | None]:
    """What is found, with amounts, when a wallet is to hold a thing in its long pouch."""
    text = flat_text("fold-wallet")
    start, end = text.index("[holds.packet]"), text.index("[notions.snap]")
    unused = "packet_width + note_width + note_height + note_ease + packet_ease"
    there = f"""[holds.thing]
title = "thing"
width = "{size_mm[0]} + 0 * ({unused})"
height = "{size_mm[1]}"
ease = "4"
against = "pouch-lining"

"""
    text = text[:start] + there + text[end:]
    start = text.index("[outlines.lower-half]")
    text = text[:start] + text[text.index("[outlines.tack]") :]
    for name in ("packet", "notes"):  # what its words call by their titles is not there
        text = text.replace(f"{{title of {name}}}", "thing")
    made = read_recipe(text, name="wallet", source="wallet")
    asked = {"width": str(width), "height": "176", "pouch": "long", "turn_of_cloth": "0"}
    asked["tab"] = "none"  # its length follows from the packets, which are left out here
    one = lay_out(size(made, asked, unit=Unit.MM), chord_error=COARSE)
    return {f.code: f.amount for f in prove(one).findings if f.severity is not Severity.KNOW}


@pytest.mark.parametrize(
    ("thing", "size_mm"),
    [
        ("ISO/IEC 7810 ID-1, a bank card", (85.60, 53.98)),
        ("ISO/IEC 7810 ID-3, a passport", (125.0, 88.0)),
        ("50 euro, Decision ECB/2003/4", (140.0, 77.0)),
        ("a US note, Bureau of Engraving and Printing", (155.956, 66.294)),
    ],
)
def test_a_long_pouch_takes_a_published_size_and_not_a_millimetre_less(
    thing: str, size_mm: tuple[float, float]
) -> None:
    # The pouch spans what lies between the top-stitching 2 mm inside its edges, width - 4 by
    # 176 - 4 mm: a thing on its side needs its height and 4 mm of ease across, where that is less
    # than its width; it goes in upright. The zip opens less: a slider parked at its end takes up
    # to 20 mm, and a thing goes through 0.95 of the rest (both common practice, no source).
    across = max(min(size_mm) / 0.95 + 20.0 + 4.0, 75.0)
    assert max(size_mm) + 4.0 <= 172.0
    assert held_findings(size_mm, across + 0.2) == {}
    if across > 76.0:
        assert set(held_findings(size_mm, across - 1.0)) == {"mouth-narrow"}


@pytest.mark.parametrize("lacking", [0.5, 4.0, 11.0])
def test_what_a_pouch_lacks_in_width_is_said_as_it_is(lacking: float) -> None:
    # A thing 88 mm wide with 4 mm of ease, between lines 92 mm apart less what is lacking, 2 mm
    # inside either edge; a thing of its shape that goes in is shorter by 120 / 88 as much, which
    # is beside the point. Where as much lies outside the lines, it is they that are in the way.
    found = held_findings((88.0, 120.0), 88.0 + 4.0 + 4.0 - lacking)
    code = "stitched-too-narrow" if lacking <= 4.0 else "does-not-fit"
    assert found == {code: pytest.approx(lacking, abs=2 * HAIR)}


def test_the_largest_that_goes_into_a_place_is_as_large_as_its_shape_allows() -> None:
    thing = (20.0, 10.0)
    # A rectangle takes it until its narrower way is full: 70 = 3.5 × 20.
    assert largest_through(shapely.box(0, 0, 70, 60), thing, 9.0) == pytest.approx(
        (70.0, 35.0), abs=0.01
    )
    # In a right triangle of legs 90 and 90 the sides of a rectangle add up to a leg: 60 + 30.
    corner = shapely.Polygon([(0, 0), (90, 0), (0, 90)])
    assert largest_through(corner, thing, 9.0) == pytest.approx((60.0, 30.0), abs=0.02)
    # Beyond what is asked for is not looked.
    assert largest_through(corner, thing) == pytest.approx((20.0, 10.0), abs=0.01)
