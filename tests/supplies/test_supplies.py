"""What to have: all that is needed, how much of it, and in which step it is first needed.

That a tool goes with a kind of work is common practice, no source, as the entries of
`shared/supplies.toml` say; amounts are reckoned by hand beside each test.
"""

import math
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from booklets import CASES, Case, made, made_as, said_of, set_in_full
from documents import ROOT, blocks
from papers_read import read
from pydantic import ValidationError

from paramgen.files.proven_files import StitchFile
from paramgen.geometry.outlines import rectangle
from paramgen.hooping import Room
from paramgen.making import Made, Order, make
from paramgen.plan.write_plan import plan
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.reference.materials import listed_materials
from paramgen.reference.supply_list import listed_supplies, read_supplies
from paramgen.rehearsal.thickness import LayersUnderNeedle
from paramgen.supplies.all_supplies import supplies
from paramgen.supplies.cut_list import cut_list
from paramgen.supplies.supply import Supply
from paramgen.vocabulary.kinds import Act, NotionSort, Role
from paramgen.vocabulary.project import Fabric
from paramgen.vocabulary.unit import Unit

every = pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])


def need(one: Made, name: str, sort: str = "") -> Supply:
    (found,) = (s for s in supplies(one) if s.name == name and (not sort or s.sort == sort))
    return found


def names(one: Made) -> set[str]:
    return {supply.name for supply in supplies(one)}


def in_fabrics(one: Made, **kinds: str) -> Made:
    """A project of which the fabrics are these, `kind` or `kind + interfacing`, and no others."""
    known = listed_materials()
    fabrics = []
    for role, kind in kinds.items():
        material, _, interfacing = kind.partition(" + ")
        fabrics.append(Fabric(role, known[material], known.get(interfacing)))
    return replace(one, project=replace(one.project, fabrics=tuple(fabrics)))


def wallet() -> Made:
    return made(*CASES[0][:3])


def clad_wallet() -> Made:
    return in_fabrics(
        wallet(), outer="quilting-cotton + light-woven-interfacing", lining="felt", pocket="felt"
    )


# --- What is listed, and how strictly it is read --------------------------------------------

ENTRY = """
[[item]]
name = "awl"
sort = "tool"
title = "awl"
when = [{ work = "cut" }]
source = "from memory"
"""


@pytest.mark.parametrize(
    ("find", "put"),
    [
        ('name = "awl"', 'name = "awl"\ncolour = "red"'),
        ('sort = "tool"', 'sort = "gadget"'),
        ('work = "cut"', 'work = "admire"'),
        ('work = "cut"', 'recipe = "fold-wallet"'),
        ('work = "cut"', 'material = "paper"'),
        ('{ work = "cut" }', "{}"),
        ('[{ work = "cut" }]', "[]"),
        ('title = "awl"', "title = 3"),
        ('source = "from memory"', ""),
        ('source = "from memory"', f'source = "from memory"\n{ENTRY}'),
        ('title = "awl"', 'title = "awl"\namount = "plenty"'),
    ],
)
def test_the_list_is_read_strictly(find: str, put: str) -> None:
    assert [item.name for item in read_supplies(ENTRY)] == ["awl"]
    assert find in ENTRY
    with pytest.raises((ValidationError, ValueError), match=r"awl|item"):
        read_supplies(ENTRY.replace(find, put))


def test_every_case_is_one_that_a_recipe_can_bring_about() -> None:
    for item in listed_supplies():
        for case in item.when:
            assert case.act is None or case.act in list(Act), item.name
            assert {case.notion, case.hardware} <= {None, *NotionSort}, item.name


def test_every_entry_says_where_it_is_from() -> None:
    for item in listed_supplies():
        assert item.source.startswith(("common practice, no source", "from memory")), item.name


# --- When -----------------------------------------------------------------------------------


