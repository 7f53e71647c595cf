"""Time in a kit's papers: for one person, and for a class as a picture with its bound."""

from collections.abc import Iterator, Sequence

from paramgen.drawings.primitives.items import Drawing
from paramgen.kits.kit_section import KitSection, KitTable
from paramgen.kits.kit_time import HoopingTime, KitClass
from paramgen.kits.schedule_picture import schedule_pictures
from paramgen.sentences import number_of


def time_rows(times: Sequence[HoopingTime]) -> tuple[tuple[str, ...], ...]:
    """Of each project its title, hoopings, and times before, at the machine, after and in all."""
    return tuple(
        (
            one.title,
            str(one.hoopings),
            as_time(one.prepare),
            as_time(one.at_machine),
            as_time(one.finish),
            as_time(one.whole),
        )
        for one in times
    )


def time_section(times: Sequence[HoopingTime], in_class: KitClass | None) -> KitSection:
    """What a kit's papers say of time."""
    table = KitTable(
        caption="One hooping, and all of them by one person",
        head=("Project", "Hoopings", "Before", "At the machine", "After", "All"),
        rows=time_rows(times),
        widths=(5, 2, 2, 2.5, 2, 2),
    )
    return KitSection(
        name="time",
        title="Time",
        says=(
            (
                "An estimate for someone who has made the thing before; measure one run, and set "
                "the pace by it."
            ),
            *_class(in_class),
        ),
        tables=(table,),
        pictures=_pictures(in_class),
    )


def as_time(seconds: float) -> str:
    """A time to the minute.

    Examples
    --------
    >>> as_time(3600 + 24 * 60 + 40), as_time(40), as_time(7200)
    ('1 h 25 min', '1 min', '2 h')
    """
    hours, minutes = divmod(max(1, round(seconds / 60)), 60)
    return " ".join([f"{hours} h"] * (hours > 0) + [f"{minutes} min"] * (minutes > 0))


def class_words(in_class: KitClass) -> str:
    """How long a class takes, and how good that is."""
    found = in_class.schedule
    least = (
        "No order of work is shorter" if found.proven else f"None is under {as_time(found.bound)}"
    )
    who = "one person" if in_class.people == 1 else f"{in_class.people} people"
    what = "one machine" if in_class.machines == 1 else f"{in_class.machines} machines"
    return f"For {who} at {what}, each making their own: {as_time(found.length)}. {least}."


def _class(in_class: KitClass | None) -> Iterator[str]:
    if in_class is None:
        return
    yield class_words(in_class)
    longest = max((one.prepare for one in in_class.schedule.jobs), default=0.0)
    first = [one for one in in_class.schedule.blocks if one.machine is not None]
    waits = sum(one.begin > longest + 1 for one in first)
    if waits:
        yield (
            f"{number_of(waits, 'hooping')} of {len(first)} begin later than they are prepared, "
            "as all machines are taken or someone makes more than one: what waits is cut, folded "
            "and pressed beforehand, in rows by the bag."
        )


def _pictures(in_class: KitClass | None) -> tuple[Drawing, ...]:
    return () if in_class is None else schedule_pictures(in_class.schedule)
