"""Several copies in one hooping: where they lie, what is sewn, and that each is as one alone.

What a copy takes is worked out here from the project itself: every layer, strip of tape,
stitched line, cut and piece of hardware.
"""

from collections.abc import Iterator
from dataclasses import astuple, replace

import numpy as np
import pytest
import shapely
from copies_made import HOOPS, LARGE, Asked, made, part, room_of, several, sized_as
from hypothesis import example, given, settings
from hypothesis import strategies as st
from told import mends, says

from paramgen.copies.claimed_area import tape_cut_short
from paramgen.copies.clearance import meeting
from paramgen.copies.combined_steps import combined, copies_at
from paramgen.copies.copy_tiles import TileSpot
from paramgen.copies.most_copies import most_copies, ways_of
from paramgen.copies.step_wording import said_each_way
from paramgen.drawings.front_end.framed_picture import FramedPicture
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.step import step_sheet
from paramgen.drawings.primitives.items import Shape, Style, flat
from paramgen.files.formats import FORMATS
from paramgen.files.proven_files import write_stitch_files
from paramgen.finished.all_findings import prove
from paramgen.hooping import Hooped, Room
from paramgen.layout.copies_apart import first_of, put, seams, taken
from paramgen.layout.lay_out import lay_out, moved
from paramgen.plan.write_plan import plan
from paramgen.reference.hoops import Hoop, find_hoop
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import Sized
from paramgen.supplies.fabric_amount import amounts
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.vocabulary.kinds import Act, StitchKind
from paramgen.vocabulary.project import Placement, Project, Step
from paramgen.vocabulary.unit import Unit
from paramgen.works import Stitched, stitch

RECIPES = ("coaster", "plant-tag", "zip-pouch", "fold-wallet")
#: What is kept free between two copies, mm: 6, so that scissors go between.
APART = 6.0


def refusal(
    recipe: str, copies: int, hoop: Hoop, asked: Asked | None = None, *, singly: bool = False
) -> Finding:
    with pytest.raises(CannotMakeError) as caught:
        several(recipe, copies, hoop, asked, singly=singly)
    (found,) = (one for one in caught.value.findings if one.stops)
    return found


def least_apart(project: Project, *, tape: bool = True) -> float:
    shapes = [room_of(project, which, tape=tape) for which in range(project.copies)]
    return min(
        shapely.distance(one, other) for place, one in enumerate(shapes) for other in shapes[:place]
    )


def inner(run) -> frozenset[tuple[int, int]]:  # type: ignore[no-untyped-def]
    """Needle points of a run without its ties."""
    first, last = run.ties
    return frozenset(map(tuple, run.needles[first : len(run.needles) - last].tolist()))


def shift_of(copy_move: tuple[float, float], one: Stitched) -> tuple[int, int]:
    """By how many tenths of a millimetre a copy lies beside one that is stitched alone."""
    x, y = (round((a - b) * 10) for a, b in zip(copy_move, one.move, strict=True))
    return x, y


def same_needles(there: Hooped, sized: Sized) -> None:
    """See that every copy's needle points are those of one copy, turned or not, moved.

    A seam may be sewn from its other end: then it is back-stitched at the one, in a hole more.
    """
    placed = there.project.placed
    lying = {(one.turned, one.half) for one in placed}
    alone = {way: stitch(sized, turned=way[0], half=way[1]) for way in lying}
    seams = {line.name for line in there.project.lines if line.stitch.kind is StitchKind.SEAM}
    for number, step in enumerate(there.sewn):
        wanted = []
        for where in placed:
            one = alone[where.turned, where.half]
            x, y = shift_of(where.move, one)
            for run in one.sewn[number].runs:
                wanted.append((run, frozenset((a + x, b + y) for a, b in inner(run))))
        for run in step.runs:
            like = [
                pair
                for pair in wanted
                if pair[0].line == run.line
                and len(pair[0].needles) == len(run.needles)
                and len(inner(run) - pair[1]) <= (run.line in seams)
            ]
            assert like, (step.title, run.line)
            wanted.remove(like[0])
        assert wanted == []


# --- How many -----------------------------------------------------------------------------


