"""The commands."""

import json
from pathlib import Path
from shlex import quote as quoted
from typing import Annotated

import typer

from paramgen import __version__
from paramgen.cli.command_help import AFTERWORD, COMMANDS, SUMMARY
from paramgen.cli.error_messages import busy, note, stoppable, told
from paramgen.cli.exit_status import CANNOT
from paramgen.cli.options import (
    BookletForm,
    ClothWords,
    CopyCount,
    FabricWords,
    Files,
    Holds,
    HoopName,
    Hoops,
    Jobs,
    Margin,
    NeededHoop,
    NoPapers,
    OnPanels,
    PaperMargin,
    PaperName,
    Printed,
    RecipeName,
    Replace,
    Scale,
    Singly,
    TableFile,
    Title,
    TypedValues,
    UnitName,
    Upright,
    WholePieces,
)
from paramgen.cli.strict_options import StrictCommand
from paramgen.page.usual_address import LOOPBACK, PORT

app = typer.Typer(
    help=SUMMARY,
    epilog=AFTERWORD,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
)


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
    from paramgen.cli.recipe_list import recipe_list

    typer.echo(recipe_list(), nl=False)


@app.command("about", help=COMMANDS["about"])
def _about(recipe: RecipeName, unit: UnitName = "") -> None:
    with told():
        from paramgen.cli.recipe_report import recipe_report
        from paramgen.ordering.settings_filled_in import unit_shown
        from paramgen.recipe.read_recipe import find_recipe

        typer.echo(recipe_report(find_recipe(recipe), unit_shown(unit)), nl=False)


@app.command("new", help=COMMANDS["new"])
def _new(
    name: Annotated[
        str, typer.Argument(metavar="NAME", help="Of the recipe: NAME.toml is written here.")
    ],
    title: Annotated[
        str | None, typer.Option("--title", metavar="TITLE", help="What it is: Dibber sleeve.")
    ] = None,
    construction: Annotated[
        str | None,
        typer.Option("--construction", metavar="WAY", help="turned (unless said) or raw-edge."),
    ] = None,
    outline: Annotated[
        str | None,
        typer.Option(
            "--outline",
            metavar="SHAPE",
            help="rounded (unless said), rectangle, oval or hexagon.",
        ),
    ] = None,
    zipped: Annotated[
        bool | None, typer.Option("--zip/--no-zip", help="A zip across its front.")
    ] = None,
    pockets: Annotated[
        int | None, typer.Option("--pockets", metavar="NUMBER", help="0 to 3, without a zip.")
    ] = None,
    closing: Annotated[
        str | None, typer.Option("--closing", metavar="WAY", help="none or snap: of one pocket.")
    ] = None,
    holds: Annotated[
        str | None,
        typer.Option(
            "--holds", metavar="THING", help="What a pocket or the pouch holds: passport, 90x150mm."
        ),
    ] = None,
) -> None:
    with told() as known:
        from paramgen.cli.new_command import FirstAnswers, new_recipe
        from paramgen.cli.text_tables import finding_text

        given = FirstAnswers(
            title=title,
            outline=outline,
            construction=construction,
            zipped=zipped,
            pockets=pockets,
            closing=closing,
            holds=holds,
        )
        made, file = new_recipe(name, given)
        known.written.append(f"Wrote {file.absolute()}.")
        for finding in made.findings:
            typer.echo(finding_text(finding, known.unit))
        hoop = quoted(made.hoop.name)
        typer.echo(f"Wrote {file}. It can be made as it is, in hoop {made.hoop.name}. Now, say:")
        for words in (f"about {file}", f"page {file}", f"make {file} --hoop {hoop}"):
            typer.echo(f"  paramgen {words}")


