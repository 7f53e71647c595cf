"""What a person types of their own fabrics.

Names and codes of colours are those of the CSS Color Module Level 4 of the W3C: section 6.1, and
5.2 for codes of three digits, each of which stands for two.
"""

from pathlib import Path

import pytest
from prints import seedling, written

from paramgen.ordering.cloths_asked import cloths_asked, fabric_roles, read_print
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.recipe.read_recipe import find_recipe
from paramgen.vocabulary.cloth import Cloth, Cloths
from paramgen.vocabulary.findings import InputError

ROLES = ("outer", "lining", "clear-vinyl")
WRITE = (
    'Write ROLE=COLOUR or ROLE=PICTURE: outer=#7a9e3f, lining=teal, "lining=leaves.jpg, repeat '
    '60 mm".'
)


def faults(*typed: str) -> list[str]:
    with pytest.raises(InputError) as refused:
        cloths_asked(typed, ROLES)
    return [str(fault) for fault in refused.value.faults]


def looked_up(name: str, repeat: float | None) -> Cloth:
    return Cloth("#000000", f"{name} {repeat}")


def said(*typed: str) -> Cloths:
    return cloths_asked(typed, ROLES, looked_up)


@pytest.mark.parametrize(
    ("typed", "role", "colour"),
    [
        ("outer=#7a9e3f", "outer", "#7a9e3f"),
        ("OUTER = #7A9E3F", "outer", "#7a9e3f"),
        ("lining=#f80", "lining", "#ff8800"),
        ("lining=teal", "lining", "#008080"),
        ("lining=Dark Olive Green", "lining", "#556b2f"),
        ("clear vinyl=white", "clear-vinyl", "#ffffff"),
    ],
)
def test_a_colour_is_said_by_its_code_or_its_name(typed: str, role: str, colour: str) -> None:
    assert {name: one.colour for name, one in said(typed).items()} == {role: colour}


@pytest.mark.parametrize(
    ("typed", "called"),
    [
        ("outer=leaves.jpg", "leaves.jpg None"),
        ("outer=leaves.jpg, repeat 60 mm", "leaves.jpg 60.0"),
        ("outer=leaves.jpg repeat 60mm", "leaves.jpg 60.0"),
        ("outer=leaves.jpg, repeats every 2 1/2 in", "leaves.jpg 63.5"),
        ("outer=leaves.jpg;repeat=6cm", "leaves.jpg 60.0"),
        ("outer=my prints/a, b = c.webp, repeat: 60", "my prints/a, b = c.webp 60.0"),
        ("outer=repeat.png, repeat 60", "repeat.png 60.0"),
        ("outer=./teal", "./teal None"),
        ("outer=leaves, repeat 60", "leaves 60.0"),
    ],
)
def test_a_picture_is_said_by_its_name_and_its_repeat(typed: str, called: str) -> None:
    assert said(typed)["outer"].called == called


def test_every_fault_is_told_at_once() -> None:
    told = faults(
        "outr=teal", "lining=teel", "outer=no.png", "what", "clear-vinyl=#12", "lining=red"
    )
    assert told == [
        "--cloth: `outr` is no fabric of this project. Did you mean `outer`?",
        "--cloth lining: `teel` is no colour, and no picture by its name. Did you mean `teal`?",
        "no.png: there is no such picture",
        f"--cloth: I do not know what `what` is for. {WRITE}",
        "--cloth clear-vinyl: `#12` is no colour. Write # and six digits of 0 to 9 and a to f.",
        "--cloth lining: is given twice",
    ]


def test_what_is_nothing_like_a_colour_is_told_what_to_write() -> None:
    assert faults("outer=zzzz")[0].endswith(
        "Write a colour such as teal or #7a9e3f, or a picture: leaves.jpg, repeat 60 mm."
    )


def test_a_fabric_that_is_nothing_like_another_is_told_which_there_are() -> None:
    assert faults("zip=teal")[0].endswith("Its fabrics are outer, lining, clear-vinyl.")


def test_a_colour_has_no_repeat() -> None:
    assert "has no repeat" in faults("outer=teal, repeat 5mm")[0]
    assert "has no repeat" in faults("outer=#123456 repeat 5mm")[0]


def test_a_wrong_repeat_and_a_wrong_picture_are_told_together() -> None:
    told = faults("outer=no.png, repeat much")
    assert [one.partition(":")[0] for one in told] == ["--cloth outer, repeat", "no.png"]


@pytest.mark.parametrize("width", ["0", "1mm", "9999mm", "4 1/0 in", "", "wide", "-5"])
def test_no_print_repeats_so(tmp_path: Path, width: str) -> None:
    file = tmp_path / "leaves.png"
    file.write_bytes(written(seedling()))
    assert len(faults(f"outer={file}, repeat {width}")) == 1


def test_a_picture_is_read_from_its_file(tmp_path: Path) -> None:
    file = tmp_path / "leaves.with.dots"
    file.write_bytes(written(seedling(40, 20)))
    (cloth,) = cloths_asked([f"outer={file}, repeat 30mm"], ROLES).values()
    assert cloth.picture is not None
    assert (cloth.picture.width, cloth.picture.height) == (30.0, 15.0)
    assert cloth == read_print(str(file), 30.0)


def test_the_fabrics_of_a_recipe_are_those_its_pieces_name() -> None:
    file = find_recipe("fold-wallet").file
    assert fabric_roles(file) == ("outer", "lining", "pocket", "ribbon")


def test_faults_of_fabrics_stand_beside_all_others() -> None:
    words = TypedRequest(
        recipe="coaster", hoop="5x7inn", copies="none", cloths=("top=teal", "bak=teal")
    )
    with pytest.raises(InputError) as refused:
        asked(words)
    told = " ".join(map(str, refused.value.faults))
    assert "--hoop" in told
    assert "--copies" in told
    assert "Did you mean `back`?" in told


def test_a_picture_may_come_from_elsewhere_than_a_file() -> None:
    words = TypedRequest(recipe="coaster", hoop="5x7in", cloths=("top=upload, repeat 20mm",))
    assert asked(words, read=looked_up).cloths["top"].called == "upload 20.0"
