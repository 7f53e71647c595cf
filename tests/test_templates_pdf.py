"""The templates, read from the PDF by another library, against the pieces they are of."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from drawings_read import clipped, overlapping
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import COASTER, WALLET, Asked, laid
from papers_read import Sheet, Stroke, is_at, outside, over_each_other, read, segments
from shapely import affinity
from specimens import oblong, oval, wallet

from paramgen.drawings.contrast import contrast
from paramgen.drawings.primitives import Drawing, Group, Shape, Style, Text, flat
from paramgen.geometry.path import Path, path
from paramgen.layout.project import Crease, Face, FoldKind, Grain, Piece, Project
from paramgen.lengths import Unit
from paramgen.papers.document import printed, sheets
from paramgen.papers.frame import Frame
from paramgen.papers.printing import Printing
from paramgen.papers.templates import centre_marks, template_leaves
from paramgen.recipe.read import Recipe
from paramgen.reference.papers import find_paper, listed_papers

PAPERS = {paper.name: paper for paper in listed_papers()}
INCH = 25.4


def frame(paper: str, margin: float = 10.0, square: tuple[float, float] = (50.0, 50.0)) -> Frame:
    found = find_paper(paper, tuple(PAPERS.values()))
    return Frame(Printing(found, margin, square), "Seed-packet wallet, finished 124 × 172 mm")


def pdf_of(project: Project, form: Frame) -> bytes:
    return printed(form, template_leaves(project, form), "template")


@cache
def project(recipe: str, size: str, unit: Unit) -> Project:
    sizes: dict[tuple[str, str], tuple[Recipe, Asked]] = {
        ("wallet", "plain"): (WALLET, {}),
        ("wallet", "small"): (WALLET, {"width": "75mm", "height": "130mm", "pockets": "1"}),
        ("wallet", "large"): (WALLET, {"width": "330mm", "height": "360mm"}),
        ("coaster", "plain"): (COASTER, {}),
        ("coaster", "small"): (COASTER, {"width": "70mm", "outline": "round"}),
        ("coaster", "large"): (COASTER, {"width": "250mm", "outline": "polygon"}),
    }
    return laid(*sizes[recipe, size], unit)


every = pytest.mark.parametrize(
    ("recipe", "size", "paper", "unit"),
    [
        ("wallet", "plain", "a4", Unit.MM),
        ("wallet", "plain", "letter", Unit.INCH),
        ("wallet", "small", "a5", Unit.MM),
        ("wallet", "large", "a2", Unit.MM),
        ("coaster", "plain", "letter", Unit.INCH),
        ("coaster", "small", "a4", Unit.MM),
        ("coaster", "large", "letter", Unit.INCH),
        ("coaster", "large", "roll:610mm", Unit.MM),
    ],
)


@cache
def sheets_of(recipe: str, size: str, paper: str, unit: Unit) -> list[Sheet]:
    return read(pdf_of(project(recipe, size, unit), frame(paper)))


def squares(sheet: Sheet) -> tuple[list[Stroke], list[Stroke]]:
    return sheet.sized(50.0, 50.0, 0.05), sheet.sized(50.8, 50.8, 0.05)


@every
def test_every_page_has_both_squares_true_and_says_what_they_are_for(
    recipe: str, size: str, paper: str, unit: Unit
) -> None:
    pages = sheets_of(recipe, size, paper, unit)
    for number, sheet in enumerate(pages, 1):
        centimetres, inches = squares(sheet)
        assert (len(centimetres), len(inches)) == (1, 1)
        assert "Print at 100 %, measure this first." in sheet.words
        assert f"Page {number} of {len(pages)}" in sheet.words


@every
def test_pages_are_the_papers_and_keep_its_margins(
    recipe: str, size: str, paper: str, unit: Unit
) -> None:
    for sheet in sheets_of(recipe, size, paper, unit):
        known = find_paper(paper, tuple(PAPERS.values()))
        assert sheet.width == pytest.approx(known.width, abs=0.01)
        if known.height:
            assert sheet.height == pytest.approx(known.height, abs=0.01)
        inner = shapely.box(10, 10, sheet.width - 10, sheet.height - 10).buffer(0.2)
        drawn = [stroke for stroke in sheet.strokes if stroke.colour is not None]
        assert all(inner.covers(stroke.line) for stroke in drawn)
        assert all(inner.covers(shapely.box(*box)) for _, box in sheet.texts)


@every
def test_no_text_lies_outside_its_page_or_over_another(
    recipe: str, size: str, paper: str, unit: Unit
) -> None:
    for sheet in sheets_of(recipe, size, paper, unit):
        assert outside(sheet) == []
        assert over_each_other(sheet) == []


@every
def test_all_is_dark_enough_on_white(recipe: str, size: str, paper: str, unit: Unit) -> None:
    # WCAG 2.2: 4.5 for text, which is drawn in the darkest colour; 3 for lines.
    for sheet in sheets_of(recipe, size, paper, unit):
        for stroke in sheet.strokes:
            colours = [one for one in (stroke.colour, stroke.fill) if one is not None]
            for colour in colours:
                code = "#" + "".join(f"{round(part * 255):02x}" for part in colour)
                assert code == "#ffffff" or contrast(code, "#ffffff") >= 3.0


def tile_names(sheet: Sheet) -> tuple[str, str] | None:
    """Piece and name of a tile, from the heading of its page."""
    heading = sheet.texts[0][0].replace("\u00a0", " ")
    title, found, rest = heading.partition(": sheet ")
    return (title, rest.partition(",")[0]) if found else None


@every
def test_every_piece_is_there_once_and_says_how_often_it_is_cut(
    recipe: str, size: str, paper: str, unit: Unit
) -> None:
    pages = sheets_of(recipe, size, paper, unit)
    found = project(recipe, size, unit)
    for piece in found.pieces:
        upright = piece.outline.line
        turned = affinity.rotate(upright, 90, origin=(0, 0))  # clockwise, as y goes down
        width, height = piece.cut
        square = width == height
        # On A5, 128 × 190 mm within its margins, a pocket of 90 × 126 lies across the sheet: the
        # heading and the squares of 51 need the height.
        whole, across = (
            [(sheet, one) for sheet in pages for one in sheet.sized(*sides) if is_at(one, line)]
            for sides, line in (((width, height), upright), ((height, width), turned))
        )
        alike = [one for one in found.pieces if one.cut == piece.cut]
        tiled = {name for sheet in pages if (name := tile_names(sheet)) and name[0] == piece.title}
        assert len(whole) + (0 if square else len(across)) == (0 if tiled else len(alike))
        if not square:
            assert all(
                "lies turned on this paper, its top at the right" in sheet.words
                for sheet, _ in across
            )
        said = [sheet.words for sheet in pages if piece.title in sheet.words]
        assert any(f"Cut {piece.quantity} from {piece.fabric}" in words for words in said)


def test_what_is_to_be_known_of_a_piece_is_written_on_it() -> None:
    # Arithmetic of the wallet: the upper outer piece is 139 × 102 mm cut, folded in half.
    (page,) = [s for s in sheets_of("wallet", "plain", "a4", Unit.MM) if "upper outer" in s.words]
    for part in (
        "cut 139 × 102 mm (5 1/2 × 4 in)",
        "folded 139 × 51 mm (5 1/2 × 2 in)",
        "grain along the height",
        "1: fold in half, right sides out",
        "right side up",
    ):
        assert part in page.words
    (batting,) = [
        sheet
        for sheet in sheets_of("coaster", "plain", "letter", Unit.INCH)
        if "Cut 1 from batting" in sheet.words
    ]
    assert "either side up" in batting.words
    assert "right side up" not in batting.words


def mirrored_project(*ups: Face) -> Project:
    """A wallet with one piece that is not alike left and right, laid as told."""
    outline = path([(-40, -30), (40, -30), (10, 30), (-40, 30)], closed=True)
    base = wallet()
    layer = next(layer for step in base.steps for layer in step.layers)
    layers = tuple(
        replace(layer, piece="p", fabric="outer", plies=1, up=up, outline=outline) for up in ups
    )
    steps = (replace(base.steps[1], layers=layers),)
    piece = Piece("p", "Wing", "outer", len(ups), (80, 60), (80, 60), outline, (), "any")
    return replace(base, pieces=(piece,), steps=steps)


@pytest.mark.parametrize(
    ("ups", "words"),
    [
        (("right",), "right side up"),
        (("wrong",), "wrong side up"),
        (("wrong", "right"), "1 right side up, 1 wrong side up"),
    ],
)
def test_a_piece_unlike_its_mirror_image_says_which_side_is_up(
    ups: tuple[Face, ...], words: str
) -> None:
    (sheet,) = read(pdf_of(mirrored_project(*ups), frame("a4")))
    assert words in sheet.words


def blank(
    width: float, height: float, grain: Grain = "height", folds: int = 0, *, curved: bool = False
) -> Piece:
    outline = (
        oval(width, height) if curved else oblong(-width / 2, -height / 2, width / 2, height / 2)
    )
    places = [height * (one + 1) / (folds + 1) - height / 2 for one in range(folds)]
    creases = tuple(
        Crease(order, FoldKind.HALF, (-width / 2, y), (width / 2, y), "right sides out")
        for order, y in enumerate(places, 1)
    )
    folded = (width, height / (folds + 1))
    return Piece("p", "Plain", "outer", 3, (width, height), folded, outline, creases, grain)


def trim_of(sheet: Sheet) -> tuple[float, float, float, float]:
    """Share of a tile on its page, between its crop marks: short solid lines of 4 mm."""
    marks = [one for one in sheet.strokes if len(one.points) == 2 and not one.dashed]
    level = [one for one in marks if np.allclose(one.size, (4.0, 0.0), atol=0.01)]
    upright = [one for one in marks if np.allclose(one.size, (0.0, 4.0), atol=0.01)]
    # Marks at the middle of an edge are as long: crop marks are the outermost, two by two.
    left = min(one.line.bounds[0] for one in level)
    top = min(one.line.bounds[1] for one in upright)
    xs = [one.line.bounds[0] for one in upright if abs(one.line.bounds[1] - top) < 0.01]
    ys = [one.line.bounds[1] for one in level if abs(one.line.bounds[0] - left) < 0.01]
    return min(xs), min(ys), max(xs), max(ys)


def put_together(pages: list[Sheet]) -> Iterator[shapely.LineString]:
    """Solid lines within the tiles' windows, each tile laid beside the one before."""
    shares = {}
    for sheet in pages:
        name = tile_names(sheet)
        assert name is not None
        shares[name[1]] = (sheet, trim_of(sheet))
    for tile, (sheet, (left, top, right, bottom)) in shares.items():
        column, row = int(tile[1:]) - 1, ord(tile[0]) - ord("A")
        # All tiles are alike, so a share's own size says where it lies.
        x, y = column * (right - left) - left, row * (bottom - top) - top
        window = shapely.box(left, top, right, bottom).buffer(5.2, join_style="mitre")
        for stroke in sheet.strokes:
            if stroke.dashed or not np.isclose(stroke.width, 0.35, atol=0.01):
                continue
            for segment in segments(stroke):
                if window.covers(segment):
                    yield affinity.translate(segment, x, y)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("curved", [False, True])
