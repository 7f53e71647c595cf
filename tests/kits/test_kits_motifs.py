"""Pieces centred on the motifs of a print: on the lattice of its repeat, and cut as it is said."""

import pytest
from command_line import paramgen
from cutting_orders import cloths, print_repeats, there, ways_to_cut
from hypothesis import given, settings
from hypothesis import strategies as st
from plans_checked import check_on_motifs, check_random_motifs

from paramgen.amounts.project_materials import ClothToCut, PieceToCut
from paramgen.cli.exit_status import WRONG
from paramgen.kits.cloth_asked import cloth_asked
from paramgen.kits.cloth_there import ClothThere, Cutting, OneWay
from paramgen.kits.kit_words import cut_lines
from paramgen.kits.plan_cutting import plan_cutting
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.unit import Unit

BARE = Cutting(selvedge=0.0, squaring=0.0)


@settings(deadline=None, max_examples=100)
@given(
    cloths(),
    there(),
    ways_to_cut(),
    print_repeats(),
    st.sampled_from([OneWay.ALONG, OneWay.ACROSS]),
)
def test_random_orders_lie_on_motifs_and_their_cuts_cut_them(
    cloth: ClothToCut,
    stock: tuple[ClothThere, ...],
    cutting: Cutting,
    repeat: tuple[int, int],
    way: OneWay,
) -> None:
    check_random_motifs(cloth, stock, cutting, repeat, way)


def squares(side: float, many: int) -> ClothToCut:
    piece = PieceToCut(
        name="square", title="square", quantity=many, cut=(side, side), grain=Grain.ANY
    )
    return ClothToCut(role="outer", sort="fabric", title="", wash=False, pieces=(piece,))


def test_six_squares_by_hand() -> None:
    # 100 mm on motifs 80 × 120 mm apart: two repeats across for each, 160 mm; 80 mm are kept to
    # find one, so that 920 mm hold five. Along, each takes one repeat, 120 mm, and one is kept.
    bolt = ClothThere(role="outer", width=1000, selvedges=0, motif=(80.0, 120.0))
    (plan,) = plan_cutting(squares(100, 6), [bolt], BARE, Unit.MM, lambda: 1.0)
    assert {one.y for one in plan.placed} == {120.0, 240.0}
    assert {one.x for one in plan.placed} <= {80.0, 240.0, 400.0, 560.0, 720.0}
    assert plan.length == 340
    # Without motifs ten stand side by side in one strip.
    assert plan.bound == pytest.approx(100)
    told = [(one.does, one.ruler) for one in cut_lines(plan, Unit.MM)]
    assert told[0] == (
        "Cut 2 strips across the width: strips 1 and 2, each from the next motif",
        "50 mm (1 15/16 in) before the middle of a motif, then 100 mm (3 15/16 in)",
    )
    assert told[1][0].startswith("From strip 1 cut A square, ")
    assert told[1][0].endswith("from the next motif")


def test_odd_and_even_repeats_stand_half_a_repeat_apart() -> None:
    # On motifs 100 mm apart: 90 mm takes one repeat, 150 mm two. The first begins 100 mm in, its
    # middle is at 145; the next are whole repeats on, where they begin no sooner than it ends.
    pieces = tuple(
        PieceToCut(name=name, title=name, quantity=many, cut=(wide, 50), grain=Grain.HEIGHT)
        for name, many, wide in (("narrow", 1, 90.0), ("wide", 2, 150.0))
    )
    cloth = ClothToCut(role="outer", sort="fabric", title="", wash=False, pieces=pieces)
    bolt = ClothThere(role="outer", width=700, selvedges=0, motif=(100.0, 60.0))
    (plan,) = plan_cutting(cloth, [bolt], BARE, Unit.MM, lambda: 1.0)
    middles = [one.x + one.width / 2 for one in plan.placed]
    assert middles == [145.0, 345.0, 545.0]
    check_on_motifs(plan)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("outer=110cm, motif", "`motif` is no repeat of a print"),
        ("outer=110cm, motif 8cm", "is no repeat of a print"),
        ("outer=110cm, motif 1 x 2 mm", "is no repeat of a print"),
    ],
)
def test_what_is_no_repeat_is_told(typed: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        cloth_asked([typed], ["outer"])


def test_a_motif_is_typed_after_its_cloth_and_has_an_upper_end() -> None:
    (one,) = cloth_asked(["outer=110cm, motif 8 x 12 cm"], ["outer"])["outer"]
    assert (one.motif, one.one_way) == ((80.0, 120.0), OneWay.ALONG)
    (one,) = cloth_asked(["outer=44in, one-way across, motif 3 x 4 1/2 in"], ["outer"])["outer"]
    assert one.motif == pytest.approx((76.2, 114.3))
    assert one.one_way is OneWay.ACROSS
    several = ["outer=50 x 70 cm, motif 8 x 8 cm", "outer=110cm, motif 9 x 9 cm"]
    with pytest.raises(InputError, match="do not have the same repeat"):
        cloth_asked(several, ["outer"])


def test_a_mat_does_not_centre_on_motifs() -> None:
    words = ("kit", "coaster", "--hoop", "130x180", "--mat", "30 x 30 cm")
    ran = paramgen(*words, "--fabric", "top=110cm, motif 8 x 8 cm", "--no-papers")
    assert ran.status == WRONG
    assert "pieces on a mat are not centred on motifs. Leave out `motif`" in ran.err
