"""A person's own fabrics in the pictures: at true scale, the right way up, told without colour.

How a print lies is written as where its right and its lower side point, x right and y down. Upright
is (1, 0) and (0, 1). What is folded about a horizontal line is mirrored up and down, what is turned
over like a page is mirrored left and right: both together turn a print upside down.
"""

import re
from collections.abc import Iterator
from functools import lru_cache

import numpy as np
import pytest
import shapely
from finished_things import empty, worked
from hypothesis import given
from hypothesis import strategies as st
from papers_read import opened
from PIL import Image
from prints import photograph, seedling, written

from paramgen import Hoop, Made, Order, Room, Workshop, drawn_pictures, find_hoop
from paramgen.cloths.print_picture import cloth_of_picture
from paramgen.drawings.back_end.contrast import GRAPHICS_CONTRAST, contrast
from paramgen.drawings.back_end.looks import INK, LOOKS, PAPER, WEAVES, Texture, look_of
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.lying_prints import corner, on_leaf
from paramgen.drawings.front_end.print_as_cut import print_as_cut
from paramgen.drawings.front_end.scene import Scene, hooped
from paramgen.drawings.pictures.finished_views import finished
from paramgen.drawings.pictures.section import section
from paramgen.drawings.pictures.step import step_picture
from paramgen.drawings.pictures.whole_project import whole
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, Tone
from paramgen.finished.finished_thing import FinishedThing
from paramgen.papers.typeset import typeset
from paramgen.vocabulary.cloth import Cloth, Cloths
from paramgen.vocabulary.kinds import Leaf
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Layer

Way = tuple[tuple[float, float], tuple[float, float]]

UPRIGHT: Way = ((1, 0), (0, 1))
UPSIDE_DOWN: Way = ((-1, 0), (0, -1))
#: Seen from its wrong side, its top at the top.
MIRRORED: Way = ((-1, 0), (0, 1))

colours = st.integers(0, 0xFFFFFF).map(lambda value: f"#{value:06x}")


@lru_cache
def leaves(repeat: float = 30.0) -> Cloth:
    return cloth_of_picture(written(seedling()), "leaves.png", repeat=repeat)


@lru_cache
def wallet() -> FinishedThing:
    return empty(worked("fold-wallet"))


@lru_cache
def wallet_made() -> Made:
    return made("fold-wallet", "8x12in")


def made(recipe: str, hoop: str, copies: int = 1) -> Made:
    shop = Workshop()
    there: Hoop = find_hoop(hoop, shop.hoops)
    return shop.make(Order(shop.recipe(recipe), {}, Room(there), copies=copies))


def scene(one: Made, cloths: Cloths) -> Scene:
    hoop = one.room.hoop
    return hooped(one.project, hoop.name, hoop.width, hoop.height, one.thing, one.move, cloths)


def step(one: Scene, named: str) -> Drawing:
    (number,) = [step.number for step in one.project.steps if step.title == named]
    return step_picture(one, number)


def views(thing: FinishedThing, cloths: Cloths) -> dict[str, Drawing]:
    return {one.name.removeprefix("finished-"): one for one in finished(thing, cloths)}


def printed(drawing: Drawing) -> Iterator[tuple[str, Shape]]:
    """Every area with a print, and the title of the group that it is in."""
    (picture,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "picture")
    for group in picture.items:
        for shape in group.items if isinstance(group, Group) else ():
            if isinstance(shape, Shape) and shape.print_at is not None:
                yield group.title if isinstance(group, Group) else "", shape


def way(shape: Shape) -> Way:
    assert shape.print_at is not None
    return way_of(shape.print_at)


def way_of(lies: Path) -> Way:
    at, right, below = lies.points
    (ax, ay), (bx, by) = np.round(right - at, 6).tolist(), np.round(below - at, 6).tolist()
    return (ax + 0.0, ay + 0.0), (bx + 0.0, by + 0.0)


def ways(drawing: Drawing, *titles: str) -> set[Way]:
    return {way(shape) for title, shape in printed(drawing) if not titles or title in titles}


# --- The way up ----------------------------------------------------------------------------


def test_a_print_stands_upright_on_both_sides_of_what_is_turned_flat() -> None:
    both = views(worked("coaster"), {"top": leaves(), "back": leaves()})
    assert ways(both["front"]) == ways(both["back"]) == {UPRIGHT}


@pytest.mark.parametrize("recipe", ["zip-pouch", "plant-tag"])
def test_a_print_stands_upright_on_every_piece_that_is_seen(recipe: str) -> None:
    cloths = dict.fromkeys(("outer", "lining", "ribbon"), leaves())
    both = views(empty(worked(recipe)), cloths)
    assert ways(both["front"]) == ways(both["back"]) == {UPRIGHT}


