"""The book of flaps on small plans made by hand, and on random settings of every recipe."""

import ast
import random
from copy import deepcopy
from dataclasses import replace
from pathlib import Path
from typing import Any

import book_of_flaps
import plan_hollows
import plan_measures
import plan_pile
import pytest
from book_of_flaps import CLOSING, OUT, WORK, bind, disagreements
from plan_pile import Plan, read
from random_settings import LARGE, needles_outside, settings, tried
from shapely.geometry import Point

from paramgen.hooping import Room
from paramgen.making import Order, make
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.reference.hoops import Hoop

Box = tuple[float, float, float, float]

#: The seam box of all plans made by hand is 100 × 60 mm, the finished edge 1 mm inside it.
SEAM: Box = (-50, -30, 50, 30)
FINISHED: Box = (-49, -29, 49, 29)
#: Top-stitched all round, 2 mm inside the finished edge.
STITCHED: Box = (-47, -27, 47, 27)
WHOLE: Box = (-60, -40, 60, 40)
#: Settings of each recipe in a run of the tests; `book_of_flaps_run.py` works through more.
SAMPLE = 8


def ring(box: Box) -> list[list[float]]:
    left, top, right, bottom = box
    return [[left, top], [right, top], [right, bottom], [left, bottom]]


def layer(piece: str, step: int, box: Box, **more: Any) -> dict[str, Any]:
    return {
        "piece": piece,
        "step": step,
        "side": "front",
        "up": "right",
        "plies": 1,
        "outline": ring(box),
        "folded_edges": [],
        "slit": None,
        **more,
    }


def line(name: str, points: list[list[float]], **more: Any) -> dict[str, Any]:
    return {"name": name, "points": points, "closed": False, "swing": None, **more}


def made_plan(
    layers: list[dict[str, Any]], lines: dict[int, list[dict[str, Any]]], **more: Any
) -> Plan:
    """A plan of ten steps: what is laid and stitched in each, out of the hoop, top-stitched."""
    steps = [
        {
            "number": number,
            "kind": "stitch" if number in lines else "lay",
            "stop": number if number in lines else None,
            "lines": lines.get(number, []),
            "mark": [],
        }
        for number in range(1, 10)
    ]
    after: dict[str, Any] = {"stop": None, "lines": [], "mark": []}
    steps.append({"number": 10, "kind": "take out of the hoop", **after})
    stitched = ring(STITCHED)
    top = {"number": 11, "kind": "top-stitch", "mark": [[*stitched, stitched[0]]]}
    steps.append(after | top)
    proof: dict[str, Any] = {"flaps": [], "rooms": [], "hardware": [], "shows": [], "layers": []}
    return {
        "copies": [{}],
        "hoop": {"turned": False},
        "layers": layers,
        "steps": steps,
        "pieces": [],
        "holds": [],
        "finish": {
            "way": "turned",
            "finished": ring(FINISHED),
            "seam": ring(SEAM),
            "between": ["outer", "lining"],
            "pulled_over": [],
            "stands_out": [],
            "depth": 0,
            "across": [],
        },
        "proof": {**proof, "thickness": {"empty": [1.0, 3.0], "full": [1.0, 3.0]}},
        **more,
    }


#: Fold at y = 0, in the middle; raw ends 5 mm past the bottom seam.
TAB = {"plies": 2, "folded_edges": [[[-10, 0], [10, 0]]]}
TAB_BOX: Box = (-10, 0, 10, 35)
#: Its fold is the mouth, 20 mm above the bottom seam.
POCKET = {"plies": 2, "folded_edges": [[[-60, 10], [60, 10]]]}
POCKET_BOX: Box = (-60, 10, 60, 40)


