"""How many sheets do the papers take? `python tests/benchmarks/sheets.py` prints a table.

Every recipe at a small, its usual and a large size, on both common papers: sheets of templates,
and of the fit sheet. It prints, and never fails.
"""

from collections.abc import Mapping

from paramgen.drawings.front_end.scene import hooped
from paramgen.hooping import Room
from paramgen.making import Made, Order, make
from paramgen.papers.fit_sheet import fit_leaves
from paramgen.papers.printing import Printing
from paramgen.papers.sheet_frame import SheetFrame
from paramgen.papers.templates import template_leaves
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.vocabulary.unit import Unit

PAPERS = ("A4", "Letter")
#: Recipe, hoop, what is asked.
CASES: tuple[tuple[str, str, Mapping[str, str]], ...] = (
    ("coaster", "4x4in", {"width": "90mm"}),
    ("coaster", "5x7in", {}),
    ("coaster", "200x300", {"width": "190mm", "height": "280mm", "outline": "rectangle"}),
    ("fold-wallet", "130x180", {"width": "90mm", "height": "150mm", "packet_width": "80mm",
                                "packet_height": "64mm"}),
    ("fold-wallet", "130x180", {}),
    ("fold-wallet", "200x300", {"width": "180mm", "height": "280mm"}),
    ("plant-tag", "130x180", {"label_width": "54mm", "label_height": "36mm", "width": "84mm",
                              "height": "80mm"}),
    ("plant-tag", "130x180", {}),
    ("plant-tag", "200x300", {"width": "190mm", "height": "200mm"}),
    ("zip-pouch", "130x180", {"width": "110mm", "height": "90mm", "packet_width": "90mm",
                              "packet_height": "64mm"}),
    ("zip-pouch", "200x300", {}),
    ("zip-pouch", "200x300", {"width": "7 in", "height": "5 1/4 in"}),
)  # fmt: skip


def main() -> None:
    """Print everything."""
    hoops, papers = listed(), listed_papers()
    total = dict.fromkeys(PAPERS, 0)
    print(f"{'recipe':12} {'finished':16}" + "".join(f" {one:>9}" for one in PAPERS))
    for recipe, hoop, asked in CASES:
        order = Order(find_recipe(recipe), asked, Room(find_hoop(hoop, hoops)), Unit.MM)
        made = make(order, hoops)
        width, height = made.project.finished
        line = f"{recipe:12} {f'{width:.0f} × {height:.0f} mm':16}"
        for paper in PAPERS:
            form = SheetFrame(Printing(find_paper(paper, papers)), recipe)
            templates, fits = sheets(made, form)
            total[paper] += templates
            line += f" {f'{templates} + {fits}':>9}"
        print(line)
    print(f"{'templates':29}" + "".join(f" {total[one]:>9}" for one in PAPERS))


def sheets(made: Made, form: SheetFrame) -> tuple[int, int]:
    """Sheets of templates, and of the fit sheet."""
    hoop = made.room.hoop
    scene = hooped(made.project, hoop.name, hoop.width, hoop.height, made.thing, made.move)
    return len(template_leaves(made.project, form)), len(fit_leaves(scene, form))


if __name__ == "__main__":
    main()
