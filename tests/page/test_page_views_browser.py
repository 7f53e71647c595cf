"""What is seen in a browser: words that can be read on a phone, a map that is true at its edges.

Letters that can be read: 9 px and more of 160 to an inch, as high as the small print of a newspaper
(7 points are 9.3 px; common practice, no source).
"""

from collections.abc import Iterator

import pytest
from browser import in_browser, steered
from page_running import RunningPage, running
from page_seen import Seen, window
from playwright.sync_api import Browser, expect

pytestmark = in_browser


@pytest.fixture(scope="module")
def page() -> Iterator[RunningPage]:
    with running() as one:
        yield one


# For this file alone: the steering keeps this thread's event loop, which other tests want.
@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with steered() as one:
        yield one


@pytest.fixture
def phone(page: RunningPage, browser: Browser) -> Iterator[Seen]:
    with window(browser, page, 390) as seen:
        yield seen


@pytest.fixture
def desk(page: RunningPage, browser: Browser) -> Iterator[Seen]:
    with window(browser, page, 1440) as seen:
        yield seen


def test_the_map_says_that_sizes_on_its_edge_work(desk: Seen) -> None:
    # The largest key fob that the recipe makes: both sizes stand at a limit of its own.
    desk.go("/sizes?recipe=key-fob&my.width=40mm&my.length=170mm&hoop=360x350")
    says = desk.page.locator("#map-says")
    expect(says).to_have_text("width 40 mm, length 170 mm: works in hoop 360x350.")
    desk.page.locator(".ground").focus()
    desk.page.keyboard.press("ArrowRight")
    expect(says).to_have_text("width 40.5 mm, length 170 mm: does not work.")


def test_the_map_speaks_in_the_unit_that_is_asked_for(desk: Seen) -> None:
    # 1 9/16 in is 39.69 mm, 6 11/16 in 169.86 mm: the nearest marks of a ruler to 40 and 170 mm.
    desk.go("/sizes?recipe=key-fob&my.width=40mm&my.length=170mm&hoop=360x350&unit=in")
    says = desk.page.locator("#map-says")
    expect(says).to_have_text(
        "width 1 9/16 in (40 mm), length 6 11/16 in (170 mm): works in hoop 360x350."
    )


def test_what_the_map_says_hides_nothing_of_it(desk: Seen) -> None:
    desk.go("/sizes?recipe=key-fob&hoop=360x350")
    says, picture = (desk.page.locator(one) for one in ("#map-says", ".map .picture"))
    expect(picture).to_be_visible()
    high, low = says.bounding_box(), picture.bounding_box()
    assert high
    assert low
    assert high["y"] + high["height"] <= low["y"]


#: How high the letters of each visible drawing's smallest words are, px.
_LETTERS = """() => [...document.querySelectorAll("main svg")]
  .filter((svg) => svg.getBoundingClientRect().width)
  .map((svg) => Math.min(...[...svg.querySelectorAll("text")].map((one) => {
    const {a, b} = one.getScreenCTM();
    return parseFloat(getComputedStyle(one).fontSize) * Math.hypot(a, b);
  })))"""

#: Least height of letters, px.
LEAST = 9.0

BOXED = "recipe=boxed-pouch&hoop=360x350&my.width=250mm&my.height=250mm"
FOB = "recipe=key-fob&hoop=100x100&my.width=15mm&my.length=35mm&unit=in"


@pytest.mark.parametrize("query", [BOXED, FOB])
@pytest.mark.parametrize(
    "path", ["/project?", "/steps?step=1&", "/steps?step=3&", "/steps?step=5&side=other&"]
)
@pytest.mark.parametrize("size", [(390, 844), (844, 390), (820, 1180), (1440, 900)])
def test_letters_in_pictures_can_be_read(
    desk: Seen, query: str, path: str, size: tuple[int, int]
) -> None:
    desk.page.set_viewport_size({"width": size[0], "height": size[1]})
    desk.go(path + query)
    letters = desk.page.evaluate(_LETTERS)
    assert letters, "something is drawn"
    assert min(one for one in letters if one is not None) >= LEAST


def test_the_letters_of_a_step_on_a_phone_are_explained_below_it(phone: Seen) -> None:
    phone.go(f"/steps?{BOXED}&step=36")
    drawn = phone.page.locator("svg text:visible").all_text_contents()
    told = phone.page.locator(".step .ring:visible").all_inner_texts()
    assert sorted(told) == sorted(one for one in drawn if len(one) == 1) == ["A", "B", "C", "D"]
    assert phone.page.locator("svg:visible").count() == 1
    phone.page.set_viewport_size({"width": 1440, "height": 900})
    assert phone.page.locator(".step .ring:visible").count() == 0
    assert "pinch each corner flat" in (phone.page.locator("svg:visible").text_content() or "")


#: By how much what scrolls sideways in itself is wider than it is seen, px.
_HIDDEN = "(places) => Math.max(...places.map((one) => one.scrollWidth - one.clientWidth))"


@pytest.mark.parametrize("width", [390, 820])
def test_a_table_of_one_row_is_all_in_sight(desk: Seen, width: int) -> None:
    desk.page.set_viewport_size({"width": width, "height": 900})
    desk.go("/table?recipe=tissue-cover&hoop=360x350&my.width=140mm&my.height=85mm&unit=in")
    expect(desk.page.locator("[data-part=verdict-0]")).to_contain_text("It can be made")
    assert desk.page.locator(".wide").evaluate_all(_HIDDEN) == 0


