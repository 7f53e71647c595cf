"""Reading recipe files: from where, from what bytes, and nothing but faults from bad ones."""

import os
from pathlib import Path

import pytest
from bad_recipe_files import GOOD
from hypothesis import given, settings
from hypothesis import strategies as st
from told import says

from paramgen.budget import MOST_BYTES
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_recipe, listed, read_recipe
from paramgen.sizing import size
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.unit import Unit

#: What every recipe file must hold.
WANTED = ("format", "title", "summary", "sizes", "pieces", "outlines", "lines", "steps", "finish")


def refused(wanted: str | Path) -> str:
    with pytest.raises(InputError) as refusal:
        find_recipe(str(wanted))
    return str(refusal.value)


# --- From where -------------------------------------------------------------------------


def test_the_recipes_that_come_with_the_program_read_without_fault() -> None:
    assert {"coaster", "fold-wallet"} <= set(listed())
    assert list(listed()) == sorted(listed())
    for name in listed():
        recipe = find_recipe(name)
        assert (recipe.name, recipe.source) == (name, f"{name}.toml")


def test_any_recipe_is_read_by_the_path_of_its_file(tmp_path: Path) -> None:
    path = tmp_path / "My tag.toml"
    path.write_text(GOOD, encoding="utf-8")
    recipe = find_recipe(str(path))
    assert (recipe.name, recipe.source) == ("My tag", str(path))
    assert recipe.file.title == "Plant tag"


def test_a_file_in_the_current_folder_does_not_hide_a_listed_recipe(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "coaster").write_text("nonsense")
    monkeypatch.chdir(tmp_path)
    assert find_recipe("coaster").file.title == "Coaster"


@pytest.mark.parametrize("wanted", ["apron", "", "/", "tag.tml"])
def test_a_name_of_no_recipe_is_refused_with_those_there_are(wanted: str) -> None:
    assert "no recipe of that name. There are boxed-pouch, bunting-flag" in refused(wanted)
    assert refused(wanted).endswith(". A file of your own ends in .toml.")


@pytest.mark.parametrize(
    ("wanted", "near"),
    [("coster", "coaster"), ("Fold-Walet", "fold-wallet"), ("coaster/", "coaster")],
)
def test_a_name_near_that_of_a_recipe_is_refused_with_it(wanted: str, near: str) -> None:
    hint = f"Did you mean `{near}`? A file of your own ends in .toml."
    assert refused(wanted) == f"{wanted}: no recipe of that name. {hint}"


def test_what_is_no_file_is_refused_with_its_path(tmp_path: Path) -> None:
    folder, pipe = tmp_path / "folder.toml", tmp_path / "pipe.toml"
    folder.mkdir()
    os.mkfifo(pipe)
    assert refused(tmp_path / "tag.toml") == f"{tmp_path}/tag.toml: there is no such file"
    assert refused(folder) == f"{folder}: cannot be read: Is a directory"
    assert refused(folder / "tag.toml") == f"{folder}/tag.toml: there is no such file"
    assert refused(pipe) == f"{pipe}: this is not a file"
    (tmp_path / "file").touch()
    assert "cannot be read: Not a directory" in refused(tmp_path / "file" / "tag.toml")
    assert "cannot be read: File name too long" in refused(tmp_path / f"{'a' * 300}.toml")


# --- From what bytes --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"\xff\xfe", "this is not a text in UTF-8"),
        ("title = 'Pflänzchen'".encode("latin-1"), "this is not a text in UTF-8"),
        (GOOD.encode("utf-16"), "this is not a text in UTF-8"),
        (b"# " + b"x" * MOST_BYTES, "this is too large to be a recipe"),
        (b"a = " + b"[" * 20_000, "brackets are nested too deeply"),
    ],
)
def test_bytes_that_are_no_recipe_are_refused(data: bytes, message: str, tmp_path: Path) -> None:
    path = tmp_path / "tag.toml"
    path.write_bytes(data)
    assert refused(path) == f"{path}: {message}"


@pytest.mark.parametrize("text", ["title = ", "PK\x03\x04", "<svg/>", "a = " + "1" * 5_000])
def test_a_text_that_is_no_toml_is_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / "tag.toml"
    path.write_text(text, encoding="utf-8")
    assert ": this is not TOML: " in refused(path)
    assert refused(path).startswith(str(path))


