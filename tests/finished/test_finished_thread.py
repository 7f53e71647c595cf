"""Thread of working lines: seen inside the finished edge, hidden past it or under top-stitching.

Tack-downs of what must not be sewn flat run outside the seam line; what is stitched inside it shows
unless something covers it (common practice, no source).
"""

import pytest
from turned_mats import Part, finished, mat, pocket, stitched

from paramgen.finished.thread_that_shows import thread
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import Point

#: Across the middle of a mat that reaches to y = ±30.
ACROSS: tuple[Point, Point] = ((-30.0, 0.0), (30.0, 0.0))


def shown(
    *parts: Part, closing: Side = Side.FRONT, late: tuple[Part, ...] = ()
) -> list[tuple[object, object]]:
    found = list(thread(finished(mat(*parts, closing=closing, late=late))))
    assert {one.code for one in found} <= {"thread-shows"}
    return [(one.piece, one.amount) for one in found]


@pytest.mark.parametrize("role", ["placement", "tack-down", "basting"])
@pytest.mark.parametrize("closing", ["front", "back"])
def test_a_working_line_inside_shows_on_the_face_that_is_seen(closing: Side, role: str) -> None:
    assert shown(stitched("line", role, *ACROSS), closing=closing) == [
        ("work", pytest.approx(30.0))
    ]


@pytest.mark.parametrize("y", [30.1, 30.5, 31.0, 32.5, 35.0])
def test_outside_the_finished_edge_no_thread_shows(y: float) -> None:
    assert shown(stitched("line", "tack-down", (-30.0, y), (30.0, y))) == []


@pytest.mark.parametrize("inside", [0.3, 1.0, 6.0])
def test_it_is_told_how_far_inside_the_edge_it_shows(inside: float) -> None:
    y = 30.0 - inside
    line = stitched("line", "tack-down", (-20.0, y), (20.0, y))
    assert shown(line) == [("work", pytest.approx(inside))]


def test_a_zigzag_shows_as_far_in_as_it_swings() -> None:
    def swung(y: float) -> Part:
        keys = 'stitch = "zigzag"\nswing = "3"\nspacing = "1"'
        return stitched("line", "tack-down", (-20.0, y), (20.0, y), keys=keys)

    # 3 mm wide, so 1.5 mm to either side.
    assert shown(swung(31.6)) == []
    assert shown(swung(31.0)) == [("work", pytest.approx(0.5))]


def test_no_more_than_a_tie_off_is_no_thread() -> None:
    assert shown(stitched("line", "tack-down", (-0.7, 0.0), (0.7, 0.0))) == []
    assert len(shown(stitched("line", "tack-down", (-2.0, 0.0), (2.0, 0.0)))) == 1


def test_top_stitching_is_meant_to_be_seen_and_hides_what_lies_under_it() -> None:
    working, meant = stitched("line", "tack-down", *ACROSS), stitched("top", "top-stitch", *ACROSS)
    assert shown(meant) == []
    assert shown(working, meant) == []
    # On top of it the working line would be seen.
    assert shown(meant, working) == [("work", pytest.approx(30.0))]
    beside = stitched("top", "top-stitch", *((x, y + 0.6) for x, y in ACROSS))
    assert shown(working, beside) == [("work", pytest.approx(30.0))]
    # A part of it that reaches past the other by 10 mm is 20 mm from the nearer edge, at x = 50.
    shorter = stitched("top", "top-stitch", (-30.0, 0.0), (20.0, 0.0))
    (half,) = shown(working, shorter)
    assert half == ("work", pytest.approx(29.5, abs=0.6))


def test_what_is_laid_over_it_afterwards_hides_it() -> None:
    line = stitched("line", "tack-down", (-30.0, 20.0), (30.0, 20.0))
    assert shown(line, pocket("pocket")) == []
    assert shown(pocket("pocket"), line) == [("pocket", pytest.approx(10.0))]
    # The pocket's mouth lies at y = 0: above it nothing covers the work.
    above = stitched("line", "tack-down", (-30.0, -20.0), (30.0, -20.0))
    assert shown(above, pocket("pocket")) == [("work", pytest.approx(10.0))]


@pytest.mark.parametrize(("inside", "shows"), [(1.0, True), (-0.5, False)])
def test_a_line_through_both_sides_is_seen_in_the_edge(inside: float, shows: bool) -> None:
    # Beside the gap, which runs from x = -20 to 20 at the top; the finished edge lies at y = -30.
    y = inside - 30.0
    line = stitched("line", "tack-down", (-45.0, y), (-25.0, y))
    found = shown(late=(line,))
    assert found == ([("work", pytest.approx(inside))] if shows else [])
