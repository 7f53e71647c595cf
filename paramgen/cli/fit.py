"""The fit command: what size, which hoop, what it holds, how many."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from paramgen.cli import fit_report
from paramgen.cli.asking import Asked, Words, asked, known_hoops, unit_asked
from paramgen.cli.fit_hold import hold_asked, hold_report
from paramgen.copies.most import Most, most_of, ways_of
from paramgen.findings import Fault, InputError
from paramgen.fit.asking import Asking
from paramgen.fit.free import free_range
from paramgen.fit.held import held
from paramgen.fit.near import nearest_alone, nearest_that_works
from paramgen.fit.ranges import Range, range_of
from paramgen.fit.region import regions
from paramgen.fit.taking import hoops_that_take
from paramgen.fit.transfer import transfer
from paramgen.hooping import Room
from paramgen.lengths import as_typed, parse_length, split_unit
from paramgen.nearest import did_you_mean
from paramgen.pack.picture import write_picture
from paramgen.reference.hoops import find_hoop, smallest_first
from paramgen.reference.sizes import read_size
from paramgen.sentences import SHOWN_TO


@dataclass(frozen=True)
class Question:
    """What is to be found out; all but one of the texts empty, or all.

    Parameters
    ----------
    largest, smallest : str
        Name of a size.
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
class Said:
    """The answer.

    Parameters
    ----------
    text : str
    good : bool
        Whether something works.
    """

    text: str
    good: bool = True


def fit(words: Words, question: Question) -> Said:
    """Find out what is asked, and say it.

    Raises
    ------
    InputError
        If what was typed is wrong.
    CannotMakeError
        If the project itself cannot be made.
    WriteError
        If the picture cannot be written.
    """
    faults = list(_at_odds(words, question))
    every = not words.hoop.strip()
    try:
        wanted = _understood(words, question)
    except InputError as problem:
        raise InputError([*faults, *problem.faults]) from None
    if faults:
        raise InputError(faults)
    if question.hold:
        things, ease = hold_asked(question.hold, question.ease)
        answer = held(wanted.order, things, ease=ease, hoops=wanted.hoops, any_hoop=every)
        return Said(hold_report(answer), good=answer.best is not None)
    if question.come_from:
        other = replace(wanted.order.room, hoop=find_hoop(question.go_to, wanted.hoops))
        return Said(fit_report.transfer_report(transfer(wanted.order, other, wanted.hoops)))
    rooms = tuple(_rooms(wanted)) if every else (wanted.order.room,)
    asking = Asking(wanted.order)
    if question.any_hoop or words.copies:
        return _taken(asking, rooms, counted=bool(words.copies))
    if question.near:
        return _near(asking, question.near, rooms)
    return _ranges(asking, question, rooms)


def _at_odds(words: Words, question: Question) -> Iterator[Fault]:
    """Fault of options that do not go together."""
    modes = {
        "--largest or --smallest": question.largest or question.smallest,
        "--near": question.near,
        "--hold": question.hold,
        "--any-hoop or --copies": question.any_hoop or words.copies,
        "--from and --to": question.come_from or question.go_to,
    }
    given = [name for name, value in modes.items() if value]
    if len(given) > 1:
        yield Fault("one question at a time", ", ".join(given), hint="Ask them one by one.")
    if bool(question.come_from) != bool(question.go_to):
        yield Fault("go together: say both hoops", "--from and --to")
    if words.hoop and (question.come_from or question.any_hoop):
        name = "--from and --to" if question.come_from else "--any-hoop"
        yield Fault(f"does not go with {name}", "--hoop", hint="Leave one of them out.")
    if question.ease and not question.hold:
        yield Fault("is for what is to be held", "--ease", hint='Say --hold "seed packet" too.')
    ranges = not given or given == ["--largest or --smallest"]
    for name, value in {"--picture": question.picture, "--free": question.free}.items():
        if value and not ranges:
            yield Fault(f"does not go with {given[0]}", name, hint="Ask for it alone.")


