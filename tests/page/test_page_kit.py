"""A kit on the page is what the command makes, byte by byte; what is wrong is said by name."""

import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import in_browser, steered
from command_line import paramgen
from page_running import running
from page_seen import window
from playwright.sync_api import expect

from paramgen.page.desk import Desk, desk
from paramgen.page.kit_in_address import kit_in
from paramgen.page.kit_tasks import kit, take_kit
from paramgen.page.kit_view import kit_page
from paramgen.page.long_jobs import JobResult, JobStage, JobState
from paramgen.page.typed_address import asked_in
from paramgen.reference.thread_sold import thread_sold

WALLET = "recipe=fold-wallet&hoop=160x260"
#: Price of the outer: 12 in a length of 90 cm at 12 a metre.
ASKED = "&kit.count=12&kit.cloth.outer=110cm&kit.price.outer=12+per+m&kit.people=6&kit.machines=2"
COMMAND = (
    *("kit", "fold-wallet", "--hoop", "160x260", "--count", "12", "--fabric", "outer=110cm"),
    *("--price", "outer=12 per m", "--people", "6", "--machines", "2"),
)


@pytest.fixture(scope="module")
def table() -> Desk:
    return desk({})


def last(told: Iterator[JobState | JobResult]) -> JobState | JobResult:
    *_, found = told
    return found


def test_the_zip_holds_what_the_command_makes(table: Desk, tmp_path: Path) -> None:
    assert paramgen(*COMMAND, "--out", tmp_path / "kit").status == 0
    found = last(take_kit(table, WALLET + ASKED))
    assert isinstance(found, JobResult)
    assert found.name == "kit-12-fold-wallet-124x172mm.zip"
    with zipfile.ZipFile(io.BytesIO(found.data)) as archive:
        zipped = {name.partition("/")[2]: archive.read(name) for name in archive.namelist()}
    made = {
        file.relative_to(tmp_path / "kit").as_posix(): file.read_bytes()
        for file in (tmp_path / "kit").rglob("*")
        if file.is_file()
    }
    assert zipped == made


def test_what_is_shown_follows_what_is_asked(table: Desk) -> None:
    found = last(kit(table, WALLET + ASKED + "&kit.mat=30x60cm"))
    assert isinstance(found, JobResult)
    shown = found.data.decode()
    for said in ("12 × Folding wallet", "No plan in strips takes less", "<svg", "Thread", "Time"):
        assert said in shown
    assert "On the mats of the cutting machine" in shown
    assert "style=" not in shown  # a page without inline style shows it
    one = last(kit(table, WALLET))
    assert isinstance(one, JobResult)
    assert "1 × Folding wallet" in one.data.decode()
    assert "cutting machine</h2>" not in one.data.decode()


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("&kit.count=none", "how many to make: `none` is no number of kits"),
        ("&kit.cloth.outer=wide", "cloth to cut from, outer: `wide` is no cloth"),
        ("&kit.cloth.sail=110cm", "cloth to cut from: nothing is cut from `sail`"),
        ("&kit.mat=flat&kit.layers=99", "mat of a cutting machine: `flat`"),
        ("&kit.layers=99", "strips cut at once, at most: `99`"),
        ("&kit.stages=9", "stages of cutting, 2 or 3: `9`"),
        ("&kit.selvedge=a", "selvedge cut off each side: `a`"),
        ("&kit.squaring=a", "cut off the end to square it up: `a`"),
        ("&kit.shrinkage=a", "what is lost in the wash: `a`"),
        ("&kit.people=0", "people in a class: `0`"),
        ("&kit.people=2&kit.machines=0", "machines they have: `0`"),
        ("&kit.rate=much", "an hour of work costs: `much` is no price. Write a sum"),
        ("&kit.currency=guineas-and-shillings", "currency, a label only: `"),
        ("&kit.seconds=a", "seconds to look for a shorter plan: `a`"),
        ("&kit.price.tape=free", "what it costs, tape to hold pieces: `free` is no price"),
        ("&kit.price.sail=2", "what it costs, sail: nothing in this kit is called `sail`"),
        ("&my.width=500", "width"),
    ],
)
def test_what_is_wrong_is_said(table: Desk, more: str, says: str) -> None:
    found = last(kit(table, WALLET + more))
    assert isinstance(found, JobState)
    assert found.stage is JobStage.REFUSED
    assert says in found.says
    assert "--" not in found.says  # as commands name it, and no field does


