"""The page in a browser: on a phone, a tablet and at a desk, by touch, mouse and keyboard.

That a page keeps nobody out: WCAG 2.2, as far as axe-core finds it; letters at twice their size
(1.4.4) and a width of 320 px (1.4.10) without scrolling sideways.
"""

import re
from collections.abc import Iterator
from urllib.parse import parse_qs

import pytest
from browser import in_browser, steered
from page_running import RunningPage, running
from page_seen import Scheme, Seen, window
from papers_read import read
from playwright.sync_api import Browser, expect

pytestmark = in_browser

WALLET = "/project?recipe=fold-wallet&hoop=160x260"

#: Every view, and each with much to say.
VIEWS = {
    "pick": "/",
    "can be made": WALLET,
    "inches": "/project?recipe=zip-pouch&unit=in",
    "cannot be made": "/project?recipe=fold-wallet&hoop=4x4in",
    "not understood": "/project?recipe=coaster&my.width=wide&hoop=no-such",
    "a step": "/steps?recipe=fold-wallet&hoop=160x260&step=11",
    "no step": "/steps?recipe=fold-wallet&hoop=4x4in",
    "its recipe": "/write?recipe=coaster",
    "a kit": "/kit?recipe=zip-pouch&unit=in&kit.count=8&kit.people=4",
    "a stitch file": "/stitch-file",
    "lost": "/project?recipe=nothing",
}


@pytest.fixture(scope="module")
def page() -> Iterator[RunningPage]:
    with running() as one:
        yield one


# For this file alone: the steering keeps this thread's event loop, which other tests want.
@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with steered() as one:
        yield one


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (820, "light"), (1280, "dark")])
@pytest.mark.parametrize("path", VIEWS.values(), ids=VIEWS)
def test_no_view_scrolls_sideways_is_complained_of_or_keeps_anybody_out(
    page: RunningPage, browser: Browser, path: str, width: int, scheme: Scheme
) -> None:
    with window(browser, page, width, scheme) as seen:
        seen.go(path)
        assert seen.scrolls_sideways() == []
        if width == 820:
            seen.page.set_viewport_size({"width": 320, "height": 700})
            # Laid out anew, which takes the browser a moment.
            seen.page.wait_for_function("document.documentElement.scrollWidth === 320")
        else:
            assert seen.violations() == []


@pytest.fixture
def phone(page: RunningPage, browser: Browser) -> Iterator[Seen]:
    with window(browser, page, 390) as seen:
        yield seen


@pytest.fixture
def tablet(page: RunningPage, browser: Browser) -> Iterator[Seen]:
    with window(browser, page, 820) as seen:
        yield seen


@pytest.fixture
def desk(page: RunningPage, browser: Browser) -> Iterator[Seen]:
    with window(browser, page, 1280) as seen:
        yield seen


def test_from_the_command_to_a_wallet_by_touch(phone: Seen) -> None:
    phone.go("/")
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("What will you sew?")
    pictures = phone.page.locator(".picks img")
    for number in range(pictures.count()):
        pictures.nth(number).scroll_into_view_if_needed()
        expect(pictures.nth(number)).to_have_js_property("complete", True)
        assert pictures.nth(number).evaluate("one => one.naturalWidth") > 50
    phone.page.get_by_role("link", name=re.compile("wallet", re.IGNORECASE)).first.tap()
    expect(phone.page).to_have_url(re.compile("recipe=fold-wallet"))
    phone.field("width").tap()
    phone.field("width").fill("130 mm")
    expect(phone.page.locator(".verdict")).to_contain_text("130 × ")
    assert "my.width=130+mm" in phone.query


def test_in_inches_by_keyboard_alone(desk: Seen) -> None:
    desk.go("/project?recipe=coaster&hoop=5x7in")
    keys = desk.page.keyboard
    keys.press("Tab")
    expect(desk.page.locator(".skip")).to_be_focused()
    keys.press("Enter")
    for _ in range(30):
        keys.press("Tab")
        if desk.field("width").evaluate("one => one === document.activeElement"):
            break
    keys.type('4 1/2"')
    expect(desk.page.locator(".verdict")).to_contain_text("finished 4 1/2 × ")
    # The other unit stands beside it: 4.5 × 25.4 = 114.3.
    expect(desk.page.locator(".verdict")).to_contain_text("114.3 × ")
    desk.settled()
    expect(desk.field("width")).to_be_focused()
    assert desk.field("width").input_value() == '4 1/2"'


def test_a_refusal_shows_where_and_what_would_do_and_a_press_does_it(tablet: Seen) -> None:
    tablet.go("/project?recipe=fold-wallet&hoop=130x180&my.width=160mm&my.height=172mm")
    expect(tablet.page.locator(".verdict.not")).to_be_visible()
    expect(tablet.page.locator('[data-part="picture"] svg')).to_be_visible()
    remedy = tablet.page.locator("a.press[data-change]").first
    remedy.tap()
    expect(tablet.page.locator(".verdict.can")).to_be_visible()
    expect(tablet.page.locator('[data-part="verdict"]')).to_be_focused()
    tablet.page.go_back()
    expect(tablet.page.locator(".verdict.not")).to_be_visible()
    assert tablet.field("width").input_value() == "160mm"
    tablet.page.go_forward()
    expect(tablet.page.locator(".verdict.can")).to_be_visible()


