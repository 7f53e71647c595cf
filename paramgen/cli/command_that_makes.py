"""The command that makes what was found."""

import re
import shlex
from collections.abc import Iterable, Mapping, Sequence

from paramgen.fit.holding_lengths import holder
from paramgen.making import Order
from paramgen.ordering.known_lists import unit_asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.ordering.typed_values import typed
from paramgen.recipe.read_recipe import find_recipe
from paramgen.sizing import Sized
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
        What was typed besides: stitch files, papers and fabrics as there, if they are to stay.
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
    if unit_asked("", [*asked.values(), margin], hoops=[hoop]) is not order.unit:
        typed_words += ["--unit", str(order.unit)]
    typed_words += ["--title", order.recipe.title] if order.recipe.title else []
    typed_words += _on(order)
    if words is not None:
        besides = {
            "--files": words.files,
            "--paper": words.paper,
            "--paper-margin": words.paper_margin,
            "--printed": words.printed,
            "--booklet": words.booklet,
        }
        typed_words += [part for pair in besides.items() if pair[1] for part in pair]
        typed_words += ["--whole-pieces"] if words.whole_pieces else []
        typed_words += [part for cloth in words.cloths for part in ("--cloth", cloth)]
    return command(typed_words)


def near_command(order: Order, sizes: Mapping[str, float], hoops: Sequence[str]) -> str:
    """Write the command that looks for sizes near to those wished for.

    Parameters
    ----------
    order : Order
        Its hoop is not looked at.
    sizes : mapping of name to mm
        Those wished for.
    hoops : sequence of str
        Where; in any hoop if there is none.
    """
    wished = dict(list(sizes.items())[:2])
    near = "x".join(typed(value, order.unit) for value in wished.values())
    if order.unit is Unit.MM:
        near = f"{near.replace('mm', '')}mm"
    others = {name: value for name, value in order.asked.items() if name not in wished}
    return _fit_command(order, others, ["--near", near], hoops)


def hold_command(
    order: Order, sized: Sized, named: Mapping[str, str], holds: str, hoops: Sequence[str]
) -> str:
    """Write the command that looks for the sizes that hold a thing.

    Parameters
    ----------
    order : Order
    sized : Sized
        Its numbers.
    named : mapping of name to value
        What was asked by name. Its sizes are looked for anew; what it says of the size of the
        thing comes before what the thing is called.
    holds : str
        The thing, by its name or in its size.
    hoops
        As for `near_command`.
    """
    file = order.recipe.file
    where = holder(order.recipe, named, order.unit)
    lengths = [one for one in (where.width, where.height, where.thickness) if one]
    if any(one in named for one in lengths):
        holds = f"{'x'.join(f'{float(sized.names[one]):.6g}' for one in lengths)}mm"
    others = {
        name: value
        for name, value in named.items()
        if name not in file.sizes and name not in lengths
    }
    return _fit_command(order, others, ["--hold", holds], hoops)


def _fit_command(
    order: Order,
    values: Mapping[str, float | str],
    asks: Sequence[str],
    hoops: Sequence[str],
) -> str:
    room, unit = order.room, order.unit
    margin = typed(room.margin, unit) if room.margin else ""
    asked = [f"{name}={typed(value, unit)}" for name, value in values.items()]
    where = [word for hoop in hoops for word in ("--hoop", hoop)]
    words = ["paramgen", "fit", _recipe(order), *asked, *where, *asks]
    words += ["--margin", margin] if margin else []
    words += ["--no-turn"] if not room.may_turn else []
    words += ["--title", order.recipe.title] if order.recipe.title else []
    words += _on(order)
    read = [*(one.partition("=")[2] for one in asked), asks[-1], margin]
    if unit_asked("", read, hoops=hoops) is not unit:
        words += ["--unit", str(unit)]
    return command(words)


def _on(order: Order) -> list[str]:
    """What is asked for on its panels."""
    return [word for one in order.recipe.on for word in ("--on", f"{one.panel}={one.text}")]


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


def _quoted(word: str) -> str:
    """A word as it is typed in a shell."""
    if _PLAIN.fullmatch(word):
        return word
    return f'"{word}"' if _QUOTABLE.fullmatch(word) else shlex.quote(word)
