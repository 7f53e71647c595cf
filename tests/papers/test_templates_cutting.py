"""Layers for a cutting machine: closed outlines, as many as are cut, and nothing else."""

from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from layout_orders import COASTER, WALLET, laid
from specimens import oblong

from paramgen.papers.cutting_machine import cutting_layer, fabrics
from paramgen.papers.shelves import shelved
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.project import Piece, Project

SVG = "{http://www.w3.org/2000/svg}"
PROJECTS = [laid(WALLET, {"pockets": 3}), laid(COASTER, {"outline": "oval", "height": "80mm"})]


def outlines(text: str) -> list[shapely.Polygon]:
    """Closed paths of a file whose user units are millimetres."""
    root = ET.fromstring(text)
    width, height = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert root.attrib["viewBox"].split() == ["0", "0", *(f"{v:.3f}" for v in (width, height))]
    found = []
    for child in root:
        assert child.tag == f"{SVG}path"
        assert list(child.attrib) == ["d"]
        assert len(child) == 0
        data = child.attrib["d"]
        assert data.startswith("M ")
        assert data.endswith(" Z")
        points = [tuple(map(float, xy.split(","))) for xy in data[2:-2].split(" L ")]
        found.append(shapely.Polygon(points))
    page = shapely.box(0, 0, width, height)
    assert all(page.covers(one) for one in found)
    return found


def aligned(shape: shapely.Polygon) -> shapely.LineString:
    left, top, *_ = shape.bounds
    return shapely.transform(shape.exterior, lambda p: p - (left, top))


@pytest.mark.parametrize("project", PROJECTS, ids=lambda project: project.recipe)
def test_each_piece_is_there_as_often_as_it_is_cut(project: Project) -> None:
    for fabric in fabrics(project.pieces):
        found = outlines(cutting_layer(project.pieces, fabric))
        pieces = [piece for piece in project.pieces if piece.fabric == fabric]
        assert len(found) == sum(piece.quantity for piece in pieces)
        for piece in pieces:
            wanted = aligned(shapely.Polygon(piece.outline.line))
            alike = sum(one.quantity for one in pieces if one.cut == piece.cut)
            near = [one for one in found if aligned(one).hausdorff_distance(wanted) <= 0.05]
            assert len(near) == alike
    assert {piece.fabric for piece in project.pieces} == set(fabrics(project.pieces))


@pytest.mark.parametrize("project", PROJECTS, ids=lambda project: project.recipe)
def test_no_two_overlap(project: Project) -> None:
    for fabric in fabrics(project.pieces):
        found = outlines(cutting_layer(project.pieces, fabric))
        together = shapely.union_all(found)
        assert together.area == pytest.approx(sum(one.area for one in found))


def test_a_piece_wider_than_a_mat_takes_what_it_needs() -> None:
    wide = Piece(
        name="p",
        title="P",
        fabric="felt",
        quantity=2,
        cut=(700, 20),
        folded=(700, 20),
        outline=oblong(-350, -10, 350, 10),
        creases=(),
        grain=Grain.ANY,
    )
    assert len(outlines(cutting_layer([wide], "felt"))) == 2
    assert fabrics([wide, replace(wide, fabric="none", quantity=0)]) == ("felt",)


@given(
    st.lists(st.tuples(st.floats(1, 100), st.floats(1, 100)), max_size=20),
    st.floats(0, 10),
    st.one_of(st.just(float("inf")), st.floats(100, 300)),
)
def test_boxes_on_shelves_lie_apart_within_their_sheet(
    sizes: list[tuple[float, float]], gap: float, height: float
) -> None:
    spots = shelved(sizes, 150.0, height, gap)
    assert sorted(spot.index for spot in spots) == list(range(len(sizes)))
    boxes = []
    for spot in spots:
        wide, high = sizes[spot.index]
        assert 0 <= spot.x <= 150.0 - wide + 1e-9
        assert 0 <= spot.y <= height - high + 1e-9
        boxes.append((spot.sheet, shapely.box(spot.x, spot.y, spot.x + wide, spot.y + high)))
    for i, (sheet, box) in enumerate(boxes):
        for other_sheet, other in boxes[:i]:
            assert sheet != other_sheet or box.distance(other) >= gap - 1e-9
            if sheet == other_sheet:
                assert box.intersection(other).area == 0
