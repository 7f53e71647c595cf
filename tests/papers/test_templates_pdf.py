"""The templates, read from the PDF by another library, against the pieces they are of."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from drawings_read import clipped, overlapping
from hypothesis import example, given, settings
from hypothesis import strategies as st
from layout_orders import COASTER, WALLET, Asked, laid
from papers_read import Sheet, Stroke, is_at, outside, over_each_other, read, segments
from shapely import affinity
from specimens import oblong, oval, wallet

from paramgen.drawings.back_end.contrast import contrast
from paramgen.drawings.back_end.looks import look_of
from paramgen.drawings.front_end.fabric_tones import tones_of
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, Text, flat
from paramgen.papers.alike_pieces import alike
from paramgen.papers.document import printed, sheets
from paramgen.papers.prepared_template import centre_marks
from paramgen.papers.printing import Printing
from paramgen.papers.sheet_frame import SheetFrame
from paramgen.papers.templates import template_leaves
from paramgen.recipe.read_recipe import Recipe, find_recipe
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.vocabulary.kinds import Face, FoldKind, Grain
from paramgen.vocabulary.path import Path, path
from paramgen.vocabulary.project import Crease, Piece, Project
from paramgen.vocabulary.unit import Unit

PAPERS = {paper.name: paper for paper in listed_papers()}
INCH = 25.4


def frame(
    paper: str,
    margin: float = 10.0,
    square: tuple[float, float] = (50.0, 50.0),
    *,
    halves: bool = True,
) -> SheetFrame:
    found = find_paper(paper, tuple(PAPERS.values()))
    printing = Printing(found, margin, square, halves)
    return SheetFrame(printing, "Seed-packet wallet, finished 124 × 172 mm")


def pdf_of(project: Project, form: SheetFrame) -> bytes:
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
def test_the_first_page_has_both_squares_true_and_all_others_a_scale(
    recipe: str, size: str, paper: str, unit: Unit
) -> None:
    pages = sheets_of(recipe, size, paper, unit)
    for number, sheet in enumerate(pages, 1):
        centimetres, inches = squares(sheet)
        first = number == 1
        assert (len(centimetres), len(inches)) == (first, first)
        assert ("Print at 100 %, measure this first." in sheet.words) == first
        # What to do where the printer needs more of the paper than 10 mm.
        assert ("make them again with --paper-margin 14mm" in sheet.words) == first
        scale = len(sheet.sized(50.0, 0.0, 0.02)), len(sheet.sized(50.8, 0.0, 0.02))
        assert first or scale == (1, 1)
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
    pale = {
        look_of(Style.SWATCH, tone=tone).fill
        for tone in tones_of(project(recipe, size, unit)).values()
    }
    for sheet in sheets_of(recipe, size, paper, unit):
        for stroke in sheet.strokes:
            colours = [one for one in (stroke.colour, stroke.fill) if one is not None]
            for colour in colours:
                code = "#" + "".join(f"{round(part * 255):02x}" for part in colour)
                # A fabric is told by its mark; its tone lies under that, and under no word.
                on_it = code in pale and not any(
                    shapely.box(*box).intersection(shapely.Polygon(stroke.points)).area > 0.1
                    for _, box in sheet.texts
                )
                assert on_it or code == "#ffffff" or contrast(code, "#ffffff") >= 3.0


def tile_names(sheet: Sheet) -> list[tuple[str, str]]:
    """Piece and name of every part on a page, from the words above it."""
    texts = [text.replace("\u00a0", " ") for text, _ in sheet.texts]
    found = [re.fullmatch(r"Part (\w+) \(A1 to \w+\): (.*)", text) for text in texts]
    return [(one[2], one[1]) for one in found if one]


def groups(found: Project) -> list[list[Piece]]:
    """Pieces that are the same to cut and to fold."""
    alike: dict[object, list[Piece]] = {}
    for piece in found.pieces:
        corners = sorted(map(tuple, np.round(piece.outline.points, 1).tolist()))
        folds = [(one.kind, one.order, one.towards) for one in piece.creases]
        key = str((piece.cut, piece.folded, corners, folds, piece.grain))
        alike.setdefault(key, []).append(piece)
    return list(alike.values())


def halved(piece: Piece) -> list[tuple[float, float]]:
    """Sizes of half of a piece, by each of its folds in half."""
    (width, height), found = piece.cut, []
    for crease in piece.creases:
        if crease.kind is FoldKind.HALF:
            upright = crease.start[0] == crease.end[0]
            found.append((width / 2, height) if upright else (width, height / 2))
    return found


def whole_of(piece: Piece, pages: list[Sheet]) -> tuple[list[Sheet], list[Sheet]]:
    """Pages that have the outline of a piece upright, and turned by a quarter clockwise."""
    upright = piece.outline.line
    turned = affinity.rotate(upright, 90, origin=(0, 0))  # clockwise, as y goes down
    first, second = (
        [sheet for sheet in pages for one in sheet.sized(*sides) if is_at(one, line)]
        for sides, line in ((piece.cut, upright), (piece.cut[::-1], turned))
    )
    return first, [] if piece.cut[0] == piece.cut[1] else second


def halves_of(piece: Piece, pages: list[Sheet]) -> list[Sheet]:
    """Pages that have half of a piece, open along its fold: three sides of a rectangle."""
    sizes = {size for one in halved(piece) for size in (one, one[::-1])}
    return [
        sheet
        for sheet in pages
        for size in sorted(sizes)
        for one in sheet.sized(*size)
        if len(one.points) == 4 and one.points[0] != one.points[-1] and not one.dashed
    ]


@every
def test_every_template_is_there_once_and_says_how_often_it_is_cut(
    recipe: str, size: str, paper: str, unit: Unit
) -> None:
    pages = sheets_of(recipe, size, paper, unit)
    parts = {title for sheet in pages for title, _ in tile_names(sheet)}
    for group in groups(project(recipe, size, unit)):
        piece = group[0]
        upright, turned = whole_of(piece, pages)
        halves = halves_of(piece, pages)
        title = " and ".join(one.title for one in group)
        joined = [title] if title in parts else []
        # Whole, as a half or in parts; and one template serves all that are the same.
        assert len(upright) + len(turned) + len(halves) + len(joined) == 1, title
        assert all("lies turned on this paper" in sheet.words for sheet in turned)
        assert all("lay on the fold of the fabric" in sheet.words for sheet in halves)
        said = [sheet.words for sheet in pages if title in sheet.words]
        counts: dict[str, int] = {}
        for one in group:
            counts[one.fabric] = counts.get(one.fabric, 0) + one.quantity
        cut = ", ".join(f"{count} from {fabric}" for fabric, count in counts.items())
        assert any(f"Cut {cut}" in words for words in said)


def test_what_is_to_be_known_of_a_piece_is_written_on_it() -> None:
    # Arithmetic of the wallet: the upper outer piece is 139 × 102 mm cut, folded in half.
    found = project("wallet", "plain", Unit.MM)
    pages = read(pdf_of(found, frame("a4", halves=False)))
    (page,) = [sheet for sheet in pages if "upper outer" in sheet.words]
    for part in (
        "cut 139 × 102 mm (5 1/2 × 4 in)",
        "folded 139 × 51 mm (5 1/2 × 2 in)",
        "grain along the height",
        "1: fold in half, right sides out",
    ):
        assert part in page.words
    assert not any("on a fold" in sheet.words for sheet in pages)
    # The lower outer piece is 139 × 306 mm cut: half of it, on a fold, is 139 × 153 mm.
    pages = sheets_of("wallet", "plain", "a4", Unit.MM)
    (half,) = [sheet for sheet in pages if "lower outer" in sheet.words]
    for part in (
        "Cut 1 from outer, on a fold",
        "opened out 139 × 306 mm (5 1/2 × 12 1/16 in)",
        "folded 139 × 153 mm (5 1/2 × 6 in)",
    ):
        assert part in half.words
    (sheet,) = sheets_of("coaster", "plain", "letter", Unit.INCH)
    top, _, batting = sheet.words.partition("Cut 1 from batting")
    assert "right side up" in top
    assert "either side up" in batting
    assert "right side up" not in batting


def mirrored_project(*ups: Face) -> Project:
    """A wallet with one piece that is not alike left and right, laid as told."""
    outline = path([(-40, -30), (40, -30), (10, 30), (-40, 30)], closed=True)
    base = wallet()
    layer = next(layer for step in base.steps for layer in step.layers)
    layers = tuple(
        replace(layer, piece="p", fabric="outer", plies=1, up=up, outline=outline) for up in ups
    )
    steps = (replace(base.steps[1], layers=layers),)
    piece = Piece(
        name="p",
        title="Wing",
        fabric="outer",
        quantity=len(ups),
        cut=(80, 60),
        folded=(80, 60),
        outline=outline,
        creases=(),
        grain=Grain.ANY,
    )
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
    width: float,
    height: float,
    grain: Grain = Grain.HEIGHT,
    folds: int = 0,
    *,
    curved: bool = False,
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
    return Piece(
        name="p",
        title="Plain",
        fabric="outer",
        quantity=3,
        cut=(width, height),
        folded=folded,
        outline=outline,
        creases=creases,
        grain=grain,
    )


Trim = tuple[float, float, float, float]


def trims_on(sheet: Sheet) -> dict[str, Trim]:
    """Share of every part on a page, between its crop marks: thin solid lines of 4 mm."""
    named = [
        (name[1], box[0], box[1])
        for text, box in sheet.texts
        if (name := re.match(r"Part (\w+) ", text.replace("\u00a0", " ")))
    ]
    marks: dict[str, list[Stroke]] = {}
    for one in sheet.strokes:
        thin = len(one.points) == 2 and not one.dashed and np.isclose(one.width, 0.35, atol=0.01)
        if thin and np.allclose(sorted(one.size), (0.0, 4.0), atol=0.01):
            left, top, _, _ = one.line.bounds
            # A part lies below its name, and no further to the left.
            above = [(x + y, name) for name, x, y in named if x - 0.6 <= left and y <= top]
            marks.setdefault(max(above)[1], []).append(one)
    return {name: between(found) for name, found in marks.items()}


def between(marks: list[Stroke]) -> Trim:
    xs = [one.line.bounds[0] for one in marks if one.size[0] < 0.1]
    ys = [one.line.bounds[1] for one in marks if one.size[1] < 0.1]
    return min(xs), min(ys), max(xs), max(ys)


def shares_on(pages: list[Sheet]) -> dict[str, tuple[Sheet, Trim]]:
    return {name: (sheet, trim) for sheet in pages for name, trim in trims_on(sheet).items()}


def put_together(pages: list[Sheet]) -> Iterator[shapely.LineString]:
    """Solid lines within the parts' windows, each part laid beside those before it."""
    shares = shares_on(pages)
    wide = {int(name[1:]): trim[2] - trim[0] for name, (_, trim) in shares.items()}
    high = {name[0]: trim[3] - trim[1] for name, (_, trim) in shares.items()}
    for name, (sheet, (left, top, right, bottom)) in shares.items():
        x = sum(wide[one] for one in range(1, int(name[1:]))) - left
        y = sum(high[one] for one in high if one < name[0]) - top
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
    # 400 mm take 3 columns and 2 rows: both papers have under 200 mm of width for parts, which
    # show 10 mm of each other, and over 200 mm of height. 160,000 mm² are more than three A4 sheets
    # within their margins, 190 × 277 mm, and the squares leave little of another.
    names = {f"{row}{column}" for row in "AB" for column in (1, 2, 3)}
    assert set(shares_on(pages)) == names
    assert 4 <= len(pages) <= 6
    outline = shapely.transform(piece.outline.line, lambda p: p + 200.0)
    lines = shapely.union_all(list(put_together(pages)))
    assert outline.difference(lines.buffer(0.05)).is_empty
    assert lines.difference(outline.buffer(0.05)).is_empty
    for sheet in pages:
        assert "A1" in sheet.words  # of the map, or its own
        assert outside(sheet) == []
        assert over_each_other(sheet) == []


