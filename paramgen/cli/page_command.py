"""The page command: the page in the browser, on this machine alone."""

from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import typer

from paramgen.installed import templates
from paramgen.nearest_word import did_you_mean
from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.serve import LOOPBACK, PageOptions, serve
from paramgen.page.typed_address import address_of
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

            webbrowser.open(address)

    there = "" if out is None else str(out.absolute())
    with suppress(KeyboardInterrupt):  # how it is meant to end
        serve(PageOptions(host=host, port=port, own=own, out=there, path=path), opened)


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
