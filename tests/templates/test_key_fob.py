"""The key fob: a strip in three makes, its ends, its ring, several of them in one hoop.

Sizes are checked against arithmetic shown beside them; how it goes together is common practice,
no source.
"""

from functools import cache
from itertools import product

import numpy as np
import pytest
import shapely
from copies_made import several
from layout_orders import Asked, laid, layers, line, piece
from told import mends, says

from paramgen.drawings.front_end.finished_pile import finished_pile
from paramgen.drawings.pictures.section import runs
from paramgen.drawings.primitives.items import Style
from paramgen.finished.all_findings import prove
from paramgen.finished.bulk import by_machine, closed_thickness
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.finished.hardware import hardware
from paramgen.finished.hung_rings import hung_rings
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.sheets import sandwich
from paramgen.rehearsal.thickness import layers_along
from paramgen.solid.posed import posed
from paramgen.solid.solid_of import solid_of
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.kinds import Act, FoldKind, Leaf, Side
from paramgen.vocabulary.project import Notion, Project
from paramgen.vocabulary.unit import Unit

FOB = find_recipe("key-fob")
SMALL = find_hoop("130x180", listed())
#: Every make with the ends that it takes.
MAKES: tuple[Asked, ...] = tuple(
    {"make": make, "ends": ends}
    for make, ends in product(("four", "three", "raw"), ("clamp", "rivet", "stitched"))
    if (make, ends) != ("raw", "clamp")
)
EACH_MAKE = pytest.mark.parametrize("asked", MAKES, ids=lambda one: "-".join(one.values()))


@cache
def _fob(asked: tuple[tuple[str, str | float], ...]) -> Project:
    return laid(FOB, dict(asked))


def fob(asked: Asked | None = None, **more: str | float) -> Project:
    """Lay a fob out, once for all tests that ask for the same."""
    return _fob(tuple(sorted({**(asked or {}), **more}.items())))


def thing(project: Project) -> FinishedThing:
    return finish(work_through(project))


def notion(project: Project, name: str) -> Notion:
    (found,) = (one for one in project.notions if one.name == name)
    return found


def refused(**asked: str | float) -> tuple[str, str]:
    with pytest.raises(CannotMakeError) as problem:
        fob(asked)
    (found,) = (one for one in problem.value.findings if one.stops)
    return says(found), mends(found)


# Four quarters of the width, or three thirds, two of them 1 narrower, and a hem of 8. A clamp takes
# 7 of each end; a bend takes 2; a lap takes 20. Raw ends are 10 longer, turned ones take 12.
@pytest.mark.parametrize(
    ("asked", "long", "cut"),
    [
        # 2 · (60 + 7) = 134; 4 · 25 = 100; 134 + 2 · 10 = 154
        ({"length": 60}, 134, (100, 154)),
        # 2 · 65 + 2 + 20 = 152; 3 · 25 + 8 - 2 = 81; 152 + 12 + 10 = 174
        ({"make": "three", "ends": "stitched"}, 152, (81, 174)),
        # 2 · 65 + 2 = 132; 132 + 2 · 12 = 156
        ({"ends": "rivet"}, 132, (100, 156)),
    ],
)
def test_a_folded_strip_is_cut_to_the_arithmetic(
    asked: Asked, long: float, cut: tuple[float, float]
) -> None:
    project = fob(asked)
    assert project.finished == pytest.approx((25, long))
    assert piece(project, "strip").cut == pytest.approx(cut)
    (strip,) = layers(project, "strip")
    assert strip.outline.box.width == pytest.approx(25)


def test_raw_layers_are_cut_past_the_strip_all_round() -> None:
    # 2 · 75 + 2 = 152; 12 past all round; lines 3 inside: 20 - 6 and 152 - 6.
    project = fob(make="raw", ends="rivet", width=20, length=75, thick=0.8)
    assert project.finished == pytest.approx((20, 152))
    for name in ("front", "back"):
        assert piece(project, name).cut == pytest.approx((44, 176))
    (seam,) = line(project, "seam").paths
    assert seam.bounds == pytest.approx((-7, -73, 7, 73), abs=0.01)
    # The rivets lie 14 from the bend and 12 inside the ends: 76 - 12. Four layers of 0.8 and 2.5
    # for the head are 5.7: a post of 6.
    assert notion(project, "keeper").halves == ((0, -14), (0, 14))
    assert notion(project, "rivet").halves == ((0, -64), (0, 64))
    assert "a post of about 6 mm" in notion(project, "rivet").title