def test_tiles_put_together_are_the_whole_outline(paper: str, curved: bool) -> None:
    piece = blank(400.0, 400.0, curved=curved)
    pages = read(pdf_of(replace(wallet(), pieces=(piece,)), frame(paper)))
    # 400 mm take 3 columns and 3 rows: both papers have under 200 mm of width for tiles, which
    # show 10 mm of each other, and between 134 and 210 mm of height.
    assert len(pages) == 9
    outline = shapely.transform(piece.outline.line, lambda p: p + 200.0)
    lines = shapely.union_all(list(put_together(pages)))
    assert outline.difference(lines.buffer(0.05)).is_empty
    assert lines.difference(outline.buffer(0.05)).is_empty
    for sheet in pages:
        assert "A1" in sheet.words  # of the map, or its own
        assert outside(sheet) == []
        assert over_each_other(sheet) == []


def test_neighbours_show_the_same_ten_millimetres() -> None:
    pages = read(pdf_of(replace(wallet(), pieces=(blank(400.0, 100.0),)), frame("a4")))
    assert [tile_names(sheet) for sheet in pages] == [("Plain", f"A{i}") for i in (1, 2, 3)]
    reaches = []
    for sheet in pages:
        left, top, right, _ = trim_of(sheet)
        edges = [
            one.line.bounds
            for one in sheet.strokes
            if not one.dashed
            and np.isclose(one.width, 0.35, atol=0.01)
            and one.size[0] > 60
            and abs(one.line.bounds[1] - top) < 0.05
        ]
        (edge,) = edges[:1]
        reaches.append((edge[0] - left, edge[2] - right))
    assert reaches[0][1] == pytest.approx(5.0, abs=0.05)
    assert reaches[1] == pytest.approx((-5.0, 5.0), abs=0.05)
    assert reaches[2][0] == pytest.approx(-5.0, abs=0.05)


