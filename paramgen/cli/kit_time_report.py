"""How long a kit takes, as plain text."""

from collections.abc import Sequence

from paramgen.cli.text_tables import table
from paramgen.kits.kit_time import hooping_times, kit_schedule
from paramgen.kits.worked_kit import KitOrder
from paramgen.lengths import as_typed
from paramgen.reference.work_times import own_times, work_times
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.worktime.class_schedule import MOST_JOBS

#: What a class may have of people and of machines.
MOST_IN_A_CLASS = 200


def class_asked(people: str, machines: str) -> tuple[int, int] | None:
    """How many people and machines a class has; None where it is none.

    Raises
    ------
    InputError
    """
    if not people and not machines:
        return None
    faults = Faults()
    many = faults.tried(lambda: _number(people or "1", "--people"))
    sewing = faults.tried(lambda: _number(machines or "1", "--machines"))
    if faults or many is None or sewing is None:
        raise InputError(faults)
    return many, sewing


def kit_time_report(orders: Sequence[KitOrder], in_class: tuple[int, int] | None = None) -> str:
    """Time for one person, and of a class until the last is done.

    Raises
    ------
    InputError
        With every fault of a person's own times; for more hoopings than can be set out.
    """
    found = hooping_times(orders, work_times())
    rows = [
        (
            one.title,
            str(one.hoopings),
            as_time(one.prepare),
            as_time(one.at_machine),
            as_time(one.finish),
            as_time(one.whole),
        )
        for one in found
    ]
    head = ("project", "hoopings", "before", "at the machine", "after", "all, by one person")
    said = f"Time, an estimate (your own times go into {own_times()})\n" + table(head, rows)
    return said if in_class is None else f"{said}\n{_class(orders, in_class)}"


def as_time(seconds: float) -> str:
    """A time to the minute.

    Examples
    --------
    >>> as_time(3600 + 24 * 60 + 40), as_time(40), as_time(7200)
    ('1 h 25 min', '1 min', '2 h')
    """
    hours, minutes = divmod(max(1, round(seconds / 60)), 60)
    return " ".join([f"{hours} h"] * (hours > 0) + [f"{minutes} min"] * (minutes > 0))


def _class(orders: Sequence[KitOrder], in_class: tuple[int, int]) -> str:
    people, machines = in_class
    if sum(order.hoopings for order in orders) > MOST_JOBS:
        text = f"no more than {MOST_JOBS} hoopings can be set out for a class"
        raise InputError([Fault(text, "--people", hint="Ask for a part of them.")])
    found = kit_schedule(hooping_times(orders, work_times()), machines, people)
    least = (
        "No order of work is shorter" if found.proven else f"None is under {as_time(found.bound)}"
    )
    who = f"{people} people" if people > 1 else "one person"
    what = f"{machines} machines" if machines > 1 else "one machine"
    return f"For {who} at {what}, each making their own: {as_time(found.length)}. {least}.\n"


def _number(typed: str, where: str) -> int:
    word = typed.strip()
    if word.isascii() and word.isdigit() and len(word) < 4 and 1 <= int(word) <= MOST_IN_A_CLASS:
        return int(word)
    text = f"{as_typed(typed)} is no number from 1 to {MOST_IN_A_CLASS}"
    raise InputError([Fault(text, where, hint="Write how many there are, such as 8.")])
