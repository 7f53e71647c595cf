"""The fit sheet, read from the PDF by another library."""

import numpy as np
import pytest
import shapely
from drawings_read import clipped, overlapping
from layout_orders import laid
from papers_read import Sheet, Stroke, outside, over_each_other, read
from specimens import coaster, wallet

from paramgen.drawings.front_end.scene import Scene, hooped
from paramgen.drawings.primitives.items import Anchor, Shape, Style, Text, flat
from paramgen.papers.document import printed, sheets
from paramgen.papers.fit_sheet import fit_leaves
from paramgen.papers.line_names import NamedLines, line_names
from paramgen.papers.printing import Printing
from paramgen.papers.sheet_frame import SheetFrame
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import Role
from paramgen.vocabulary.path import Path

PAPERS = listed_papers()


def frame(paper: str = "a4") -> SheetFrame:
    return SheetFrame(Printing(find_paper(paper, PAPERS)), "Seed-packet wallet")


def pages(scene: Scene, paper: str = "a4") -> list[Sheet]:
    return read(printed(frame(paper), fit_leaves(scene, frame(paper)), "fit"))


def field_of(sheet: Sheet, width: float, height: float) -> Stroke:
    (field,) = [one for one in sheet.sized(width, height) if np.isclose(one.width, 0.5, atol=0.01)]
    return field


def test_the_field_is_at_true_size_with_every_line_where_it_is() -> None:
    scene = hooped(wallet(), "130x180", 130, 180)
    front, back = pages(scene)
    for sheet, sign in ((front, 1.0), (back, -1.0)):
        left, top, right, bottom = field_of(sheet, 130, 180).line.bounds
        middle = np.array([(left + right) / 2, (top + bottom) / 2])
        drawn = shapely.union_all([one.line for one in sheet.strokes if one.colour]).buffer(0.05)
        for step in scene.project.steps:
            for line in step.lines:
                for path in line.paths:
                    where = Path(path.points * (sign, 1.0) + middle, path.closed).line
                    assert drawn.covers(where), line.name
    assert "Seen from the front" in front.words
    assert "mirrored" in back.words
    assert "left and right change places" in back.words


def test_nothing_is_filled_so_that_it_can_lie_over_something() -> None:
    for sheet in pages(hooped(wallet(), "130x180", 130, 180)):
        # The paper itself is drawn white; nothing else has a fill.
        filled = [one for one in sheet.strokes if one.fill and min(one.fill) < 1.0]
        assert filled == []


def test_what_is_done_by_hand_lies_under_the_stitched_lines() -> None:
    scene = hooped(wallet(), "130x180", 130, 180)
    for leaf in fit_leaves(scene, frame()):
        drawn = [item.style for item in flat(leaf.picture) if isinstance(item, Shape)]
        if Style.BY_HAND in drawn:
            last = max(n for n, style in enumerate(drawn) if style is Style.BY_HAND)
            stitched = (Style.PLACEMENT, Style.STITCHED_NOW)
            assert last < min(n for n, style in enumerate(drawn) if style in stitched)
            break
    else:
        pytest.fail("no sheet shows what is done by hand")


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_field_larger_than_the_paper_is_joined(paper: str) -> None:
    scene = hooped(coaster(260, 200), "200x300", 300, 300)
    both = pages(scene, paper)
    assert len(both) % 2 == 0
    assert len(both) >= 8
    for sheet in both:
        assert "sheet" in sheet.words
        assert outside(sheet) == []
        assert over_each_other(sheet) == []
    for drawing in sheets(frame(paper), fit_leaves(scene, frame(paper)), "fit"):
        assert clipped(drawing) == []
        assert overlapping(drawing) == []


def test_the_legend_names_what_is_drawn() -> None:
    scene = hooped(wallet(), "130x180", 130, 180)
    assert {line.role for line in scene.project.lines} >= {Role.SEAM, Role.PLACEMENT}
    for sheet in pages(scene):
        for words in ("seam", "placement line", "tack-down", "edge of the hoop field"):
            assert words in sheet.words


def test_a_field_takes_one_sheet_where_it_fits_beside_the_squares() -> None:
    # Letter is 279.4 mm high: less margins of 6 mm and the squares of 2 in there are 216.6 mm for
    # the heading and a field; beside the squares 203.9 - 50.8 = 153.1 mm are left across.
    front, back = pages(hooped(wallet(), "130x215", 130, 215), "letter")
    for sheet, count in ((front, 2), (back, 0)):
        left, top, right, bottom = field_of(sheet, 130, 215).line.bounds
        squares = [*sheet.sized(50.0, 50.0), *sheet.sized(50.8, 50.8)]
        assert len(squares) == count
        field = shapely.box(left, top, right, bottom)
        boxes = [shapely.box(*one.line.bounds) for one in squares]
        assert not any(field.intersects(one) for one in boxes)
        assert not count or not boxes[0].intersects(boxes[1])
        assert over_each_other(sheet) == []


def squares(sheet: Sheet) -> tuple[int, int]:
    """Squares of 5 cm and of 2 in; a map of a square field is drawn with a thinner line."""
    first, second = (
        sum(bool(np.isclose(one.width, 0.35, atol=0.01)) for one in sheet.sized(side, side))
        for side in (50.0, 50.8)
    )
    return first, second


