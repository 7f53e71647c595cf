"""What can be seen and done while working: marks, tape, and what the hoop stands in the way of."""

import re
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from told import mends, says

from paramgen.geometry.outlines import rectangle
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.out_of_hoop import out_of_hoop
from paramgen.rehearsal.placement_marks import placement_marks
from paramgen.rehearsal.securing import securing
from paramgen.sizing import size
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import NOT_IN_THE_HOOP, Act, Face, Role, Side, StitchKind
from paramgen.vocabulary.path import Path, Point, path
from paramgen.vocabulary.project import Layer, Line, Project, Step, Stitch
from paramgen.vocabulary.unit import Unit

#: A mark must show so much, mm: design of the rehearsal, from memory. And what lies under the
#: edge counts as seen so far in, mm.
SHOWS, UNDER_EDGE = 2.0, 0.3


@lru_cache
def bare() -> Project:
    """A project whose steps tests put in."""
    return lay_out(size(find_recipe("coaster"), {}, unit=Unit.MM))


def worked(*steps: Step, unit: Unit = Unit.MM) -> Project:
    """A project of these steps, numbered in their order."""
    numbered = tuple(replace(step, number=at) for at, step in enumerate(steps, 1))
    return replace(bare(), steps=numbered, unit=unit)


def by_hand(act: Act, *pieces: str) -> Step:
    return Step(
        number=0,
        stop=None,
        act=act,
        title=act.capitalize(),
        say="As said.",
        seen_from=Side.FRONT,
        pieces=pieces,
    )


def stitched(role: Role, *paths: list[Point]) -> Step:
    line = Line(
        role, str(role), role, Stitch(StitchKind.RUN, 3.0), tuple(_open(one) for one in paths)
    )
    return Step(
        number=0,
        stop=1,
        act=Act.STITCH,
        title=role.capitalize(),
        say="Stitch.",
        seen_from=Side.FRONT,
        lines=(line,),
    )


def _open(points: list[Point]) -> Path:
    return path(points, closed=False)


def piece(
    name: str,
    left: float,
    top: float,
    right: float,
    bottom: float,
    side: Side = Side.FRONT,
    clear: bool = False,
) -> Layer:
    outline = rectangle(left, top, right, bottom)
    return Layer(
        piece=name,
        title=name,
        fabric="outer",
        side=side,
        up=Face.RIGHT,
        outline=outline,
        folded_edges=(),
        plies=1,
        clear=clear,
    )


def laid(*layers: Layer) -> Step:
    return Step(
        number=0,
        stop=None,
        act=Act.LAY,
        title="Lay",
        say="Lay.",
        seen_from=layers[0].side,
        layers=layers,
    )


def taped(*names: str) -> Step:
    return replace(by_hand(Act.TAPE), taped=names)


# --- A mark that the piece covers is no mark -------------------------------------------------

#: The pocket of these tests: its upper edge lies on y = 0, between x = -50 and 50.
POCKET = piece("pocket", -50, 0, 50, 60)


def marked(*paths: list[Point], over: Layer = POCKET, before: Layer | None = None) -> list[Finding]:
    first = (laid(before),) if before else ()
    project = worked(stitched(Role.PLACEMENT, *paths), *first, laid(over))
    return list(placement_marks(project))


def from_the_edge(at: float, length: float, degrees: float) -> list[Point]:
    """A mark that begins on the pocket's upper edge; 90° is straight away from the pocket."""
    angle = np.radians(degrees)
    return [(at, 0.0), (at + length * float(np.cos(angle)), -length * float(np.sin(angle)))]


@given(
    at=st.floats(-30, 30),
    length=st.floats(0.5, 15),
    degrees=st.floats(15, 165),
    side=st.sampled_from(["front", "back"]),
)
def test_a_mark_is_seen_as_far_as_it_reaches_out_of_the_piece(
    at: float, length: float, degrees: float, side: Side
) -> None:
    assume(abs(length - SHOWS) > 0.01)
    found = marked(from_the_edge(at, length, degrees), over=replace(POCKET, side=side))
    assert [one.code for one in found] == (["mark-covered"] if length < SHOWS else [])
    for one in found:
        assert one.amount == pytest.approx(SHOWS - length, abs=1e-6)