def test_coasters_lie_in_rows_as_division_says() -> None:
    # A coaster of 108: seam box 109, pieces 12 more on every side: 133, strips of tape reach
    # 17 beyond them (20 long, 3 on the piece): 167, and 6 between. Stitches reach 2 beyond
    # the seam box: 113. So two need 113 + 167 + 6 = 286 and three 113 + 2 · 173 = 459.
    for hoop, count in (
        (Hoop("a", 286, 286), 4),
        (Hoop("a", 285.8, 286), 2),
        (Hoop("a", 285.8, 285.8), 1),
        (Hoop("a", 459, 286), 6),
        (Hoop("a", 459, 459), 9),
        (Hoop("a", 458.8, 459), 6),
    ):
        most = most_copies(sized_as("coaster"), Room(hoop), singly=True)
        assert (most.count, most.bound) == (count, count)
        assert several("coaster", "most", hoop, singly=True).project.copies == count


def test_it_says_whether_more_could_lie_there() -> None:
    def said(recipe: str, hoop: Hoop) -> str:
        project = several(recipe, "most", hoop, singly=True).project
        (found,) = (f for f in project.findings if f.code == "most-copies")
        assert found.severity is Severity.KNOW
        return says(found)

    assert "4 copies fit in 360x350 at once, and no more can;" in said("coaster", LARGE)
    assert said("coaster", find_hoop("130x180", HOOPS)).startswith("1 copy fits in 130x180")
    pouch = most_copies(sized_as("zip-pouch"), Room(LARGE), singly=True)
    words = "no more can" if pouch.exact else f"at most {pouch.bound} could"
    assert f"{pouch.count} copies fit in 360x350 at once, and {words};" in said("zip-pouch", LARGE)


def test_too_many_are_refused_with_how_many_fit_and_which_hoop_takes_them() -> None:
    found = refusal("coaster", 4, find_hoop("200x300", HOOPS), singly=True)
    assert found.code == "copies-exceeded"
    assert "4 copies do not fit in 200x300 at once: 2 do, and no more can" in says(found)
    assert "Ask for --copies 2" in mends(found)
    assert "The smallest listed hoop that takes 4 is 360x350." in mends(found)
    assert several("coaster", 2, find_hoop("200x300", HOOPS), singly=True).project.copies == 2
    assert "No listed hoop takes 5." in mends(refusal("coaster", 5, LARGE, singly=True))


def test_where_not_one_fits_that_is_said() -> None:
    assert refusal("coaster", 2, find_hoop("100x100", HOOPS)).code == "hoop-exceeded"


# --- How they lie ---------------------------------------------------------------------------


@pytest.mark.parametrize("singly", [True, False])
@pytest.mark.parametrize(
    ("recipe", "copies", "asked"),
    [
        ("coaster", 4, {}),
        ("coaster", 3, {"outline": "polygon", "width": 100}),
        ("plant-tag", 4, {}),
        (
            "plant-tag",
            5,
            {"hang": "hole", "width": 60, "height": 80, "label_width": 30, "label_height": 30},
        ),
        ("zip-pouch", 3, {}),
        ("fold-wallet", 2, {}),
    ],
)
def test_every_copy_is_sewn_as_one_alone_at_the_same_stops(
    recipe: str, copies: int, asked: Asked, singly: bool
) -> None:
    sized = sized_as(recipe, asked)
    there = several(recipe, copies, LARGE, asked, singly=singly)
    one = stitch(sized)
    assert there.project.copies == copies
    assert [step.stop for step in there.sewn] == [step.stop for step in one.sewn]
    assert [len(step.runs) for step in there.sewn] == [copies * len(s.runs) for s in one.sewn]
    assert [
        (s.number, s.stop, s.act, s.title, s.seen_from, s.colour) for s in there.project.steps
    ] == [(s.number, s.stop, s.act, s.title, s.seen_from, s.colour) for s in one.project.steps]
    same_needles(there, sized)
    if singly:
        assert least_apart(there.project) >= APART - 1e-6


