"""The fit command: what size, which hoop, what it holds, how many."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from paramgen.cli import fit_report
from paramgen.cli.fit_hold import hold_asked, hold_report, own_place
from paramgen.cli.plain_numbers import plain_told
from paramgen.cli.shared_workshop import workshop
from paramgen.cli.text_tables import finding_text
from paramgen.copies.most_copies import CopiesThatFit, most_of, ways_of
from paramgen.fit.apart import place_to_choose
from paramgen.fit.fitting_hoops import hoops_that_take
from paramgen.fit.free_ranges import free_range
from paramgen.fit.largest_pair import largest_both, smallest_both
from paramgen.fit.nearest_sizes import nearest_alone, nearest_that_works
from paramgen.fit.other_hoop import transfer
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_for_copies import largest_for_copies
from paramgen.fit.size_ranges import PROBES, SizeRange, range_of
from paramgen.fit.size_regions import regions
from paramgen.fit.smallest_holding import held
from paramgen.hooping import Room
from paramgen.lengths import as_typed, parse_length, split_unit
from paramgen.nearest_word import did_you_mean
from paramgen.ordering.known_lists import known_hoops, unit_asked
from paramgen.ordering.known_things import known_things
from paramgen.ordering.order_from_words import UnderstoodRequest, asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.pack.picture_file import write_picture
from paramgen.reference.hoops import LEAST_FIELD, Hoop, smallest_first
from paramgen.reference.things import SeveralThings
from paramgen.reference.typed_sizes import read_size
from paramgen.sentences import SHOWN_TO
from paramgen.vocabulary.findings import CannotMakeError, Fault, Faults, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: The largest or smallest of both sizes at once, and other words for it.
BOTH = "both"
_BOTH_SIZES = (BOTH, "all", "size", "sizes", "widthxheight", "width,height")


@dataclass(frozen=True, kw_only=True)
class FitQuestion:
    """What is to be found out; all but one of the texts empty, or all.

    Parameters
    ----------
    largest, smallest : str
        Name of a size, or `both`.
    near : str
        The sizes wished for.
    hold : sequence of str
    any_hoop : bool
    come_from, go_to : str
        Two hoops.
    ease : str
        With `hold`.
    free : bool
        Whether the other sizes may follow.
    picture : Path or None
        File for the picture of all sizes that work.
    """

    largest: str = ""
    smallest: str = ""
    near: str = ""
    hold: Sequence[str] = ()
    any_hoop: bool = False
    come_from: str = ""
    go_to: str = ""
    ease: str = ""
    free: bool = False
    picture: Path | None = None


@dataclass(frozen=True)
class FitAnswer:
    """The answer.

    Parameters
    ----------
    text : str
    good : bool
        Whether something works.
    note : str
        What is worth knowing of what was typed; empty if there is nothing.
    """

    text: str
    good: bool = True
    note: str = ""


@dataclass(frozen=True)
class _Understood:
    """What was typed, understood.

    Parameters
    ----------
    asked : UnderstoodRequest
        Where any hoop will do, in one that is not looked at.
    other : Room or None
        The hoop to go to.
    only : str
        The one size that is asked for; empty if all are.
    near : tuple of float
        The sizes wished for, mm.
    things : (tuple of SeveralThings, float or None)
        What is to be held, and its ease.
    """

    asked: UnderstoodRequest
    other: Room | None = None
    only: str = ""
    near: tuple[float, ...] = ()
    things: tuple[tuple[SeveralThings, ...], float | None] = ((), None)


def fit(words: TypedRequest, question: FitQuestion) -> FitAnswer:
    """Find out what is asked, and say it.

    Raises
    ------
    InputError
        If what was typed is wrong.
    WriteError
        If the picture cannot be written.
    """
    wanted = _understood(words, question)
    try:
        said = _answered(wanted, words, question)
    except CannotMakeError as problem:  # the project itself cannot be made
        unit = wanted.asked.order.unit
        said = FitAnswer("\n".join(finding_text(one, unit) for one in problem.findings), good=False)
    return replace(said, note=plain_told(words, wanted.asked.order))


def _answered(wanted: _Understood, words: TypedRequest, question: FitQuestion) -> FitAnswer:
    order, hoops, works = wanted.asked.order, wanted.asked.hoops, workshop().works
    every = not words.hoop.strip()
    if question.hold:
        things, ease = wanted.things
        known = known_things()
        answer = held(
            order, things, ease=ease, hoops=hoops, any_hoop=every, known=known, works=works
        )
        told = place_to_choose(order.recipe, things, known, order.asked, order.unit)
        report = "\n\n".join([hold_report(answer), *(own_place(*one) for one in told)])
        return FitAnswer(report, good=answer.works)
    if wanted.other is not None:
        return FitAnswer(
            fit_report.transfer_report(transfer(order, wanted.other, hoops, works=works))
        )
    rooms = (order.room, *order.further)
    if every:
        mine = [hoop for hoop in hoops if hoop.mine]
        # Which of all hoops take it is asked for; else a person's own are enough.
        all_of_them = question.any_hoop or words.copies or not mine
        rooms = tuple(_rooms(order.room, hoops if all_of_them else mine))
    asking = workshop().asking(order)
    if words.copies and question.largest:
        copies = asking.order.copies
        assert copies != "most"
        most = {room: largest_for_copies(asking, wanted.only, room, copies) for room in rooms}
        text = fit_report.copies_report(asking, wanted.only, most)
        return FitAnswer(text, any(most.values()))
    if question.any_hoop or words.copies:
        return _taken(asking, rooms, counted=bool(words.copies))
    if question.near:
        return _near(asking, wanted.near, rooms)
    if wanted.only == BOTH:
        find = largest_both if question.largest else smallest_both
        both = {room: find(asking, room) for room in rooms}
        text = fit_report.both_report(asking, both, most=bool(question.largest))
        return FitAnswer(text, any(one.values for one in both.values()))
    return _ranges(asking, question, wanted.only, rooms)


def _understood(words: TypedRequest, question: FitQuestion) -> _Understood:
    """Understand what was typed; raises InputError with every fault in it."""
    faults = Faults()
    find, hoops = workshop().recipe, faults.tried(known_hoops)
    works = workshop().works
    faults += _at_odds(words, question, hoops or ())
    unit = words.unit
    if not unit and not any(split_unit(value)[1] for value in words.values):
        hoops_called = [words.hoop.strip() or question.come_from]
        unit = unit_asked("", [question.near, question.ease], words.usual_unit, hoops_called)
    words = replace(words, unit=unit)
    wanted = other = None
    if hoops:
        # Any hoop that a margin leaves something of will do where none was said.
        spacious = max(hoops, key=lambda hoop: min(hoop.width, hoop.height))
        own = words.hoop.strip() or question.come_from
        several = words.more_hoops if words.hoop.strip() else ()
        here = replace(words, hoop=own or spacious.name, more_hoops=several)
        there = replace(words, hoop=question.go_to, more_hoops=(), values=(), on="")
        by = "--from" if question.come_from else "--hoop"
        wanted = faults.tried(lambda: asked(here, find=find, among=hoops, hoop_by=by, works=works))
        if question.go_to:
            other = faults.tried(lambda: asked(there, find=find, among=hoops, hoop_by="--to"))
    try:
        sizes = list(find(words.recipe).file.sizes)
    except InputError:
        sizes = []
    only, near = "", None
    if sizes:
        faults += _no_size(sizes, question)
        only = (question.largest or question.smallest).strip().lower()
        if only in _BOTH_SIZES:
            only = sizes[0] if len(sizes) == 1 else BOTH
        near = faults.tried(lambda: _wished(question.near, sizes)) if question.near else ()
    things = (
        faults.tried(lambda: hold_asked(question.hold, question.ease))
        if question.hold
        else ((), None)
    )
    if faults or wanted is None or near is None or things is None:
        raise InputError(dict.fromkeys(faults))
    return _Understood(wanted, other.order.room if other else None, only, near, things)


def _no_size(sizes: Sequence[str], question: FitQuestion) -> Iterator[Fault]:
    """Fault of what is asked about sizes that the recipe has not."""
    for where, typed in (("--largest", question.largest), ("--smallest", question.smallest)):
        if typed and typed.strip().lower() not in (*sizes, *_BOTH_SIZES):
            both = f", and both for the {where.removeprefix('--')} of both at once"
            hint = did_you_mean(typed, sizes) or f"There are {' and '.join(sizes)}{both}."
            yield Fault(f"{as_typed(typed)} is no size of this recipe", where, hint=hint)
    if question.picture is not None and len(sizes) < 2:
        text = "a picture is of two sizes, and this recipe has one"
        yield Fault(text, "--picture", hint="Leave it out.")


def _at_odds(words: TypedRequest, question: FitQuestion, hoops: Sequence[Hoop]) -> Iterator[Fault]:
    """Fault of options that do not go together."""
    modes = {
        "--largest": question.largest,
        "--smallest": question.smallest,
        "--near": question.near,
        "--hold": question.hold,
        "--any-hoop or --copies": question.any_hoop or (words.copies and not question.largest),
        "--from and --to": question.come_from or question.go_to,
    }
    given = [name for name, value in modes.items() if value]
    if len(given) > 1:
        yield Fault("one question at a time", ", ".join(given), hint="Ask them one by one.")
    if words.copies and question.largest:
        one = question.largest.strip().lower() not in _BOTH_SIZES
        if not one or words.copies.strip().lower() == "most":
            example = "--copies 4 --largest width"
            hint = f"Say how many, and of which size: {example}."
            text = "together ask for a number of copies and one size"
            yield Fault(text, "--copies and --largest", hint=hint)
    if bool(question.come_from) != bool(question.go_to):
        yield Fault("go together", "--from and --to", hint=f"Say both hoops{_yours(hoops)}.")
    if words.hoop and (question.come_from or question.any_hoop):
        name = "--from and --to" if question.come_from else "--any-hoop"
        yield Fault(f"does not go with {name}", "--hoop", hint="Leave one of them out.")
    if words.hoop and words.more_hoops and question.hold:
        yield Fault("is given twice", "--hoop", hint="Give one with --hold.")
    if question.ease and not question.hold:
        yield Fault("is for what is to be held", "--ease", hint='Say --hold "seed packet" too.')
    asked = (question.largest or question.smallest).strip().lower()
    alone = asked not in _BOTH_SIZES
    others = [name for name in given if name not in ("--largest", "--smallest") or not alone]
    for name, value in {"--picture": question.picture, "--free": question.free}.items():
        if value and others:
            yield Fault(f"does not go with {others[0]}", name, hint="Ask for it alone.")


def _yours(hoops: Sequence[Hoop]) -> str:
    """Name a person's own hoops, if they said which they are."""
    names = [hoop.name for hoop in smallest_first(hoops) if hoop.mine]
    *first, last = names or [""]
    listed = f"{', '.join(first)} and {last}" if first else last
    return f"; yours {'are' if first else 'is'} {listed}" if names else ""


