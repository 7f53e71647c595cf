"""Stabiliser that lies where the finished thing opens, and that no step takes out.

It lies in the hoop between what is laid on the back and what is laid on the front. Where the hollow
there becomes the outside, it keeps a pocket shut, or two pieces from being turned apart.
"""

from collections.abc import Iterator

import numpy as np
import shapely

from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.rehearsal_limits import LIP, SPECK
from paramgen.vocabulary.facts import facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, Side


def stabiliser_left_in(done: Rehearsed) -> Iterator[Finding]:
    """Find where stabiliser is shut in, in what should open.

    It is out where a step that tears it away marks it, before anything hides it; and wherever it
    can still be reached, if a step tears it away once the work is turned.
    """
    steps = done.project.steps
    turned = next((step.number for step in steps if step.act is Act.TURN), None)
    torn = [step for step in steps if step.act is Act.TEAR]
    if turned is None or any(step.number > turned for step in torn):
        return
    shut: dict[int, list[shapely.Polygon]] = {}
    for place, laid in _lies_in(done):
        shut.setdefault(laid, []).append(done.plane.areas[place])
    for laid, areas in sorted(shut.items()):
        out = [mark.area for step in torn if step.number < laid for mark in step.mark]
        left = shapely.union_all(areas) - shapely.union_all(out)
        left = left.buffer(-LIP / 2, join_style="mitre")
        if left.area > SPECK:
            yield Finding(
                "stabiliser-left-in",
                Severity.CANNOT,
                facts(step=done.project.step_called(laid)),
                place=place_of([left]),
                step=laid,
            )


def _lies_in(done: Rehearsed) -> Iterator[tuple[int, int]]:
    """Faces in which stabiliser lies in the outside, each with the step that hides it there."""
    spaces, plane, sheets = done.spaces, done.plane, done.sandwich.sheets
    behind = sum(sheet.side == Side.BACK for sheet in sheets)
    nodes = np.flatnonzero((spaces.below < behind) & (spaces.above >= behind))
    for node in nodes.tolist():
        face = int(spaces.face[node])
        under, over = int(spaces.below[node]), int(spaces.above[node])
        if under >= 0 and plane.within[face] and done.shows(node):
            yield face, max(sheets[under].step, sheets[over].step)