@every
def test_what_is_needed_first_comes_first(case: Case) -> None:
    found = supplies(made(*case[:3]))
    assert all(a.step <= b.step for a, b in pairwise(found))
    assert len({(one.sort, one.name) for one in found}) == len(found)
    # Before the first stop there is nothing to be done but cut, press and fold.
    assert {"cutter", "marker"} <= {one.name for one in found if not one.step}
    assert {one.sort for one in found} >= {"fabric", "stabiliser", "thread", "needle", "tape"}


#: What is needed where a step does something, and only there.
BY_ACT = {
    "tape": [Act.TAPE],
    "point-turner": [Act.TURN],
    "sewing-machine": [Act.TOP_STITCH, Act.EDGE_STITCH],
    "hand-needle": [Act.HAND_SEW],
}


@every
@pytest.mark.parametrize("name", BY_ACT)
def test_a_tool_is_there_from_the_first_step_that_uses_it(case: Case, name: str) -> None:
    one = made(*case[:3])
    steps = one.project.steps
    using = [step.number for step in steps if step.act in BY_ACT[name]]
    edged = any(piece.edge_stitched is not None for piece in one.project.pieces)
    # A piece that is edge-stitched in no step is so before the first.
    if name == "sewing-machine" and edged and not any(s.act is Act.EDGE_STITCH for s in steps):
        using = [0, *using]
    found = [supply.step for supply in supplies(one) if supply.name == name]
    assert found == using[:1]


def test_tools_that_the_words_name_for_sewing_by_hand_are_listed() -> None:
    one = made_as({"ends": "stitched"}, "key-fob", "130x180", Unit.MM)
    (sewn,) = (step for step in one.project.steps if step.act is Act.HAND_SEW)
    then = [s for s in supplies(one) if s.step == sewn.number]
    listed_then = " ".join(f"{s.title}, {s.note}" for s in then)
    for tool in ("needle", "thimble", "flat pliers", "strong sewing thread"):
        assert tool.removesuffix(" sewing thread") in sewn.say
        assert tool in listed_then
    # The thread goes into the needle, not into the thimble.
    assert need(one, "hand-needle").title == "hand-sewing needle"


@every
def test_a_notion_is_there_when_it_is_laid_or_used_and_its_tool_with_it(case: Case) -> None:
    one = made(*case[:3])
    steps = one.project.steps
    for notion in one.project.notions:
        laid = [s.number for s in steps if any(lay.piece == notion.name for lay in s.layers)]
        fitted = [s.number for s in steps if s.act is Act.FASTEN]
        # The scrap behind a snap is fused on, long before the snap is set.
        if notion.name == "patch":
            fitted = [s.number for s in steps if s.act is Act.FUSE]
        stitched = [s.number for s in steps if s.lines]
        expected = stitched if notion.once else laid or fitted
        assert need(one, notion.name).step == expected[0]
        for sort in ("snap", "ring"):
            if notion.sort == sort:
                assert need(one, f"{sort}-tool").step == fitted[0]
    sorts = {notion.sort for notion in one.project.notions}
    assert {f"{sort}-tool" for sort in ("snap", "ring")} & names(one) == {
        f"{sort}-tool" for sort in ("snap", "ring") if sort in sorts
    }


def test_without_a_snap_there_is_no_tool_for_one() -> None:
    asked: dict[str, str | float] = {"tab": "none"}
    without = made_as(asked, "fold-wallet", "130x180", Unit.MM)
    assert names(wallet()) - names(without) >= {"snap", "snap-tool"}


def test_a_ring_that_is_not_set_at_a_place_needs_no_tool() -> None:
    tag = made_as({"hang": "hole"}, "plant-tag", "130x180", Unit.MM)
    assert {"eyelet", "ring-tool"} <= names(tag)
    loose = tuple(replace(one, at=()) for one in tag.project.notions)
    assert "ring-tool" not in names(replace(tag, project=replace(tag.project, notions=loose)))