@app.command("make", help=COMMANDS["make"])
def _make(
    recipe: RecipeName,
    values: TypedValues = None,
    hoop: NeededHoop = None,
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
    title: Title = "",
    holds: Holds = "",
    copies: CopyCount = "",
    singly: Singly = False,
    cloth: ClothWords = None,
    on: OnPanels = None,
    paper: PaperName = "",
    paper_margin: PaperMargin = "",
    printed: Printed = "",
    whole_pieces: WholePieces = False,
    booklet: BookletForm = "",
    no_papers: NoPapers = False,
    replace: Replace = False,
) -> None:
    with told() as known:
        from paramgen.cli.left_out_papers import left_out_text
        from paramgen.cli.made_report import made_report
        from paramgen.cli.plain_numbers import plain_told
        from paramgen.cli.refusals import refuse
        from paramgen.cli.shared_workshop import workshop
        from paramgen.cli.text_tables import finding_text, indented
        from paramgen.ordering.letters_papers_lack import check_letters
        from paramgen.ordering.order_from_words import asked
        from paramgen.ordering.settings_filled_in import with_settings
        from paramgen.ordering.typed_request import TypedRequest
        from paramgen.pack.earlier_project import made_before
        from paramgen.pack.file_names import project_name
        from paramgen.pack.pack_files import contents
        from paramgen.pack.put_in_place import check_place, place
        from paramgen.vocabulary.findings import CannotMakeError

        words = TypedRequest(
            recipe=recipe,
            values=values or (),
            hoop=(hoop or [""])[0],
            more_hoops=(hoop or [])[1:],
            unit=unit,
            margin=margin,
            files=files,
            scale=scale,
            may_turn=not no_turn,
            paper=paper,
            paper_margin=paper_margin,
            printed=printed,
            whole_pieces=whole_pieces,
            booklet=booklet,
            copies=copies,
            singly=singly,
            title=title,
            holds=holds,
            cloths=cloth or (),
            on="; ".join(on or ()),
        )
        wanted = asked(with_settings(words), find=workshop().recipe, works=workshop().works)
        known.unit = wanted.order.unit
        note(plain_told(words, wanted.order))
        if not no_papers:
            check_letters(wanted)
        try:
            made = workshop().make(wanted.order, wanted.hoops)
        except CannotMakeError as problem:
            refuse(wanted, words, problem.findings)
        folder = out or Path(project_name(made))
        check_place(folder)
        again = made_before(made, folder, replaces=replace)
        busy(f"Drawing{'' if no_papers else ' and typesetting'}; this can take a minute.")
        files_made = contents(
            made,
            wanted.formats,
            wanted.printing,
            papers=not no_papers,
            form=wanted.form,
            cloths=wanted.cloths,
        )
        place(files_made, folder)
        known.written.append(f"Made {folder.absolute()}.")
        typer.echo(made_report(made, wanted.cloths))
        for finding in made.project.findings:
            typer.echo(finding_text(finding, known.unit))
        instead = ", in place of what was made there before" if again else ""
        typer.echo(f"Made {folder.absolute()}{instead}")
        if not no_papers and (lacking := left_out_text()):
            typer.echo(indented(lacking))


