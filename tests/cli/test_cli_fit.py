"""The fit command: what it says, what it refuses, and that what it prints can be run."""

import re
import shlex
from collections.abc import Sequence
from pathlib import Path

import pytest
from command_line import Ran, paramgen
from typer.testing import CliRunner

from paramgen.cli.app import app
from paramgen.installed import templates

COASTER = ("fit", "coaster", "--hoop", "5x7in")


def printed(*words: str | Path) -> str:
    """What a command prints, line by line."""
    runner = CliRunner(env={"XDG_CONFIG_HOME": "/dev/null"})
    ran = runner.invoke(app, [str(word) for word in words], catch_exceptions=False)
    assert ran.exit_code == 0, ran.stderr
    return ran.stdout


def cells(text: str, head: str) -> list[list[str]]:
    """Rows of the table whose head starts so, cut where its columns lie."""
    lines = text.splitlines()
    at = next(n for n, line in enumerate(lines) if line.startswith(head))
    starts = [0, *(n for n in range(1, len(lines[at + 1])) if lines[at + 1][n - 1 : n + 1] == " -")]
    rows = []
    for line in lines[at + 2 :]:
        if not line.strip() or line.startswith("  "):
            break
        ends = [*starts[1:], None]
        rows.append([line[a:b].strip() for a, b in zip(starts, ends, strict=True)])
    return rows


def to_make(text: str) -> list[list[str]]:
    """Every command that is printed, in words as a shell makes them."""
    return [
        shlex.split(line)[1:] for line in text.splitlines() if line.startswith("  paramgen make ")
    ]


def checks(words: Sequence[str]) -> Ran:
    assert words[0] == "make"
    return paramgen("check", *words[1:])


def test_ranges_are_shown_to_a_tenth_and_on_the_ruler_with_what_binds() -> None:
    text = printed(*COASTER)
    # The tack-down runs 0.5 + 2 mm outside: 130 - 5 and 180 - 5. A coaster is at least 50 high.
    width, height = cells(text, "hoop")
    assert width[:3] == ["130x180", "width", "84 to 125 mm"]
    assert width[-2:] == ["a", "the field"]
    # Marks of 1/16 in within: 3 5/16 in is 84.1 mm, 4 7/8 in is 123.8 mm.
    assert width[3] == "3 5/16 to 4 7/8 in (84 to 125 mm)"
    assert height == [
        "130x180",
        "height",
        "50 to 175 mm",
        "2 to 6 7/8 in (50 to 175 mm)",
        "the recipe",
        "the field",
    ]
    assert "\n  a: a straight side of " in text


def test_without_a_hoop_every_listed_one_is_asked_the_smallest_first() -> None:
    rows = cells(printed("fit", "coaster", "--largest", "width"), "hoop")
    assert [row[0] for row in rows] == [
        "100x100",
        "130x180",
        "200x200",
        "160x260",
        "180x300",
        "200x300",
        "240x360",
        "360x350",
    ]
    assert {row[1] for row in rows} == {"width"}


@pytest.mark.parametrize(
    ("words", "sizes"),
    [
        (("--largest", "width"), "width=4 7/8in"),
        (("--smallest", "width"), "width=3 5/16in"),
        (("--largest", " HEIGHT "), "height=6 7/8in"),
        (("--largest", "width", "--margin", "1/2in"), "width=3 7/8in"),
        (("height=2in", "--largest", "width"), "width=6 7/8in"),
        (("height=2in", "--no-turn", "--largest", "width"), "width=4 7/8in"),
    ],
)
def test_the_command_for_the_end_of_a_range_is_printed_and_makes_it(
    words: tuple[str, ...], sizes: str
) -> None:
    text = printed(*COASTER, *words)
    (command,) = to_make(text)
    assert sizes in command
    assert ("--no-turn" in command) == ("--no-turn" in words)
    assert ("--margin" in command) == ("--margin" in words)
    assert checks(command).status == 0
    # A mark beyond is too much.
    name = sizes.partition("=")[0]
    limit = {
        "width=4 7/8in": "4 15/16in",
        "width=3 5/16in": "3 1/4in",
        "height=6 7/8in": "6 15/16in",
    }
    beyond = limit.get(sizes)
    if beyond and len(words) == 2:
        changed = [f"{name}={beyond}" if word == sizes else word for word in command]
        assert checks(changed).status == 1


