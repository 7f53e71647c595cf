"""Pictures of where findings are, and the folder that `check --places` makes of them."""

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from command_line import paramgen
from drawings_read import clipped, of_style, overlapping, words
from flat_recipe import flat_text
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_orders import HOOPS
from specimens import coaster, wallet
from told import words as facts_saying

from paramgen.cli.check_command import check
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.finding_place import place_picture
from paramgen.drawings.primitives.items import Drawing, Style
from paramgen.making import Attempt
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.pack.finding_pictures import place_pictures, write_places
from paramgen.reference.hoops import find_hoop
from paramgen.vocabulary.findings import Finding, Severity, WriteError
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Project

SQUARE = ((-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0), (-10.0, -10.0))


def finding(place: tuple[Point, ...], message: str = "the tab comes loose") -> Finding:
    return Finding(
        "recipe-condition",
        Severity.CANNOT,
        facts_saying(message, remedy="Lay it 4 mm farther out."),
        place=place,
    )


def drawn(place: tuple[Point, ...], project: Project | None = None) -> Drawing:
    scene = hooped(project or wallet(), "130x180", 130.0, 180.0)
    return place_picture(scene, finding(place), 3)


def test_an_area_a_line_and_a_point_are_drawn_where_they_are() -> None:
    (square,) = of_style(drawn(SQUARE), Style.PLACE)
    assert square.path.closed
    assert square.path.bounds == (-10.0, -10.0, 10.0, 10.0)
    (line,) = of_style(drawn(SQUARE[:3]), Style.PLACE)
    assert not line.path.closed
    assert line.path.points.tolist() == [list(point) for point in SQUARE[:3]]
    (ring,) = of_style(drawn(((20.0, 30.0),)), Style.PLACE)
    left, top, right, bottom = ring.path.bounds
    assert ((left + right) / 2, (top + bottom) / 2) == pytest.approx((20.0, 30.0))
    assert right - left >= 3.0  # large enough to be seen


def test_what_is_small_has_a_ring_round_it() -> None:
    shapes = of_style(drawn(((20.0, 30.0), (21.0, 30.0))), Style.PLACE)
    assert len(shapes) == 2
    assert shapes[1].path.bounds[0] < 20.0 < 21.0 < shapes[1].path.bounds[2]


def test_the_message_is_its_title_and_caption_and_the_remedy_stands_below() -> None:
    drawing = drawn(SQUARE)
    assert drawing.name == "place-03-recipe-condition"
    assert "the tab comes loose" in drawing.title
    assert "cannot be made: The tab comes loose. Lay it 4 mm farther out." in drawing.description
    assert "The tab comes loose." in words(drawing, "heading")
    assert "cannot be made" in words(drawing, "heading")
    assert words(drawing, "notes") == "Lay it 4 mm farther out."
    root = ET.fromstring(to_svg(drawing))
    assert root.find("{http://www.w3.org/2000/svg}title") is not None


def test_the_project_is_there_with_all_its_pieces_and_lines() -> None:
    project = wallet()
    drawing = drawn(SQUARE, project)
    layers = sum(len(step.layers) for step in project.steps)
    assert len(of_style(drawing, Style.PIECE_OUTLINE)) == layers
    paths = sum(len(line.paths) for line in project.lines)
    assert len(of_style(drawing, Style.STITCHED_BEFORE)) == paths


def test_piece_and_step_are_named_beside_the_place() -> None:
    project = wallet()
    piece, step = project.pieces[0], project.steps[4]
    one = Finding(
        "recipe-condition",
        Severity.KNOW,
        facts_saying("x"),
        place=SQUARE,
        piece=piece.name,
        step=step.number,
    )
    scene = hooped(project, "130x180", 130.0, 180.0)
    said = words(place_picture(scene, one, 1), "labels")
    assert piece.title in said
    assert f"step {step.number}: {step.title}" in said


@settings(max_examples=12)
@given(
    st.lists(st.tuples(st.floats(-300, 300), st.floats(-300, 300)), min_size=1, max_size=6),
    st.text(alphabet=st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=200),
    st.sampled_from([(100.0, 100.0), (360.0, 350.0)]),
)
def test_wherever_the_place_is_nothing_is_clipped_or_overlaps(
    place: list[Point], message: str, hoop: tuple[float, float]
) -> None:
    scene = hooped(coaster(100, 90), "a hoop", *hoop)
    drawing = place_picture(scene, finding(tuple(place), message), 12)
    assert overlapping(drawing) == []
    assert clipped(drawing) == []
    for shape in drawing.shapes:
        left, top, right, bottom = shape.path.bounds
        assert drawing.box.left <= left <= right <= drawing.box.right
        assert drawing.box.top <= top <= bottom <= drawing.box.bottom


def test_only_findings_with_a_place_are_drawn_numbered_as_they_are_listed() -> None:
    found = [finding(SQUARE), finding(()), finding(SQUARE[:2])]
    hoop = find_hoop("130x180", HOOPS)
    files = place_pictures(wallet(), hoop, found)
    assert list(files) == ["01-recipe-condition.svg", "03-recipe-condition.svg"]
    assert files == place_pictures(wallet(), hoop, found)


# --- The folder --------------------------------------------------------------------------