@given(at=st.floats(-30, 30), length=st.floats(2.5, 15), degrees=st.floats(-165, -15))
def test_a_mark_that_reaches_into_the_piece_is_none_however_long(
    at: float, length: float, degrees: float
) -> None:
    (found,) = marked(from_the_edge(at, length, degrees))
    # Cut off 0.3 mm under the edge, a line at this slant shows 0.3 / sin of it.
    shows = UNDER_EDGE / abs(np.sin(np.radians(degrees)))
    assert found.amount == pytest.approx(SHOWS - shows, abs=1e-6)
    assert (found.step, found.piece) == (1, "pocket")
    assert found.severity is Severity.DISAPPOINT


@given(inward=st.floats(0.5, 15), outward=st.floats(0.5, 15))
def test_a_mark_across_an_edge_or_clear_of_it_says_nothing_about_it(
    inward: float, outward: float
) -> None:
    assert marked([(5.0, inward), (5.0, -outward)]) == []
    assert marked([(5.0, 1.0), (5.0, 1.0 + inward)]) == []
    assert marked([(5.0, -1.0), (5.0, -1.0 - outward)]) == []


@pytest.mark.parametrize("off", [-0.15, 0.0, 0.15])
def test_a_line_along_the_edge_can_be_seen(off: float) -> None:
    assert marked([(-40.0, off), (40.0, off)]) == []


def test_a_clear_piece_hides_no_mark() -> None:
    assert marked(from_the_edge(0, 6, -90), over=replace(POCKET, clear=True)) == []


def test_a_piece_laid_before_hides_a_mark_stitched_before_it_and_no_later_one() -> None:
    under = piece("panel", -100, -80, 100, 80)
    mark = from_the_edge(0, 6, 90)
    (found,) = marked(mark, before=under)
    assert found.piece == "pocket"
    assert found.amount == SHOWS
    assert mends(found).startswith("Stitch the mark after step 2, or let the mark reach at least")
    after = worked(laid(under), stitched(Role.PLACEMENT, mark), laid(POCKET))
    assert list(placement_marks(after)) == []


def test_what_lies_on_the_other_side_of_the_hoop_hides_nothing() -> None:
    under = piece("panel", -100, -80, 100, 80, side=Side.BACK)
    assert marked(from_the_edge(0, 6, 90), before=under) == []
    assert marked(from_the_edge(0, 6, 90), over=replace(POCKET, side=Side.BACK), before=under)


def test_parts_of_a_mark_that_hang_together_are_one_mark() -> None:
    # A tick into the pocket from a line along its edge: the line is seen.
    along: list[Point] = [(-40.0, 0.0), (40.0, 0.0)]
    assert marked(along, from_the_edge(0, 6, -90)) == []
    assert len(marked([(60.0, 0.0), (80.0, 0.0)], from_the_edge(0, 6, -90))) == 1


def test_the_worst_mark_of_a_line_speaks_for_all_that_a_piece_is_laid_by() -> None:
    marks = (from_the_edge(at, length, 90) for at, length in ((-9, 1.0), (0, 0.5), (9, 1.5)))
    (found,) = marked(*marks)
    assert found.amount == pytest.approx(1.5)
    assert found.place[0] == (0.0, 0.0)


def test_a_mark_that_another_piece_touches_by_chance_is_judged_by_the_piece_that_sees_it() -> None:
    mark = from_the_edge(0, 6, 90)
    larger = piece("larger pocket", -50, -6, 50, 60)
    project = worked(stitched(Role.PLACEMENT, mark), laid(POCKET), laid(larger))
    assert list(placement_marks(project)) == []


@pytest.mark.parametrize("unit", Unit)
def test_a_mark_that_reaches_as_far_as_the_remedy_says_is_one(unit: Unit) -> None:
    mark = stitched(Role.PLACEMENT, from_the_edge(0, 6, -90))
    (found,) = placement_marks(worked(mark, laid(POCKET), unit=unit))
    least = re.search(r"at least (\S+) (mm|in) ", mends(found))
    assert least
    number = {"1/8": 25.4 / 8, "2": 2.0}[least[1]]
    assert number >= SHOWS
    assert marked(from_the_edge(0, number, 90)) == []
    assert "it needs 2 mm (1/16 in)" in says(found) or unit is Unit.INCH


