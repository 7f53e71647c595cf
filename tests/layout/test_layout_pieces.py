"""Pieces and notions: their sizes, how many to cut, where they lie."""

import math

import numpy as np
import pytest
from flat_recipe import flat_text
from geometry_shapes import area
from layout_orders import COASTER, TAG, WALLET, laid, layers, piece, recipe_of, tag
from told import cannot, says

from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

LAY_TRIAL = """
[[steps]]
title = "Lay the trial"
lay = [{ piece = "trial", side = "front", up = "right" }]
say = "Lay it."
"""


def trial(table: str, *, steps: str = LAY_TRIAL) -> Project:
    return tag(f'[pieces.trial]\ntitle = "trial"\nfabric = "felt"\n{table}\n', steps=steps)


def test_a_piece_round_an_outline_is_its_box_and_the_allowance_on_every_side() -> None:
    project = tag("")
    # 80 + 2 × 5 by 40 + 2 × 5
    front = piece(project, "front")
    assert (front.cut, front.folded) == ((90, 50), (90, 50))
    (layer,) = layers(project, "front")
    assert layer.outline.bounds == pytest.approx((-45, -25, 45, 25))


def test_it_lies_round_the_outline_even_away_from_the_middle() -> None:
    away = (
        '[outlines.away]\nshape = "rectangle"\nleft = "10"\nright = "30"\ntop = "1"\nbottom = "9"\n'
    )
    project = trial(f'around = "away"\npast = "5"\n{away}')
    (layer,) = layers(project, "trial")
    assert layer.outline.bounds == pytest.approx((5, -4, 35, 14))
    assert piece(project, "trial").outline.bounds == pytest.approx((-15, -9, 15, 9))


def test_a_piece_with_an_outline_of_its_own_is_that_outline_and_is_not_rounded() -> None:
    away = '[outlines.disc]\nshape = "oval"\nwidth = "30.4"\nheight = "20.2"\nat = ["9", "4"]\n'
    project = trial(f'outline = "disc"\n{away}')
    found = piece(project, "trial")
    assert found.cut == pytest.approx((30.4, 20.2))
    assert area(found.outline) == pytest.approx(math.pi * 15.2 * 10.1, abs=0.01)
    assert found.outline.bounds == pytest.approx((-15.2, -10.1, 15.2, 10.1))
    (layer,) = layers(project, "trial")
    assert layer.outline.bounds == pytest.approx((-6.2, -6.1, 24.2, 14.1))


@pytest.mark.parametrize(
    ("unit", "mark", "wanted"),
    [
        # Up to 1 mm, or 1/8 in = 3.175 mm: common practice, no source. 30.2 mm is 9.51 of these.
        (Unit.MM, None, 31.0),
        (Unit.INCH, None, 31.75),
        (Unit.MM, "0.5mm", 30.5),
        (Unit.MM, "1/4in", 31.75),
    ],
)
def test_cut_sizes_are_rounded_up_to_the_unit_s_ruler_mark(
    unit: Unit, mark: str | None, wanted: float
) -> None:
    table = '[pieces.trial]\ntitle = "trial"\nfabric = "felt"\nwidth = "30.2"\nheight = "20"\n'
    recipe = recipe_of(TAG.format(parts=table, steps=LAY_TRIAL))
    project = laid(recipe, {"ruler_mark": mark} if mark else {}, unit)
    assert piece(project, "trial").cut[0] == pytest.approx(wanted)


def test_as_many_are_cut_as_are_laid() -> None:
    lay = '{ piece = "trial", side = "front", up = "right", left = "0" }'
    twice = LAY_TRIAL.replace("lay = [", f"lay = [{lay}, ")
    table = 'width = "10"\nheight = "20"'
    assert piece(trial(table), "trial").quantity == 1
    assert piece(trial(table, steps=twice), "trial").quantity == 2
    assert piece(trial(table, steps=LAY_TRIAL + twice), "trial").quantity == 3


def test_more_may_be_cut_than_are_laid() -> None:
    assert piece(trial('width = "10"\nheight = "20"\nquantity = "2"'), "trial").quantity == 2


def test_laying_more_than_are_cut_is_refused_and_the_piece_named() -> None:
    table = 'width = "10"\nheight = "20"\nquantity = "1"'
    with pytest.raises(CannotMakeError) as caught:
        trial(table, steps=LAY_TRIAL + LAY_TRIAL)
    (finding,) = caught.value.findings
    assert says(finding) == "piece `trial` is cut 1 time but laid 2 times"