def purse(tab: int = 3, pocket: int = 5) -> Plan:
    """Outer, tab and pocket at the bottom end, lining; all that is told of it is right."""
    plan = made_plan(
        [
            layer("outer", 1, WHOLE),
            *sorted(
                [
                    layer("tab", tab, TAB_BOX, **TAB),
                    layer("pocket", pocket, POCKET_BOX, **POCKET),
                ],
                key=lambda one: one["step"],
            ),
            layer("lining", 7, WHOLE, up="wrong"),
        ],
        {
            2: [line("outer-tack", ring((-51, -31, 51, 31)), closed=True)],
            tab + 1: [line("tab-tack", [[-9, 31], [9, 31]])],
            pocket + 1: [line("pocket-tack", [[-51, 10], [-51, 31], [51, 31], [51, 10]])],
            8: [line("seam", [[-50, -10], *ring(SEAM), [-50, 10]])],
        },
        holds=[{"name": "packet", "face": "front", "thickness": 2.0, "number": 1}],
    )
    plan["finish"] |= {"pulled_over": ["pocket"], "stands_out": ["tab"]}
    plan["proof"] |= {
        "flaps": [
            {"pieces": ["tab"], "lies": OUT, "rim": [[[10, 30], [-10, 30]]]},
            {
                "pieces": ["pocket"],
                "lies": CLOSING,
                "rim": [[[-50, 10], [-50, 30], [50, 30], [50, 10]]],
            },
        ],
        # The seam box has 100 * 60 mm², the pocket 100 * 20. The tab has 20 * 30 on each ply:
        # its sides are open, so that its inside is reached as well.
        "shows": [
            {"piece": "outer", "face": "front", "area": 6000.0},
            {"piece": "lining", "face": "back", "area": 6000.0},
            {"piece": "pocket", "face": "front", "area": 2000.0},
            {"piece": "pocket", "face": "back", "area": 2000.0},
            {"piece": "tab", "face": "front", "area": 2 * 600.0},
            {"piece": "tab", "face": "back", "area": 2 * 600.0},
        ],
        # Between top-stitching 2 mm inside the finished edge: 98 - 2 * 2 wide; from the mouth
        # 20 mm to the seam, less 1 mm to the finished edge and 2 mm.
        "rooms": [
            {
                "thing": "packet",
                "against": "pocket",
                "width": 94,
                "height": 17,
                "opens": "mouth",
                "depth": 0,
            }
        ],
        # The tab's fold lay 29 mm above the finished edge, at y = 29: it stands out to y = 58.
        "hardware": [
            {"notion": "snap", "at": [0, 48], "through": ["tab"]},
            {"notion": "snap", "at": [0, -20], "through": ["outer"]},
        ],
        # Outer and tab; outer and lining, and with them tab and pocket.
        "layers": [
            {"line": "tab-tack", "step": tab + 1, "fewest": 3, "most": 3},
            {"line": "seam", "step": 8, "fewest": 2, "most": 6},
        ],
        "thickness": {"empty": [1.0, 3.0], "full": [3.0, 5.0]},
    }
    return plan


def sleeve(gap: float = 6.0) -> Plan:
    """Two outers at the coil of a zip over the middle, and a lining: nothing is between."""
    half = gap / 2
    plan = made_plan(
        [
            layer("zip", 1, (-70, -12, 70, 12), slit=[[-65, 0], [65, 0]]),
            layer("upper", 3, (-60, -40, 60, -half)),
            layer("lower", 3, (-60, half, 60, 40)),
            layer("lining", 7, WHOLE, up="wrong"),
        ],
        {
            2: [line("zip-tack", [[-51, y], [51, y]]) for y in (-10, 10)],
            4: [line("fold-stitch", [[-51, y], [51, y]]) for y in (-half - 2, half + 2)],
            8: [line("seam", ring(SEAM), closed=True)],
        },
    )
    plan["finish"]["between"] = ["lower", "lining"]
    return plan


def found(plan: Plan, part: str) -> list[str]:
    return [one for one in disagreements(plan) if part in one]


