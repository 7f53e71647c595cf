"""Pictures of a person's own fabrics on the page: given, kept in memory, and seen at true scale."""

import re
from functools import cache

import pytest
from prints import seedling, written

from paramgen.page.desk import Desk, desk, keep_print
from paramgen.page.given_files import MOST_FILES, GivenFiles
from paramgen.page.project_parts import ShownProject, parts
from paramgen.page.step_view import StepTeller, looked_at


@cache
def table() -> Desk:
    return desk({})


def told(query: str) -> dict[str, str]:
    return dict(parts(ShownProject(table(), f"recipe=coaster&hoop=130x180&{query}")))


def test_a_picture_that_was_given_is_seen_with_its_repeat() -> None:
    name, fault = keep_print(table(), written(seedling()))
    assert fault == ""
    found = told(f"cloth=top%3D{name},+repeat+30+mm")
    # A pattern of 1 mm, of which one repeat is 30 mm wide.
    (width,) = set(re.findall(r'<image[^>]* width="([\d.]+)"', found["finished"]))
    assert float(width) == pytest.approx(30.0)


def test_a_colour_is_seen_in_the_finished_thing() -> None:
    assert "#ab12cd" in told("cloth=top%3D%23ab12cd")["finished"]
    assert "#ab12cd" not in told("")["finished"]


def test_the_steps_show_it_too() -> None:
    shown = ShownProject(table(), "recipe=coaster&hoop=130x180&cloth=top%3D%23ab12cd")
    steps = StepTeller().told(shown)
    assert steps is not None
    drawn = [
        looked_at(shown, steps, str(step.number), "").svg
        for step in steps.scene.project.steps
        if step.layers
    ]
    assert any("#ab12cd" in svg for svg in drawn)


def test_what_is_no_picture_is_refused_and_not_kept() -> None:
    name, fault = keep_print(table(), b"<svg onload='alert(1)'/>")
    assert name == ""
    assert "SVG" in fault


def test_a_picture_that_is_not_here_is_said_at_its_field() -> None:
    found = told("cloth=top%3Dprint-0123456789abcdef,+repeat+30+mm")
    assert "choose the picture again" in found["note-cloth-top"]
    assert "picture" not in found


def test_no_name_of_a_file_is_read() -> None:
    assert "no picture of that name" in told("cloth=top%3D/etc/hostname.png")["note-cloth-top"]


def test_no_more_are_kept_than_so_many() -> None:
    store = GivenFiles()
    names = [store.add(bytes([number])) for number in range(MOST_FILES + 3)]
    assert [store.get(name) is None for name in names[:4]] == [True, True, True, False]


def test_no_more_bytes_are_kept_than_so_many(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("paramgen.page.given_files.MOST_BYTES", 1000)
    store = GivenFiles()
    # Three times 400 bytes are more than 1000, twice are not.
    names = [store.add(bytes([number]) * 400) for number in range(3)]
    assert [store.get(name) is None for name in names] == [True, False, False]
