"""A command loads no more than it is for: what is loaded for nothing is waited for each time."""

import subprocess
import sys

import pytest

# What each is seldom asked for and is slow to load.
EMBELLISHMENT = ("paramgen.embellishment.listed_kinds", "paramgen.letters")
STITCH_FILES = ("pyembroidery",)
THINGS = ("paramgen.reference.things",)


def loaded(*asked: str) -> set[str]:
    """Every module that is loaded once a command is done."""
    told = "import sys; from paramgen.__main__ import main\ntry: main()\nfinally: "
    code = f"{told}print('\\n', *sys.modules, file=sys.stderr)"
    ran = subprocess.run(
        [sys.executable, "-c", code, *asked], capture_output=True, text=True, check=True
    )
    return set(ran.stderr.split())


@pytest.mark.parametrize(
    ("asked", "needless"),
    [
        (("list",), ("paramgen.recipe.language", "numpy", "pydantic")),
        (("hoops",), (*THINGS, *EMBELLISHMENT, "numpy")),
        (("about", "fold-wallet"), (*EMBELLISHMENT, *STITCH_FILES)),
        (("check", "fold-wallet", "--hoop", "160x260"), (*EMBELLISHMENT, *STITCH_FILES)),
    ],
    ids=lambda each: each[0],
)
def test_a_command_loads_nothing_that_it_has_no_use_for(
    asked: tuple[str, ...], needless: tuple[str, ...]
) -> None:
    assert "paramgen" in (found := loaded(*asked))
    assert not found & set(needless)


def test_what_is_asked_for_is_loaded() -> None:
    found = loaded("check", "coaster", "--hoop", "130x180", "--on", "top=quilting")
    assert EMBELLISHMENT[0] in found
