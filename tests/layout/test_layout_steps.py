"""Steps: their order, numbers, sides of the hoop, and what each of them shows."""

import re
from itertools import pairwise

import numpy as np
import pytest
from layout_orders import WALLET, laid, layers, line, tag
from told import says

from paramgen.layout.lay_out import lay_out
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit


@pytest.mark.parametrize("pockets", ["1", "2", "4"])
@pytest.mark.parametrize("tab", ["ribbon", "fabric", "none"])
def test_steps_and_stops_are_numbered_through(pockets: str, tab: str) -> None:
    project = laid(WALLET, {"pockets": pockets, "tab": tab})
    assert [step.number for step in project.steps] == list(range(1, len(project.steps) + 1))
    stitched = [step for step in project.steps if step.act is Act.STITCH]
    assert [step.stop for step in stitched] == list(range(1, len(stitched) + 1))
    for step in project.steps:
        assert (step.stop is not None) == (step.act is Act.STITCH) == bool(step.lines)
        assert (step.colour is not None) == bool(step.lines)


def test_neighbouring_stops_never_have_the_same_colour() -> None:
    project = laid(WALLET, {"pockets": "4"})
    colours = [step.colour for step in project.steps if step.stop]
    assert all(a != b for a, b in pairwise(colours))
    assert all(re.fullmatch("#[0-9a-f]{6}", str(colour)) for colour in colours)


def test_the_hoop_is_seen_from_the_back_from_one_turning_over_to_the_next() -> None:
    project = laid(WALLET, {})
    back = [step.number for step in project.steps if step.seen_from == "back"]
    first, second = (step.number for step in project.steps if step.act is Act.FLIP)
    # Turned over, laid, taped; the step that turns it back shows the front again.
    assert back == list(range(first, second))
    assert all(layer.side == step.seen_from for step in project.steps for layer in step.layers)


def test_a_repeat_goes_through_all_its_steps_each_time() -> None:
    project = laid(WALLET, {"pockets": "3"})
    titles = [step.title for step in project.steps]
    start = titles.index("Lay pocket 1 at both ends")
    assert titles[start : start + 7] == [
        *(f"{what} pocket {k} at both ends" for k in (1, 2, 3) for what in ("Lay", "Tape")),
        "Tack-down of the pockets",
    ]


def test_a_pocket_is_laid_before_it_is_taped_and_tacked_and_the_lining_last() -> None:
    project = laid(WALLET, {"pockets": "2"})
    number = {step.title: step.number for step in project.steps}
    laid_at = {layer.piece: step.number for step in project.steps for layer in step.layers}
    assert laid_at["pocket[1]"] < number["Tape pocket 1 at both ends"] < laid_at["pocket[2]"]
    assert laid_at["pocket[2]"] < number["Tack-down of the pockets"] < laid_at["lining"]
    assert laid_at["lining"] == max(laid_at.values())
    (seam,) = (step.number for step in project.steps if line(project, "seam") in step.lines)
    assert seam > laid_at["lining"]


def turned(project_turned: bool) -> Project:
    return lay_out(size(WALLET, {}, unit=Unit.MM), turned=project_turned)


def test_words_for_sides_turn_with_the_project() -> None:
    def said(project: Project, title: str) -> str:
        return next(step.say for step in project.steps if step.title == title)

    for title, words in (
        ("Lay the outer pieces", ["top", "bottom"]),
        ("Lay the tab", ["bottom"]),
        ("Seam", ["left"]),
    ):
        straight, aside = said(turned(False), title), said(turned(True), title)
        following = {"top": "right", "right": "bottom", "bottom": "left", "left": "top"}
        for word in words:
            assert re.search(rf"\b{word}\b", straight)
            assert re.search(rf"\b{following[word]}\b", aside)
            assert not re.search(rf"\b{word}\b", aside)


@pytest.mark.parametrize(("way", "where"), [(False, "top"), (True, "left")])
def test_a_side_is_called_as_it_is_seen_when_the_hoop_lies_on_its_front(
    way: bool, where: str
) -> None:
    project = turned(way)
    (step,) = (one for one in project.steps if one.title == "Lay the pouch lining")
    assert re.search(rf"its {where} edge", step.say)
    # That edge is laid past the box, and the rest follows.
    # As it is seen: x from the back runs the other way.
    left, top, right, bottom = step.layers[0].outline.bounds
    seen = {"top": (top + bottom) / 2, "left": -(left + right) / 2}
    assert seen[where] < -20.0


@pytest.mark.parametrize("pouch", ["short", "long"])
def test_the_pouch_lining_is_laid_over_what_its_sentence_says(pouch: str) -> None:
    project = laid(WALLET, {"pouch": pouch})
    (step,) = (one for one in project.steps if one.title == "Lay the pouch lining")
    (left, top, right, bottom), seam = step.layers[0].outline.bounds, project.seam.bounds
    assert left < seam[0]
    assert top < seam[1]
    assert right > seam[2]
    # The fold line is the middle of the seam box; a long pouch goes past the other end.
    middle = (seam[1] + seam[3]) / 2
    assert ("past the middle" in step.say) == (middle < bottom < seam[3])
    assert ("over both halves" in step.say) == (bottom > seam[3])


