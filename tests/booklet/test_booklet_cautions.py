"""Cautions stand where they apply, and nowhere else; needles go by the layers."""

import re
from dataclasses import replace

import numpy as np
import pytest
from booklets import CASES, Case, made, made_as, said, said_of
from shapely.geometry import LineString
from told import says

from paramgen.booklet.cautions import CautionPlace, cautions_at
from paramgen.booklet.said import Booklet
from paramgen.booklet.what_to_check import to_look_for, troubles
from paramgen.rehearsal.rehearsal_limits import THICK
from paramgen.vocabulary.kinds import Act, NotionSort, Role
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

every = pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])


def titles(case: Case) -> set[str]:
    return {one.title for one in said(*case[:3]).cautions}


@every
def test_some_apply_to_everything(case: Case) -> None:
    assert {"Moving needle", "Rotary cutter and scissors", "Manuals first"} <= titles(case)
    assert "If you sell what you make" in titles(case)
    assert [one.title for one in said(*case[:3]).cut_cautions] == ["Rotary cutter and scissors"]


@every
def test_what_is_not_there_is_not_warned_of(case: Case) -> None:
    project = made(*case[:3]).project
    acts = {step.act for step in project.steps}
    sorts = {notion.sort for notion in project.notions}
    assert ("Never sew over metal" in titles(case)) == ("zip" in sorts)
    coil = "Iron and zipper coil" if project.unit is Unit.INCH else "Iron and zip coil"
    assert (coil in titles(case)) == ("zip" in sorts and Act.PRESS in acts)
    assert ("Hot iron" in titles(case)) == bool({Act.PRESS, Act.FUSE} & acts)
    assert ("Small parts" in titles(case)) == bool({"snap", "ring"} & sorts)
    # A short tab or loop of ribbon is none.
    assert "Cords and loops" not in titles(case)


def test_cords_are_warned_of_and_loops_that_are_long() -> None:
    tag = made_as({"hang": "hole"}, "plant-tag", "130x180", Unit.MM).project
    assert "Cords and loops" in at_large(tag)
    assert "Cords and loops" not in at_large(replace(tag, notions=()))
    # It is what the recipe says it is, whatever it is called: a string of lights is no cord.
    called = tuple(replace(one, title="twine") for one in tag.notions)
    assert "Cords and loops" in at_large(replace(tag, notions=called))
    other = tuple(
        replace(one, title="string of lights", sort=NotionSort.OTHER) for one in tag.notions
    )
    assert "Cords and loops" not in at_large(replace(tag, notions=other))
    # EN 71-1, 5.4: a cord on a toy has at most 220 mm of free length.
    pouch = made(*CASES[2][:3]).project
    (loop,) = (piece for piece in pouch.pieces if piece.name == "loop")
    for length, warned in ((219.0, False), (221.0, True)):
        long = replace(loop, folded=(length, 20.0), cut=(2 * length, 20.0))
        assert ("Cords and loops" in at_large(replace(pouch, pieces=(long,)))) == warned


def at_large(project: Project) -> set[str]:
    return {one.title for one in cautions_at(CautionPlace(project, "all"))}


def test_the_back_of_the_hoop_is_explained_where_it_is_seen() -> None:
    for case in CASES:
        back = any(step.seen_from == "back" for step in made(*case[:3]).project.steps)
        assert ("back of the hoop" in " ".join(said(*case[:3]).reading)) == back


@pytest.mark.parametrize(("hang", "halves"), [("strap", True), ("hole", False)])
def test_only_a_snap_has_halves_that_meet(hang: str, halves: bool) -> None:
    booklet = said_of(made_as({"hang": hang}, "plant-tag", "130x180", Unit.MM))
    assert ("halves" in " ".join(booklet.blocks[-1].look)) == halves


def test_two_halves_meet_only_when_both_are_fitted() -> None:
    booklet = said_of(made_as({"hang": "strap"}, "plant-tag", "130x180", Unit.MM))
    first, second = booklet.blocks[-2:]
    assert (first.title, second.title) == ("Fit the snap on the strap", "Fit the snap on the tag")
    assert "halves" not in " ".join(first.look)
    assert "flat" in " ".join(first.look)
    assert "halves meet" in " ".join(second.look)