def test_each_edge_that_is_joined_names_the_neighbour_it_is_joined_to() -> None:
    pages = read(pdf_of(replace(wallet(), pieces=(blank(400.0, 400.0),)), frame("a4")))
    (middle,) = [sheet for sheet in pages if tile_names(sheet) == ("Plain", "B2")]
    left, top, right, bottom = trim_of(middle)
    centres = {
        text: ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        for text, box in middle.texts
        if box[3] < bottom + 15  # above the map, which names them too
    }
    assert centres["B1"][0] < left < right < centres["B3"][0]
    assert centres["A2"][1] < top < bottom < centres["C2"][1]
    for name in ("B1", "B3"):
        assert top < centres[name][1] < bottom
    assert not {"A1", "A3", "C1", "C3"} & set(centres)


def test_a_tile_that_would_show_nothing_is_left_out() -> None:
    # A thin bow: a quarter of a ring of 400 mm, 10 mm wide, leaves two of nine tiles empty
    # at least: the middle of the square of 400 mm is 282 mm from the corner it bends round.
    angle = np.linspace(0, np.pi / 2, 200)
    arc = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    outline = path(np.vstack([arc * 400, arc[::-1] * 390]) - 200, closed=True)
    piece = replace(blank(400.0, 400.0), outline=outline)
    pages = read(pdf_of(replace(wallet(), pieces=(piece,)), frame("a4")))
    names = {name[1] for sheet in pages if (name := tile_names(sheet))}
    assert "A1" not in names
    assert "C3" in names or len(names) < 9
    lines = shapely.union_all(list(put_together(pages)))
    expected = shapely.transform(outline.line, lambda p: p + 200.0)
    assert expected.difference(lines.buffer(0.05)).is_empty