def _rooms(room: Room, hoops: Sequence[Hoop]) -> Iterator[Room]:
    """Every hoop there is, the smallest first, less the margin asked for."""
    for hoop in smallest_first(hoops):
        other = replace(room, hoop=hoop)
        if min(other.field) > 0:
            yield other


def _taken(asking: RememberedChecks, rooms: Sequence[Room], *, counted: bool) -> FitAnswer:
    """Which hoops take it, and how many."""
    taken = hoops_that_take(asking, rooms)
    wanted = asking.order.copies
    most: dict[Room, CopiesThatFit] = {}
    if counted:
        order = asking.order
        ways = ways_of(
            asking.sized, may_turn=order.room.may_turn, singly=order.singly, works=asking.works
        )
        most = {one.room: most_of(ways, one.room) for one in taken if one.takes}
    enough = 1 if wanted == "most" else wanted
    good = any(
        most[one.room].count >= enough if counted else one.takes for one in taken if one.takes
    )
    return FitAnswer(fit_report.taken_report(asking, taken, most), good)


def _near(asking: RememberedChecks, wished: tuple[float, ...], rooms: Sequence[Room]) -> FitAnswer:
    """The sizes nearest to those wished for, in each hoop."""
    first, second, *_ = [*asking.sizes({}), ""]
    mark = SHOWN_TO[asking.unit]

    def nearest(room: Room) -> tuple[float, ...] | None:
        if second:
            pair = (wished[0], wished[1])
            return nearest_that_works(asking, first, second, pair, room, mark)
        alone = nearest_alone(asking, first, wished[0], room, mark)
        return None if alone is None else (alone,)

    found = {room: nearest(room) for room in rooms}
    names = (first, second) if second else (first,)
    text = fit_report.near_report(asking, names, wished, found)
    return FitAnswer(text, any(sizes is not None for sizes in found.values()))