@pytest.mark.parametrize(("ends", "looks"), [("clamp", "stay in it"), ("rivet", "caps sit tight")])
def test_rivets_and_clamps_have_no_halves_and_what_washes_out_is_cut_off(
    ends: str, looks: str
) -> None:
    booklet = said_of(made_as({"ends": ends}, "key-fob", "130x180", Unit.MM))
    last = " ".join(booklet.blocks[-1].look)
    assert looks in last
    assert "halves" not in last
    (out,) = (block for block in booklet.blocks if block.title == "Take the strip out")
    assert [look for look in out.look if "cut off" in look]
    assert not [look for look in out.look if "tear" in look]


def test_a_size_that_is_not_the_folded_one_says_so() -> None:
    # A strip of 2 · (65 + 7) is folded to half of that; a coaster lies as it is.
    fob = said_of(made_as({}, "key-fob", "130x180", Unit.MM))
    assert dict(fob.facts)["Finished size"] == "25 × 144 mm (1 × 5 11/16 in), open and flat"
    coaster = said_of(made_as({}, "coaster", "130x180", Unit.MM))
    assert "open" not in dict(coaster.facts)["Finished size"]


@every
def test_each_is_given_in_the_step_it_is_about(case: Case) -> None:
    booklet, project = said(*case[:3]), made(*case[:3]).project
    given = {block.number: {one.title for one in block.cautions} for block in booklet.blocks}
    first = next(step for step in project.steps if step.lines)
    assert [n for n in given if "Moving needle" in given[n]] == [first.number]
    irons = [step.number for step in project.steps if step.act in (Act.PRESS, Act.FUSE)]
    assert [n for n in given if "Hot iron" in given[n]] == irons
    # Where fingers press, no iron is warned of, nor a cloth laid under it.
    pressed = [step for step in project.steps if step.act is Act.PRESS]
    assert all(re.search(r"\biron\b", step.say) for step in pressed)
    fits = [step.number for step in project.steps if step.act is Act.FASTEN]
    assert [n for n in given if "Small parts" in given[n]] == fits[:1]
    for one in made(*case[:3]).proof.layers:
        assert ("Thick layers" in given[one.step]) >= (one.most >= THICK)


@pytest.mark.parametrize("case", [CASES[0], CASES[2]], ids=["wallet", "pouch"])
def test_the_zip_is_warned_of_where_a_line_comes_near_it(case: Case) -> None:
    booklet, project = said(*case[:3]), made(*case[:3]).project
    warned = {n for n, titles in given_in(booklet).items() if "Never sew over metal" in titles}
    ((laid, slit),) = [(s.number, one.slit) for s in project.steps for one in s.layers if one.slit]
    opens = LineString(slit)
    # Within 10 mm of where it opens, from stop to stop (from memory).
    near = {
        step.number
        for step in project.steps[laid:]
        if any(opens.distance(path.line) < 10 for line in step.lines for path in line.paths)
    }
    top = {step.number for step in project.steps if step.act is Act.TOP_STITCH}
    assert near
    assert warned == near | top
    seams = [s.number for s in project.steps if any(one.role is Role.SEAM for one in s.lines)]
    assert set(seams) <= warned
    # A seam over a zip is thick, however few its layers.
    thick = {n for n, titles in given_in(booklet).items() if "Thick layers" in titles}
    assert set(seams) <= thick


def given_in(booklet: Booklet) -> dict[int, set[str]]:
    return {block.number: {one.title for one in block.cautions} for block in booklet.blocks}


def test_thin_goods_without_hardware_are_not_thick() -> None:
    # A coaster: five layers at most, under its top-stitching.
    assert not any("Thick layers" in one for one in given_in(said(*CASES[1][:3])).values())