def test_over_the_fold_of_a_wallet_one_piece_stands_upside_down_on_the_back() -> None:
    seen = views(wallet(), {"outer": leaves(), "pocket": leaves(), "lining": leaves()})
    assert ways(seen["front"], "upper outer", "lower outer") == {UPRIGHT}
    assert ways(seen["back"], "lower outer") == {UPSIDE_DOWN}
    assert ways(seen["outside"], "upper outer", "lower outer") == {UPRIGHT}
    assert ways(seen["inside"], "pocket 1", "pocket 2", "lining") == {UPRIGHT}


def test_in_the_hoop_a_print_lies_as_its_piece_does() -> None:
    one = scene(wallet_made(), {"outer": leaves(), "pocket": leaves(), "lining": leaves()})
    assert ways(step(one, "Lay the outer pieces")) == {UPRIGHT}
    # Its right side, which is looked at from behind in the end, lies down: it is seen mirrored.
    lining = step(one, "Lay the lining")
    assert ways(lining, "Lay the lining") == {MIRRORED}
    # Folded with its mouth to the middle and then turned over its end: the other leaf is seen, from
    # the other side.
    assert ways(step(one, "Lay pocket 1 at both ends"), "Lay pocket 1 at both ends") == {
        UPSIDE_DOWN
    }
    assert ways(step(one, "Press"), "upper outer", "lower outer") == {UPRIGHT}


def test_on_the_table_a_print_lies_as_its_piece_does() -> None:
    one = scene(wallet_made(), {"outer": leaves()})
    assert ways(step(one, "Fold the upper outer")) == {UPRIGHT}
    fused = step(one, "Fuse the patch for the snap")
    assert ways(fused) == {MIRRORED}
    assert {shape.style for _, shape in printed(fused)} == {Style.WRONG_SIDE}


def test_a_template_shows_the_print_as_it_is_cut_and_never_mirrored() -> None:
    one = scene(wallet_made(), dict.fromkeys(("outer", "pocket", "lining"), leaves()))
    found = {piece.name: print_as_cut(one, piece) for piece in one.project.pieces}
    shown = {name: one and (way_of(one.lies), one.others) for name, one in found.items()}
    # Cut as its right side is looked at: the lining lies with that side down, as it is cut it is
    # not mirrored. What shows of a pocket in the hoop is upside down, so is the half that it is.
    assert shown == {
        "upper-outer": (UPRIGHT, 0),
        "lower-outer": (UPRIGHT, 0),
        "pouch-lining": (UPRIGHT, 0),
        "lining": (UPRIGHT, 0),
        "pocket[1]": (UPSIDE_DOWN, 0),
        "pocket[2]": (UPSIDE_DOWN, 0),
        "ribbon": None,
    }
    svg = drawn_pictures(wallet_made(), {"outer": leaves()})["pieces/lower-outer.svg"]
    assert "print this way up" in svg
    assert svg.count("data:") == 1
    assert "data:" not in drawn_pictures(wallet_made(), {"outer": leaves()})["pieces/lining.svg"]


def test_in_a_project_that_lies_turned_the_print_is_turned_with_it() -> None:
    one = made("plant-tag", "8x12in", copies=3)
    assert one.project.turned
    laid = step(scene(one, {"outer": leaves()}), "Lay the front")
    # By 90° clockwise its right side comes to point down, and its lower side to the left.
    assert ways(laid) == {((0, 1), (-1, 0))}


def test_where_no_finished_thing_is_known_no_print_is_drawn() -> None:
    one, cloth = wallet_made().project, leaves()
    bare = hooped(one, "any", 200, 300, cloths={"outer": cloth})
    drawn = step(bare, "Lay the outer pieces")
    assert ways(drawn) == set()
    assert cloth.colour in to_svg(drawn)
    assert "data:" not in to_svg(drawn)


@given(
    st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
    st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
    st.floats(1, 20),
    st.floats(0, 6.3),
)
def test_over_a_fold_a_print_goes_on(
    at: tuple[float, float], fold: tuple[float, float], length: float, turn: float
) -> None:
    x, y = fold
    end = x + length * float(np.cos(turn)), y + length * float(np.sin(turn))
    layer: Layer = wallet_made().thing.layers[1]
    layer = type(layer)(**{**vars(layer), "folded_edges": ((fold, end),), "plies": 2})
    one, other = (
        shapely.get_coordinates(on_leaf(corner(at), layer, leaf)[0])
        for leaf in (Leaf.FRONT, Leaf.BACK)
    )
    # Where a place on the fold lies in the print is the same on both leaves.
    for place in (fold, end):
        there = [(leaf[1:] - leaf[0]) @ (np.array(place) - leaf[0]) for leaf in (one, other)]
        assert there[0] == pytest.approx(there[1], abs=1e-6)
    assert np.linalg.det(one[1:] - one[0]) == pytest.approx(1.0)
    assert np.linalg.det(other[1:] - other[0]) == pytest.approx(-1.0)


