"""What one of several copies on a sheet claims of it, and how far it keeps from the next.

Between the seams of two copies lie two trim allowances and a cut: `CUT` from trim line to trim
line. At a turning gap nothing is trimmed before the work is turned, so that a copy claims the
whole allowance there. What a copy has for itself, its own pieces and their tape, it claims too.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.copies.shared_sheets import is_sheet_step
from paramgen.layout.layers import TAPE_LENGTH
from paramgen.layout.turning_gaps import PAST_GAP, gaps_in, is_open_edge
from paramgen.lengths import TOLERANCE
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Project, Step

#: Kept free between the trim lines of two copies on one sheet, mm: room for scissors to part
#: them before each is trimmed (common practice, no source).
CUT = 3.0
#: Past its piece a strip of tape reaches so far at least, mm, where the next copy is so near that
#: it is cut short (common practice, no source).
SHORT_TAPE = 4.0


def claim_of(project: Project, sheets: frozenset[str]) -> BaseGeometry:
    """What a copy claims of the hoop where it lies, without what is kept free round it.

    Parameters
    ----------
    project : Project
        One copy.
    sheets : frozenset of str
        The pieces that are one sheet over all copies.
    """
    return shapely.union_all(list(_claims(project, sheets)))


def _claims(project: Project, sheets: frozenset[str]) -> Iterator[BaseGeometry]:
    assert project.finish.trimmed is not None
    yield project.finish.trimmed.area
    yield from _left_at_gaps(project, sheets)
    for place, step in enumerate(project.steps):
        for line in step.lines:
            for path in line.paths:
                yield (path.area if path.closed else path.line).buffer(line.stitch.aside)
        if is_sheet_step(step, sheets):
            continue
        yield from (layer.outline.area for layer in step.layers)
        yield from (short(strip, project.steps[: place + 1], step) for strip in step.tape)
    for notion in project.notions:
        reach = max(notion.clearance, (notion.width or 0.0) / 2)
        yield from (shapely.Point(at).buffer(reach) for at in (*notion.halves, *notion.at))


def _left_at_gaps(project: Project, sheets: frozenset[str]) -> Iterator[BaseGeometry]:
    """What is not trimmed outside the turning gaps: as deep as the least allowance there."""
    edges = [
        layer.outline.area
        for step in project.steps
        for layer in step.layers
        if layer.piece in sheets
    ]
    room = shapely.intersection_all(edges)
    for gap in gaps_in(project, (project.seam,)):
        if is_open_edge(project.seam, gap.line):
            continue  # it is trimmed with all the rest
        run = project.seam.line & gap.line.buffer(PAST_GAP)
        deep = float(run.distance(room.boundary))
        beside = run.buffer(deep, cap_style="flat", join_style="mitre") - project.seam.area
        yield beside & room


def short(strip: Path, steps: Sequence[Step], taping: Step) -> BaseGeometry:
    """What a strip of tape takes at least: it can be cut short where the next copy is near."""
    held = [one for step in steps for one in step.layers if one.piece in taping.taped]
    beside = shapely.union_all([layer.outline.area for layer in held])
    return strip.area & beside.buffer(SHORT_TAPE, join_style="mitre")


def tape_cut_short(
    copies: Sequence[Project], sheets: frozenset[str]
) -> tuple[tuple[Project, ...], bool]:
    """Cut strips of copies' own tape short where they would lie on what the next copy claims.

    Returns
    -------
    copies : tuple of Project
    any : bool
        Whether any strip was cut short.
    """
    claims = [claim_of(one, sheets) for one in copies]
    tree = shapely.STRtree(claims)
    found, cut = [], False
    for which, one in enumerate(copies):
        steps = []
        for place, step in enumerate(one.steps):
            if step.act is Act.TAPE and step.tape and not is_sheet_step(step, sheets):
                strips = []
                for strip in step.tape:
                    room = strip.area.buffer(TAPE_LENGTH)
                    near = [i for i in tree.query(room).tolist() if i != which]
                    # Of what is free between two copies each has half.
                    others = shapely.union_all(
                        [claims[i].buffer(claims[i].distance(claims[which]) / 2) for i in near]
                    )
                    left = _clear_of(strip, one.steps[: place + 1], step, others)
                    cut = cut or left is not strip
                    strips.append(left)
                step = replace(step, tape=tuple(strips))  # noqa: PLW2901
            steps.append(step)
        found.append(replace(one, steps=tuple(steps)))
    return tuple(found), cut


def _clear_of(strip: Path, steps: Sequence[Step], taping: Step, others: BaseGeometry) -> Path:
    """A strip that ends before what others claim, beyond the piece that it holds."""
    over = strip.area & others
    if over.area <= TOLERANCE:
        return strip
    # The longest box of the strip that keeps clear, from the end that lies on the piece.
    left, top, right, bottom = strip.bounds
    kept_x, kept_y = _middle(short(strip, steps, taping))
    box = Box(*over.bounds)
    if right - left >= bottom - top:
        right, left = (
            (min(right, box.left), left) if box.left >= kept_x else (right, max(left, box.right))
        )
    else:
        bottom, top = (
            (min(bottom, box.top), top) if box.top >= kept_y else (bottom, max(top, box.bottom))
        )
    corners = np.array([(left, top), (right, top), (right, bottom), (left, bottom)])
    return Path(corners, closed=True)


def _middle(area: BaseGeometry) -> tuple[float, float]:
    box = Box(*area.bounds)
    return box.centre