def test_the_squares_are_on_the_first_sheet_and_a_scale_on_all_others() -> None:
    for scene in (hooped(coaster(260, 200), "200x300", 300, 300), hooped(wallet(), "w", 130, 180)):
        first, *others = pages(scene)
        assert squares(first) == (1, 1)
        assert others
        for sheet in others:
            assert squares(sheet) == (0, 0)
            assert len(sheet.sized(50.0, 0.0)) == len(sheet.sized(50.8, 0.0)) == 1


def test_the_squares_stand_alone_where_the_field_would_be_joined_for_their_sake() -> None:
    # A4 within margins of 6 mm is 198 × 285 mm: a field of 170 × 245 mm goes on it, but neither
    # above squares of 50.8 mm nor beside them.
    first, front, back = pages(hooped(wallet(), "170x245", 170, 245))
    assert "test squares alone" in first.words
    assert squares(first) == (1, 1)
    for sheet in (front, back):
        assert field_of(sheet, 170, 245)
        assert over_each_other(sheet) == []


@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
def test_an_edge_that_stays_open_is_named_so(paper: str) -> None:
    flag = laid(find_recipe("bunting-flag"), {})
    words = " ".join(sheet.words for sheet in pages(hooped(flag, "130x180", 130, 180), paper))
    assert "turning gap" not in words
    assert "edge that stays open" in words


@pytest.mark.parametrize("paper", ["a4", "letter", "a5"])
def test_every_line_is_named_with_its_stop_and_the_gap_with_its_length(paper: str) -> None:
    project = wallet()
    scene = hooped(project, "130x180", 130, 180)
    both = pages(scene, paper)
    half = len(both) // 2
    for side in (both[:half], both[half:]):
        words = " ".join(" ".join(sheet.words for sheet in side).replace("\u00a0", " ").split())
        for step in project.steps:
            for line in step.lines:
                assert f"{line.title}, stop {step.stop}" in words
        # The specimen leaves open the least of 2 1/2 in and two fifths of its height on each side.
        assert "turning gap, left open: 2 1/2 in (63.5 mm)" in words
    for sheet in both:
        assert outside(sheet) == []
        assert over_each_other(sheet) == []


def test_a_name_leads_to_its_own_line_and_covers_none_where_there_is_room() -> None:
    square = Path(np.array([(10.0, 10.0), (90.0, 10.0), (90.0, 90.0), (10.0, 90.0)]), closed=True)
    cross = Path(np.array([(30.0, 50.0), (70.0, 50.0)]), closed=False)
    lines = (NamedLines("a square", (square,)), NamedLines("a level line", (cross,)))
    items = tuple(line_names(lines, (), Box(0.0, 0.0, 100.0, 100.0)))
    leaders = [one.path.line for one in items if isinstance(one, Shape)]
    texts = [one for one in items if isinstance(one, Text)]
    assert [one.words for one in texts] == ["a square", "a level line"]
    for line, lead in zip((square, cross), leaders, strict=True):
        assert lead.distance(line.line) < 0.01
    for text in texts:
        area = shapely.box(text.box.left, text.box.top, text.box.right, text.box.bottom)
        assert not area.intersects(square.line)
        assert not area.intersects(cross.line)
    assert not texts[0].box.overlaps(texts[1].box)


def level(y: float, left: float = 10.0, right: float = 90.0) -> Path:
    return Path(np.array([(left, y), (right, y)]), closed=False)


def test_a_name_goes_to_whichever_of_its_lines_is_nearest_to_free_room() -> None:
    # The longer line lies shut in, 30 mm from free room either way; the shorter lies at its edge.
    fence = tuple(level(20.0 + 2.0 * place) for place in range(31) if place != 15)
    lines = (NamedLines("twice", (level(50.0), level(84.0, 20.0, 80.0))),)
    items = tuple(line_names(lines, fence, Box(0.0, 0.0, 100.0, 100.0)))
    (lead,) = [one.path.line for one in items if isinstance(one, Shape)]
    assert lead.distance(shapely.Point(50.0, 84.0)) < 30.0
    assert not any(lead.crosses(line.line) for line in fence)
    assert lead.length < 5.0


def test_what_has_least_room_beside_it_chooses_first() -> None:
    # There is room for one name between the lines, none below the lower, and more above the upper.
    upper, lower = level(41.0), level(50.0)
    lines = (NamedLines("a", (upper,)), NamedLines("b", (lower,)))
    above, between = sorted(
        (one for one in line_names(lines, (), Box(44.0, 0.0, 47.6, 51.0)) if isinstance(one, Text)),
        key=lambda text: text.at[1],
    )
    assert (above.words, between.words) == ("a", "b")
    assert above.box.bottom < 41.0 < between.box.top


def test_a_name_left_of_its_line_ends_at_its_leader() -> None:
    upright = Path(np.array([(80.0, 10.0), (80.0, 90.0)]), closed=False)
    items = tuple(line_names((NamedLines("left", (upright,)),), (), Box(0.0, 0.0, 82.0, 100.0)))
    lead, text = items
    assert isinstance(lead, Shape)
    assert isinstance(text, Text)
    assert text.anchor is Anchor.END
    assert text.at[0] == pytest.approx(lead.path.line.bounds[0])