def test_every_piece_of_the_recipes_is_laid_as_often_as_it_is_cut() -> None:
    for project in (laid(WALLET, {"pockets": "3"}), laid(COASTER, {})):
        for one in project.pieces:
            assert len(layers(project, one.name)) == one.quantity


def test_a_recipe_patched_to_lay_a_pocket_more_is_refused() -> None:
    text = flat_text("fold-wallet")
    once = next(row for row in text.splitlines() if row.startswith('    { piece = "pocket[k]"'))
    patched = recipe_of(text.replace(once, f"{once}\n{once}", 1), "patched")
    with cannot(r"`pocket\[1\]` is cut 2 times but laid 3 times"):
        laid(patched, {})


@pytest.mark.parametrize("size", ['width = "-4"\nheight = "20"', 'width = "4"\nheight = "0"'])
def test_a_piece_of_no_size_is_refused(size: str) -> None:
    with cannot("piece `trial` comes out at"):
        trial(size)


def test_notions_have_the_least_length_to_buy_on_a_ruler_mark() -> None:
    parts = (
        '[notions.cord]\ntitle = "cord"\nsort = "ribbon"\nquantity = "2"\n'
        'length = "width + 0.3"\nwidth = "6.4"\nneeded = "press"\n'
        '[notions.ring]\ntitle = "ring"\nsort = "ring"\nwhen = "width > 100"\n'
    )
    press = '[[steps]]\ntitle = "Press"\ndo = "press"\nsay = "Press the cord."\n'
    (cord,) = tag(parts, steps=press).notions
    assert (cord.quantity, cord.length, cord.width) == (2, 81, 6.4)
    names = ["cord", "ring"]
    assert [one.name for one in tag(parts, {"width": 120}, steps=press).notions] == names


def test_outlines_of_pieces_are_about_their_own_middle() -> None:
    for one in laid(WALLET, {}).pieces:
        left, top, right, bottom = one.outline.bounds
        assert np.array([left + right, top + bottom]) == pytest.approx(np.zeros(2))
        assert (right - left, bottom - top) == pytest.approx(one.cut)


@pytest.mark.parametrize(
    ("inside", "works"), [("-5", 0), ("0", 0), ("0.5", 1), ("4.9", 1), ("5", 0)]
)
def test_stitching_inside_the_edges_of_a_piece_lies_on_it(inside: str, works: int) -> None:
    # 40 × 10 mm as it is laid: both long sides stitched 5 mm inside them would meet.
    table = f'width = "40"\nheight = "10"\nedge_stitched = "{inside}"'
    if works:
        assert piece(trial(table), "trial").edge_stitched == float(inside)
        return
    with cannot(r"edge-stitched .*more than 0 and less than 5 mm"):
        trial(table)


HELD = {"width": "30", "height": "20", "ease": "1", "against": "front"}


def holding(**keys: str) -> Project:
    said = "".join(f'{key} = "{value}"\n' for key, value in {**HELD, **keys}.items())
    return tag(f'[holds.seeds]\ntitle = "seed packet"\n{said}')


def test_what_is_held_is_as_it_says() -> None:
    (one,) = holding(thickness="0", number="3", share="1").holds
    assert (one.size, one.thickness, one.number, one.share) == ((30, 20), 0, 3, 1)


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("width", "0", r"comes out at 0 × 20 mm"),
        ("height", "-1", r"comes out at 30 × -1 mm"),
        ("thickness", "-1", r"comes out -1 mm .*thick: at least 0"),
        ("number", "0", "the number of it comes out at 0: it is a whole number, at least 1"),
        ("number", "-3", "comes out at -3"),
        ("number", "1.5", r"comes out at 1\.5"),
        ("share", "1.2", r"comes out at 1\.2, not 0 to 1"),
    ],
)
def test_what_is_held_in_numbers_that_cannot_be_is_refused(key: str, value: str, said: str) -> None:
    with cannot(f"what it holds, `seeds`.*{said}"):
        holding(**{key: value})


def test_things_are_counted_in_whole_numbers() -> None:
    with cannot(r"piece `trial`: quantity comes out at 1\.5"):
        trial('width = "10"\nheight = "20"\nquantity = "1.5"')
    with cannot("notion `cord`: quantity comes out at -1"):
        tag('[notions.cord]\ntitle = "cord"\nsort = "other"\nquantity = "-1"\n')
