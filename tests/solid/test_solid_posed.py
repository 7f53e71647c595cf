"""Where panels stand, of solids made by hand: against arithmetic, and none through another."""

import numpy as np
import pytest
import shapely
from bodies import box, corners, covered_wrongly, overlapping
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.solid.looked_at import Gaze, far_to_near
from paramgen.solid.posed import posed
from paramgen.solid.posed_bodies import PosedPlate
from paramgen.solid.solid_model import HeldSlab, Slab, Solid, SolidHinge, SolidPanel

SHARES = st.floats(0.0, 1.0)
THICK = st.floats(0.2, 6.0)


def panel(
    area: shapely.Polygon,
    *thick: float,
    parent: int | None = None,
    hinge: SolidHinge | None = None,
    holds: tuple[tuple[int, ...], ...] = (),
) -> SolidPanel:
    slabs = tuple(Slab(outline=area, plies=(), heights=(one,)) for one in thick)
    return SolidPanel(
        outline=area, slabs=slabs, holds=holds or ((),) * len(slabs), parent=parent, hinge=hinge
    )


def book(front: float, back: float, *, side: int = -1, between: tuple[int, ...] = ()) -> Solid:
    """Two panels of 60 × 40 mm that fold about the line between them."""
    hinge = SolidHinge(start=(0, 0), end=(60, 0), opened=0, closed=180, side=side, between=between)
    below, above = shapely.box(0, 0, 60, 40), shapely.box(0, -40, 60, 0)
    return Solid((panel(below, front), panel(above, back, parent=0, hinge=hinge)))


def letter(thick: tuple[float, float, float]) -> Solid:
    """Three panels folded one over the other, the last outside."""
    first = SolidHinge(start=(0, 0), end=(60, 0), opened=0, closed=180, side=-1, last=0.5)
    over = SolidHinge(
        start=(60, 40), end=(0, 40), opened=0, closed=180, side=-1, first=0.5, between=(1,)
    )
    middle, top, bottom = (shapely.box(0, y, 60, y + 40) for y in (0, -40, 40))
    return Solid(
        (
            panel(middle, thick[0]),
            panel(top, thick[1], parent=0, hinge=first),
            panel(bottom, thick[2], parent=0, hinge=over),
        )
    )


def tray(wide: float, long: float, high: float, thick: float) -> Solid:
    """A bottom with four walls that stand on it when it is closed."""
    ends = [(0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long)]
    out = [
        shapely.box(0, -high, wide, 0),
        shapely.box(wide, 0, wide + high, long),
        shapely.box(0, long, wide, long + high),
        shapely.box(-high, 0, 0, long),
    ]
    walls = [
        panel(
            out[k],
            thick,
            parent=0,
            hinge=SolidHinge(start=ends[k], end=ends[(k + 1) % 4], opened=0, closed=90, side=1),
        )
        for k in range(4)
    ]
    return Solid((panel(shapely.box(0, 0, wide, long), thick), *walls))


@given(THICK, THICK, st.sampled_from([-1, 1]))
def test_closed_two_panels_are_as_high_as_one_and_as_thick_as_both(
    front: float, back: float, side: int
) -> None:
    low, high = box(posed(book(front, back, side=side), closed=1.0))
    assert high - low == pytest.approx([60, 40, front + back])


@given(THICK, THICK, st.floats(0, 180))
def test_the_end_of_a_panel_stands_as_high_as_its_angle_asks(
    front: float, back: float, degrees: float
) -> None:
    # About the edge of the faces that meet, 40 mm long: 40 sin a behind them.
    stands = posed(book(front, back), closed=degrees / 180)
    end = corners(stands.plates[1])
    inner = end[np.argsort(end[:, 1])]
    behind = 40 * np.sin(np.radians(degrees))
    assert end[:, 2].min() == pytest.approx(
        min(-behind, -behind + back * np.cos(np.radians(degrees)))
    )
    assert len(inner) == 8


@given(st.tuples(THICK, THICK, THICK), SHARES)
def test_three_fold_over_each_other_and_never_go_through(
    thick: tuple[float, float, float], closed: float
) -> None:
    solid = letter(thick)
    assert overlapping(posed(solid, closed=closed)) == []
    low, high = box(posed(solid, closed=1.0))
    assert high - low == pytest.approx([60, 40, sum(thick)])


@given(st.floats(20, 200), st.floats(20, 200), st.floats(5, 80), THICK, SHARES)
def test_walls_stand_on_a_bottom(
    wide: float, long: float, high: float, thick: float, closed: float
) -> None:
    solid = tray(wide, long, high, thick)
    assert overlapping(posed(solid, closed=closed)) == []
    low, far = box(posed(solid, closed=1.0))
    # The walls stand round the bottom, from its upper face on.
    assert far - low == pytest.approx([wide + 2 * thick, long + 2 * thick, high + thick])


@given(st.tuples(THICK, THICK, THICK), SHARES)
def test_no_pose_changes_a_volume(thick: tuple[float, float, float], closed: float) -> None:
    volumes = [one.volume for one in posed(letter(thick), closed=closed).plates]
    assert volumes == pytest.approx([60 * 40 * one for one in thick])