def test_what_is_laid_on_the_back_lies_under_all_before_it() -> None:
    plan = made_plan(
        [
            layer("a", 1, WHOLE),
            layer("b", 2, WHOLE, side="back"),
            layer("c", 3, WHOLE),
            layer("d", 4, WHOLE, side="back"),
            layer("patch", 11, WHOLE),
        ],
        {},
    )
    assert [one.piece for one in read(plan).pile] == ["d", "b", "a", "c"]


def test_the_first_of_two_copies_is_read() -> None:
    plan = made_plan(
        [layer(name, 1, WHOLE) for name in ("a", "b", "a", "b")],
        {2: [line("x", [[0, 0], [1, 0]]), line("x", [[9, 0], [10, 0]])]},
        copies=[{}, {}],
    )
    work = read(plan)
    assert [one.piece for one in work.pile] == ["a", "b"]
    assert [one.path.bounds[0] for one in work.lines] == [0]


def test_all_that_is_told_rightly_is_agreed_on() -> None:
    assert disagreements(purse()) == []


def test_a_tab_laid_before_a_pocket_stands_out_and_one_laid_after_is_trapped() -> None:
    plan = purse(tab=5, pocket=3)
    pages = bind(plan, read(plan)).pages
    assert [(one.layer.piece, one.lies) for one in pages] == [("pocket", CLOSING), ("tab", OUT)]
    said = found(plan, "trapped")
    assert said == [f"tab ({OUT}) is trapped by pocket ({CLOSING}), laid in step 3"]
    assert found(purse(), "trapped") == []


def test_what_shares_no_rim_traps_nothing() -> None:
    plan = purse(tab=5, pocket=3)
    # A pocket at the other end.
    plan["layers"][1]["outline"] = ring((-60, -40, 60, -10))
    assert found(plan, "trapped") == []


@pytest.mark.parametrize(("to", "flap"), [(31.0, True), (20.0, False)])
def test_a_pocket_with_a_line_across_it_is_no_flap(to: float, flap: bool) -> None:
    plan = purse()
    # Stitched with the pocket, in the allowance or 10 mm into the pocket.
    plan["steps"][5]["lines"].append(line("divider", [[0, to], [0, 35]]))
    pages = bind(plan, read(plan)).pages
    assert ("pocket" in [one.layer.piece for one in pages]) is flap


def test_a_line_stitched_before_it_was_laid_holds_nothing() -> None:
    plan = purse()
    plan["steps"][1]["lines"].append(line("quilting", [[0, -31], [0, 31]]))
    assert disagreements(plan) == []


@pytest.mark.parametrize(
    ("box", "straight"),
    [
        # A strap with both ends at the bottom: two stretches of one straight run.
        (None, True),
        # From side to side.
        ((-60.0, 0.0, 60.0, 8.0), False),
        # Round the corner.
        ((30.0, 10.0, 60.0, 40.0), False),
    ],
)
def test_what_stands_out_is_held_on_one_straight_run(box: Box | None, straight: bool) -> None:
    plan = purse()
    strap = [[-30, 40], [-30, 0], [30, 0], [30, 40], [20, 40], [20, 10], [-20, 10], [-20, 40]]
    plan["layers"][1]["outline"] = strap if box is None else ring(box)
    assert (found(plan, "not straight") == []) is straight


def test_a_pocket_caught_all_round_cannot_be_pulled_over() -> None:
    plan = purse()
    plan["layers"][2]["outline"] = ring(WHOLE)
    assert found(plan, "no mouth") == ["pocket cannot be pulled over: it has no mouth"]
    assert found(purse(), "no mouth") == []


def test_a_zip_is_seen_on_the_work_until_a_flap_lies_over_it() -> None:
    assert found(sleeve(), "covered") == []
    plan = sleeve()
    plan["layers"].insert(3, layer("pocket", 5, (-60, -20, 60, 40)))
    # From x = -48 to 48 every 5 mm: 20 places.
    said = ["zip is covered on both faces at 20 of 20 places"]
    assert found(plan, "covered") == said
    plan["finish"]["pulled_over"] = ["pocket"]
    assert found(plan, "covered") == []