@pytest.mark.parametrize(
    ("unit", "value", "shown"),
    [
        # A round one is stitched 5 mm wider, in whole tenths: of 125.1 mm, 130 mm.
        ("mm", "width=125.1mm", "the largest width that fits is 125.1 mm"),
        # 4 15/16 in is 125.4 mm; 4 14/16 in is 123.8 mm.
        ("in", "width=4 7/8in", "the largest width that fits is 4 7/8 in"),
    ],
)
def test_the_largest_the_nearest_and_what_a_refusal_names_are_the_same(
    unit: str, value: str, shown: str
) -> None:
    of = ("coaster", "outline=round", "--hoop", "130x180", "--unit", unit)
    for question in (("--largest", "width"), ("--near", "140x140mm")):
        (command,) = to_make(printed("fit", *of, *question))
        assert value in command
    assert shown in paramgen("check", *of, "width=140mm").err


def test_what_is_printed_can_be_made_into_a_folder(tmp_path: Path) -> None:
    (command,) = to_make(printed(*COASTER, "--near", "5x8in"))
    out = tmp_path / "mat"
    ran = paramgen(*command, "--no-papers", "--files", "dst", "--out", out)
    assert ran.status == 0
    assert (out / "plan.json").is_file()


def test_other_sizes_may_follow() -> None:
    # No coaster 170 high lies in 100 × 100, whatever its width; one as wide as high does.
    ran = paramgen("fit", "coaster", "height=170", "--hoop", "100x100", "--largest", "width")
    assert ran.status == 1
    assert "no size works: the field" in ran.err
    free = printed(
        "fit", "coaster", "height=170", "--hoop", "100x100", "--largest", "width", "--free"
    )
    assert "the others following" in free
    assert "width 95 mm (3 3/4 in) goes with height " in free
    (command,) = to_make(free)
    assert checks(command).status == 0


NEAR = [
    ("3x5in", "3 × 5 in (76.2 × 127 mm)", "as wished for"),
    # The field takes 125 × 175; marks of a sixteenth are 4 7/8 (of 4.92) and 6 7/8 (of 6.89).
    ("5x8in", "4 7/8 × 6 7/8 in", "width 1/8 in less, height 1 1/8 in less"),
    ('5" x 8"', "4 7/8 × 6 7/8 in", "width 1/8 in less, height 1 1/8 in less"),
    ("130x190mm", "125 × 175 mm", "width 5 mm less, height 15 mm less"),
    ("13 cm × 19 cm", "125 × 175 mm", "width 5 mm less, height 15 mm less"),
]


@pytest.mark.parametrize(("typed", "sizes", "off"), NEAR)
def test_the_nearest_sizes_and_how_far_they_are(typed: str, sizes: str, off: str) -> None:
    text = printed("fit", "coaster", "--hoop", "130x180", "--near", typed)
    (row,) = cells(text, "hoop")
    assert row[1].startswith(sizes)
    assert row[2] == off
    (command,) = to_make(text)
    assert checks(command).status == 0


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("5", "--near: `5` is no pair of sizes. Write WIDTHxHEIGHT: 120x160mm or 5x8in."),
        ("five by eight", "`five by eight` is no pair of sizes"),
        ("5x", "`5x` is no pair of sizes"),
        ("5x8x2in", "`5x8x2in` is no pair of sizes"),
        ("0x8in", "is zero"),
        ("-5x8in", "is negative"),
        ("5x9999in", "is longer than the limit"),
        ("5x8 ells", "--near"),
        ("1/2x8", "`1/2x8` has no unit. Are inches meant? Then write 1/2x8in."),
        ("5x8", "`5x8` has no unit. Are inches meant? Then write 5x8in."),
        ("nanxinf", "--near"),
    ],
)
def test_wishes_that_are_no_sizes_are_refused(typed: str, said: str) -> None:
    ran = paramgen("fit", "coaster", "--hoop", "130x180", f"--near={typed}")
    assert ran.status == 2
    assert ran.out == ""
    assert said in ran.err
    assert ran.err.startswith("--near")


