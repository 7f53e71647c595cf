"""How fast the page in the browser is: from a key press to the changed picture, and more.

`python tests/benchmarks/page.py [CHANGES]` prints what it measures beside what it is to be, and
never fails. It wants a machine that does nothing else, and the browser `chromium` of the system.
"""

import http.client
import json
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median, quantiles

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / "helpers")]

from browser import steered  # noqa: E402
from page_running import RunningPage, running  # noqa: E402
from page_seen import Seen, window  # noqa: E402
from playwright.sync_api import Browser  # noqa: E402

#: Recipe, hoop, and what is dragged by the arrow keys.
LOOKED_AT = (
    ("fold-wallet", "160x260", "width"),
    ("fold-wallet", "160x260", "height"),
    ("zip-pouch", "160x260", "width"),
    ("coaster", "130x180", "width"),
)

#: Of each of those, so many.
PRESSES = 30

#: In the page: how long from a key press until each part was painted.
WATCH = """() => {
  window.took = [];
  let pressed = 0, seen = {};
  addEventListener("keydown", () => { pressed = performance.now(); seen = {}; }, true);
  document.addEventListener("put", (event) => {
    const name = event.detail.name, mine = seen;
    requestAnimationFrame(() => {
      const channel = new MessageChannel();  // right after the frame is painted
      channel.port1.onmessage = () => {
        if (mine[name] === undefined) mine[name] = performance.now() - pressed;
      };
      channel.port2.postMessage(0);
    });
  });
  window.taken = () => seen;
}"""


def main() -> None:
    changes = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    row("", "measured", "goal")
    with steered() as browser:
        first_views(browser)
        with running() as page:
            presses(browser, page)
            held(browser, page)
        memory(changes)


def first_views(browser: Browser) -> None:
    took, weights = [], []
    for _ in range(3):
        begun = time.perf_counter()
        # As a person's Python does, it keeps what it compiled.
        kept = {"PYTHONDONTWRITEBYTECODE": ""}
        with running("fold-wallet", **kept) as page, window(browser, page, 1280) as seen:
            got = weighed(seen)
            seen.page.goto(page.address, wait_until="commit")
            seen.page.wait_for_selector('[data-part="picture"] svg')
            seen.page.evaluate("() => new Promise(requestAnimationFrame)")
            took.append(time.perf_counter() - begun)
            seen.page.wait_for_load_state("networkidle")
            weights.append(sum(got))
    row("first view after the command", f"{median(took):.2f} s", "1 s")
    row("weight of the first view", f"{max(weights) / 1000:.0f} kB", "300 kB")


def weighed(seen: Seen) -> list[int]:
    """What is transferred from now on, bytes."""
    got: list[int] = []
    watching = seen.page.context.new_cdp_session(seen.page)
    watching.send("Network.enable")
    watching.on("Network.loadingFinished", lambda one: got.append(one["encodedDataLength"]))
    return got


def presses(browser: Browser, page: RunningPage) -> None:
    """One key press after the other, each once all is shown of the one before."""
    pictures: list[float] = []
    verdicts: list[float] = []
    for recipe, hoop, size in LOOKED_AT:
        with window(browser, page, 1280) as seen:
            begin(seen, f"/project?recipe={recipe}&hoop={hoop}", size)
            mine: list[float] = []
            for number in range(PRESSES + 3):
                took = pressed(seen)
                if number >= 3:  # the first are those of a page that is not warm
                    mine.append(took["picture"])
                    verdicts.append(took["verdict"])
            row(f"  {recipe}, {size}, to the picture", spread(mine), "")
            pictures += mine
    row(f"key press to the picture ({len(pictures)})", spread(pictures), "100, 200 ms")
    row(f"key press to the verdict ({len(verdicts)})", spread(verdicts), "250 ms")


def begin(seen: Seen, path: str, size: str) -> None:
    seen.go(path)
    seen.page.evaluate(WATCH)
    seen.page.locator(f'.handle[data-size="{size}"]').first.focus()


def pressed(seen: Seen) -> dict[str, float]:
    before = seen.page.url
    seen.page.keyboard.press("ArrowLeft")
    seen.page.wait_for_function(
        "(before) => location.href !== before && taken().picture && taken().verdict", arg=before
    )
    seen.settled()
    seen.page.wait_for_timeout(30)
    found: dict[str, float] = seen.page.evaluate("taken()")
    return found


def held(browser: Browser, page: RunningPage) -> None:
    """A key that is held down, thirty times a second."""
    with window(browser, page, 1280) as seen:
        begin(seen, "/project?recipe=fold-wallet&hoop=160x260", "width")
        pressed(seen)
        seen.page.evaluate("""() => {
          window.count = 0;
          document.addEventListener("put", (one) => { count += one.detail.name === "picture"; });
        }""")
        begun = time.perf_counter()
        for number in range(60):
            seen.page.keyboard.down("ArrowLeft")
            time.sleep(max(0.0, begun + (number + 1) / 30 - time.perf_counter()))
        took = time.perf_counter() - begun
        seen.page.keyboard.up("ArrowLeft")
        seen.settled()
        seen.page.wait_for_timeout(300)
        late = seen.page.evaluate("taken().picture")
        count = seen.page.evaluate("count")
        row("pictures a second while a key is held", f"{count / took:.1f}", "")
        row("and the last after the last press", f"{late:.0f} ms", "")


def memory(changes: int) -> None:
    with running() as page:
        for number, query in enumerate(queries(changes), start=1):
            # Anew each time: one that rests too long, on a machine that stalls, is closed.
            asked = http.client.HTTPConnection(*page.place, timeout=60)
            body = json.dumps({"query": query, "have": {}})
            asked.request("POST", "/changes", body, {"cookie": page.cookie})
            asked.getresponse().read()
            asked.close()
            if number in (changes // 20, changes // 10, changes // 2, changes):
                said = f"{page.memory() / 1e6:.0f} MB"
                row(f"memory of its processes after {number} changes", said, "level")


def queries(count: int) -> Iterator[str]:
    for number in range(count):
        recipe, hoop, size = LOOKED_AT[number % len(LOOKED_AT)]
        yield f"recipe={recipe}&hoop={hoop}&my.{size}={125 + number * 0.05:.2f}mm"


def spread(taken: list[float]) -> str:
    return f"{median(taken):.0f}, {quantiles(taken, n=20)[-1]:.0f} ms"


def row(*cells: str) -> None:
    print(f"{cells[0]:48}{cells[1]:>16}{cells[2]:>16}", flush=True)


if __name__ == "__main__":
    main()