def test_what_is_laid_on_the_zip_as_part_of_the_work_covers_it() -> None:
    plan = sleeve()
    plan["layers"].insert(3, layer("band", 3, (-60, -5, 60, 5)))
    assert found(plan, "covered") == ["zip is covered on both faces at 20 of 20 places"]


def test_flaps_come_to_lie_on_each_other_in_the_order_of_the_book() -> None:
    plan = purse()
    plan["layers"].insert(3, layer("larger", 6, (-60, 0, 60, 40)))
    spot = Point(30, 20)

    def stacks(over: list[str]) -> list[list[str]]:
        plan["finish"]["pulled_over"] = over
        both = bind(plan, read(plan)).shown_at(spot)
        return [[one.piece for one in stack] for stack in both]

    # On the lining the pocket laid first lies in front, on the outer the one laid last.
    assert stacks(["pocket", "larger"]) == [["outer"], ["pocket", "larger", "lining"]]
    assert stacks([]) == [["larger", "pocket", "outer"], ["lining"]]
    assert stacks(["larger"]) == [["pocket", "outer"], ["larger", "lining"]]


def test_a_wrong_side_that_is_outermost_is_found() -> None:
    plan = purse()
    plan["layers"][3]["up"] = "right"
    # 100 * 60 less what the pocket covers, 100 * 20.
    assert found(plan, "wrong side") == ["the wrong side of lining is outermost over 4000 mm²"]


def test_a_face_with_nothing_on_it_is_found() -> None:
    plan = sleeve(gap=30.0)
    # The zip is 24 mm wide: 2 * 3 mm by 100 mm are bare.
    assert found(plan, "nothing lies") == ["nothing lies over 600 mm² of the front"]


def test_a_pocket_sewn_shut_does_not_show_inside() -> None:
    plan = purse()
    shown = plan_hollows.shown(read(plan), plan_hollows.grid(read(plan)))
    assert shown["outer", "front"] == pytest.approx(6000)
    # The mouth is sewn shut to the outer, 2 mm inside the fold: behind it nothing is reached.
    plan["steps"][5]["lines"].append(line("across", [[-51, 12], [51, 12]]))
    shown = plan_hollows.shown(read(plan), plan_hollows.grid(read(plan)))
    assert shown["outer", "front"] == pytest.approx(100 * 60 - 100 * 18)
    assert shown["pocket", "back"] == pytest.approx(100 * 2)


def test_an_open_zip_lets_into_what_lies_behind_it() -> None:
    plan = sleeve()
    # With a gap in its seam it is not turned through its zip, which is looked at open then.
    plan["steps"][7]["lines"] = [line("seam", [*ring(SEAM), [-50, 0]])]
    plan["layers"].append(layer("pouch", 5, WHOLE, side="back"))
    shown = plan_hollows.shown(read(plan), plan_hollows.grid(read(plan)))
    assert shown["pouch", "front"] == pytest.approx(6000)
    plan["layers"][0]["slit"] = None
    shown = plan_hollows.shown(read(plan), plan_hollows.grid(read(plan)))
    assert ("pouch", "front") not in shown


def test_of_raw_edge_goods_both_faces_are_the_ends_of_the_pile() -> None:
    plan = made_plan(
        [layer("front", 1, WHOLE), layer("back", 2, WHOLE, side="back", up="wrong")],
        {3: [line("seam", ring(SEAM), closed=True)]},
    )
    plan["finish"] |= {"way": "raw edge", "between": []}
    plan["proof"]["shows"] = [
        {"piece": name, "face": name, "area": 6000.0} for name in ("front", "back")
    ]
    plan["proof"]["hardware"] = [{"notion": "eyelet", "at": [0, 0], "through": ["back", "front"]}]
    assert disagreements(plan) == []
    plan["layers"][1]["up"] = "right"
    assert found(plan, "wrong side") == ["the wrong side of back is outermost over 6000 mm²"]