def test_a_corrected_paper_comes_out_true_from_the_printer_that_was_measured() -> None:
    square = (49.5, 50.2)
    form = frame("a4", square=square)
    found = project("wallet", "plain", Unit.MM)
    pages = read(pdf_of(found, form))
    across, down = square[0] / 50, square[1] / 50
    for sheet in pages:
        assert sheet.width == pytest.approx(210.0, abs=0.01)
        assert "prints 5 cm as 49.5 mm across and 50.2 mm down" in sheet.words
        assert len(sheet.sized(50 / across, 50 / down)) == 1
        assert len(sheet.sized(50.8 / across, 50.8 / down)) == 1
    # What the printer makes of the tab, 19 × 84 mm as cut, is again 19 × 84 mm.
    (tab,) = [piece for piece in found.pieces if piece.name == "ribbon"]
    printed_tab = [
        stroke for sheet in pages for stroke in sheet.sized(tab.cut[0] / across, tab.cut[1] / down)
    ]
    assert len(printed_tab) == 1
    assert not any("Corrected" in sheet.words for sheet in read(pdf_of(found, frame("a4"))))


def test_the_margin_can_be_set() -> None:
    for sheet in read(pdf_of(project("coaster", "plain", Unit.MM), frame("a4", margin=17.0))):
        inner = shapely.box(17, 17, sheet.width - 17, sheet.height - 17).buffer(0.2)
        assert all(inner.covers(one.line) for one in sheet.strokes if one.colour is not None)


def test_small_pieces_share_a_page() -> None:
    pieces = tuple(replace(blank(60, 60), name=f"p{i}", title=f"Tag {i}") for i in range(6))
    (sheet,) = read(pdf_of(replace(wallet(), pieces=pieces), frame("a4")))
    outlines = [shapely.Polygon(stroke.points) for stroke in sheet.sized(60, 60)]
    assert len(outlines) == 6
    assert shapely.union_all(outlines).area == pytest.approx(6 * 3600, rel=1e-3)


