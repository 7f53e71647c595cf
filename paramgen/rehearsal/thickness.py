"""Layers under the needle: too many, or too many more at once; needles to suggest."""

from collections.abc import Iterator

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
    for sewn in done.sandwich.sewn:
        counts = np.concatenate([count for _, count in _counted(done, sewn)])
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
    for sewn in done.sandwich.sewn:
        thick, jumps = [], []
        worst = steepest = 0
        for spots, counts in _counted(done, sewn):
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


def _counted(done: Rehearsed, sewn: SewnLine) -> Iterator[tuple[FloatArray, NDArray[np.int64]]]:
    """Places along each part of a line, and the layers there when it is stitched."""
    pile = done.sandwich
    laid = [place for place, (sheet, _) in enumerate(pile.whole) if sheet.step < sewn.step]
    plies = np.array([pile.whole[place][0].plies for place in laid], dtype=np.int64)
    parts = [spots_along(part, EVERY) for part in shapely.get_parts(sewn.path)]
    if not parts:
        return
    counts = plies @ pile.areas.cover(np.concatenate(parts), laid)
    ends = np.cumsum([len(spots) for spots in parts])
    yield from zip(parts, np.split(counts, ends[:-1]), strict=True)