@every
def test_needles_are_named_for_every_stop_once(case: Case) -> None:
    booklet, project = said(*case[:3]), made(*case[:3]).project
    stops: list[int] = []
    for need in booklet.needles:
        numbers = [int(one) for one in re.findall(r"\d+", need.what)]
        stops += range(numbers[0], numbers[-1] + 1) if numbers else []
    assert stops == [step.stop for step in project.steps if step.stop]
    for need in booklet.needles:
        found = re.fullmatch(r"(?:jeans )?needle (\d+)/(\d+)", need.amount)
        assert found
        # Second number of the pair, below 19: metric = (number - 8) × 5 + 60 (trade tables).
        assert int(found[1]) == (int(found[2]) - 8) * 5 + 60


@every
def test_another_needle_is_put_in_by_hand_before_the_stop_that_wants_it(case: Case) -> None:
    one, booklet = made(*case[:3]), said(*case[:3])
    notes = {block.number: " ".join(block.notes) for block in booklet.blocks}
    wants = {block.stop: needle_of(block.about) for block in booklet.blocks if block.stop}
    numbers = {block.stop: block.number for block in booklet.blocks}
    assert f"Put in a needle {wants[1]} first." in notes[numbers[1]]
    for stop in range(2, len(wants) + 1):
        before = notes[numbers[stop] - 1]
        assert ("Put in a" in before) == (wants[stop] != wants[stop - 1])
        assert wants[stop] == wants[stop - 1] or f"needle {wants[stop]} now" in before
        # 100/16 is the largest in the hoop (from memory).
        assert int(wants[stop].partition("/")[0]) <= 100
    for step in one.project.steps:
        if step.act in (Act.TOP_STITCH, Act.EDGE_STITCH):
            assert re.search(r"Put in a (?:jeans )?needle \d+/\d+\.", notes[step.number])


def needle_of(about: str) -> str:
    (found,) = re.findall(r"needle (\d+/\d+)", about)
    return str(found)


def test_the_stops_of_a_wallet_want_larger_needles_as_layers_are_added() -> None:
    # 80/12 to 4 layers, 90/14 to 8, 100/16 to 12, 110/18 beyond (from memory). The pockets' line
    # goes through 2 layers of the outer, 2 of the tab and 4 of the pockets, the seam through the
    # lining as well, and at the finished edge each of these 9 is there twice.
    notes = [(block.title, note) for block in said(*CASES[0][:3]).blocks for note in block.notes]
    said_of_needles = [(title, note) for title, note in notes if "needle" in note]
    assert [re.findall(r"\d+/\d+", note)[0] for _, note in said_of_needles] == [
        "80/12",
        "90/14",
        "100/16",
        "110/18",
    ]
    assert made(*CASES[0][:3]).proof.top_stitch_needle == "110/18"


def test_a_hem_and_a_folded_tab_are_sewn_with_a_needle_for_their_layers() -> None:
    asked: dict[str, str | float] = {"tab": "fabric", "layers": "single"}
    one = made_as(asked, "fold-wallet", "130x180", Unit.MM)
    about = {block.title: block.about for block in said_of(one).blocks}
    # A hem turned in twice is three layers; a quarter of a quarter, halved, eight.
    assert about["Stitch the hems of the pockets"].endswith("Through up to 3 layers, needle 80/12.")
    folded = "Through up to 8 layers, jeans needle 90/14."
    assert about["Fold and edge-stitch the tab"].endswith(folded)


# A flag is two layers, and at its sides two more of its allowances. A double-fold tape has four.
# Turned over twice, the flag lies there three times: 3 × 4. A strip folded in four is four layers,
# at its turned end eight; the other end, lapped under it, has four more. It was washed before that.
@pytest.mark.parametrize(
    ("recipe", "asked", "title", "told"),
    [
        ("bunting-flag", {}, "Sew on the tape", "8 layers, folded edges included, and the"),
        ("bunting-flag", {"top": "casing"}, "Stitch the casing", "12 layers, folded edges"),
        (
            "key-fob",
            {"ends": "stitched", "length": 140},  # a smaller loop is sewn by hand
            "Sew the lap",
            "12 layers, folded edges included, jeans",
        ),
        ("key-fob", {"ends": "stitched"}, "Stitch round the strip", "8 layers and the stabiliser"),
        ("key-fob", {}, "Stitch round the strip", "4 layers and the stabiliser"),
    ],
)
def test_what_a_tape_a_casing_a_lap_and_a_turned_end_add_is_counted(
    recipe: str, asked: dict[str, str | float], title: str, told: str
) -> None:
    one = made_as(asked, recipe, "240x360", Unit.MM)
    about = {block.title: block.about for block in said_of(one).blocks}
    assert f"hrough up to {told}" in about[title]
    # The plan has the same needle.
    if title in ("Sew on the tape", "Stitch the casing", "Sew the lap"):
        assert needle_of(about[title]) == one.proof.top_stitch_needle


