"""The turning gap once it is turned: the edges it leaves, and what closes them.

An edge that was left open from corner to corner is bound or turned over, and not folded in: any
line through it that is stitched once it is turned closes it.
"""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from paramgen.finished.finished_limits import CATCHES, GAP_EDGE
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.flaps import between_walls, walls
from paramgen.layout.turning_gaps import is_open_edge
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.hollows import WORLD, joined
from paramgen.rehearsal.outside_hollow import gap_ways
from paramgen.rehearsal.sheets import Sheet
from paramgen.vocabulary.facts import Mm, NamesInTurn, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.project import Step

#: A line holds edges together along a gap if it runs along so much of it.
_MOST_OF_IT = 0.9
#: What is stitched farther inside the edge than this closes no gap, mm.
FARTHEST = 12.0
#: At its ends a gap is not looked at so near, mm, nor farther out than anything reaches.
_END, _FAR = 1.0, 60.0
#: What lies along no more of a gap is not worth telling, mm.
_PART = 2.0
#: Goods that are turned so often are turned to their lining first, and then through their zip.
_TWICE = 2


@dataclass(frozen=True)
class GapEdge:
    """Plies that are one edge at a gap: held to each other beside it.

    Parameters
    ----------
    sheets : tuple of Sheet
        From the back of the hoop to the front.
    """

    sheets: tuple[Sheet, ...]

    @property
    def called(self) -> NamesInTurn:
        """What findings call it: its pieces."""
        return NamesInTurn(tuple({sheet.title: sheet.called for sheet in self.sheets}.values()))


def gap(thing: FinishedThing) -> Iterator[Finding]:
    """Find gaps that open the outside, are never closed, or leave an edge that nothing catches."""
    if not walls(thing.done) or not thing.done.plane.gaps:
        return
    if not any(step.act is Act.TURN for step in thing.project.steps):
        return  # what is never turned is told as such
    yield from _opens_outside(thing)
    closing = closings(thing)
    longest = max(thing.done.plane.gaps, key=lambda one: float(one.length))
    if not closing:
        unmarked = _unmarked(thing)
        yield Finding(
            "gap-not-closed",
            Severity.CANNOT,
            facts(length=Mm(float(longest.length)), step=unmarked.called if unmarked else None),
            variant="not-marked" if unmarked else "",
            amount=float(longest.length),
            place=place_of([longest]),
        )
        return
    seam = thing.project.seam
    gaps = [one for one in thing.done.plane.gaps if not is_open_edge(seam, one)]
    caught = (
        _not_caught(thing, line, edge, closing) for line in gaps for edge in edges(thing, line)
    )
    # The two leaves of a folded piece are two edges, and one to the person.
    yield from dict.fromkeys(one for found in caught for one in found)


def closings(thing: FinishedThing) -> tuple[Step, ...]:
    """The steps that close the gap: what is sewn by hand, and top-stitching, after turning."""
    steps = thing.project.steps
    turned = next((step.number for step in steps if step.act is Act.TURN), len(steps))
    return tuple(
        step
        for step in steps
        if step.number > turned
        and (step.act is Act.HAND_SEW or (step.act is Act.TOP_STITCH and step.mark))
    )


def _unmarked(thing: FinishedThing) -> Step | None:
    """The step of top-stitching of which is not said where it runs; None where there is none."""
    steps = thing.project.steps
    return next((one for one in steps if one.act is Act.TOP_STITCH and not one.mark), None)


def edges(thing: FinishedThing, line: shapely.LineString) -> tuple[GapEdge, ...]:
    """The edges that a gap leaves, from the back of the hoop to the front."""
    done = thing.done
    sheets = done.sandwich.sheets
    crossing = [
        index
        for index, sheet in enumerate(sheets)
        if float((sheet.area & line).length) > _MOST_OF_IT * line.length
        and float(sheet.area.exterior.distance(line)) > 0.0
    ]
    beside = line.buffer(GAP_EDGE, cap_style="flat") - done.project.seam.area
    held = [
        {index for index in crossing if sheets[index].step < sewn.step}
        for sewn in done.sandwich.sewn
        if sewn.line.role is not Role.PLACEMENT
        and float((sewn.path & beside).length) > _MOST_OF_IT * line.length
    ]
    groups: list[list[int]] = []
    for index in crossing:
        if groups and any({groups[-1][-1], index} <= together for together in held):
            groups[-1].append(index)
        else:
            groups.append([index])
    return tuple(GapEdge(tuple(sheets[index] for index in group)) for group in groups)


