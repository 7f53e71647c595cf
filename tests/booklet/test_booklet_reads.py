"""The booklet reads as a sewing book does: turns of phrase that a reader stumbled over are gone."""

import re
from pathlib import Path

import pytest
from command_line import paramgen

from paramgen.vocabulary.unit import Unit

#: What a reader of sewing books stumbled over, and why.
STUMBLES = {
    "hot after you have forgotten it": "an iron stays hot",
    "print stands upright towards": "the top of a print lies towards",
    "comes on top": "more is allowed for",
    "Pieces that are alike share one. One that": "two ones that are not the same",
    "not all over": "lies in a part",
    "as the words say": "the step says it",
    "else take": "if they do not, take",
    "of unlike width": "of different widths",
    "is to be seen.": "will be seen",
    "Turned, a curve": "once it is turned",
    "but the lining's": "except that of the lining",
    "Lift all there are": "all the pockets",
    "since a seam hangs on both": "depends on both",
    "it could not be opened": "can no longer be opened",
}


@pytest.mark.parametrize(
    "recipe", ["coaster", "flap-sleeve", "fold-wallet", "notebook-cover", "plant-tag", "zip-pouch"]
)
@pytest.mark.parametrize("unit", list(Unit))
def test_no_booklet_has_what_readers_stumbled_over(recipe: str, unit: Unit, tmp_path: Path) -> None:
    out = tmp_path / "made"
    made = paramgen("make", recipe, "--hoop", "180x300", "--unit", unit, "--out", out)
    assert made.status == 0, made.err
    page = re.sub("<[^>]*>", "", (out / "booklet.html").read_text(encoding="utf-8"))
    words = " ".join(page.split())
    assert [phrase for phrase in STUMBLES if phrase in words] == []
    # Each of several pieces has its article, but what has a number.
    for listed in re.findall(r"Under the hoop (.*?) (?:lie|lies) flat", words):
        for one in re.split(", | and ", listed):
            assert one.startswith("the ") != one[-1].isdigit(), listed
