"""Pieces as they lie in the hoop, and the tape on them."""

import numpy as np
import pytest
import shapely
from layout_orders import COASTER, WALLET, laid, layers, tag
from told import cannot

from paramgen.layout.layers import PAST_STOPS, TAPE_LENGTH, TAPE_ONTO, TAPE_WIDTH
from paramgen.rehearsal.sheets import Sheet, sandwich
from paramgen.vocabulary.kinds import Act, Leaf
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


def hemmed_twice_round(up: str, times: int) -> list[Sheet]:
    """Lay a strip of 30 × 10 mm hemmed 4 deep at the bottom, then at the right."""
    hems = [
        f'{{ fold = "hem", along = "{along}", turn = "4", edge = "{edge}" }}'
        for along, edge in (("height", "bottom"), ("width", "right"))
        for _ in range(times)
    ]
    parts = (
        '[pieces.strip]\ntitle = "strip"\nfabric = "felt"\nwidth = "30"\nheight = "10"\n'
        f"folds = [{', '.join(hems)}]\n"
    )
    steps = (
        '[[steps]]\ntitle = "Lay the strip"\nsay = "Lay it."\n'
        f'lay = [{{ piece = "strip", side = "front", up = "{up}" }}]\n'
    )
    return [one for one in sandwich(tag(parts, steps=steps)).sheets if one.piece == "strip"]


# Turned in once, the bottom is 2 layers of cloth, and turning the right edge in doubles that: 4 in
# the corner. Turned in twice, the bottom is 3, and turning that in twice makes three of it: 9.
@pytest.mark.parametrize(("times", "beside", "corner"), [(1, 2, 4), (2, 3, 9)])
@pytest.mark.parametrize("up", ["right", "wrong"])
def test_a_hem_across_another_takes_it_along(up: str, times: int, beside: int, corner: int) -> None:
    sheets = hemmed_twice_round(up, times)
    spots = {(0, 0): 1, (0, 3): beside, (13, -3): beside, (13, 3): corner}
    for at, plies in spots.items():
        here = [one.plies for one in sheets if one.area.covers(shapely.Point(at))]
        assert sum(here) == plies


# Fold a sheet of paper, printed on one face, wrong side towards you: up from the bottom, its right
# side is seen; then in from the right: that right side meets itself, and on top lies the right side
# of what came with it. From the table up: right, wrong; wrong, right; right, wrong; wrong, right.
def test_right_sides_meet_in_the_corner_of_two_hems() -> None:
    sheets = hemmed_twice_round("wrong", 1)
    assert [one.leaf for one in sheets] == [Leaf.MAIN, Leaf.HEM, Leaf.CORNER, Leaf.HEM]
    faces = [(one.back, one.front) for one in sheets]
    assert faces == [(True, False), (False, True), (True, False), (False, True)]
    assert sheets[2].area.bounds == pytest.approx((11, 1, 15, 5))
    behind = hemmed_twice_round("right", 1)
    assert [one.area for one in behind] == [one.area for one in reversed(sheets)]


# Raw are the inner edges of the hems, 30 and 10 long, and of the corner, 4 and 4; of the strip 30
# at its top and 10 at its left, and of either hem the end that lies there, 4 each. Turned in twice
# the inner edges are folds.
@pytest.mark.parametrize(("times", "raw"), [(1, [40, 34, 8, 14]), (2, [40, 4, 0, 4])])
def test_two_hems_are_folded_where_they_cross(times: int, raw: list[float]) -> None:
    lengths = [float(one.raw_edges.length) for one in hemmed_twice_round("wrong", times)]
    assert lengths == pytest.approx(raw)


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


def hem_at(along: str, edge: str) -> str:
    return f'{{ fold = "hem", along = "{along}", turn = "4", edge = "{edge}" }}'


# Both edges of a strip folded in four meet at its middle, which is its last fold: a hem at either
# lies along that, between the layers, in the 4 mm beside it.
@pytest.mark.parametrize(
    ("along", "edges", "strip"),
    [
        ("width", ["left", "right"], (-15, -5, -11, 5)),
        ("width", ["right", "left"], (11, -5, 15, 5)),
        ("height", ["bottom", "top"], (-15, 1, 15, 5)),
        ("height", ["top"], (-15, -5, 15, -1)),
    ],
)
def test_hems_of_a_strip_in_four_lie_at_its_last_fold(
    along: str, edges: list[str], strip: Bounds
) -> None:
    folds = [hem_at(along, edge) for edge in edges]
    layer = put("", folded(*folds, f'{{ fold = "quarter", along = "{along}" }}'))
    assert [one.outline.bounds for one in layer.hems] == [pytest.approx(strip)] * len(edges)
    assert [one.plies for one in layer.hems] == [1] * len(edges)


# Folded in four to 10 a hem of 10 just fits; one of 11 would go round the crease. Of three thirds
# the outer ones are 9 here.
@pytest.mark.parametrize(
    ("deep", "fold", "most"),
    [("10", "quarter", None), ("11", "quarter", "10"), ("10", "thirds", "9")],
)
def test_a_hem_that_a_later_fold_would_bend_is_refused(
    deep: str, fold: str, most: str | None
) -> None:
    take = ', take = "-2"' if fold == "thirds" else ""
    hem = hem_at("height", "top").replace('"4"', f'"{deep}"')
    folds = hem, f'{{ fold = "{fold}", along = "height"{take} }}'
    if most is None:
        (found,) = put("", folded(*folds)).hems
        assert found.outline.box.height == pytest.approx(10)
        return
    with cannot(f"`strip`, {deep} mm .* past the fold that comes.* turn to at most {most} mm"):
        put("", folded(*folds))


# A strip of 30 × 10 mm: 10 from its bottom to its top, 30 from its right to its left. A fold in
# half along the other size comes after the hem, and does not bend it.
@pytest.mark.parametrize(("along", "turn", "most"), [("height", 12, 10), ("width", 32, 30)])
@pytest.mark.parametrize("crossed", [False, True])
def test_a_hem_is_no_deeper_than_the_piece_where_no_fold_along_it_follows(
    along: str, turn: int, most: int, *, crossed: bool
) -> None:
    edge, across = ("bottom", "width") if along == "height" else ("right", "height")
    hem = f'{{ fold = "hem", along = "{along}", turn = "{turn}", edge = "{edge}" }}'
    folds = [hem] + [f'{{ fold = "half", along = "{across}" }}'] * crossed
    where = f', fold = "{"left" if across == "width" else "top"}"' if crossed else ""
    with cannot(f"`strip`, {turn} mm .* deeper than the piece .*turn to at most {most} mm"):
        put(where, folded(*folds))


# Of a strip folded in four, four layers are turned in at its end: 8 lie there. It is the same
# whichever is done first. Folded in four and turned in along its own side, it is 8 too.
@pytest.mark.parametrize("along", ["height", "width"])
def test_a_hem_turns_in_all_layers_that_were_folded_before(along: str) -> None:
    layer = put("", folded('{ fold = "quarter", along = "width" }', hem_at(along, EDGE[along])))
    assert (layer.plies, [one.plies for one in layer.hems]) == (4, [4])


EDGE = {"height": "bottom", "width": "right"}


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