def next_to(thing: FinishedThing, piece: str, towards: str) -> tuple[str, ...]:
    """Titles of what lies next to a piece along the gaps, on the side where another one lies.

    Of the other first, and then of those that lie between the two along a part of a gap, from the
    back of the hoop to the front.

    Parameters
    ----------
    thing : FinishedThing
    piece, towards : str
        Their names; nothing is found where one of them does not lie at a gap.
    """
    done = thing.done
    sheets = done.sandwich.sheets
    own, others = done.indices(piece), done.indices(towards)
    if not own or not others:
        return ()
    way = 1 if max(others) > max(own) else -1
    edge = max(own) if way > 0 else min(own)
    along: dict[int, float] = {}
    for line in done.plane.gaps:
        left = line & sheets[edge].area
        index = edge + way
        while 0 <= index < len(sheets) and not left.is_empty:
            along[index] = along.get(index, 0.0) + float((left & sheets[index].area).length)
            left = shapely.difference(left, sheets[index].area)
            index += way
    near = [index for index, length in sorted(along.items()) if length > _PART]
    first = [index for index in near if sheets[index].piece == towards]
    return tuple(dict.fromkeys(sheets[index].title for index in (*first, *near)))


def _not_caught(
    thing: FinishedThing, line: shapely.LineString, edge: GapEdge, closing: tuple[Step, ...]
) -> Iterator[Finding]:
    """Say that an edge is caught by no closing, or lies too short under the one that is."""
    pieces = {sheet.piece for sheet in edge.sheets}
    beyond = _beyond(thing.project.seam.area, line)
    reach = min(_past(sheet, beyond, line) for sheet in edge.sheets)
    lacking = []
    for step in closing:
        if step.act is Act.HAND_SEW:
            if pieces & set(step.pieces):
                return
            continue
        inside = [away for mark in step.mark if (away := _along(mark.line, line)) is not None]
        if not inside:
            continue
        needs = min(inside) + CATCHES
        if reach >= needs:
            return
        lacking.append(needs)
    known = facts(edge=edge.called, step=closing[0].called)
    amount = float(line.length)
    if lacking:
        known += facts(has=Mm(reach), needs=Mm(min(lacking)))
        amount = min(lacking) - reach
    yield Finding(
        "gap-edge-not-caught",
        Severity.CANNOT,
        known,
        variant="too-short" if lacking else "",
        amount=amount,
        place=place_of([line]),
        step=closing[0].number,
        piece=edge.sheets[0].piece,
    )


def _along(stitched: BaseGeometry, line: shapely.LineString) -> float | None:
    """How far inside a gap a line is stitched that runs along most of it, mm; None if none does."""
    near = stitched & line.buffer(FARTHEST, cap_style="flat")
    if float(near.length) < _MOST_OF_IT * line.length:
        return None
    return float(near.distance(line))


@lru_cache(maxsize=4)
def _beyond(seam: BaseGeometry, line: shapely.LineString) -> BaseGeometry:
    """What lies past the seam line straight across a gap."""
    within = substring(line, _END, line.length - _END) if line.length > 4 * _END else line
    return within.buffer(_FAR, cap_style="flat") - seam.buffer(_END / 10)


def _past(sheet: Sheet, beyond: BaseGeometry, line: shapely.LineString) -> float:
    """How far a sheet reaches past the seam line straight across a gap, mm."""
    raw = sheet.area.exterior & beyond
    return _FAR if raw.is_empty else float(raw.distance(line))


def _opens_outside(thing: FinishedThing) -> Iterator[Finding]:
    """What is turned to its lining first, with a gap that opens the outside as well.

    The outside would be held there by nothing but what closes the gap from within.
    """
    done, steps = thing.done, thing.project.steps
    if sum(step.act is Act.TURN for step in steps) < _TWICE:
        return
    spaces, plane = done.spaces, done.plane
    within = np.append(plane.within, False)[spaces.face]
    between = between_walls(done)
    # Through the zip the outside opens to the lining: that is no way past its own edge.
    beyond = ~within & (between | (np.arange(len(within)) == WORLD))
    outer = []
    for (a, b), edge in zip(spaces.joins.tolist(), spaces.crosses.tolist(), strict=True):
        ends = [node for node in (a, b) if beyond[node]]
        if -1 in plane.edges[edge].faces:  # at its very edge every space opens
            outer += [(node, WORLD) for node in ends]
        elif len(ends) > 1:
            outer.append((a, b))
    part = joined(len(spaces.face), np.array(outer, dtype=np.intp).reshape(-1, 2))
    for number in sorted(gap_ways(spaces)):
        a, b = spaces.joins[number].tolist()
        inner, out = (a, b) if within[a] else (b, a)
        if between[inner] and part[out] == part[WORLD]:
            last = max(sheet.step for sheet in done.sandwich.sheets)
            longest = max(plane.gaps, key=lambda one: float(one.length))
            yield Finding(
                "gap-opens-outside",
                Severity.CANNOT,
                facts(step=thing.project.step_called(last)),
                amount=float(longest.length),
                place=place_of([longest]),
                step=last,
            )
            return