# --- True scale ----------------------------------------------------------------------------


def test_one_repeat_is_as_large_as_on_the_fabric() -> None:
    # 120 × 60 pixels: half as high as it is wide.
    cloth = cloth_of_picture(written(seedling(120, 60)), "", repeat=37.5)
    svg = to_svg(views(worked("coaster"), {"top": cloth})["front"])
    size = re.search(r'<svg[^>]*\bheight="([\d.]+)mm"[^>]*viewBox="\S+ \S+ \S+ ([\d.]+)"', svg)
    assert size is not None
    assert size[1] == size[2]  # a unit of the drawing is a millimetre
    tile = re.search(r"<pattern [^>]*patternUnits[^>]*><image [^>]*>", svg)
    assert tile is not None
    assert tile[0].count('width="37.500"') == tile[0].count('height="18.750"') == 2
    assert {shape.print_at is not None for _, shape in printed(views_of(cloth))} == {True}
    (lies,) = re.findall(r'patternTransform="matrix\(([^)]*)\)"', svg)
    assert lies.split()[:4] == ["1.000", "0.000", "0.000", "1.000"]


def views_of(cloth: Cloth) -> Drawing:
    return views(worked("coaster"), {"top": cloth})["front"]


def test_on_paper_repeats_are_as_far_apart_as_on_the_fabric() -> None:
    spot = Image.new("RGB", (60, 60), "white")
    spot.paste("#ff0000", (24, 24, 36, 36))
    svg = to_svg(views_of(cloth_of_picture(written(spot), "", repeat=30.0)))
    source = '#set document(title: "x")\n#set page(width: auto, height: auto, margin: 0mm)\n'
    pdf = typeset(f'{source}#image("x.svg", alt: "x")', {"x.svg": svg.encode()})
    page = opened(pdf)[0].get_pixmap(dpi=254)  # ten pixels a millimetre
    pixels = np.frombuffer(page.samples, np.uint8).reshape(page.height, page.width, page.n)
    red = (pixels[..., 0] > 200) & (pixels[..., 1] < 60) & (pixels[..., 2] < 60)
    for axis in (0, 1):
        places = np.flatnonzero(red.any(axis=axis))
        spots = [run.mean() for run in np.split(places, np.flatnonzero(np.diff(places) > 50) + 1)]
        assert len(spots) >= 3  # 108 mm of it
        assert np.diff(spots) == pytest.approx(np.full(len(spots) - 1, 300.0), abs=3)


# --- How it is written ---------------------------------------------------------------------


def test_the_same_cloths_give_the_same_bytes() -> None:
    one = wallet_made()
    cloths = {"outer": leaves(), "lining": Cloth("#123456")}
    drawn = drawn_pictures(one, cloths)
    assert drawn == drawn_pictures(one, dict(reversed(cloths.items())))
    assert drawn["finished/front.svg"] != drawn_pictures(one, {})["finished/front.svg"]
    assert drawn["whole.svg"] == drawn_pictures(one, {})["whole.svg"]


def test_without_cloths_pictures_are_as_they_were() -> None:
    assert [to_svg(one) for one in finished(wallet(), {})] == [
        to_svg(one) for one in finished(wallet())
    ]


def test_a_print_is_in_a_drawing_once_and_nothing_is_fetched() -> None:
    photo = cloth_of_picture(written(photograph()), "", repeat=90.0)
    drawn = drawn_pictures(wallet_made(), {"outer": leaves(), "lining": photo, "pocket": photo})
    for name, svg in drawn.items():
        held = re.findall(r'href="([^"]*)"', svg)
        assert {one for one in held if not one.startswith(("#", "data:image/"))} == set(), name
        pictures = [one for one in held if one.startswith("data:")]
        assert len(pictures) <= 3, name
        assert len(svg) < 160_000, name


def test_two_ways_to_lie_are_two_patterns() -> None:
    places = [-1.0, 1.0]
    lies = [Path(np.array([(0.0, 0.0), (a, 0.0), (0.0, b)]), False) for a in places for b in places]
    square = Path(np.array([(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)]), closed=True)
    tone = Tone(0, "", True, leaves())
    shapes = tuple(Shape(square, Style.RIGHT_SIDE, tone=tone, print_at=one) for one in lies)
    box = views_of(leaves()).box
    svg = to_svg(Drawing(name="x", title="", description="", box=box, scale=1.0, items=shapes))
    assert len(set(re.findall(r'fill="url\(#(x-cloth[^)]*)\)"', svg))) == 4
    assert svg.count("data:") == 1


