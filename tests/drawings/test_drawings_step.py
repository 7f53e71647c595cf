from dataclasses import replace

import numpy as np
import pytest
import shapely
from drawings_read import clipped, of_style, overlapping, picture, words
from hypothesis import given, settings
from hypothesis import strategies as st
from specimens import INCH, coaster, largest, oblong, open_path, smallest, tag, wallet

from paramgen.drawings.front_end.legend import CAPTIONS, LegendEntry, sample
from paramgen.drawings.front_end.scene import Scene, State, hooped
from paramgen.drawings.pictures.step import IN_HAND, step_picture, step_sheet
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, flat
from paramgen.drawings.primitives.label_room import any_cross
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import Act, NotionSort, Side
from paramgen.vocabulary.project import Line, Notion, Project
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

SPECIMENS = [
    (wallet(), 130.0, 180.0),
    (coaster(100, 90), 130.0, 180.0),
    (smallest(), 100.0, 100.0),
    (smallest(), 360.0, 350.0),
    (largest(), 360.0, 350.0),
]
SIDES = (Style.RIGHT_SIDE, Style.WRONG_SIDE, Style.NO_RIGHT_SIDE)


def number_of(project: Project, title: str) -> int:
    (step,) = (step for step in project.steps if step.title.startswith(title))
    return step.number


def pictured(project: Project, title: str, hoop: tuple[float, float] = (130, 180)) -> Drawing:
    return step_picture(hooped(project, "hoop", *hoop), number_of(project, title))


def pieces_seen(drawing: Drawing) -> set[tuple[Style, bool, tuple[float, ...]]]:
    return {
        (shape.style, shape.now, tuple(round(v, 2) for v in shape.path.bounds))
        for shape in picture(drawing)
        if shape.style in SIDES
    }


def leaders(drawing: Drawing) -> list[Shape]:
    return [shape for shape in drawing.shapes if shape.style is Style.LEADER]


@pytest.mark.parametrize(("project", "width", "height"), SPECIMENS)
def test_what_is_stitched_now_lies_where_it_is_sewn_and_has_the_stops_look(
    project: Project, width: float, height: float
) -> None:
    ready = hooped(project, "hoop", width, height)
    for step in project.steps:
        drawn = of_style(step_picture(ready, step.number), Style.STITCHED_NOW)
        exact = [path for line in step.lines for path in line.paths]
        assert len(drawn) == len(exact)
        for shape, path in zip(drawn, exact, strict=True):
            assert shape.path.line.hausdorff_distance(path.line) <= 0.011
            assert shape.colour is not None


@pytest.mark.parametrize(("project", "width", "height"), SPECIMENS)
def test_leaders_never_cross_and_end_in_the_picture(
    project: Project, width: float, height: float
) -> None:
    ready = hooped(project, "hoop", width, height)
    for step in project.steps:
        lines = [shape.path.points for shape in leaders(step_picture(ready, step.number))]
        ends = [((a[0], a[1]), (b[0], b[1])) for a, b in lines]
        assert any_cross(ends) is None
        assert all(ready.view.grown(1.0).holds(Box(x, y, x, y)) for _, (x, y) in ends)


def test_all_pictures_in_the_hoop_have_the_same_view_and_so_have_all_out_of_it() -> None:
    ready = hooped(wallet(), "hoop", 130, 180)
    out = ready.number_of(Act.UNHOOP)
    assert out is not None
    drawings = [step_picture(ready, step.number) for step in ready.project.steps]
    for some in (drawings[:out], drawings[out:]):
        assert len({(d.box.left, d.box.right) for d in some}) == 1


@settings(max_examples=25)
@given(
    st.floats(60, 330),
    st.floats(90, 340),
    st.integers(1, 30),
    st.sampled_from([(100, 100), (130, 180), (360, 350)]),
    st.sampled_from(list(Unit)),
    st.sampled_from(["Short", "A long title that has to be broken into lines " * 3, "Lang" * 40]),
)
def test_no_text_overlaps_another_or_is_clipped_at_any_size(
    width: float, height: float, number: int, hoop: tuple[float, float], unit: Unit, title: str
) -> None:
    project = wallet(width, height, unit)
    step = project.steps[number - 1]
    layers = tuple(replace(layer, title=title) for layer in step.layers)
    steps = tuple(replace(s, layers=layers, title=title) if s is step else s for s in project.steps)
    drawing = step_picture(hooped(replace(project, steps=steps), title, *hoop), number)
    assert overlapping(drawing) == []
    assert clipped(drawing) == []


