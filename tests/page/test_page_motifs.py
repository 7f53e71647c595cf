"""Motifs of a person's own on the page: given, kept in memory, stitched as the command does."""

import io
import re
import tempfile
import zipfile
from functools import cache
from pathlib import Path
from urllib.parse import urlencode

import pytest
from browser import in_browser, steered
from command_line import paramgen
from hypothesis import given, settings
from hypothesis import strategies as st
from motif_files import leaf, to_and_fro
from page_running import running
from page_seen import Seen, window
from playwright.sync_api import FilePayload, expect

from paramgen.page.desk import Desk, desk, keep_motif
from paramgen.page.given_files import MOST_FILES, GivenFiles
from paramgen.page.long_jobs import JobResult
from paramgen.page.project_parts import ShownProject, parts
from paramgen.page.taking_tasks import WHOLE, take

WALLET = (("recipe", "fold-wallet"), ("hoop", "200x280mm"))
COASTER = (("recipe", "coaster"), ("hoop", "5x7in"), ("files", "dst"))


@cache
def table() -> Desk:
    return desk({})


def kept(data: bytes, file: str = "leaf.dst") -> str:
    name, fault = keep_motif(table(), data, file)
    assert fault == ""
    return name


def shown(on: str, at: Desk | None = None) -> ShownProject:
    return ShownProject(at or table(), urlencode([*WALLET, ("on", on)]))


def test_a_motif_that_was_given_is_a_stop_for_each_of_its_colours() -> None:
    found = shown(f'lower outer=motif:"{kept(leaf())}"')
    assert found.made is not None
    steps = [one.say for one in found.made.project.steps if "motif" in one.title.lower()]
    # Two stops in the file; called as the person calls it and not as the address does.
    assert len(steps) == 2
    assert all("leaf.dst" in one for one in steps)
    without = shown("")
    assert found.picture is not None
    assert without.picture is not None
    assert found.picture.svg != without.picture.svg


def test_it_can_be_put_on_any_panel_of_the_recipe() -> None:
    found = shown("")
    # The wallet's pieces: its outers are laid right side up on nothing, the others on those, turned
    # or behind, where nothing for looks can be stitched.
    assert found.panels[:2] == ("upper outer", "lower outer")
    assert set(found.panels[2:]) == {"pouch lining", "pocket 1", "pocket 2", "tab", "lining"}
    options = re.findall(r"<option>(.*?)</option>", dict(parts(found))["panels"])
    assert tuple(options) == found.panels
    name = kept(leaf())
    for panel in found.panels:
        faults = shown(f'{panel}=motif:"{name}"').faults
        assert faults == (), panel  # where it cannot be stitched, a finding says so


def test_panels_are_offered_too_while_the_motif_is_not_here() -> None:
    found = shown('lower outer=motif:"leaf-0123456789abcdef.dst"')
    assert found.faults
    assert "lower outer" in found.panels


def test_what_has_no_room_is_found_on_its_panel() -> None:
    found = shown(f'upper outer=motif:"{kept(leaf("vp3", times=12), "leaf.vp3")}"')
    # 144 × 240 mm, more than the wallet is.
    assert found.made is None
    assert any("leaf.vp3" in one.message and "upper outer" in one.message for one in found.findings)


@settings(max_examples=3, derandomize=True, deadline=None)
@given(
    more=st.sampled_from(["", ",mirrored", ",turn 90,percent 95", ",top"]),
    times=st.sampled_from([1.0, 1.5]),
    file=st.sampled_from(["leaf.dst", "my leaf.vp3", "it's, a = b; leaf.DST"]),
)
def test_the_zip_holds_what_the_command_makes(more: str, times: float, file: str) -> None:
    data = leaf(file.rpartition(".")[2].lower(), times=times)
    with tempfile.TemporaryDirectory() as place:
        stitches, out = Path(place) / file, Path(place) / "pack"
        stitches.write_bytes(data)
        on = f'top=motif:"{stitches}"{more}'
        ran = paramgen(
            "make", "coaster", "--hoop", "5x7in", "--files", "dst", "--on", on, "--out", out
        )
        asked = urlencode(
            [*COASTER, ("on", f'top=motif:"{kept(data, file)}"{more}')],
        )
        *_, last = take(table(), asked, WHOLE)
        if ran.status:
            assert not isinstance(last, JobResult)
            return
        made = {one.relative_to(out).as_posix(): one for one in out.rglob("*") if one.is_file()}
        assert isinstance(last, JobResult)
        with zipfile.ZipFile(io.BytesIO(last.data)) as archive:
            zipped = {one.partition("/")[2]: archive.read(one) for one in archive.namelist()}
        assert zipped == {name: one.read_bytes() for name, one in made.items()}


