"""What a recipe is asked for so that it holds a thing: the lengths, both ways round.

A pile is added to the ease where the recipe has no length for its thickness. A flat pocket as wide
as half of its girth takes what is w wide and t thick if it is w + t wide; so the thing keeps its
size, and the room beyond it grows by the thickness.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from math import ceil

from paramgen.lengths import TOLERANCE
from paramgen.recipe.language import Hold
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.things import SeveralThings
from paramgen.sizing import size
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: More kinds of things than one pocket is asked to hold.
MOST_KINDS = 4


@dataclass(frozen=True, kw_only=True)
class Holder:
    """How a recipe says what it holds.

    Parameters
    ----------
    name : str
        Of the thing it is made for, as under `holds`.
    width, height : str
        Names of the lengths that are the size of the thing.
    ease : str
        Name of the length that is the room it needs beyond that; empty if none can be set.
    thickness : str
        Name of the length that is how thick it is; empty if the recipe has none.
    places : int
        Pockets of one kind that things are spread over.
    opens : bool
        Whether it is a book that is put in opened, upright: its spine lies along its longer side
        (common practice, no source).
    """

    name: str
    width: str
    height: str
    ease: str
    thickness: str
    places: int
    opens: bool = False

    def lengths(self, thing: tuple[float, float], ease: float, pile: float) -> dict[str, float]:
        """What to ask for so that a thing is held, mm; see `ways`."""
        width, height = thing
        asked = {self.width: width, self.height: height}
        if self.thickness:
            asked[self.thickness] = round(pile, 6)
        elif self.ease:
            ease += pile
        else:
            asked = {name: round(size + pile, 6) for name, size in asked.items()}
        return {**asked, self.ease: round(ease, 6)} if self.ease else asked


@dataclass(frozen=True)
class HoldingWay:
    """One way to put things in.

    Parameters
    ----------
    turned : tuple of bool
        For each kind of thing, whether it is turned by 90° from how it is listed.
    sizes : tuple of (width, height)
        Of each kind of thing as it is put in, mm.
    title : str
        What all of them together are called: as the one that is as wide and as high as any.
    pile : float
        How thick the things in one pocket are together, mm.
    asked : mapping of name to mm
        The lengths to ask the recipe for.
    """

    turned: tuple[bool, ...]
    sizes: tuple[tuple[float, float], ...]
    title: str
    pile: float
    asked: Mapping[str, float]


def holder(recipe: Recipe, asked: Mapping[str, str | float], unit: Unit, place: str = "") -> Holder:
    """Find out how a recipe says what it holds.

    Its `[holds.NAME]` names the lengths: width and height are each the bare name of one, so
    that a thing can be given. Where the piece that it is held against is repeated by a count,
    as the pockets of a stack are, there are as many places as the recipe says that it holds things
    at once; where it does not say, as such pieces are cut.

    Parameters
    ----------
    recipe : Recipe
    asked : mapping of name to value
        What else is asked, the number of pockets among it.
    unit : Unit
    place : str
        Name of the one under `holds` that is meant; empty for the one it is made for.

    Raises
    ------
    InputError
        If it holds nothing, nothing that can be set, or several things.
    """
    file = recipe.file
    if not file.holds:
        message = f"{recipe.name} holds nothing: its recipe has no thing it is made for"
        raise InputError([Fault(message, "--hold", hint="Ask for its sizes instead.")])
    able = {
        name: one
        for name, one in file.holds.items()
        if one.width.text in file.lengths and one.height.text in file.lengths
    }
    if not able:
        message = f"what {recipe.name} holds cannot be set: its size is no length that can be asked"
        hint = "In the recipe, let width and height under `holds` each be the name of a length."
        raise InputError([Fault(message, recipe.source, hint=hint)])
    # What only some choices make room for is set by its lengths, not meant by the thing to hold.
    able = {name: one for name, one in able.items() if one.when is None} or able
    if place:
        able = {place: file.holds[place]}
    if len(able) > 1:
        names = ", ".join(able)
        message = f"{recipe.name} holds several things, {names}: it is not clear which is meant"
        hint = f"Set their lengths one by one; `paramgen about {recipe.name}` lists them."
        raise InputError([Fault(message, "--hold", hint=hint)])
    ((name, hold),) = able.items()
    ease = hold.ease.text if hold.ease.text in file.lengths else ""
    thick = hold.thickness.text if hold.thickness else ""
    places = _places(recipe, hold, asked, unit)
    thickness = thick if thick in file.lengths else ""
    return Holder(
        name=name,
        width=hold.width.text,
        height=hold.height.text,
        ease=ease,
        thickness=thickness,
        places=places,
        opens=hold.opens,
    )


def to_hold(recipe: Recipe, where: Holder, title: str, number: int = 0) -> Recipe:
    """A recipe that speaks of another thing, and so many, where it speaks of its own."""
    numbers = ((where.name, number),) if number else ()
    others = tuple(one for one in recipe.held if one[0] != where.name)
    return replace(recipe, held=(*others, (where.name, title)), held_number=numbers)


def _places(recipe: Recipe, hold: Hold, asked: Mapping[str, str | float], unit: Unit) -> int:
    piece = recipe.file.pieces.get(hold.against.name)
    if piece is None or not piece.repeat:
        return 1
    (times,) = piece.repeat.values()
    if times.text not in recipe.file.counts:
        return 1
    names = size(recipe, asked, unit=unit).names
    if hold.number:  # more than the pieces, where stitches part each in two
        return max(1, int(hold.number.number(names)))
    each = piece.quantity.number(names) if piece.quantity else 1.0
    return max(1, int(names[times.text] * each))


def ways(
    recipe: Recipe,
    things: Sequence[SeveralThings],
    *,
    asked: Mapping[str, str | float],
    unit: Unit,
    ease: float | None = None,
    place: str = "",
) -> tuple[HoldingWay, ...]:
    """What to ask a recipe for so that it holds things, every way round.

    The place is asked for the box round all the kinds, each as wide and high as it is put in.
    A flat pocket as wide as half of its girth, W, takes what is w wide and t thick if
    w + t <= W: round it goes 2 (w + t). So a pile of n things of thickness t wants n t of
    width and of height beyond theirs. That is asked as the thickness where the recipe has a
    length for it; else it is added to the ease, or to the size where no ease can be set. Where
    there are several pockets, each kind is spread over them evenly and the fullest counts.

    Parameters
    ----------
    recipe : Recipe
    things : sequence of SeveralThings
        One to four kinds, and how many of each.
    asked : mapping of name to value
        What else is asked.
    unit : Unit
    ease : float or None
        Room beyond the size of the things and their thickness, mm; the recipe's own if None.
    place : str
        As for `holder`.

    Returns
    -------
    tuple of HoldingWay
        One for each choice of which kinds are turned; none turned is first. Books only upright.

    Raises
    ------
    InputError
        If the recipe holds nothing, or what is asked is wrong: also where a length is asked
        by name that follows from the thing.
    """
    where = holder(recipe, asked, unit, place)
    faults = [
        Fault("is asked, and follows from the thing to hold", name, hint="Leave one of them out.")
        for name in (where.width, where.height, where.thickness)
        if name and name in asked
    ]
    if ease is not None and not where.ease:
        faults.append(Fault(f"{recipe.name} has no ease that can be set", "--ease"))
    elif ease is not None and where.ease in asked:
        message = f"is given, and so is {where.ease}"
        faults.append(Fault(message, "--ease", hint="Leave one of them out."))
    if not 1 <= len(things) <= MOST_KINDS:
        message = f"{len(things)} kinds of things are given; 1 to {MOST_KINDS} can be held"
        faults.append(Fault(message, "--hold", hint="Ask with the largest of them."))
    if faults:
        raise InputError(faults)
    room = ease
    if room is None:
        room = size(recipe, asked, unit=unit).names[where.ease] if where.ease else 0.0
    pile = sum(ceil(one.number / where.places) * one.thing.thickness for one in things)
    every = (_way(where, things, turned, room, pile) for turned in _turns(things))
    return tuple(
        way
        for way in every
        if not where.opens or all(width <= height + TOLERANCE for width, height in way.sizes)
    )


def _turns(things: Sequence[SeveralThings]) -> Iterator[tuple[bool, ...]]:
    """Every choice of which kinds are turned; none that looks the same turned."""
    square = [abs(one.thing.width - one.thing.height) <= TOLERANCE for one in things]
    yield from product(*((False,) if one else (False, True) for one in square))


def _way(
    where: Holder, things: Sequence[SeveralThings], turned: Sequence[bool], ease: float, pile: float
) -> HoldingWay:
    sizes = tuple(
        (one.thing.height, one.thing.width) if turn else (one.thing.width, one.thing.height)
        for one, turn in zip(things, turned, strict=True)
    )
    title = _title(things, sizes)
    return HoldingWay(tuple(turned), sizes, title, pile, where.lengths(box(sizes), ease, pile))


def _title(things: Sequence[SeveralThings], sizes: Sequence[tuple[float, float]]) -> str:
    """What things are called together: as the one that is as large as the box round them."""
    whole = box(sizes)
    for one, size_of in zip(things, sizes, strict=True):
        if size_of == whole:
            return one.thing.title
    *names, last = (one.thing.name for one in things)
    return f"pile of {', '.join(names)} and {last}"


def box(sizes: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Width and height of what is as wide and as high as any of several, mm."""
    return max(width for width, _ in sizes), max(height for _, height in sizes)
