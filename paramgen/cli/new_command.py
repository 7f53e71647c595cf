"""A recipe of one's own begun: asked for, tried, and written where no file is yet."""

import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import typer

from paramgen.cli.text_tables import fault_text
from paramgen.ordering.known_lists import known_hoops
from paramgen.ordering.known_things import known_things
from paramgen.ordering.titles import title_asked
from paramgen.own_recipe.begun_recipe import BegunRecipe, begun
from paramgen.own_recipe.wanted_recipe import (
    MOST_POCKETS,
    USUAL_THING,
    WITH_ZIP,
    Construction,
    FirstOutline,
    PocketClosing,
    WantedRecipe,
    recipe_wanted,
    thing_held,
)
from paramgen.vocabulary.findings import Fault, InputError, WriteError
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class FirstAnswers:
    """What was given of what a recipe begins with; None for what was not.

    Parameters
    ----------
    title, outline, construction, closing, holds : str or None
    zipped : bool or None
    pockets : int or None
    """

    title: str | None = None
    outline: str | None = None
    construction: str | None = None
    zipped: bool | None = None
    pockets: int | None = None
    closing: str | None = None
    holds: str | None = None


def new_recipe(name: str, given: FirstAnswers) -> tuple[BegunRecipe, Path]:
    """Begin a recipe in this folder; a person at the keyboard is asked for what was not given.

    Raises
    ------
    InputError
        With every fault of what was given.
    CannotMakeError
        If what is wanted cannot be made in any hoop.
    WriteError
        If there is such a file, or it cannot be written.
    """
    _understood(name, FirstAnswers())  # of a wrong name no more is asked
    file = Path(f"{name.removesuffix('.toml')}.toml")
    _check_free(file)
    if sys.stdin is not None and sys.stdin.isatty():
        given = asked_for(name, given)
    made = begun(_understood(name, given), known_hoops())
    _write(file, made.text)
    return made, file


def asked_for(name: str, given: FirstAnswers) -> FirstAnswers:
    """Ask for what was not given and can be answered, one after the other."""
    things = known_things()
    usual = _understood(name, FirstAnswers())
    if given.title is None:
        title = _answer("What is it", usual.title, title_asked)
        given = replace(given, title=title)
    if given.construction is None:
        words = [str(kind) for kind in Construction]
        hint = "turned through a gap, or felt or vinyl with raw edges"
        given = replace(given, construction=_word(f"How is it made: {hint}", words))
    if given.outline is None:
        words = [str(kind) for kind in (WITH_ZIP if given.zipped else FirstOutline)]
        words.sort(key=lambda word: word != usual.outline)
        given = replace(given, outline=_word("Its outline", words))
    if given.zipped is None:
        may = given.outline in WITH_ZIP and not given.pockets
        given = replace(
            given, zipped=may and typer.confirm("A zip across its front?", default=False)
        )
    if given.pockets is None:
        words = [str(number) for number in range(MOST_POCKETS + 1)]
        number = 0 if given.zipped else int(_word("How many pockets", words))
        given = replace(given, pockets=number)
    if given.closing is None:
        words = [str(kind) for kind in PocketClosing]
        closing = _word("How is the pocket closed", words) if given.pockets == 1 else words[0]
        given = replace(given, closing=closing)
    if given.holds is None and (given.zipped or given.pockets):
        question = "What does it hold, by its name or as 90x150x3mm"
        holds = _answer(question, USUAL_THING, lambda typed: thing_held(typed, things))
        given = replace(given, holds=holds)
    return given


def _understood(name: str, given: FirstAnswers) -> WantedRecipe:
    return recipe_wanted(
        name,
        known_things(),
        title=given.title or "",
        outline=given.outline or "",
        construction=given.construction or "",
        zipped=bool(given.zipped),
        pockets=given.pockets or 0,
        closing=given.closing or "",
        holds=given.holds or "",
    )


def _word(question: str, words: list[str]) -> str:
    """One of some words; the first where nothing is typed."""

    def check(typed: str) -> None:
        if typed not in words:
            raise InputError([Fault(f"`{typed}` is not one of {', '.join(words)}")])

    return _answer(f"{question} ({', '.join(words)})", words[0], check)


def _answer(question: str, usual: str, check: Callable[[str], object]) -> str:
    """What is typed, asked again until it can be used."""
    while True:
        typed: str = typer.prompt(question, default=usual)
        try:
            check(typed)
        except InputError as problem:
            for fault in problem.faults:
                typer.echo(fault_text(fault), err=True)
        else:
            return typed


def _check_free(file: Path) -> None:
    if file.exists() or file.is_symlink():
        raise WriteError(f"{file} is there already; nothing was changed. Take another name.")


def _write(file: Path, text: str) -> None:
    """Write a file that is not there yet; whatever is there by then stays."""
    try:
        stream = file.open("x", encoding="utf-8", newline="\n")
    except FileExistsError:
        raise WriteError(f"{file} is there already; nothing was changed.") from None
    except OSError as problem:
        raise WriteError(f"{file} cannot be written: {problem.strerror or problem}.") from None
    try:
        with stream:
            stream.write(text)
    except OSError as problem:
        with suppress(OSError):
            file.unlink()
        raise WriteError(f"{file} cannot be written: {problem.strerror or problem}.") from None
