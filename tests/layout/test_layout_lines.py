"""Lines to stitch: how they are sewn, what of an outline they follow, their gaps."""

import math

import pytest
from layout_orders import line, tag, trial
from told import cannot, says

from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.kinds import Role, StitchKind


@pytest.mark.parametrize(
    ("role", "kind", "length"),
    [
        # Common practice, no source.
        ("placement", StitchKind.RUN, 3.0),
        ("tack-down", StitchKind.RUN, 2.5),
        ("basting", StitchKind.BASTING, 5.0),
        ("seam", StitchKind.SEAM, 2.5),
        ("top-stitch", StitchKind.TRIPLE, 3.0),
    ],
)
def test_a_line_is_sewn_as_its_role_asks(role: str, kind: StitchKind, length: float) -> None:
    found = trial(f'role = "{role}"\nalong = "finished"')
    assert found.role is Role(role)
    assert (found.stitch.kind, found.stitch.length) == (kind, length)
    assert (found.stitch.swing > 0) == (kind is StitchKind.SEAM)


def test_a_recipe_may_set_how_a_line_is_sewn() -> None:
    found = trial(
        'along = "finished"\nstitch = "zigzag"\nlength = "2"\nswing = "3"\nspacing = "1.5"'
    )
    stitch = found.stitch
    assert (stitch.kind, stitch.length, stitch.swing, stitch.spacing) == (
        StitchKind.ZIGZAG,
        2,
        3,
        1.5,
    )


def test_a_person_may_set_the_stitch_lengths() -> None:
    project = tag("", {"seam_stitch": "2", "seam_swing": "1.2"})
    assert (line(project, "edge").stitch.length, line(project, "edge").stitch.swing) == (2, 1.2)


@pytest.mark.parametrize(
    ("edge", "start", "end"),
    [
        ("top", (-35, -20), (35, -20)),
        ("right", (40, -15), (40, 15)),
        ("bottom", (35, 20), (-35, 20)),
        ("left", (-40, 15), (-40, -15)),
    ],
)
def test_a_run_follows_one_edge_less_a_length_at_both_ends(
    edge: str, start: tuple[float, float], end: tuple[float, float]
) -> None:
    (found,) = trial(f'run = [{{ of = "finished", edge = "{edge}", less = "5" }}]').paths
    assert found.points.tolist() == [list(start), list(end)]
    assert not found.closed


def test_a_run_is_not_made_longer_by_taking_off_less_than_nothing() -> None:
    with cannot(r"less\): at least 0 is wanted"):
        trial('run = [{ of = "finished", edge = "top", less = "-1e6" }]')


def test_free_paths_of_straight_parts_and_arcs() -> None:
    spots = '[["-10", "0"], ["0", "0"], { through = ["5", "5"], to = ["10", "0"] }]'
    first, second = trial(f'points = [{spots}, [["0", "9"], ["9", "9"]]]').paths
    # 10 straight, then a half circle of radius 5
    assert first.length == pytest.approx(10 + 5 * math.pi, abs=1e-3)
    assert first.bounds == pytest.approx((-10, 0, 10, 5), abs=1e-3)
    assert second.points.tolist() == [[0, 9], [9, 9]]


@pytest.mark.parametrize(
    ("gap", "first", "last"),
    [
        # On the bottom, run from right to left: the gap of 20 is between the end of the line
        # and its start.
        ('edge = "bottom", length = "20"', (-10, 20), (10, 20)),
        ('edge = "bottom", length = "20", centre = "5"', (-5, 20), (15, 20)),
        ('edge = "left", length = "10", centre = "-6"', (-40, -11), (-40, -1)),
        ('edge = "right", length = "10", centre = "-6"', (40, -1), (40, -11)),
        ('edge = "top", length = "10", centre = "15"', (20, -20), (10, -20)),
        ('on = "flattest", length = "20"', (-10, 20), (10, 20)),
    ],
)
def test_a_gap_lies_where_it_is_asked(
    gap: str, first: tuple[float, float], last: tuple[float, float]
) -> None:
    (found,) = trial(f'along = "finished"\ngaps = [{{ {gap} }}]').paths
    assert tuple(found.points[0]) == pytest.approx(first)
    assert tuple(found.points[-1]) == pytest.approx(last)


