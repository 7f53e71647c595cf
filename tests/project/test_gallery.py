"""The gallery shows every recipe as it is now; `python tests/helpers/gallery.py` renews it."""

import re

import pytest
from documents import ROOT, links
from gallery import PAGE, PICTURES, gallery

from paramgen.recipe.read_recipe import listed

#: A page of pictures that is looked at on a phone: our own limit, bytes.
MOST = 100_000

RENEW = "renew the gallery: python tests/helpers/gallery.py"


@pytest.fixture(scope="module")
def now() -> dict[str, bytes]:
    return {file.relative_to(ROOT).as_posix(): data for file, data in gallery().items()}


def test_the_gallery_is_as_it_would_be_made_now(now: dict[str, bytes]) -> None:
    there = [PAGE, *PICTURES.iterdir()]
    assert {file.relative_to(ROOT).as_posix() for file in there} == set(now), RENEW
    changed = [name for name, data in now.items() if (ROOT / name).read_bytes() != data]
    assert changed == [], RENEW


def test_each_recipe_is_in_it_once_and_no_picture_is_large(now: dict[str, bytes]) -> None:
    text = PAGE.read_text("utf-8")
    assert re.findall(r'<img src="[^"]*/([\w-]+)[.]svg"', text) == list(listed())
    assert [name for name, data in now.items() if len(data) > MOST] == []


def test_what_it_links_to_and_shows_is_there_and_it_is_linked_to() -> None:
    text = PAGE.read_text("utf-8")
    shown = re.findall(r'<img src="([^"]+)"', text)
    assert [one for one in (*links(text), *shown) if not (PAGE.parent / one).is_file()] == []
    for paper, link in (
        ("README.md", "templates/GALLERY.md"),
        ("templates/README.md", "GALLERY.md"),
    ):
        assert link in links((ROOT / paper).read_text("utf-8"))
