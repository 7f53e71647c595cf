"""What a hooping takes, in numbers: against what the pack says, and against sums by hand."""

import pytest
from booklets import CASES, Case, made, made_as

from paramgen.amounts.project_materials import Materials, materials
from paramgen.amounts.summed_materials import summed, times
from paramgen.reference.hoops import RIM
from paramgen.supplies.all_supplies import supplies
from paramgen.vocabulary.unit import Unit

every = pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])


def of(case: Case) -> Materials:
    return materials(made(*case[:3]))


@every
def test_every_piece_of_the_project_is_in_one_cloth(case: Case) -> None:
    project = made(*case[:3]).project
    found = {
        (cloth.role, piece.name): (piece.quantity, piece.cut, piece.grain)
        for cloth in of(case).cloths
        if cloth.sort != "interfacing"
        for piece in cloth.pieces
    }
    assert found == {
        (one.fabric, one.name): (one.quantity, one.cut, one.grain) for one in project.pieces
    }
    assert {cloth.role for cloth in of(case).cloths if cloth.sort == "trim"} <= set(project.trims)


@every
def test_what_is_counted_is_what_the_supplies_say(case: Case) -> None:
    one, told = of(case), supplies(made(*case[:3]))
    assert {(n.name, n.quantity) for n in one.notions} == {
        (s.name, s.quantity) for s in told if s.sort == "notion"
    }
    (sheets,) = one.stabiliser
    hoop = made(*case[:3]).room.hoop
    # The field and 4 cm of rim on each side.
    assert sheets.size == (hoop.width + 80, hoop.height + 80)
    assert RIM == 40
    assert sheets.sheets == next(s.quantity for s in told if s.sort == "stabiliser")
    for tape in one.tape:
        # Metres are said whole.
        said = next(s.length for s in told if s.sort == "tape")
        assert said is not None
        assert 0 <= said - tape.length < 1000


@pytest.mark.parametrize(("top", "named"), [("tape", "folded-tape"), ("casing", "cord")])
def test_a_string_that_one_hooping_needs_once_is_counted_and_is_no_stabiliser(
    top: str, named: str
) -> None:
    flag = made_as({"top": top}, "bunting-flag", "200x300", Unit.MM)
    found = materials(flag)
    (string,) = (one for one in found.notions if one.name == named)
    assert string.length == next(n.length for n in flag.project.notions if n.name == named)
    (sheets,) = found.stabiliser
    assert "stabiliser" in sheets.title


def test_twelve_times_is_twelve_of_each() -> None:
    one = of(CASES[0])
    many = times(one, 12)
    assert [c.role for c in many.cloths] == [c.role for c in one.cloths]
    for few, lot in zip(one.cloths, many.cloths, strict=True):
        assert [12 * p.quantity for p in few.pieces] == [p.quantity for p in lot.pieces]
    assert [12 * n.quantity for n in one.notions] == [n.quantity for n in many.notions]
    assert [12 * s.sheets for s in one.stabiliser] == [s.sheets for s in many.stabiliser]
    assert [12 * t.length for t in one.tape] == pytest.approx([t.length for t in many.tape])
    assert times(one, 1) == one


def test_two_projects_share_a_cloth_of_one_role_and_kind() -> None:
    first, second = of(CASES[0]), of(CASES[1])
    both = summed([first, second])
    names = [(cloth.role, cloth.sort, cloth.title) for cloth in both.cloths]
    assert len(names) == len(set(names))
    counted = sum(p.quantity for cloth in both.cloths for p in cloth.pieces)
    apart = [*first.cloths, *second.cloths]
    assert counted == sum(p.quantity for cloth in apart for p in cloth.pieces)
    assert summed([]) == Materials(cloths=(), notions=(), stabiliser=(), tape=())
