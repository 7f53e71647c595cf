"""Needle, stabiliser and settings to begin with, each with its ground, to be tried on scraps."""

from collections.abc import Iterator

from paramgen.amounts.stitched_thread import StepThread, step_threads
from paramgen.kits.kit_order import KitOrder
from paramgen.kits.kit_section import KitSection, KitTable
from paramgen.kits.thread_section import thickness_words
from paramgen.making import Made
from paramgen.reference.work_times import MachinePace
from paramgen.rehearsal.density import densest
from paramgen.rehearsal.rehearsal_limits import DENSE, STITCHES_A_SHEET, blade, sheets_for
from paramgen.sentences import number_of
from paramgen.supplies.sewing import StepSewing, sewings
from paramgen.vocabulary.unit import Unit

_SAYS = (
    (
        "Suggestions to begin with, all to be tried on scraps of the same layers; the manuals of "
        "machine, needle and stabiliser come first. The metric number of a needle is 100 times the "
        "diameter of its blade in mm."
    ),
)


def settings_section(orders: tuple[KitOrder, ...], pace: MachinePace, unit: Unit) -> KitSection:
    """What a kit's papers suggest for the machine.

    Parameters
    ----------
    orders : tuple of KitOrder
    pace : MachinePace
        How fast the machine goes, and where it must be slow.
    unit : Unit
    """
    return KitSection(
        name="settings",
        title="Settings to try on scraps",
        says=_SAYS,
        tables=tuple(
            KitTable(
                caption=order.made.project.title,
                head=("What", "Try", "Ground"),
                rows=tuple(_rows(order.made, pace, unit)),
                widths=(3, 3, 7),
            )
            for order in orders
        ),
    )


def _rows(made: Made, pace: MachinePace, unit: Unit) -> Iterator[tuple[str, str, str]]:
    thick = {one.step: one for one in step_threads(made)}
    sewn = [one for one in sewings(made) if one.stop is not None]
    yield from _needles(made, sewn, thick, unit)
    yield _stabiliser(made)
    yield from _density(made)
    yield from _speed(sewn, pace)
    yield _tension(sewn, thick, unit)


def _needles(
    made: Made, sewn: list[StepSewing], thick: dict[int, StepThread], unit: Unit
) -> Iterator[tuple[str, str, str]]:
    least = made.project.least_needle
    for size in dict.fromkeys(one.size for one in sewn):
        ours = [one for one in sewn if one.size == size]
        layers = max(one.layers for one in ours)
        through = [thick[one.step].thick for one in ours if one.step in thick]
        under = max(through, key=lambda one: one[1], default=(0.0, 0.0))
        material = f"; the finest that goes through its materials is {least}" if least else ""
        # One alone is all of them.
        stops = _stops([one.stop or 0 for one in ours]) if len(ours) < len(sewn) else "all stops"
        yield (
            f"Needle, {stops}",
            ours[0].needle,
            (
                f"Up to {number_of(layers, 'layer')}, {thickness_words(under, unit)} with the "
                f"stabiliser under a stitch on average; a blade of {blade(size) / 100:g} "
                f"mm{material}. From memory."
            ),
        )


def _stops(stops: list[int]) -> str:
    """Stops in words, neighbours joined.

    >>> _stops([1]), _stops([1, 2, 3, 6, 8, 9])
    ('stop 1', 'stops 1 to 3, 6, 8 to 9')
    """
    runs: list[list[int]] = []
    for one in stops:
        if runs and one == runs[-1][-1] + 1:
            runs[-1].append(one)
        else:
            runs.append([one])
    words = [str(one[0]) if len(one) == 1 else f"{one[0]} to {one[-1]}" for one in runs]
    return f"{'stop' if len(stops) == 1 else 'stops'} {', '.join(words)}"


def _stabiliser(made: Made) -> tuple[str, str, str]:
    stitches = sum(one.stitch_count for one in made.sewn)
    own = next((one.title for one in made.project.notions if one.fills_hoop), "")
    what = own or "light tear-away stabiliser"
    many = number_of(sheets_for(stitches), "sheet")
    return (
        "Stabiliser",
        f"{many} of {what}",
        (
            f"{stitches} stitches; a light tear-away sheet carries about {STITCHES_A_SHEET}. "
            "Common practice, no source."
        ),
    )


def _density(made: Made) -> Iterator[tuple[str, str, str]]:
    most = densest(made.sewn, made.project)
    near = most >= DENSE / 2
    yield (
        "Density",
        "one sheet more, or the stitching farther apart, if cloth puckers" if near else "as it is",
        (
            f"At most {100 * most:.0f} needle points to a square centimetre; from "
            f"{100 * DENSE:.0f} on thread lies on thread. From memory."
        ),
    )


def _speed(sewn: list[StepSewing], pace: MachinePace) -> Iterator[tuple[str, str, str]]:
    slow = [one for one in sewn if one.thick or one.near_zip]
    if len(slow) < len(sewn):
        yield (
            "Speed",
            f"{pace.stitches_per_minute:g} stitches a minute",
            "What the times are reckoned with; machines sew 400 to 1000. From memory.",
        )
    if slow:
        yield (
            f"Speed, {_stops([one.stop or 0 for one in slow])}",
            f"{pace.slow_stitches_per_minute:g} stitches a minute",
            (
                "Many layers, or near a zip or across one: slow, with eyes protected. Common "
                "practice, no source."
            ),
        )


def _tension(
    sewn: list[StepSewing], thick: dict[int, StepThread], unit: Unit
) -> tuple[str, str, str]:
    least = min((thick[one.step].thick[0] for one in sewn if one.step in thick), default=0.0)
    most = max((thick[one.step].thick[1] for one in sewn if one.step in thick), default=0.0)
    return (
        "Tension and height of the foot",
        "set on the thickest stop",
        (
            f"From {thickness_words((least, most), unit)} lie under the needle. In a seam the "
            "threads lock in the middle of the layers, so that it holds and neither lies flat on "
            "its face."
        ),
    )