@settings(max_examples=15)
@given(st.floats(12, 350), st.integers(1, 7), st.sampled_from([(100, 100), (360, 350)]))
def test_a_tag_of_any_size_can_be_read(size: float, number: int, hoop: tuple[float, float]) -> None:
    drawing = step_picture(hooped(tag(size), "hoop", *hoop), number)
    assert overlapping(drawing) == []
    assert clipped(drawing) == []
    assert min(text.size for text in drawing.texts) >= 2.6


def test_a_new_piece_is_named_with_its_size_in_both_units_and_where_its_fold_lies() -> None:
    # Worked example: both outer pieces 5 in wide = 127 mm; from 3/4 in past the seam to
    # the coil gap, 1 1/4 in below the seam less half of 1/4 in: 3/4 + 1 1/4 - 1/8 = 1 7/8.
    project = wallet(height=7 * INCH)
    label = words(pictured(project, "Lay both outer"), "labels")
    assert "Upper outer piece 5 × 1 7/8 in (127 × 47.6 mm)" in label
    assert "right side towards you folded edge at the bottom" in label
    assert "Lower outer piece" in label


def test_several_folded_edges_of_a_piece_are_told_in_one_row() -> None:
    project = wallet()
    step = next(step for step in project.steps if step.title.startswith("Lay the tab"))
    (tab,) = step.layers
    assert len(tab.folded_edges) == 2
    assert "folded edges at the top and left" in words(pictured(project, step.title), "labels")
    _, top, right, bottom = tab.outline.bounds
    edges = (*tab.folded_edges, ((right, top), (right, bottom)))
    steps = [
        replace(s, layers=(replace(tab, folded_edges=edges),)) if s is step else s
        for s in project.steps
    ]
    drawing = pictured(replace(project, steps=tuple(steps)), step.title)
    assert "folded edges at the top, left and right" in words(drawing, "labels")


def test_pieces_on_the_front_are_seen_from_the_front_alone() -> None:
    project = wallet()
    front = pieces_seen(pictured(project, "Lay both outer"))
    assert all(style is Style.RIGHT_SIDE and now for style, now, _ in front)
    assert len(front) == 2
    assert pieces_seen(pictured(project, "Turn the hoop over")) == set()


def test_the_back_is_mirrored_and_says_so() -> None:
    project = wallet()
    number = number_of(project, "Lay the pouch lining")
    step = project.steps[number - 1]
    moved = replace(step.layers[0], outline=oblong(-60, -90, 20, 12))
    steps = tuple(replace(s, layers=(moved,)) if s is step else s for s in project.steps)
    drawing = step_picture(hooped(replace(project, steps=steps), "hoop", 130, 180), number)
    # Lining laid wrong side up shows its right side behind; left -60 becomes right 60.
    assert pieces_seen(drawing) == {(Style.RIGHT_SIDE, True, (-20, -90, 60, 12))}
    assert "Seen from the back: left and right change places." in words(drawing, "heading")
    assert "left and right change places" in drawing.description
    strips = [shape.path.bounds for shape in of_style(drawing, Style.HOLDING_TAPE)]
    assert [b[0] for b in strips] == [-b.bounds[2] for b in step.tape]


def test_stitches_are_seen_from_the_back_too_mirrored() -> None:
    drawing = pictured(wallet(), "Turn the hoop over")
    lines = of_style(drawing, Style.STITCHED_BEFORE)
    assert len(lines) == 5
    first = wallet().steps[0].lines[0].paths[0]
    assert lines[0].path.points.tolist() == (first.points * (-1.0, 1.0)).tolist()


def test_right_sides_together_shows_the_wrong_side() -> None:
    drawing = pictured(wallet(), "Lay the lining")
    now = [(style, bounds) for style, is_now, bounds in pieces_seen(drawing) if is_now]
    assert now == [(Style.WRONG_SIDE, (-63.5, -101.6, 63.5, 101.6))]


def test_folded_edges_are_drawn_where_the_folds_are() -> None:
    drawing = pictured(wallet(), "Lay both outer")
    folds = [s.path.points.tolist() for s in of_style(drawing, Style.FOLDED_EDGE) if s.now]
    # Coil gap 1/4 in about the zip, which lies 1 1/4 in below the seam at -3 1/2 in.
    zip_y = (-3.5 + 1.25) * 25.4
    assert np.allclose(
        folds,
        [
            [[-63.5, zip_y - 3.175], [63.5, zip_y - 3.175]],
            [[-63.5, zip_y + 3.175], [63.5, zip_y + 3.175]],
        ],
    )