@pytest.mark.parametrize(
    ("at", "through", "right"),
    [
        ([0, 48], ["tab"], True),
        ([0, 48], ["outer"], False),
        # Past the tab's end at y = 58.
        ([0, 59], ["tab"], False),
        # On the lining's side through the pocket, then the lining.
        ([20, 20], ["pocket"], True),
        ([20, 20], ["pocket", "lining"], True),
        ([20, 20], ["lining"], False),
        ([20, 20], ["outer", "pocket"], False),
        # From one face on into the other, as far as one likes, and nothing left out.
        ([20, 20], ["outer", "lining"], True),
        ([20, 20], ["pocket", "lining", "outer"], True),
        ([20, 20], ["outer", "lining", "pocket"], True),
    ],
)
def test_hardware_pierces_what_lies_there_from_a_face(
    at: list[float], through: list[str], right: bool
) -> None:
    plan = purse()
    plan["proof"]["hardware"] = [{"notion": "snap", "at": at, "through": through}]
    assert (found(plan, "goes through") == []) is right


def test_a_tape_of_a_zip_may_be_pierced_unsaid() -> None:
    plan = sleeve()
    plan["layers"].insert(0, layer("pouch", 5, WHOLE, side="back"))
    plan["proof"]["hardware"] = [{"notion": "snap", "at": [0, 8], "through": ["lower", "pouch"]}]
    assert found(plan, "goes through") == []
    plan["proof"]["hardware"][0]["through"] = ["pouch"]
    assert found(plan, "goes through") != []


def test_a_room_ends_at_a_line_and_a_hand_without_a_line_is_not_believed() -> None:
    plan = purse()
    # Divided from mouth to end, 10 mm right of the middle: from -47 to 10 is 57 mm.
    plan["steps"][5]["lines"].append(line("divider", [[10, 5], [10, 35]]))
    room = plan_measures.room(read(plan), "pocket", "back")
    assert room is not None
    assert room[:2] == pytest.approx((57, 17), abs=0.02)
    assert room[2] == "mouth"
    # The same line by hand.
    plan = purse()
    plan["steps"][-1]["mark"].append([[10, 5], [10, 35]])
    assert plan_measures.room(read(plan), "pocket", "back") == room
    plan["steps"][-1]["mark"] = []
    assert found(plan, "not told") != []


def test_a_room_behind_a_zip_opens_by_it() -> None:
    plan = sleeve()
    plan["layers"].append(layer("pouch", 5, WHOLE, side="back"))
    # Nothing is top-stitched: to the finished edge, 98 * 58.
    plan["steps"].pop()
    room = plan_measures.room(read(plan), "pouch", "front")
    assert room is not None
    assert room[:2] == pytest.approx((98, 58))
    assert room[2] == "zip"


def test_a_hem_is_counted_where_it_lies() -> None:
    # Twice 6 mm turned in along the mouth at y = 10: 42 mm cut, 30 mm as it lies.
    folds = [{"kind": "hem", "start": [-60, y], "end": [60, y]} for y in (-15, -9)]
    plan = purse()
    plan["layers"][2] |= {"plies": 1, "up": "wrong"}
    del plan["layers"][1]
    plan["pieces"] = [{"name": "pocket", "cut": [120, 42], "folded": [120, 30], "folds": folds}]
    work = read(plan)
    (pocket,) = (one for one in work.pile if one.piece == "pocket")
    assert [(one.bounds, plies) for one, plies in pocket.hems] == [((-60, 10, 60, 16), 2)]
    (across,) = (one for one in work.lines if one.name == "pocket-tack")
    # Outer and pocket, in the hem two more; at either end the outer alone.
    assert plan_measures.plies_under(work, across) == (1, 2, 4, 4)