def test_what_is_not_understood_is_told_at_its_field_and_the_last_picture_stays(
    desk: Seen,
) -> None:
    desk.go(WALLET)
    desk.field("width").fill("wide")
    expect(desk.field("width")).to_have_attribute("aria-invalid", "true")
    expect(desk.page.locator("#note-width .fault")).to_be_visible()
    expect(desk.page.locator('[data-part="picture"] svg')).to_be_visible()
    desk.field("width").fill("120")
    expect(desk.page.locator(".verdict.can")).to_contain_text("120 × ")
    expect(desk.field("width")).not_to_have_attribute("aria-invalid", "true")


def test_hoops_that_are_tried_in_turn_stay_asked_for(desk: Seen) -> None:
    desk.go("/project?recipe=coaster&hoop=100x100&hoop=130x180")
    desk.field("width").fill("104")
    expect(desk.page.locator(".verdict.can")).to_contain_text("104 × ")
    desk.settled()
    assert parse_qs(desk.query)["hoop"] == ["100x100", "130x180"]
    desk.field("width").fill("105")
    desk.settled()
    desk.field("width").blur()
    desk.page.go_back()
    expect(desk.page.locator("input[name=hoop]").nth(1)).to_have_value("130x180")


def test_a_hoop_that_is_not_understood_is_marked_and_no_error_is_left_behind(desk: Seen) -> None:
    desk.go(WALLET)
    desk.page.get_by_text("Turn it in your hands").click()
    hoop = desk.page.get_by_label("hoop", exact=True)
    hoop.fill("5x7")
    expect(hoop).to_have_attribute("aria-invalid", "true")
    expect(desk.page.locator("#note-hoop .fault")).to_contain_text("5x7in")
    expect(desk.page.locator("#solid [role=status]")).to_contain_text("no finished thing")
    hoop.fill("6x10in")
    expect(desk.page.locator(".verdict.can")).to_be_visible()
    expect(hoop).not_to_have_attribute("aria-invalid", "true")
    # What is left as it is stands in the unit that all else is told in: 172 mm is 6 3/4 in.
    expect(desk.field("height")).to_have_attribute("placeholder", "6 3/4 in")


def test_an_edge_is_dragged_by_the_mouse(desk: Seen) -> None:
    desk.go(WALLET)
    handle = desk.page.locator('.handle[data-size="width"]')
    before = float(handle.get_attribute("aria-valuenow") or 0)
    handle.scroll_into_view_if_needed()
    box = handle.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    desk.page.mouse.move(x, y)
    desk.page.mouse.down()
    for by in range(0, 40, 4):
        desk.page.mouse.move(x + by, y)
    desk.page.mouse.up()
    typed = desk.field("width").input_value()
    assert float(typed.removesuffix("mm")) > before + 5
    desk.settled()
    expect(desk.page.locator(".verdict")).to_contain_text(f"{float(typed[:-2]):g} × ")
    # One drag is one entry: back leads to what was there before it.
    desk.page.go_back()
    expect(desk.field("width")).to_have_value("")


def test_an_edge_is_moved_by_keys_in_ruler_marks_and_stays_in_hand(desk: Seen) -> None:
    desk.go("/project?recipe=coaster&hoop=5x7in&my.width=4+in&my.height=4+in&unit=in")
    handle = desk.page.locator('.handle[data-size="width"]')
    handle.focus()
    for _ in range(3):
        desk.page.keyboard.press("ArrowRight")
    # 4 in and three sixteenths.
    expect(desk.field("width")).to_have_value("4 3/16 in")
    expect(desk.page.locator(".verdict")).to_contain_text("4 3/16 × 4 in")
    desk.settled()
    expect(handle).to_be_focused()
    expect(handle).to_have_attribute("aria-valuetext", re.compile("4 3/16"))


def test_an_edge_stays_in_hand_when_the_thing_turns_in_its_hoop(desk: Seen) -> None:
    # 161 mm are more than a hoop of 160 is wide: it lies along the other side from there on.
    desk.go("/project?recipe=zip-pouch&hoop=160x260&my.width=147mm&my.height=120mm")
    handle = desk.page.locator('.handle[data-size="width"]')
    before = handle.get_attribute("aria-orientation")
    handle.focus()
    for _ in range(3):
        desk.page.keyboard.press("PageUp")
    desk.settled()
    expect(desk.page.locator(".verdict")).to_contain_text("162 × 120")
    assert handle.get_attribute("aria-orientation") != before
    expect(handle).to_be_focused()


