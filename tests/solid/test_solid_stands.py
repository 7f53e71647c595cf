"""A boxed pouch as a solid: its faces meet in space as they were sewn, and its tin stands in it.

All of it is geometry of cloth that does not stretch, on the sizes asked for.
"""

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import pytest
import shapely
from bodies import ON_IT, box, overlapping
from finished_things import empty, worked

from paramgen.drawings.pictures.solid_views import solid_sheets
from paramgen.drawings.primitives.items import Shape, Style, flat
from paramgen.finished.standing_room import standing_room
from paramgen.solid.hinge_turns import standing
from paramgen.solid.posed import posed
from paramgen.solid.solid_model import Solid
from paramgen.solid.solid_of import solid_of

SIZES = [
    {},
    {"box": "cut-out", "width": "120mm", "height": "90mm", "depth": "50mm"},
    {"width": "200mm", "height": "200mm", "depth": "100mm", "loop": "none"},
]
THING = {"tin_width": "100mm", "tin_height": "40mm", "tin_depth": "30mm"}


def inner_faces(solid: Solid) -> Iterator[tuple[int, np.ndarray, np.ndarray]]:
    """Of each panel of cloth the corners of its inner face: as it lay flat, and in space.

    All inner faces lie at one height while it is flat: that of the axes.
    """
    stands = posed(solid)
    for number, panel in enumerate(solid.panels):
        if panel.hinge is None or panel.hinge.axis is None:
            continue
        place = next(one.place for one in stands.plates if one.panel == number)
        flat = shapely.get_coordinates(panel.outline.boundary)[:-1]
        yield number, flat, standing(place, flat, panel.hinge.axis)


@pytest.mark.parametrize("held", [True, False], ids=["with its tin", "empty"])
@pytest.mark.parametrize("asked", SIZES)
def test_what_was_one_place_in_the_flat_bag_is_one_place_in_space(
    asked: dict[str, str], *, held: bool
) -> None:
    # Front and back of the flat bag are alike, and joined along its edge alone. Along the sides,
    # the top and the bottom seam they must still meet; within, they are apart by the depth there.
    thing = worked("boxed-pouch", asked | THING)
    solid = solid_of(thing if held else empty(thing))
    edge = thing.room.boundary
    places: dict[tuple[float, float], list[np.ndarray]] = {}
    for _, ring, there in inner_faces(solid):
        for (x, y), spot in zip(ring, there, strict=True):
            places.setdefault((round(float(x), 3), round(float(y), 3)), []).append(spot)
    assert len(places) >= 8
    room = standing_room(thing)
    assert room is not None
    for (x, y), spots in places.items():
        # The ends of a seam across a corner lie on the edge too, and come together with each other.
        if edge.distance(shapely.Point(x, y)) < 0.01:
            apart = max(
                (float(np.hypot.reduce(a - b)) for a, b in combinations(spots, 2)), default=0.0
            )
            on_base = np.abs(room.base - (x, y)).sum(axis=1).min() < 0.01
            assert apart == pytest.approx(room.depth if on_base else 0.0, abs=1e-6)


@pytest.mark.parametrize("asked", SIZES)
def test_its_bottom_is_as_wide_and_deep_as_asked_and_it_stands_as_high_as_its_walls_ask(
    asked: dict[str, str],
) -> None:
    thing = empty(worked("boxed-pouch", asked | THING))
    room = standing_room(thing)
    assert room is not None
    faces = list(inner_faces(solid_of(thing)))
    bottoms = [
        there
        for _, ring, there in faces
        if shapely.Polygon(ring).symmetric_difference(room.half_bottom).area < 0.01
    ]
    assert len(bottoms) == 2
    low, high = np.concatenate(bottoms).min(axis=0), np.concatenate(bottoms).max(axis=0)
    assert high - low == pytest.approx([room.width, 0.0, room.depth], abs=1e-6)
    points = np.concatenate([there for _, _, there in faces])
    tall = points[:, 1].max() - points[:, 1].min()
    # A wall leans by half the depth.
    assert tall == pytest.approx(np.sqrt(room.height**2 - (room.depth / 2) ** 2))


def test_with_its_tin_in_the_walls_go_up_beside_it_and_over_it() -> None:
    # 75 high and 55 deep on a bottom of 60: up to √(75² + 2.5²) beside it, and the rest of 110
    # over it, 27.5 to the middle.
    solid = solid_of(worked("boxed-pouch", {"loop": "none"}))
    points = np.concatenate([there for *_, there in inner_faces(solid)])
    beside = np.hypot(75, 2.5)
    over = np.sqrt((110 - beside) ** 2 - 27.5**2)
    levels = np.unique((points[:, 1].max() - points[:, 1]).round(4))
    assert levels == pytest.approx([0, 75, 75 + over], abs=1e-3)


@pytest.mark.parametrize("asked", SIZES)
def test_the_tin_goes_through_nothing_once_it_is_in(asked: dict[str, str]) -> None:
    solid = solid_of(worked("boxed-pouch", asked | THING))
    stands = posed(solid, held=1.0)
    held = {k for k, one in enumerate(stands.plates) if one.held >= 0}
    assert len(held) == 1
    assert [pair for pair in overlapping(stands) if held & set(pair)] == []
    (tin,) = (stands.plates[k] for k in held)
    assert tin.volume == pytest.approx(100 * 40 * 30)
    low, high = box(stands)
    corners = np.concatenate([*tin.at(tin.low), *tin.at(tin.high)])
    assert (corners >= low - ON_IT).all()
    assert (corners <= high + ON_IT).all()


def test_the_loop_stands_off_the_side() -> None:
    solid = solid_of(worked("boxed-pouch"))
    stands = posed(solid)
    (loop,) = (one for one in stands.plates if one.panel == len(solid.panels) - 1)
    corners = np.concatenate([*loop.at(loop.low), *loop.at(loop.high)])
    # 34 out of the finished edge, as the seam line lies 1 outside it; straight out, to the left
    assert np.ptp(corners[:, 0]) == pytest.approx(34, abs=1.0)  # it leans, and has a thickness
    others = np.concatenate(
        [one.at(one.low)[0] for one in stands.plates if one.panel in (1, 4) and one.held < 0]
    )
    assert corners[:, 0].min() < others[:, 0].min()


def test_in_the_picture_of_it_going_in_something_of_the_tin_is_in_sight() -> None:
    # 75 high in a pouch 250 high up its front: halfway down it is out of sight.
    thing = worked("boxed-pouch", {"height": "250mm", "loop": "none"})
    (sheet,) = (one for one in solid_sheets(thing) if one.name.endswith("going-in"))
    shown = {item.style for item in flat(sheet.picture) if isinstance(item, Shape)}
    assert Style.HELD in shown
