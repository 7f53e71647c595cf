"""The command that makes what was found: as it is typed, and read back without loss."""

import shlex
from pathlib import Path

import pytest
from command_line import paramgen
from hypothesis import given
from hypothesis import strategies as st

from paramgen.installed import templates
from paramgen.lengths import parse_length
from paramgen.ordering.typed_values import typed
from paramgen.vocabulary.unit import Unit


@given(st.integers(1, 160_000), st.sampled_from(Unit))
def test_a_length_is_typed_so_that_it_is_read_back(sixteenths: int, unit: Unit) -> None:
    mm = sixteenths / 160  # of a tenth of a millimetre
    # 0.0001 mm is far below the 0.1 mm that files can carry.
    assert abs(parse_length(typed(mm, unit)) - mm) < 1e-4


@pytest.mark.parametrize("folder", ["shed", "potting shed"])
def test_what_holds_a_thing_in_a_recipe_of_ones_own_is_made_by_its_path(
    folder: str, tmp_path: Path
) -> None:
    own = tmp_path / folder / "my-tag.toml"
    own.parent.mkdir()
    own.write_text((templates() / "plant-tag.toml").read_text("utf-8"), "utf-8")
    found = paramgen("fit", str(own), "--hold", "40x60mm")
    program, verb, *words = shlex.split(found.out.rsplit("To make it ", 1)[1])
    assert (program, verb, words[0]) == ("paramgen", "make", str(own))
    made = paramgen("check", *words)
    assert made.status == 0, made.err


@pytest.mark.parametrize(
    ("mm", "unit", "said"),
    [
        # 195.072 / 25.4 = 7.68; 25.796875 / 25.4 = 1 1/64; 195.07 is no short number of inches.
        (195.072, Unit.INCH, "7.68in"),
        (25.796875, Unit.INCH, "1 1/64in"),
        (195.07, Unit.INCH, "195.07mm"),
        (195.072, Unit.MM, "195.072mm"),
    ],
)
def test_a_length_in_a_command_is_in_the_persons_unit_where_that_says_it_all(
    mm: float, unit: Unit, said: str
) -> None:
    assert typed(mm, unit) == said
    assert parse_length(said) == pytest.approx(mm, abs=1e-6)