# --- What is laid stays where it lies --------------------------------------------------------

ACTS = {
    "L": laid(POCKET),
    "T": taped("pocket"),
    "O": taped("other"),
    "U": by_hand(Act.UNTAPE),
    "F": by_hand(Act.FLIP),
    "S": stitched(Role.SEAM, [(-60.0, 30.0), (60.0, 30.0)]),
    "B": stitched(Role.SEAM, [(-60.0, -30.0), (60.0, -30.0)]),
    "K": stitched(Role.TACK_DOWN, [(-60.0, 30.0), (60.0, 30.0)]),
    "P": stitched(Role.PLACEMENT, [(-60.0, 30.0), (60.0, 30.0)]),
}


def slips(*steps: Step) -> list[Finding]:
    """Where a piece is loose; that only fingers held it at its tack-down is told elsewhere."""
    return [one for one in securing(worked(*steps)) if one.code != "not-taped"]


@example(before="", after="TUF")
@example(before="", after="TUTFS")
@example(before="", after="TPTUBS")
@given(before=st.text("FSKTU", max_size=3), after=st.text("TOUFSBKP", max_size=7))
def test_a_piece_slips_if_it_is_loose_when_the_hoop_is_turned_or_a_seam_meets_it(
    before: str, after: str
) -> None:
    order = f"{before}L{after}"
    found = slips(*(ACTS[letter] for letter in order))
    # Once it is laid: any turns of taping and taking the tape off again, neither seam nor
    # tack-down among them; then, while it is loose, the hoop turned over or a seam.
    loose = re.fullmatch(r"[^L]*L(?:[OUBP]|T[TFOBP]*U)*([FS]).*", order)
    if loose is None:
        assert found == []
    else:
        (one,) = found
        assert (one.code, one.piece, one.step) == ("not-secured", "pocket", loose.start(1) + 1)
        assert one.severity is Severity.CANNOT
        assert f"before step {loose.start(1) + 1} (" in mends(one)


def test_a_strip_over_a_piece_holds_it_whatever_it_was_meant_for() -> None:
    def strip(x: float) -> Step:
        return replace(taped("other"), tape=(rectangle(x, 20.0, x + 25.0, 32.0),))

    flip = by_hand(Act.FLIP)
    assert list(securing(worked(laid(POCKET), strip(40.0), flip))) == []
    assert len(list(securing(worked(laid(POCKET), strip(51.0), flip)))) == 1


def test_tape_that_holds_another_piece_as_well_stays_when_that_of_one_comes_off() -> None:
    # As the pictures and the order of the work have it: only strips of steps that taped nothing
    # else come off.
    lay, flip, off = laid(POCKET), by_hand(Act.FLIP), by_hand(Act.UNTAPE, "pocket")
    assert list(securing(worked(lay, taped("pocket", "flap"), off, flip))) == []
    assert list(securing(worked(lay, taped("pocket"), taped("pocket", "flap"), off, flip))) == []
    both = by_hand(Act.UNTAPE, "flap", "pocket")
    for how, late in ((taped("pocket"), off), (taped("pocket", "flap"), both)):
        (found,) = securing(worked(lay, how, late, flip))
        assert (found.code, found.piece) == ("not-secured", "pocket")


def test_a_line_that_only_nicks_a_piece_does_not_hold_it() -> None:
    flip = by_hand(Act.FLIP)

    def tacked(inside: float) -> Step:
        return stitched(Role.TACK_DOWN, [(-70.0, 30.0), (-50.0 + inside, 30.0)])

    assert len(slips(laid(POCKET), tacked(4.0), flip)) == 1
    assert slips(laid(POCKET), tacked(12.0), flip) == []


# --- What the hoop stands in the way of -------------------------------------------------------

HOOPED = stitched(Role.PLACEMENT, [(0.0, 0.0), (9.0, 0.0)])


