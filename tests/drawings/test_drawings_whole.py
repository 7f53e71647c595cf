import numpy as np
import pytest
from drawings_read import clipped, of_style, overlapping, words
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import laid
from specimens import coaster, largest, smallest, tag, wallet

from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.whole_project import whole
from paramgen.drawings.primitives.items import Drawing, Group, Style, Text
from paramgen.recipe.read_recipe import find_recipe
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit


def group(drawing: Drawing, name: str) -> Group:
    (picture,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "picture")
    (found,) = (g for g in picture.items if isinstance(g, Group) and g.name == name)
    return found


SPECIMENS = [
    (wallet(), 130.0, 180.0),
    (coaster(100, 90), 130.0, 180.0),
    (smallest(), 100.0, 100.0),
    (smallest(), 360.0, 350.0),
    (largest(), 360.0, 350.0),
]
every_specimen = pytest.mark.parametrize(("project", "width", "height"), SPECIMENS)


@every_specimen
def test_every_stitched_line_lies_where_it_is_sewn(
    project: Project, width: float, height: float
) -> None:
    drawing = whole(hooped(project, "hoop", width, height))
    for step in project.steps:
        if not step.lines:
            continue
        drawn = group(drawing, f"stop-{step.stop}").items
        exact = [path for line in step.lines for path in line.paths]
        for shape, path in zip(drawn, exact, strict=True):
            assert not isinstance(shape, Text | Group)
            assert shape.style is Style.STITCHED_NOW
            # 0.01 mm is what an outline may lose when it is drawn.
            assert shape.path.line.hausdorff_distance(path.line) <= 0.011


@every_specimen
def test_every_line_has_the_number_of_its_stop(
    project: Project, width: float, height: float
) -> None:
    drawing = whole(hooped(project, "hoop", width, height))
    numbers = [i.words for i in group(drawing, "numbers").items if isinstance(i, Text)]
    assert numbers == [str(step.stop) for step in project.steps for _ in step.lines]


@every_specimen
def test_the_field_is_drawn_at_true_size_with_its_name_and_size_in_both_units(
    project: Project, width: float, height: float
) -> None:
    drawing = whole(hooped(project, "of the club", width, height))
    field = next(shape for shape in drawing.shapes if shape.style is Style.HOOP_FIELD)
    assert field.path.bounds == (-width / 2, -height / 2, width / 2, height / 2)
    heading = " ".join(text.words for text in drawing.texts).replace("\u00a0", " ")
    assert "Hoop of the club" in heading
    assert f"{width:g} × {height:g} mm" in heading
    assert " in" in heading


def test_the_legend_names_every_stop() -> None:
    project = wallet()
    drawing = whole(hooped(project, "hoop", 130, 180))
    words = " ".join(text.words for text in drawing.texts)
    for step in project.steps:
        if step.lines:
            assert step.title in words


def test_numbers_keep_off_other_lines_where_there_is_room() -> None:
    # A square of 100 mm within one of 140 mm: 20 mm apart, far more than a number's size.
    project = tag(100.0)
    drawing = whole(hooped(project, "hoop", 130, 130))
    outer, inner, _ = (i for i in group(drawing, "numbers").items if isinstance(i, Text))
    assert max(abs(outer.at[0]), abs(outer.at[1])) > max(abs(inner.at[0]), abs(inner.at[1]))


@settings(max_examples=12)
@given(
    st.floats(50, 330),
    st.floats(80, 340),
    st.sampled_from([(100, 100), (130, 180), (200, 300), (360, 350)]),
    st.sampled_from(list(Unit)),
)
def test_no_text_overlaps_another_or_is_clipped_at_any_size(
    width: float, height: float, hoop: tuple[float, float], unit: Unit
) -> None:
    drawing = whole(hooped(wallet(width, height, unit), "a hoop with a long name", *hoop))
    assert overlapping(drawing) == []
    assert clipped(drawing) == []


def test_everything_drawn_lies_within_the_drawing() -> None:
    for project, width, height in SPECIMENS:
        drawing = whole(hooped(project, "hoop", width, height))
        for shape in drawing.shapes:
            left, top, right, bottom = shape.path.bounds
            assert drawing.box.holds(Box(left, top, right, bottom))


@pytest.mark.parametrize("size", [40.0, 100.0, 350.0])
def test_letters_can_be_read_at_hand_and_when_shown_a_hand_wide(size: float) -> None:
    drawing = whole(hooped(tag(size), "hoop", size + 10, size))
    least = min(text.size for text in drawing.texts if len(text.words) > 3)
    # 2 mm is 5.7 points (1 point = 25.4 / 72 mm), about the smallest print in common use;
    # no source. A page's width between its margins is 170 mm.
    assert least >= 2.0
    assert least * min(1.0, 170.0 / drawing.box.width) >= 2.0
    assert np.isfinite(drawing.box.width)


def test_each_line_of_a_stop_is_named_and_the_gap_is_shown_with_its_length() -> None:
    project = wallet()
    drawing = whole(hooped(project, "hoop", 130, 180))
    legend = words(drawing, "legend")
    several = [step for step in project.steps if len({line.title for line in step.lines}) > 1]
    assert several
    for step in several:
        for line in step.lines:
            assert line.title in legend
    (gap,) = of_style(drawing, Style.GAP)
    # The specimen's seam is open from -turning / 2 to turning / 2 at the right: 2 1/2 in.
    assert gap.path.bounds == pytest.approx((57.15, -31.75, 57.15, 31.75), abs=0.06)
    assert "turning gap, left open: 2 1/2 in (63.5 mm)" in legend


# The top of a flag is 92 wide at the seam, and is never closed as a turning gap is.
def test_an_edge_that_stays_open_is_not_called_a_turning_gap() -> None:
    flag = laid(find_recipe("bunting-flag"), {})
    legend = words(whole(hooped(flag, "hoop", 130, 180)), "legend")
    assert "edge that stays open: 92 mm (3 5/8 in)" in legend
    assert "turning gap" not in legend


def test_what_has_no_gap_has_none_in_its_picture() -> None:
    drawing = whole(hooped(tag(), "hoop", 100, 100))
    assert of_style(drawing, Style.GAP) == []
    assert "gap" not in words(drawing, "legend")