def test_what_is_covered_is_left_out() -> None:
    seam = pictured(coaster(100, 90), "Seam")
    assert {style for style, _, _ in pieces_seen(seam)} == {Style.WRONG_SIDE}
    assert of_style(seam, Style.STITCHED_BEFORE) == []


def test_the_placement_line_shows_under_the_piece_that_is_laid_on_it() -> None:
    drawing = pictured(coaster(100, 90), "Lay the batting")
    (line,) = of_style(drawing, Style.PLACEMENT)
    assert line.path.bounds == pytest.approx((-51, -46, 51, 46), abs=0.02)


def test_a_tack_down_is_not_taken_for_a_placement_line() -> None:
    # The batting's placement line is 102 × 92, its tack-down 100 × 90.
    (line,) = of_style(pictured(coaster(100, 90), "Lay the top"), Style.PLACEMENT)
    assert line.path.bounds == pytest.approx((-51, -46, 51, 46), abs=0.02)


def test_what_is_laid_with_no_line_of_its_own_shows_the_outermost_line_under_it() -> None:
    front = pictured(tag(40.0), "Lay the back")
    (line,) = of_style(front, Style.PLACEMENT)
    assert line.path.bounds == pytest.approx((-20, -20, 20, 20), abs=0.02)
    # The lower half of the tag alone: of the line only what lies under the piece.
    half = oblong(-20, 0, 20, 20)
    project = tag(40.0)
    number = number_of(project, "Lay the back")
    steps = tuple(
        replace(s, layers=tuple(replace(one, outline=half) for one in s.layers))
        if s.number == number
        else s
        for s in project.steps
    )
    (part,) = of_style(pictured(replace(project, steps=steps), "Lay the back"), Style.PLACEMENT)
    assert not part.path.closed
    # A half of the square's outline: 20 down, 40 across, 20 up.
    assert part.path.length == pytest.approx(80.0, abs=0.05)


def test_a_piece_laid_on_the_far_side_is_dashed() -> None:
    project = wallet()
    number = number_of(project, "Lay the pouch lining")
    steps = tuple(
        replace(s, seen_from=Side.FRONT) if s.number == number else s for s in project.steps
    )
    drawing = step_picture(hooped(replace(project, steps=steps), "hoop", 130, 180), number)
    (hidden,) = of_style(drawing, Style.HIDDEN)
    assert hidden.path.bounds == pytest.approx((-63.5, -101.6, 63.5, 12.7))
    assert "on the back of the hoop" in words(drawing, "labels")


def test_tape_holds_until_it_is_taken_off() -> None:
    project = wallet()
    assert len(of_style(pictured(project, "Lay the zip"), Style.HOLDING_TAPE)) == 2
    assert len(of_style(pictured(project, "Tack the zip"), Style.HOLDING_TAPE)) == 2
    off = pictured(project, "Take the tape off the zip")
    assert len(of_style(off, Style.HOLDING_TAPE)) == 0
    assert len(of_style(off, Style.TAPE_OFF)) == 2
    later = pictured(project, "Turn the hoop to the front")
    assert of_style(later, Style.HOLDING_TAPE) == of_style(later, Style.TAPE_OFF) == []


def test_all_tape_comes_off_at_once_on_both_sides() -> None:
    project = wallet()
    off = pictured(project, "Take all the tape off")
    # One strip holds the tab in front, four the pouch lining behind.
    assert len(of_style(off, Style.TAPE_OFF)) == 1
    assert "take off this tape and 4 on the back of the hoop" in words(off, "labels")
    assert of_style(pictured(project, "Tear"), Style.HOLDING_TAPE) == []


def test_tape_that_is_still_on_comes_off_when_the_work_is_taken_out_of_the_hoop() -> None:
    project = wallet()
    steps = tuple(replace(s, act=Act.LAY) if s.act is Act.UNTAPE else s for s in project.steps)
    ready = hooped(replace(project, steps=steps), "hoop", 130, 180)
    out = step_picture(ready, number_of(project, "Take the work out"))
    # Two strips hold the zip, one the tab and four the lining in front, four the pouch behind.
    assert len(of_style(out, Style.TAPE_OFF)) == 7
    assert "take off this tape (7 strips) and 4 on the back of the hoop" in words(out, "labels")
    later = step_picture(ready, number_of(project, "Trim outside"))
    assert of_style(later, Style.HOLDING_TAPE) == of_style(later, Style.TAPE_OFF) == []