def test_a_rivet_beside_turned_ends_goes_through_all_of_the_hem() -> None:
    # 132 / 2 - 12 - 6: 6 past the raw edge of what is turned in.
    assert notion(fob(ends="rivet"), "rivet").halves[1] == (0, 48)
    # Two rivets, 14 from the bend and 13 between their middles, from length + 1 - 18 - 14 >= 13
    assert any(one.name == "keeper" for one in fob(ends="rivet", length=44).notions)
    assert not any(one.name == "keeper" for one in fob(ends="rivet", length=43).notions)


def test_the_folds_of_a_strip_in_three_lie_where_cloth_folds() -> None:
    # 81 wide: the hem at 8 from the right; 73 are left, 24 + 25 + 24.
    creases = piece(fob(make="three", ends="stitched"), "strip").creases
    upright = [one for one in creases if one.start[0] == one.end[0]]
    found = sorted((one.start[0] + 40.5, one.kind, one.order) for one in upright)
    hem, *thirds = sorted(found, key=lambda one: one[1] is not FoldKind.HEM)
    assert [kind for _, kind, _ in (hem, *thirds[:2])] == [FoldKind.HEM, *[FoldKind.THIRDS] * 2]
    assert [at for at, _, _ in (hem, *thirds[:2])] == pytest.approx([73, 24, 49])
    # That on the side without the hem goes in first.
    assert thirds[0][2] < thirds[1][2]


def test_lines_and_basting_run_where_they_should() -> None:
    # 134 long and 25 wide: 2 inside the sides, 3 inside the ends; 20 inside for the basting.
    project = fob(length=60)
    (edge,) = line(project, "edge-stitch").paths
    assert edge.bounds == pytest.approx((-10.5, -64, 10.5, 64))
    (middle,) = line(project, "middle").paths
    assert middle.bounds == pytest.approx((0, -47, 0, 47))
    acts = [step.act for step in project.steps]
    assert acts.index(Act.UNHOOP) < acts.index(Act.PULL_OUT) < acts.index(Act.WASH_OUT)
    assert [one.stays for one in sandwich(project).sewn if one.line.name == "middle"] == [False]


# In inches a width of 15 is folded to 5/8 in, 15.875; in three from 3 · 15.875 - 2 and a hem of at
# least 8, to the next eighth of an inch: 53.625 to 53.975. A strip with both ends turned in is
# 2 · 35 + 2 = 72 long, to the next eighth 73.025, and with 2 · 12 more 97.025, to the next 98.425.
# One that laps is turned in at one end, which lies at the end of its lines; the other is trimmed.
@pytest.mark.parametrize("make", ["four", "three"])
@pytest.mark.parametrize("ends", ["rivet", "stitched"])
def test_in_inches_a_strip_is_as_large_as_its_lines_and_no_fold_is_cut(
    make: str, ends: str
) -> None:
    asked: Asked = {"make": make, "ends": ends, "width": 15, "length": 35}
    project = laid(FOB, asked, Unit.INCH)
    (strip,) = layers(project, "strip")
    wide, long = project.finished
    assert wide == pytest.approx(15.875)
    assert long == pytest.approx(73.025 if ends == "rivet" else 2 * 35 + 2 + 20)
    left, top, right, bottom = strip.outline.bounds
    assert (left, right, bottom) == pytest.approx((-wide / 2, wide / 2, long / 2))
    assert top == pytest.approx(-long / 2) if ends == "rivet" else top <= -long / 2 - 10
    cut = piece(project, "strip").cut
    assert cut[0] == pytest.approx(4 * 15.875 if make == "four" else 53.975)
    if ends == "rivet":
        assert cut[1] == pytest.approx(98.425)
    place = line(project, "strip-place").paths
    assert [one.bounds[1::2] for one in place] == [pytest.approx((-long / 2, long / 2))] * 2


def test_a_ring_that_is_not_asked_for_takes_the_strip_as_it_is_folded() -> None:
    # 15.9 is folded to 19.05, the next eighth of an inch; a ring of 15.9 + 5 is 0.15 too narrow.
    project = laid(FOB, {"ends": "rivet", "width": 15.9}, Unit.INCH)
    assert (notion(project, "ring").width or 0.0) >= 19.05 + 2