@pytest.mark.parametrize("act", sorted(NOT_IN_THE_HOOP))
def test_what_wants_the_work_out_of_the_hoop_is_found_only_in_it(act: Act) -> None:
    it, out = by_hand(act), by_hand(Act.UNHOOP)
    turn = by_hand(Act.TURN)
    (inside,) = [one for one in out_of_hoop(worked(HOOPED, it, out)) if one.code == "sewn-in-hoop"]
    assert inside.step == 2
    assert list(out_of_hoop(worked(HOOPED, out, turn, it))) == []
    if act in (Act.FUSE, Act.EDGE_STITCH):
        assert list(out_of_hoop(worked(it, HOOPED, out))) == []
        assert mends(inside) == "Do it before step 1 (Placement)."
    else:
        assert mends(inside) == "Do it after step 3 (Take out of the hoop)."


@pytest.mark.parametrize("act", sorted(set(Act) - NOT_IN_THE_HOOP))
def test_all_else_may_be_done_in_the_hoop(act: Act) -> None:
    assert list(out_of_hoop(worked(HOOPED, by_hand(act), by_hand(Act.UNHOOP)))) == []


def test_work_that_is_never_taken_out_stays_in_the_hoop() -> None:
    (found,) = out_of_hoop(worked(HOOPED, by_hand(Act.PRESS)))
    assert mends(found) == "Take the work out of the hoop before step 2."


def edged(*steps: Step, unit: Unit = Unit.MM) -> list[str]:
    """What is found of a piece that is edge-stitched 3.2 mm (1/8 in) inside its edges."""
    project = worked(*steps, unit=unit)
    pocket = replace(project.pieces[0], name="pocket", title="pocket", edge_stitched=3.175)
    found = out_of_hoop(replace(project, pieces=(pocket,)))
    return [f"{one.code}: {says(one, unit)}" for one in found]


def test_a_piece_is_edge_stitched_before_it_is_laid() -> None:
    own, other = by_hand(Act.EDGE_STITCH, "pocket"), by_hand(Act.EDGE_STITCH, "flap")
    fused = by_hand(Act.FUSE, "pocket")
    lay, out = laid(POCKET), by_hand(Act.UNHOOP)
    assert edged(own, HOOPED, lay, out) == []
    assert edged(HOOPED, out) == []  # it is not laid with the choices made
    early = [[HOOPED, lay, out], [other, HOOPED, lay, out], [fused, HOOPED, lay, out]]
    for steps in (*early, [HOOPED, lay, out, own]):
        (found,) = edged(*steps, unit=Unit.INCH)
        assert found.startswith("not-edge-stitched: the pocket laid in step ")
        assert "1/8 in (3.2 mm) inside its edges" in found
    (late,) = edged(HOOPED, lay, own, out)
    assert late.startswith("sewn-in-hoop: step 3 (Edge-stitch) needs a sewing machine")


def test_nothing_is_pulled_over_before_it_is_turned() -> None:
    out, turn, pull = (by_hand(act) for act in (Act.UNHOOP, Act.TURN, Act.PULL_OVER))
    (early,) = out_of_hoop(worked(HOOPED, out, pull, turn))
    assert (early.code, mends(early)) == (
        "out-of-order",
        "Do it after step 4 (Turn right side out).",
    )
    (never,) = out_of_hoop(worked(HOOPED, out, pull))
    assert mends(never) == "Turn the work right side out before step 3."


# What lies in a thing is in the way of whatever is done to it: it goes in when all else is done.
def test_what_it_holds_is_put_in_last() -> None:
    out, turn, press = (by_hand(act) for act in (Act.UNHOOP, Act.TURN, Act.PRESS))
    put = by_hand(Act.PUT_IN)
    assert list(out_of_hoop(worked(HOOPED, out, turn, press, put, put))) == []
    too_early = [
        ([put, HOOPED, out, turn, press], 1),
        ([HOOPED, out, put, turn, press], 3),
        ([HOOPED, out, turn, put, press], 4),
    ]
    for steps, at in too_early:
        (early,) = out_of_hoop(worked(*steps))
        assert (early.code, early.step, early.stops) == ("put-in-early", at, True)
        assert ("not turned right side out" in says(early)) == (at < 4)
        assert mends(early) == "Do it after step 5 (Press)."
    assert "step 5 (Press) is still to be done" in says(early)
    # In the hoop it is both in the way and too early, and is told of both.
    inside = out_of_hoop(worked(HOOPED, put, out))
    assert {one.code for one in inside} == {"sewn-in-hoop", "put-in-early"}