def test_a_piece_one_can_see_through_hides_nothing() -> None:
    project = coaster(100, 90)
    number = number_of(project, "Lay the top")
    window = tuple(replace(layer, clear=True) for layer in project.steps[number - 1].layers)
    steps = tuple(replace(s, layers=window) if s.number == number else s for s in project.steps)
    drawing = step_picture(hooped(replace(project, steps=steps), "hoop", 130, 180), number)
    assert of_style(drawing, Style.SEE_THROUGH)
    assert of_style(drawing, Style.NO_RIGHT_SIDE)
    assert of_style(drawing, Style.STITCHED_BEFORE)
    assert "see-through" in words(drawing, "labels")


def test_a_snap_is_shown_where_its_halves_go() -> None:
    project = wallet()
    snap = Notion(
        name="snap",
        title="Snap",
        sort=NotionSort.SNAP,
        quantity=1,
        length=None,
        width=12.0,
        coil=None,
        halves=((0.0, -80.0), (10.0, 70.0)),
    )
    drawing = pictured(replace(project, notions=(*project.notions, snap)), "Fit the snap")
    rings = [s.path.bounds for s in of_style(drawing, Style.HARDWARE)]
    assert any(ring == pytest.approx((-6, -86, 6, -74)) for ring in rings)
    assert any(ring == pytest.approx((4, 64, 16, 76)) for ring in rings)
    assert words(drawing, "labels").count("Snap") == 2


def test_a_zip_is_drawn_shut_until_it_is_opened() -> None:
    project = wallet()
    shut, opened = pictured(project, "Lay the zip"), pictured(project, "Open the zip")
    assert of_style(shut, Style.SLIT) == []
    assert of_style(opened, Style.SLIT)

    def slider(drawing: Drawing) -> float:
        return max(
            float(abs(shape.path.points[:, 0]).min()) for shape in of_style(drawing, Style.SLIDER)
        )

    # The seam runs 2 1/4 in from the middle: shut, the slider is outside it.
    assert slider(shut) > 2.25 * INCH > slider(opened)
    assert "slider pulled inside the seam line" in words(opened, "labels")


def test_the_hoop_is_drawn_until_the_work_is_out_of_it() -> None:
    project = wallet()
    assert of_style(pictured(project, "Take the work out"), Style.HOOP_FIELD)
    assert not of_style(pictured(project, "Tear"), Style.HOOP_FIELD)


def test_after_trimming_nothing_reaches_past_the_trim_line() -> None:
    project = wallet()
    trim = project.steps[number_of(project, "Trim outside") - 1].mark[0]
    room = Box(*trim.bounds).grown(0.01)
    before, after = pictured(project, "Trim outside"), pictured(project, "Clip")
    assert any(not room.holds(Box(*shape.path.bounds)) for shape in picture(before))
    kept = [s for s in picture(after) if s.style is not Style.BY_HAND]
    assert kept
    # At the gap a tongue is left, as the recipe says, 2 mm past it at either end.
    gap = Box(*of_style(after, Style.GAP)[0].path.bounds)
    tongue = shapely.box(gap.left - 1, gap.top - 2.01, gap.right + 20, gap.bottom + 2.01)
    within = shapely.box(room.left, room.top, room.right, room.bottom) | tongue
    assert all(within.covers(s.path.area if s.path.closed else s.path.line) for s in kept)


def test_stitches_and_zip_are_trimmed_with_the_fabric() -> None:
    project = wallet()
    number = number_of(project, "Trim outside")
    x, y = (half / 2 for half in project.finished)
    trim = oblong(-x - 1, -y - 1, x + 1, y + 1)
    steps = tuple(replace(s, mark=(trim,)) if s.number == number else s for s in project.steps)
    drawing = step_picture(hooped(replace(project, steps=steps), "hoop", 130, 180), number + 1)
    room = Box(*trim.bounds).grown(0.01)
    assert all(room.holds(Box(*s.path.bounds)) for s in of_style(drawing, Style.STITCHED_BEFORE))
    assert of_style(pictured(project, "Lay the zip"), Style.ZIP_STOP)
    front_only = tuple(replace(s, layers=()) if s.number > 2 else s for s in steps)
    bare = step_picture(hooped(replace(project, steps=front_only), "hoop", 130, 180), number + 1)
    assert of_style(bare, Style.COIL)
    assert of_style(bare, Style.ZIP_STOP) == []


