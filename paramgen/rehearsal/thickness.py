"""Layers under the needle: too many, or too many more at once; needles to suggest."""

from collections.abc import Iterator
from itertools import chain

import numpy as np
import shapely
from numpy.typing import NDArray

from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.line_stretches import spots_along
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.rehearsal_limits import JUMP, JUMP_WITHIN, needle_for
from paramgen.rehearsal.sheets import SewnLine
from paramgen.vocabulary.facts import facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray

#: The stack is looked at so often along a line, mm.
EVERY = 1.0

#: Places along a part of a line, and the layers at each.
_Counts = tuple[FloatArray, NDArray[np.int64]]


@dataclass(frozen=True)
class LayersUnderNeedle:
    """Layers along a stitched line.

    Parameters
    ----------
    line : str
        Name of the line.
    step : int
    fewest, most : int
        Thicknesses of fabric under the needle.
    needle : str
        To suggest for it.
    """

    line: str
    step: int
    fewest: int
    most: int
    needle: str


def layers_along(done: Rehearsed) -> tuple[LayersUnderNeedle, ...]:
    """Layers along every line that goes through two or more, in the order of sewing."""
    found = []
    for sewn, counted in _counted(done):
        counts = np.concatenate([count for _, count in counted])
        if counts.max(initial=0) > 1:
            most = int(counts.max())
            needle = needle_for(most, done.project.least_needle)
            found.append(
                LayersUnderNeedle(sewn.line.name, sewn.step, int(counts.min()), most, needle)
            )
    return tuple(found)


def thickness(done: Rehearsed) -> Iterator[Finding]:
    """Find where the stack is thicker than the limit, or changes too much at once."""
    most_layers = done.project.finish.most_layers
    for sewn, counted in _counted(done):
        thick, jumps = [], []
        worst = steepest = 0
        for spots, counts in counted:
            worst = max(worst, int(counts.max(initial=0)))
            thick += [spots[i] for i in np.flatnonzero(counts > most_layers)]
            reach = max(1, round(JUMP_WITHIN / EVERY))
            if len(counts) > reach:
                change = np.abs(counts[reach:] - counts[:-reach])
                steepest = max(steepest, int(change.max()))
                jumps += [spots[i + reach // 2] for i in np.flatnonzero(change > JUMP)]
        if most_layers and thick:
            yield Finding(
                "too-thick",
                Severity.CANNOT,
                facts(line=sewn.line.called, layers=worst, most=most_layers),
                amount=float(worst - most_layers),
                place=place_of([shapely.MultiPoint(thick[:: 1 + len(thick) // 60]).convex_hull]),
                step=sewn.step,
            )
        elif jumps:
            yield Finding(
                "thickness-jump",
                Severity.KNOW,
                facts(line=sewn.line.called, layers=steepest),
                amount=float(steepest),
                place=tuple((float(x), float(y)) for x, y in jumps[:8]),
                step=sewn.step,
            )


def _counted(done: Rehearsed) -> Iterator[tuple[SewnLine, list[_Counts]]]:
    """Every line; along each of its parts places, and the layers there when it is stitched."""
    pile = done.sandwich
    along = [
        [spots_along(part, EVERY) for part in shapely.get_parts(sewn.path)] for sewn in pile.sewn
    ]
    lies = pile.areas.cover(np.concatenate([np.empty((0, 2)), *chain.from_iterable(along)]))
    steps = np.array([sheet.step for sheet, _ in pile.whole], dtype=np.int64)
    plies = np.array([sheet.plies for sheet, _ in pile.whole], dtype=np.int64)
    end = 0
    for sewn, parts in zip(pile.sewn, along, strict=True):
        laid = np.where(steps < sewn.step, plies, 0)
        counted = []
        for spots in parts:
            start, end = end, end + len(spots)
            counted.append((spots, laid @ lies[:, start:end]))
        yield sewn, counted
