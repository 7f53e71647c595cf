"""Cautions stand where they apply, and nowhere else; needles go by the layers."""

import re

import pytest
from booklets import CASES, Case, made, made_as, said, said_of

from paramgen.layout.project import Act, Role
from paramgen.lengths import Unit
from paramgen.rehearsal.limits import THICK

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
    assert ("Iron and zip coil" in titles(case)) == ("zip" in sorts and Act.PRESS in acts)
    assert ("Hot iron" in titles(case)) == (Act.PRESS in acts)
    assert ("Small parts" in titles(case)) == bool({"snap", "ring"} & sorts)
    assert ("Cords and loops" in titles(case)) == any(
        piece.fabric == "ribbon" for piece in project.pieces
    )


def test_the_back_of_the_hoop_is_explained_where_it_is_seen() -> None:
    for case in CASES:
        back = any(step.seen_from == "back" for step in made(*case[:3]).project.steps)
        assert ("back of the hoop" in " ".join(said(*case[:3]).reading)) == back


@pytest.mark.parametrize(("hang", "halves"), [("strap", True), ("hole", False)])
def test_only_a_snap_has_halves_that_meet(hang: str, halves: bool) -> None:
    booklet = said_of(made_as({"hang": hang}, "plant-tag", "130x180", Unit.MM))
    assert ("halves" in " ".join(booklet.blocks[-1].look)) == halves


@every
def test_each_is_given_in_the_step_it_is_about(case: Case) -> None:
    booklet, project = said(*case[:3]), made(*case[:3]).project
    given = {block.number: {one.title for one in block.cautions} for block in booklet.blocks}
    first = next(step for step in project.steps if step.lines)
    assert [n for n in given if "Moving needle" in given[n]] == [first.number]
    presses = [step.number for step in project.steps if step.act is Act.PRESS]
    assert [n for n in given if "Hot iron" in given[n]] == presses
    fits = [step.number for step in project.steps if step.act is Act.FASTEN]
    assert [n for n in given if "Small parts" in given[n]] == fits
    for one in made(*case[:3]).proof.layers:
        assert ("Thick layers" in given[one.step]) >= (one.most >= THICK)


@pytest.mark.parametrize("case", [CASES[0], CASES[2]], ids=["wallet", "pouch"])
def test_the_zip_is_warned_of_where_a_line_crosses_it(case: Case) -> None:
    booklet, project = said(*case[:3]), made(*case[:3]).project
    warned = {
        block.number
        for block in booklet.blocks
        if any(one.title == "Never sew over metal" for one in block.cautions)
    }
    (laid,) = {step.number for step in project.steps if any(one.slit for one in step.layers)}
    assert min(warned) > laid
    seams = [s.number for s in project.steps if any(one.role is Role.SEAM for one in s.lines)]
    assert set(seams) <= warned
    marks = [s.number for s in project.steps if s.title == "Marks for the pockets"]
    assert not set(marks) & warned


@every
def test_needles_are_named_for_every_stop_once(case: Case) -> None:
    booklet, project = said(*case[:3]), made(*case[:3]).project
    stops: list[int] = []
    for need in booklet.needles:
        numbers = [int(one) for one in re.findall(r"\d+", need.what)]
        stops += range(numbers[0], numbers[-1] + 1) if numbers else []
    assert stops == [step.stop for step in project.steps if step.stop]
    for need in booklet.needles:
        found = re.fullmatch(r"needle (\d+)/(\d+)", need.amount)
        assert found
        # Second number of the pair, below 19: metric = (number - 8) × 5 + 60 (trade tables).
        assert int(found[1]) == (int(found[2]) - 8) * 5 + 60


@every
def test_findings_worth_knowing_are_told(case: Case) -> None:
    booklet, project = said(*case[:3]), made(*case[:3]).project
    told = " ".join(one.what.lower() for one in booklet.troubles)
    for finding in project.findings:
        # Lying turned is nothing that goes wrong; laying by the wrong way round is.
        assert (finding.message.lower() in told) == (finding.code != "turned-in-hoop")
    assert ("wrong way round" in told) == project.turned


@pytest.mark.parametrize(
    ("outline", "corners"), [("square", True), ("polygon", True), ("round", False), ("oval", False)]
)
def test_corners_are_spoken_of_only_where_there_are_any(outline: str, corners: bool) -> None:
    one = made_as({"outline": outline, "width": 90}, "coaster", "130x180", Unit.MM)
    booklet = said_of(one)
    told = [trouble.what for trouble in booklet.troubles]
    assert ("A corner does not come out." in told) == corners
    assert ("A curve does not come out smooth." in told) != corners
    (turning,) = (
        block
        for block, step in zip(booklet.blocks, one.project.steps, strict=True)
        if step.act is Act.TURN
    )
    assert ("corners" in " ".join(turning.look)) == corners


def test_a_test_sew_asks_whether_what_it_holds_goes_in() -> None:
    assert "Does the seed packet go in?" in said(*CASES[0][:3]).record
    assert not any("go in" in one for one in said(*CASES[1][:3]).record)  # a coaster


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
