"""Between which layers a hand goes in at the turning gap, and between which it goes on."""

import pytest
from turned_mats import Part, mat, pocket, stitched

from paramgen.finished.turning_passage import Passage, through_gap
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.project import Project

#: The gap lies at the top, the mouth of the pocket 31 mm below it. A line from the mouth to the
#: bottom binds the pocket to the work.
BOUND = (pocket("slot"), stitched("divider", "tack-down", (0, -1), (0, 40)))


def passage(project: Project) -> Passage:
    found = through_gap(work_through(project))
    assert found is not None
    return found


@pytest.mark.parametrize("closing", [Side.FRONT, Side.BACK])
def test_the_hand_goes_on_between_the_closing_piece_and_what_is_bound_farther_in(
    closing: Side,
) -> None:
    there = passage(mat(*BOUND, closing=closing))
    turn = -1 if closing is Side.BACK else 1
    titles = [layer[0].title for layer in there.layers]
    assert titles[::turn] == ["work", "slot", "closing piece"]
    assert there.farther == {1}
    assert (there.behind, there.in_front)[::turn] == ("work", "closing piece")
    assert (there.on_between or ())[::turn] == ("slot", "closing piece")


def test_neither_a_flap_nor_what_lies_at_the_gap_lies_farther_in() -> None:
    loose = passage(mat(pocket("slot"), pulled_over=("slot",)))
    assert (loose.farther, loose.on_between) == (frozenset(), None)
    # At a gap at the side the pocket lies in it.
    aside = passage(mat(*BOUND, gap="right"))
    assert (aside.farther, aside.on_between) == (frozenset(), None)
    assert "slot" in {layer[0].title for layer in aside.layers}


def test_a_hem_lies_farther_in_only_with_its_piece() -> None:
    # From x = 15 to the right edge, its top past the seam line, its hem at the bottom, at y = 10.
    # Over 5 mm of the gap, which ends at x = 20, it is stitched to the other two, just outside; a
    # line binds it to the work.
    tables = (
        '[pieces.slot]\ntitle = "slot"\nfabric = "outer"\nwidth = "46"\nheight = "51"\n'
        'folds = [{ fold = "hem", along = "height", turn = "8" }]\n'
    )
    lay = (
        '[[steps]]\ntitle = "Lay slot"\nlay = [{ piece = "slot", side = "SIDE", up = "right", '
        'fold = "bottom", left = "15", top = "-41" }]\nsay = "Lay it there."\n'
    )
    bound = stitched("divider", "tack-down", (35, -25), (35, 8))
    held = stitched("held", "tack-down", (15, -31.5), (21, -31.5))
    there = passage(mat(Part(tables, lay), bound, late=(held,)))
    assert [layer[0].title for layer in there.layers] == ["work", "closing piece"]
    assert there.farther == frozenset()
