"""Everything in a kit's folder, as bytes by file name."""

from paramgen.drawings.back_end.svg import to_svg
from paramgen.kits.kit_as_html import kit_html
from paramgen.kits.kit_as_pdf import kit_pdf
from paramgen.kits.kit_format import kit_json, mat_file
from paramgen.kits.kit_shopping import shopping_csv
from paramgen.kits.kit_told import KitTold
from paramgen.kits.mat_pictures import lines_to_cut
from paramgen.papers.typeset import can_typeset
from paramgen.reference.paper_sizes import Paper

#: Left out where nothing can be typeset.
KIT_PDF = "kit.pdf"


def kit_contents(told: KitTold, paper: Paper, *, papers: bool = True) -> dict[str, bytes]:
    """Write a kit into memory.

    Parameters
    ----------
    told : KitTold
    paper : Paper
        Of the PDF.
    papers : bool
        Whether there is a PDF, where it can be typeset.
    """
    files = {
        "kit.json": kit_json(told).encode(),
        "shopping.csv": shopping_csv(told).encode(),
        "kit.html": kit_html(told).encode(),
    }
    for place, laid in enumerate(told.kit.on_mats, 1):
        for number in range(1, len(laid.plan.mats) + 1):
            drawing = lines_to_cut(laid, number, f"mat-{place}-{number}")
            files[mat_file(place, laid, number)] = to_svg(drawing, ground=False).encode()
    if papers and can_typeset():
        files[KIT_PDF] = kit_pdf(told, paper)
    return files