def test_a_turned_project_lies_a_quarter_turn_clockwise() -> None:
    straight, aside = turned(False), turned(True)
    assert (straight.turned, aside.turned) == (False, True)
    assert straight.finished == aside.finished
    assert [one.cut for one in straight.pieces] == [one.cut for one in aside.pieces]
    for name in ("ribbon", "upper-outer", "lining"):
        left, top, right, bottom = layers(straight, name)[0].outline.bounds
        # (x, y) goes to (-y, x): what was at the top is at the right.
        assert layers(aside, name)[0].outline.bounds == pytest.approx((-bottom, left, -top, right))
    (straight_zip,), (aside_zip,) = layers(straight, "zip"), layers(aside, "zip")
    assert straight_zip.slit is not None
    assert aside_zip.slit is not None
    ((x0, y0), (x1, y1)) = straight_zip.slit
    assert np.array(aside_zip.slit) == pytest.approx(np.array([(-y0, x0), (-y1, x1)]))
    for one, other in zip(straight.steps, aside.steps, strict=True):
        assert len(one.tape) == len(other.tape)
        for strip, there in zip(one.tape + one.mark, other.tape + other.mark, strict=True):
            left, top, right, bottom = strip.bounds
            assert there.bounds == pytest.approx((-bottom, left, -top, right))


def test_the_bare_name_of_a_repeated_line_means_all_of_them() -> None:
    project = laid(WALLET, {"pockets": "3"})
    (marks,) = (one for one in project.steps if one.title == "Marks for the tab and the pockets")
    named = [f"pocket-marks[{k}]" for k in (1, 2, 3)]
    assert [one.name for one in marks.lines] == ["tab-marks", *named]


def test_a_step_shows_the_line_to_trim_along() -> None:
    steps = '[[steps]]\ntitle = "Trim"\ndo = "trim"\nmark = ["rim"]\nsay = "Trim {width / 2}."\n'
    rim = '[outlines.rim]\nshape = "outset"\nof = "finished"\nby = "2"\n'
    (trim,) = (step for step in tag(rim, steps=steps).steps if step.act is Act.TRIM)
    assert trim.mark[0].bounds == pytest.approx((-42, -22, 42, 22))
    assert trim.say == "Trim 40 mm (1 9/16 in)."
    assert trim.stop is None


@pytest.mark.parametrize(
    ("parts", "step", "said"),
    [
        (
            '[lines.trial]\nrole = "seam"\nalong = "finished"',
            'stitch = ["trial"]',
            "a step stitches `trial`, which is not there with these choices",
        ),
        (
            '[pieces.trial]\nfabric = "felt"\nwidth = "9"\nheight = "9"',
            'lay = [{ piece = "trial", side = "front", up = "right" }]',
            "a step lays `trial`, which is not there with these choices",
        ),
    ],
)
def test_steps_that_need_what_is_not_there_are_refused(parts: str, step: str, said: str) -> None:
    parts = f'{parts}\ntitle = "trial"\nwhen = "width > 100"\n'
    steps = f'[[steps]]\ntitle = "Trial"\nsay = "Do it."\n{step}\n'
    with pytest.raises(CannotMakeError) as caught:
        tag(parts, steps=steps)
    assert said in says(caught.value.findings[0])
    assert tag(parts, {"width": 120}, steps=steps).steps


def test_steps_of_a_choice_are_there_only_with_it() -> None:
    steps = '[[steps]]\ntitle = "Press"\nwhen = "width > 100"\ndo = "press"\nsay = "Press."\n'
    assert len(tag("", {"width": 120}, steps=steps).steps) == len(tag("", steps=steps).steps) + 1


def test_steps_of_a_repeat_may_be_there_only_sometimes() -> None:
    steps = (
        '[[steps]]\nrepeat = { k = "3" }\n'
        '[[steps.steps]]\ntitle = "Press {k}"\ndo = "press"\nsay = "Press."\n'
        '[[steps.steps]]\ntitle = "Clip {k}"\nwhen = "k == 2"\ndo = "clip"\nsay = "Clip."\n'
    )
    titles = [step.title for step in tag("", steps=steps).steps][1:-1]
    assert titles == ["Press 1", "Press 2", "Clip 2", "Press 3"]


def test_a_repeat_may_be_there_only_with_a_choice() -> None:
    steps = (
        '[[steps]]\nrepeat = { k = "2" }\nwhen = "width > 100"\n'
        '[[steps.steps]]\ntitle = "Press {k}"\ndo = "press"\nsay = "Press."\n'
    )
    assert len(tag("", {"width": 120}, steps=steps).steps) == len(tag("", steps=steps).steps) + 2