@pytest.mark.parametrize("title", ["Upper front", "Lower front pocket lining"])
def test_a_narrow_folded_piece_that_is_joined_is_named_on_each_of_its_sheets(title: str) -> None:
    # Of 352 mm only 190 go across A4: turned, it takes two sheets. Half of its 64 mm, to the
    # fold, is room for some ten letters of 2 mm: a longer name is written in several lines.
    piece = replace(blank(352, 64, folds=1), title=title)
    pages = read(pdf_of(replace(wallet(), pieces=(piece,)), frame("a4")))
    assert [tile_names(page) for page in pages] == [(title, "A1"), (title, "B1")]
    for page, name in zip(pages, ("A1", "B1"), strict=True):
        left, top, right, bottom = trim_of(page)
        on_it = [
            text.replace("\u00a0", " ")
            for text, box in page.texts
            if left < box[0] and box[2] < right and top < box[1] and box[3] < bottom
        ]
        assert " ".join(on_it).replace("1 ", "", 1) == f"{title} {name}"


def boxes_on(sheet: Sheet, *sizes: tuple[float, float]) -> int:
    return sum(len(sheet.sized(*size)) for size in sizes)


@pytest.mark.parametrize(
    ("sizes", "turned", "pages"),
    [
        # A4 within its margins is 190 mm wide. Two of 120 × 90 mm lie below each other as they are.
        ([(120, 90), (120, 90)], 0, 1),
        # Of 250 mm only 190 go across, but all of them down the sheet beside the squares.
        ([(250, 60)], 1, 1),
        # Three of 90 × 60 mm, two of them side by side, leave no 130 mm across but 60 mm.
        ([(90, 200), (90, 140), (60, 55)], 0, 1),
        # Nothing is turned where it saves nothing: these take two sheets either way.
        ([(180, 150), (180, 150)], 0, 2),
    ],
)
def test_a_piece_is_turned_only_where_that_saves_a_sheet(
    sizes: list[tuple[float, float]], turned: int, pages: int
) -> None:
    pieces = tuple(
        replace(blank(*size), name=f"p{i}", title=f"Tag {i}") for i, size in enumerate(sizes)
    )
    found = read(pdf_of(replace(wallet(), pieces=pieces), frame("a4")))
    assert len(found) == pages
    words = " ".join(sheet.words for sheet in found)
    assert words.count("lies turned on this paper") == turned
    upright = sum(boxes_on(sheet, size) for sheet in found for size in set(sizes))
    across = sum(boxes_on(sheet, size[::-1]) for sheet in found for size in set(sizes))
    assert (upright, across) == (len(sizes) - turned, turned)


def test_the_grain_and_the_folds_turn_with_their_piece() -> None:
    (sheet,) = read(pdf_of(replace(wallet(), pieces=(blank(250, 60, "width", 1),)), frame("a4")))
    (outline,) = sheet.sized(60.0, 250.0)
    left, top, _, bottom = outline.line.bounds
    # The crease runs along the width of 250 mm, so now down the sheet, in the middle.
    creases = [one for one in sheet.strokes if one.dashed and one.size[1] > 20]
    assert creases
    for crease in creases:
        assert crease.line.bounds[0] == pytest.approx(left + 30.0, abs=0.05)
        assert crease.line.bounds[2] == pytest.approx(left + 30.0, abs=0.05)
    ((number, box),) = [(text, box) for text, box in sheet.texts if text == "1"]
    assert (box[0] + box[2]) / 2 == pytest.approx(left + 30.0, abs=0.2), number
    # So does the arrow of a grain along the width: an upright line off the middle.
    arrows = [
        one
        for one in sheet.strokes
        if not one.dashed and one.size[0] < 0.05 and 20 < one.size[1] < bottom - top - 1
    ]
    assert len(arrows) == 1
    assert "grain along the width" in sheet.words


RECTANGLE = {(0, -20), (30, 0), (0, 20), (-30, 0)}
HEXAGON = [(20, 0), (10, 17.32), (-10, 17.32), (-20, 0), (-10, -17.32), (10, -17.32)]