def test_the_way_on_is_in_one_place_in_every_step(phone: Seen) -> None:
    phone.go("/steps?recipe=zip-pouch&hoop=130x180&step=12")
    on = phone.page.get_by_role("link", name="Next", exact=True)
    places = []
    for number in ("13", "14"):  # the first of them can be seen from the back
        on.click()
        expect(phone.page.locator("article.step")).to_have_attribute("data-number", number)
        box = on.bounding_box()
        assert box is not None
        places.append((round(box["x"]), round(box["y"])))
    assert places[0] == places[1]


def test_what_to_cut_is_read_in_few_lines_on_a_phone(phone: Seen) -> None:
    phone.go("/project?recipe=card-case&hoop=360x350&my.width=330+mm&my.height=200+mm")
    cells = phone.page.locator("[data-part=cut] td", has_text=" mm")
    # Width and height in two units are eight words; with two words a line, four lines of 1.5 em.
    tall = [box["height"] for one in cells.all() if (box := one.bounding_box())]
    assert len(tall) > 8
    assert max(tall) <= 4 * 1.6 * 16 + 12


def test_step_by_step_by_swipe(phone: Seen) -> None:
    phone.go("/steps?recipe=fold-wallet&hoop=160x260&step=1")
    step = phone.page.locator("article.step")
    for to_left, number in ((True, "2"), (True, "3"), (False, "2")):
        phone.page.evaluate(_SWIPE, to_left)
        expect(step).to_have_attribute("data-number", number)
    # Up and down is reading on, and no swipe.
    assert "step=2" in phone.query


_SWIPE = """(left) => {
  const place = document.querySelector('[data-part="step"]');
  const at = (x) => new Touch({identifier: 1, target: place, clientX: x, clientY: 200});
  const said = (name, x, down) => place.dispatchEvent(new TouchEvent(name, {
    bubbles: true, touches: down ? [at(x)] : [], changedTouches: [at(x)]}));
  said("touchstart", 200, true);
  said("touchend", left ? 80 : 320, false);
}"""


def test_step_by_step_by_keys_and_where_one_was_is_kept(desk: Seen) -> None:
    desk.go("/steps?recipe=fold-wallet&hoop=160x260&step=1")
    step = desk.page.locator("article.step")
    for number in ("2", "3", "4"):
        desk.page.keyboard.press("ArrowRight")
        expect(step).to_have_attribute("data-number", number)
    desk.page.keyboard.press("ArrowLeft")
    expect(step).to_have_attribute("data-number", "3")
    # By its button, which stays in hand.
    desk.page.get_by_role("link", name="Next").focus()
    desk.page.keyboard.press("Enter")
    expect(step).to_have_attribute("data-number", "4")
    expect(desk.page.get_by_role("link", name="Next")).to_be_focused()
    desk.page.go_back()
    expect(step).to_have_attribute("data-number", "3")
    desk.page.reload()
    expect(step).to_have_attribute("data-number", "3")
    desk.go("/steps?recipe=fold-wallet&hoop=160x260")
    expect(step).to_have_attribute("data-number", "3")


def test_nothing_is_lost_by_reload_or_by_two_windows(desk: Seen) -> None:
    desk.go(WALLET)
    desk.field("width").fill("131")
    expect(desk.page.locator(".verdict")).to_contain_text("131 × ")
    other = desk.page.context.new_page()
    other.goto(desk.page.url)
    other.locator("#f-width").fill("119")
    expect(other.locator(".verdict")).to_contain_text("119 × ")
    desk.page.reload()
    assert desk.field("width").input_value() == "131"
    expect(desk.page.locator(".verdict")).to_contain_text("131 × ")
    desk.go("/")
    recent = desk.page.locator("#recent")
    expect(recent).to_be_visible()
    assert recent.locator("a").count() >= 2
    desk.page.get_by_role("button", name="Forget these").click()
    expect(recent).to_be_hidden()
    desk.page.reload()
    expect(recent).to_be_hidden()


def test_quick_typing_ends_at_what_was_typed_last(desk: Seen) -> None:
    desk.go("/project?recipe=coaster&hoop=130x180")
    for one in range(80, 110):
        desk.field("width").fill(f"{one}")
    expect(desk.page.locator(".verdict")).to_contain_text("finished 109 × ")
    desk.settled()
    assert "my.width=109" in desk.query


def test_it_prints_without_what_is_pressed(desk: Seen) -> None:
    desk.go(WALLET)
    pages = read(desk.page.pdf())
    words = " ".join(" ".join(one.words for one in pages).split())
    assert "It can be made" in words
    assert "What to cut" in words
    assert "How large, and how" not in words
    desk.go("/steps?recipe=fold-wallet&hoop=160x260&step=11")
    desk.page.emulate_media(media="print")
    expect(desk.page.locator("nav.turn")).to_be_hidden()
    expect(desk.page.locator("article.step svg").first).to_be_visible()