def test_a_small_loop_is_sewn_by_hand_with_what_that_takes() -> None:
    for make, length in product(("four", "raw"), (35, 139, 140, 170)):
        project = fob(make=make, ends="stitched", length=length)
        (sewn,) = (step for step in project.steps if step.title.startswith("Sew the lap"))
        assert sewn.act is (Act.HAND_SEW if length < 140 else Act.TOP_STITCH)
        # Sewn by hand only where needle and strong thread are listed, which go with that act.
        assert ("back stitches" in sewn.say) == (length < 140)
        # All that is sewn holds the finished loop, and is seen on it, however it is sewn.
        lines = [one.line for one in sewn.mark]
        assert list(thing(project).bindings) == lines
        threads = [one for one in project.notions if "thread" in one.title]
        assert len(threads) == (1 if length < 140 else 0)
        # A box of 19 × 14 and a cross of twice 23.60: 113.2; six times that and 300 are 979.2.
        # Between raw layers 15 × 10 and twice 18.03: 86.06, and 816.4.
        assert [one.length for one in threads] == [980 if make == "four" else 817][: len(threads)]


# A lap of 20 has its middle 10 inside the end. In cloth the box lies 3 inside it all round; between
# raw layers 2 inside the last line, which lies 3 inside the edge: no hole of one beside the other.
@pytest.mark.parametrize(("make", "inside"), [("four", 3), ("three", 3), ("raw", 5)])
@pytest.mark.parametrize("length", [65, 150])
def test_the_lap_is_sewn_in_a_box_with_a_cross(make: str, inside: float, length: float) -> None:
    project = fob(make=make, ends="stitched", length=length)
    (sewn,) = (step for step in project.steps if step.title.startswith("Sew the lap"))
    box, *cross = sewn.mark
    end = length + 11  # (2 * length + 2 + 20) / 2
    left, top, right, bottom = -12.5 + inside, end - 20 + inside, 12.5 - inside, end - inside
    assert box.bounds == pytest.approx((left, top, right, bottom))
    ends = [[tuple(point) for point in one.points.round(6).tolist()] for one in cross]
    assert ends == [[(left, top), (right, bottom)], [(left, bottom), (right, top)]]
    if make == "raw":
        (last,) = line(project, "seam").paths
        # Nearest at a corner, where the line has a radius of 6 - 3: 3 - 1.4142.
        assert box.line.distance(last.line) == pytest.approx(1.586, abs=0.01)


@EACH_MAKE
def test_a_strip_of_cloth_is_folded_in_a_step_before_the_hooping(asked: Asked) -> None:
    first = fob(asked).steps[0]
    assert (first.act is Act.FOLD) == (asked["make"] != "raw")
    if first.act is not Act.FOLD:
        return
    assert first.pieces == ("strip",)
    # An end that shows is turned in first, by 12; both of them beside rivets.
    turned = {"clamp": "", "rivet": "12 mm (1/2 in) in at both short ends", "stitched": "12 mm"}
    assert turned[str(asked["ends"])] in first.say
    assert ("12 mm" in first.say) == (asked["ends"] != "clamp")
    # 25 - 1 = 24 over from the side without the hem, which goes in first.
    if asked["make"] == "three":
        hem, third = first.say.index("8 mm (5/16 in) in"), first.say.index("24 mm (15/16 in) over")
        assert hem < third < first.say.index("the hemmed side over that")


# Tape reaches 3 onto the strip. An end with 10 to spare lies 10 past the finished one, and the tape
# 7 past it; the line runs 3 inside: 10 apart. Where the strip ends as it will be, both lie 3 inside
# its end.
@pytest.mark.parametrize(
    ("ends", "apart", "said"),
    [
        ("clamp", [10, 10], "Take off the tape; the basting holds the strip now."),
        ("rivet", [0, 0], "Take off the tape at both ends: the next line runs through it"),
        ("stitched", [0, 10], "at the turned end the next line runs through it"),
    ],
)
def test_tape_is_in_the_way_of_a_line_where_that_is_said(
    ends: str, apart: list[float], said: str
) -> None:
    project = fob(ends=ends)
    (taped,) = (step for step in project.steps if step.tape)
    (path,) = line(project, "edge-stitch").paths
    away = sorted(float(one.area.distance(path.line)) for one in taped.tape)
    assert away == pytest.approx(apart, abs=1e-6)
    (off,) = (step for step in project.steps if step.act is Act.UNTAPE)
    assert said in off.say


def test_a_clamp_says_how_the_ring_comes_into_its_eye() -> None:
    project = fob()
    assert "an eye for the ring" in notion(project, "clamp").title
    assert "springs open" in notion(project, "key-ring").title
    assert "into the eye of the clamp" in project.steps[-1].say
    # 144 long: its eye begins at the end of the strip, in the solid as well.
    *_, ring = solid_of(thing(project)).panels
    assert ring.outline.bounds[1] == pytest.approx(72)


