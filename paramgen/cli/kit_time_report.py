"""How long a kit takes, as plain text."""

from collections.abc import Sequence

from paramgen.cli.text_tables import table
from paramgen.kits.kit_time import HoopingTime, KitClass
from paramgen.kits.time_section import class_words, time_rows
from paramgen.reference.work_times import own_times


def kit_time_report(times: Sequence[HoopingTime], in_class: KitClass | None = None) -> str:
    """Time for one person, and of a class until the last is done."""
    head = ("project", "hoopings", "before", "at the machine", "after", "all, by one person")
    said = f"Time, an estimate (your own times go into {own_times()})\n" + table(
        head, time_rows(times)
    )
    return said if in_class is None else f"{said}\n{class_words(in_class)}\n"