@given(
    st.sampled_from(RECIPES),
    st.sampled_from(HOOPS),
    st.floats(0.7, 1.1),
    st.one_of(st.integers(2, 5), st.just("most")),
    st.booleans(),
)
@settings(max_examples=10)
@example(
    recipe="zip-pouch", hoop=find_hoop("360x350", HOOPS), scale=0.75, copies="most", may_turn=False
)
def test_copies_of_any_size_lie_in_the_field_and_apart(
    recipe: str, hoop: Hoop, scale: float, copies: int | str, may_turn: bool
) -> None:
    asked = {
        one.name: round(one.value * scale, 1)
        for one in sized_as(recipe).sizes
        if one.name == "width"
    }
    try:
        there = several(recipe, copies, hoop, asked, may_turn=may_turn, search=False, singly=True)
    except CannotMakeError as problem:
        codes = {one.code for one in problem.findings if one.stops}
        assert codes <= {"hoop-exceeded", "copies-exceeded", "recipe-condition"}
        return
    needles = np.concatenate([run.needles for step in there.sewn for run in step.runs]) / 10
    across, down = np.abs(needles).max(axis=0)
    assert across <= hoop.width / 2 + 1e-9
    assert down <= hoop.height / 2 + 1e-9
    assert astuple(there.extent) == pytest.approx((*needles.min(axis=0), *needles.max(axis=0)))
    # In the middle of the field, to a step of the grid.
    assert np.abs(needles.min(axis=0) + needles.max(axis=0)).max() <= 0.1 + 1e-9
    assert may_turn or not any(where.turned for where in there.project.placed)
    if there.project.copies > 1:
        assert least_apart(there.project) >= APART - 1e-6
        same_needles(there, sized_as(recipe, asked))


def test_a_turned_copy_has_its_top_at_the_right_and_can_be_turned_back() -> None:
    where = Placement(turned=True, move=(10.0, 20.0))
    points = np.array([[0.0, -5.0], [3.0, 0.0]])  # at the top, at the right
    there = put(points, where)
    assert there.tolist() == [[15.0, 20.0], [10.0, 23.0]]  # at the right, at the bottom
    assert taken(there, where).tolist() == points.tolist()


def test_copies_that_lie_too_near_are_found() -> None:
    (ways,) = ways_of(sized_as("coaster"), may_turn=False, singly=True)
    wide = ways.tiles[0].wide
    near = copies_at(ways, [TileSpot(0, 0, 0), TileSpot(0, wide - 1, 0)])
    (found,) = meeting(near)
    assert found.stops
    assert found.amount == pytest.approx(0.1, abs=1e-6)
    assert "6 mm (1/4 in)" in says(found)
    assert not list(meeting(copies_at(ways, [TileSpot(0, 0, 0), TileSpot(0, wide, 0)])))


# --- One rehearsed for all -------------------------------------------------------------------


def seen_for(project: Project, which: int) -> Project:
    """All copies in the hoop, with one of them for the finished thing: its own names and seam."""
    count, where = project.copies, project.placed[which]
    own = project.placed[0]

    def others(name: str, place: int, step: Step) -> str:
        at = which if step.over_all else place // (len(step.layers) // count)
        return name if at == which else f"{name} of {at}"

    steps = tuple(
        replace(
            step,
            layers=tuple(
                replace(layer, piece=others(layer.piece, place, step))
                for place, layer in enumerate(step.layers)
            ),
        )
        for step in project.steps
    )
    first = first_of(project)
    there = moved(first, lambda points: put(taken(points, own), where))
    notions = tuple(
        replace(
            one, halves=tuple(part(two.halves, which, count)), at=tuple(part(two.at, which, count))
        )
        for one, two in zip(there.notions, project.notions, strict=True)
    )
    return replace(there, steps=steps, notions=notions, placed=(where,))


def numbers(project: Project) -> Iterator[object]:
    """What a rehearsal proves, in figures that do not hang on where it lies."""
    rehearsal = prove(project)
    # What is cut off as another copy is loose indeed; what is found of all is found of each.
    yield sorted(
        {
            (f.code, f.severity, f.piece or "", f.step or 0)
            for f in rehearsal.findings
            if " of " not in (f.piece or "")
        }
    )
    done = rehearsal.thing.done
    hollows: dict[int, float] = {}
    for node, hollow in enumerate(done.hollow):
        face = int(done.spaces.face[node])
        if face >= 0 and done.plane.within[face]:
            area = hollows.get(int(hollow), 0.0) + done.plane.areas[face].area
            hollows[int(hollow)] = area
    yield pytest.approx(sorted(hollows.values()), abs=0.5)
    yield done.opens


