"""The solid on a page: it stands as it does in the pictures, and is turned by hand and by key."""

import json
import re
from html import unescape
from pathlib import Path

import numpy as np
import pytest
from browser import browse, in_browser
from documents import ROOT
from finished_things import worked

from paramgen.drawings.pictures.solid_scene import as_scene
from paramgen.solid.posed import posed
from paramgen.solid.posed_bodies import Posed
from paramgen.solid.solid_of import solid_of

pytestmark = in_browser

MODULE = ROOT / "paramgen" / "page" / "static" / "solid.js"

#: No frame, font or script comes from elsewhere; pictures stand in the page.
_POLICY = "default-src 'none'; script-src 'unsafe-inline'; img-src data:"

_PAGE = """<!doctype html><html lang="en"><meta charset="utf-8"><title>solid</title>
<meta http-equiv="Content-Security-Policy" content="{policy}">
<body><main></main><pre id="said"></pre>
<script type="module">{module}
const scene = {scene};
const tell = (what) => {{ document.getElementById("said").textContent = JSON.stringify(what); }};
{act}
</script></body></html>"""

#: Where every corner of every plate and bend stands.
_STAND = """tell(POSES.map((pose) => { const {plates, bends} = posed(scene, pose); return [
  ...plates.map((one) => [one.panel, one.slab, one.held, ...[one.low, one.high].flatMap((height) =>
    one.rings.flat().map(([x, y]) => at(one.place, x, y, height)))]),
  ...bends.map((one) => [one.panel, -1, -1, ...one.inner.flat(), ...one.outer.flat()])]; }));"""


def run(tmp_path: Path, name: str, act: str, **asked: str | float) -> object:
    """What the page says once it has done something with the solid of a recipe."""
    thing = worked(name, asked)
    scene = json.dumps(as_scene(solid_of(thing), thing)).replace("<", "\\u003c")
    module = re.sub(r"^export ", "", MODULE.read_text("utf-8"), flags=re.MULTILINE)
    page = _PAGE.format(policy=_POLICY, module=module, scene=scene, act=act)
    (tmp_path / "page.html").write_text(page, "utf-8")
    ran = browse(
        tmp_path, "--virtual-time-budget=3000", "--dump-dom", f"file://{tmp_path / 'page.html'}"
    )
    assert "CONSOLE" not in ran.stderr, ran.stderr
    (said,) = re.findall(r'<pre id="said">(.*?)</pre>', ran.stdout, re.DOTALL)
    return json.loads(unescape(said))


def _extents(stands: Posed) -> list[tuple[float, ...]]:
    """Of each plate and bend its panel, slab and thing, and its bounds in space."""
    found = []
    for plate in stands.plates:
        points = np.concatenate([*plate.at(plate.low), *plate.at(plate.high)])
        found.append((plate.panel, plate.slab, plate.held, *points.min(0), *points.max(0)))
    for bend in stands.bends:
        points = np.concatenate([bend.inner, bend.outer]).reshape(-1, 3)
        found.append((bend.panel, -1, -1, *points.min(0), *points.max(0)))
    return sorted(found)


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("fold-wallet", {"pouch": "long", "height": "190mm"}),
        ("zip-pouch", {}),
        ("boxed-pouch", {}),
        ("tissue-cover", {}),
        ("plant-tag", {}),
        ("coaster", {"outline": "round"}),
    ],
)
def test_it_stands_on_the_page_as_in_the_pictures(
    tmp_path: Path, name: str, asked: dict[str, str]
) -> None:
    poses = [
        (0.0, 1.0),
        (0.0, 0.95),
        (0.0, 0.35),
        (0.3, 0.5),
        (0.5, 0.1),
        (0.8, 1.0),
        (1.0, 1.0),
        (1.0, 0.0),
    ]
    act = _STAND.replace("POSES", json.dumps([{"closed": c, "held": h} for c, h in poses]))
    said = run(tmp_path, name, act, **asked)
    assert isinstance(said, list)
    solid = solid_of(worked(name, asked))
    for (closed, held), bodies in zip(poses, said, strict=True):
        there = []
        for panel, slab, thing, *points in bodies:
            low, high = np.min(points, axis=0), np.max(points, axis=0)
            there.append((panel, slab, thing, *low, *high))
        known = _extents(posed(solid, closed, held))
        assert len(there) == len(known)
        # The page knows lengths to a thousandth of a millimetre.
        assert np.array(sorted(there)) == pytest.approx(np.array(known), abs=0.02)


