"""What is seen in a browser: words that can be read on a phone, and a map that is true at its edges.

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
    assert high and low
    assert high["y"] + high["height"] <= low["y"]