@pytest.mark.parametrize(
    ("data", "file", "says"),
    [
        (b"", "leaf.dst", "it is empty"),
        (leaf()[:-30], "leaf.dst", "cut short or damaged"),
        (leaf("vp3")[:-40], "leaf.vp3", "cut short"),
        (bytes(700), "leaf.pes", "this is no pes file by how it begins"),
        (b"roses are red", "leaf.txt", "`.txt` is no kind of stitch file known here"),
        (leaf(), "leaf", "its name has no ending"),
        (leaf(), "leaf.png", "it begins as a dst file does"),
        (b"\x89PNG\r\n\x1a\n" + bytes(900), "leaf.dst", "this is a"),
        (b"<svg onload='alert(1)'/>", "leaf.svg", "it holds no stitch"),
        (to_and_fro(600_000), "leaf.dst", "more than 500,000 records"),
        (b"\x5b\xaf\xc8\x00" + b"\xff\xff\xff\x7f" * 20, "leaf.hus", "more than 500,000 records"),
        (b"[" * 100_000, "leaf.json", "cut short, damaged or no json file"),
    ],
)
def test_what_is_no_motif_is_refused_with_a_sentence_and_not_kept(
    data: bytes, file: str, says: str
) -> None:
    at = desk({})
    name, fault = keep_motif(at, data, file)
    assert name == ""
    assert says in fault
    assert fault.endswith(".")
    assert at.given.names == ()


def test_a_motif_of_too_many_stitches_is_found_and_not_made() -> None:
    name = kept(to_and_fro(60_000))
    found = shown(f'lower outer=motif:"{name}"')
    assert found.made is None
    # As many as a project may have: 50,000.
    assert any("more than 50000 stitches" in one.message.replace(",", "") for one in found.findings)


def test_a_motif_of_no_stitch_that_can_be_sewn_is_found_and_not_made() -> None:
    found = shown(f'lower outer=motif:"{kept(to_and_fro(20, fine=True))}"')
    assert found.made is None
    assert any("has no stitch as long as 0.5 mm" in one.message for one in found.findings)


def test_a_motif_that_is_not_here_is_said_at_its_field() -> None:
    found = dict(parts(shown('lower outer=motif:"leaf-0123456789abcdef.dst"')))
    assert "was given to the page" in found["note-at-on"]
    assert "Choose it again" in found["note-at-on"]
    assert "picture" not in found


def test_no_file_of_the_disk_is_read(tmp_path: Path) -> None:
    file = tmp_path / "leaf.dst"
    file.write_bytes(leaf())
    for said in (str(file), f"../{file.name}", file.name):
        (fault,) = shown(f'lower outer=motif:"{said}"').faults
        assert "was given to the page" in fault.message
    name, said_of_it = keep_motif(desk({}), b"", str(file))
    assert name == ""
    assert said_of_it.startswith("it is empty")


@settings(max_examples=30, derandomize=True, deadline=None)
@given(file=st.text(max_size=120).map(lambda one: f"{one}.dst"))
def test_whatever_a_file_is_called_its_name_is_read_back_from_what_is_asked(file: str) -> None:
    name = kept(leaf(), file)
    assert '"' not in name
    found = shown(f'lower outer=motif:"{name}"')
    assert found.faults == ()
    (one,) = found.wanted.order.recipe.on if found.wanted else ()
    assert one.motif is not None
    assert one.motif.name.endswith(".dst")
    assert "/" not in one.motif.name


