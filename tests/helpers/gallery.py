"""Makes the gallery, a picture of each recipe finished: `python tests/helpers/gallery.py`."""

from collections.abc import Iterator
from pathlib import Path

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.pictures.solid_views import solid_sheets, telling
from paramgen.drawings.primitives.items import Drawing
from paramgen.hooping import Room
from paramgen.lengths import show_size_both
from paramgen.making import Made, Order
from paramgen.recipe.read_recipe import listed
from paramgen.reference.hoops import smallest_first
from paramgen.vocabulary.unit import Unit
from paramgen.workshop import Workshop

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "templates" / "GALLERY.md"
PICTURES = ROOT / ".pictures" / "gallery"

HEAD = """\
# Gallery

What comes of each recipe as it is, before anything is asked for: finished, and what it holds going
in or half closed. Made by `python tests/helpers/gallery.py`. To make one, name it:
`paramgen make coaster --hoop 130x180`. To make one your own, see
[how recipes are written](README.md).
"""


def gallery() -> dict[Path, bytes]:
    """Every file of the gallery, and what is in it."""
    made = dict(_made())
    pictures = {PICTURES / f"{name}.svg": _picture(one) for name, one in made.items()}
    text = HEAD + "".join(_entry(name, one) for name, one in made.items())
    return {PAGE: text.encode(), **pictures}


def _made() -> Iterator[tuple[str, Made]]:
    workshop = Workshop()
    first, *further = (Room(hoop) for hoop in smallest_first(workshop.hoops))
    for name in listed():
        order = Order(workshop.recipe(name), {}, first, further=tuple(further))
        yield name, workshop.make(order)


def _picture(made: Made) -> bytes:
    """The picture that tells most, without the words round it."""
    sheets = solid_sheets(made.thing)
    sheet = next(iter(telling(sheets)), sheets[0])
    drawing = Drawing(
        name=sheet.name,
        title=sheet.title,
        description=sheet.description,
        box=sheet.view,
        scale=1.0,
        items=sheet.picture,
    )
    return to_svg(drawing).encode()


def _entry(name: str, made: Made) -> str:
    project = made.project
    size = show_size_both(*project.finished, Unit.MM)
    folder = Path("..") / PICTURES.relative_to(ROOT)
    return f"""
## {project.title}

<img src="{folder.as_posix()}/{name}.svg" height="260" alt="{project.title}, finished">

{project.summary} Finished {size}, in hoop {made.room.hoop.name}: [{name}.toml]({name}.toml).
"""


def main() -> None:
    """Write it, and take away pictures of recipes that are no more."""
    files = gallery()
    PICTURES.mkdir(parents=True, exist_ok=True)
    for old in PICTURES.glob("*.svg"):
        if old not in files:
            old.unlink()
    for file, data in files.items():
        file.write_bytes(data)


if __name__ == "__main__":
    main()
