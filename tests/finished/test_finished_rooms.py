"""Room in a pocket and in a pouch: common practice, no source, reckoned from cloth.

Room is between the lines that are stitched, width less twice the top-stitching; where nothing is
top-stitched, between the finished edges. What is w wide and t thick has a girth of 2 (w + t) and
so takes w + t of a flat pocket, and at each closed end half its thickness. Through a slit a thing
goes if its two smaller measures together do.
"""

from dataclasses import replace

import pytest
from finished_things import sewn
from hypothesis import given, settings
from hypothesis import strategies as st
from turned_mats import finished, mat, pocket, stitched

from paramgen.finished.clear_room import takes
from paramgen.finished.finished_limits import HAIR, PARKED_SLIDER, SLIT_OPENS
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.finished.held_things import contents
from paramgen.finished.pockets import pockets_along
from paramgen.finished.proof import proof
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.project import Held, Project

#: Between work and pocket, from the mouth at y = 0 to the finished edge at y = 30.
STITCHED, PLAIN = mat(pocket("pocket")), mat(pocket("pocket"), after="")


def card(width: float, height: float, thickness: float = 0.0, ease: float = 0.0) -> Held:
    return Held(
        name="card",
        title="card",
        size=(width, height),
        ease=ease,
        against="pocket",
        face=Side.BACK,
        thickness=thickness,
    )


def room(project: Project, face: Side = Side.BACK) -> tuple[float, float]:
    (one,) = proof(finished(project, replace(card(10.0, 10.0), face=face))).rooms
    assert (one.held, one.against, one.opens) == ("card", "pocket", "mouth")
    return one.width, one.height


def wide(width: float, height: float) -> object:
    return pytest.approx((width, height), abs=1.001 * HAIR)


def found(project: Project, held: Held) -> list[Finding]:
    return list(contents(finished(project, held)))


def test_a_pocket_that_is_top_stitched_has_the_room_between_the_stitching() -> None:
    # 100 - 2 · 2 wide; from the mouth at y = 0 to 30 - 2.
    assert room(STITCHED) == wide(96.0, 28.0)
    # Stitched 5 mm in: 100 - 10, 30 - 5.
    assert room(mat(pocket("pocket"), stitched_in=5.0)) == wide(90.0, 25.0)


def test_a_pocket_that_is_not_top_stitched_has_the_finished_size() -> None:
    # The seam lies 1 mm outside the finished edge: turned, the cloth takes that.
    assert room(PLAIN) == wide(100.0, 30.0)


def test_pulled_over_or_behind_the_hoop_the_room_is_the_same() -> None:
    # It then lies along the pocket's other face, as that lay in the hoop.
    assert room(mat(pocket("pocket"), pulled_over=("pocket",)), Side.FRONT) == wide(96.0, 28.0)
    assert room(mat(pocket("pocket"), closing=Side.BACK), Side.FRONT) == wide(96.0, 28.0)


def test_it_takes_its_thickness_and_ease_across_and_half_its_thickness_at_the_end() -> None:
    held = card(80.0, 20.0, thickness=3.0, ease=4.0)
    (place,) = pockets_along(finished(STITCHED, held), held)
    # w + t + ease across; down into the pocket l + t/2, as there it stands out at the mouth.
    assert takes(held, place) == (80.0 + 3.0 + 4.0, 20.0 + 3.0 / 2)


def test_a_thing_across_goes_in_to_the_hair_and_what_lacks_is_said() -> None:
    def across(project: Project, width: float) -> list[tuple[object, object]]:
        # 150 mm high, it stands out at the mouth and does not go in sideways.
        held = replace(card(width, 150.0, thickness=2.0, ease=4.0), share=0.0)
        return [(one.code, one.amount) for one in found(project, held)]

    # 96 = 90 + 2 + 4; what is lacking more is lacking between the stitching alone.
    assert across(STITCHED, 90.0) == []
    lacking = pytest.approx(0.3, abs=0.06)  # mouths count that reach a place to 0.02 mm
    assert across(STITCHED, 90.3) == [("stitched-too-narrow", lacking)]
    # Where nothing is top-stitched there are 100 = 94 + 2 + 4.
    assert across(PLAIN, 94.0) == []
    assert across(PLAIN, 94.3) == [("does-not-fit", lacking)]


@pytest.mark.parametrize(("project", "deep"), [(STITCHED, 28.0), (PLAIN, 30.0)])
@pytest.mark.parametrize("thickness", [0.0, 2.0, 6.0])
def test_half_of_the_thickness_is_lost_at_the_closed_end(
    project: Project, deep: float, thickness: float
) -> None:
    # All of it is to be held, which it is if l + t/2 is no more than the depth.
    assert found(project, card(50.0, deep - thickness / 2, thickness)) == []
    (short,) = found(project, card(50.0, deep - thickness / 2 + 0.7, thickness))
    assert short.code == "held-too-little"
    assert short.amount == pytest.approx(0.7, abs=0.02)


