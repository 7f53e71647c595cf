"""The outlines a recipe can ask for, with sizes worked out by hand."""

import math

import numpy as np
import pytest
import shapely
from geometry_shapes import area, curve_error
from layout_orders import TAG, laid, line, recipe_of, tag, trial
from told import cannot, says

from paramgen.layout.outline_shapes import span
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.unit import Unit

#: In a circle as wide as is asked.
SQUARE = """shape = "regular polygon"\nsides = "4"\nacross = "deep + 0 * height" """


def shape(table: str, more: str = "") -> Path:
    (found,) = trial('along = "shape"', f"[outlines.shape]\n{table}\n{more}").paths
    return found


DOOR = """shape = "path"
start = ["-10", "20"]
then = [["-10", "0"], { through = ["0", "-10"], to = ["10", "0"] }, ["10", "20"]]
"""
FLAT_ARC = """shape = "path"
start = ["0", "0"]
then = [{ through = ["5", "0"], to = ["10", "0"] }, ["10", "9"]]
"""


@pytest.mark.parametrize(
    ("measures", "bounds"),
    [
        ('width = "30"\nheight = "20"', (-15, -10, 15, 10)),
        ('left = "-5"\nright = "25"\ntop = "1"\nbottom = "21"', (-5, 1, 25, 21)),
        ('left = "-5"\nwidth = "30"\nbottom = "21"\nheight = "20"', (-5, 1, 25, 21)),
        ('right = "25"\nwidth = "30"\ntop = "1"\nheight = "20"', (-5, 1, 25, 21)),
        ('middle = "10"\nwidth = "30"\ncentre = "11"\nheight = "20"', (-5, 1, 25, 21)),
        ('middle = "10"\nleft = "-5"\ncentre = "11"\nbottom = "21"', (-5, 1, 25, 21)),
        ('middle = "10"\nright = "25"\ncentre = "11"\ntop = "1"', (-5, 1, 25, 21)),
        ('width = "width / 2"\nheight = "height - 8"', (-20, -16, 20, 16)),
    ],
)
def test_a_rectangle_is_known_by_any_two_measures_each_way(
    measures: str, bounds: tuple[float, float, float, float]
) -> None:
    found = shape(f'shape = "rectangle"\n{measures}')
    assert found.bounds == pytest.approx(bounds)
    width, height = bounds[2] - bounds[0], bounds[3] - bounds[1]
    assert area(found) == pytest.approx(width * height)


@pytest.mark.parametrize(
    ("table", "bounds", "wanted"),
    [
        # 30 × 20 less (4 - π) 5², and less 4 triangles of 5 × 5 / 2
        (
            'shape = "rectangle"\nwidth = "30"\nheight = "20"\nrounded = "5"',
            (-15, -10, 15, 10),
            600 - (4 - math.pi) * 25,
        ),
        (
            'shape = "rectangle"\nwidth = "30"\nheight = "20"\ncut = "5"',
            (-15, -10, 15, 10),
            600 - 50,
        ),
        # π a b
        (
            'shape = "oval"\nwidth = "30"\nheight = "20"\nat = ["4", "-2"]',
            (-11, -12, 19, 8),
            math.pi * 150,
        ),
        # six triangles of side 10: 6 × √3/4 × 100, as high as 2 × 10 × √3/2
        (
            'shape = "regular polygon"\nsides = "6"\nacross = "20"',
            (-10, -5 * math.sqrt(3), 10, 5 * math.sqrt(3)),
            150 * math.sqrt(3),
        ),
        ('shape = "polygon"\npoints = [["0", "0"], ["4", "0"], ["4", "3"]]', (0, 0, 4, 3), 6),
        # a square of 20 with a half circle of radius 10 on top
        (
            DOOR,
            (-10, -10, 10, 20),
            400 + math.pi * 50,
        ),
        ('shape = "outset"\nof = "finished"\nby = "3"', (-43, -23, 43, 23), 86 * 46),
        ('shape = "inset"\nof = "finished"\nby = "3"', (-37, -17, 37, 17), 74 * 34),
        # Steiner: 80 × 40 + 240 × 3 + 9 π
        (
            'shape = "outset"\nof = "finished"\nby = "3"\nouter_corners = "round"',
            (-43, -23, 43, 23),
            3200 + 720 + 9 * math.pi,
        ),
    ],
)
def test_every_outline_has_its_size_and_area(
    table: str, bounds: tuple[float, float, float, float], wanted: float
) -> None:
    found = shape(table)
    assert found.bounds == pytest.approx(bounds, abs=1e-3)
    assert area(found) == pytest.approx(wanted, abs=0.01)


def test_the_part_of_one_outline_within_another() -> None:
    more = '[outlines.half]\nshape = "rectangle"\nleft = "0"\nright = "99"\nheight = "99"'
    # The right half of 80 × 40; what it is made of must be known before it.
    found = trial(
        'along = "shape"',
        f'{more}\n[outlines.shape]\nshape = "within"\nof = "finished"\ninside = "half"',
    ).paths[0]
    assert found.bounds == pytest.approx((0, -20, 40, 20))


@pytest.mark.parametrize("edge", ["top", "right", "bottom", "left"])
def test_an_outline_without_the_corners_of_an_edge(edge: str) -> None:
    # 80 × 40 less two squares of 10
    found = shape(f'shape = "corners cut out"\nof = "finished"\nedge = "{edge}"\nby = "10"')
    assert found.bounds == pytest.approx((-40, -20, 40, 20))
    assert area(found) == pytest.approx(80 * 40 - 2 * 10**2)
    assert len(found.points) == 8
    ends = {"top": (0, -19), "right": (39, 0), "bottom": (0, 19), "left": (-39, 0)}
    x, y = ends[edge]
    assert found.area.contains(shapely.Point(x, y))
    corner = (35 * (1 if x == 0 else np.sign(x)), 15 * (np.sign(y) or 1))
    assert not found.area.contains(shapely.Point(corner))