def pocket(thickness: float) -> Solid:
    """The book with a thing of 40 × 30 mm in its lower panel, its mouth 20 mm below the hinge."""
    held = HeldSlab(
        title="card",
        outline=shapely.box(10, 8, 50, 38),
        thickness=thickness,
        panel=0,
        out=(0.0, -1.0),
        mouth=-20.0,
        travel=20.0,
        side=-1,
    )
    solid = book(1.0, 2.0)
    lower = panel(shapely.box(0, 0, 60, 40), 0.5, 0.5, holds=((0,), ()))
    return Solid((lower, solid.panels[1]), (held,))


@given(THICK, SHARES)
def test_a_thing_takes_its_thickness_and_is_all_there_while_it_goes_in(
    thickness: float, held: float
) -> None:
    stands = posed(pocket(thickness), held=held)
    volume = sum(one.volume for one in stands.plates if one.held == 0)
    assert volume == pytest.approx(40 * 30 * thickness)
    low, high = box(posed(pocket(thickness), closed=1.0, held=1.0))
    assert high[2] - low[2] == pytest.approx(0.5 + 0.5 + 2.0 + thickness)
    low, high = box(posed(pocket(thickness), closed=0.0, held=0.0))
    assert high[2] - low[2] == pytest.approx(max(0.5 + 0.5, 2.0))


@given(THICK, SHARES)
def test_what_is_not_in_is_not_there_once_the_panels_leave_it_no_room(
    thickness: float, held: float
) -> None:
    # It reaches 20 mm past the mouth, to the hinge, when 18 of its 30 mm are out of it.
    stands = posed(pocket(thickness), closed=0.9, held=held)
    there = any(one.held == 0 for one in stands.plates)
    past = 38 - 8 - 18 + 20 * (1 - held)  # its top end: 12 mm past the mouth when it is in
    assert there == (past <= 20.0)
    panels = [k for k, one in enumerate(stands.plates) if one.held < 0]
    assert [pair for pair in overlapping(stands) if set(pair) <= set(panels)] == []


def test_a_panel_is_shorter_by_what_the_way_round_takes() -> None:
    solid = book(1.0, 1.0)
    first = solid.panels[1]
    assert first.hinge is not None
    spent = SolidHinge(start=(0, 0), end=(60, 0), opened=0, closed=180, side=-1, spends=15.0)
    shorter = SolidPanel(
        outline=first.outline, slabs=first.slabs, holds=first.holds, parent=0, hinge=spent
    )
    stands = posed(Solid((solid.panels[0], shorter)), closed=1.0)
    low, high = corners(stands.plates[1]).min(axis=0), corners(stands.plates[1]).max(axis=0)
    # 40 mm less 15, from the hinge on.
    assert (low[1], high[1]) == pytest.approx((0.0, 25.0))
    half = posed(Solid((solid.panels[0], shorter)), closed=0.5).plates[1]
    assert half.outline.area == pytest.approx(60 * (40 - 7.5))


gazes = st.builds(Gaze, st.floats(-180, 180), st.floats(-90, 90))


@given(st.tuples(THICK, THICK, THICK), SHARES, gazes)
@settings(max_examples=60)
def test_what_lies_nearer_is_drawn_later(
    thick: tuple[float, float, float], closed: float, gaze: Gaze
) -> None:
    order = far_to_near(posed(letter(thick), closed=closed), gaze)
    plates = (one for one in order if isinstance(one, PosedPlate))
    assert covered_wrongly(plates, gaze.matrix) == []


@given(st.floats(20, 200), st.floats(20, 200), st.floats(5, 80), SHARES, gazes)
@settings(max_examples=60)
def test_of_walls_on_a_bottom_too(
    wide: float, long: float, high: float, closed: float, gaze: Gaze
) -> None:
    order = far_to_near(posed(tray(wide, long, high, 3.0), closed=closed), gaze)
    plates = (one for one in order if isinstance(one, PosedPlate))
    assert covered_wrongly(plates, gaze.matrix) == []


@given(gazes)
def test_looking_turns_and_does_not_squeeze(gaze: Gaze) -> None:
    assert gaze.matrix @ gaze.matrix.T == pytest.approx(np.eye(3))
    assert np.linalg.det(gaze.matrix) == pytest.approx(1.0)


@given(st.floats(60, 200), st.floats(5, 25), SHARES, gazes)
@settings(max_examples=60)
def test_of_a_narrow_flap_at_the_end_of_a_long_panel_too(
    long: float, narrow: float, closed: float, gaze: Gaze
) -> None:
    # Its middle may lie farther away than that of the panel which it lies on and covers.
    hinge = SolidHinge(start=(0, 40), end=(0, 0), opened=0, closed=180, side=1)
    flap = panel(shapely.box(-narrow, 0, 0, 40), 1.0, parent=0, hinge=hinge)
    solid = Solid((panel(shapely.box(0, 0, long, 40), 1.0), flap))
    order = far_to_near(posed(solid, closed=closed), gaze)
    plates = (one for one in order if isinstance(one, PosedPlate))
    assert covered_wrongly(plates, gaze.matrix) == []