def test_two_files_of_one_name_are_two_motifs() -> None:
    small, large = (kept(leaf(times=times)) for times in (1.0, 1.5))
    assert small != large
    boxes = []
    for name in (small, large):
        wanted = shown(f'lower outer=motif:"{name}"').wanted
        assert wanted is not None
        (one,) = wanted.order.recipe.on
        assert one.motif is not None
        boxes.append(one.motif.box.width)
    assert boxes == pytest.approx([12.0, 18.0])


def test_a_process_that_starts_later_has_it_too() -> None:
    store = GivenFiles()
    store.keep(kept(leaf()), leaf())
    at = desk({}, store)
    assert shown(f'lower outer=motif:"{kept(leaf())}"', at).made is not None


def chosen(seen: Seen, data: bytes, file: str = "leaf.dst") -> None:
    """Choose a stitch file, as the person does in the window of their system."""
    seen.page.locator("[data-motif]").set_input_files(
        [FilePayload(name=file, mimeType="", buffer=data)]
    )


def forgotten(seen: Seen) -> None:
    """Give the page so many other files that it keeps none of those before."""
    seen.page.evaluate(
        """async ([files, most]) => {
          for (let number = 0; number < most; number++)
            await fetch(`/motif?name=leaf${number}.dst`,
              {method: "POST", body: Uint8Array.from(files)});
        }""",
        [list(leaf()), MOST_FILES],
    )


@in_browser
@pytest.mark.parametrize("width", [390, 1280])
def test_a_motif_is_chosen_stitched_and_there_again_after_it_was_forgotten(width: int) -> None:
    with steered() as browser, running() as page, window(browser, page, width) as seen:
        seen.go(f"/project?{urlencode(WALLET)}")
        asked, says = seen.page.locator("#on"), seen.page.locator("#own-motif [role=status]")
        steps = seen.page.locator('[data-part="steps"]')
        opened = seen.page.get_by_text("A motif of your own")
        if width == 390:
            opened.tap()
            seen.page.locator("#motif-panel").select_option("lower outer")
        else:  # by keyboard alone
            opened.focus()
            for key in ("Enter", "Tab", "ArrowDown", "Tab"):
                seen.page.keyboard.press(key)
            expect(seen.page.locator("[data-motif]")).to_be_focused()
        chosen(seen, leaf())
        expect(says).to_contain_text("leaf.dst is the motif on the lower outer")
        expect(asked).to_have_value(re.compile(r'^lower outer=motif:"leaf-[0-9a-f]{16}\.dst"$'))
        expect(seen.page.locator(".verdict")).to_contain_text("It can be made")
        expect(steps).to_contain_text("Stitch the motif, 2 of 2")
        assert "leaf-" in seen.query
        assert seen.scrolls_sideways() == []
        assert seen.violations() == []
        # Another in its place, and what was said of it stays.
        asked.fill(f"{asked.input_value()}, percent 95; upper outer=quilting")
        chosen(seen, leaf(times=1.5), "fern.dst")
        expect(asked).to_have_value(
            re.compile(r'^lower outer=motif:"fern-[0-9a-f]{16}\.dst",percent 95; upper outer=quil')
        )
        expect(steps).to_contain_text("Stitch the motif")
        before = asked.input_value()
        for data, file, why in ((b"", "none.dst", "it is empty"), (b"rose", "a.txt", "is no kind")):
            chosen(seen, data, file)
            expect(says).to_contain_text(f"{file}: ")
            expect(says).to_contain_text(why)
            assert asked.input_value() == before
        seen.complaints.clear()  # a refusal is an answer of a status that the browser tells of
        forgotten(seen)
        # Given again by itself.
        with seen.page.expect_request(re.compile(r"/motif\?name=fern\.dst")):
            seen.page.reload()
        expect(steps).to_contain_text("Stitch the motif")
        assert asked.input_value() == before
        seen.complaints.clear()