def test_names_in_a_drawing_stand_once() -> None:
    cloths = dict.fromkeys(("outer", "lining", "pocket", "ribbon"), leaves())
    for name, svg in drawn_pictures(wallet_made(), cloths).items():
        names = re.findall(r'\bid="([^"]*)"', svg)
        assert len(names) == len(set(names)), name
        used = set(re.findall(r"url\(#([^)]*)\)", svg)) | set(re.findall(r'href="#([^"]*)"', svg))
        assert used <= set(names), name


# --- Told without colour -------------------------------------------------------------------

FABRICS = (Style.RIGHT_SIDE, Style.WRONG_SIDE, Style.NO_RIGHT_SIDE, Style.SHEET, Style.SWATCH)


@given(colours, st.booleans(), st.booleans(), st.sampled_from(range(len(WEAVES))))
def test_what_lies_over_a_cloth_is_seen_whatever_its_colour(
    colour: str, now: bool, faded: bool, place: int
) -> None:
    tone = Tone(place, "", True, Cloth(colour), faded)
    for style in FABRICS:
        look = look_of(style, now=now, tone=tone)
        assert look.fill is not None
        assert contrast(look.texture_ink, look.fill) >= GRAPHICS_CONTRAST, style
    sheet = look_of(Style.SHEET, tone=tone).fill or ""
    assert contrast(LOOKS[Style.RIGHT_FACE].fill or "", sheet) >= GRAPHICS_CONTRAST
    assert contrast(INK, look_of(Style.TITLE_GROUND, tone=tone).fill or "") >= 4.5


@given(colours, st.booleans())
def test_the_right_and_the_wrong_side_are_told_by_what_lies_over_them(
    colour: str, now: bool
) -> None:
    tone = Tone(0, "", True, Cloth(colour))
    right, wrong = (look_of(style, now=now, tone=tone) for style in FABRICS[:2])
    assert (right.texture, wrong.texture) == (Texture.STREWN, Texture.HATCH)
    assert right.fill == colour


def test_a_print_is_whole_on_its_right_side_and_pale_on_its_wrong_one() -> None:
    tone = Tone(0, "", True, leaves())
    assert look_of(Style.RIGHT_SIDE, tone=tone).strength == 1.0
    assert look_of(Style.WRONG_SIDE, tone=tone).strength < 0.3
    halo = look_of(Style.RIGHT_SIDE, tone=tone)
    assert contrast(halo.texture_ink, halo.texture_halo or "") >= GRAPHICS_CONTRAST


def test_what_was_laid_before_steps_back_behind_what_is_laid_now() -> None:
    drawn = step(scene(wallet_made(), {"outer": leaves(), "pocket": leaves()}), "Lay the tab")
    tones = {shape.tone.faded for _, shape in printed(drawn) if shape.tone}
    assert tones == {True}
    stitched = step(scene(wallet_made(), {"outer": leaves()}), "Tack-down of the tab")
    assert {shape.tone.faded for _, shape in printed(stitched) if shape.tone} == {False}


def test_every_line_over_cloths_has_a_band_of_paper_under_it() -> None:
    black = {"outer": Cloth("#000000"), "lining": Cloth("#000000"), "pocket": Cloth("#000000")}
    one = scene(wallet_made(), black)
    for drawing in (step(one, "Lay the tab"), step(one, "Seam"), step(one, "Press")):
        svg = re.sub(r"<pattern.*?</pattern>", "", to_svg(drawing))
        lines = re.findall(r'<path d="([^"]*)" stroke="(#\w+)"', svg)
        assert len(lines) > 20
        banded = {data for data, colour in lines if colour == PAPER}
        assert {data for data, colour in lines if colour != PAPER} <= banded


def test_a_section_shows_the_colour_of_a_print_pale_and_no_print() -> None:
    svg = to_svg(section(wallet().done, {"outer": leaves()}))
    assert "data:" not in svg
    assert svg != to_svg(section(wallet().done))


def test_every_stitched_line_is_drawn_without_fabrics() -> None:
    cloths = {"outer": leaves()}
    assert to_svg(whole(scene(wallet_made(), cloths))) == to_svg(whole(scene(wallet_made(), {})))


def test_a_shape_without_a_way_shows_the_colour_alone() -> None:
    square = Path(np.array([(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)]), closed=True)
    tone = Tone(0, "", True, leaves())
    shape = Shape(square, Style.RIGHT_SIDE, tone=tone)
    box = views_of(leaves()).box
    drawing = Drawing(name="x", title="", description="", box=box, scale=1.0, items=(shape,))
    assert "data:" not in to_svg(drawing)
    assert leaves().colour in to_svg(drawing)