def test_a_hoop_that_nothing_fits_is_a_no() -> None:
    ran = paramgen("fit", "coaster", "--hoop", "45x45mm", "--near", "60x60mm")
    assert (ran.status, ran.out) == (1, "")
    assert "no size works" in ran.err


def test_the_hoops_that_take_it_are_shown_with_the_room_left() -> None:
    # Stitched 120 + 5 wide and 150 + 5 high.
    text = printed("fit", "coaster", "width=120", "height=150", "--any-hoop")
    rows = {row[0]: row[1:] for row in cells(text, "hoop")}
    assert rows["130x180"] == ["130 × 180 mm", "not turned", "5 mm left", "25 mm left"]
    assert rows["100x100"] == ["100 × 100 mm", "not at all", "25 mm too wide", "55 mm too high"]
    lying = printed("fit", "coaster", "width=150", "height=120", "--any-hoop")
    rows = {row[0]: row[1:] for row in cells(lying, "hoop")}
    assert rows["130x180"] == ["130 × 180 mm", "turned by 90°", "5 mm left", "25 mm left"]
    upright = printed("fit", "coaster", "width=150", "height=120", "--any-hoop", "--no-turn")
    rows = {row[0]: row[1:] for row in cells(upright, "hoop")}
    assert rows["130x180"] == ["130 × 180 mm", "not at all", "25 mm too wide", "55 mm left"]


def test_a_margin_is_for_every_hoop_that_has_room_for_it() -> None:
    text = printed("fit", "coaster", "width=60", "height=120", "--any-hoop", "--margin", "60")
    rows = {row[0]: row[1:] for row in cells(text, "hoop")}
    assert "100x100" not in rows
    # 200 - 2 × 60 = 80, of which 65 are stitched; across 125 of 300 - 120.
    assert rows["200x300"] == ["200 × 300 mm", "not turned", "15 mm left", "55 mm left"]
    ran = paramgen("fit", "coaster", "--any-hoop", "--margin", "175")
    assert ran.status == 2
    assert "--margin: 175 mm all round leaves nothing of the field of 360x350" in ran.err


def test_how_many_lie_in_a_hoop_at_once() -> None:
    # A round one is stitched 60 + 5 wide: one in 100 × 100.
    words = ("fit", "coaster", "outline=round", "width=60", "--hoop", "4x4in", "--copies")
    ((*_, count),) = cells(printed(*words, "most"), "hoop")
    assert count.startswith("1, ")
    ran = paramgen(*words, "2")
    assert ran.status == 1


def test_another_hoop_shows_what_changes_and_what_stays() -> None:
    text = printed("fit", "coaster", "--from", "130x180", "--to", "100x100")
    changed, stayed = text.index("\nChanged\n"), text.index("\nStayed\n")
    assert changed < text.index("finished size") < stayed
    assert changed < text.index("batting, cut") < stayed
    assert stayed < text.index("fabric cut past the seam line")
    # 113 mm are stitched of 130; as much of 100 are 86.9, and 108 × 86.9 / 113 = 83.1; the gap
    # asks for 84: 77.8 %, of an allowance of 12 mm 9.3 mm.
    assert "scaled to 77.8 % across and 77.8 % down" in " ".join(text.split())
    (allowance,) = (line for line in text.splitlines() if "fabric cut past the seam" in line)
    assert allowance.split("  ")[-1].strip() == "9.3 mm"
    (command,) = to_make(text)
    assert command[:4] == ["make", "coaster", "width=84mm", "--hoop"]
    assert checks(command).status == 0


def test_another_hoop_that_will_not_do_is_a_no_with_one_that_will() -> None:
    ran = paramgen("fit", "zip-pouch", "--from", "200x300", "--to", "4x4in")
    assert (ran.status, ran.out) == (1, "")
    assert "no size works in 100x100" in ran.err
    assert "The smallest listed hoop in which some size works is 130x180." in ran.err


