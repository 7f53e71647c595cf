"""The whole way from what is asked to a project in its hoop; reads, writes and prints nothing.

What can be made instead is looked for after every refusal: in the field by the stitches
(`hooping.py`), else near what was asked (`fit/alternatives.py`). A finding carries it as `Instead`,
and the command line makes commands of it.
"""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np

from paramgen.budget import CODE as OVER_BUDGET
from paramgen.copies.copies_in_hoop import CopiesInHoop, put_copies_in_hoop
from paramgen.finished.all_findings import Proven
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.proof import Proof, proof
from paramgen.hooping import Hooped, Resize, Room
from paramgen.layout.copies_apart import put
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.hoops import Hoop
from paramgen.rehearsal.density import density
from paramgen.rehearsal.rehearse import worst_first
from paramgen.sizing import Sized, size
from paramgen.vocabulary.facts import Clause, NamesInTurn, facts
from paramgen.vocabulary.findings import CannotMakeError, Fault, Finding, InputError, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit
from paramgen.works import AFRESH, Stitched, Works, in_order


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

    @property
    def key(self) -> tuple[Hashable, ...]:
        """Equal for orders that ask for the same."""
        rooms = (self.room, *self.further)
        asked = in_order(self.asked)
        return (self.recipe.key, asked, rooms, self.unit, self.scale, self.copies, self.singly)


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