def test_neighbours_show_the_same_ten_millimetres() -> None:
    # Across A4 within its margins go 190 mm, 277 mm down it: turned or not, 600 mm take three parts
    # at least, and the squares leave no room for two parts of 170 mm side by side.
    pages = read(pdf_of(replace(wallet(), pieces=(blank(600.0, 170.0),)), frame("a4")))
    shares = shares_on(pages)
    assert sorted(shares) == ["A1", "B1", "C1"]
    reaches = []
    for name in sorted(shares):
        sheet, (left, top, _, bottom) = shares[name]
        edges = [
            one.line.bounds
            for one in sheet.strokes
            if not one.dashed
            and np.isclose(one.width, 0.35, atol=0.01)
            and one.size[1] > 60
            and abs(one.line.bounds[0] - left) < 0.05
        ]
        (edge,) = edges[:1]
        reaches.append((edge[1] - top, edge[3] - bottom))
    assert reaches[0][1] == pytest.approx(5.0, abs=0.05)
    assert reaches[1] == pytest.approx((-5.0, 5.0), abs=0.05)
    assert reaches[2][0] == pytest.approx(-5.0, abs=0.05)


def test_each_edge_that_is_joined_names_the_neighbour_it_is_joined_to() -> None:
    # Parts are at most 158 mm wide and some 205 mm high: 460 mm take three each way.
    pages = read(pdf_of(replace(wallet(), pieces=(blank(460.0, 460.0),)), frame("a4")))
    middle, (left, top, right, bottom) = shares_on(pages)["B2"]
    centres = {
        text: ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        for text, box in middle.texts
        # The map, which names them too, lies within; other parts of the page farther off.
        if not (left < box[0] and box[2] < right and top < box[1] and box[3] < bottom)
        and left - 15 < box[0]
        and box[2] < right + 15
    }
    assert centres["B1"][0] < left < right < centres["B3"][0]
    assert centres["A2"][1] < top < bottom < centres["C2"][1]
    for name in ("B1", "B3"):
        assert top < centres[name][1] < bottom
    assert not {"A1", "A3", "C1", "C3"} & set(centres)


