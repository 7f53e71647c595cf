"""The page command: the page in the browser, on this machine alone."""

import gc
from dataclasses import replace
from pathlib import Path
from threading import Thread

import typer

from paramgen.installed import templates
from paramgen.nearest_word import did_you_mean
from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.given_files import GivenFiles
from paramgen.page.tasks_by_name import prepare
from paramgen.page.typed_address import address_of
from paramgen.page.usual_address import LOOPBACK
from paramgen.page.worker_processes import WorkerProcess
from paramgen.reference import own_folder
from paramgen.vocabulary.findings import Fault, InputError

#: Endings of recipe files.
ENDING = ".toml"


def open_page(
    words: TypedRequest, *, host: str, port: int, out: Path | None, browser: bool
) -> None:
    """Open the page, and serve it until Ctrl-C.

    Raises
    ------
    InputError
        If there is no such recipe or folder, or the port cannot be had.
    """
    own = _own(words.recipe)
    if out is not None and out.exists() and not out.is_dir():
        raise InputError([Fault(f"{out} is not a folder", "--out", hint="Name another.")])
    _check_own_lists()
    given = GivenFiles()
    quick = WorkerProcess(prepare, own, given)
    quick.start()
    # It loads what works out projects while this one loads what answers.
    from paramgen.page.serve import PageOptions, serve

    named = replace(words, recipe=next(iter(own), words.recipe))
    path = f"/project?{address_of(named)}" if words.recipe else "/"
    if host != LOOPBACK:
        typer.echo(
            f"The page is open to every machine that reaches {host}: whoever has the address with "
            "its key can see and ask all. It is not encrypted.",
            err=True,
        )

    def opened(address: str) -> None:
        typer.echo(address)
        if browser:
            import webbrowser

            # Some wait until the browser is closed, and the page must answer meanwhile.
            Thread(target=webbrowser.open, args=(address,), daemon=True).start()

    there = "" if out is None else str(out.absolute())
    gc.enable()  # a page runs long, other commands do not
    serve(PageOptions(host=host, port=port, own=own, out=there, path=path), quick, given, opened)


def _check_own_lists() -> None:
    """Raise InputError with all that is wrong in a person's own lists and settings."""
    if own_folder.own("").is_dir():
        from paramgen.ordering.known_lists import known_hoops
        from paramgen.ordering.settings_filled_in import with_settings

        known_hoops()
        with_settings(TypedRequest())


def _own(recipe: str) -> dict[str, str]:
    """A recipe file by the name that it has in an address; raises InputError if there is none."""
    if recipe.endswith(ENDING):
        if not Path(recipe).is_file():
            raise InputError([Fault("there is no such file", recipe)])
        return {Path(recipe).name: str(Path(recipe).absolute())}
    names = [file.stem for file in sorted(templates().glob(f"*{ENDING}"))]
    if recipe and recipe not in names:
        hint = did_you_mean(recipe, names) or f"There are {', '.join(names)}."
        hint += f" A file of your own ends in {ENDING}."
        raise InputError([Fault("no recipe of that name", recipe, hint=hint)])
    return {}
