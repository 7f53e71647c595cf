"""The summary in a browser: on a phone, at a desk, and printed."""

import html
import json
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote
from xml.etree import ElementTree as ET

import pytest
from browser import browse, in_browser
from command_line import paramgen
from papers_read import read

from paramgen.grading.kept_rows import PAGE, ROW

TABLE = """recipe;name;hoop;width;height;outline;unit
fold-wallet;Wallet for <two> & "more" packets of very-long-named-heirlooms;160x260;130;180;;
coaster;Round;4x4in;90;;round;
plant-tag;Tag;200x300;;;;in
coaster;Too large for its hoop;4x4in;300;300;;
"""

#: Waits for the page in the frame, then says how wide it is, what sticks out, how many px a mm
#: of each picture takes, and what the page fetched.
_MEASURE = """
<script>
addEventListener("load", () => {
  const frame = document.querySelector("iframe"), page = frame.contentDocument;
  const root = page.documentElement;
  const out = [...page.querySelectorAll("body *:not(svg *)")].filter((one) =>
    one.getBoundingClientRect().right > root.clientWidth + 0.5 && one.closest("thead") === null);
  const scales = [...page.querySelectorAll("figure svg")].map((one) =>
    one.getBoundingClientRect().width / one.viewBox.baseVal.width);
  const tall = [...page.querySelectorAll("figure svg")].map((one) =>
    one.getBoundingClientRect().height / one.viewBox.baseVal.height);
  const bar = page.querySelector(".five").getBoundingClientRect().width / 50;
  document.body.textContent = "measured " + JSON.stringify({
    inner: root.clientWidth, wide: root.scrollWidth, out: out.map((one) => one.outerHTML),
    scales, tall, bar,
    fetched: frame.contentWindow.performance.getEntriesByType("resource").length});
});
</script>
"""


@pytest.fixture(scope="module")
def graded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("graded")
    (folder / "swap.csv").write_text(TABLE, "utf-8")
    ran = paramgen("grade", folder / "swap.csv", "--out", folder / "set", "--files", "dst",
                   "--no-papers", "--jobs", "1")  # fmt: skip
    assert ran.status == 1
    return folder / "set"


@in_browser
@pytest.mark.parametrize("width", [400, 1040, 1280])
def test_it_is_as_wide_as_the_screen_and_all_pictures_have_one_scale(
    graded: Path, tmp_path: Path, width: int
) -> None:
    page = html.escape((graded / PAGE).read_text("utf-8"))
    frame = f'<iframe style="width:{width}px;height:800px;border:0" srcdoc="{page}"></iframe>'
    (tmp_path / "frame.html").write_text(f"<!doctype html>{frame}{_MEASURE}", "utf-8")
    ran = browse(tmp_path, "--dump-dom", f"file://{tmp_path / 'frame.html'}")
    body = ran.stdout[ran.stdout.index("<body>") + 6 : ran.stdout.index("</body>")].strip()
    assert body.startswith("measured ")
    found = json.loads(html.unescape(body.removeprefix("measured ")))
    assert width - 20 <= found["inner"] <= width
    assert found["wide"] == found["inner"]
    assert found["out"] == []
    assert found["fetched"] == 0
    assert len(found["scales"]) == 3
    # px a mm: the same for all, across and down, and for the bar that says how long 5 cm are.
    assert found["scales"] == pytest.approx([found["bar"]] * 3, rel=0.005)
    assert found["tall"] == pytest.approx(found["scales"], rel=0.005)
    assert found["bar"] > 0.5
    assert "CONSOLE" not in ran.stderr


def test_nothing_is_asked_of_any_other_place(graded: Path) -> None:
    page = (graded / PAGE).read_text("utf-8")
    # A namespace is a name and not an address; all else that could be fetched is in the page.
    page = re.sub(r' xmlns(:\w+)?="[^"]*"', "", page)
    assert re.findall(r"https?:|@import|<script|<img|<iframe|<object", page) == []
    assert set(re.findall(r"url\((.)", page)) <= {"#"}
    assert "default-src 'none'" in page


@in_browser
def test_it_prints(graded: Path, tmp_path: Path) -> None:
    paper = tmp_path / "summary.pdf"
    browse(tmp_path, f"--print-to-pdf={paper}", "--no-pdf-header-footer", f"file://{graded / PAGE}")
    pages = read(paper.read_bytes())
    words = " ".join(" ".join(page.words for page in pages).split())
    for said in ("Not made", "Side by side", "Row by row", "Too large for its hoop", "90 × 90 mm"):
        assert said in words
    # What all rows take together is a page of its own.
    assert len(pages) <= 4


class Page(HTMLParser):
    """Links, ids and text of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: list[str] = []
        self.open: list[str] = []
        self.text = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "a":
            self.links.append(said["href"] or "")
        if "id" in said:
            self.ids.append(said["id"] or "")

    def handle_data(self, data: str) -> None:
        self.text += data


@pytest.fixture(scope="module")
def parsed(graded: Path) -> Page:
    return Page((graded / PAGE).read_text("utf-8"))


def test_every_link_leads_to_a_file_or_a_place_in_the_page(graded: Path, parsed: Page) -> None:
    assert len(parsed.links) == 6
    for link in parsed.links:
        inside = link.startswith("#") and link[1:] in parsed.ids
        assert inside or (graded / unquote(link)).is_file(), link
    assert len(parsed.ids) == len(set(parsed.ids))


def test_names_are_shown_as_typed_and_do_nothing_else(parsed: Page) -> None:
    name = 'Wallet for <two> & "more" packets of very-long-named-heirlooms'
    assert parsed.text.count(name) == 2


def test_sizes_hoops_fabric_and_stitches_are_those_of_the_plan(graded: Path, parsed: Page) -> None:
    text = " ".join(parsed.text.replace("\xa0", " ").split())
    for file in graded.glob("*/plan.json"):
        plan = json.loads(file.read_bytes())
        stitches = sum(step["stitches"] for step in plan["steps"])
        assert f"{stitches} in " in text
        assert f"{plan['hoop']['name']}, field" in text
        for fabric in {piece["fabric"] for piece in plan["pieces"]}:
            assert fabric.replace("-", " ") in text
    # To the nearest sixteenth, 90 mm are 3.543 in, 3 9/16; 130 mm 5.118, 5 1/8;
    # 180 mm 7.087, 7 1/16.
    assert "3 9/16 × 3 9/16 in (90 × 90 mm)" in text
    assert "130 × 180 mm (5 1/8 × 7 1/16 in)" in text


def pictures(page: str) -> Iterator[ET.Element]:
    for text in re.findall(r"<svg .*?</svg>", page, re.DOTALL):
        yield ET.fromstring(text)


def test_a_picture_is_as_large_as_the_thing(graded: Path) -> None:
    # The round coaster is 90 mm across whatever the page says; the picture has a hair round it.
    for picture in pictures((graded / PAGE).read_text("utf-8")):
        if (picture.get("id") or "").startswith("round-"):
            _, _, width, height = map(float, (picture.get("viewBox") or "").split())
            assert 90 <= width <= 94
            assert 90 <= height <= 94
            return
    raise AssertionError("no picture of the round one")


def test_the_row_says_what_its_pack_was_made_from(graded: Path) -> None:
    kept = json.loads((graded / "round" / ROW).read_bytes())
    assert re.fullmatch(r"[0-9a-f]{64}", kept["made_from"])
    listed = set(json.loads((graded / "round" / "plan.json").read_bytes())["contents"])
    assert set(kept["files"]) == listed - {ROW}
