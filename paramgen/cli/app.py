"""The commands."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Annotated

import typer

from paramgen import __version__
from paramgen.cli.words import AFTERWORD, COMMANDS, SUMMARY
from paramgen.files.formats import FORMATS

#: Exit statuses.
CANNOT, WRONG, UNWRITTEN = 1, 2, 3

app = typer.Typer(
    help=SUMMARY,
    epilog=AFTERWORD,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
)


def _recipe_names(incomplete: str) -> list[str]:
    from paramgen.recipe.read import listed

    return [name for name in listed() if name.startswith(incomplete)]


def _hoop_names(incomplete: str) -> list[str]:
    from paramgen.cli.asking import known_hoops

    return [hoop.name for hoop in known_hoops() if hoop.name.startswith(incomplete)]


def _paper_names(incomplete: str) -> list[str]:
    from paramgen.reference.papers import listed_papers

    names = [paper.name.lower() for paper in listed_papers()]
    return [name for name in names if name.startswith(incomplete.lower())]


RecipeName = Annotated[
    str,
    typer.Argument(
        metavar="RECIPE", help="Name or path of a recipe.", autocompletion=_recipe_names
    ),
]
Values = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="[NAME=VALUE ...]",
        help="Sizes, counts, choices and lengths, as `about RECIPE` lists them.",
    ),
]
HoopName = Annotated[
    str,
    typer.Option(
        "--hoop",
        metavar="HOOP",
        help="A listed hoop, or WIDTHxHEIGHT of its field with a unit.",
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
Files = Annotated[
    str,
    typer.Option(
        "--files",
        metavar="LIST",
        help=f"Stitch files to write: {','.join(kind.name for kind in FORMATS)}. All by default.",
    ),
]
PaperName = Annotated[
    str,
    typer.Option(
        "--paper",
        metavar="PAPER",
        help="Paper of the templates: a4, letter, ... or roll:610mm; by the unit unless given.",
        autocompletion=_paper_names,
    ),
]
PaperMargin = Annotated[
    str,
    typer.Option(
        "--paper-margin", metavar="LENGTH", help="Kept free for the printer; 10 mm unless given."
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


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"paramgen {__version__}")
        raise typer.Exit


@app.callback()
def _top(
    version: Annotated[
        bool, typer.Option("--version", help="Show the version.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    pass


@app.command("list", help=COMMANDS["list"])
def _list() -> None:
    from paramgen.cli.recipes import recipe_list

    typer.echo(recipe_list(), nl=False)


@app.command("about", help=COMMANDS["about"])
def _about(recipe: RecipeName, unit: UnitName = "mm") -> None:
    with _told():
        from paramgen.cli.asking import unit_asked
        from paramgen.cli.tables import recipe_report
        from paramgen.recipe.read import find_recipe

        typer.echo(recipe_report(find_recipe(recipe), unit_asked(unit)), nl=False)


@app.command("make", help=COMMANDS["make"])
def _make(
    recipe: RecipeName,
    values: Values = None,
    hoop: HoopName = "",
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="DIR",
            help="Folder to make; named after the project in this folder unless given.",
        ),
    ] = None,
    files: Files = "",
    unit: UnitName = "",
    scale: Scale = "",
    margin: Margin = "",
    no_turn: Upright = False,
    paper: PaperName = "",
    paper_margin: PaperMargin = "",
    printed: Printed = "",
) -> None:
    with _told():
        from paramgen.cli.asking import Words, asked
        from paramgen.cli.tables import finding_text, made_report
        from paramgen.making import make
        from paramgen.pack.contents import contents
        from paramgen.pack.names import project_name
        from paramgen.pack.place import place

        words = Words(recipe, values or [], hoop, unit, margin, files, scale, not no_turn)
        on_paper = replace(words, paper=paper, paper_margin=paper_margin, printed=printed)
        wanted = asked(on_paper)
        made = make(wanted.order, wanted.hoops)
        folder = out or Path(project_name(made))
        place(contents(made, wanted.formats, wanted.printing), folder)
        typer.echo(made_report(made))
        for finding in made.project.findings:
            typer.echo(finding_text(finding))
        typer.echo(f"Made {folder.absolute()}")


@app.command("check", help=COMMANDS["check"])
def _check(
    recipe: RecipeName,
    values: Values = None,
    hoop: HoopName = "",
    files: Files = "",
    unit: UnitName = "",
    scale: Scale = "",
    margin: Margin = "",
    no_turn: Upright = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print what was found as JSON.")] = False,
    places: Annotated[
        Path | None,
        typer.Option(
            "--places",
            metavar="DIR",
            help="Folder for pictures of where the findings are, one for each that has a place.",
        ),
    ] = None,
) -> None:
    with _told():
        from paramgen.cli.asking import Words, asked
        from paramgen.cli.checking import as_report, check, draw_places
        from paramgen.cli.tables import finding_text, made_report

        wanted = asked(Words(recipe, values or [], hoop, unit, margin, files, scale, not no_turn))
        made, found = check(wanted)
        if as_json:
            typer.echo(json.dumps(as_report(made, found), ensure_ascii=False, indent=1))
        elif made is not None:
            typer.echo(made_report(made))
        if not as_json:
            for finding in found:
                typer.echo(finding_text(finding), err=made is None)
        if places is not None:
            typer.echo(draw_places(wanted, found, places), err=True)
        if made is None:
            raise typer.Exit(CANNOT)
        if not as_json:
            typer.echo("It can be made as asked.")


@app.command("hoops", help=COMMANDS["hoops"])
def _hoops() -> None:
    with _told():
        from paramgen.cli.asking import known_hoops
        from paramgen.cli.tables import hoop_report

        typer.echo(hoop_report(known_hoops()), nl=False)


@app.command("schema", help=COMMANDS["schema"])
def _schema() -> None:
    from paramgen.plan.model import schema

    typer.echo(json.dumps(schema(), indent=1))


@contextmanager
def _told() -> Iterator[None]:
    """Say what went wrong on standard error, and leave with the status that says so too."""
    from paramgen.cli.tables import fault_text, finding_text
    from paramgen.findings import CannotMakeError, InputError, ParamgenError

    try:
        yield
    except InputError as problem:
        for fault in problem.faults:
            typer.echo(fault_text(fault), err=True)
        raise typer.Exit(WRONG) from None
    except CannotMakeError as problem:
        for finding in problem.findings:
            typer.echo(finding_text(finding), err=True)
        raise typer.Exit(CANNOT) from None
    except ParamgenError as problem:
        typer.echo(str(problem), err=True)
        raise typer.Exit(UNWRITTEN) from None
