"""Makes the picture of the page in the README: `python tests/helpers/picture_of_page.py`."""

from io import BytesIO
from pathlib import Path

from browser import steered
from page_running import running
from PIL import Image

PICTURE = Path(__file__).resolve().parents[2] / ".pictures" / "page.png"

#: Of the window, in CSS pixels, and how many colours are enough for a drawing.
WIDTH, HEIGHT, COLOURS = 1100, 760, 64

SEEN = "recipe=fold-wallet&hoop=130x180&cloth=outer%3D%23cfe0ef&my.width=118+mm"


def main() -> None:
    """Open the page, look at it, and keep what is seen."""
    with running() as page, steered() as browser:
        window = browser.new_page(viewport={"width": WIDTH, "height": HEIGHT})
        window.goto(page.address)
        window.goto(f"http://{page.host}/project?{SEEN}")
        window.wait_for_load_state("networkidle")
        shot = Image.open(BytesIO(window.screenshot())).convert("RGB")
    shot.quantize(COLOURS, dither=Image.Dither.NONE).save(PICTURE, optimize=True)


if __name__ == "__main__":
    main()
