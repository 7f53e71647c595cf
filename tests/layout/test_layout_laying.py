"""Pieces as they lie in the hoop, and the tape on them."""

import numpy as np
import pytest
import shapely
from layout_orders import COASTER, WALLET, laid, layers, tag
from told import cannot

from paramgen.layout.layers import PAST_STOPS, TAPE_LENGTH, TAPE_ONTO, TAPE_WIDTH
from paramgen.rehearsal.sheets import sandwich
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Layer, Project

Bounds = tuple[float, float, float, float]


def put(where: str, table: str = "", more: str = "") -> Layer:
    """Lay a strip of 30 × 10 mm, or what the table says, on a plant tag."""
    table = table or 'width = "30"\nheight = "10"'
    parts = f'[pieces.strip]\ntitle = "strip"\nfabric = "felt"\n{table}\n'
    steps = (
        '[[steps]]\ntitle = "Lay the strip"\nsay = "Lay it."\n'
        f'lay = [{{ piece = "strip", side = "front", up = "right"{where} }}]\n{more}'
    )
    (found,) = layers(tag(parts, steps=steps), "strip")
    return found


@pytest.mark.parametrize(
    ("where", "bounds"),
    [
        ("", (-15, -5, 15, 5)),
        (', left = "2"', (2, -5, 32, 5)),
        (', right = "2"', (-28, -5, 2, 5)),
        (', middle = "2"', (-13, -5, 17, 5)),
        (', top = "2"', (-15, 2, 15, 12)),
        (', bottom = "2"', (-15, -8, 15, 2)),
        (', centre = "2"', (-15, -3, 15, 7)),
        (', left = "-40", bottom = "height / 2"', (-40, 10, -10, 20)),
    ],
)
def test_a_piece_lies_where_one_of_its_edges_or_its_middle_is_put(
    where: str, bounds: Bounds
) -> None:
    assert put(where).outline.bounds == pytest.approx(bounds)


@pytest.mark.parametrize(
    ("folds", "fold", "edges", "plies"),
    [
        ("", "", [], 1),
        ('{ fold = "half", along = "height" }', "top", ["top"], 2),
        ('{ fold = "half", along = "height" }', "bottom", ["bottom"], 2),
        ('{ fold = "half", along = "width" }', "left", ["left"], 2),
        ('{ fold = "quarter", along = "width" }', "", ["left", "right"], 4),
        ('{ fold = "quarter", along = "height" }', "", ["bottom", "top"], 4),
        ('{ fold = "hem", along = "height", turn = "4" }', "", ["bottom"], 1),
        (
            '{ fold = "quarter", along = "width" }, { fold = "half", along = "height" }',
            "top",
            ["left", "right", "top"],
            8,
        ),
    ],
)
def test_folded_edges_are_those_of_the_folds_and_layers_multiply(
    folds: str, fold: str, edges: list[str], plies: int
) -> None:
    where = f', fold = "{fold}"' if fold else ""
    layer = put(where, f'width = "30"\nheight = "10"\nfolds = [{folds}]')
    names = {(0, -5): "top", (0, 5): "bottom", (-15, 0): "left", (15, 0): "right"}
    middles = [np.mean(edge, axis=0) for edge in layer.folded_edges]
    assert sorted(names[round(x), round(y)] for x, y in middles) == edges
    assert layer.plies == plies


def test_the_side_and_the_face_are_those_of_the_step() -> None:
    (back,) = layers(laid(WALLET, {}), "pouch-lining")
    (lining,) = layers(laid(WALLET, {}), "lining")
    assert (back.side, back.up) == ("back", "right")
    assert (lining.side, lining.up) == ("front", "wrong")


def test_a_zip_lies_along_the_width_and_opens_between_its_stops() -> None:
    project = laid(WALLET, {})
    (zip_layer,) = layers(project, "zip")
    (notion,) = (one for one in project.notions if one.sort == "zip")
    assert notion.length is not None
    left, top, right, bottom = zip_layer.outline.bounds
    assert (right - left, bottom - top) == pytest.approx((notion.length, notion.width))
    assert zip_layer.slit is not None
    (x0, y0), (x1, y1) = zip_layer.slit
    assert (x0 - left, right - x1) == pytest.approx((PAST_STOPS, PAST_STOPS))
    assert y0 == y1 == pytest.approx((top + bottom) / 2)


