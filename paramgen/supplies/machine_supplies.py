"""How much there is to have of what goes with the machine: sheet, tape, thread and needles."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import groupby
from types import MappingProxyType

from paramgen.amounts.project_materials import stabiliser_of, tape_of
from paramgen.amounts.stitched_thread import step_threads, thread_of
from paramgen.drawings.primitives.paragraphs import listed
from paramgen.lengths import INCH, round_up, show_both, show_size_both
from paramgen.making import Made
from paramgen.reference.thread_sold import usual_thread
from paramgen.supplies.sewing import sewings
from paramgen.supplies.supply import Supply
from paramgen.supplies.thread_length import whole_metres
from paramgen.supplies.yards import EIGHTH, yards
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

#: The sizes of a sheet are rounded up to this, mm.
SHEET_MARK = {Unit.MM: 10.0, Unit.INCH: INCH / 2}
#: What is done on a sewing machine besides, as it is called.
_BY_MACHINE = (
    (Act.EDGE_STITCH, "edge-stitching"),
    (Act.TOP_STITCH, "top-stitching"),
    (Act.BOX, "sewing across the corners"),
    (Act.BIND, "binding"),
)
#: From so many metres on yards are said as whole ones.
FEW_METRES = 10


def reckon(amount: str, supply: Supply, made: Made) -> Supply:
    """Say how much to have of something.

    Parameters
    ----------
    amount : str
        As the reference data says how it is reckoned; of an empty one there is no more to say.
    """
    return _RECKONED[amount](supply, made) if amount else supply


def needles(made: Made) -> Iterator[Supply]:
    """Needles to suggest: by the stops for which each is used, then those of a sewing machine."""
    found = sewings(made)
    points = _points(made.project)
    for _, group in groupby((one for one in found if one.stop), key=lambda one: one.size):
        ours = list(group)
        stops = [one.stop for one in ours]
        most = max(one.layers for one in ours)
        yield Supply(
            name=f"needle-{stops[0]}",
            sort="needle",
            title=ours[0].needle,
            amount=f"for stop {stops[0]}"
            if len(stops) == 1
            else f"for stops {stops[0]} to {stops[-1]}",
            note=f"{f'Up to {most} layers. ' if most > 1 else ''}{points}".strip(),
            step=ours[0].step,
            quantity=1,
        )
    for act, name in _BY_MACHINE:
        by_hand = [one for one in found if one.act is act]
        for needle in dict.fromkeys(one.needle for one in by_hand):
            ours = [one for one in by_hand if one.needle == needle]
            at = listed([str(one.step) for one in ours])
            most = max(one.layers for one in ours)
            steps = f"in step {at}" if len(ours) == 1 else f"in steps {at}"
            through = f"Up to {most} layers, {steps}." if most > 1 else f"I{steps[1:]}."
            yield Supply(
                name=f"needle-{name.replace(' ', '-')}-{ours[0].step}",
                sort="needle",
                title=needle,
                amount=f"for {name} on a sewing machine",
                note=f"{through} {points}".strip(),
                step=ours[0].step,
                quantity=1,
            )


def _points(project: Project) -> str:
    """The points that its materials take, in sentences; empty where any will do."""
    said = dict.fromkeys(
        f"{one.material.title}: {one.material.point}."
        for one in project.fabrics
        if one.material.point
    )
    return " ".join(f"{one[:1].upper()}{one[1:]}" for one in said)


def _sheet(supply: Supply, made: Made) -> Supply:
    unit, hoop = made.project.unit, made.room.hoop
    sheets = stabiliser_of(made)
    width, height = (round_up(side, SHEET_MARK[unit]) for side in sheets.size)
    count = sheets.sheets
    size = show_size_both(width, height, unit)
    field = show_size_both(hoop.width, hoop.height, unit)
    amount = f"1, at least {size}" if count == 1 else f"{count} one on the other, each {size}"
    note = f"{supply.note} The field of {hoop.name} is {field}."
    return replace(supply, amount=amount, note=note, quantity=count, width=width, length=height)


def _strips(supply: Supply, made: Made) -> Supply:
    unit = made.project.unit
    tape = tape_of(made.project)
    assert tape is not None, "tape is needed where something is taped"
    metres = whole_metres(tape.length)
    strips = "1 strip" if tape.strips == 1 else f"{tape.strips} strips"
    wide = show_both(tape.width, unit)
    return replace(
        supply,
        amount=f"about {metres_words(metres, unit)}, {wide} wide, for {strips}",
        length=metres * 1000.0,
        width=tape.width,
    )


def _needle_thread(supply: Supply, made: Made) -> Supply:
    length = thread_of(step_threads(made), usual_thread()).needle[1]
    return _thread(supply, length, made.project.unit)


def _bobbin_thread(supply: Supply, made: Made) -> Supply:
    length = thread_of(step_threads(made), usual_thread()).bobbin[1]
    return _thread(supply, length, made.project.unit)


def _thread(supply: Supply, length: float, unit: Unit) -> Supply:
    metres = whole_metres(length)
    return replace(supply, amount=f"about {metres_words(metres, unit)}", length=metres * 1000.0)


def metres_words(metres: int, unit: Unit) -> str:
    """Metres and the yards of 0.9144 m that hold them, to the next eighth if they are few.

    >>> metres_words(3, Unit.MM), metres_words(50, Unit.INCH)
    ('3 m (3 3/8 yd)', '55 yd (50 m)')
    """
    shown = yards(metres * 1000.0, EIGHTH if metres < FEW_METRES else Fraction(1))
    return f"{shown} ({metres} m)" if unit is Unit.INCH else f"{metres} m ({shown})"


_RECKONED: Mapping[str, Callable[[Supply, Made], Supply]] = MappingProxyType(
    {
        "sheet": _sheet,
        "strips of tape": _strips,
        "needle thread": _needle_thread,
        "bobbin thread": _bobbin_thread,
    }
)