def test_a_tile_that_would_show_nothing_is_left_out() -> None:
    # A thin bow: a quarter of a ring of 400 mm, 10 mm wide. Parts are at most 158 mm wide and some
    # 205 mm high, so that the one in the corner that it bends round reaches 259 mm from there.
    angle = np.linspace(0, np.pi / 2, 200)
    arc = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    outline = path(np.vstack([arc * 400, arc[::-1] * 390]) - 200, closed=True)
    piece = replace(blank(400.0, 400.0), outline=outline)
    pages = read(pdf_of(replace(wallet(), pieces=(piece,)), frame("a4")))
    names = {name for sheet in pages for _, name in tile_names(sheet)}
    turned = "lies turned" in pages[0].words
    corner = "A3" if turned else "A1"
    assert {f"{row}{column}" for row in "AB" for column in (1, 2, 3)} - names >= {corner}
    lines = shapely.union_all(list(put_together(pages)))
    lying = affinity.rotate(outline.line, 90 if turned else 0, origin=(0, 0))
    expected = shapely.transform(lying, lambda points: points + 200.0)
    assert expected.difference(lines.buffer(0.05)).is_empty


def test_a_corrected_paper_comes_out_true_from_the_printer_that_was_measured() -> None:
    square = (49.5, 50.2)
    form = frame("a4", square=square)
    found = project("wallet", "plain", Unit.MM)
    pages = read(pdf_of(found, form))
    across, down = square[0] / 50, square[1] / 50
    for sheet in pages:
        assert sheet.width == pytest.approx(210.0, abs=0.01)
    assert "prints 5 cm as 49.5 mm across and 50.2 mm down" in pages[0].words
    assert len(pages[0].sized(50 / across, 50 / down)) == 1
    assert len(pages[0].sized(50.8 / across, 50.8 / down)) == 1
    assert all(len(sheet.sized(50 / across, 0.0, 0.02)) == 1 for sheet in pages[1:])
    # What the printer makes of the tab, 19 × 84 mm as cut, is again 19 × 84 mm.
    (tab,) = [piece for piece in found.pieces if piece.name == "ribbon"]
    printed_tab = [
        stroke
        for sheet in pages
        for size in (tab.cut, tab.cut[::-1])
        for stroke in sheet.sized(size[0] / across, size[1] / down)
    ]
    assert len(printed_tab) == 1
    assert not any("Corrected" in sheet.words for sheet in read(pdf_of(found, frame("a4"))))


