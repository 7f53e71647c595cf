"""What is said of plain numbers beside inches: that they were read as millimetres."""

from paramgen.cli.command_that_makes import command
from paramgen.making import Order
from paramgen.ordering.meant_words import paired
from paramgen.ordering.order_from_words import pairs
from paramgen.ordering.typed_request import TypedRequest
from paramgen.recipe.language import AskedSize, Length
from paramgen.sizing import as_inches, is_plain
from paramgen.vocabulary.unit import Unit


def plain_told(words: TypedRequest, order: Order) -> str:
    """Say once how plain numbers were read, where the person measures in inches.

    Parameters
    ----------
    words : TypedRequest
        As they were typed.
    order : Order
        What was understood.

    Returns
    -------
    str
        With the same in inches, to copy; empty if there is nothing to say.
    """
    if order.unit is not Unit.INCH:
        return ""
    file = order.recipe.file
    lengths: dict[str, AskedSize | Length] = {**file.sizes, **file.lengths}
    named, _ = pairs(paired(words.values, file)[0])
    plain = {name: value for name, value in named.items() if name in lengths and is_plain(value)}
    told = {name: as_inches(name, value, lengths[name]) for name, value in plain.items()}
    # Nothing is nothing in any unit.
    told = {name: one for name, one in told.items() if one[0] != "0in"}
    if not told:
        return ""
    *first, last = (f"{name}={plain[name]}" for name in told)
    which = f"{', '.join(first)} and {last} were" if first else f"{last} was"
    same = command(f"{name}={inches}" for name, (inches, _) in told.items())
    text = f"Note: A plain number is millimetres: {which} read so. In inches: {same}"
    if not (able := [name for name, (_, would_do) in told.items() if would_do]):
        return text
    meant = command(f"{name}={plain[name]}in" for name in able)
    return f"{text}. Are inches meant? Then write {meant}."