def test_batting_and_stabiliser_are_named_beside_the_layers() -> None:
    about = {block.title: block.about for block in said(*CASES[1][:3]).blocks}
    # Top and back; the batting ends inside the seam.
    assert "through up to 2 layers and the stabiliser, needle 80/12." in about["Seam"]
    # Top, batting, back, and the allowances of both, folded in.
    assert "Through up to 5 layers" in about["Top-stitch"]
    assert "batting among them" in about["Top-stitch"]


def test_vinyl_and_felt_take_a_needle_of_their_own() -> None:
    # From memory: no finer than 90/14 for what may be vinyl, with a sharp or a leather point.
    (needle,) = said(*CASES[3][:3]).needles
    assert needle.amount == "needle 90/14"
    assert "leather point" in needle.note
    assert not any("point" in one.note for one in said(*CASES[1][:3]).needles)


@pytest.mark.parametrize(("case", "pressed"), [(CASES[0], True), (CASES[1], False)])
def test_the_pressing_cloth_is_named_where_it_is_used(case: Case, pressed: bool) -> None:
    one = said(*case[:3])
    steps = made(*case[:3]).project.steps
    for block, step in zip(one.blocks, steps, strict=True):
        used = any("pressing cloth" in note for note in block.notes)
        assert used == (pressed and step.act is Act.PRESS)


def test_the_gap_is_closed_once_and_open_no_longer() -> None:
    # The wallet's and the pouch's by hand, the coaster's by its top-stitching.
    for case, act in (
        (CASES[0], Act.HAND_SEW),
        (CASES[1], Act.TOP_STITCH),
        (CASES[2], Act.HAND_SEW),
    ):
        one, booklet = made(*case[:3]), said(*case[:3])
        closing = [b.number for b in booklet.blocks if any("gap is closed" in x for x in b.look)]
        assert closing == [s.number for s in one.project.steps if s.act is act]
        for block in booklet.blocks[closing[0] :]:
            assert not any("gap" in look for look in block.look)


@every
def test_findings_worth_knowing_are_told(case: Case) -> None:
    booklet, project = said(*case[:3]), made(*case[:3]).project
    told = " ".join(one.what.lower() for one in (*booklet.disappoints, *booklet.worth_knowing))
    for finding in project.findings:
        # Lying turned is nothing that goes wrong; laying by the wrong way round is.
        assert (says(finding).lower() in told) == (finding.code != "turned-in-hoop")
    wrong = " ".join(one.what for one in booklet.troubles)
    assert ("wrong way round" in wrong) == project.turned


@pytest.mark.parametrize(
    ("outline", "corners", "curves"),
    [
        ("square", True, False),
        ("polygon", True, False),
        ("round", False, True),
        ("oval", False, True),
        ("rounded", False, True),
    ],
)
def test_corners_and_curves_are_spoken_of_where_there_are_any(
    outline: str, corners: bool, curves: bool
) -> None:
    one = made_as({"outline": outline, "width": 90}, "coaster", "130x180", Unit.MM)
    booklet = said_of(one)
    told = {trouble.what: trouble.do for trouble in booklet.troubles}
    assert ("A corner does not come out." in told) == corners
    assert ("A curve does not come out smooth." in told) == curves
    # Outward: too much cloth, so V's; none of these runs inward.
    assert not curves or "more V's between" in told["A curve does not come out smooth."]
    assert "A curve that runs inward pulls." not in told
    (turning,) = (
        block
        for block, step in zip(booklet.blocks, one.project.steps, strict=True)
        if step.act is Act.TURN
    )
    assert ("corners" in " ".join(turning.look)) == corners