def test_several_gaps_part_a_line() -> None:
    gaps = '{ edge = "top", length = "20" }, { edge = "bottom", length = "30" }'
    found = trial(f'along = "finished"\ngaps = [{gaps}]').paths
    assert sum(one.length for one in found) == pytest.approx(240 - 50)
    assert len(found) == 2


@pytest.mark.parametrize(
    ("gap", "said"),
    [
        (
            'edge = "left", length = "41"',
            "does not lie within the left edge of 40 mm",
        ),
        ('edge = "top", length = "20", centre = "31"', "does not lie within the top edge"),
        ('edge = "top", length = "20", centre = "-31"', "does not lie within the top edge"),
        ('edge = "top", length = "0"', "a gap of 0 mm (0 in) is no gap"),
        ('edge = "top", length = "-4"', "a gap of -4 mm (-3/16 in) is no gap"),
        ('on = "flattest", length = "240"', "no shorter than the line"),
    ],
)
def test_a_gap_that_cannot_be_is_refused_and_its_line_named(gap: str, said: str) -> None:
    with pytest.raises(CannotMakeError) as caught:
        trial(f'along = "finished"\ngaps = [{{ {gap} }}]')
    assert said in says(caught.value.findings[0])
    assert "line `trial`" in says(caught.value.findings[0])


def test_a_gap_may_take_a_whole_edge() -> None:
    (found,) = trial('along = "finished"\ngaps = [{ edge = "left", length = "40" }]').paths
    assert found.length == pytest.approx(200)


BAR = '[outlines.bar]\nshape = "rectangle"\nleft = "0"\nright = "20"\nheight = "99"\n'


def test_a_line_may_be_kept_to_the_inside_of_outlines_or_clear_of_them() -> None:
    within = trial('along = "finished"\nwithin = ["bar"]', BAR).paths
    assert sorted(one.points.tolist() for one in within) == [
        [[0, -20], [20, -20]],
        [[20, 20], [0, 20]],
    ]
    clear = trial('along = "finished"\nclear_of = ["bar"]', BAR).paths
    assert [one.length for one in clear] == pytest.approx([80, 120])


def test_what_lies_in_two_outlines_at_once_is_sewn_once() -> None:
    # The bar and the field that it lies in: what is in either is what is in the field.
    field = BAR.replace("outlines.bar", "outlines.field").replace('"bar"', '"field"')
    once = trial('along = "finished"\nwithin = ["bar"]', BAR).paths
    twice = trial('along = "finished"\nwithin = ["bar", "field"]', BAR + field).paths
    assert [one.points.tolist() for one in twice] == [one.points.tolist() for one in once]


def test_kept_within_several_outlines_it_is_in_one_or_another() -> None:
    other = '[outlines.end]\nshape = "rectangle"\nleft = "30"\nright = "99"\nheight = "99"\n'
    found = trial('along = "finished"\nwithin = ["bar", "end"]', BAR + other).paths
    # 2 × 20 in the bar; 10 + 40 + 10 at the end
    assert sorted(one.length for one in found) == pytest.approx([20, 20, 60])


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ('run = [{ of = "finished", edge = "left", less = "20" }]', "nothing is left of the left"),
        ('points = [[{ through = ["5", "5"], to = ["9", "0"] }, ["0", "0"]]]', "not with an arc"),
    ],
)
def test_a_line_that_is_nothing_is_refused(table: str, said: str) -> None:
    with cannot(said):
        trial(table)


def test_a_line_of_which_nothing_is_left_is_refused() -> None:
    far = '[outlines.far]\nshape = "rectangle"\nleft = "500"\nright = "600"\nheight = "9"\n'
    with cannot("line `trial`: nothing is left of it to stitch"):
        trial('along = "finished"\nwithin = ["far"]', far)


@pytest.mark.parametrize("keys", ['role = "placement"', 'stitch = "triple"', 'role = "basting"'])
@pytest.mark.parametrize("way", ["outside", "both sides"])
def test_only_what_swings_can_swing_to_a_side(keys: str, way: str) -> None:
    with cannot(f"line `trial`: it is to swing to .*{way}, but"):
        trial(f'along = "finished"\n{keys}\nswing_to = "{way}"')
    outward = trial(f'along = "finished"\nstitch = "zigzag"\nswing_to = "{way}"').stitch.outward
    assert outward == (way == "outside")
