"""Several copies as asked for on the command line, and what is written then."""

import json
from pathlib import Path

import pytest
from command_line import paramgen
from decode_dst import records


def test_the_folder_says_how_many_copies_one_hooping_gives(tmp_path: Path) -> None:
    folder = tmp_path / "four"
    ran = paramgen("make", "coaster", "--hoop", "360x350", "--copies", "4", "--out", folder)
    assert ran.status == 0
    assert "4 copies at once" in ran.out
    plan = json.loads((folder / "plan.json").read_text("utf-8"))
    assert len(plan["copies"]) == 4
    # Batting is cut to its outline; the top and the back are one sheet over all copies.
    assert [(piece["quantity"], piece["over"]) for piece in plan["pieces"]] == [
        (4, 1),
        (1, 4),
        (1, 4),
    ]
    assert "One hooping gives 4" in (folder / "booklet.html").read_text("utf-8")
    for fabric, count in (("batting", 4), ("top", 1), ("back", 1)):
        cutting = (folder / "cutting" / f"{fabric}.svg").read_text("utf-8")
        assert cutting.count("<path") == count
    (dst,) = (folder / "stitch").glob("*-4-copies.dst")
    kinds = [one.kind for one in records(dst.read_bytes())]
    stops = [step for step in plan["steps"] if step["stop"]]
    assert kinds.count("stop") == len(stops) - 1  # one between each and the next


def test_as_many_as_fit_are_made_and_more_are_refused() -> None:
    for count, options in ((4, ["--singly"]), (9, [])):
        ask = ("check", "coaster", "--hoop", "360x350", *options, "--copies")
        ran = paramgen(*ask, "most")
        assert ran.status == 0
        assert f"{count} copies fit in 360x350 at once, and no more can" in ran.out
        ran = paramgen(*ask, str(count + 1))
        assert ran.status == 1
        said = f"{count + 1} copies do not fit in 360x350 at once: {count} do, and no more can"
        assert said in ran.err


@pytest.mark.parametrize("typed", ["0", "-1", "2.5", "four", "²", "9999999"])
def test_what_is_no_number_of_copies_is_said(typed: str) -> None:
    ran = paramgen("check", "coaster", "--hoop", "360x350", f"--copies={typed}")
    assert ran.status == 2
    assert "--copies" in ran.err
    assert typed in ran.err
    assert "most" in ran.err


def test_places_are_shown_among_the_copies(tmp_path: Path) -> None:
    ran = paramgen(
        "check", "zip-pouch", "--hoop", "360x350", "--copies", "2", "--places", tmp_path / "places"
    )
    assert ran.status == 0
    assert list((tmp_path / "places").glob("*.svg"))