@app.command("check", help=COMMANDS["check"])
def _check(
    recipe: RecipeName,
    values: TypedValues = None,
    hoop: NeededHoop = None,
    files: Files = "",
    unit: UnitName = "",
    scale: Scale = "",
    margin: Margin = "",
    no_turn: Upright = False,
    title: Title = "",
    holds: Holds = "",
    copies: CopyCount = "",
    singly: Singly = False,
    cloth: ClothWords = None,
    on: OnPanels = None,
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
    with told() as known:
        from paramgen.cli.check_command import as_report, check, draw_places
        from paramgen.cli.left_out_papers import left_out_text
        from paramgen.cli.made_report import made_report
        from paramgen.cli.plain_numbers import plain_told
        from paramgen.cli.refusals import instead_text
        from paramgen.cli.shared_workshop import workshop
        from paramgen.cli.text_tables import finding_text, indented
        from paramgen.ordering.order_from_words import asked
        from paramgen.ordering.settings_filled_in import with_settings
        from paramgen.ordering.typed_request import TypedRequest

        words = TypedRequest(
            recipe=recipe,
            values=values or (),
            hoop=(hoop or [""])[0],
            more_hoops=(hoop or [])[1:],
            unit=unit,
            margin=margin,
            files=files,
            scale=scale,
            may_turn=not no_turn,
            copies=copies,
            singly=singly,
            title=title,
            holds=holds,
            cloths=cloth or (),
            on="; ".join(on or ()),
        )
        wanted = asked(with_settings(words), find=workshop().recipe, works=workshop().works)
        known.unit = wanted.order.unit
        note(plain_told(words, wanted.order))
        made, found = check(wanted)
        if as_json:
            report = as_report(made, found, known.unit, wanted.cloths)
            typer.echo(json.dumps(report, ensure_ascii=False, indent=1))
        elif made is not None:
            typer.echo(made_report(made, wanted.cloths))
        if not as_json:
            for finding in found:
                typer.echo(finding_text(finding, known.unit), err=made is None)
        if places is not None:
            drawn = draw_places(wanted, found, places)
            known.written.append(drawn.rstrip(".") + ".")
            typer.echo(drawn, err=True)
        if made is None:
            if not as_json and (text := instead_text(wanted, words, found)):
                typer.echo(text, err=True)
            raise typer.Exit(CANNOT)
        if not as_json:
            typer.echo("It can be made as asked.")
            if lacking := left_out_text():
                typer.echo(indented(lacking))


@app.command("fit", help=COMMANDS["fit"])
def _fit(
    recipe: RecipeName,
    values: TypedValues = None,
    hoop: Hoops = None,
    largest: Annotated[
        str,
        typer.Option(
            "--largest",
            metavar="SIZE",
            help="The largest of one size that works; of both at once if none is named.",
        ),
    ] = "",
    smallest: Annotated[
        str,
        typer.Option(
            "--smallest",
            metavar="SIZE",
            help="The smallest that works, in the same way.",
        ),
    ] = "",
    near: Annotated[
        str,
        typer.Option("--near", metavar="WxH", help="The sizes nearest to these that work: 5x8in."),
    ] = "",
    free: Annotated[
        bool, typer.Option("--free", help="The other sizes may follow; as asked unless given.")
    ] = False,
    hold: Annotated[
        list[str] | None,
        typer.Option(
            "--hold",
            metavar="THING",
            help='The smallest that holds it: passport, "4 bank cards", 90x150mm. May be repeated.',
        ),
    ] = None,
    ease: Annotated[
        str,
        typer.Option("--ease", metavar="LENGTH", help="Room for what it holds beyond its size."),
    ] = "",
    any_hoop: Annotated[
        bool, typer.Option("--any-hoop", help="Which hoops take it, and the room left.")
    ] = False,
    copies: CopyCount = "",
    singly: Singly = False,
    come_from: Annotated[
        str,
        typer.Option(
            "--from", metavar="HOOP", help="Its own hoop, to be made for another: say --to too."
        ),
    ] = "",
    go_to: Annotated[str, typer.Option("--to", metavar="HOOP", help="The other hoop.")] = "",
    picture: Annotated[
        Path | None,
        typer.Option("--picture", metavar="FILE", help="Draw all sizes that work, as SVG."),
    ] = None,
    unit: UnitName = "",
    margin: Margin = "",
    no_turn: Upright = False,
    title: Title = "",
    on: OnPanels = None,
) -> None:
    with told() as known:
        from paramgen.cli.fit_command import FitQuestion, fit
        from paramgen.ordering.settings_filled_in import with_settings
        from paramgen.ordering.typed_request import TypedRequest

        words = TypedRequest(
            recipe=recipe,
            values=values or (),
            hoop=(hoop or [""])[0],
            more_hoops=(hoop or [])[1:],
            unit=unit,
            margin=margin,
            may_turn=not no_turn,
            copies=copies,
            singly=singly,
            title=title,
            on="; ".join(on or ()),
        )
        question = FitQuestion(
            largest=largest,
            smallest=smallest,
            near=near,
            hold=hold or (),
            any_hoop=any_hoop,
            come_from=come_from,
            go_to=go_to,
            ease=ease,
            free=free,
            picture=picture,
        )
        busy("Trying sizes; this can take a minute.")
        said = fit(with_settings(words), question)
        note(said.note)
        if picture is not None and said.good:
            known.written.append(f"Drawn: {picture.absolute()}.")
        typer.echo(said.text, err=not said.good)
        if not said.good:
            raise typer.Exit(CANNOT)


@app.command("grade", help=COMMANDS["grade"])
def _grade(
    table: TableFile,
    hoop: Hoops = None,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="DIR", help="Folder for all; named after the table unless given."
        ),
    ] = None,
    files: Files = "",
    unit: UnitName = "",
    scale: Scale = "",
    margin: Margin = "",
    no_turn: Upright = False,
    title: Title = "",
    holds: Holds = "",
    copies: CopyCount = "",
    singly: Singly = False,
    cloth: ClothWords = None,
    on: OnPanels = None,
    paper: PaperName = "",
    paper_margin: PaperMargin = "",
    printed: Printed = "",
    whole_pieces: WholePieces = False,
    booklet: BookletForm = "",
    no_papers: NoPapers = False,
    jobs: Jobs = "",
) -> None:
    with told() as known:
        from paramgen.cli.grade_command import default_folder, grade, refusal_text, report_text
        from paramgen.cli.left_out_papers import left_out_text
        from paramgen.cli.text_tables import indented
        from paramgen.ordering.settings_filled_in import with_settings
        from paramgen.ordering.typed_request import TypedRequest

        words = TypedRequest(
            hoop=(hoop or [""])[0],
            more_hoops=(hoop or [])[1:],
            unit=unit,
            margin=margin,
            files=files,
            scale=scale,
            may_turn=not no_turn,
            paper=paper,
            paper_margin=paper_margin,
            printed=printed,
            whole_pieces=whole_pieces,
            booklet=booklet,
            copies=copies,
            singly=singly,
            title=title,
            holds=holds,
            cloths=cloth or (),
            on="; ".join(on or ()),
        )
        folder = out or default_folder(table)
        known.written.append(f"Rows that were made are whole, in {folder.absolute()}.")
        with stoppable():
            report = grade(table, with_settings(words), folder, papers=not no_papers, jobs=jobs)
        for row, outcome in report.refused:
            typer.echo(refusal_text(row, outcome), err=True)
        if report.unwritten:
            typer.echo(indented(report.unwritten), err=True)
        typer.echo(report_text(report, folder))
        if not no_papers and (lacking := left_out_text()):
            typer.echo(indented(lacking))
        if report.status:
            raise typer.Exit(report.status)


