"""How much there is to have of what goes with the machine: sheet, tape, thread and needles."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from itertools import groupby
from types import MappingProxyType

from paramgen.layout.project import Act
from paramgen.lengths import INCH, Unit, round_up, show_both, show_size_both
from paramgen.making import Made
from paramgen.rehearsal.limits import needle_for, sheets_for
from paramgen.supplies.supply import Supply
from paramgen.supplies.thread import thread, whole_metres

#: A sheet of stabiliser reaches past the field of the hoop by this on each side, mm: past the
#: frame, so that it is held all round (common practice, no source).
RIM = 40.0
#: The sizes of a sheet are rounded up to this, mm.
SHEET_MARK = {Unit.MM: 10.0, Unit.INCH: INCH / 2}


def reckon(amount: str, supply: Supply, made: Made) -> Supply:
    """Say how much to have of something.

    Parameters
    ----------
    amount : str
        As the reference data says how it is reckoned; of an empty one there is no more to say.
    """
    return _RECKONED[amount](supply, made) if amount else supply


def stop_layers(made: Made) -> dict[int, int]:
    """Most layers of fabric at each stop; none where there is one or none."""
    most: dict[int, int] = {}
    stops = {step.number: step.stop for step in made.project.steps if step.stop}
    for one in made.proof.layers:
        stop = stops.get(one.step)
        if stop:
            most[stop] = max(most.get(stop, 0), one.most)
    return most


def needles(made: Made) -> Iterator[Supply]:
    """Needles to suggest, by the stops for which each is used."""
    layers = stop_layers(made)
    numbers = {step.stop: step.number for step in made.project.steps}
    stops = [(step.stop, needle_for(layers.get(step.stop, 1))) for step in made.sewn]
    for needle, group in groupby(stops, key=lambda pair: pair[1]):
        ours = [stop for stop, _ in group]
        most = max(layers.get(stop, 1) for stop in ours)
        yield Supply(
            f"needle-{ours[0]}",
            "needle",
            f"needle {needle}",
            f"for stop {ours[0]}" if len(ours) == 1 else f"for stops {ours[0]} to {ours[-1]}",
            f"up to {most} layers" if most > 1 else "",
            numbers[ours[0]],
            quantity=1,
        )
    top = next((s.number for s in made.project.steps if s.act is Act.TOP_STITCH), None)
    if top is not None:
        yield Supply(
            "needle-top-stitching",
            "needle",
            f"needle {made.proof.top_stitch_needle}",
            "for top-stitching after turning",
            step=top,
            quantity=1,
        )


def _sheet(supply: Supply, made: Made) -> Supply:
    unit, hoop = made.project.unit, made.room.hoop
    width, height = (
        round_up(side + 2 * RIM, SHEET_MARK[unit]) for side in (hoop.width, hoop.height)
    )
    count = sheets_for(sum(step.stitch_count for step in made.sewn))
    size = show_size_both(width, height, unit)
    field = show_size_both(hoop.width, hoop.height, unit)
    amount = f"1, at least {size}" if count == 1 else f"{count} one on the other, each {size}"
    note = f"{supply.note} The field of {hoop.name} is {field}."
    return replace(supply, amount=amount, note=note, quantity=count, width=width, length=height)


def _strips(supply: Supply, made: Made) -> Supply:
    boxes = [strip.bounds for step in made.project.steps for strip in step.tape]
    sides = [sorted((right - left, low - top)) for left, top, right, low in boxes]
    metres = whole_metres(sum(long for _, long in sides))
    width = max(short for short, _ in sides)
    return replace(
        supply,
        amount=f"about {_metres(metres)}, {show_both(width, made.project.unit)} wide, for "
        f"{len(sides)} strips",
        length=metres * 1000.0,
        width=width,
    )


def _needle_thread(supply: Supply, made: Made) -> Supply:
    return _thread(supply, thread(made.sewn, stop_layers(made)).needle)


def _bobbin_thread(supply: Supply, made: Made) -> Supply:
    return _thread(supply, thread(made.sewn, stop_layers(made)).bobbin)


def _thread(supply: Supply, length: float) -> Supply:
    metres = whole_metres(length)
    return replace(supply, amount=f"about {_metres(metres)}", length=metres * 1000.0)


def _metres(metres: int) -> str:
    """Metres, and whole yards of 0.9144 m that hold them.

    >>> _metres(10)
    '10 m (11 yd)'
    """
    return f"{metres} m ({math.ceil(metres / 0.9144)} yd)"


_RECKONED: Mapping[str, Callable[[Supply, Made], Supply]] = MappingProxyType(
    {
        "sheet": _sheet,
        "strips of tape": _strips,
        "needle thread": _needle_thread,
        "bobbin thread": _bobbin_thread,
    }
)