# 30 × 10 mm, 5 turned in at the top and 8 at the right: cut 38 × 15, creases at 15 - 8 + 4 = 11 and
# at -7.5 + 5 = -2.5. One layer, two in either hem and four in the corner. It lies as it is, or
# turned by a quarter, its top at the right and its right at the bottom.
@pytest.mark.parametrize("turned", [False, True])
def test_a_corner_that_is_hemmed_both_ways_is_four_layers(turned: bool) -> None:
    folds = [
        {"kind": "hem", "start": [-19, -2.5], "end": [19, -2.5]},
        {"kind": "hem", "start": [11, -7.5], "end": [11, 7.5]},
    ]
    edges = [[[-15, -5], [15, -5]], [[15, -5], [15, 5]]]
    spots = {(0.0, 3.0): 1, (0.0, -2.0): 2, (8.0, 3.0): 2, (8.0, -2.0): 4}
    whole: Box = (-15, -5, 15, 5)
    if turned:
        whole = (-5, -15, 5, 15)
        edges = [[[-y, x] for x, y in edge] for edge in edges]
        spots = {(-y, x): plies for (x, y), plies in spots.items()}
    plan = made_plan([layer("patch", 1, whole, folded_edges=edges)], {})
    plan["hoop"]["turned"] = turned
    plan["pieces"] = [{"name": "patch", "cut": [38, 15], "folded": [30, 10], "folds": folds}]
    (patch,) = read(plan).pile
    found = {
        at: sum(plies for area, plies in patch.leaves if area.covers(Point(at))) for at in spots
    }
    assert found == spots


#: Creases from top to bottom of the strip of the next test.
UPRIGHT = (("hem", 19), ("thirds", -12), ("thirds", 4))


# 54 wide: turned in by 8 at its right, of the 46 that are left 15 go over from the left and 15 with
# the hem from the right, 16 stay. Turned over as a page it lies from -8 to 8: the third that went
# in first from -7 to 8, the other one from -8 to 7, the hem at its edge from 7 to -1. Its end, 40
# below the middle, is turned in by 10 first, and lies once more wherever any of them lies.
@pytest.mark.parametrize(
    ("x", "beside", "in_end"), [(-7.5, 2, 4), (-2, 3, 6), (0, 4, 8), (6.5, 4, 8), (7.5, 2, 4)]
)
def test_a_strip_with_hems_is_folded_panel_by_panel(x: float, beside: int, in_end: int) -> None:
    folds = [
        {"kind": "hem", "start": [-27, 35], "end": [27, 35]},
        *({"kind": kind, "start": [at, -45], "end": [at, 45]} for kind, at in UPRIGHT),
    ]
    strip = layer("strip", 1, (-8, -40, 8, 40), plies=3, folded_edges=[[[8, -40], [8, 40]]])
    strip["hems"] = [{"outline": ring((-1, -40, 7, 40)), "twice": False}]
    stitched = [line("beside", [[x, -38], [x, 28]]), line("in end", [[x, 32], [x, 38]])]
    plan = made_plan([strip], {2: stitched})
    plan["pieces"] = [{"name": "strip", "cut": [54, 90], "folded": [16, 80], "folds": folds}]
    work = read(plan)
    counts = [plan_measures.plies_under(work, one) for one in work.lines]
    assert counts == [(beside,) * 4, (in_end,) * 4]


def test_a_needle_that_runs_on_an_edge_may_or_may_not_meet_the_layer() -> None:
    # At x = 0 all along: one ply, or two, is right for either end.
    layers = [layer("whole", 1, WHOLE), layer("half", 1, (0, -40, 60, 40))]
    work = read(made_plan(layers, {2: [line("down", [[0, -30], [0, 30]])]}))
    assert plan_measures.plies_under(work, work.lines[0]) == (1, 2, 1, 2)


@pytest.mark.parametrize(("overlap", "most"), [(0.5, 1), (2.0, 2)])
def test_a_short_overlap_need_not_be_told(overlap: float, most: int) -> None:
    layers = [layer("left", 1, (-60, -40, overlap, 40)), layer("right", 1, (0, -40, 60, 40))]
    work = read(made_plan(layers, {2: [line("across", [[-51, 0], [51, 0]])]}))
    # One ply on either side, two between.
    assert plan_measures.plies_under(work, work.lines[0]) == (1, 1, most, 2)


