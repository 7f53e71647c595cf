"""A class that makes a kit, as typed: people and machines."""

from collections.abc import Sequence

from paramgen.kits.kit_time import HoopingTime, KitClass, kit_schedule
from paramgen.lengths import as_typed
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


def class_of(times: Sequence[HoopingTime], in_class: tuple[int, int] | None) -> KitClass | None:
    """Who does what when in a class; None where it is none.

    Raises
    ------
    InputError
        For more hoopings than can be set out.
    """
    if in_class is None:
        return None
    people, machines = in_class
    if sum(one.hoopings for one in times) > MOST_JOBS:
        text = f"no more than {MOST_JOBS} hoopings can be set out for a class"
        raise InputError([Fault(text, "--people", hint="Ask for a part of them.")])
    found = kit_schedule(times, machines, people)
    return KitClass(people=people, machines=machines, schedule=found)


def _number(typed: str, where: str) -> int:
    word = typed.strip()
    if word.isascii() and word.isdigit() and len(word) < 4 and 1 <= int(word) <= MOST_IN_A_CLASS:
        return int(word)
    text = f"{as_typed(typed)} is no number from 1 to {MOST_IN_A_CLASS}"
    raise InputError([Fault(text, where, hint="Write how many there are, such as 8.")])
