"""What a person says once: their hoops first, their stitch files, unit and paper."""

import shlex
import tomllib
from pathlib import Path

import pytest
from command_line import paramgen
from hypothesis import given
from hypothesis import strategies as st

from paramgen.ordering.settings_filled_in import with_settings
from paramgen.ordering.typed_request import TypedRequest
from paramgen.reference.settings import KEYS, Settings, changed, own_settings, read_settings
from paramgen.vocabulary.findings import InputError

SET = 'hoops = ["4x4in", "5x7in"]\nfiles = ["dst"]\nunit = "in"\npaper = "letter"\n'


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    """A folder of settings that has some."""
    write(tmp_path, SET)
    return tmp_path


def write(folder: Path, text: str) -> None:
    (folder / "paramgen").mkdir(exist_ok=True)
    (folder / "paramgen" / "settings.toml").write_text(text, "utf-8")


def test_the_tests_read_no_settings_of_who_runs_them() -> None:
    assert "paramgen-tests-" in str(own_settings())
    assert not own_settings().exists()


def test_they_are_set_in_the_words_of_the_options_and_shown(tmp_path: Path) -> None:
    words = ("--hoop", "5x7in", "--hoop", "140x200mm", "--files", "dst,pes", "--unit", "in")
    ran = paramgen("settings", *words, settings=tmp_path)
    assert ran.status == 0, ran.err
    said = tomllib.loads((tmp_path / "paramgen" / "settings.toml").read_text("utf-8"))
    assert said == {"hoops": ["5x7in", "140x200mm"], "files": ["dst", "pes"], "unit": "in"}
    shown = paramgen("settings", settings=tmp_path).out
    assert "5x7in, 140x200mm" in shown
    assert "paper not set: by the unit" in shown
    ran = paramgen("settings", "--forget", "hoop", "--paper", "a4", settings=tmp_path)
    said = tomllib.loads((tmp_path / "paramgen" / "settings.toml").read_text("utf-8"))
    assert said == {"files": ["dst", "pes"], "unit": "in", "paper": "a4"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--hoop", "9x"), "--hoop: `9x` is not a hoop known here"),
        (("--files", "dts"), "--files: no stitch file is called `dts`"),
        (("--unit", "km"), "--unit: `km` is no unit"),
        (("--paper", "a44"), "--paper: `a44` is not a paper known here"),
        (("--forget", "hops"), "--forget: `hops` is nothing that is set. Did you mean `hoops`?"),
        (("--unit", "in", "--forget", "unit"), "--forget unit: is set and forgotten at once"),
    ],
)
def test_what_cannot_be_set_changes_nothing(words: tuple[str, ...], said: str, mine: Path) -> None:
    ran = paramgen("settings", *words, settings=mine)
    assert ran.status == 2
    assert said in ran.err
    assert (mine / "paramgen" / "settings.toml").read_text("utf-8") == SET


@given(
    st.dictionaries(
        st.sampled_from(KEYS), st.text(st.characters(min_codepoint=32, max_codepoint=126))
    ),
    st.booleans(),
)
def test_what_else_the_file_holds_stays(said: dict[str, str], before: bool) -> None:
    changes: dict[str, str | tuple[str, ...]] = {
        key: (value,) if key in ("hoops", "files") else value for key, value in said.items()
    }
    text = f"# by hand\n{SET}# the end\n" if before else "# by hand\n"
    new = changed(text, changes)
    assert new is not None
    assert new.startswith("# by hand\n")
    wanted = {**tomllib.loads(text), **said}
    for key, value in tomllib.loads(new).items():
        assert value == ([said[key]] if key in said and key in ("hoops", "files") else wanted[key])


def test_a_file_that_cannot_be_changed_by_the_line_is_left_alone(tmp_path: Path) -> None:
    text = 'hoops = [\n  "5x7in",\n]\n'
    write(tmp_path, text)
    ran = paramgen("settings", "--hoop", "4x4in", settings=tmp_path)
    assert ran.status == 2
    assert "is not written one key a line. Change hoops in it by hand." in ran.err
    assert (tmp_path / "paramgen" / "settings.toml").read_text("utf-8") == text


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('unit = "mm"\nhoops = "5x7in"\n', "key `hoops`, line 2: this is a list of texts."),
        ("hoops = [5]\n", "key `hoops`, line 1: this is a list of texts."),
        ("\npaper = 3\n", "key `paper`, line 2: this is a text. Put it in quotes."),
        ('units = "mm"\n', "key `units`, line 1: there is no such key. Did you mean `unit`?"),
        ('unit = "mm"\n[hoops]\n', "key `hoops`, line 2: this is a list of texts."),
        ('unit = "mm"\n\nhoops = ["5x7"]\n', "key `hoops`, line 3: `5x7` has no unit"),
        ('files = ["dts"]\n', "key `files`, line 1: no stitch file is called `dts`"),
        ('unit = "km"\n', "key `unit`, line 1: `km` is no unit"),
        ('paper = "a44"\n', "key `paper`, line 1: `a44` is not a paper known here"),
        ('unit = "mm\n', "line 1: is not TOML"),
    ],
)
def test_a_broken_file_is_told_by_key_and_line(text: str, said: str, tmp_path: Path) -> None:
    write(tmp_path, text)
    for command in ("check", "fit"):
        ran = paramgen(command, "coaster", settings=tmp_path)
        assert ran.status == 2
        assert f"settings.toml, {said}" in ran.err
        assert "Traceback" not in ran.err


