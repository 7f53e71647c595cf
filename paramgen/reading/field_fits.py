"""Which hoops take the stitches of a file, which way round, and with how much room."""

from collections.abc import Iterable

from paramgen.hooping import Room, sticking_out
from paramgen.lengths import TOLERANCE
from paramgen.reading.file_report import FileReport
from paramgen.reference.hoops import Hoop, smallest_first, the_smallest
from paramgen.vocabulary.facts import Clause, MmByMm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class InHoop:
    """Stitches in the middle of a hoop's field.

    Parameters
    ----------
    hoop : Hoop
    turned : bool
        They lie turned by 90°.
    spare : (float, float)
        Room left at the left and at the right each, and at the top and at the bottom each,
        mm; negative where they stick out.
    """

    hoop: Hoop
    turned: bool
    spare: tuple[float, float]

    @property
    def takes(self) -> bool:
        """Whether nothing sticks out."""
        return min(self.spare) >= -TOLERANCE


def in_hoop(reading: FileReport, hoop: Hoop) -> InHoop:
    """Lay the stitches in the middle of a hoop, turned if they fit, or fit better, only so."""
    size = reading.width, reading.height
    field = Room(hoop).field
    ways = [
        InHoop(hoop, turned, ((field[0] - wide) / 2, (field[1] - high) / 2))
        for turned, (wide, high) in ((False, size), (True, size[::-1]))
    ]
    return next((way for way in ways if way.takes), max(ways, key=lambda way: min(way.spare)))


def in_hoops(reading: FileReport, hoops: Iterable[Hoop]) -> tuple[InHoop, ...]:
    """Lay the stitches in each hoop, the smallest first."""
    return tuple(in_hoop(reading, hoop) for hoop in smallest_first(hoops))


def exceeds(reading: FileReport, hoop: Hoop, hoops: Iterable[Hoop]) -> Finding | None:
    """Say by how much stitches exceed a hoop, and what would take them; None if it does.

    Parameters
    ----------
    reading : FileReport
    hoop : Hoop
    hoops : iterable of Hoop
        Among them the smallest that takes the stitches is looked for.
    """
    lies = in_hoop(reading, hoop)
    if lies.takes:
        return None
    size = (reading.height, reading.width) if lies.turned else (reading.width, reading.height)
    over = Room(hoop).over(size)
    larger = next((one for one in in_hoops(reading, hoops) if one.takes), None)
    turned = larger is not None and larger.turned
    return Finding(
        "hoop-exceeded",
        Severity.CANNOT,
        facts(
            needs=MmByMm(*size),
            turned=Clause("turned") if lies.turned else None,
            hoop=hoop.called,
            field=MmByMm(hoop.width, hoop.height),
            sides=sticking_out(over),
            listed=the_smallest(
                Clause("it"), larger.hoop if larger else None, hoops, turned=turned
            ),
        ),
        variant="of-a-file",
        amount=max(over),
    )