def test_a_pressing_cloth_lies_over_what_heat_spoils_where_it_is_pressed() -> None:
    coaster = made(*CASES[1][:3])
    felt = in_fabrics(coaster, top="felt", back="quilting-cotton")
    cotton = in_fabrics(coaster, top="quilting-cotton", back="quilting-cotton")
    (press,) = (step.number for step in felt.project.steps if step.act is Act.PRESS)
    assert need(felt, "pressing-cloth").step == press
    assert "pressing-cloth" not in names(cotton)
    # Both must hold: of the same felt that is never pressed there is none.
    flat = tuple(step for step in felt.project.steps if step.act is not Act.PRESS)
    assert "pressing-cloth" not in names(replace(felt, project=replace(felt.project, steps=flat)))
    # A zip's coil melts, whatever the cloth is.
    assert "pressing-cloth" in names(wallet())


def test_eyes_are_protected_where_it_is_thick() -> None:
    # The booklet's caution is given from 8 layers on.
    coaster = made(*CASES[1][:3])
    first, second = [step.number for step in coaster.project.steps if step.lines][1:3]
    layers = (
        LayersUnderNeedle("tack", first, 1, 7, "90/14"),
        LayersUnderNeedle("seam", second, 1, 8, "90/14"),
    )
    assert need(with_layers(coaster, layers), "eye-protection").step == second
    # Thin goods without hardware need none: five layers under the top-stitching.
    assert "eye-protection" not in names(with_layers(coaster, layers[:1]))
    # The pouch's first seam has 7 layers, but a zip lies across it.
    pouch = made(*CASES[2][:3])
    seams = [s.number for s in pouch.project.steps if any(x.role is Role.SEAM for x in s.lines)]
    assert need(with_layers(pouch, ()), "eye-protection").step == seams[0]


def test_thread_is_there_where_the_first_line_is_sewn_on_either_machine() -> None:
    tab: dict[str, str | float] = {"tab": "fabric"}
    one = made_as(tab, "fold-wallet", "130x180", Unit.MM)
    (edge,) = (step.number for step in one.project.steps if step.act is Act.EDGE_STITCH)
    assert {need(one, name).step for name in ("needle-thread", "bobbin-thread")} == {edge}
    # Without an edge to stitch, at the first stop.
    first = next(step.number for step in wallet().project.steps if step.lines)
    assert need(wallet(), "needle-thread").step == first


# A front folded in half, of 2 layers, and on it a lip folded in four: 2 + 4 = 6.
@pytest.mark.parametrize("inside", ["overcast", "enclosed"])
def test_pieces_sewn_to_each_other_before_the_hooping_have_all_they_need_there(inside: str) -> None:
    one = made_as({"lip": "strip", "inside": inside}, "tissue-cover", "200x200", Unit.MM)
    (sewn,) = (step for step in one.project.steps if step.act is Act.EDGE_STITCH)
    for name in ("sewing-machine", "needle-thread", "bobbin-thread", "small-scissors"):
        assert need(one, name).step == sewn.number
    assert need(one, "clips").step <= sewn.number
    needle = next(s for s in supplies(one) if s.sort == "needle" and s.step == sewn.number)
    assert needle.title == "jeans needle 90/14"
    assert needle.note.startswith(f"Up to 6 layers, in step {sewn.number}.")


@pytest.mark.parametrize("hang", ["strap", "hole"])
def test_a_punch_comes_with_what_it_is_struck_with_and_on(hang: str) -> None:
    tag = made_as({"hang": hang}, "plant-tag", "130x180", Unit.MM)
    punch = need(tag, "punch")
    assert "hammer" in punch.title
    assert "block" in punch.title
    # The slot is cut while the hoop holds it; an eyelet is set when it is out of the hoop.
    (out,) = (step.number for step in tag.project.steps if step.act is Act.UNHOOP)
    assert (punch.step < out) == (hang == "strap")
    assert "punch" not in names(wallet())


