"""What the commands take, said once for all of them."""

from pathlib import Path
from typing import Annotated

import typer

from paramgen.files.formats import FORMATS


def _recipe_names(incomplete: str) -> list[str]:
    from paramgen.recipe.read_recipe import listed

    return [name for name in listed() if name.startswith(incomplete)]


def _hoop_names(incomplete: str) -> list[str]:
    from paramgen.ordering.known_lists import known_hoops

    return [hoop.name for hoop in known_hoops() if hoop.name.startswith(incomplete)]


def _paper_names(incomplete: str) -> list[str]:
    from paramgen.reference.paper_sizes import listed_papers

    names = [paper.name.lower() for paper in listed_papers()]
    return [name for name in names if name.startswith(incomplete.lower())]


RecipeName = Annotated[
    str,
    typer.Argument(
        metavar="RECIPE", help="Name or path of a recipe.", autocompletion=_recipe_names
    ),
]
TypedValues = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="[NAME=VALUE ...]",
        help="Sizes, counts, choices and lengths, as `about RECIPE` lists them.",
    ),
]
_HOOP = "listed hoop, or WIDTHxHEIGHT of its field with a unit."
HoopName = Annotated[
    str,
    typer.Option("--hoop", metavar="HOOP", help=f"A {_HOOP}", autocompletion=_hoop_names),
]
Hoops = Annotated[
    list[str] | None,
    typer.Option(
        "--hoop",
        metavar="HOOP",
        help=f"A {_HOOP} Several are asked in turn.",
        autocompletion=_hoop_names,
    ),
]
NeededHoop = Annotated[
    list[str] | None,
    typer.Option(
        "--hoop",
        metavar="HOOP",
        help=f"Needed: a {_HOOP} Several are asked in turn: the first that takes it is used. Your "
        "own by `settings` unless given.",
        autocompletion=_hoop_names,
    ),
]
UnitName = Annotated[
    str,
    typer.Option(
        "--unit", metavar="in|mm", help="Shown first; the unit you typed unless given here."
    ),
]
Scale = Annotated[
    str, typer.Option("--scale", metavar="F", help="Multiplies the finished sizes only.")
]
Margin = Annotated[
    str,
    typer.Option("--margin", metavar="LENGTH", help="Keep this much of the field free all round."),
]
Upright = Annotated[
    bool, typer.Option("--no-turn", help="Never lay the project turned by 90° in the hoop.")
]
CopyCount = Annotated[
    str,
    typer.Option(
        "--copies",
        metavar="N|most",
        help="So many in one hooping, all at the same stops; or as many as there is room for.",
    ),
]
Singly = Annotated[
    bool,
    typer.Option(
        "--singly",
        help="Of several copies cut and lay each piece for each, never one sheet over all.",
    ),
]
Files = Annotated[
    str,
    typer.Option(
        "--files",
        metavar="LIST",
        help=f"Stitch files to write: {','.join(kind.name for kind in FORMATS)}. All by default.",
    ),
]
Title = Annotated[
    str,
    typer.Option("--title", metavar="WORDS", help="What you call it: on every picture and paper."),
]
Holds = Annotated[
    str,
    typer.Option(
        "--holds",
        metavar="THING",
        help='What it is made to hold, by its name and in its size: passport, "4 bank cards", '
        "90x150x3mm.",
    ),
]
ClothWords = Annotated[
    list[str] | None,
    typer.Option(
        "--cloth",
        metavar="ROLE=COLOUR|PICTURE",
        help="What one of your fabrics looks like, in all pictures: outer=#7a9e3f, lining=teal, "
        '"lining=leaves.jpg, repeat 60 mm". May be repeated.',
    ),
]
OnPanels = Annotated[
    list[str] | None,
    typer.Option(
        "--on",
        metavar="PANEL=KIND:WHAT",
        help='What to stitch on a panel for its looks: "lower outer=quilting:diagonal,20mm". '
        "May be repeated.",
    ),
]
FabricWords = Annotated[
    list[str] | None,
    typer.Option(
        "--fabric",
        metavar="ROLE=CLOTH",
        help='What is cut from: outer=110cm by the length, from edge to edge; "outer=45 x 70 cm" '
        'that is there; "lining=fat quarter" or "2 fat quarters"; ", one-way" after it if its '
        'print has an upper end, ", motif 8 x 12 cm" to centre pieces on motifs that repeat so, '
        "across x along. Interfacing and stabiliser too. May be repeated.",
    ),
]
PaperName = Annotated[
    str,
    typer.Option(
        "--paper",
        metavar="PAPER",
        help="For templates, fit sheet and booklet: a4, letter, ... by the unit unless given; or "
        "roll:610mm, the booklet then as if not given.",
        autocompletion=_paper_names,
    ),
]
PaperMargin = Annotated[
    str,
    typer.Option(
        "--paper-margin", metavar="LENGTH", help="Kept free for the printer; 6 mm unless given."
    ),
]
Printed = Annotated[
    str,
    typer.Option(
        "--printed",
        metavar="LENGTH",
        help="What the printed 5 cm square measured, or ACROSSxDOWN; papers are then corrected.",
    ),
]
WholePieces = Annotated[
    bool,
    typer.Option(
        "--whole-pieces",
        help="Print folded pieces whole; else as halves to lay on a fold where it saves sheets.",
    ),
]


def _forms(incomplete: str) -> list[str]:
    from paramgen.booklet.booklet_length import BookletLength

    return [form.value for form in BookletLength if form.value.startswith(incomplete)]


BookletForm = Annotated[
    str,
    typer.Option(
        "--booklet",
        metavar="short|full",
        help="short: steps that belong together in one block, on half the pages; full: a picture "
        "for every step. Short unless given.",
        autocompletion=_forms,
    ),
]
NoPapers = Annotated[
    bool,
    typer.Option(
        "--no-papers", help="Leave out the booklet and all PDFs: they take longest to make."
    ),
]
Replace = Annotated[
    bool,
    typer.Option("--replace", help="Replace another project that the folder holds already."),
]
TableFile = Annotated[
    Path,
    typer.Argument(
        metavar="TABLE.csv",
        help="Columns: recipe, hoop, name, title, holds, on, unit, margin, copies, and any size, "
        "count, choice or length.",
    ),
]
Jobs = Annotated[
    str,
    typer.Option("--jobs", metavar="N", help="Rows made at a time; one a processor unless given."),
]