@EACH_MAKE
@pytest.mark.parametrize("size", [(15, 35), (20, 43), (25, 65), (40, 170)], ids=str)
def test_each_make_is_sound_over_its_range(asked: Asked, size: tuple[float, float]) -> None:
    width, length = size
    if asked["ends"] == "rivet" and asked["make"] == "raw":
        width = max(width, 17)  # 2 · (3 + 4.5 + 1), see below
    project = fob(asked, width=width, length=length)
    assert [says(one) for one in prove(project).findings if one.stops] == []


def test_what_cannot_be_is_refused_with_what_can() -> None:
    said, remedy = refused(make="raw", ends="clamp")
    assert "a clamp takes the ends of a folded strip" in said.lower()
    assert "ends=rivet" in remedy
    # 2 · (3 + 9 / 2 + 1) = 17
    _, remedy = refused(make="raw", ends="rivet", width=16)
    assert "at least 17 mm" in remedy
    assert fob(make="raw", ends="rivet", width=17)
    said, remedy = refused(ends="stitched", width=30, ring_width=30)
    assert "at least 32 mm" in remedy
    assert fob(ends="clamp", width=30, ring_width=30)  # it hangs from the clamp
    assert fob(width=30, ring_width=32)


def test_the_box_of_the_lap_stays_on_the_strip_at_its_round_corners() -> None:
    # (r - 5) · 1.4142 <= r - 1.5, so 0.4142 · r <= 5.5711: 13.45.
    said, remedy = refused(make="raw", ends="stitched", width=40, corner_radius=14)
    assert "too round for the box" in said
    assert "at most 13.4 mm" in remedy
    project = fob(make="raw", ends="stitched", width=40, corner_radius=13.4)
    (sewn,) = (step for step in project.steps if step.title.startswith("Sew the lap"))
    edge = project.finish.finished
    assert edge is not None
    assert edge.area.buffer(-1.49).covers(sewn.mark[0].area)


@EACH_MAKE
def test_it_folds_round_its_ring(asked: Asked) -> None:
    project = fob(asked)
    (ring,) = hung_rings(project)
    assert (ring.fold is None) == (asked["ends"] == "clamp")
    if ring.fold:
        # Inside the ring there is 1 on either side of the strip, at least.
        bar, left, right, *_ = ring.parts((0.0, -1.0))
        strip = shapely.box(-12.5, -500, 12.5, 500)
        assert bar.intersects(strip)
        assert min(left.distance(strip), right.distance(strip)) >= 1
    found = thing(project)
    assert found.outer is Side.FRONT
    assert found.folds_shut
    assert list(hardware(found)) == []


def test_a_stitched_one_is_a_loop_that_laps_at_its_back() -> None:
    # 152 less a lap of 20 goes round: 132, folded 66 apart; 43 hang over at either end, 86 on 66.
    project = fob(ends="stitched")
    assert [fold[0][1] for fold in project.finish.folds] == pytest.approx([-33, 33])
    plates = posed(solid_of(thing(project)), closed=1.0).plates
    panels = sorted(
        (float(np.vstack(one.at(one.low))[:, 2].mean()), one.outline.bounds)
        for one in plates
        if one.panel < 3
    )
    # From the back: the turned end (at the bottom of the strip), the raw end, the front.
    lows = [round(bounds[1]) for _, bounds in panels]
    assert lows == [33, -76, -33]


def test_in_the_end_it_is_as_thick_as_all_its_layers() -> None:
    # Four layers of 0.15 to 0.3, twice.
    assert closed_thickness(thing(fob())).empty == pytest.approx((8 * 0.15, 8 * 0.3))


def test_four_lie_side_by_side_in_a_hoop_of_130_by_180() -> None:
    # 25 wide with a line 1 beside either side, and 6 between two: a pitch of 33. 3 · 33 + 27 = 126.
    project = several("key-fob", "most", SMALL, {"length": 60}).project
    assert project.copies == 4
    middles = sorted(layer.outline.box.centre[0] for layer in layers(project, "strip"))
    assert np.diff(middles) == pytest.approx([33, 33, 33], abs=0.2)
    assert piece(project, "strip").quantity == 4


def test_raw_ones_lie_under_one_sheet_front_and_back() -> None:
    # 20 wide, tacked down 2.5 outside, 3 for a cut: a pitch of 28, and 3 · 28 + 25 = 109 <= 130.
    # Sheets of 3 · 28 + 20 + 2 · 12 = 128 by 152 + 24 = 176.
    asked: Asked = {"make": "raw", "ends": "rivet", "width": 20, "length": 75}
    project = several("key-fob", "most", SMALL, asked).project
    assert project.copies == 4
    for name in ("front", "back"):
        sheet = piece(project, name)
        assert (sheet.quantity, sheet.over) == (1, 4)
        assert sheet.cut == pytest.approx((128, 176))