def test_the_turning_gap_is_shown_with_its_length() -> None:
    # The specimen leaves 2 1/2 in = 63.5 mm of its right side open.
    drawing = pictured(wallet(), "Turn right side out")
    (gap,) = of_style(drawing, Style.GAP)
    assert gap.path.length == pytest.approx(63.5, abs=0.01)
    assert "turning gap 2 1/2 in (63.5 mm)" in words(drawing, "labels")


def test_turned_right_side_out_the_right_side_shows_and_the_edges_are_folds() -> None:
    project = wallet()
    drawing = pictured(project, "Press")
    seam = tuple(round(v, 2) for v in project.seam.bounds)
    assert pieces_seen(drawing) == {(Style.RIGHT_SIDE, False, seam)}
    assert of_style(drawing, Style.FOLDED_EDGE)


def test_turning_the_hoop_over_shows_the_line_it_is_turned_about() -> None:
    (line,) = of_style(pictured(wallet(), "Turn the hoop over"), Style.BY_HAND)
    assert line.path.bounds == (0.0, -90.0, 0.0, 90.0)


@given(st.integers(100, 1200), st.integers(100, 1200))
@settings(max_examples=25)
def test_the_line_the_hoop_is_turned_about_stays_within_the_picture(
    width: int, height: int
) -> None:
    ready = hooped(wallet(), "hoop", width, height)
    sheet = step_sheet(ready, number_of(wallet(), "Turn the hoop over"))
    (line,) = (
        s.path for s in flat(sheet.picture) if isinstance(s, Shape) and s.style is Style.BY_HAND
    )
    (x, top), (_, bottom) = line.points
    assert x == 0.0
    # From edge to edge of the hoop, or of what is shown of it: no words above or below are crossed.
    shown = sheet.view
    assert max(shown.top, -height / 2) == pytest.approx(top)
    assert min(shown.bottom, height / 2) == pytest.approx(bottom)


def test_lines_of_several_sizes_are_counted_as_they_are_seen() -> None:
    def sentences(*lines: Line) -> list[str]:
        project = wallet()
        (first, *others) = project.steps
        ready = hooped(
            replace(project, steps=(replace(first, lines=lines), *others)), "hoop", 130, 180
        )
        (label,) = step_sheet(ready, 1).labels
        return [line.text.replace("\u00a0", " ") for line in label.lines[1:]]

    (long, *_) = wallet().steps[0].lines
    marks = [
        replace(long, paths=tuple(open_path((x, y), (x, y + 6)) for x in (-9, 9)))
        for y in (-20, 20)
    ]
    taller = replace(marks[0], paths=(*marks[0].paths, open_path((-9, 40), (-9, 46))))
    # Two short marks and three; twice the same pair, 18 apart and 6 long; one line twice.
    assert sentences(marks[0], taller) == ["5 lines"]
    assert sentences(*marks) == ["2 times alike, each", "11/16 × 1/4 in (18 × 6 mm)"]
    single = [replace(mark, paths=mark.paths[:1]) for mark in marks]
    assert sentences(*single) == ["2 lines, each", "1/4 in (6 mm)"]


@given(st.integers(60, 1200), st.integers(60, 1200))
@settings(max_examples=50)
def test_the_work_fills_most_of_its_picture_in_any_hoop(width: int, height: int) -> None:
    ready = hooped(wallet(), "hoop", width, height)
    across = ready.extent.width / ready.view.width
    down = ready.extent.height / ready.view.height
    # At two thirds or more a mark of 6 mm is still 2 mm in the booklet of a wallet this size.
    assert max(across, down) > 2 / 3


def test_a_small_project_in_a_large_hoop_is_shown_close_up_with_a_plan() -> None:
    drawing = pictured(smallest(), "Lay the front", (360, 350))
    assert "close up" in words(drawing, "heading")
    assert of_style(drawing, Style.HOOP_FIELD) == []
    (labels,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "labels")
    field, project = (item for item in labels.items[:2] if isinstance(item, Shape))
    # Drawn to scale: 40 mm of 360 mm.
    ratio = np.ptp(project.path.points[:, 0]) / np.ptp(field.path.points[:, 0])
    assert ratio == pytest.approx(40 / 360)
    # The piece itself is at true size.
    assert (Style.RIGHT_SIDE, True, (-20.0, -20.0, 20.0, 20.0)) in pieces_seen(drawing)


