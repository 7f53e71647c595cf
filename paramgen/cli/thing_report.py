"""The things to hold that there are, as a table of plain text."""

from collections.abc import Iterable

from paramgen.cli.text_tables import table
from paramgen.lengths import show, show_size_both
from paramgen.reference.things import Thing
from paramgen.vocabulary.unit import Unit


def thing_report(things: Iterable[Thing], unit: Unit) -> str:
    """The things that are listed, with their sizes and where these are from."""
    rows = [
        (
            one.name,
            one.also,
            show_size_both(one.width, one.height, unit),
            show(one.thickness, unit),
            one.source,
        )
        for one in things
    ]
    return table(("thing", "also called", "size", "thick", "source"), rows)