def _understood(words: Words, question: Question) -> Asked:
    """What was typed of the project; where any hoop will do, its own is not looked at."""
    faults: list[Fault] = []
    hoops = known_hoops()
    hoop = words.hoop.strip() or question.come_from
    unit = words.unit
    if not unit and not any(split_unit(value)[1] for value in words.values):
        unit = unit_asked("", [question.near, question.ease, hoop])
    try:
        wanted = asked(replace(words, hoop=hoop or hoops[0].name, unit=unit), among=hoops)
    except InputError as problem:
        faults += problem.faults
    if question.go_to:
        try:
            find_hoop(question.go_to, hoops)
        except InputError as problem:
            faults += (replace(one, where="--to") for one in problem.faults)
    if faults:
        raise InputError(faults)
    return wanted


def _rooms(wanted: Asked) -> Iterator[Room]:
    """Every hoop there is, the smallest first, less the margin asked for."""
    for hoop in smallest_first(wanted.hoops):
        room = replace(wanted.order.room, hoop=hoop)
        if min(room.field) > 0:
            yield room


def _taken(asking: Asking, rooms: Sequence[Room], *, counted: bool) -> Said:
    """Which hoops take it, and how many."""
    taken = hoops_that_take(asking, rooms)
    wanted = asking.order.copies
    most: dict[Room, Most] = {}
    if counted:
        ways = ways_of(asking.sized, may_turn=asking.order.room.may_turn)
        most = {one.room: most_of(ways, one.room) for one in taken if one.takes}
    enough = 1 if wanted == "most" else wanted
    good = any(
        most[one.room].count >= enough if counted else one.takes for one in taken if one.takes
    )
    return Said(fit_report.taken_report(asking, taken, most), good)


def _near(asking: Asking, typed: str, rooms: Sequence[Room]) -> Said:
    """The sizes nearest to those wished for, in each hoop."""
    first, second, *_ = [*asking.sizes({}), ""]
    wished = _wished(typed, second)
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
    return Said(text, any(sizes is not None for sizes in found.values()))


def _wished(typed: str, second: str) -> tuple[float, ...]:
    if not second:
        return (parse_length(typed, name="--near"),)
    size = read_size(typed, "--near")
    if size is None:
        hint = "Write WIDTHxHEIGHT: 120x160mm or 5x8in."
        raise InputError([Fault(f"{as_typed(typed)} is no pair of sizes", "--near", hint=hint)])
    return size.lengths


def _ranges(asking: Asking, question: Question, rooms: Sequence[Room]) -> Said:
    """From which size to which it works, in each hoop."""
    names = list(asking.sizes({}))
    only = question.largest or question.smallest
    if only:
        names = [_size_named(asking, only)]
    # Without regard to a hoop once, and then for each hoop what it leaves of that.
    whole = {} if question.free else {name: range_of(asking, name, None) for name in names}

    def one(room: Room, name: str) -> Range | None:
        if question.free:
            return free_range(asking, name, room)
        return range_of(asking, name, room, within=whole[name])

    found = {(room, name): one(room, name) for room in rooms for name in names}
    text = fit_report.ranges_report(asking, found, free=question.free)
    if only:
        text += "\n" + fit_report.end_report(asking, found, most=bool(question.largest))
    if question.picture is not None:
        text += "\n" + _draw(asking, rooms, question.picture)
    return Said(text, any(found.values()))


def _size_named(asking: Asking, typed: str) -> str:
    names = list(asking.sizes({}))
    name = typed.strip().lower()
    if name not in names:
        hint = did_you_mean(name, names) or f"There are {' and '.join(names)}."
        message = f"{as_typed(typed)} is no size of {asking.order.recipe.name}"
        raise InputError([Fault(message, "--largest or --smallest", hint=hint)])
    return name


def _draw(asking: Asking, rooms: Sequence[Room], file: Path) -> str:
    """Draw which pairs of sizes work, and say where the picture is."""
    names = list(asking.sizes({}))
    if len(names) < 2:
        text = f"{asking.order.recipe.name} has one size, and a picture is of two"
        raise InputError([Fault(text, "--picture", hint="Leave it out.")])
    from paramgen.drawings.region import region_picture
    from paramgen.drawings.svg import to_svg

    found = regions(asking, names[0], names[1], rooms)
    picture = region_picture(found, asking.unit)
    write_picture(to_svg(picture).encode(), file, f'id="{picture.name}'.encode())
    return f"Picture: {file.absolute()}"