def test_what_cannot_be_made_has_no_kit(table: Desk) -> None:
    found = last(take_kit(table, "recipe=fold-wallet&hoop=4x4in&kit.count=2"))
    assert isinstance(found, JobState)
    assert found.stage is JobStage.REFUSED
    assert found.says.startswith("It cannot be made as asked. The stitches need")


def test_all_faults_are_said_together(table: Desk) -> None:
    found = last(kit(table, WALLET + "&kit.count=x&kit.mat=flat&kit.rate=a&kit.cloth.outer=wide"))
    assert isinstance(found, JobState)
    for said in ("how many to make:", "mat of", "an hour of work", "cloth to cut from, outer:"):
        assert said in found.says


def test_the_form_has_what_was_asked_and_a_field_for_each_cloth_and_price(table: Desk) -> None:
    page = kit_page(table, WALLET + ASKED)
    for name, value in (("count", "12"), ("cloth.outer", "110cm"), ("cloth.lining", "")):
        assert f'name="kit.{name}" value="{value}"' in page
    assert 'name="kit.price.outer" value="12 per m"' in page
    assert 'name="kit.price.ribbon" value=""' in page
    assert "There is nothing to buy yet" in kit_page(table, "recipe=fold-wallet&hoop=4x4in")


def test_thread_of_the_bobbin_has_a_price_where_it_is_bought_apart(
    table: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    field = 'name="kit.price.bobbin-thread" value="3 per spool"'
    asked = WALLET + "&kit.price.bobbin-thread=3+per+spool"
    assert field not in kit_page(table, asked)  # off the needle's spool, as it comes
    sold = thread_sold()
    apart = sold.model_copy(update={"bobbin": sold.bobbin.model_copy(update={"same": False})})
    for room in ("price_names", "kit_understood"):
        monkeypatch.setattr(f"paramgen.kits.{room}.thread_sold", lambda: apart)
    assert field in kit_page(table, asked)
    found = last(kit(table, asked))
    assert isinstance(found, JobResult)
    assert "3.00" in found.data.decode()


def test_entries_of_a_kit_are_none_of_the_projects() -> None:
    found = asked_in(WALLET + ASKED)
    assert found.faults == ()
    assert found.words == asked_in(WALLET).words
    assert kit_in(WALLET + ASKED).prices == {"outer": "12 per m"}
    assert kit_in("kit.count=3&" + "a=1&" * 4000).said == {}


@in_browser
def test_the_plan_follows_what_is_typed_and_is_saved_by_a_press() -> None:
    with steered() as browser, running() as page, window(browser, page, 390) as seen:
        seen.go(f"/kit?{WALLET}")
        plan = seen.page.locator('[data-part="kit"]')
        expect(plan.get_by_text("What to buy for 1 × Folding wallet")).to_be_visible()
        seen.page.get_by_label("how many to make").fill("3")
        expect(plan.get_by_text("What to buy for 3 × Folding wallet")).to_be_visible()
        assert "kit.count=3" in seen.page.url
        assert seen.scrolls_sideways() == []
        captions = seen.page.locator(".wide caption")
        assert captions.count() > 1
        cut_short = captions.evaluate_all(
            """(all) => all.map((one) => [one, one.closest(".wide")].map((each) =>
              each.getBoundingClientRect().right)).filter(([own, seen]) => own > seen + 0.5)"""
        )
        assert cut_short == []
        seen.page.get_by_label("how many to make").fill("three")
        expect(seen.page.get_by_role("status")).to_contain_text("`three` is no number of kits")
        seen.page.get_by_label("how many to make").fill("3")
        with seen.page.expect_download() as saved:
            seen.page.get_by_role("button", name="The kit as a zip").click()
        assert saved.value.suggested_filename == "kit-3-fold-wallet-124x172mm.zip"
        assert seen.complaints == []
