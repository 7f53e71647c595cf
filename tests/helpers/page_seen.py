"""A window of the browser on the page, which minds what no view may do."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal
from urllib.parse import urlsplit

import axe_core_python
from page_running import RunningPage
from playwright.sync_api import Browser, Locator, Page, expect

Scheme = Literal["light", "dark"]

#: How long a window may take, ms: no test of what is seen hangs on how busy a machine is.
PATIENCE = 60_000

expect.set_options(timeout=PATIENCE)


@cache
def axe() -> str:
    return (Path(axe_core_python.__file__).parent / "axe.min.js").read_text("utf-8")


@dataclass
class Seen:
    """A window.

    Parameters
    ----------
    page : Page
    host : str
        All that it may ask.
    complaints : list of str
        What the browser said of it.
    """

    page: Page
    host: str
    complaints: list[str] = field(default_factory=list)

    def go(self, path: str) -> None:
        self.page.goto(f"http://{self.host}{path}")
        self.page.wait_for_load_state("load")

    def settled(self) -> None:
        """Wait until all that was asked is shown."""
        self.page.wait_for_function("() => !document.querySelector('[data-busy]')")

    def field(self, name: str) -> Locator:
        return self.page.locator(f"#f-{name}")

    @property
    def verdict(self) -> str:
        return self.page.locator('[data-part="verdict"]').inner_text()

    @property
    def query(self) -> str:
        return urlsplit(self.page.url).query

    def scrolls_sideways(self) -> list[str]:
        """What is wider than the window, at the usual size of letters and at twice it."""
        found: list[str] = []
        for size in ("", "200%"):
            found += self.page.evaluate(_WIDER, size)
        self.page.evaluate(_WIDER, "")
        return found

    def violations(self) -> list[str]:
        """What keeps somebody out, as far as it can be found by looking."""
        self.page.evaluate(f"() => {{ {axe()} }}")
        rules: list[dict[str, Any]] = self.page.evaluate(
            "() => axe.run(document, {resultTypes: ['violations']}).then((one) => one.violations)"
        )
        return [f"{one['id']}: {one['nodes'][0]['html'][:200]}" for one in rules]


#: Wide parts that scroll in themselves are no fault; what makes the whole view scroll is.
_WIDER = """(size) => {
  const root = document.documentElement;
  root.style.fontSize = size;
  dispatchEvent(new Event("resize"));
  if (root.scrollWidth <= root.clientWidth) return [];
  const out = [...document.querySelectorAll("body *:not(svg *)")].filter((one) =>
    one.getBoundingClientRect().right > root.clientWidth + 0.5 && !one.closest(".wide > *"));
  return [`${root.scrollWidth} in ${root.clientWidth} at ${size || "100%"}: ` +
    out.map((one) => one.outerHTML.slice(0, 80)).slice(0, 5).join(" | ")];
}"""


@contextmanager
def window(
    browser: Browser, running: RunningPage, width: int, scheme: Scheme = "light"
) -> Iterator[Seen]:
    """Open a window on the page that is running, with its cookie; nothing may be complained of."""
    high = {390: 844, 820: 1180}.get(width, 900)
    context = browser.new_context(
        viewport={"width": width, "height": high},
        has_touch=width < 1000,
        is_mobile=width < 600,
        color_scheme=scheme,
    )
    try:
        name, _, value = running.cookie.partition("=")
        context.add_cookies([{"name": name, "value": value, "url": f"http://{running.host}"}])
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        seen = Seen(page, running.host)
        page.on("console", lambda one: seen.complaints.append(f"{one.type}: {one.text}"))
        page.on("pageerror", lambda one: seen.complaints.append(f"error: {one}"))
        page.on("request", lambda one: _asked(seen, one.url))
        yield seen
        assert not seen.complaints, seen.complaints[:3]
    finally:
        context.close()


def _asked(seen: Seen, url: str) -> None:
    if not url.startswith((f"http://{seen.host}/", "data:", "blob:")):
        seen.complaints.append(f"asked elsewhere: {url}")