def taped(project: Project, title: str) -> tuple[Path, ...]:
    (found,) = (step.tape for step in project.steps if step.title == title and step.tape)
    return found


def sides_crossed(strip: Path, layer: Layer) -> set[str]:
    """Sides of a layer's box that a strip lies across."""
    left, top, right, bottom = layer.outline.bounds
    sides = {
        "top": [(left, top), (right, top)],
        "right": [(right, top), (right, bottom)],
        "bottom": [(right, bottom), (left, bottom)],
        "left": [(left, bottom), (left, top)],
    }
    cover = shapely.Polygon(strip.points)
    return {name for name, side in sides.items() if cover.intersects(shapely.LineString(side))}


def test_tape_holds_every_raw_edge_and_no_fold() -> None:
    project = laid(WALLET, {})
    strips = taped(project, "Tape the outer pieces")
    (upper,), (lower,) = layers(project, "upper-outer"), layers(project, "lower-outer")
    over = [one for one in strips if sides_crossed(one, upper) and one.bounds[1] < -30]
    assert set.union(*(sides_crossed(one, upper) for one in over)) == {"left", "top", "right"}
    under = [one for one in strips if one not in over]
    assert set.union(*(sides_crossed(one, lower) for one in under)) == {"left", "bottom", "right"}


def test_tape_is_put_only_where_the_recipe_says_if_it_says_so() -> None:
    project = laid(COASTER, {"outline": "square"})
    (layer,) = layers(project, "batting")
    strips = taped(project, "Tape the batting")
    assert [sides_crossed(one, layer) for one in strips] == [{"left"}, {"right"}]


def test_a_strip_reaches_a_little_onto_the_piece_and_is_as_large_as_tape() -> None:
    project = laid(COASTER, {"outline": "square"})
    (layer,) = layers(project, "top")
    for strip in taped(project, "Tape the top"):
        left, top, right, bottom = strip.bounds
        assert sorted((right - left, bottom - top)) == pytest.approx([TAPE_WIDTH, TAPE_LENGTH])
        covered = shapely.Polygon(strip.points) & shapely.Polygon(layer.outline.points)
        assert covered.area == pytest.approx(TAPE_WIDTH * TAPE_ONTO)


def test_tape_on_a_round_piece_is_at_its_edge_and_not_at_the_corners_of_its_box() -> None:
    project = laid(COASTER, {"outline": "round", "width": 200})
    (layer,) = layers(project, "batting")
    strips = taped(project, "Tape the batting")
    assert len(strips) == 2
    disc = shapely.Polygon(layer.outline.points)
    for strip in strips:
        cover = shapely.Polygon(strip.points)
        assert cover.intersects(disc.exterior)
        assert 0.5 * TAPE_ONTO * TAPE_WIDTH < (cover & disc).area <= TAPE_ONTO * TAPE_WIDTH


def test_tape_on_a_slanting_edge_is_at_the_edge() -> None:
    # At half the height of a triangle its sides are a quarter of the box inside the box.
    project = laid(COASTER, {"outline": "polygon", "sides": "3", "width": 150})
    (layer,) = layers(project, "batting")
    triangle = shapely.Polygon(layer.outline.points)
    for strip in taped(project, "Tape the batting"):
        assert triangle.exterior.distance(shapely.Polygon(strip.points).centroid) < TAPE_LENGTH / 2
        assert triangle.intersects(shapely.Polygon(strip.points))


def test_a_long_straight_edge_gets_two_strips_and_a_short_one_gets_one() -> None:
    project = laid(COASTER, {"outline": "rectangle", "width": 200, "height": 80})
    (layer,) = layers(project, "top")
    strips = taped(project, "Tape the top")
    # The top is cut 201 + 24 by 81 + 24 mm: over 120 mm long two strips, at its quarters.
    sides = [sides_crossed(one, layer) for one in strips]
    assert [sides.count({name}) for name in ("top", "right", "bottom", "left")] == [2, 1, 2, 1]
    left, _, right, _ = layer.outline.bounds
    over = sorted(
        sum(one.bounds[::2]) / 2 for one in strips if sides_crossed(one, layer) == {"top"}
    )
    assert over == pytest.approx([left + (right - left) / 4, right - (right - left) / 4])