def with_layers(one: Made, layers: tuple[LayersUnderNeedle, ...]) -> Made:
    return replace(one, proof=replace(one.proof, layers=layers))


# --- How much -------------------------------------------------------------------------------


def test_the_stabiliser_is_a_sheet_larger_than_the_frame() -> None:
    # 40 mm past the field on each side (common practice, no source): 130 + 80 = 210 and
    # 180 + 80 = 260, both whole centimetres.
    one = made("coaster", "130x180", Unit.MM)
    sheet = need(one, "stabiliser")
    assert (sheet.width, sheet.length, sheet.quantity) == (210.0, 260.0, 1)
    assert sheet.amount == "1, at least 210 × 260 mm (8 1/4 × 10 1/4 in)"
    assert "frame" in sheet.note
    assert "130 × 180 mm" in sheet.note
    # The recipe's own words for it.
    (own,) = (notion for notion in one.project.notions if notion.once)
    assert sheet.title == own.title
    # In inches: 210 mm = 8.27 in, up to 8 1/2; 260 mm = 10.24 in, up to 10 1/2.
    inches = need(made("coaster", "130x180", Unit.INCH), "stabiliser")
    assert inches.amount.startswith("1, at least 8 1/2 × 10 1/2 in")


def test_many_stitches_want_more_sheets() -> None:
    # One light sheet carries 12 000 stitches (common practice, no source).
    one = made("coaster", "130x180", Unit.MM)
    count = sum(step.stitch_count for step in one.sewn)
    times = 12_000 // count + 1
    assert 12_000 < times * count <= 24_000
    many = need(replace(one, sewn=one.sewn * times), "stabiliser")
    assert many.quantity == 2
    assert many.amount == "2 one on the other, each 210 × 260 mm (8 1/4 × 10 1/4 in)"
    fewer = need(replace(one, sewn=one.sewn * (times - 1)), "stabiliser")
    assert fewer.quantity == 1


def test_a_small_recipe_has_all_it_needs(tmp_path: Path) -> None:
    # The recipe that the ten steps of templates/README.md lead to names felt and no notion. Its two
    # pieces, 40 mm wide and 2.4 × 40 = 96 mm high, are taped together at their four edges, none
    # longer than 120 mm, by a strip each, torn 60 mm long: 8 strips, 480 mm, one metre, which is
    # 1.09 yd.
    steps = blocks((ROOT / "templates" / "README.md").read_text("utf-8"), "toml")[:10]
    text = "\n".join(steps)
    file = tmp_path / "row-marker.toml"
    file.write_text(text, "utf-8")
    hoops = listed()
    one = make(Order(find_recipe(str(file)), {}, Room(find_hoop("100x100", hoops))), hoops)
    assert [(s.name, s.step) for s in supplies(one)] == [
        ("felt", 0),
        ("cutter", 0),
        ("ruler", 0),
        ("marker", 0),
        ("stabiliser", 1),
        ("needle-thread", 1),
        ("bobbin-thread", 1),
        ("small-scissors", 1),
        ("needle-1", 1),
        ("tape", 3),
    ]
    assert need(one, "felt").note.startswith("Felt: wool")
    assert need(one, "tape").amount.startswith("about 1 m (1 1/8 yd)")
    assert need(one, "tape").amount.endswith("for 8 strips")


def test_a_recipe_that_names_no_stabiliser_gets_one() -> None:
    one = made(*CASES[1][:3])
    own = tuple(notion for notion in one.project.notions if not notion.once)
    sheet = need(replace(one, project=replace(one.project, notions=own)), "stabiliser")
    assert sheet.title == "tear-away stabiliser"
    assert sheet.width == need(one, "stabiliser").width


