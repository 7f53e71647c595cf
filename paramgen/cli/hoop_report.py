"""The hoops there are, as a table of plain text."""

from collections.abc import Iterable

from paramgen.cli.text_tables import table
from paramgen.lengths import show_size_both
from paramgen.reference.hoops import Hoop
from paramgen.vocabulary.unit import Unit


def hoop_report(hoops: Iterable[Hoop], unit: Unit) -> str:
    """The hoops and their fields, a person's own first."""
    listed = sorted(hoops, key=lambda hoop: not hoop.mine)
    rows = [
        (one.name, one.also, show_size_both(one.width, one.height, unit), "yes" * one.mine)
        for one in listed
    ]
    if not any(one.mine for one in listed):
        return table(("hoop", "also called", "field"), [row[:3] for row in rows])
    return table(("hoop", "also called", "field", "yours"), rows)
