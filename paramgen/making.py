"""The whole way from what is asked to a project in its hoop; reads, writes and prints nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from paramgen.hooping import Hooped, Room, put_in_hoop
from paramgen.lengths import Unit
from paramgen.recipe.read import Recipe
from paramgen.reference.hoops import Hoop
from paramgen.sizing import Sized, size


@dataclass(frozen=True)
class Order:
    """What a person asks for.

    Parameters
    ----------
    recipe : Recipe
    asked : mapping of name to value
        Sizes, counts, choices and lengths, as typed or in mm.
    room : Room
        The hoop, and what of it may be used.
    unit : Unit
    scale : float
        Multiplies the finished sizes and nothing else.
    """

    recipe: Recipe
    asked: Mapping[str, str | float]
    room: Room
    unit: Unit = Unit.MM
    scale: float = 1.0


def make(order: Order, hoops: Sequence[Hoop] = ()) -> Hooped:
    """Work out a project.

    Parameters
    ----------
    order : Order
    hoops : sequence of Hoop
        Among them one that would take the project is looked for if the one asked does not.

    Raises
    ------
    InputError
        If what is asked is wrong.
    CannotMakeError
        If it cannot be made as asked; says what could.
    """
    sized = size(order.recipe, order.asked, unit=order.unit, scale=order.scale)

    def resize(values: dict[str, float]) -> Sized:
        # Sizes as they are now, scaled already, but for those that follow from another.
        entries = order.recipe.file.sizes
        given = {
            figure.name: figure.value
            for figure in sized.sizes
            if figure.asked or entries[figure.name].default.formula is None
        }
        return size(order.recipe, {**order.asked, **given, **values}, unit=order.unit)

    return put_in_hoop(sized, order.room, resize=resize, hoops=hoops)