def _wished(typed: str, sizes: Sequence[str]) -> tuple[float, ...]:
    """The sizes that are typed, mm: one of a recipe with one size, else the first two."""
    if len(sizes) == 1:
        return (parse_length(typed, name="--near"),)
    size = read_size(typed, "--near")
    if size is None:
        hint = "Write WIDTHxHEIGHT: 120x160mm or 5x8in."
        raise InputError([Fault(f"{as_typed(typed)} is no pair of sizes", "--near", hint=hint)])
    if size.bare and (size.unit is Unit.INCH or max(size.lengths) < LEAST_FIELD):
        hint = f"Then write {typed.strip()}in."
        text = f"{as_typed(typed)} has no unit. Are inches meant?"
        raise InputError([Fault(text, "--near", hint=hint)])
    return size.lengths


def _ranges(
    asking: RememberedChecks, question: FitQuestion, only: str, rooms: Sequence[Room]
) -> FitAnswer:
    """From which size to which it works, in each hoop."""
    names = [only] if only else list(asking.sizes({}))
    # Without regard to a hoop once, and then for each hoop what it leaves of that: the ends of
    # several are places tried inside.
    probes = PROBES if len(rooms) == 1 else 0
    whole = {
        name: None if question.free else range_of(asking, name, None, probes=probes)
        for name in names
    }

    def one(room: Room, name: str) -> SizeRange | None:
        if question.free:
            return free_range(asking, name, room)
        return range_of(asking, name, room, within=whole[name])

    found = {(room, name): one(room, name) for room in rooms for name in names}
    text = fit_report.ranges_report(asking, found, free=question.free)
    if only and any(found.values()):
        text += "\n" + fit_report.end_report(asking, found, most=bool(question.largest))
    if question.picture is not None:
        text += "\n" + _draw(asking, rooms, question.picture)
    return FitAnswer(text, any(found.values()))


def _draw(asking: RememberedChecks, rooms: Sequence[Room], file: Path) -> str:
    """Draw which pairs of sizes work, and say where the picture is."""
    from paramgen.drawings.back_end.svg import to_svg
    from paramgen.drawings.pictures.region_chart import region

    first, second, *_ = asking.sizes({})
    found = regions(asking, first, second, rooms)
    picture = region(found, asking.unit, asking.order.recipe.kind_for(asking.unit))
    write_picture(to_svg(picture).encode(), file, f'id="{picture.name}'.encode())
    return f"Picture: {file.absolute()}"