def test_a_later_run_replaces_the_pictures_of_an_earlier_one(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "places"
    hoop = find_hoop("130x180", HOOPS)
    write_places(place_pictures(wallet(), hoop, [finding(SQUARE)] * 3), folder)
    files = place_pictures(wallet(), hoop, [finding(SQUARE[:2])])
    write_places(files, folder)
    assert {file.name: file.read_bytes() for file in folder.iterdir()} == files


@pytest.mark.parametrize("name", ["notes.txt", "01-recipe-condition.svg"])
def test_a_folder_with_anything_else_in_it_is_left_as_it_is(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(b"<svg>drawn by hand</svg>")
    hoop = find_hoop("130x180", HOOPS)
    with pytest.raises(WriteError, match=name):
        write_places(place_pictures(wallet(), hoop, [finding(SQUARE)]), tmp_path)
    assert [file.name for file in tmp_path.iterdir()] == [name]
    assert (tmp_path / name).read_bytes() == b"<svg>drawn by hand</svg>"


# --- The command -------------------------------------------------------------------------


def spoiled(folder: Path) -> Path:
    """A coaster whose back is laid the wrong side out."""
    good = 'lay = [{ piece = "back", side = "front", up = "wrong"'
    text = flat_text("coaster")
    assert text.count(good) == 1
    file = folder / "coaster.toml"
    file.write_text(text.replace(good, good.replace("wrong", "right")), "utf-8")
    return file


def test_check_draws_the_places_of_what_cannot_be_made(tmp_path: Path) -> None:
    folder = tmp_path / "places"
    ran = paramgen("check", spoiled(tmp_path), "--hoop", "130x180", "--places", folder)
    assert ran.status == 1
    assert "wrong side of the back shows" in ran.err
    assert str(folder) in ran.err
    (file,) = folder.iterdir()
    assert file.name == "01-wrong-side-shows.svg"
    assert "wrong side of the back shows" in file.read_text("utf-8")


@pytest.mark.parametrize(
    ("hoop", "turned"), [("140x200mm", False), ("200x140mm", True), ("100x100mm", False)]
)
def test_the_place_is_where_the_project_lies_in_its_hoop(
    tmp_path: Path, hoop: str, turned: bool
) -> None:
    # In a hoop that is too small it lies about the middle of the field, as it would.
    sizes = ["outline=rectangle", "width=120mm", "height=160mm"]
    wanted = asked(TypedRequest(recipe=str(spoiled(tmp_path)), values=sizes, hoop=hoop))
    made, found = check(wanted)
    project = Attempt(wanted.order).project
    assert made is None
    assert project is not None
    assert project.turned == turned
    (one,) = (each for each in found if each.code == "wrong-side-shows")
    # All of the back shows: the place is the seam line.
    xs, ys = zip(*one.place, strict=True)
    assert (min(xs), min(ys), max(xs), max(ys)) == pytest.approx(project.seam.bounds, abs=0.01)


def test_check_says_when_there_is_nothing_to_draw(tmp_path: Path) -> None:
    folder = tmp_path / "places"
    ran = paramgen("check", "coaster", "--hoop", "130x180", "--places", folder)
    assert ran.status == 0
    assert "No finding has a place to show" in ran.err
    # Its corners do not fit on its sides: there is no shape at all.
    words = ("coaster", "width=60mm", "corner_radius=40mm", "--hoop", "130x180")
    ran = paramgen("check", *words, "--places", folder)
    assert ran.status == 1
    assert "no project to show places in" in ran.err
    assert not folder.exists()


def test_check_leaves_a_folder_of_anything_else_and_says_so_with_status_3(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "seeds.txt").write_text("beans", "utf-8")
    ran = paramgen("check", spoiled(tmp_path), "--hoop", "130x180", "--places", folder)
    assert ran.status == 3
    assert "seeds.txt" in ran.err
    assert [file.name for file in folder.iterdir()] == ["seeds.txt"]
    ran = paramgen(
        "check", spoiled(tmp_path), "--hoop", "130x180", "--places", folder / "seeds.txt"
    )
    assert ran.status == 3


def test_json_stays_json_beside_the_pictures(tmp_path: Path) -> None:
    folder = tmp_path / "places"
    words = (spoiled(tmp_path), "--hoop", "130x180", "--json", "--places", folder)
    ran = paramgen("check", *words)
    report = json.loads(ran.out)
    assert ran.status == 1
    placed = [number for number, one in enumerate(report["findings"], 1) if one["place"]]
    assert [int(file.name[:2]) for file in sorted(folder.iterdir())] == placed


def test_of_several_hoops_the_picture_is_of_the_one_that_is_taken(tmp_path: Path) -> None:
    folder = tmp_path / "places"
    words = (spoiled(tmp_path), "outline=rectangle", "width=108mm", "height=108mm")
    hoops = ("--hoop", "100x100", "--hoop", "160x260", "--hoop", "130x180")
    paramgen("check", *words, *hoops, "--places", folder)
    (file,) = folder.iterdir()
    assert "160x260" in file.read_text("utf-8")
    assert "100x100" not in file.read_text("utf-8")
    # 150 mm need 155: they stick out of 130 mm least.
    larger = (spoiled(tmp_path), "outline=rectangle", "width=150mm", "height=150mm")
    paramgen("check", *larger, "--hoop", "100x100", "--hoop", "130x180", "--places", folder)
    texts = [one.read_text("utf-8") for one in folder.iterdir()]
    assert texts
    assert all("130x180" in text for text in texts)