def test_pieces_taped_once_are_not_taped_again() -> None:
    strip = (
        '[[steps]]\ntitle = "Lay {n}"\nsay = "Lay it."\n'
        'lay = [{{ piece = "strip", side = "front", up = "right", middle = "{x}" }}]\n'
        '[[steps]]\ntitle = "Tape {n}"\nsay = "Tape it."\n'
        'tape = [{{ piece = "strip", at = ["top"] }}]\n'
    )
    parts = '[pieces.strip]\ntitle = "strip"\nfabric = "felt"\nwidth = "30"\nheight = "10"\n'
    project = tag(parts, steps=strip.format(n=1, x=-20) + strip.format(n=2, x=20))
    tapes = [step.tape for step in project.steps if step.act is Act.TAPE]
    assert [len(one) for one in tapes] == [1, 1]
    assert [sum(one[0].bounds[::2]) / 2 for one in tapes] == pytest.approx([-20, 20])


def test_tape_over_places_lies_upright_across_them() -> None:
    project = laid(WALLET, {})
    strips = taped(project, "Tape the zip")
    seam = project.seam.bounds
    assert len(strips) == 2
    for one in strips:
        assert one.bounds[3] - one.bounds[1] > one.bounds[2] - one.bounds[0]
        assert one.bounds[2] < seam[0] or one.bounds[0] > seam[2]


HEM = '{ fold = "hem", along = "height", turn = "4" }'


@pytest.mark.parametrize(
    ("fold", "times", "strip"),
    # 30 × 10 mm about the origin: what is turned in lies 4 mm deep along one edge.
    [("", 1, (-15, 1, 15, 5)), ("bottom", 1, (-15, 1, 15, 5)), ("top", 2, (-15, -5, 15, -1))],
)
def test_what_a_hem_turns_in_lies_along_its_edge(fold: str, times: int, strip: Bounds) -> None:
    where = f', fold = "{fold}"' if fold else ""
    layer = put(where, f'width = "30"\nheight = "10"\nfolds = [{", ".join([HEM] * times)}]')
    (hem,) = layer.hems
    assert hem.outline.bounds == pytest.approx(strip)
    assert hem.twice == (times == 2)
    assert len(layer.folded_edges) == 1  # the same edge, however often it is turned in


@pytest.mark.parametrize(
    ("up", "names"),
    # A hem is turned to the wrong side: behind the piece where its right side looks forward.
    [("right", ["hem", ""]), ("wrong", ["", "hem"])],
)
def test_a_hem_is_a_leaf_on_the_wrong_side_and_shows_its_right_side(
    up: str, names: list[str]
) -> None:
    parts = (
        '[pieces.strip]\ntitle = "strip"\nfabric = "felt"\nwidth = "30"\nheight = "10"\n'
        f"folds = [{HEM}]\n"
    )
    steps = (
        '[[steps]]\ntitle = "Lay the strip"\nsay = "Lay it."\n'
        f'lay = [{{ piece = "strip", side = "front", up = "{up}" }}]\n'
    )
    sheets = [one for one in sandwich(tag(parts, steps=steps)).sheets if one.piece == "strip"]
    assert [one.leaf for one in sheets] == names
    main = next(one for one in sheets if one.leaf == "")
    hem = next(one for one in sheets if one.leaf == "hem")
    assert (main.front, main.back) == ((True, False) if up == "right" else (False, True))
    assert (hem.front, hem.back) == ((False, True) if up == "right" else (True, False))
    assert hem.area.bounds == pytest.approx((-15, 1, 15, 5))


