"""Curves of the seam that are turned: outward ones are notched, inward ones and corners clipped."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from paramgen.finished.finished_limits import BENDS, TIGHT
from paramgen.finished.finished_thing import FinishedThing
from paramgen.geometry.offset import signed_area
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import CORNER_DEGREES, Path, Point, preceding


def curves(thing: FinishedThing) -> Iterator[Finding]:
    """Find curves that are turned without the cuts that they need to lie flat."""
    if not thing.done.turned:
        return
    acts = {step.act: step.number for step in thing.project.steps}
    seam = thing.project.seam
    for outward, act, code in (
        (True, Act.NOTCH, "curve-not-notched"),
        (False, Act.CLIP, "curve-not-clipped"),
    ):
        bends = tight(seam, outward=outward)
        if act in acts or not bends.any():
            continue
        length = float(_lengths(seam)[bends].sum())
        points: list[Point] = [(float(x), float(y)) for x, y in seam.points[bends]]
        yield Finding(
            code,
            Severity.DISAPPOINT,
            facts(length=Mm(length)),
            amount=length,
            place=tuple(points[:: 1 + len(points) // 60]),
            step=acts.get(Act.TURN),
        )


def _lengths(outline: Path) -> NDArray[np.float64]:
    """Length that each vertex stands for, mm."""
    steps = np.hypot(*outline.chords.T)
    return np.asarray((steps + preceding(steps)) / 2)


def tight(outline: Path, *, outward: bool) -> NDArray[np.bool_]:
    """Vertices of curves that bend one way tightly enough, and far enough, to need cuts.

    Examples
    --------
    >>> from paramgen.geometry.outlines import oval, rectangle
    >>> bool(tight(oval((0.0, 0.0), 60.0, 60.0), outward=True).all())
    True
    >>> bool(tight(rectangle(0.0, 0.0, 60.0, 60.0), outward=True).any())
    False
    """
    turns, lengths = outline.turns, _lengths(outline)
    away = turns * np.sign(signed_area(outline.points)) * (1 if outward else -1)
    smooth = (away > 1e-6) & (away < CORNER_DEGREES)
    bends = smooth & (np.radians(away) * TIGHT > lengths)
    # What turns by little in all is nearly straight.
    return bends if float(away[bends].sum()) > BENDS else np.zeros(len(turns), dtype=bool)