_MOUNT = """
const ending = new AbortController();
const solid = mountSolid(document.querySelector("main"), scene, {signal: ending.signal});
const canvas = document.querySelector("canvas");
canvas.getContext("2d", {willReadFrequently: true});
await solid.ready;
solid.drawNow();
const painted = () => {
  const {data} = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
  let sum = 0, count = 0;
  for (let k = 3; k < data.length; k += 4) {
    if (data[k]) { count++; sum += data[k - 3] * (k % 9973); }
  }
  return [count, sum];
};
const press = (key, shiftKey = false) =>
  canvas.dispatchEvent(new KeyboardEvent("keydown", {key, shiftKey, cancelable: true}));
const pull = (kind, x, y) => canvas.dispatchEvent(
  new PointerEvent(kind, {pointerId: 1, clientX: x, clientY: y, button: 0, bubbles: true}));
canvas.setPointerCapture = () => {};
"""


def test_it_is_turned_closed_and_filled_and_goes_when_it_is_told(tmp_path: Path) -> None:
    said = run(
        tmp_path,
        "fold-wallet",
        _MOUNT
        + """
        const inputs = Object.fromEntries([...document.querySelectorAll("input")].map(
          (one) => [one.labels[0].textContent, one]));
        const first = painted(), start = solid.state;
        press("ArrowRight"); const right = solid.state.turn - start.turn;
        press("ArrowUp"); press("ArrowDown"); press("ArrowDown");
        const down = solid.state.tilt - start.tilt;
        press("Home"); const home = {...solid.state};
        const tab = press("Tab");
        pull("pointerdown", 100, 100); pull("pointermove", 140, 100);
        const dragged = solid.state.turn - start.turn;
        pull("pointerup", 140, 100); pull("pointermove", 200, 100);
        const after = solid.state.turn - start.turn;
        const [closing] = Object.values(inputs);
        closing.value = 100; closing.dispatchEvent(new Event("input"));
        solid.drawNow();
        const spoken = [canvas.getAttribute("aria-label"), closing.getAttribute("aria-valuetext")];
        const then = painted(), closed = solid.state.closed;
        ending.abort();
        tell({first, right, down, same: JSON.stringify(home) === JSON.stringify(start),
             tab, dragged, after, labels: Object.keys(inputs), spoken, then, closed,
             focus: canvas.tabIndex,
             left: document.querySelector("main").childElementCount});
        """,
    )
    assert isinstance(said, dict)
    # The right arrow key and a pull to the right take what is in front to the right.
    assert said["right"] < 0
    assert said["dragged"] == pytest.approx(-20)  # half a degree for each of 40 pixels
    assert said["after"] == said["dragged"]
    assert said["down"] > 0
    assert said["same"]
    assert said["tab"]  # is not taken from who moves on by it
    assert said["labels"] == ["from open to closed", "how far in: seed packet"]
    assert said["closed"] == 1
    assert said["spoken"] == [
        "Folding wallet as a solid, seen from the outside, closed",
        "closed",
    ]
    assert said["first"][0] > 10_000
    assert said["then"][0] > 5_000
    assert said["first"] != said["then"]
    assert said["focus"] == 0
    assert said["left"] == 0


def test_what_does_not_fold_and_holds_nothing_has_no_slider(tmp_path: Path) -> None:
    said = run(
        tmp_path,
        "coaster",
        _MOUNT + 'tell([painted()[0], document.querySelectorAll("p:not([hidden]) input").length]);',
    )
    assert isinstance(said, list)
    assert said[0] > 10_000
    assert said[1] == 0


def test_it_takes_another_scene_as_it_stands(tmp_path: Path) -> None:
    other = worked("fold-wallet", {"width": "200mm", "tab": "none"})
    scene = json.dumps(as_scene(solid_of(other), other)).replace("<", "\\u003c")
    said = run(
        tmp_path,
        "fold-wallet",
        _MOUNT
        + f"""
        solid.show({{turn: 20, closed: 0.5}}); solid.drawNow();
        const first = painted();
        await solid.take({scene});
        solid.drawNow();
        tell([solid.state, first, painted()]);
        """,
    )
    assert isinstance(said, list)
    assert said[0] == {"turn": 20, "tilt": 28, "closed": 0.5, "held": 1}
    assert said[1] != said[2]
    assert said[2][0] > 5_000