def laid_at(sized: Sized, where: Placement) -> Project:
    """One copy, its curves as coarse as a rehearsal has them, where it lies."""
    return moved(lay_out(sized, chord_error=COARSE), lambda points: put(points, where))


@pytest.mark.parametrize("singly", [True, False])
@pytest.mark.parametrize(
    ("recipe", "copies"), [("coaster", 2), ("plant-tag", 4), ("zip-pouch", 2), ("fold-wallet", 2)]
)
def test_rehearsing_all_copies_together_finds_what_rehearsing_one_does(
    recipe: str, copies: int, singly: bool
) -> None:
    sized = sized_as(recipe)
    alone = list(numbers(lay_out(sized, chord_error=COARSE)))
    assert len(alone[1].expected) > 1  # type: ignore[attr-defined]
    project = several(recipe, copies, singly=singly).project
    sheets = frozenset(one.name for one in project.pieces if one.over > 1)
    assert bool(sheets) != singly
    coarse = [
        replace(laid_at(sized, where), turned=where.turned, placed=(where,))
        for where in project.placed
    ]
    whole = combined(tape_cut_short(coarse, sheets)[0] if sheets else coarse, sheets)
    for which in (0, copies - 1):
        found, hollows, opens = numbers(seen_for(whole, which))
        assert (found, opens) == (alone[0], alone[2])
        assert hollows.expected == alone[1]  # type: ignore[attr-defined]


# --- What a person is told --------------------------------------------------------------------


def test_pieces_and_notions_are_as_many_as_all_copies_need_and_the_stabiliser_once() -> None:
    one, two = made("zip-pouch", 1).project, made("zip-pouch", 2, singly=True).project
    assert [piece.quantity for piece in two.pieces] == [2 * p.quantity for p in one.pieces]
    assert {notion.name: notion.quantity for notion in two.notions} == {
        notion.name: notion.quantity * (1 if notion.name == "stabiliser" else 2)
        for notion in one.notions
    }
    for less, more in zip(amounts(one.pieces, Unit.MM), amounts(two.pieces, Unit.MM), strict=True):
        assert more.pieces == 2 * less.pieces
        assert more.area == pytest.approx(2 * less.area)


def test_every_step_says_what_it_means_for_all_copies() -> None:
    steps = several("coaster", 4).project.steps
    for step in steps:
        assert "all 4 copies" in step.say.lower()
    (out,) = (step for step in steps if step.act is Act.UNHOOP)
    assert "cut them apart" in out.say
    assert all("both copies" in step.say.lower() for step in several("coaster", 2).project.steps)


def test_directions_are_said_for_those_that_lie_upright_and_for_those_turned() -> None:
    mixed = several("plant-tag", 4, singly=True).project
    assert {where.turned for where in mixed.placed} == {False, True}
    assert not mixed.turned
    (mouth,) = (step for step in mixed.steps if "stays open" in step.say)
    assert "upright: " in mouth.say
    assert "the top stays open" in mouth.say
    assert "turned, their top at the right: " in mouth.say
    assert "the right stays open" in mouth.say
    turned = several("fold-wallet", 2, find_hoop("240x360", HOOPS), singly=True).project
    assert turned.turned
    assert not any("lie upright" in step.say for step in turned.steps)


@pytest.mark.parametrize(("recipe", "copies"), [("plant-tag", 4), ("zip-pouch", 3)])
def test_the_seam_of_every_copy_lies_where_its_seam_is_sewn(recipe: str, copies: int) -> None:
    project = several(recipe, copies, singly=True).project
    assert len({where.turned for where in project.placed}) == 2
    if recipe == "zip-pouch":
        assert project.placed[0].turned
    sewn = 0
    for which, seam in enumerate(seams(project)):
        near = shapely.LinearRing(seam.points).buffer(0.01)
        for step in project.steps:
            for line in part(step.lines, which, copies):
                if line.name in ("seam", "edge"):
                    assert all(near.covers(shapely.LineString(one.points)) for one in line.paths)
                    sewn += 1
    assert sewn == copies


