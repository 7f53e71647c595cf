"""The booklet in a browser: on a phone, at a desk, and printed."""

import html
from pathlib import Path

import pytest
from booklets import CASES, Case, set_in_full
from browser import browse, in_browser
from papers_read import read

pytestmark = in_browser

every = pytest.mark.parametrize("case", CASES[:2], ids=lambda case: case[0])

#: Waits for the page in the frame, then says how wide it is and what sticks out or is not drawn.
_MEASURE = """
<script>
addEventListener("load", () => {
  const page = document.querySelector("iframe").contentDocument, root = page.documentElement;
  const out = [...page.querySelectorAll("body *:not(svg *)")].filter((one) =>
    one.getBoundingClientRect().right > root.clientWidth + 0.5 && one.closest("thead") === null);
  const flat = [...page.querySelectorAll("svg")].filter((one) =>
    one.getBoundingClientRect().width < 20 || one.getBoundingClientRect().height < 5);
  document.body.textContent = ["measured", root.clientWidth, root.scrollWidth,
    out.map((one) => one.tagName).join(), flat.length].join(" | ");
});
</script>
"""


@every
@pytest.mark.parametrize("width", [360, 1280])
def test_it_is_as_wide_as_the_screen_and_draws_every_picture(
    tmp_path: Path, case: Case, width: int
) -> None:
    page = html.escape(set_in_full(case).html)
    frame = f'<iframe style="width:{width}px;height:800px;border:0" srcdoc="{page}"></iframe>'
    (tmp_path / "frame.html").write_text(f"<!doctype html>{frame}{_MEASURE}", "utf-8")
    ran = browse(tmp_path, "--dump-dom", f"file://{tmp_path / 'frame.html'}")
    body = ran.stdout[ran.stdout.index("<body>") + 6 : ran.stdout.index("</body>")]
    said, inner, wide, sticking_out, not_drawn = body.strip().split(" | ")
    assert said == "measured"
    assert width - 20 <= int(inner) <= width
    assert int(wide) == int(inner)
    assert sticking_out == ""
    assert int(not_drawn) == 0
    assert "CONSOLE" not in ran.stderr


@every
def test_it_prints(tmp_path: Path, case: Case) -> None:
    one = set_in_full(case)
    (tmp_path / "booklet.html").write_text(one.html, "utf-8")
    paper = tmp_path / "booklet.pdf"
    ran = browse(
        tmp_path,
        f"--print-to-pdf={paper}",
        "--no-pdf-header-footer",
        f"file://{tmp_path / 'booklet.html'}",
    )
    assert "CONSOLE" not in ran.stderr
    pages = read(paper.read_bytes())
    words = " ".join(" ".join(page.words for page in pages).split())
    for step in one.made.project.steps:
        assert f"Step {step.number}, " in words
    # What is in a table is set as large as what is said below it.
    high = {text: box[3] - box[1] for page in pages for text, box in page.texts}
    row = next(high[text] for text in high if text.endswith(one.said.needles[0].amount))
    note = next(high[text] for text in high if text.startswith(one.said.thread_note[:20]))
    assert row == pytest.approx(note, rel=0.03)
    if case[0] == "coaster":
        # Its few samples stand with the words on how pictures are read.
        (page,) = (one for one in pages if "How to read the pictures" in one.words)
        assert one.said.samples[-1].means.split()[0] in page.words
        assert "Every stitched line" not in page.words
    # Two steps a page or more, as on the paper that is set for printing.
    assert len(pages) <= len(one.made.project.steps) / 2 + 10