@pytest.mark.parametrize(("mark", "plies", "unlined"), [("1", 2, True), ("2", 1, False)])
def test_folds_and_what_is_unlined_may_depend_on_what_is_asked(
    mark: str, plies: int, unlined: bool
) -> None:
    table = (
        'width = "30"\nheight = "10"\nunlined = "ruler_mark < 2"\n'
        'folds = [{ fold = "half", along = "height", when = "ruler_mark < 2" },'
        ' { fold = "hem", along = "height", turn = "4", when = "ruler_mark >= 2" }]\n'
    )
    parts = f'[pieces.strip]\ntitle = "strip"\nfabric = "felt"\n{table}'
    lay = '[{ piece = "strip", side = "front", up = "right", fold = "top" }]'
    steps = f'[[steps]]\ntitle = "Lay the strip"\nsay = "Lay it."\nlay = {lay}\n'
    (found,) = layers(tag(parts, {"ruler_mark": mark}, steps=steps), "strip")
    assert (found.plies, not found.hems, found.unlined) == (plies, plies == 2, unlined)


HALF = '{ fold = "half", along = "width" }'
NEVER = HEM.replace(" }", ', when = "width > 1000" }')


def folded(*folds: str) -> str:
    return f'width = "30"\nheight = "10"\nfolds = [{", ".join(folds)}]'


def test_a_fold_that_the_choices_leave_out_is_at_no_edge() -> None:
    assert put(', fold = "top"', folded(NEVER)).folded_edges == ()
    never = HALF.replace(" }", ', when = "width > 1000" }')
    assert put(', fold = "left"', folded(never)).folded_edges == ()
    # Where the hem is not there, the fold in half is the last: at the left, x = -15.
    (edge,) = put(', fold = "left"', folded(HALF, NEVER)).folded_edges
    assert {x for x, _ in edge} == {-15.0}


@pytest.mark.parametrize(
    ("where", "folds", "said"),
    [
        # What is folded across its width has its fold at the left or the right.
        (', fold = "top"', (HALF, NEVER), "with its fold at the top.*it can lie at left or right"),
        ("", (HALF, NEVER), "say in the step that lays it where its fold lies, left or right"),
        (
            ', fold = "left"',
            (HALF, HEM.replace(" }", ', when = "width < 1000" }')),
            "its hem at the left.*it can lie at top or bottom",
        ),
    ],
)
def test_a_fold_at_an_edge_where_it_cannot_be_with_these_choices_is_refused(
    where: str, folds: tuple[str, ...], said: str
) -> None:
    with cannot(f"piece `strip`.*{said}"):
        put(where, folded(*folds))


def test_hems_at_two_edges_lie_each_along_its_own() -> None:
    hems = ", ".join(HEM.replace(" }", f', edge = "{edge}" }}') for edge in ("top", "bottom"))
    layer = put("", f'width = "30"\nheight = "10"\nfolds = [{hems}]')
    assert [one.outline.bounds for one in layer.hems] == [
        pytest.approx((-15, -5, 15, -1)),
        pytest.approx((-15, 1, 15, 5)),
    ]
    assert len(layer.folded_edges) == 2


@pytest.mark.parametrize(
    ("edge", "strip"),
    # Folded in three to 30 × 10 mm, the outer thirds 2 / 2 = 1 mm less than the middle one: the
    # edge of one that is turned in by 4 lies 1 inside the far edge, and the hem from there to 5.
    [
        ("top", (-15, -4, 15, 0)),
        ("right", (10, -5, 14, 5)),
        ("bottom", (-15, 0, 15, 4)),
        ("left", (-14, -5, -10, 5)),
    ],
)
def test_the_hem_of_an_outer_third_lies_at_its_own_edge(edge: str, strip: Bounds) -> None:
    along = "height" if edge in ("top", "bottom") else "width"
    hem = f'{{ fold = "hem", along = "{along}", turn = "4", edge = "{edge}" }}'
    thirds = f'{{ fold = "thirds", along = "{along}", take = "-2" }}'
    layer = put("", f'width = "30"\nheight = "10"\nfolds = [{hem}, {thirds}]')
    (found,) = layer.hems
    assert found.outline.bounds == pytest.approx(strip)
    assert found.plies == 1
    assert found.upright is (along == "width")
