"""The finished thing in `plan.json`: as the model says, where the first copy lies in the hoop.

Turned by 90° clockwise the recipe's top lies at the right: what lies at (x, y) comes to (-y, x).
"""

import json
from functools import cache
from typing import Any

import pytest

from paramgen.finished.finished_limits import HAIR
from paramgen.making import Made, make
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.plan.write_plan import plan, to_json
from paramgen.vocabulary.path import Point

POUCH = ["width=160", "height=120"]
ASKED = {
    "pouch": ("zip-pouch", POUCH, "360x350", 1),
    "pouch, turned": ("zip-pouch", POUCH, "130x180", 1),
    "pouches": ("zip-pouch", POUCH, "360x350", 2),
    "wallet": (
        "fold-wallet",
        ["width=124", "height=172", "front_depth=54", "most_stagger=30"],
        "130x180",
        1,
    ),
    "tag, turned": ("plant-tag", ["hang=hole", "width=160", "height=94"], "130x180", 1),
    "tags": ("plant-tag", ["hang=hole", "height=94"], "360x350", 3),
}
TURNED = {"pouch, turned", "tag, turned"}
NAMES = pytest.mark.parametrize("name", ASKED)


@cache
def made(name: str) -> Made:
    recipe, values, hoop, copies = ASKED[name]
    return make(
        asked(TypedRequest(recipe=recipe, values=values, hoop=hoop, copies=str(copies))).order
    )


@cache
def told(name: str) -> Any:
    """The plan as JSON reads it."""
    return json.loads(to_json(plan(made(name), {}, [])))


def in_hoop(name: str, spot: Point) -> Any:
    """Where a place of the recipe lies in the hoop, of the first copy."""
    first = told(name)["copies"][0]
    x, y = (-spot[1], spot[0]) if first["turned"] else spot
    left, top = first["origin"]
    return pytest.approx([x + left, y + top], abs=1e-3)


@NAMES
def test_the_copies_lie_turned_and_apart_as_the_cases_mean_them(name: str) -> None:
    plan_ = told(name)
    assert plan_["hoop"]["turned"] == (name in TURNED)
    origins = [tuple(copy["origin"]) for copy in plan_["copies"]]
    assert len(set(origins)) == ASKED[name][3]
    if len(origins) > 1:
        assert origins[0] != (0.0, 0.0)


@NAMES
def test_it_says_what_the_model_does(name: str) -> None:
    proof, said = made(name).proof, told(name)["proof"]
    assert [(flap["pieces"], flap["lies"], flap["rim"]) for flap in said["flaps"]] == [
        (list(flap.pieces), flap.lies, [[in_hoop(name, at) for at in part] for part in flap.rim])
        for flap in proof.flaps
    ]
    assert [
        (one["notion"], one["at"], one["through"], one["reached_by"]) for one in said["hardware"]
    ] == [
        (one.notion, in_hoop(name, one.at), list(one.through), one.reached_by)
        for one in proof.hardware
    ]
    depths = [one.depth for one in proof.hardware]
    assert [one["depth"] for one in said["hardware"]] == pytest.approx(depths)
    assert [(one["thing"], one["against"], one["opens"]) for one in said["rooms"]] == [
        (one.held, one.against, one.opens) for one in proof.rooms
    ]
    sizes = [(one["width"], one["height"]) for one in said["rooms"]]
    assert sizes == [pytest.approx((one.width, one.height)) for one in proof.rooms]
    assert said["thickness"] == {
        "empty": pytest.approx(proof.thickness.empty),
        "full": pytest.approx(proof.thickness.full),
    }


@pytest.mark.parametrize("name", ["pouch", "pouch, turned", "pouches"])
def test_a_pouchs_loop_room_and_thickness_are_told_where_they_lie(name: str) -> None:
    # Seam box 162 × 122; the zip 25 below its top at y = -36; the loop, 20 wide, begins 3 mm below
    # its tape: from -36 + 12.5 + 3 = -20.5 to -0.5, at the left side, x = -81.
    said = told(name)["proof"]
    (loop,) = said["flaps"]
    assert (loop["pieces"], loop["lies"]) == (["loop"], "stands out")
    (rim,) = loop["rim"]
    ends = [in_hoop(name, (-81.0, -20.5)), in_hoop(name, (-81.0, -0.5))]
    assert rim in (ends, ends[::-1])
    (room,) = said["rooms"]
    # However it lies in the hoop, its room is told as the recipe's own way round.
    assert (room["width"], room["height"]) == pytest.approx((160.0, 120.0))
    assert room["opens"] == "zip"
    # At the edge: 3 plies of outer with light interfacing, 0.25 to 0.5, 3 of lining, 0.15 to 0.3,
    # and the zip's tape, 0.4 to 0.7, all twice. Full: once, and a packet of 2 mm.
    edge = [2 * (3 * 0.25 + 3 * 0.15 + 0.4), 2 * (3 * 0.5 + 3 * 0.3 + 0.7)]
    assert said["thickness"]["empty"] == pytest.approx(edge)
    assert said["thickness"]["full"] == pytest.approx([edge[0] / 2 + 2.0, edge[1]])


@pytest.mark.parametrize("name", ["tag, turned", "tags"])
def test_an_eyelet_is_told_where_the_first_copy_lies(name: str) -> None:
    # 14 mm below the top of a tag 94 mm high: y = -47 + 14.
    said = told(name)["proof"]
    (eyelet,) = said["hardware"]
    assert eyelet["at"] == in_hoop(name, (0.0, -33.0))
    assert eyelet["through"] == ["front", "back"]
    assert (eyelet["reached_by"], eyelet["depth"]) == ("outside", 0.0)
    assert said["flaps"] == []
    # Two of felt or vinyl, 0.7 to 2 mm, and the window of 0.2 to 0.5.
    assert said["thickness"]["empty"] == pytest.approx([1.6, 4.5])


def test_a_wallets_flaps_snap_and_room_are_those_of_the_worked_example() -> None:
    # 126 × 174 mm of seam; pockets 54 and 54 + (87 - 54) / 2 = 70.5 deep; the tab of 19 mm.
    said = told("wallet")["proof"]
    flaps = [(flap["pieces"], flap["lies"]) for flap in said["flaps"]]
    assert flaps[0] == (["ribbon"], "stands out")
    one, two = (["pocket[1]"], "closing side"), (["pocket[2]"], "closing side")
    assert flaps[1:] == [one, one, two, two]
    spans = [sorted({abs(y) for _, y in flap["rim"][0]}) for flap in said["flaps"]]
    assert spans == [[87.0], [33.0, 87.0], [33.0, 87.0], [16.5, 87.0], [16.5, 87.0]]
    assert sorted(said["flaps"][0]["rim"][0]) == [[-9.5, 87.0], [9.5, 87.0]]
    # Between the stitching 124 - 2 · 2 wide, and 54 - 1 - 2 deep.
    (room,) = said["rooms"]
    assert room["opens"] == "mouth"
    assert (room["width"], room["height"]) == pytest.approx((120.0, 51.0), abs=1.001 * HAIR)
    # The stud lies 12.625 below the edge at y = -86, the zip's slit 36 below the seam at -87.
    tab, stud = said["hardware"]
    assert (tab["through"], tab["reached_by"], tab["depth"]) == (["ribbon"], "outside", 0.0)
    assert (stud["through"], stud["reached_by"]) == (["upper-outer"], "zip")
    assert stud["depth"] == pytest.approx((-87.0 + 36.0) - (-86.0 + 12.625))