def test_the_ways_stand_in_two_rows_on_a_phone(phone: Seen) -> None:
    phone.go(f"/project?{BOXED}")
    tops = {round(one.bounding_box()["y"]) for one in phone.page.locator(".ways a").all()}  # type: ignore[index]
    assert len(tops) == 2


def test_what_to_cut_and_to_have_is_all_in_sight_on_a_phone(phone: Seen) -> None:
    phone.go(f"/project?{BOXED}&unit=in")
    assert phone.page.locator(".wide").evaluate_all(_HIDDEN) == 0
    folded = phone.page.locator("[data-part=cut] [data-label=folded]", has_text=" in").first
    box = folded.bounding_box()
    assert box
    assert box["x"] + box["width"] <= 390


def test_a_choice_that_is_too_long_for_its_field_is_said_below_it(phone: Seen) -> None:
    phone.go(f"/project?{BOXED}")
    said = "sewn across, the point of each left inside"
    expect(phone.page.locator("#note-box")).to_contain_text(said)
    phone.field("box").select_option("cut-out")
    expect(phone.page.locator("#note-box")).to_contain_text("the raw edge is bound")
    assert ":" not in phone.page.locator("#note-loop").inner_text()  # it can be read in its field


def test_a_field_that_a_message_names_is_opened_and_stands_ready(phone: Seen) -> None:
    phone.go("/project?recipe=clear-pouch&hoop=160x260&my.width=90mm&my.height=96mm")
    expect(phone.field("packet_width")).not_to_be_visible()
    phone.page.locator("#found a[data-field]", has_text="packet width").first.tap()
    expect(phone.field("packet_width")).to_be_focused()
    expect(phone.field("packet_width")).to_be_in_viewport()
    # From a view without a form too.
    phone.go("/table?recipe=tissue-cover&hoop=160x260&holds=90x5000mm&row=")
    phone.page.locator("[data-part=verdict-0] a[data-field]", has_text="thing height").tap()
    expect(phone.field("thing_height")).to_be_focused()
    expect(phone.field("thing_height")).to_be_in_viewport()


def test_what_comes_of_it_stays_in_sight_where_it_is_typed(phone: Seen) -> None:
    phone.go("/project?recipe=flap-sleeve&hoop=6x10in")
    holds = phone.page.locator("#holds")
    holds.scroll_into_view_if_needed()
    holds.fill("phone")
    holds.press("Enter")
    verdict = phone.page.locator("[data-part=verdict]")
    expect(verdict).to_contain_text("cannot be made")
    expect(verdict).to_be_in_viewport()
    # What is jumped to is not hidden behind it.
    phone.page.locator("#title").focus()
    high, low = verdict.bounding_box(), phone.page.locator("#title").bounding_box()
    assert high
    assert low
    assert high["y"] + high["height"] <= low["y"]


def test_a_refusal_has_what_would_do_before_the_form_and_in_the_verdict(phone: Seen) -> None:
    phone.go("/project?recipe=flap-sleeve&hoop=130x180")
    found, form = phone.page.locator("#found"), phone.page.locator("#asked")
    above, below = found.bounding_box(), form.bounding_box()
    assert above
    assert below
    assert above["y"] < below["y"]
    phone.page.locator("[data-part=verdict] a.press").first.tap()
    expect(phone.page.locator("[data-part=verdict]")).to_contain_text("It can be made")
    above, below = found.bounding_box(), form.bounding_box()
    assert above
    assert below
    assert above["y"] > below["y"]


def test_on_a_phone_three_recipes_and_more_are_seen_at_once(phone: Seen) -> None:
    phone.go("/")
    boxes = [one.bounding_box() for one in phone.page.locator(".picks li").all()]
    assert sum(1 for box in boxes if box and box["y"] + box["height"] <= 844) >= 3


@pytest.mark.parametrize("width", [390, 1440])
def test_handles_stand_clear_of_the_numbers_on_the_lines(desk: Seen, width: int) -> None:
    desk.page.set_viewport_size({"width": width, "height": 900})
    desk.go("/project?recipe=fold-wallet&hoop=130x180&my.width=118mm")
    boxes = """(where) => [...document.querySelectorAll(where)].map((one) => {
      const {left, top, right, bottom} = one.getBoundingClientRect();
      return [left, top, right, bottom];
    })"""
    handles = desk.page.evaluate(boxes, ".handle")
    numbers = desk.page.evaluate(boxes, ".hoop [id$=numbers] text")
    assert len(handles) == 2
    assert len(numbers) > 8
    for left, top, right, bottom in handles:
        for x, y, end, low in numbers:
            assert end <= left or right <= x or low <= top or bottom <= y


def test_no_heading_stands_over_nothing_while_nothing_is_understood(phone: Seen) -> None:
    phone.go("/project?recipe=coaster&hoop=130x180&on=no-such=x")
    headings = phone.page.locator("main h2:visible").all_inner_texts()
    assert headings == []
    phone.page.locator("#on").fill("")
    phone.page.locator("#on").press("Enter")
    expect(phone.page.locator("main h2:visible").first).to_have_text("What was found")
    # Parts come one after another.
    expect(phone.page.get_by_role("heading", name="What to cut")).to_be_visible()