@given(
    width=st.floats(20.0, 110.0),
    thickness=st.floats(0.0, 8.0),
    ease=st.floats(0.0, 6.0),
)
@settings(max_examples=25)
def test_across_it_goes_in_exactly_if_width_thickness_and_ease_do(
    width: float, thickness: float, ease: float
) -> None:
    # 150 mm high: it stands out at the mouth, and does not go in sideways.
    held = replace(card(width, 150.0, thickness, ease), share=0.0)
    codes = {one.code for one in contents(finished(STITCHED, held))}
    needs = width + thickness + ease
    if abs(needs - 96.0) > 0.02:
        assert bool(codes) == (needs > 96.0)


# --- Through a zip: the shipped pouch of 160 × 120 mm, stitched 25 mm below its top -----------


def pouch(held: Held, asked: dict[str, str | float] | None = None) -> FinishedThing:
    done = sewn("zip-pouch", asked)
    return finish(replace(done, project=replace(done.project, holds=(held,))))


def thing(width: float, height: float, thickness: float, ease: float = 0.0) -> Held:
    return Held(
        name="pile",
        title="pile",
        size=(width, height),
        ease=ease,
        against="back-lining",
        face=Side.FRONT,
        thickness=thickness,
    )


def test_a_pouch_has_the_finished_size_and_opens_through_its_zip() -> None:
    (one,) = proof(pouch(thing(20.0, 20.0, 2.0))).rooms
    assert one.opens == "zip"
    assert (one.width, one.height) == pytest.approx((160.0, 120.0))


def test_in_a_pouch_both_ends_are_closed_each_way() -> None:
    held = thing(100.0, 80.0, 5.0, ease=4.0)
    inside = pouch(held)
    (place,) = pockets_along(inside, held)
    assert takes(held, place) == (100.0 + 5.0 + 4.0, 80.0 + 5.0 + 4.0)
    # 120 = 111 + 5 + 4 high; 160 = 151 + 5 + 4 wide.
    assert list(contents(inside)) == []
    assert list(contents(pouch(thing(151.0, 111.0, 5.0, ease=4.0)))) == []
    for size in ((151.0, 111.3), (151.3, 111.0)):
        (one,) = contents(pouch(thing(*size, 5.0, ease=4.0)))
        assert one.code == "does-not-fit"
        assert one.amount == pytest.approx(0.3, abs=0.02)


@pytest.mark.parametrize(
    ("through", "severity"),
    [
        (75.9, None),
        (76.2, Severity.DISAPPOINT),
        (87.3, Severity.DISAPPOINT),
        (87.6, Severity.CANNOT),
    ],
)
def test_a_parked_slider_takes_from_the_mouth_and_its_ends_do_not_open(
    through: float, severity: Severity | None
) -> None:
    # The zip of a pouch 100 mm wide opens as far; a slider parked at its end takes 8 to 20 mm of
    # it (from memory), and 0.95 of the rest opens: 0.95 · 80 = 76 to 0.95 · 92 = 87.4.
    assert (PARKED_SLIDER, SLIT_OPENS) == ((8.0, 20.0), 0.95)
    asked: dict[str, str | float] = {
        "width": 100,
        "height": 160,
        "packet_width": "50mm",
        "packet_height": "70mm",
    }
    # Of three measures the two smaller go through: its width and its thickness.
    inside = pouch(thing(through - 5.0, 140.0, 5.0), asked)
    (place,) = pockets_along(inside, inside.project.holds[0])
    assert place.mouths.length == pytest.approx(100.0, abs=0.1)
    said = list(contents(inside))
    assert [one.severity for one in said] == ([] if severity is None else [severity])
    for one in said:
        assert one.code == "mouth-narrow"
        assert one.amount == pytest.approx(through - 76.0, abs=0.05)


def test_a_line_that_ends_inside_a_pocket_parts_it_as_far_as_it_goes() -> None:
    # Upright in the middle, from outside the bottom seam to 12 mm below the mouth: what is 60 wide
    # goes 12 mm in and no farther; what is 40 wide goes all the way down beside it.
    line = stitched("half-way", "top-stitch", (0, 32), (0, 12))
    parted = mat(pocket("pocket"), line)
    (held,) = found(parted, replace(card(60.0, 20.0), share=0.7))
    assert held.code == "held-too-little"
    assert held.amount == pytest.approx(0.7 * 20 - 12, abs=0.05)
    assert not found(parted, card(40.0, 20.0))
    assert not found(STITCHED, card(60.0, 20.0))