@pytest.mark.parametrize("text", ["", "\n", "# nothing\n"])
def test_an_empty_file_lacks_all_that_a_recipe_must_hold(text: str, tmp_path: Path) -> None:
    path = tmp_path / "tag.toml"
    path.write_text(text, encoding="utf-8")
    wanted = [f"{path}: the key `{key}` is missing" for key in WANTED]
    wanted[0] += ". Write `format = 1` before the first table."
    assert refused(path).splitlines() == wanted


def test_line_ends_and_byte_order_marks_of_other_systems_are_read(tmp_path: Path) -> None:
    path = tmp_path / "tag.toml"
    path.write_bytes(GOOD.replace("\n", "\r\n").encode("utf-8-sig"))
    assert find_recipe(str(path)).file == read_recipe(GOOD, name="tag", source="tag.toml").file


# --- Nothing but faults -----------------------------------------------------------------


def faults(text: str) -> list[str]:
    with pytest.raises(InputError) as refusal:
        read_recipe(text, name="tag", source="tag.toml")
    return [str(fault) for fault in refusal.value.faults]


def with_values(*lines: str) -> str:
    """The plant tag with values before its own, from line 35 on."""
    return GOOD.replace("[values]\n", "\n".join(["[values]", *lines, ""]))


@pytest.mark.parametrize(
    "text",
    [
        "".join(f"key{number} = 1\n" for number in range(50_000)),
        with_values(*(f'v{number} = "w{number}"' for number in range(250))),
        with_values(*(f'v{number} = "v{number + 1}"' for number in range(250))),
    ],
    ids=["unknown keys", "undefined names", "names before they are defined"],
)
def test_no_more_than_a_hundred_faults_are_looked_for(text: str) -> None:
    found = faults(text)
    assert len(found) == 101
    assert found[-1] == "tag.toml: there are more faults than these 100"


def test_a_table_may_not_hold_more_than_any_recipe_needs() -> None:
    text = with_values(*(f"v{number} = {number}" for number in range(20_000)))
    assert faults(text) == ["tag.toml: values, line 34: at most 300 wanted, this has 20002"]


def test_a_circle_of_many_is_found_once() -> None:
    ring = [f"v{number}" for number in range(290)]
    text = with_values(*(f'{v} = "{w}"' for v, w in zip(ring, [*ring[1:], ring[0]], strict=True)))
    round_it = " → ".join([*ring, ring[0]])
    assert faults(text) == [f"tag.toml: values.v0, line 35: goes round in a circle: {round_it}"]


TEXTS = [GOOD, *(path.read_text(encoding="utf-8") for path in listed().values())]
VALUES = ["0", "-1", "true", "inf", "nan", '""', '"0"', '"k"', '"width"', '"pocket[k]"', "[]", "{}"]
VALUES += ['"mouth[9]"', '"height - 500"', '"1e9"', '"1e300"', '"width * 0"', "[[]]", "2024-01-01"]
VALUES += ['["seam"]', '"seam"', '"2 if width > 9 else 0"', "7", '"1 / 0 > 1"', '"width > 5"']


@st.composite
def mangled(draw: st.DrawFn) -> str:
    """A recipe with some lines taken out, doubled, swapped or given another value."""
    lines = draw(st.sampled_from(TEXTS)).split("\n")
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        how = draw(st.sampled_from(["out", "twice", "swap", "value", "value", "value"]))
        if how == "out":
            del lines[at]
        elif how == "twice":
            lines.insert(at, lines[at])
        elif how == "swap":
            other = draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
        elif " = " in lines[at]:
            lines[at] = f"{lines[at].split(' = ')[0]} = {draw(st.sampled_from(VALUES))}"
    return "\n".join(lines)


@settings(max_examples=60)
@given(mangled())
def test_a_mangled_recipe_is_read_or_refused_and_made_or_not(text: str) -> None:
    said, last = "made", text.count("\n") + 1
    try:
        recipe = read_recipe(text, name="tag", source="tag.toml")
        lay_out(size(recipe, {}, unit=Unit.MM))
    except InputError as refusal:
        said = min(fault.message for fault in refusal.faults)
        last = max(fault.line or 1 for fault in refusal.faults)
    except CannotMakeError as refusal:
        said = min(says(finding) for finding in refusal.findings)
    assert said
    assert 1 <= last <= text.count("\n") + 1