def test_tape_is_as_long_as_all_its_strips() -> None:
    # Ten strips of 101 mm are 1010 mm: two metres, and 2 / 0.9144 = 2.19, so 2 1/4 yards.
    one = made("coaster", "130x180", Unit.MM)
    taping = next(step for step in one.project.steps if step.tape)
    upright, flat = rectangle(0, 0, 12, 101), rectangle(0, 0, 101, 12)
    steps = tuple(
        replace(step, tape=(upright,) * 4 + (flat,) * 6 if step is taping else ())
        for step in one.project.steps
    )
    tape = need(replace(one, project=replace(one.project, steps=steps)), "tape")
    assert (tape.length, tape.width, tape.step) == (2000.0, 12.0, taping.number)
    assert tape.amount == "about 2 m (2 1/4 yd), 12 mm (1/2 in) wide, for 10 strips"


def test_a_short_strip_of_tape_is_longer_as_it_is_torn() -> None:
    # The wallet's 44 strips are drawn 20 mm long; torn they are 60 mm (common practice, no
    # source): 2640 mm, three metres, and 3 / 0.9144 = 3.28 yd.
    tape = need(wallet(), "tape")
    assert tape.amount == "about 3 m (3 3/8 yd), 12 mm (1/2 in) wide, for 44 strips"


def test_few_yards_are_told_to_an_eighth_and_first_where_inches_are_asked() -> None:
    # 2 m = 2.187 yd; thread for 10 m and more in whole yards of 0.9144 m.
    coaster, pouch = made(*CASES[1][:3]), made(*CASES[2][:3])
    assert need(coaster, "tape").amount.startswith("about 2 1/4 yd (2 m)")
    thread = need(pouch, "needle-thread")
    assert thread.length is not None
    metres = round(thread.length / 1000)
    assert metres >= 10
    assert thread.amount == f"about {math.ceil(metres / 0.9144)} yd ({metres} m)"


def test_a_fabric_says_what_it_is_and_whether_it_is_washed() -> None:
    one = clad_wallet()
    outer, lining = need(one, "outer", "fabric"), need(one, "lining", "fabric")
    assert "130 to 150 g/m²" in outer.note
    assert "Wash and press it before you cut." in outer.note
    # Felt is not washed: it would felt further, and shrink.
    assert lining.note.startswith("Felt: ")
    assert "Wash" not in lining.note
    # With nothing washed, folded, fused or pressed, no iron.
    bare = replace(
        one.project,
        pieces=tuple(replace(piece, creases=()) for piece in one.project.pieces),
        steps=tuple(s for s in one.project.steps if s.act not in (Act.PRESS, Act.FUSE)),
        fabrics=tuple(f for f in one.project.fabrics if f.role == "lining"),
    )
    assert "iron" in names(one)
    assert "iron" not in names(replace(one, project=bare))


def test_interfacing_is_for_the_pieces_of_its_fabric_and_stays_out_of_the_seam() -> None:
    one = clad_wallet()
    fused = need(one, "outer", "interfacing")
    assert fused.title == "light woven fusible interfacing"
    pieces = [piece for piece in one.project.pieces if piece.fabric == "outer"]
    assert all(piece.title in fused.note for piece in pieces)
    assert "to the seam line, not into the allowance" in fused.note
    # The seam box is 126 × 174 mm; from its top to the upper fold are 36 - 6.5 / 2 mm, from the
    # lower fold to its bottom 174 - 36 - 6.5 / 2. Twice 126 mm and 5 between are less than the 500
    # mm that it is sold wide: so the longer, 134.75, is the length, up to the next 5 cm.
    sizes = {row.title: row.cut for row in cut_list(one.project) if "interfacing" in row.title}
    assert sizes.keys() == {f"interfacing for the {piece.title}" for piece in pieces}
    assert sizes["interfacing for the upper outer"].startswith("about 126 × 33 mm (")
    assert (fused.length, fused.width) == (150.0, 500.0)
    assert [s.name for s in supplies(one) if s.sort == "interfacing"] == ["outer"]


