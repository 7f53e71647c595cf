"""What a kit's papers show: a class, settings with their grounds, and no row alone on a page."""

import itertools
import re
from pathlib import Path

import pytest
from command_line import paramgen
from papers_read import read
from test_kits_command import kit_of

from paramgen.kits.schedule_picture import MOST_BARS, schedule_pictures
from paramgen.papers.typeset import can_typeset
from paramgen.worktime.class_schedule import WorkJob, class_schedule


def test_a_class_has_a_bar_for_each_person_and_each_machine(tmp_path: Path) -> None:
    out = tmp_path / "kit"
    words = ("kit", "coaster", "--hoop", "130x180", "--count", "6", "--no-papers")
    assert paramgen(*words, "--people", "3", "--machines", "2", "--out", out).status == 0
    page = (out / "kit.html").read_text("utf-8")
    names = re.findall(r'id="class-1-((?:person|machine)-\d+)"', page)
    assert names == ["person-1", "person-2", "person-3", "machine-1", "machine-2"]
    found = kit_of(out)["in_class"]
    assert (found["people"], found["machines"]) == (3, 2)
    assert found["bound"] <= found["length"] == max(one["end"] for one in found["blocks"])
    # Each bag is prepared, sewn and finished, in that order, by one person.
    assert len(found["blocks"]) == 6 * 3
    for bag in range(1, 7):
        own = sorted(
            (one for one in found["blocks"] if one["bag"] == bag), key=lambda one: one["begin"]
        )
        assert [one["phase"] for one in own] == ["prepare", "at the machine", "finish"]
        assert len({one["person"] for one in own}) == 1
        assert all(a["end"] <= b["begin"] + 1e-6 for a, b in itertools.pairwise(own))


def test_a_large_class_is_shown_in_as_many_pictures_as_it_takes() -> None:
    jobs = [WorkJob(name="tag", prepare=600, at_machine=900, finish=300)] * 50
    pictures = schedule_pictures(class_schedule(jobs, machines=5, people=50, own=True))
    assert len(pictures) == -(-55 // MOST_BARS)
    told = " ".join(one.description for one in pictures)
    # Who begins first is at a machine from minute 10 to 25.
    assert "person 1: bag 1 prepare, minute 0 to 10; bag 1 at the machine, minute 10 to 25" in told
    for name in ("person 50", "machine 5"):
        assert told.count(f"{name}: ") == 1


def test_settings_have_a_ground_each_and_are_to_be_tried(tmp_path: Path) -> None:
    out = tmp_path / "kit"
    words = ("kit", "fold-wallet", "--hoop", "5x7in", "--no-papers", "--unit", "mm")
    assert paramgen(*words, "--out", out).status == 0
    page = (out / "kit.html").read_text("utf-8")
    section = page[page.index('id="settings"') : page.index('id="thread"')]
    text = " ".join(re.sub(r"<[^>]+>", " ", section).replace("\u00a0", " ").split())
    assert "all to be tried on scraps" in text
    # A needle's metric number is 100 times its blade's diameter in mm (facts of the trade).
    for number, blade in re.findall(r"needle (\d+)/\d+ .*?blade of ([\d.]+) mm", text):
        assert float(blade) == int(number) / 100
    (stitches,) = re.findall(r"(\d+) stitches; a light", text)
    kit = kit_of(out)
    sewn = sum(step["stitches"] for step in kit["thread"]["projects"][0]["steps"] if step["stop"])
    assert int(stitches) == sewn
    assert "From memory" in text
    assert "Common practice, no source" in text


@pytest.mark.skipif(not can_typeset(), reason="nothing can be typeset here")
@pytest.mark.parametrize("count", ["9", "13"])
def test_no_row_stands_alone_at_the_foot_or_the_head_of_a_page(count: str, tmp_path: Path) -> None:
    """Rows of the cuts have a box to tick, 3.6 mm; on each page a table has two of them or more."""
    out = tmp_path / "kit"
    words = ("kit", "fold-wallet", "--hoop", "5x7in", "--count", count, "--layers", "1")
    assert paramgen(*words, "--seconds", "1", "--paper", "a4", "--out", out).status == 0
    alone = 0
    for page in read((out / "kit.pdf").read_bytes()):
        heads = sorted(box[1] for text, box in page.texts if text.strip() == "Done")
        ticks = sorted(min(y for _, y in one.points) for one in page.sized(3.6, 3.6))
        for head, below in itertools.pairwise([*heads, page.height]):
            alone += sum(head < y < below for y in ticks) == 1
    assert alone == 0