@app.command("kit", help=COMMANDS["kit"])
def _kit(
    recipe: Annotated[
        str,
        typer.Argument(
            metavar="RECIPE|TABLE.csv",
            help="Name or path of a recipe; or a table as grade takes it, with a column `count`.",
        ),
    ],
    values: TypedValues = None,
    hoop: NeededHoop = None,
    count: Annotated[
        str, typer.Option("--count", metavar="N", help="How many to make; 1 unless given.")
    ] = "",
    fabric: FabricWords = None,
    selvedge: Annotated[
        str,
        typer.Option(
            "--selvedge",
            metavar="LENGTH",
            help="Cut off each side of a cloth; 25 mm or 1 in unless given.",
        ),
    ] = "",
    squaring: Annotated[
        str,
        typer.Option(
            "--squaring",
            metavar="LENGTH",
            help="Cut off the end of a cloth to square it up; 25 mm or 1 in unless given.",
        ),
    ] = "",
    layers: Annotated[
        str,
        typer.Option("--layers", metavar="N", help="Strips stacked and cut at once; at most 4."),
    ] = "",
    stages: Annotated[
        str,
        typer.Option(
            "--stages",
            metavar="2|3",
            help="2 unless given: strips, then pieces; 3: pieces behind each other in a strip.",
        ),
    ] = "",
    shrinkage: Annotated[
        str,
        typer.Option(
            "--shrinkage", metavar="PERCENT", help="What fabrics lose in the wash before cutting."
        ),
    ] = "",
    mat: Annotated[
        str,
        typer.Option(
            "--mat",
            metavar="WIDTHxHEIGHT",
            help="Of a cutting machine: nest the pieces on it, and write their lines to cut.",
        ),
    ] = "",
    seconds: Annotated[
        str,
        typer.Option("--seconds", metavar="N", help="Time to look for a shorter plan; 2 s."),
    ] = "",
    people: Annotated[
        str,
        typer.Option(
            "--people", metavar="N", help="In a class, each making their own: how long it takes."
        ),
    ] = "",
    machines: Annotated[
        str,
        typer.Option("--machines", metavar="N", help="That the class has; one unless given."),
    ] = "",
    price: Annotated[
        list[str] | None,
        typer.Option(
            "--price",
            metavar="NAME=PRICE",
            help='What it costs: "outer=14.50 per m", zip=0.90; may be repeated.',
        ),
    ] = None,
    prices: Annotated[
        Path | None,
        typer.Option(
            "--prices", metavar="FILE.csv", help="A table of prices: columns name, price, per."
        ),
    ] = None,
    rate: Annotated[
        str, typer.Option("--rate", metavar="PRICE", help="What an hour of work costs.")
    ] = "",
    currency: Annotated[
        str, typer.Option("--currency", metavar="LABEL", help="Shown behind prices; no more.")
    ] = "",
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="DIR",
            help="Folder to make; named after the project in this folder unless given.",
        ),
    ] = None,
    unit: UnitName = "",
    scale: Scale = "",
    margin: Margin = "",
    no_turn: Upright = False,
    title: Title = "",
    holds: Holds = "",
    copies: CopyCount = "",
    singly: Singly = False,
    paper: PaperName = "",
    no_papers: Annotated[bool, typer.Option("--no-papers", help="Leave out the PDF.")] = False,
) -> None:
    with told() as known:
        from paramgen.cli.kit_command import (
            RowsRefusedError,
            default_kit_folder,
            kit_asked,
            kit_report,
            plan_kit,
            price_table,
        )
        from paramgen.cli.kit_time_report import kit_time_report
        from paramgen.cli.text_tables import finding_text
        from paramgen.kits.class_asked import class_asked
        from paramgen.kits.kit_files import kit_contents
        from paramgen.kits.kit_question import KitQuestion
        from paramgen.kits.kit_understood import prices_asked, tell_kit
        from paramgen.ordering.settings_filled_in import with_settings
        from paramgen.ordering.typed_request import TypedRequest
        from paramgen.pack.put_in_place import check_place, place

        words = TypedRequest(
            recipe=recipe,
            values=values or (),
            hoop=(hoop or [""])[0],
            more_hoops=(hoop or [])[1:],
            unit=unit,
            margin=margin,
            scale=scale,
            may_turn=not no_turn,
            paper=paper,
            copies=copies,
            singly=singly,
            title=title,
            holds=holds,
        )
        question = KitQuestion(
            count=count,
            fabrics=fabric or (),
            selvedge=selvedge,
            squaring=squaring,
            layers=layers,
            stages=stages,
            shrinkage=shrinkage,
            mat=mat,
            seconds=seconds,
            people=people,
            machines=machines,
            prices=price or (),
            rate=rate,
            currency=currency,
        )
        try:
            wanted = kit_asked(with_settings(words), question)
        except RowsRefusedError as problem:
            for row, findings in problem.rows:
                typer.echo(row, err=True)
                for finding in findings:
                    typer.echo(finding_text(finding, known.unit), err=True)
            raise typer.Exit(CANNOT) from None
        known.unit = wanted.unit
        in_class, priced = (
            class_asked(people, machines),
            prices_asked(question, lambda: price_table(prices)),
        )
        folder = out or default_kit_folder(wanted)
        check_place(folder)
        found = tell_kit(plan_kit(wanted, question), in_class, priced)
        place(kit_contents(found, wanted.paper, papers=not no_papers), folder)
        known.written.append(f"Made {folder.absolute()}.")
        typer.echo(kit_report(found))
        typer.echo(kit_time_report(found.times, found.in_class))
        typer.echo(f"Made {folder.absolute()}")


