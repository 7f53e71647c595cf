"""Between which layers a hand goes in at the turning gap, and between which it goes on."""

import pytest
from turned_mats import mat, pocket, stitched

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