def test_out_of_the_hoop_one_copy_is_shown_as_if_it_were_the_only_one() -> None:
    def drawn(copies: int) -> list[FramedPicture]:
        one = made("coaster", copies)
        scene = hooped(one.project, LARGE.name, LARGE.width, LARGE.height, one.thing, one.move)
        out = next(s.number for s in one.project.steps if s.act is Act.UNHOOP)
        return [step_sheet(scene, s.number) for s in one.project.steps[out:]]

    for alone, among in zip(drawn(1), drawn(4), strict=True):
        assert [label.lines for label in among.labels] == [label.lines for label in alone.labels]
        assert (among.view.width, among.view.height) == pytest.approx(
            (alone.view.width, alone.view.height), abs=0.2
        )
        assert any("One of the 4 copies." in line.text for line in among.heading)
        assert len(among.picture) == len(alone.picture)


def test_what_is_laid_alike_in_every_copy_is_said_once() -> None:
    whole = made("plant-tag", 4, singly=True)
    scene = hooped(whole.project, LARGE.name, LARGE.width, LARGE.height, whole.thing, whole.move)
    (lay,) = (step for step in whole.project.steps if step.title == "Lay the front")
    words = [[line.text for line in label.lines] for label in step_sheet(scene, lay.number).labels]
    assert len(words) == 2  # two that lie upright, two turned
    assert all("2 times alike" in one for one in words)


def test_the_slider_that_is_named_is_one_that_is_drawn() -> None:
    whole = made("zip-pouch", 2)
    scene = hooped(whole.project, LARGE.name, LARGE.width, LARGE.height, whole.thing, whole.move)
    (pull,) = (step for step in whole.project.steps if step.act is Act.OPEN_ZIP)
    sheet = step_sheet(scene, pull.number)
    (label,) = sheet.labels
    drawn = [
        shapely.Polygon(shape.path.points)
        for shape in flat(sheet.picture)
        if isinstance(shape, Shape) and shape.style is Style.SLIDER
    ]
    assert len(drawn) >= 2
    assert min(shapely.Point(label.at).distance(one) for one in drawn) < 1.0


def test_the_plan_says_where_every_copy_lies() -> None:
    whole = made("plant-tag", 4)
    said = plan(whole, {}, [])
    for one, where in zip(said.copies, whole.project.placed, strict=True):
        assert one.turned == where.turned
        assert one.origin == pytest.approx(where.move)
    assert len(plan(made("coaster", 1), {}, []).copies) == 1


def test_stitches_are_counted_over_all_copies() -> None:
    one, nine = made("coaster", 1), made("coaster", 4)
    assert sum(s.stitch_count for s in nine.sewn) == 4 * sum(s.stitch_count for s in one.sewn)


def test_every_kind_of_stitch_file_carries_all_copies_and_reads_back() -> None:
    whole = made("plant-tag", 4)
    # Writing compares every needle point and stop that reads back, and raises where they differ.
    written = write_stitch_files(whole.sewn, FORMATS, "tag")
    assert {file.steps for file in written} == {len(stitch(sized_as("plant-tag")).sewn)}


def test_of_all_copies_the_one_next_to_the_words_is_pointed_at() -> None:
    whole = made("coaster", 4)
    scene = hooped(whole.project, LARGE.name, LARGE.width, LARGE.height, whole.thing, whole.move)
    (out,) = (step for step in whole.project.steps if step.act is Act.UNHOOP)
    (label,) = (
        one for one in step_sheet(scene, out.number).labels if "stabiliser" in one.lines[0].text
    )
    # To 0.01 mm, as finely as outlines are drawn. The outermost line is the tack-down of the top.
    lines = (path for line in whole.project.lines for path in line.paths)
    right = max(path.bounds[2] for path in lines)
    assert label.at[0] == pytest.approx(right, abs=0.01)


def test_what_is_the_same_whichever_way_copies_lie_is_said_once() -> None:
    upright, turned, half = (False, False), (True, False), (False, True)
    assert said_each_way({upright: "Fold it.", turned: "Fold it.", half: "Fold it."}) == "Fold it."
    other = said_each_way({upright: "Top first.", turned: "Right first.", half: "Top first."})
    assert other == (
        "Copies that lie upright: Top first. "
        "Copies that lie turned, their top at the right: Right first. "
        "Copies that lie half-turned, their top at the bottom: Top first."
    )