REFUSED = [
    (("--largest", "widht"), "--largest: `widht` is no size of this recipe. Did you mean `width`?"),
    (
        ("--smallest", "ruler"),
        "There are width and height, and both for the smallest of both at once.",
    ),
    (
        ("--largest", "width", "--smallest", "width"),
        "--largest, --smallest: one question at a time",
    ),
    (("--near", "5x8in", "--any-hoop"), "one question at a time"),
    (("--near", "5x8in", "--free"), "--free: does not go with --near. Ask for it alone."),
    (("--near", "5x8in", "--picture", "a.svg"), "--picture: does not go with --near"),
    (("--largest", "width", "--near", "5x8in", "--free"), "--free: does not go with --near"),
    (("--from", "4x4in"), "--from and --to: go together. Say both hoops."),
    (("--to", "4x4in"), "--from and --to: go together. Say both hoops."),
    (("--from", "4x4in", "--to", "5x7in", "--hoop", "8x8in"), "--hoop: does not go with --from"),
    (("--any-hoop", "--hoop", "8x8in"), "--hoop: does not go with --any-hoop"),
    (("--ease", "2mm"), "--ease: is for what is to be held"),
    (("--hoop", "5x7"), "--hoop: `5x7` has no unit"),
    (("--hoop", "130x18O"), "--hoop: `130x18O` is not a hoop known here"),
    (("--from", "nowhere", "--to", "5x7in"), "--from: `nowhere` is not a hoop known here"),
    (("--from", "5x7in", "--to", "nowhere"), "--to: `nowhere` is not a hoop known here"),
    (("--unit", "ell"), "--unit: `ell` is no unit"),
    (("--margin", "deep"), "--margin: `deep` is not a length"),
    (
        ("--from", "14x14in", "--to", "4x4in", "--margin", "50"),
        "leaves nothing of the field of 100",
    ),
    (("widht=4in",), "widht: coaster has no such size or choice. Did you mean `width`?"),
    (("width=4 1/2",), "width: `4 1/2` has a fraction but no unit"),
    (("--copies", "none"), "--copies: `none` is no number of copies"),
    (("--hold", "pasport"), "Did you mean `passport`"),
]


@pytest.mark.parametrize(("words", "said"), REFUSED)
def test_what_is_typed_wrong_is_refused(words: tuple[str, ...], said: str) -> None:
    ran = paramgen("fit", "coaster", *words)
    assert ran.status == 2
    assert ran.out == ""
    assert said in ran.err


def test_every_fault_is_told_at_once_and_none_twice() -> None:
    words = ["--largest", "widht", "--near", "5", "--from", "9x", "--to", "8x"]
    ran = paramgen(
        "fit", "coaster", "depth=1", *words, "--margin", "wide", "--free", "--unit", "ell"
    )
    assert ran.status == 2
    for part in (
        "one question at a time",
        "`widht`",
        "--near: `5`",
        "--from: `9x`",
        "--to: `8x`",
        "--margin: `wide`",
        "--free: does not go",
        "--unit: `ell`",
        "depth: coaster has no such",
    ):
        assert ran.err.count(part) == 1, part


def test_an_unknown_recipe_is_refused_with_the_nearest_name() -> None:
    ran = paramgen("fit", "coastr", "--hoop", "9x")
    assert ran.status == 2
    assert "coastr: no recipe of that name. Did you mean `coaster`?" in ran.err
    assert "`9x` is not a hoop known here" in ran.err


def test_the_unit_is_that_of_what_is_typed_or_of_the_option() -> None:
    for words, start in (
        (("--near", "5x6in"), "5 × 6 in (127 × 152.4 mm)"),
        (("--near", "127x152.4mm"), "127 × 152.4 mm (5 × 6 in)"),
        (("--near", "5x6in", "--unit", "mm"), "127 × 152.4 mm (5 × 6 in)"),
        (("--near", "5x6in", "width=100mm"), "127 × 152.4 mm (5 × 6 in)"),
    ):
        text = printed("fit", "coaster", "--hoop", "200x200", *words)
        assert f"Wished for: {start}" in text


def test_the_command_keeps_the_unit_that_its_ruler_marks_come_from() -> None:
    words = ("width=100mm", "--unit", "in", "--hoop", "130x180", "--largest", "height")
    (command,) = to_make(printed("fit", "coaster", *words))
    assert command[-2:] == ["--unit", "in"]
    # 6 7/8 in, not 6.88 in: on a mark of the inch ruler.
    assert "height=6 7/8in" in command
    assert checks(command).status == 0


def test_a_recipe_of_ones_own_is_named_by_its_path(tmp_path: Path) -> None:
    own = tmp_path / "my seed mat.toml"
    own.write_bytes((templates() / "coaster.toml").read_bytes())
    text = printed("fit", own, "--hoop", "100x100", "--largest", "width")
    (command,) = to_make(text)
    assert command[1] == str(own)
    assert checks(command).status == 0