class Attempt:
    """An order and what it comes to, each part worked out when it is first asked for.

    Nothing that is found is raised: what cannot be gone on with is None, and `faults` or
    `findings` say why.

    Parameters
    ----------
    order : Order
    hoops : sequence of Hoop
        Among them one that would take the project is looked for if the one asked does not.
    works : Works
        Keeps what was worked out.
    """

    def __init__(self, order: Order, hoops: Sequence[Hoop] = (), *, works: Works = AFRESH) -> None:
        self.order, self.hoops, self.works = order, hoops, works

    @cached_property
    def _sized(self) -> Sized | tuple[Fault, ...]:
        order = self.order
        try:
            return self.works.sized(order.recipe, order.asked, unit=order.unit, scale=order.scale)
        except InputError as problem:
            return problem.faults

    @property
    def faults(self) -> tuple[Fault, ...]:
        """What is wrong with what is asked."""
        return self._sized if isinstance(self._sized, tuple) else ()

    @property
    def sized(self) -> Sized | None:
        """Every number; None if what is asked is wrong."""
        return None if isinstance(self._sized, tuple) else self._sized

    @cached_property
    def _in_turn(self) -> tuple[Room, tuple[Finding, ...]]:
        if self.sized is None:
            return self.order.room, ()
        return _in_turn(self.order, self.sized, self.works)

    @property
    def room(self) -> Room:
        """The hoop it lies in: the first asked that takes it, else the one it is least over."""
        return self._in_turn[0]

    @cached_property
    def _hooping(self) -> tuple[Hooped | None, tuple[Finding, ...]]:
        """The project in its hoop, if it lies there, and what was found by then."""
        if self.sized is None:
            return None, ()
        order, resize = self.order, resizing(self.order, self.sized)
        room, told_of = self._in_turn
        try:
            hooped = put_copies_in_hoop(
                self.sized,
                room,
                order.copies,
                resize=resize,
                hoops=self.hoops,
                singly=order.singly,
                works=self.works,
            )
        except CannotMakeError as problem:
            return None, tuple(_in_room(one, room, order) for one in problem.findings)
        return hooped, (*hooped.project.findings, *told_of)

    @property
    def hooped(self) -> Hooped | None:
        """The project in its hoop, sound or not; None if it does not lie there."""
        return self._hooping[0]

    @cached_property
    def stitched(self) -> Stitched | None:
        """One copy with its stitches, the way round that it is least over, in whatever hoop."""
        if self.sized is None:
            return None
        found = []
        for turned in self.room.ways:
            try:
                one = self.works.stitched(self.sized, turned=turned)
            except CannotMakeError:
                continue
            if self.room.takes(one.needs):
                return one
            found.append(one)
        return min(found, key=lambda one: max(self.room.over(one.needs)), default=None)

    @cached_property
    def project(self) -> Project | None:
        """The project as far as it goes: in its hoop, else out of it, else without stitches.

        None if it has no shape at all.
        """
        if self._sticks_out and self.stitched is not None:
            return self.stitched.project
        if self.hooped is not None:
            return self.hooped.project
        if self.stitched is not None:
            return self.stitched.project
        try:
            return None if self.sized is None else lay_out(self.sized)
        except CannotMakeError:
            return None

    @property
    def _sticks_out(self) -> bool:
        """Whether one copy is known not to lie in its hoop, before what would do is looked for."""
        if self.order.copies != 1 or self.order.further or self.stitched is None:
            return False
        return not self.room.takes(self.stitched.needs)

    @cached_property
    def proven(self) -> Proven | None:
        """What is found about one copy, and the finished thing; None if it has no shape."""
        shapeless = any(one.stops and one.code in UNREHEARSED for one in self._hooping[1])
        if self.sized is None or shapeless:
            return None
        # One copy is rehearsed: none meets another, see `copies/clearance.py`.
        return self.works.proven(self.sized)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Everything that is found, the worst first."""
        hooped, found = self._hooping
        if self.proven is None:
            return found
        crowding = density(hooped.sewn, hooped.project) if hooped else ()
        placed = (_as_it_lies(one, self.project) for one in self.proven.findings)
        return tuple(worst_first([*found, *placed, *crowding]))

    @cached_property
    def made(self) -> Made | None:
        """The project in its hoop; None unless it is sound."""
        hooped, proven = self.hooped, self.proven
        if hooped is None or proven is None or any(one.stops for one in self.findings):
            return None
        project = replace(hooped.project, findings=self.findings)
        thing = proven.thing
        return Made(
            project, hooped.sewn, hooped.room, hooped.extent, hooped.move, proof(thing), thing
        )

    @property
    def sound(self) -> Made:
        """The project in its hoop.

        Raises
        ------
        InputError
            If what is asked is wrong.
        CannotMakeError
            If it cannot be made as asked: every finding, the worst first.
        """
        if self.faults:
            raise InputError(self.faults)
        if self.made is None:
            raise CannotMakeError(self.findings)
        return self.made


def make(order: Order, hoops: Sequence[Hoop] = (), *, works: Works = AFRESH) -> Made:
    """Work out a project, put it in its hoop and rehearse it.

    Parameters
    ----------
    order, hoops, works
        As for `Attempt`.

    Raises
    ------
    InputError
        If what is asked is wrong.
    CannotMakeError
        If it cannot be made as asked: every finding, the worst first; says what could.
    """
    return Attempt(order, hoops, works=works).sound


def _in_turn(order: Order, sized: Sized, works: Works) -> tuple[Room, tuple[Finding, ...]]:
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
            put_copies_in_hoop(
                sized, room, order.copies, resize=no_other, singly=order.singly, works=works
            )
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
    known = facts(passed=NamesInTurn(tuple(one.called for one in passed)), hoop=room.hoop.called)
    return (Finding("hoop-in-turn", Severity.KNOW, known),)


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
    none = facts(others=Clause("no-other-hoop") if others else None)
    return replace(finding, instead=instead, facts=finding.facts + none)


def resizing(order: Order, sized: Sized) -> Resize:
    """How other sizes are tried: with everything else as it is asked for."""
    # Scaled already, but for those that follow from another: they must follow the tried ones.
    now = sized.own_sizes

    def resize(values: Mapping[str, float]) -> Sized:
        return size(order.recipe, {**order.asked, **now, **values}, unit=order.unit)

    return resize


def _unscaled(finding: Finding, scale: float) -> Finding:
    """Say that the sizes in a remedy are those after scaling."""
    if scale == 1 or finding.code != "hoop-exceeded":
        return finding
    return replace(finding, facts=finding.facts + facts(scaled=Clause("give-no-scale")))


#: Findings of a project that has no shape to rehearse.
UNREHEARSED = ("recipe-condition", "shape-impossible", OVER_BUDGET)


def _as_it_lies(finding: Finding, project: Project | None) -> Finding:
    """Put the place of a finding where the project, or its first copy, lies."""
    if project is None or not finding.place:
        return finding
    points = put(np.array(finding.place), project.placed[0])
    return replace(finding, place=tuple((float(x), float(y)) for x, y in points))