def test_the_pouchs_interfacing_is_as_large_as_its_step_says() -> None:
    # Seam box 162 × 122 mm, the folds 25 - 6.5 / 2 mm below its top and 122 - 25 - 6.5 / 2 above
    # its bottom; 21.75 and 93.75 mm are on no ruler. It lies turned in its hoop.
    pouch = made_as({"width": 160}, "zip-pouch", "160x260", Unit.MM)
    assert pouch.project.turned
    sizes = [row.cut for row in cut_list(pouch.project) if row.title.startswith("interfacing")]
    assert [size.partition(" mm")[0] for size in sizes] == [
        "about 162 × 22",
        "about 162 × 94",
        "162 × 122",
    ]


def test_what_is_no_rectangle_is_cut_by_its_template() -> None:
    asked: dict[str, str | float] = {"outline": "round", "width": 80.3}
    one = made_as(asked, "coaster", "130x180", Unit.MM)
    rows = {row.title: row.cut for row in cut_list(one.project)}
    # Batting 1 mm inside a seam 0.5 mm outside the edge: 79.3 mm across, which no ruler has.
    assert rows["batting"] == "about 79.5 × 79.5 mm (3 1/8 × 3 1/8 in) over all, by its template"
    # The top is a rectangle round it: 80.3 + 2 × (0.5 + 12) mm, up to the next millimetre.
    assert rows["top"].startswith("106 × 106 mm (")
    assert "template" not in rows["top"]


def test_two_copies_take_twice_the_tape_and_one_sheet() -> None:
    hoops = listed()
    recipe, room = find_recipe("coaster"), Room(find_hoop("360x350", hoops))
    one, two = (
        make(Order(recipe, {"width": 90}, room, copies=n, singly=True), hoops) for n in (1, 2)
    )
    strips = [int(need(m, "tape").amount.split("for ")[1].split()[0]) for m in (one, two)]
    assert strips[1] == 2 * strips[0] > 0
    assert need(two, "stabiliser").quantity == 1


# --- Where it is told -----------------------------------------------------------------------


@every
def test_page_and_paper_tell_all_of_it_and_when(case: Case) -> None:
    one = set_in_full(case)
    # A fraction, set raised and lowered, is one word.
    html = re.sub(r"<[^>]+>", " ", re.sub(r"</?(?:sup|sub|span)\b[^>]*>", "", one.html))
    paper = " ".join(page.words for page in read(one.pdf))
    for words in (html, paper):
        told = " ".join(words.replace("&#x27;", "'").replace("\u00a0", " ").split())
        at = told.index("All else, in the order")
        for need in one.said.besides:
            # In the order of the list, each with the step that needs it.
            at = told.index(need.what, at)
            assert need.first in told[at:], need.what
    assert [need.first for need in one.said.besides] == [
        f"step {supply.step}" if supply.step else "before the hooping"
        for supply in supplies(one.made)
        if supply.sort not in ("fabric", "needle")
    ]


@every
def test_the_plan_lists_the_same(case: Case) -> None:
    one = made(*case[:3])
    files: dict[str, StitchFile] = {}
    listed_in_plan = plan(one, files, []).supplies
    assert [(s.sort, s.name, s.title, s.step or 0) for s in listed_in_plan] == [
        (s.sort, s.name, s.title, s.step) for s in supplies(one)
    ]
    for notion in one.project.notions:
        (found,) = (s for s in listed_in_plan if s.name == notion.name)
        assert found.quantity == notion.quantity
        if not notion.once:
            assert found.length == (notion.length and pytest.approx(notion.length, abs=1e-4))


def test_cautions_stand_beside_the_tools() -> None:
    one = said_of(wallet())
    titles = {caution.title for caution in one.cautions}
    assert {"Rotary cutter and scissors", "Hot iron", "Thick layers", "Small parts"} <= titles
