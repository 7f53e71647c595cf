"""Fabrics told apart by the part they have in a project, the same in every picture."""

import re
from collections.abc import Iterator
from functools import lru_cache
from xml.etree import ElementTree as ET

import pytest
from drawings_read import words
from finished_things import worked
from hypothesis import given
from hypothesis import strategies as st

from paramgen.booklet.fold_diagrams import folding_picture
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.fabric_tones import places_for, tones_of
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.finished_views import finished
from paramgen.drawings.pictures.piece_template import piece_template
from paramgen.drawings.pictures.section import section, turned_section
from paramgen.drawings.pictures.step import step_picture
from paramgen.drawings.pictures.whole_project import whole
from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, flat
from paramgen.finished.finished_thing import FinishedThing

SVG = "{http://www.w3.org/2000/svg}"
RECIPES = ("fold-wallet", "coaster", "zip-pouch", "plant-tag", "flap-sleeve", "notebook-cover")

#: What is of a fabric and must tell which; a plain picture of an outline alone is none.
OF_A_FABRIC = (
    Style.RIGHT_SIDE,
    Style.WRONG_SIDE,
    Style.NO_RIGHT_SIDE,
    Style.SEE_THROUGH,
    Style.SHEET,
    Style.SWATCH,
)


@lru_cache
def thing(name: str) -> FinishedThing:
    return worked(name)


@lru_cache
def drawings(name: str) -> tuple[Drawing, ...]:
    """Every picture of a recipe that has a legend."""
    return tuple(_drawings(thing(name)))


def _drawings(done: FinishedThing) -> Iterator[Drawing]:
    project = done.project
    ready = hooped(project, "hoop", 360, 350, done)
    yield whole(ready)
    yield from (step_picture(ready, step.number) for step in project.steps)
    yield from finished(done)
    yield section(done.done)
    yield from filter(None, [turned_section(done)])
    for piece in project.pieces:
        yield piece_template(piece, project.unit, ready.tones[piece.fabric])


def of_fabrics(drawing: Drawing, *groups: str) -> list[Shape]:
    inside = [
        item
        for group in drawing.items
        if isinstance(group, Group) and group.name in groups
        for item in flat(group.items)
    ]
    return [one for one in inside if isinstance(one, Shape) and one.style in OF_A_FABRIC]


every_recipe = pytest.mark.parametrize("name", RECIPES)


@every_recipe
def test_every_area_of_a_fabric_tells_which_but_interfacing_that_is_fused_to_one(name: str) -> None:
    for drawing in drawings(name):
        for shape in of_fabrics(drawing, "picture", "inset"):
            fused = shape.style is Style.NO_RIGHT_SIDE and "Fuse" in drawing.title
            assert shape.tone is not None or fused, drawing.title


@every_recipe
def test_a_fabric_is_told_by_the_same_in_all_pictures_and_no_other_is_told_by_it(name: str) -> None:
    shapes = [
        shape for one in drawings(name) for shape in of_fabrics(one, "picture", "inset", "legend")
    ]
    told = {(shape.tone.name, shape.tone.place) for shape in shapes if shape.tone}
    names = {piece.fabric.replace("-", " ") for piece in thing(name).project.pieces}
    # An elastic is laid like a piece, and has a tone like one.
    names |= {one.name for one in thing(name).project.notions if one.sort == "elastic"}
    assert {fabric for fabric, _ in told} == names
    assert len({place for _, place in told}) == len(told) == len(names)


@every_recipe
def test_the_legend_names_every_fabric_that_is_shown(name: str) -> None:
    for drawing in drawings(name):
        legend = words(drawing, "legend")
        for shape in of_fabrics(drawing, "picture"):
            assert shape.tone is None or shape.tone.name in legend, drawing.title


@every_recipe
def test_no_two_fabrics_have_the_same_pattern_where_it_is_written(name: str) -> None:
    for drawing in drawings(name):
        found: dict[str, set[str]] = {}
        for pattern in ET.fromstring(to_svg(drawing)).iter(f"{SVG}pattern"):
            numbered = re.search(r"-(\d+)(?:-now)?$", pattern.get("id") or "")
            if numbered is None:
                continue  # tape, what is cut away and the like
            lines = " ".join(part.get("d") or "" for part in pattern if part.get("stroke"))
            turned = pattern.get("patternTransform") or ""
            found.setdefault(f"{turned} {lines}", set()).add(numbered.group(1))
        assert all(len(places) == 1 for places in found.values()), drawing.title


def test_the_page_of_folds_tells_fabrics_by_the_same() -> None:
    project = thing("fold-wallet").project
    tones = tones_of(project)
    for piece in (one for one in project.pieces if one.creases):
        svg = folding_picture(piece, project.unit, tones[piece.fabric]).svg
        places = set(re.findall(r'<pattern[^>]* id="[^"]*side-(\d+)"', svg))
        assert places == {str(tones[piece.fabric].place)}


@given(st.lists(st.sampled_from(["outer", "lining", "pocket", "ribbon", *"abcdefghijkl"])))
def test_every_fabric_has_a_place_of_its_own_whatever_a_recipe_names(names: list[str]) -> None:
    places = places_for(names)
    assert set(places) == set(names)
    assert len(set(places.values())) == len(places)
    # What other fabrics there are does not change the usual ones.
    assert all(places[one] == places_for([one])[one] for one in names if len(one) > 1)