def test_what_was_typed_with_marks_of_the_inch_is_typed_again() -> None:
    words = ('height=5 1/2"', "--hoop", "130x180", "--largest", "width")
    (command,) = to_make(printed("fit", "coaster", *words))
    assert 'height=5 1/2"' in command
    assert checks(command).status == 0


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize(
    "words",
    [
        ("--largest", "width"),
        ("--near", "5x8in"),
        ("--any-hoop",),
        ("--from", "130x180", "--to", "100x100"),
    ],
)
def test_lines_are_no_longer_than_a_wide_screen(words: tuple[str, ...], unit: str) -> None:
    text = printed("fit", "coaster", *words, "--unit", unit)
    assert max(map(len, text.splitlines())) <= 112


# --- The picture -----------------------------------------------------------------------------


def test_the_picture_is_written_whole_and_replaced(tmp_path: Path) -> None:
    file = tmp_path / "new folder" / "sizes.svg"
    text = printed(*COASTER, "outline=round", "--picture", file)
    assert text.splitlines()[-1] == f"Picture: {file}"
    first = file.read_bytes()
    assert first.startswith(b"<svg")
    assert first.rstrip().endswith(b"</svg>")
    printed(*COASTER, "outline=round", "--picture", file, "--unit", "mm")
    assert file.read_bytes() != first
    printed(*COASTER, "outline=round", "--picture", file)
    assert file.read_bytes() == first
    assert [one.name for one in file.parent.iterdir()] == ["sizes.svg"]


@pytest.mark.parametrize("kind", ["file", "folder", "link"])
def test_what_the_program_did_not_make_is_not_replaced(tmp_path: Path, kind: str) -> None:
    file, other = tmp_path / "sizes.svg", tmp_path / "seeds.svg"
    other.write_text("<svg/>", "utf-8")
    if kind == "file":
        file.write_text("<svg/>", "utf-8")
    elif kind == "folder":
        file.mkdir()
    else:
        file.symlink_to(other)
    ran = paramgen(*COASTER, "outline=round", "--picture", file)
    assert ran.status == 3
    assert ran.out == ""
    why = "is a folder" if kind == "folder" else "is there and this program did not make it"
    assert f"{file} {why}" in ran.err
    assert other.read_text("utf-8") == "<svg/>"
    assert not list(tmp_path.glob(".*"))


def test_a_folder_that_cannot_be_written_to_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    ran = paramgen(*COASTER, "outline=round", "--picture", tmp_path / "file" / "sizes.svg")
    assert ran.status == 3
    assert "cannot be written" in ran.err
    assert "Choose another file." in ran.err


@pytest.mark.parametrize("folder", [".", "/", ""])
def test_a_picture_is_no_folder(
    folder: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    ran = paramgen(*COASTER, "outline=round", "--picture", folder or tmp_path)
    assert ran.status == 3
    assert "is a folder; nothing was changed. Name a file in it." in ran.err
    assert list(tmp_path.iterdir()) == []


def test_where_no_size_works_it_is_said_what_binds_most_of_those_that_were_tried() -> None:
    # Tack-downs run 0.5 + 2 mm outside: of a field of 50 mm there are 45, and none is below 50.
    for words in (["--near", "60x60mm"], ["--largest"]):
        ran = paramgen("fit", "coaster", "--hoop", "50x50mm", *words)
        assert "no size works" in ran.err
        assert "the stitches do not lie in the field of 50 × 50 mm" in ran.err
    # A packet of 300 mm goes into no pouch that lies in 180 mm, whichever way it lies.
    ran = paramgen("fit", "zip-pouch", "packet_width=300mm", "--hoop", "180x180mm", "--largest")
    told = re.search(r"In 180x180, (none|[0-9]+) of the ([0-9]+) sizes tried can", ran.err)
    assert told, ran.err
    assert "the seed packet, 300 mm" in ran.err[told.end() :]


def test_where_a_size_works_nothing_binds() -> None:
    ran = paramgen("fit", "coaster", "--hoop", "130x180", "--near", "90x90mm")
    assert "sizes tried" not in ran.out