@app.command("page", help=COMMANDS["page"])
def _page(
    recipe: Annotated[
        str, typer.Argument(metavar="[RECIPE]", help="A recipe by its name, or your own file.")
    ] = "",
    values: TypedValues = None,
    hoop: Hoops = None,
    unit: UnitName = "",
    port: Annotated[
        int, typer.Option("--port", min=0, max=65535, help="0 for any that is free.")
    ] = PORT,
    host: Annotated[
        str,
        typer.Option("--host", help="Where to listen, if not to this machine alone: unsafe."),
    ] = LOOPBACK,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="DIR", help="Folder below which the page may put folders of projects."
        ),
    ] = None,
    no_open: Annotated[
        bool, typer.Option("--no-open", help="Print the address and open no browser.")
    ] = False,
) -> None:
    with told():
        from paramgen.cli.page_command import open_page
        from paramgen.ordering.typed_request import TypedRequest

        words = TypedRequest(
            recipe=recipe,
            values=values or (),
            hoop=(hoop or [""])[0],
            more_hoops=(hoop or [])[1:],
            unit=unit,
        )
        open_page(words, host=host, port=port, out=out, browser=not no_open)


@app.command("read", help=COMMANDS["read"])
def _read(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="A stitch file; its ending says its kind.")
    ],
    hoop: HoopName = "",
    plan: Annotated[
        Path | None,
        typer.Option(
            "--plan",
            metavar="PLAN",
            help="The plan.json of the project that it should be, or its folder.",
        ),
    ] = None,
    unit: UnitName = "",
    as_json: Annotated[
        bool, typer.Option("--json", help="Print everything as JSON, in millimetres.")
    ] = False,
) -> None:
    with told():
        from paramgen.cli.read_command import look
        from paramgen.cli.stitch_file_report import as_report, report

        found = look(file, hoop, plan, unit)
        if as_json:
            typer.echo(json.dumps(as_report(found), ensure_ascii=False, indent=1))
        else:
            typer.echo(report(found), nl=False)
        if not found.good:
            raise typer.Exit(CANNOT)