@pytest.mark.parametrize(
    ("outline", "places"),
    [
        (oblong(-30, -20, 30, 20), RECTANGLE),
        # The same the other way round.
        (path([(-30, 20), (30, 20), (30, -20), (-30, -20)], closed=True), RECTANGLE),
        (oval(80, 50), {(0, -25), (40, 0), (0, 25), (-40, 0)}),
        # A hexagon with corners at its left and right: the middles of its six edges.
        (
            path(HEXAGON, closed=True),
            {(15, 8.66), (0, 17.32), (-15, 8.66), (-15, -8.66), (0, -17.32), (15, -8.66)},
        ),
    ],
)  # fmt: skip
def test_the_middle_of_every_edge_is_marked_inwards(
    outline: Path, places: set[tuple[float, float]]
) -> None:
    marks = centre_marks(outline)
    starts = sorted(tuple(np.round(mark.points[0], 1) + 0.0) for mark in marks)
    assert starts == sorted((round(x, 1), round(y, 1)) for x, y in places)
    inside = outline.area.buffer(0.02)
    assert all(inside.covers(mark.line) for mark in marks)


def test_the_same_project_gives_the_same_bytes() -> None:
    found = project("coaster", "plain", Unit.MM)
    assert pdf_of(found, frame("a4")) == pdf_of(found, frame("a4"))
    assert pdf_of(found, frame("a4")) != pdf_of(found, frame("a5"))


LINES = (Style.CUT_LINE, Style.CREASE, Style.CENTRE_MARK, Style.GRAIN, Style.JOIN_LINE)


def words_over_lines(sheet: Drawing) -> list[str]:
    """Words that hide a line of a piece; the number of a crease stands in its ring on it."""
    (picture,) = (one for one in sheet.items if isinstance(one, Group) and one.name == "picture")
    shapes = list(flat(picture.items))
    lines = [one.path.line for one in shapes
             if isinstance(one, Shape) and one.style in LINES]  # fmt: skip
    rings = [one.path.area for one in shapes
             if isinstance(one, Shape) and one.style is Style.BADGE]  # fmt: skip
    found = []
    for text in (one for one in shapes if isinstance(one, Text)):
        box = shapely.box(text.box.left, text.box.top, text.box.right, text.box.bottom)
        if not any(ring.covers(box.centroid) for ring in rings):
            found += [text.words for line in lines if line.intersects(box)]
    return found


@settings(deadline=None, max_examples=12)
@given(
    sizes=st.lists(st.tuples(st.floats(15, 330), st.floats(15, 330)), min_size=1, max_size=2),
    grain=st.sampled_from(["width", "height", "any"]),
    folds=st.integers(0, 3),
    curved=st.booleans(),
    paper=st.sampled_from(["A4", "Letter", "A3", "roll:610mm"]),
    margin=st.floats(0, 20),
    square=st.tuples(st.floats(47.5, 52.5), st.floats(47.5, 52.5)),
    title=st.sampled_from(["Plain", "Pocket for the packets of one swap " * 16, "W" * 600]),
)
def test_no_piece_of_any_size_overflows_its_sheet(
    sizes: list[tuple[float, float]],
    grain: Grain,
    folds: int,
    curved: bool,
    paper: str,
    margin: float,
    square: tuple[float, float],
    title: str,
) -> None:
    form = replace(frame(paper, margin, square), subject=title)
    pieces = tuple(
        replace(blank(*size, grain, folds, curved=curved), name=f"p{i}", title=title)
        for i, size in enumerate(sizes)
    )
    for sheet in sheets(form, template_leaves(replace(wallet(), pieces=pieces), form), "t"):
        assert words_over_lines(sheet) == []
        assert clipped(sheet) == []
        assert overlapping(sheet) == []
        inner = form.inner
        for item in flat(sheet.items):
            if isinstance(item, Shape):
                left, top, right, bottom = item.path.bounds
                assert inner.left - 0.3 <= left <= right <= inner.right + 0.3
                assert inner.top - 0.3 <= top
                assert bottom <= sheet.box.bottom - inner.top + 0.3


def test_a_sheet_speaks_of_folds_only_if_it_has_any() -> None:
    form = frame("a4")
    for recipe in ("wallet", "coaster"):
        for leaf in template_leaves(project(recipe, "plain", Unit.MM), form):
            folds = any(
                isinstance(one, Shape) and one.style is Style.CREASE for one in flat(leaf.picture)
            )
            said = " ".join(one.text for one in leaf.heading)
            assert ("fold" in said) == folds
