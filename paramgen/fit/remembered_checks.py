"""The whole check of `make`, asked for one set of sizes after another and never twice."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager

from paramgen.hooping import FAR, Room
from paramgen.making import Order, resizing
from paramgen.sizing import Sized, conditions
from paramgen.vocabulary.facts import Clause, Clauses, Mm, Name, Written, facts
from paramgen.vocabulary.findings import CannotMakeError, Fault, Finding, InputError, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.works import AFRESH, Answer, Needs, Works

#: Code of the reason that stitches do not lie within the hoop's field.
HOOP = "hoop-exceeded"

#: Code of the reason that the recipe does not take such a size.
LIMIT = "recipe-limit"


@dataclass(frozen=True)
class _Refused:
    """Sizes that one part of the check refuses."""

    reasons: tuple[Finding, ...]


class TriedEnoughError(Exception):
    """No more sizes may be rehearsed; see `RememberedChecks.at_most`."""


#: Sizes by name, in a fixed order.
_Key = tuple[tuple[str, float], ...]


class RememberedChecks:
    """Whether an order can be made with other sizes; remembers every answer.

    The answers are those of `making.make`. The cheap parts of the check are asked first, and
    nothing but the field depends on a hoop.

    Parameters
    ----------
    order : Order
        Everything but the sizes that are tried; its room is not looked at.
    heeds : collection of str
        Codes of findings that count as refusing where they will disappoint, though `make` only
        tells.
    works : Works
        Keeps what was worked out.

    Raises
    ------
    InputError
        If what is asked is wrong.
    """

    def __init__(self, order: Order, heeds: Collection[str] = (), works: Works = AFRESH) -> None:
        self.order = order
        self.works = works
        self._heeds = heeds
        #: The order as it is asked for.
        self.sized = works.sized(order.recipe, order.asked, unit=order.unit, scale=order.scale)
        self._resize = resizing(order, self.sized)
        self._own = self.sized.own_sizes
        self._numbers: dict[_Key, Sized | _Refused] = {}
        self._needs: dict[tuple[_Key, bool], Needs | _Refused] = {}
        self._sewable: dict[_Key, _Refused | None] = {}
        #: None where no more is known than the first that is found against it.
        self._rehearsed: dict[_Key, tuple[Finding, ...] | None] = {}
        self._first: dict[_Key, tuple[Finding, ...]] = {}
        self._most: int | None = None
        self._heard: Callable[[int], None] | None = None

    @property
    def checks(self) -> int:
        """How many different sets of sizes were asked about so far."""
        return len(self._numbers)

    @property
    def rehearsals(self) -> int:
        """How many of them went as far as the rehearsal."""
        return len(self._rehearsed)

    @contextmanager
    def at_most(self, rehearsals: int) -> Iterator[None]:
        """Rehearse no more than so many different sets of sizes in all.

        Raises
        ------
        TriedEnoughError
            When one more is asked about.
        """
        before, self._most = self._most, rehearsals
        try:
            yield
        finally:
            self._most = before

    @contextmanager
    def heard_by(self, hear: Callable[[int], None]) -> Iterator[None]:
        """Tell at each set of sizes that is worked out how many were; what that raises ends it."""
        before, self._heard = self._heard, hear
        try:
            yield
        finally:
            self._heard = before

    def sound(self) -> Iterator[dict[str, float]]:
        """Every set of sizes that was rehearsed and has nothing against it, but a field."""
        return (dict(key) for key, reasons in self._rehearsed.items() if reasons == ())

    def remembered(self, room: Room) -> Iterator[tuple[Finding, ...]]:
        """What spoke against each set of sizes in a hoop, as far as it was asked about."""
        for key, sized in [*self._numbers.items()]:
            if isinstance(sized, _Refused):
                yield sized.reasons
                continue
            if key in self._sewable:
                self._sewn(dict(key), turned=False)
            needs = [one for way in room.ways if (one := self._needs.get((key, way)))]
            refused = [one for one in needs if isinstance(one, _Refused)]
            if refused:
                yield refused[0].reasons
            elif needs and not any(room.takes(one) for one in needs if isinstance(one, tuple)):
                yield (self._too_large(dict(key), room),)
            elif key in self._rehearsed and (reasons := self.by_rehearsal(dict(key))):
                yield reasons

    @property
    def unit(self) -> Unit:
        """The person's unit."""
        return self.order.unit

    @property
    def following(self) -> frozenset[str]:
        """Names of the sizes that are not asked for and follow from others."""
        return frozenset(one.name for one in self.sized.sizes if one.name not in self._own)

    def sizes(self, values: Mapping[str, float]) -> dict[str, float]:
        """Every size where some are given, mm; those that follow from others follow them."""
        sized = self._sized(values)
        if isinstance(sized, _Refused):
            sized = self.sized
        return {**{figure.name: figure.value for figure in sized.sizes}, **values}

    def by_numbers(self, values: Mapping[str, float]) -> tuple[Finding, ...]:
        """What the recipe's limits and conditions say against sizes."""
        sized = self._sized(values)
        return sized.reasons if isinstance(sized, _Refused) else ()

    def needs(self, values: Mapping[str, float], *, turned: bool) -> Needs | None:
        """Smallest field that takes the stitches, mm; None if there are none."""
        needs = self._sewn(values, turned=turned)
        return None if isinstance(needs, _Refused) else needs

    def by_field(self, values: Mapping[str, float], room: Room | None) -> tuple[Finding, ...]:
        """What its shapes, its stitches and the field say against sizes."""
        if room is None:
            refused = self._unsewable(values)
            return refused.reasons if refused else ()
        for turned in room.ways:
            if self._far_from(values, room, turned=turned):
                continue
            needs = self._sewn(values, turned=turned)
            if isinstance(needs, _Refused):
                return needs.reasons
            if room.takes(needs):
                return ()
        return (self._too_large(values, room),)

    def excess(self, values: Mapping[str, float], room: Room, *, turned: bool) -> float | None:
        """By how much stitches exceed a field, one way round, mm.

        Returns
        -------
        float or None
            0 if they lie in it; None if there are no stitches. To the nearest step of the grid
            where it is not little.
        """
        needs = self._far_from(values, room, turned=turned) or self.needs(values, turned=turned)
        return None if needs is None else 2 * max(room.over(needs))

    def _far_from(self, values: Mapping[str, float], room: Room, *, turned: bool) -> Needs | None:
        """What stitches need about, if that is far more than a field has; None if it is not.

        Stitched the other way round they need the same but for steps of the grid: where it is
        far too much, they need not be stitched this way round too.
        """
        other = self._needs.get((self._key(values), not turned))
        if other is None or isinstance(other, _Refused):
            return None
        about = (other[1], other[0])
        return about if max(room.over(about)) > FAR else None

    def by_rehearsal(self, values: Mapping[str, float]) -> tuple[Finding, ...]:
        """What the rehearsal says against sizes that can be laid out."""
        key = self._key(values)
        reasons = self._rehearsed.get(key)
        if reasons is None:
            sized = self._sized(values)
            if isinstance(sized, _Refused):
                return sized.reasons
            self._ask_to_rehearse(key)
            reasons = self._rehearsed[key] = (
                _reasons(self.works.found(sized), self._heeds)
                if self._heeds
                else self.works.stops(sized)
            )
        return reasons

    def _first_by_rehearsal(self, values: Mapping[str, float]) -> tuple[Finding, ...]:
        """The first that the rehearsal finds against sizes, which it knows sooner than all."""
        key, sized = self._key(values), self._sized(values)
        if self._heeds or isinstance(sized, _Refused):
            return self.by_rehearsal(values)
        if key not in self._rehearsed:
            self._ask_to_rehearse(key)
            self._first[key] = first = self.works.first_stop(sized)
            self._rehearsed[key] = None if first else ()
        reasons = self._rehearsed[key]
        return self._first[key] if reasons is None else reasons

    def _ask_to_rehearse(self, key: _Key) -> None:
        """Tell that sizes are rehearsed, if they may be."""
        if key in self._rehearsed:
            return
        if self._most is not None and self.rehearsals >= self._most:
            raise TriedEnoughError
        self._tell()

    def told(self, values: Mapping[str, float]) -> tuple[Finding, ...]:
        """What `make` tells of sizes that can be made, but of the hoop: what will disappoint."""
        sized = self._sized(values)
        if isinstance(sized, _Refused):
            return ()
        found = [*conditions(sized), *self.works.found(sized)]
        return tuple(one for one in found if one.severity is Severity.DISAPPOINT)

    def against(self, values: Mapping[str, float], room: Room | None) -> tuple[Finding, ...]:
        """What speaks against sizes: all that the first part of the check to refuse them says.

        Parameters
        ----------
        values : mapping of name to mm
            Sizes that differ from those asked.
        room : Room or None
            None asks without regard to any hoop.

        Returns
        -------
        tuple of Finding
            Empty if it can be made.
        """
        return self.by_numbers(values) or self.by_field(values, room) or self.by_rehearsal(values)

    def first_against(self, values: Mapping[str, float], room: Room | None) -> tuple[Finding, ...]:
        """Something that speaks against sizes, if anything does: known sooner than all of it.

        Whether it is empty is the same as of `against`, which tells the reasons to a person.
        """
        numbers_or_field = self.by_numbers(values) or self.by_field(values, room)
        return numbers_or_field or self._first_by_rehearsal(values)

    def _tell(self) -> None:
        if self._heard is not None:
            self._heard(self.checks)

    def _key(self, values: Mapping[str, float]) -> _Key:
        return tuple(sorted({**self._own, **values}.items()))

    def _sized(self, values: Mapping[str, float]) -> Sized | _Refused:
        key = self._key(values)
        if key not in self._numbers:
            self._tell()
            self._numbers[key] = self._worked_out(values)
        return self._numbers[key]

    def _worked_out(self, values: Mapping[str, float]) -> Sized | _Refused:
        try:
            sized = self._resize(values)
            found = _reasons(conditions(sized), self._heeds)
        except InputError as problem:
            return _Refused(tuple(map(self._limit, problem.faults)))
        return _Refused(found) if found else sized

    def _limit(self, fault: Fault) -> Finding:
        """What the recipe does not take, as a finding."""
        file = self.order.recipe.file
        entry = file.sizes.get(fault.where) or file.lengths.get(fault.where)
        if entry is None or entry.least is None or entry.most is None:
            return Finding(LIMIT, Severity.CANNOT, facts(why=Written((str(fault),))))
        known = facts(
            size=Name("size", fault.where, fault.where),
            least=Mm(entry.least),
            most=Mm(entry.most),
            means=Name("size", fault.where, entry.means),
        )
        return Finding(LIMIT, Severity.CANNOT, known, variant="outside")

    def _sewn(self, values: Mapping[str, float], *, turned: bool) -> Needs | _Refused:
        key = self._key(values)
        if (key, turned) not in self._needs:
            sized = self._sized(values)
            if isinstance(sized, _Refused):
                return sized
            self._needs[key, turned] = self._or_refused(
                lambda: self.works.needs(sized, turned=turned)
            )
        return self._needs[key, turned]

    def _unsewable(self, values: Mapping[str, float]) -> _Refused | None:
        """Why there can be no stitches, in whatever field; None if there can."""
        key = self._key(values)
        if key not in self._sewable:
            sized = self._sized(values)
            if isinstance(sized, _Refused):
                return sized
            self._sewable[key] = self._or_refused(lambda: self.works.ask_to_sew(sized))
        return self._sewable[key]

    def _or_refused(self, work_out: Callable[[], Answer]) -> Answer | _Refused:
        try:
            return work_out()
        except CannotMakeError as problem:
            return _Refused(_reasons(problem.findings))
        except InputError as problem:
            return _Refused(tuple(map(self._limit, problem.faults)))

    def _too_large(self, values: Mapping[str, float], room: Room) -> Finding:
        """Say that stitches exceed a field, the way round that sticks out less."""
        needs = {
            turned: self._far_from(values, room, turned=turned)
            or self.needs(values, turned=turned)
            or (0.0, 0.0)
            for turned in room.ways
        }
        turned = min(room.ways, key=lambda way: max(room.over(needs[way])))
        sides = zip(("wider", "higher"), room.field, room.over(needs[turned]), strict=True)
        known = facts(
            over=Clauses(tuple(Clause(key, facts(field=Mm(has))) for key, has, by in sides if by)),
            hoop=room.hoop.called,
            margin=Clause("less-the-margin") if room.margin else None,
            turned=Clause("turned") if turned else None,
        )
        return Finding(HOOP, Severity.CANNOT, known, variant="by-the-field")


def _reasons(findings: Iterable[Finding], heeds: Collection[str] = ()) -> tuple[Finding, ...]:
    return tuple(
        one
        for one in findings
        if one.stops or (one.code in heeds and one.severity is Severity.DISAPPOINT)
    )
