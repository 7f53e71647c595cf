"""The read command: what it prints, with which status, and how it refuses."""

import json
import os
from pathlib import Path

import pytest
from command_line import paramgen
from reading_files import STEPS, written

from paramgen.cli.read_command import load
from paramgen.files.read_any_kind import LARGEST_FILE


@pytest.fixture
def dst(tmp_path: Path) -> Path:
    """Stitches of 12 by 8 mm and less: from x -6 to 5 mm and y -4 to 4 mm."""
    file = tmp_path / "tag.dst"
    file.write_bytes(written()["tag.dst"])
    return file


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pack") / "tag"
    made = paramgen("make", "plant-tag", "--hoop", "130x180", "--files", "dst,pes", "--out", folder)
    assert made.status == 0, made.err
    return folder


def test_everything_is_told(dst: Path) -> None:
    ran = paramgen("read", dst)
    assert (ran.status, ran.err) == (0, "")
    # From x -60 to 50 and y -40 to 40 tenths.
    for said in (
        "kind dst,",
        "complete yes: it has its end record",
        "size 11 × 8 mm (7/16 × 5/16 in)",
        f"stitches {sum(step.stitch_count for step in STEPS)} in 3 stops",
        "colours none in the file",
        "longest stitch 10 mm (3/8 in), stop 1, stitch 1, from x -5.0, y -4.0 mm",
        "cuts 4",
        "130x180 yes 59.5 mm at the left and right, 86 mm at the top and bottom",
    ):
        assert said in ran.out, ran.out


def test_the_unit_asked_for_is_shown_first(dst: Path) -> None:
    assert "size 7/16 × 5/16 in (11 × 8 mm)" in paramgen("read", dst, "--unit", "in").out


def test_a_hoop_that_takes_it_and_one_that_does_not(dst: Path) -> None:
    fits = paramgen("read", dst, "--hoop", "8x11mm")
    assert fits.status == 0
    assert "8x11 takes it, turned by 90°: 0 mm at the left and right" in fits.out
    exceeds = paramgen("read", dst, "--hoop", "10x10mm")
    assert exceeds.status == 1
    # (11 - 10) / 2
    assert "0.5 mm (0.02 in) too wide on each side" in exceeds.out
    assert "The smallest listed hoop that takes it is 100x100." in exceeds.out


def test_json_says_the_same(dst: Path) -> None:
    ran = paramgen("read", dst, "--hoop", "10x10mm", "--json")
    told = json.loads(ran.out)
    assert ran.status == 1
    assert (told["kind"], told["size"], told["all_there"]) == ("dst", [11.0, 8.0], True)
    assert told["extent"] == {"left": -6.0, "top": -4.0, "right": 5.0, "bottom": 4.0}
    assert [stop["stitches"] for stop in told["stops"]] == [step.stitch_count for step in STEPS]
    assert told["hoop"]["takes_it"] is False
    assert told["hoop"]["finding"]["code"] == "hoop-exceeded"
    assert told["hoop"]["finding"]["amount"] == 0.5
    assert told["plan"] is None


def test_a_file_of_a_project_is_as_planned(pack: Path) -> None:
    for file in sorted((pack / "stitch").iterdir()):
        for plan in (pack, pack / "plan.json"):
            ran = paramgen("read", file, "--plan", plan, "--hoop", "5x7in")
            assert ran.status == 0, ran.out
            assert f"byte for byte its stitch/{file.name}." in ran.out


