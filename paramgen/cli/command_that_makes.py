"""The command that makes what was found."""

import re
import shlex
from collections.abc import Iterable, Mapping

from paramgen.cli.order_from_words import TypedRequest, unit_asked
from paramgen.lengths import TOLERANCE, parse_length, show
from paramgen.making import Order
from paramgen.recipe.read_recipe import find_recipe
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit

#: Words of these alone mean themselves in any shell; within double quotes the others do too,
#: but for a few.
_PLAIN = re.compile(r"[\w./=+,:×½-]+")
_QUOTABLE = re.compile(r'[^"$`\\!]+')


def make_command(
    order: Order,
    values: Mapping[str, float | str],
    hoop: str,
    words: TypedRequest | None = None,
    copies: int = 1,
    holds: str = "",
) -> str:
    """Write the command that makes an order with other values, as it is typed.

    Parameters
    ----------
    order : Order
        What it asks for besides; its hoop is not looked at, nor scale and copies.
    values : mapping of name to mm or text
        What is asked for instead or as well.
    hoop : str
    words : TypedRequest or None
        What was typed besides: stitch files and papers as there, if they are to stay.
    copies : int
    holds : str
        What the thing that it holds is called; empty for the recipe's own.
    """
    asked = {name: typed(value, order.unit) for name, value in {**order.asked, **values}.items()}
    margin = typed(order.room.margin, order.unit) if order.room.margin else ""
    typed_words = ["paramgen", "make", _recipe(order)]
    typed_words += [f"{name}={value}" for name, value in asked.items()]
    typed_words += ["--holds", holds] if holds else []
    typed_words += ["--hoop", hoop]
    typed_words += ["--margin", margin] if margin else []
    typed_words += ["--no-turn"] if not order.room.may_turn else []
    typed_words += ["--copies", str(copies)] if copies != 1 else []
    typed_words += ["--singly"] if order.singly and copies != 1 else []
    if unit_asked("", [*asked.values(), hoop, margin]) is not order.unit:
        typed_words += ["--unit", str(order.unit)]
    if words is not None:
        besides = {
            "--title": words.title,
            "--files": words.files,
            "--paper": words.paper,
            "--paper-margin": words.paper_margin,
            "--printed": words.printed,
            "--booklet": words.booklet,
        }
        typed_words += [part for pair in besides.items() if pair[1] for part in pair]
        typed_words += ["--whole-pieces"] if words.whole_pieces else []
    return command(typed_words)


def look_command(order: Order, sizes: Mapping[str, float], holds: str = "") -> str:
    """Write the command that looks for sizes in the hoop of an order.

    Parameters
    ----------
    order : Order
    sizes : mapping of name to mm
        Those wished for.
    holds : str
        What it must hold, if that is what counts.
    """
    room, unit = order.room, order.unit
    if holds:
        return command(
            ["paramgen", "fit", _recipe(order), "--hold", holds, "--hoop", room.hoop.name]
        )
    wished = dict(list(sizes.items())[:2])
    near = "x".join(typed(value, unit) for value in wished.values())
    if unit is Unit.MM:
        near = f"{near.replace('mm', '')}mm"
    others = {name: value for name, value in order.asked.items() if name not in wished}
    words = ["paramgen", "fit", _recipe(order)]
    words += [f"{name}={typed(value, unit)}" for name, value in others.items()]
    words += ["--hoop", room.hoop.name, "--near", near]
    words += ["--margin", typed(room.margin, unit)] if room.margin else []
    words += ["--no-turn"] if not room.may_turn else []
    return command(words)


def command(words: Iterable[str]) -> str:
    """Words as they are typed in a shell."""
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
