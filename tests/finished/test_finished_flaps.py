"""How the plies lie once the work is turned: the order of the book (common practice, no source).

Along the seam the layers are the pages of a book between the work and the closing piece. Turning
keeps their order: what lies nearest to the work stays nearest to it on the work's side; on the
closing piece's side what lies nearest to that piece stays nearest to it; what stands out lies
between the two sides and shows, beside the work's right side, the face that lay against the work.
"""

from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from told import mends
from turned_mats import Part, finished, mat, pocket, tab

from paramgen.finished.covered_openings import covered
from paramgen.finished.finished_thing import SIDES, FinishedThing
from paramgen.finished.flaps import FlapSide
from paramgen.vocabulary.kinds import Side

SMALL, LARGE = pocket("small", 15.0), pocket("large", 0.0)
EITHER_WAY = pytest.mark.parametrize("closing", ["front", "back"])


def order(thing: FinishedThing) -> list[str]:
    """Pieces from the back to the front, each once where it is folded."""
    names = [ply.sheet.piece for ply in thing.plies]
    return [name for at, name in enumerate(names) if at == 0 or names[at - 1] != name]


def from_outside(*pieces: str, closing: Side) -> list[str]:
    """From the work's outer side to the other, as seen from the back of the hoop to the front.

    With the closing piece in front the work's right side looks to the front, and the other way.
    """
    return list(reversed(pieces)) if closing == "front" else list(pieces)


@EITHER_WAY
def test_flaps_of_which_nothing_is_said_stay_on_the_work_in_their_order(closing: Side) -> None:
    thing = finished(mat(SMALL, LARGE, closing=closing))
    # The first laid is nearest to the work; the last lies outermost.
    assert order(thing) == from_outside("large", "small", "work", "closing", closing=closing)
    assert [flap.piece for flap in thing.flaps] == ["small", "large"]
    assert {flap.lies for flap in thing.flaps} == {FlapSide.WORK}
    assert thing.outer == closing


@EITHER_WAY
def test_flaps_that_are_pulled_over_lie_the_other_way_round(closing: Side) -> None:
    thing = finished(mat(SMALL, LARGE, closing=closing, pulled_over=("small", "large")))
    # Now the first laid is outermost: "the one laid first lies on top".
    assert order(thing) == from_outside("work", "closing", "large", "small", closing=closing)


@EITHER_WAY
def test_before_they_are_pulled_over_they_lie_on_the_work(closing: Side) -> None:
    project = mat(SMALL, LARGE, closing=closing, pulled_over=("small", "large"))
    thing = finished(project, pulled_over=False)
    assert order(thing) == from_outside("large", "small", "work", "closing", closing=closing)
    assert {flap.lies for flap in thing.flaps} == {FlapSide.WORK}


@EITHER_WAY
def test_one_may_stay_and_the_next_be_pulled_over(closing: Side) -> None:
    thing = finished(mat(SMALL, LARGE, closing=closing, pulled_over=("large",)))
    assert order(thing) == from_outside("small", "work", "closing", "large", closing=closing)
    assert not list(covered(thing))


@EITHER_WAY
def test_what_stands_out_lies_between_the_sides_and_turns_its_other_face(closing: Side) -> None:
    project = mat(tab("tab"), SMALL, closing=closing, stands_out=("tab",), pulled_over=("small",))
    thing = finished(project)
    assert order(thing) == from_outside("work", "tab", "closing", "small", closing=closing)
    # Of its two leaves the one laid against the work is the one next to the work, so it shows.
    against = min if closing == "front" else max
    leaves = [ply for ply in thing.plies if ply.sheet.piece == "tab"]
    nearest = leaves[-1 if closing == "front" else 0]
    assert nearest.index == against(ply.index for ply in leaves)
    assert not list(covered(thing))


@EITHER_WAY
def test_what_stands_out_is_mirrored_about_the_finished_edge(closing: Side) -> None:
    project = mat(tab("tab"), closing=closing, stands_out=("tab",))
    thing = finished(project)
    # A tab is cut as long as it stands out, and the turn of cloth and its raw ends more: of
    # 27 mm, 27 - 1 - 7 = 19 stand out of the edge at x = 50.
    for ply in thing.plies:
        if ply.sheet.piece == "tab":
            assert ply.area.bounds == pytest.approx((50.0, -10.0, 69.0, 10.0))
            assert (ply.area - thing.room).area == pytest.approx(19.0 * 20.0)
    # All else ends at the finished edge.
    whole = [ply.area.bounds for ply in thing.plies if ply.sheet.piece in ("work", "closing")]
    assert whole == [pytest.approx((-50.0, -30.0, 50.0, 30.0))] * 2


def test_from_in_front_what_stands_out_is_seen_only_past_the_edge() -> None:
    thing = finished(mat(tab("tab"), stands_out=("tab",)))
    for side in SIDES:
        shown = [
            thing.seen[side][thing.place[ply.index]].area
            for ply in thing.plies
            if ply.sheet.piece == "tab"
        ]
        # On either side one of its two leaves is seen, and nothing of the other.
        assert sorted(shown) == pytest.approx([0.0, 19.0 * 20.0])


@pytest.mark.parametrize(
    ("first", "then", "trapped"),
    [(one, two, one > two) for one, two in product(FlapSide, FlapSide)],
)
@EITHER_WAY
def test_of_two_flaps_the_first_must_not_go_farther_over_than_the_next(
    closing: Side, first: FlapSide, then: FlapSide, trapped: bool
) -> None:
    lies = {"first": first, "then": then}
    thing = finished(
        mat(
            *(tab(name) for name in lies),
            closing=closing,
            pulled_over=tuple(name for name, how in lies.items() if how is FlapSide.CLOSING),
            stands_out=tuple(name for name, how in lies.items() if how is FlapSide.OUT),
        )
    )
    found = [one for one in covered(thing) if one.code == "flap-trapped"]
    assert [one.piece for one in found] == (["then"] if trapped else [])
    for one in found:
        assert one.amount == pytest.approx(20.0)  # the rim that they share: the tabs' width


def test_flaps_that_share_no_rim_do_not_trap_each_other() -> None:
    # One tab from y = -25 to -5, the other from -1 to 19.
    project = mat(
        tab("first", -15.0), tab("then", 9.0), pulled_over=("first",), stands_out=("then",)
    )
    assert not list(covered(finished(project)))


@given(st.lists(st.sampled_from(list(FlapSide)), min_size=2, max_size=5))
@settings(max_examples=15)
def test_following_what_is_said_of_trapped_flaps_frees_them_all(lies: list[FlapSide]) -> None:
    named: list[tuple[str, FlapSide]] = [(f"tab-{at}", how) for at, how in enumerate(lies)]

    def laid() -> FinishedThing:
        parts: list[Part] = [tab(name) for name, _ in named]
        over, out = (
            tuple(name for name, how in named if how is lie)
            for lie in (FlapSide.CLOSING, FlapSide.OUT)
        )
        return finished(mat(*parts, pulled_over=over, stands_out=out))

    for _ in range(len(named) ** 2):
        found = [one for one in covered(laid()) if one.code == "flap-trapped"]
        if not found:
            break
        # "Lay the … before step N": the work is laid in step 1, the tabs in the steps after it.
        before = int(mends(found[0]).partition("before step ")[2].partition(",")[0]) - 2
        at = next(at for at, (name, _) in enumerate(named) if name == found[0].piece)
        assert before < at
        named.insert(before, named.pop(at))
    assert all(one <= other for (_, one), (_, other) in pairwise(named))