@pytest.mark.parametrize(("project", "width", "height"), SPECIMENS)
def test_the_legend_names_all_that_is_drawn_and_no_more(
    project: Project, width: float, height: float
) -> None:
    ready = hooped(project, "hoop", width, height)
    for step in project.steps:
        drawing = step_picture(ready, step.number)
        legend = words(drawing, "legend")
        # What is of a fabric is named by it.
        drawn = {shape.style for shape in picture(drawing) if shape.tone is None}
        tones = {shape.tone.name for shape in picture(drawing) if shape.tone is not None}
        assert all(name in legend for name in tones)
        in_hoop = ready.state(step) is State.IN_THE_HOOP
        captions = CAPTIONS if in_hoop else {**CAPTIONS, **IN_HAND}
        for style, caption in captions.items():
            if style in drawn:
                assert english().as_used(caption, project.unit) in legend
        for style in (*SIDES, Style.HOLDING_TAPE, Style.GAP, Style.HIDDEN, Style.BY_HAND):
            if style not in {shape.style for shape in picture(drawing)}:
                assert CAPTIONS[style] not in legend


def test_every_style_is_in_the_legend_or_needs_no_words() -> None:
    furniture = {Style.CHECK_MARK, Style.LEADER, Style.DOT, Style.BADGE, Style.TITLE_GROUND}
    # The picture of sizes that work has a key of its own, see its tests.
    of_sizes = {one for one in Style if one.name.startswith(("REGION", "NO_REGION", "BOUND"))}
    of_sizes |= {Style.RULER, Style.ASKED}
    # Every face of a solid has an edge, and plies seen from theirs are named together.
    of_solids = {Style.FACE_EDGE, Style.PLY_EDGE}
    # The print on a template is what the person's own picture shows.
    of_templates = {Style.PRINT_AS_CUT}
    assert set(CAPTIONS) == set(Style) - furniture - of_sizes - of_solids - of_templates


def test_the_legend_tells_what_is_laid_now_from_what_was_before() -> None:
    legend = words(pictured(wallet(), "Lay the two small"), "legend")
    assert "right side, laid now" in legend
    assert "right side" in legend.replace("right side, laid now", "")


@pytest.mark.parametrize(("size", "hoop"), [(40.0, 60.0), (180.0, 200.0), (350.0, 360.0)])
def test_letters_can_be_read_when_a_picture_is_shown_as_wide_as_a_page(
    size: float, hoop: float
) -> None:
    drawing = step_picture(hooped(tag(size), "hoop", hoop, hoop), 2)
    # 2 mm is 5.7 points (1 point = 25.4 / 72 mm), about the smallest print in common use,
    # no source; a page is 170 mm wide between its margins.
    least = min(text.size for text in drawing.texts)
    assert least * min(1.0, 170.0 / drawing.box.width) >= 2.0


def test_the_description_says_what_the_picture_shows() -> None:
    drawing = pictured(wallet(), "Lay the two large pockets")
    for part in (
        "Large pocket, lower end",
        "(127 × ",
        "right side towards you",
        "folded edge at the top",
        "Already there: Zip, Upper outer piece, Lower outer piece, Small pocket",
        "Seen from the front.",
    ):
        assert part in drawing.description


def test_every_act_can_be_drawn_with_nothing_but_itself() -> None:
    base = tag()
    for act in Act:
        step = replace(base.steps[1], number=1, act=act, layers=())
        ready: Scene = hooped(replace(base, steps=(step,)), "hoop", 100, 100)
        assert step_picture(ready, 1).texts


def test_samples_that_stand_for_different_marks_look_different() -> None:
    # A place, and a line round the field, are both black lines; an open zip is a white area.
    edge, middle, slit, paper = (
        [
            item
            for item in sample(LegendEntry(style=style, caption="so"), (0.0, 0.0), 3.0)
            if isinstance(item, Shape)
        ]
        for style in (Style.FIELD_EDGE, Style.CENTRE_MARK, Style.SLIT, Style.SHEET)
    )
    assert len(edge) == 1
    assert len(middle) == 2
    assert not np.allclose(middle[0].path.points, edge[0].path.points)
    assert len(slit[0].path.points) == len(paper[0].path.points) == 4
    # A slit is pointed at both ends: half as large as the box round it.
    left, top, right, bottom = slit[0].path.bounds
    assert slit[0].path.area.area == pytest.approx((right - left) * (bottom - top) / 2)
