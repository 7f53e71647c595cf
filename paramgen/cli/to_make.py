"""The command that makes what was found."""

import re
import shlex
from collections.abc import Mapping

from paramgen.cli.asking import unit_asked
from paramgen.findings import InputError
from paramgen.lengths import TOLERANCE, Unit, parse_length, show
from paramgen.making import Order
from paramgen.recipe.read import find_recipe

#: Words of these alone mean themselves in any shell; within double quotes the others do too,
#: but for a few.
_PLAIN = re.compile(r"[\w./=+,:×½-]+")
_QUOTABLE = re.compile(r'[^"$`\\!]+')


def make_command(
    order: Order, values: Mapping[str, float | str], hoop: str, holds: str = ""
) -> str:
    """Write the command that makes an order with other values, as it is typed.

    Parameters
    ----------
    order : Order
        What it asks for besides; its hoop is not looked at.
    values : mapping of name to mm or text
        What is asked for instead or as well.
    hoop : str
    holds : str
        What the thing that it holds is called; empty for the recipe's own.
    """
    asked = {name: typed(value, order.unit) for name, value in {**order.asked, **values}.items()}
    margin = typed(order.room.margin, order.unit) if order.room.margin else ""
    words = ["paramgen", "make", _recipe(order)]
    words += [f"{name}={value}" for name, value in asked.items()]
    words += ["--holds", holds] if holds else []
    words += ["--hoop", hoop]
    words += ["--margin", margin] if margin else []
    words += ["--no-turn"] if not order.room.may_turn else []
    if unit_asked("", [*asked.values(), hoop, margin]) is not order.unit:
        words += ["--unit", str(order.unit)]
    return " ".join(map(_quoted, words))


def _recipe(order: Order) -> str:
    """Its name, or the path of a person's own."""
    recipe = order.recipe
    try:
        by_name = find_recipe(recipe.name).file == recipe.file
    except InputError:
        by_name = False
    return recipe.name if by_name else recipe.source


def typed(value: float | str, unit: Unit) -> str:
    """A value as it is typed and read back without loss."""
    if isinstance(value, str):
        return value
    shown = show(value, unit)
    if abs(parse_length(shown, zero=True) - value) <= TOLERANCE:
        return shown.replace(" mm", "mm").replace(" in", "in")
    return f"{value:.4f}".rstrip("0").rstrip(".") + "mm"


def _quoted(word: str) -> str:
    """A word as it is typed in a shell."""
    if _PLAIN.fullmatch(word):
        return word
    return f'"{word}"' if _QUOTABLE.fullmatch(word) else shlex.quote(word)