def test_the_margin_can_be_set() -> None:
    for sheet in read(pdf_of(project("coaster", "plain", Unit.MM), frame("a4", margin=17.0))):
        inner = shapely.box(17, 17, sheet.width - 17, sheet.height - 17).buffer(0.2)
        assert all(inner.covers(one.line) for one in sheet.strokes if one.colour is not None)


def test_small_pieces_share_a_page() -> None:
    widths = [58, 58.5, 59, 59.5, 60, 60.5]
    pieces = tuple(
        replace(blank(wide, 60), name=f"p{i}", title=f"Tag {i}") for i, wide in enumerate(widths)
    )
    (sheet,) = read(pdf_of(replace(wallet(), pieces=pieces), frame("a4")))
    outlines = [shapely.Polygon(one.points) for w in widths for one in sheet.sized(w, 60)]
    assert len(outlines) == 6
    assert shapely.union_all(outlines).area == pytest.approx(60 * sum(widths), rel=1e-3)


@pytest.mark.parametrize("title", ["Upper front", "Lower front pocket lining"])
def test_a_narrow_folded_piece_that_is_joined_is_named_on_each_of_its_parts(title: str) -> None:
    # Of 352 mm only 190 go across A4. Half of its 64 mm, to the fold, is room for some ten letters
    # of 2 mm: where a longer name stands beside the crease, it is written in several lines.
    piece = replace(blank(352, 64, folds=1), title=title)
    (page,) = read(pdf_of(replace(wallet(), pieces=(piece,)), frame("a4")))
    assert tile_names(page) == [(title, "A1"), (title, "B1")]
    for name, (left, top, right, bottom) in trims_on(page).items():
        within = shapely.box(left, top, right, bottom)
        on_it = [text for text, box in page.texts if within.covers(shapely.box(*box))]
        assert f"{title} {name}" in " ".join(on_it).replace("\u00a0", " ")