@pytest.mark.parametrize("key", ["hoops", "files"])
def test_no_more_are_asked_in_turn_than_anyone_has(key: str, tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_text(f"{key} = {['a'] * 50}\n", "utf-8")
    assert len(getattr(read_settings(file), key)) == 50
    file.write_text(f"{key} = {['a'] * 51}\n", "utf-8")
    with pytest.raises(InputError, match="it lists 51; at most 50 are asked"):
        read_settings(file)


def test_a_file_that_is_no_text_is_told(tmp_path: Path) -> None:
    write(tmp_path, "")
    (tmp_path / "paramgen" / "settings.toml").write_bytes(b'unit = "\xff"\n')
    ran = paramgen("check", "coaster", settings=tmp_path)
    assert ran.status == 2
    assert "settings.toml: is not text in UTF-8" in ran.err


def test_what_is_typed_wins() -> None:
    said = Settings(("4x4in",), ("dst",), "in", "letter")
    typed = TypedRequest(hoop="200x200", more_hoops=["5x7in"], files="pes", paper="a4")
    words = with_settings(typed, said)
    assert (words.hoop, [*words.more_hoops]) == ("200x200", ["5x7in"])
    assert (words.files, words.paper) == ("pes", "a4")
    words = with_settings(TypedRequest(), said)
    assert (words.hoop, [*words.more_hoops]) == ("", ["4x4in"])
    assert (words.files, words.paper, words.usual_unit) == ("dst", "letter", "in")


def test_ones_hoops_are_asked_in_turn_and_the_one_used_is_said(mine: Path) -> None:
    # A coaster of 108 mm needs 113 mm.
    ran = paramgen("check", "coaster", settings=mine)
    assert ran.status == 0, ran.err
    assert "Hoop 130x180, field 5 1/8 × 7 1/16 in" in ran.out
    said = "100x100 does not take it; 130x180 is the first of the hoops asked that does"
    assert said in ran.out
    # 90 mm needs 95 mm: the first does.
    ran = paramgen("check", "coaster", "width=90mm", settings=mine)
    assert "Hoop 100x100" in ran.out
    assert "first of the hoops asked" not in ran.out


def test_several_hoops_on_one_command_are_asked_in_turn() -> None:
    ran = paramgen(
        "check", "coaster", "--hoop", "100x100", "--hoop", "160x260", "--hoop", "130x180"
    )
    assert "Hoop 160x260" in ran.out
    # Of those that do not, the one that it sticks out of least is spoken of.
    ran = paramgen("check", "coaster", "width=150", "--hoop", "100x100", "--hoop", "130x180")
    assert ran.status == 1
    assert "the field of 130x180 has" in ran.err
    assert "No other of the hoops asked takes it." in ran.err


def test_a_unit_said_once_gives_way_to_one_that_is_typed(mine: Path) -> None:
    assert (
        "finished 3 9/16 × 3 9/16 in" in paramgen("check", "coaster", "width=90", settings=mine).out
    )
    assert "finished 90 × 90 mm" in paramgen("check", "coaster", "width=90mm", settings=mine).out
    # The name of a hoop says a unit too, but not against what is said.
    write(mine, 'hoops = ["5x7in"]\nunit = "mm"\n')
    assert "finished 90 × 90 mm" in paramgen("check", "coaster", "width=90", settings=mine).out


def test_refusals_and_tables_speak_of_ones_own_first(mine: Path) -> None:
    write(mine, 'hoops = ["4x4in", "14x14in"]\n')
    ran = paramgen("check", "coaster", "--hoop", "100x100", settings=mine)
    assert "The smallest of your hoops that takes it as asked is 360x350." in ran.err
    write(mine, 'hoops = ["4x4in"]\n')
    ran = paramgen("check", "coaster", settings=mine)
    said = "None of your hoops takes it as asked; the smallest listed one that does is 130x180."
    assert said in ran.err
    rows = paramgen("hoops", settings=mine).out
    assert rows.index("100x100 4x4in 3 15/16 × 3 15/16 in (100 × 100 mm) yes") < rows.index(
        "130x180"
    )
    write(mine, 'hoops = ["200x200", "140x200mm"]\n')
    table = paramgen("fit", "coaster", "--any-hoop", settings=mine).out
    assert table.index("140x200") < table.index("200x200") < table.index("100x100")
    ran = paramgen("check", "coaster", "--copies", "9", "--hoop", "100x100", settings=mine)
    assert ran.status == 1


def test_fit_without_a_hoop_asks_ones_own(mine: Path) -> None:
    ran = paramgen("fit", "coaster", "--largest", settings=mine)
    assert ran.status == 0, ran.err
    commands = ran.out.split("paramgen make")[1:]
    assert [shlex.split(one)[-1] for one in commands] == ["100x100", "130x180"]


def test_a_table_is_made_for_ones_own_hoops(mine: Path, tmp_path: Path) -> None:
    file, out = tmp_path / "rows.csv", tmp_path / "out"
    file.write_text("recipe,name,width\ncoaster,Small,90mm\ncoaster,Large,108mm\n", "utf-8")
    words = ("grade", file, "--out", out, "--no-papers", "--jobs", "1")
    ran = paramgen(*words, settings=mine)
    assert ran.status == 0, ran.err
    summary = (out / "summary.csv").read_text("utf-8-sig")
    assert "100x100" in summary
    assert "130x180" in summary
    assert {one.suffix for one in out.glob("*/stitch/*")} == {".dst"}
    assert "2 of them before" in paramgen(*words, settings=mine).out


def test_what_is_listed_is_shown_in_ones_own_unit(mine: Path) -> None:
    # A bank card is 85.60 × 53.98 mm (ISO/IEC 7810, ID-1): 3 3/8 × 2 1/8 in to a sixteenth.
    inches, metric = "3 3/8 × 2 1/8 in", "85.6 × 54 mm"
    shown = paramgen("things", settings=mine).out
    assert shown.index(inches) < shown.index(metric)
    shown = paramgen("things", "--unit", "mm", settings=mine).out
    assert shown.index(metric) < shown.index(inches)
    about = paramgen("about", "coaster", settings=mine).out
    assert "4 1/4 in" in about
    assert about == paramgen("about", "coaster", "--unit", "in").out
    hoops = paramgen("hoops", settings=mine).out
    assert "100x100 4x4in 3 15/16 × 3 15/16 in (100 × 100 mm) yes" in hoops
    # A person's hoops say a unit where none is set, as everywhere.
    write(mine, 'hoops = ["5x7in"]\n')
    shown = paramgen("things", settings=mine).out
    assert shown.index(inches) < shown.index(metric)


def test_what_is_listed_is_in_millimetres_where_nothing_is_set(tmp_path: Path) -> None:
    shown = paramgen("things", settings=tmp_path).out
    assert shown.index("85.6 × 54 mm") < shown.index("3 3/8 × 2 1/8 in")
    hoops = paramgen("hoops", settings=tmp_path).out
    assert "100 × 100 mm (3 15/16 × 3 15/16 in)" in hoops


def test_ones_own_hoops_are_named_first_where_a_hoop_is_missing_or_unknown(mine: Path) -> None:
    for option in ("--from", "--to"):
        ran = paramgen("fit", "coaster", option, "5x7in", settings=mine)
        assert ran.status == 2
        assert "Say both hoops; yours are 100x100 and 130x180." in ran.err
    unknown = (
        "`nowhere` is not a hoop known here. Yours are: 130x180, 5x7in. Known besides: 100x100"
    )
    write(mine, 'hoops = ["5x7in"]\n')
    for words in (
        ("--from", "nowhere", "--to", "5x7in"),
        ("--from", "5x7in", "--to", "nowhere"),
        ("--hoop", "nowhere"),
    ):
        ran = paramgen("fit", "coaster", *words, settings=mine)
        assert ran.status == 2
        assert unknown in ran.err
    ran = paramgen("fit", "zip-pouch", "--from", "200x300", "--to", "4x4in", settings=mine)
    assert "The smallest of your hoops in which some size works is 130x180." in ran.err
    write(mine, 'hoops = ["4x4in"]\n')
    ran = paramgen("fit", "zip-pouch", "--from", "200x300", "--to", "4x4in", settings=mine)
    said = "Some size works in none of your hoops; the smallest listed one in which it does is"
    assert f"{said} 130x180." in ran.err
