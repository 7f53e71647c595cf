"""What is in a stitch file that a person chose in the browser."""

from collections.abc import Iterator

from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.reading.examine import read
from paramgen.reading.field_fits import in_hoops
from paramgen.reading.report_rows import HOOP_HEAD, STOP_HEAD, fact_rows, hoop_rows, stop_rows
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit


def stitch_file_parts(
    table: Desk, name: str, data: bytes, inches: bool
) -> Iterator[tuple[str, str]]:
    """What is told of a file.

    Parameters
    ----------
    table : Desk
    name : str
        Of the file; its ending says its kind. No file of that name is looked for.
    data : bytes
    inches : bool
        Whether lengths are told in inches.
    """
    unit = Unit.INCH if inches else Unit.MM
    shown = "".join(letter if letter.isprintable() else "?" for letter in name)[:200]
    try:
        found = read(data, shown)
    except InputError as problem:
        yield "stitch-file", filled("part_stitch_file.html", faults=problem.faults, name=shown)
        return
    yield (
        "stitch-file",
        filled(
            "part_stitch_file.html",
            faults=(),
            name=found.name,
            facts=fact_rows(found, unit),
            tables=(
                ("Stops", STOP_HEAD, tuple(stop_rows(found, unit))),
                ("Hoops", HOOP_HEAD, tuple(hoop_rows(in_hoops(found, table.hoops), unit))),
            ),
        ),
    )