# Folded in four after its ends were turned in by 12: each of the four layers lies there once more.
# It lies between them, and no line of it is seen.
def test_what_is_turned_in_at_the_ends_is_counted_and_not_drawn() -> None:
    project = fob(make="four", ends="rivet")
    (strip,) = layers(project, "strip")
    ends = [one for one in sandwich(project).sheets if one.leaf is Leaf.INSIDE]
    assert [(one.plies, one.area.area) for one in ends] == [(4, 25 * 12), (4, 25 * 12)]
    assert shapely.union_all([one.area for one in ends]).bounds == strip.outline.bounds
    done = thing(project)
    drawn = finished_pile(done, 2.0).plies
    hidden = [one for one, ply in zip(drawn, done.plies, strict=True) if ply.sheet.layer == 0]
    assert [one.area.is_empty and not one.marks for one in hidden] == [True, True, False]
    through = runs(done.done, shapely.LineString([(0, -200), (0, 200)]))
    assert len(through) == 1
    # 8 at either end, 4 between.
    (stitched,) = (one for one in by_machine(done) if one.step == 7)
    assert stitched.plies == 8


# Folded in three, 16 wide: the outer thirds are 15, so that the edge of the one with the hem lies 1
# inside the far edge of the middle one, at 8 - 1 = 7. The hem of 8 reaches from there to -1: past
# the middle, where the middle third, both outer ones and the hem lie on each other. One of 6
# reaches to 1, and of a strip 25 wide one of 8 to 12.5 - 1 - 8 = 3.5: there are three.
@pytest.mark.parametrize(
    ("width", "hem", "reaches", "plies"),
    [(16, 8, (-1, 7), 4), (16, 6, (1, 7), 3), (25, 8, (3.5, 11.5), 3)],
)
def test_the_hem_of_a_strip_in_three_lies_at_the_edge_of_its_third(
    width: float, hem: float, reaches: tuple[float, float], plies: int
) -> None:
    project = fob(make="three", width=width, hem=hem)
    (strip,) = layers(project, "strip")
    (found,) = strip.hems
    assert found.outline.bounds[::2] == pytest.approx(reaches)
    assert [x for x, _ in found.fold] == pytest.approx([reaches[1]] * 2)
    under = {one.line: (one.fewest, one.most) for one in layers_along(work_through(project))}
    assert under["middle"] == (plies, plies)


# An end that is turned in lies twice in each third; the hem is turned in over it and takes it
# along, so that it lies twice in the hem too: (3 + 1) · (1 + 1) = 8 in the corner, 3 · 2 beside the
# hem, 3 + 1 in the hem alone, and 3 where there is neither.
def test_where_a_turned_end_lies_in_a_hem_it_is_turned_in_once_more() -> None:
    project = fob(make="three", ends="rivet")
    (through,) = (one for one in layers_along(work_through(project)) if one.line == "edge-stitch")
    assert (through.fewest, through.most) == (3, 8)
    # At either end, 12 by 8 of it.
    inside = [one for one in sandwich(project).sheets if one.leaf is Leaf.INSIDE]
    corners = [one for one in inside if one.area.area == pytest.approx(12 * 8)]
    assert [one.plies for one in corners] == [1, 1]


# Half of the cap lies beside a hem that does not reach the middle: 3 and 4 layers, twice, are 6 and
# 8. Where it does, the post goes through 2 · (3 + 1) = 8: 8 · 1.2 + 2.5 = 12.1, else 7 · 1.2 + 2.5
# = 10.9.
@pytest.mark.parametrize(("hem", "post"), [(6, 11), (7, 13), (8, 13)])
def test_the_post_of_a_rivet_is_as_long_as_the_hem_asks_for(hem: float, post: int) -> None:
    project = fob(make="three", ends="rivet", width=16, hem=hem, thick=1.2)
    assert f"a post of about {post} mm" in notion(project, "rivet").title


# The strip is folded in half, and the jaws of the clamp, 25 by 7, bite both ends from outside: of
# the faces that meet inside they cover nothing.
def test_a_clamp_is_drawn_on_the_outside_of_the_finished_strip_alone() -> None:
    fobbed = thing(fob(make="four", ends="clamp"))
    marks = [mark for ply in finished_pile(fobbed, 2.0).plies for mark in ply.marks]
    ends = {
        side: sorted(
            round(area.bounds[1])
            for area, style, on in marks
            if style is Style.HARDWARE and on is side
        )
        for side in (Side.FRONT, Side.BACK)
    }
    inner = Side.BACK if fobbed.outer is Side.FRONT else Side.FRONT
    assert ends == {fobbed.outer: [-72, 65], inner: []}