def boxes_on(sheet: Sheet, *sizes: tuple[float, float]) -> int:
    return sum(len(sheet.sized(*size)) for size in sizes)


@pytest.mark.parametrize(
    ("sizes", "turned", "pages"),
    [
        # A4 within its margins is 190 mm wide. Two of 120 × 90 mm lie below each other as they are.
        ([(120, 90), (121, 90)], 0, 1),
        # Of 250 mm only 190 go across, but all of them down the sheet beside the squares.
        ([(250, 60)], 1, 1),
        # Three of 90 × 60 mm, two of them side by side, leave no 130 mm across but 60 mm.
        ([(90, 200), (90, 140), (60, 55)], 0, 1),
        # Nothing is turned where it saves nothing: these take two sheets either way.
        ([(180, 150), (181, 150)], 0, 2),
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
    (sheet,) = read(
        pdf_of(replace(wallet(), pieces=(blank(250, 60, Grain.WIDTH, 1),)), frame("a4"))
    )
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


@settings(max_examples=12)
# Its map of two parts is narrower than a bold letter is wide.
@example(
    sizes=[(22.0, 276.0)],
    grain="width",
    folds=0,
    curved=False,
    paper="A4",
    margin=0.0,
    square=(48.0, 48.0),
    title="Plain",
)
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


@pytest.mark.parametrize(
    "name", ["fold-wallet", "zip-pouch", "coaster", "plant-tag", "flap-sleeve", "notebook-cover"]
)
def test_every_template_shows_its_fabrics_as_the_pictures_do(name: str) -> None:
    sized = laid(find_recipe(name), {})
    tones = tones_of(sized)
    leaves = template_leaves(sized, frame("a4"))
    shapes = [one for leaf in leaves for one in flat(leaf.picture) if isinstance(one, Shape)]
    shown = [one.tone for one in shapes if one.style is Style.SWATCH]
    assert {one for one in shown if one} == {tones[piece.fabric] for piece in sized.pieces}
    # As often as there are templates that are cut from it, and no more than on each of its parts.
    for tone in set(shown):
        groups = [g for g in alike(sized.pieces) if any(tones[p.fabric] == tone for p in g)]
        assert shown.count(tone) >= len(groups)