def test_the_first_case_that_holds_is_taken() -> None:
    cases = (
        '[[outlines.shape]]\nwhen = "width > 100"\nshape = "oval"\nwidth = "50"\nheight = "50"\n'
        '[[outlines.shape]]\nshape = "rectangle"\nwidth = "20"\nheight = "20"\n'
        '[lines.trial]\ntitle = "trial"\nrole = "seam"\nalong = "shape"\n'
    )
    steps = '[[steps]]\ntitle = "Trial"\nstitch = ["trial"]\nsay = "Stitch."'
    narrow = line(tag(cases, steps=steps), "trial").paths[0]
    wide = line(tag(cases, {"width": 120}, steps=steps), "trial").paths[0]
    assert area(narrow) == pytest.approx(400)
    assert area(wide) == pytest.approx(math.pi * 625, abs=curve_error(math.pi * 50))


def test_a_repeated_outline_is_one_for_each_time() -> None:
    parts = (
        '[outlines.ring]\nrepeat = { k = "3" }\nshape = "inset"\nof = "finished"\nby = "2 * k"\n'
        '[lines.ring]\ntitle = "ring {k}"\nrole = "tack-down"\nrepeat = { k = "3" }\n'
        'along = "ring[k]"\n'
    )
    steps = '[[steps]]\ntitle = "Rings"\nstitch = ["ring"]\nsay = "Stitch."'
    project = tag(parts, steps=steps)
    widths = [line(project, f"ring[{k}]").paths[0].bounds[2] for k in (1, 2, 3)]
    assert widths == pytest.approx([38, 36, 34])
    assert [one.title for one in project.lines[:3]] == ["ring 1", "ring 2", "ring 3"]


@pytest.mark.parametrize(
    ("table", "said"),
    [
        (
            'shape = "rectangle"\nwidth = "-3"\nheight = "20"',
            "× 13/16 in) has no area",
        ),
        ('shape = "rectangle"\nleft = "5"\nright = "1"\nheight = "20"', "-4 × 20 mm"),
        ('shape = "rectangle"\nwidth = "30"\nheight = "20"\nrounded = "11"', "do not fit"),
        ('shape = "regular polygon"\nsides = "2"\nacross = "20"', "at least 3 sides"),
        ('shape = "inset"\nof = "finished"\nby = "25"', "nothing is left 25 mm (1 in) inside"),
        (
            'shape = "polygon"\npoints = [["0", "0"], ["9", "9"], ["9", "0"], ["0", "9"]]',
            "crosses itself",
        ),
        (
            FLAT_ARC,
            "not in one line",
        ),
    ],
)
def test_what_makes_no_outline_stops_the_project_and_names_the_outline(
    table: str, said: str
) -> None:
    with pytest.raises(CannotMakeError) as caught:
        shape(table)
    (finding,) = caught.value.findings
    assert finding.code == "shape-impossible"
    assert "`shape`" in says(finding)
    assert said in says(finding)


def test_what_makes_no_outline_is_said_in_the_persons_unit() -> None:
    with pytest.raises(CannotMakeError) as caught:
        shape('shape = "rectangle"\nwidth = "0"\nheight = "50.8"')
    (finding,) = caught.value.findings
    # 50.8 mm are 2 in.
    assert says(finding) == "outline `shape`: a rectangle of 0 × 50.8 mm (0 × 2 in) has no area"
    inches = "outline `shape`: a rectangle of 0 × 2 in (0 × 50.8 mm) has no area"
    assert says(finding, Unit.INCH) == inches


def test_a_size_of_any_name_says_which_size_of_the_outline_it_is() -> None:
    # A square turned on its tip in a circle of 80 mm is 80 / √2 = 56.57 mm along its flat side.
    def told(more: str) -> list[str]:
        text = TAG.format(parts="", steps="")
        text = text.replace('shape = "rectangle"\nwidth = "width"\nheight = "height"', SQUARE)
        text = text.replace("sizes.width = {", "sizes.deep = {" + more)
        return [says(one) for one in laid(recipe_of(text), {"deep": 80.0}).findings]

    flat = f"{80 / math.sqrt(2):.1f} mm (2 1/4 in)"
    asked_for = "deep 80 mm (3 1/8 in) is asked for; finished it is"
    assert told("") == []
    assert told('along = "width",') == [f"{asked_for} {flat} wide"]
    assert told('along = "height",') == [f"{asked_for} {flat} high"]


def test_an_outline_that_is_not_there_with_these_choices_is_named() -> None:
    gone = '[[outlines.shape]]\nwhen = "width > 100"\nshape = "oval"\nwidth = "9"\nheight = "9"\n'
    with cannot("no outline `shape` at these sizes"):
        trial('along = "shape"', gone)


@pytest.mark.parametrize(
    ("known", "ends"),
    [
        ((2.0, 9.0, None, None), (2, 9)),
        ((2.0, None, 7.0, None), (2, 9)),
        ((None, 9.0, 7.0, None), (2, 9)),
        ((None, None, 7.0, 5.5), (2, 9)),
        ((None, None, 7.0, None), (-3.5, 3.5)),
        ((2.0, None, None, 5.5), (2, 9)),
        ((None, 9.0, None, 5.5), (2, 9)),
    ],
)
def test_two_measures_of_a_span_give_both_its_ends(
    known: tuple[float | None, float | None, float | None, float | None],
    ends: tuple[float, float],
) -> None:
    assert span(*known) == pytest.approx(ends)
