"""The whole way from what is asked to a project in its hoop; reads, writes and prints nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from paramgen.budget import CODE as OVER_BUDGET
from paramgen.copies.copies_in_hoop import CopiesInHoop, put_copies_in_hoop
from paramgen.finished.all_findings import prove
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.proof import Proof, proof
from paramgen.hooping import Hooped, Resize, Room
from paramgen.layout.copies_apart import put
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.hoops import Hoop
from paramgen.rehearsal.density import density
from paramgen.rehearsal.rehearse import COARSE, worst_first
from paramgen.sizing import Sized, size
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.vocabulary.unit import Unit


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
    copies : int or "most"
        How many lie in one hooping; at least 1.
    singly : bool
        Every piece for each copy alone, never one sheet over all copies.
    further : tuple of Room
        Other hoops, asked in turn if that one does not take it.
    """

    recipe: Recipe
    asked: Mapping[str, str | float]
    room: Room
    unit: Unit = Unit.MM
    scale: float = 1.0
    copies: CopiesInHoop = 1
    singly: bool = False
    further: tuple[Room, ...] = ()


@dataclass(frozen=True)
class Made(Hooped):
    """A project in its hoop that was rehearsed and found sound.

    Parameters
    ----------
    proof : Proof
        What shows, what it holds, how thick it is.
    thing : FinishedThing
        The finished thing, its own way round and about the recipe's origin.
    """

    proof: Proof
    thing: FinishedThing


def make(order: Order, hoops: Sequence[Hoop] = ()) -> Made:
    """Work out a project, put it in its hoop and rehearse it.

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
        If it cannot be made as asked: every finding, the worst first; says what could.
    """
    sized = size(order.recipe, order.asked, unit=order.unit, scale=order.scale)

    resize = resizing(order, sized)
    room, told_of = _in_turn(order, sized)
    hooped: Hooped | None = None
    try:
        hooped = put_copies_in_hoop(
            sized, room, order.copies, resize=resize, hoops=hoops, singly=order.singly
        )
        found = (*hooped.project.findings, *told_of)
    except CannotMakeError as problem:
        found = tuple(_in_room(one, room, order) for one in problem.findings)
        if any(finding.code in UNREHEARSED for finding in found):
            raise
    # One copy is rehearsed: none meets another, see `copies.apart`.
    proven = prove(lay_out(sized, chord_error=COARSE))
    crowding = density(hooped.sewn, hooped.project) if hooped else ()
    told = worst_first([*found, *(in_hoop(one, hooped) for one in proven.findings), *crowding])
    if hooped is None or any(finding.stops for finding in told):
        raise CannotMakeError(told)
    project = replace(hooped.project, findings=told)
    thing = proven.thing
    return Made(project, hooped.sewn, hooped.room, hooped.extent, hooped.move, proof(thing), thing)


def _in_turn(order: Order, sized: Sized) -> tuple[Room, tuple[Finding, ...]]:
    """The first hoop asked that takes it, and what is to be said of that.

    Where none does it is the one that it sticks out of least.
    """
    if not order.further:
        return order.room, ()

    def no_other(_values: Mapping[str, float]) -> Sized:
        raise CannotMakeError([])

    passed: list[tuple[float, Room]] = []
    for room in (order.room, *order.further):
        try:
            put_copies_in_hoop(sized, room, order.copies, resize=no_other, singly=order.singly)
        except CannotMakeError as problem:
            about = [one for one in problem.findings if one.code in OF_THE_HOOP]
            if not about:
                return room, ()
            passed.append((max(one.amount or 0.0 for one in about), room))
            continue
        return room, _next_asked(room, [one.hoop for _, one in passed])
    return min(passed, key=lambda one: one[0])[1], ()


#: Findings that another hoop may mend.
OF_THE_HOOP = ("hoop-exceeded", "copies-exceeded")


def _next_asked(room: Room, passed: Sequence[Hoop]) -> tuple[Finding, ...]:
    """Say which hoops were asked before one that takes it."""
    if not passed:
        return ()
    names = " and ".join(hoop.name for hoop in passed)
    do = "does" if len(passed) == 1 else "do"
    text = f"{names} {do} not take it; {room.hoop.name} is the first of the hoops asked that does"
    return (Finding("hoop-in-turn", Severity.KNOW, text),)


def _in_room(finding: Finding, room: Room, order: Order) -> Finding:
    """Say of a finding about a hoop which one it is, and of its sizes that they are scaled."""
    finding = _unscaled(finding, order.scale)
    if finding.code not in OF_THE_HOOP:
        return finding
    name = room.hoop.name
    instead = tuple(replace(one, hoop=one.hoop or name) for one in finding.instead)
    # That none of a person's own does is said with the smallest that does.
    asked = (order.room, *order.further)
    others = len(asked) > 1 and not all(one.hoop.mine for one in asked)
    none = " No other of the hoops asked takes it." if others else ""
    return replace(finding, instead=instead, remedy=f"{finding.remedy}{none}".strip())


def resizing(order: Order, sized: Sized) -> Resize:
    """How other sizes are tried: with everything else as it is asked for."""
    entries = order.recipe.file.sizes
    # Scaled already, but for those that follow from another: they must follow the tried ones.
    now = {
        one.name: one.value
        for one in sized.sizes
        if one.asked or entries[one.name].default.formula is None
    }

    def resize(values: Mapping[str, float]) -> Sized:
        return size(order.recipe, {**order.asked, **now, **values}, unit=order.unit)

    return resize


def _unscaled(finding: Finding, scale: float) -> Finding:
    """Say that the sizes in a remedy are those after scaling."""
    if scale == 1 or finding.code != "hoop-exceeded":
        return finding
    return replace(finding, remedy=f"{finding.remedy} Sizes are meant as finished: give no scale.")


#: Findings of a project that has no shape to rehearse.
UNREHEARSED = ("recipe-condition", "shape-impossible", OVER_BUDGET)


def in_hoop(finding: Finding, hooped: Hooped | None) -> Finding:
    """Put the place of a finding where the project, or its first copy, lies in the hoop."""
    if hooped is None or not finding.place:
        return finding
    points = put(np.array(finding.place), hooped.project.placed[0])
    return replace(finding, place=tuple((float(x), float(y)) for x, y in points))