@app.command("hoops", help=COMMANDS["hoops"])
def _hoops() -> None:
    with told():
        from paramgen.cli.known_report import known_report

        typer.echo(known_report("hoops"), nl=False)


@app.command("settings", help=COMMANDS["settings"])
def _settings(
    hoop: Hoops = None,
    files: Files = "",
    unit: UnitName = "",
    paper: PaperName = "",
    forget: Annotated[
        list[str] | None,
        typer.Option(
            "--forget",
            metavar="NAME",
            help="Take out what was set: hoops, files, unit, paper or all. May be repeated.",
        ),
    ] = None,
) -> None:
    with told():
        from paramgen.cli.settings_command import change_settings

        names = [name for name in files.replace(" ", ",").split(",") if name]
        said = {"hoops": tuple(hoop or ()), "files": tuple(names), "unit": unit, "paper": paper}
        changes = {key: value for key, value in said.items() if value}
        typer.echo(change_settings(changes, forget or ()))


@app.command("things", help=COMMANDS["things"])
def _things(unit: UnitName = "") -> None:
    with told():
        from paramgen.cli.known_report import known_report

        typer.echo(known_report("things", unit), nl=False)


@app.command("schema", help=COMMANDS["schema"])
def _schema(
    what: Annotated[
        str, typer.Argument(metavar="[WHAT]", help="plan (unless said), recipe, part or kit.")
    ] = "plan",
) -> None:
    with told():
        from paramgen.cli.schemas import schema_of

        typer.echo(json.dumps(schema_of(what), indent=1))


for _one in app.registered_commands:
    _one.cls = StrictCommand
