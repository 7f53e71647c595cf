"""The command that makes what was found."""

from collections.abc import Mapping

from paramgen.lengths import TOLERANCE, Unit, parse_length, show
from paramgen.making import Order


def make_command(order: Order, values: Mapping[str, float | str], hoop: str) -> str:
    """Write the command that makes an order with other values, as it is typed.

    Parameters
    ----------
    order : Order
        What it asks for besides; its hoop is not looked at.
    values : mapping of name to mm or text
        What is asked for instead or as well.
    hoop : str
    """
    asked = {**order.asked, **values}
    words = ["paramgen", "make", order.recipe.name]
    words += [f"{name}={_typed(value, order.unit)}" for name, value in asked.items()]
    words += ["--hoop", hoop]
    words += ["--margin", _typed(order.room.margin, order.unit)] if order.room.margin else []
    words += ["--no-turn"] if not order.room.may_turn else []
    return " ".join(f'"{word}"' if set(word) & set(" '()&;") else word for word in words)


def _typed(value: float | str, unit: Unit) -> str:
    """A value as it is typed and read back without loss."""
    if isinstance(value, str):
        return value
    shown = show(value, unit)
    if abs(parse_length(shown, zero=True) - value) <= TOLERANCE:
        return shown.replace(" mm", "mm").replace(" in", "in")
    return f"{value:.4f}".rstrip("0").rstrip(".") + "mm"