#: What is told wrongly, and what must be said of it.
WRONG: dict[str, tuple[Any, str]] = {
    "a flap left out": (lambda told: told["flaps"].pop(), "flaps"),
    "flaps in another order": (lambda told: told["flaps"].reverse(), "flaps"),
    "a flap elsewhere": (lambda told: told["flaps"][0].update(lies=WORK), "flaps"),
    "a rim too short": (
        lambda told: told["flaps"][0].update(rim=[[[9, 30], [-10, 30]]]),
        "rim of tab",
    ),
    "a face left out": (lambda told: told["shows"].pop(2), "front of pocket"),
    "a face too small": (lambda told: told["shows"][1].update(area=5500.0), "back of lining"),
    "a face too many": (
        lambda told: told["shows"].append({"piece": "outer", "face": "back", "area": 100.0}),
        "back of outer",
    ),
    "a room too wide": (lambda told: told["rooms"][0].update(width=95), "room for packet"),
    "a room too deep": (lambda told: told["rooms"][0].update(height=18), "room for packet"),
    "another way in": (lambda told: told["rooms"][0].update(opens="zip"), "opens at zip"),
    "a wrong piece pierced": (
        lambda told: told["hardware"][1].update(through=["lining", "pocket"]),
        "goes through",
    ),
    "a ply too few": (lambda told: told["layers"][0].update(fewest=2), "plies"),
    "a ply too many": (lambda told: told["layers"][1].update(most=7), "plies"),
    # Four plies lie on each other in the pocket: 4 * 0.1 at least, 4 * 4 * 2.5 at most.
    "too thin": (lambda told: told["thickness"].update(empty=[0.39, 3.0]), "empty it is"),
    "too thick": (
        lambda told: told.update(thickness={"empty": [1.0, 41.0], "full": [3.0, 43.0]}),
        "empty it is",
    ),
    "thinner when full": (lambda told: told["thickness"].update(full=[2.0, 2.5]), "full it is"),
    # One packet, 2 mm thick, twice at most where it is folded: 3 + 4.
    "too full": (lambda told: told["thickness"].update(full=[3.0, 7.5]), "full it is"),
}


@pytest.mark.parametrize("what", WRONG)
def test_what_is_told_wrongly_is_disagreed_on(what: str) -> None:
    spoil, said = WRONG[what]
    plan = deepcopy(purse())
    spoil(plan["proof"])
    told = disagreements(plan)
    assert told
    assert all(said in one for one in told)


@pytest.mark.parametrize("module", [book_of_flaps, plan_hollows, plan_measures, plan_pile])
def test_it_takes_nothing_from_the_program(module: Any) -> None:
    tree = ast.parse(Path(module.__file__).read_text("utf-8"))
    names = [
        name
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in [getattr(node, "module", None), *(one.name for one in node.names)]
    ]
    assert not [name for name in names if name and name.startswith("paramgen")]


def test_a_needle_point_outside_the_field_is_counted() -> None:
    made = make(Order(find_recipe("coaster"), {}, LARGE))
    wide, high = made.extent.width, made.extent.height
    for less, none in ((0.0, True), (0.2, False)):
        room = Room(Hoop("tight", wide + 0.1 - less, high + 0.1))
        assert (needles_outside(replace(made, room=room)) == 0) is none


@pytest.mark.parametrize("name", listed())
def test_random_settings_that_are_sound_are_agreed_on(name: str) -> None:
    recipe, chance = find_recipe(name), random.Random(f"sample of {name}")
    sound = 0
    for _ in range(SAMPLE):
        one = tried(recipe, settings(recipe, chance))
        if one.plan is None:
            assert one.reasons
            assert all(one.reasons)
        else:
            sound += 1
            assert not one.outside
            assert disagreements(one.plan) == [], one.asked
    # Else there would be little that is looked at.
    assert 4 * sound >= SAMPLE