def test_a_curve_that_runs_inward_is_clipped_closer() -> None:
    # Square but for a bay of radius 20 mm in its lower edge.
    one = made_as({"outline": "square", "width": 90}, "coaster", "130x180", Unit.MM)
    bend = np.linspace(0, np.pi, 60)
    bay = np.stack([20 * np.cos(bend), 40 - 20 * np.sin(bend)], axis=1)
    corners = np.array([[-40.0, 40.0], [-40.0, -40.0], [40.0, -40.0], [40.0, 40.0]])
    seam = Path(np.concatenate([bay, corners]), closed=True)
    spoilt = replace(one, project=replace(one.project, seam=seam))
    told = {trouble.what: trouble.do for trouble in troubles(spoilt)}
    assert "shorter distances" in told["A curve that runs inward pulls."]
    assert "A curve does not come out smooth." not in told


def test_a_test_sew_asks_whether_what_it_holds_goes_in() -> None:
    assert "Tried, in and out: seed packet" in said(*CASES[0][:3]).record
    assert not any("in and out" in one for one in said(*CASES[1][:3]).record)  # a coaster


def test_what_it_holds_is_told_with_how_many_and_how_thick() -> None:
    facts = dict(said(*CASES[0][:3]).facts)
    # Two stacks of two pockets, a packet in each; 108 × 76 mm and 2 mm thick are the recipe's own.
    shown = facts["Made to hold"]
    assert shown.startswith("4 × seed packet, each 108 × 76 mm (")
    assert shown.endswith("), up to 2 mm (1/16 in) thick")
    one = dict(said(*CASES[2][:3]).facts)["Made to hold"]
    assert one.startswith("seed packet, 4 1/2 × 3 1/4 in (114 × 83 mm), up to 1/16 in")


def test_a_choice_is_told_by_what_it_does() -> None:
    # Words of the recipe: `short` stands for what its option means.
    facts = dict(said(*CASES[0][:3]).facts)
    assert facts["How far the zipped pouch reaches"] == "behind the upper half only"


@every
def test_what_a_letter_stands_for_begins_with_a_capital_and_reads_on(case: Case) -> None:
    booklet = said(*case[:3])
    for picture in (*booklet.finished, *(block.picture for block in booklet.blocks)):
        for key in picture.key:
            assert key.title == key.title[0].upper() + key.title[1:]
            assert not key.says.startswith((",", ":", "."))


@pytest.mark.parametrize(
    ("recipe", "asked", "crossed"),
    [
        ("coaster", {}, [False]),
        # The seams of a corner that is cut out run up to where it is cut; what is bound is cut out
        # across the lines of its zip.
        ("boxed-pouch", {"box": "cut-out"}, [False, True]),
        ("clear-pouch", {}, [True]),
    ],
)
def test_a_cut_across_lines_is_not_said_to_go_through_no_stitch(
    recipe: str, asked: dict[str, str], crossed: list[bool]
) -> None:
    one = made_as(asked, recipe, "180x300", Unit.MM)
    trims = [step for step in one.project.steps if step.act is Act.TRIM]
    out = next(step.number for step in one.project.steps if step.act is Act.UNHOOP)
    said = [to_look_for(one, step, 0)[0] for step in trims if step.number > out]
    assert [text.endswith("no stitch is cut.") for text in said] == [not one for one in crossed]


# It runs down the middle of a strip and holds no edge of it.
def test_after_basting_nothing_is_looked_for_at_an_edge() -> None:
    one = made_as({}, "key-fob", "130x180", Unit.MM)
    (step,) = (s for s in one.project.steps if {ln.role for ln in s.lines} == {Role.BASTING})
    looked = " ".join(to_look_for(one, step, 0))
    assert "edge" not in looked
    assert "lies straight" in looked
