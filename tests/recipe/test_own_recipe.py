"""A recipe of one's own: what holds its ribbon, and what is said of what it forgets."""

from functools import lru_cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from told import mends, says

from paramgen.finished.all_findings import prove
from paramgen.layout.lay_out import lay_out
from paramgen.lengths import INCH
from paramgen.recipe.read_recipe import Recipe, read_recipe
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.unit import Unit

FILE = Path(__file__).parents[1] / "specimens" / "own_recipes" / "list-marker.toml"
TEXT = FILE.read_text(encoding="utf-8")
#: The tack-down of the ribbon, straight across it: 1 mm short of either side, 5 mm from its ends.
ACROSS = (
    'points = [[["-loop_width / 2 + 1", "-height / 2 - 2"], '
    '["loop_width / 2 - 1", "-height / 2 - 2"]]]'
)


@lru_cache
def recipe(put: str = ACROSS) -> Recipe:
    assert TEXT.count(ACROSS) == 1
    return read_recipe(TEXT.replace(ACROSS, put), name="list-marker", source=FILE.name)


def found(own: Recipe, unit: Unit = Unit.INCH, **asked: float) -> tuple[Finding, ...]:
    return prove(lay_out(size(own, asked, unit=unit), chord_error=COARSE)).findings


def verdict(findings: tuple[Finding, ...]) -> list[tuple[str, str | None, str]]:
    return [(one.code, one.piece, str(one.severity)) for one in findings]


@pytest.mark.parametrize("width", [sixteenth * INCH / 16 for sixteenth in range(4, 17)])
@pytest.mark.parametrize("unit", Unit)
def test_a_line_across_a_ribbon_holds_it_whatever_its_width(width: float, unit: Unit) -> None:
    # It goes through width - 2 mm of it, more than the half that a narrow piece needs: from
    # 1/4 in on, 6.35 - 2 = 4.35 > 3.175.
    assert not [one for one in found(recipe(), unit, loop_width=width) if one.stops]


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(
    width=st.floats(6.36, 25.39),
    nudge=st.sampled_from([-1e-3, 1e-3]),
    unit=st.sampled_from(list(Unit)),
)
def test_a_hair_more_or_less_of_ribbon_changes_nothing(
    width: float, nudge: float, unit: Unit
) -> None:
    one, other = (found(recipe(), unit, loop_width=at) for at in (width, width + nudge))
    assert verdict(one) == verdict(other)


#: Where else the line runs, by its ends, and what is said of it on a ribbon of 10 mm, which needs
#: half of that.
EDGE = "holds only 0 mm (0 in) of the loop, as the rest of it runs less than 3 mm from an edge"
ELSEWHERE = {
    "beside": (
        '["loop_width", "-height / 2 - 2"], ["2 * loop_width", "-height / 2 - 2"]',
        "misses the loop that it should hold",
    ),
    "2 mm onto it": (
        '["loop_width", "-height / 2 - 2"], ["loop_width / 2 - 2", "-height / 2 - 2"]',
        "catches only 2 mm (1/16 in) of the loop; it needs 5 mm (3/16 in) to hold",
    ),
    "1 mm from its raw ends, which lie 7 mm past the edge": (
        '["-loop_width / 2", "-height / 2 - 6"], ["loop_width / 2", "-height / 2 - 6"]',
        EDGE + "; {}",
    ),
}


@pytest.mark.parametrize(("ends", "told"), ELSEWHERE.values(), ids=ELSEWHERE)
def test_a_line_that_does_not_hold_a_ribbon_is_found_and_said(ends: str, told: str) -> None:
    findings = found(recipe(f"points = [[{ends}]]"), Unit.MM, loop_width=10.0)
    said = [says(one) for one in findings if one.code == "needle-misses"]
    needs = "it needs 5 mm (3/16 in)"
    assert said == [f"the tack-down of the ribbon {told.format(needs)}"]


LOOP = TEXT[TEXT.index("[pieces.loop]") : TEXT.index("[pieces.back]")]
#: The loop of ribbon, but as a notion, which lies flat.
FLAT = """[notions.loop]
title = "ribbon"
sort = "ribbon"
length = "loop_out + 7"
width = "loop_width"

"""
TAPED = """[[steps]]
title = "Tape the back"
tape = [{ piece = "back" }]
say = "Tape it at its edges, outside the seam."

"""
RIBBON = '[fabrics.ribbon]\nkind = "ribbon"\n'
FORGOTTEN = {
    "the ribbon as a notion": (
        {LOOP: FLAT, ', fold = "bottom"': ', along = "height"', RIBBON: ""},
        "ribbon-is-a-tail",
        (
            "For a loop make it a piece and not a notion: of the fabric `ribbon`, folded in half "
            "(folds), the same on both sides (two_sided = true)."
        ),
    ),
    "both faces of the ribbon alike": (
        {"two_sided = true\n": ""},
        "wrong-side-shows",
        (
            "It shows within its fold: let a line catch all its open edges, or if the loop is the "
            "same on both sides, as a ribbon is, say so (two_sided = true)."
        ),
    ),
    "that its sides do not fray": (
        {"frays = false\n": ""},
        "raw-edge-shows",
        (
            "Let the loop reach past the seam line, or fold that edge; or if its sides do not "
            "fray, as those of a ribbon do not, say so (frays = false)."
        ),
    ),
    "that the ribbon is ribbon": (
        {RIBBON: ""},
        "narrow-and-not-said",
        (
            "If it is ribbon, say so, and it is bought by its length: the table "
            "fabrics.ribbon with "
            'kind = "ribbon".'
        ),
    ),
    "tape before the seam": (
        {TAPED: ""},
        "not-secured",
        "Tape the back in a step of its own (tape), or stitch it down, before step 10 (Seam).",
    ),
    "tape before the tack-down": (
        {TAPED.replace("back", "front").replace("seam", "line"): ""},
        "not-taped",
        (
            "Tape the front in a step of its own (tape) before step 3: keep hands away from a "
            "moving needle."
        ),
    ),
    "where the top-stitching runs": (
        {
            'mark = ["top-stitched"]\n': "",
            TEXT[TEXT.index("[outlines.top-stitched]") : TEXT.index("[lines.place]")]: "",
        },
        "gap-not-closed",
        (
            "Say along which outline step 16 (Top-stitch) runs (mark), all round and a little "
            "inside the edge, or sew the gap by hand."
        ),
    ),
}


def changed(changes: dict[str, str]) -> Recipe:
    text = TEXT
    for old, new in changes.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return read_recipe(text, name="list-marker", source=FILE.name)


@pytest.mark.parametrize(("changes", "code", "remedy"), FORGOTTEN.values(), ids=FORGOTTEN)
def test_what_is_forgotten_is_found_with_what_to_write(
    changes: dict[str, str], code: str, remedy: str
) -> None:
    plies = "bulky-by-hand"  # where the top-stitching goes through the ends of the loop
    told = {one.code: mends(one) for one in found(changed(changes)) if one.code != plies}
    assert told == {code: remedy}


def test_the_recipe_itself_forgets_nothing() -> None:
    assert found(recipe()) == ()
