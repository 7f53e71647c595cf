"""A refusal: what was found, and the commands that make what can be made instead."""

from collections.abc import Iterable
from dataclasses import replace
from typing import NoReturn

import typer

from paramgen.cli.command_that_makes import hold_command, make_command, near_command
from paramgen.cli.error_messages import busy
from paramgen.cli.exit_status import CANNOT
from paramgen.cli.shared_workshop import workshop
from paramgen.cli.text_tables import finding_text
from paramgen.fit.alternatives import OF_SIZE
from paramgen.fit.what_would_do import (
    known_ways,
    of_the_hoop,
    sizes_that_would_do,
    worth_looking,
)
from paramgen.making import Order
from paramgen.ordering.meant_words import paired
from paramgen.ordering.order_from_words import UnderstoodRequest, hoops_asked, pairs
from paramgen.ordering.typed_request import TypedRequest
from paramgen.sizing import Sized
from paramgen.vocabulary.findings import CannotMakeError, Finding, InputError, Instead


def refuse(wanted: UnderstoodRequest, words: TypedRequest, found: Iterable[Finding]) -> NoReturn:
    """Say why something cannot be made, then what can, and leave with the status that says so."""
    told = tuple(found)
    for finding in told:
        typer.echo(finding_text(finding, wanted.order.unit), err=True)
    if text := instead_text(wanted, words, told):
        typer.echo(text, err=True)
    raise typer.Exit(CANNOT)


def instead_text(wanted: UnderstoodRequest, words: TypedRequest, found: tuple[Finding, ...]) -> str:
    """Write the commands that make what can be made instead of what was refused.

    Parameters
    ----------
    wanted : UnderstoodRequest
    words : TypedRequest
        As they were typed: what they say besides the project stays.
    found : tuple of Finding
        What was found against the order. If it says what can be made, that is taken; else it is
        looked for.

    Returns
    -------
    str
        Empty if there is nothing to say.
    """
    order = wanted.order
    ways = known_ways(found)
    try:
        if not worth_looking(found):
            return ""
        attempt = workshop().attempt(order, wanted.hoops)
        sized, order = attempt.sized, replace(order, room=attempt.room)
        if sized is None:
            return ""
        if not ways:
            busy("Looking for what can be made.")
            works = workshop().works
            order, ways = sizes_that_would_do(order, wanted.order, found, works)
    except (InputError, CannotMakeError):
        return ""
    if not ways:
        if any(finding.stops and finding.code not in OF_SIZE for finding in found):
            return ""
        return _to_look(order, sized, words, found)
    # Scaled already, but for those that follow from others.
    own = sized.own_sizes if order.scale != 1 else {}
    commands = [
        make_command(
            order,
            {**own, **dict(one.sizes)},
            one.hoop or order.room.hoop.name,
            words,
            one.copies,
            words.holds,
        )
        for one in _each_once(ways, sized)
    ]
    several = "each of these" if len(commands) > 1 else "this"
    return "\n".join([f"What can be made: {several}", *(f"  {one}" for one in commands)])


def _each_once(ways: Iterable[Instead], sized: Sized) -> Iterable[Instead]:
    """Leave out what comes to the same as a way before it.

    The largest of one size, the others as asked, may be the largest of several together.
    """
    asked = {figure.name: figure.value for figure in sized.sizes}
    kept: dict[object, Instead] = {}
    for one in ways:
        sizes = {**asked, **dict(one.sizes)}
        same = tuple((name, round(value, 3)) for name, value in sizes.items())
        kept.setdefault((same, one.hoop, one.copies), one)
    return kept.values()


def _to_look(order: Order, sized: Sized, words: TypedRequest, found: Iterable[Finding]) -> str:
    """Write the command that looks for sizes: in the hoops that were typed, if these may do."""
    hoops = [] if of_the_hoop(found) else hoops_asked(words)
    if words.holds:
        named, _ = pairs(paired(words.values, order.recipe.file)[0])
        one = [order.room.hoop.name] if hoops else []
        look = hold_command(order, sized, named, words.holds, one)
    else:
        sizes = {figure.name: figure.value for figure in sized.sizes}
        look = near_command(order, sizes, hoops)
    return f"To look for sizes that can be made\n  {look}"