def test_a_file_that_is_not_as_planned_is_told_so(pack: Path, dst: Path) -> None:
    ran = paramgen("read", dst, "--plan", pack)
    assert ran.status == 1
    assert "It is not as planned: " in ran.out
    assert "different: its stitches take 11 × 8 mm, in the plan " in ran.out
    told = json.loads(paramgen("read", dst, "--plan", pack, "--json").out)["plan"]
    assert (told["as_planned"], told["same_bytes_as"]) == (False, None)
    assert "extent" in [one["code"] for one in told["differences"]]


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("gone.dst", None, "there is no such file"),
        ("empty.dst", b"", "it is empty"),
        ("notes.dst", b"Dear gardener, here are the seeds.", "this is a text"),
        ("notes.txt", b"Dear gardener, here are the seeds.", "`.txt` is no kind of stitch file"),
        ("tag.png", b"\x89PNG\r\n\x1a\n", "`.png` is no kind of stitch file"),
        ("cut.dst", written()["tag.dst"][:-3], "it is cut short or damaged"),
    ],
)
def test_what_cannot_be_read_is_refused_by_name(
    name: str, data: bytes | None, said: str, tmp_path: Path
) -> None:
    if data is not None:
        (tmp_path / name).write_bytes(data)
    ran = paramgen("read", tmp_path / name)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"{tmp_path / name}: ")
    assert said in ran.err


@pytest.mark.parametrize("part", [1.0, 0.5])
def test_a_plan_is_known_for_what_it_is(pack: Path, tmp_path: Path, part: float) -> None:
    data = (pack / "plan.json").read_bytes()
    file = tmp_path / "seeds.json"
    file.write_bytes(data[: int(part * len(data))])
    ran = paramgen("read", file, "--hoop", "9x")
    assert (ran.status, ran.out) == (2, "")
    assert f"{file}: this is the plan of a project, not a stitch file." in ran.err
    assert "Give a stitch file, and the plan after --plan." in ran.err
    assert "--hoop: `9x` is not a hoop known here." in ran.err


def test_a_stitch_file_that_only_speaks_of_a_plan_is_no_plan(tmp_path: Path) -> None:
    file = tmp_path / "tag.json"
    file.write_bytes(b'{"stitches": [], "extras": {"made_by": "paramgen"}}')
    ran = paramgen("read", file)
    assert ran.status == 2
    assert "the plan of a project" not in ran.err


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "folder.dst").mkdir()
    os.mkfifo(tmp_path / "pipe.dst")  # would never end
    assert "this is a folder, not a file" in paramgen("read", tmp_path / "folder.dst").err
    assert "this is not a file of bytes" in paramgen("read", tmp_path / "pipe.dst").err
    assert "this is not a file of bytes" in paramgen("read", "/dev/zero").err
    assert paramgen("read", tmp_path / ("x" * 300 + ".dst")).status == 2
    assert paramgen("read", "nul\0.dst").status == 2


def test_a_file_that_may_not_be_read(dst: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    ran = paramgen("read", dst)
    assert ran.status == 2
    assert "it cannot be read: Permission denied" in ran.err


def test_no_more_is_read_than_is_needed_to_see_that_it_is_too_large(tmp_path: Path) -> None:
    huge = tmp_path / "huge.exp"
    with huge.open("wb") as stream:
        stream.truncate(50 * LARGEST_FILE)  # takes no room on the disk
    assert len(load(huge, 1000)) == 1001
    assert "it is larger than 16 MB" in paramgen("read", huge).err


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_text("{")
    ran = paramgen(
        "read", tmp_path / "gone.dst", "--hoop", "5x7", "--unit", "km", "--plan", tmp_path
    )
    assert ran.status == 2
    for said in ("there is no such file", "`5x7` has no unit", "`km` is no unit", "it is no JSON"):
        assert said in ran.err


def test_a_plan_whose_name_no_disk_takes_is_told(dst: Path) -> None:
    ran = paramgen("read", dst, "--plan", "p" * 5000)
    assert ran.status == 2
    assert "cannot be read" in ran.err


def test_a_name_that_cannot_be_shown_is_no_trouble(tmp_path: Path) -> None:
    name = os.fsdecode(b"t\xffg\n.dst")
    (tmp_path / name).write_bytes(b"")
    assert f"{tmp_path}/t?g?.dst: it is empty" in paramgen("read", str(tmp_path / name)).err
