"""Several copies of a project in one hooping: what is whose."""

from dataclasses import replace
from typing import TypeVar

import numpy as np

from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import FloatArray, Path, quarter_turn
from paramgen.vocabulary.project import Layer, Placement, Project

PerCopy = TypeVar("PerCopy")


def put(points: FloatArray, where: Placement) -> FloatArray:
    """Put points of a recipe, about its origin, where a copy lies.

    Examples
    --------
    The top of a project that lies turned is at the right, and half-turned besides at the left:

    >>> top = np.array([[0.0, -5.0]])
    >>> put(top, Placement(True, (1.0, 0.0), False)).tolist()
    [[6.0, 0.0]]
    >>> put(top, Placement(True, (1.0, 0.0), True)).tolist()
    [[-4.0, 0.0]]
    >>> put(np.empty((0, 2)), Placement(True)).tolist()
    []
    """
    turned = quarter_turn(points) if where.turned else points
    turned = -turned if where.half else turned
    return np.asarray(turned + np.array(where.move), dtype=np.float64)


def taken(points: FloatArray, where: Placement) -> FloatArray:
    """Undo `put`.

    Examples
    --------
    >>> where = Placement(True, (1.0, 2.0), True)
    >>> taken(put(np.array([[3.0, -5.0]]), where), where).tolist()
    [[3.0, -5.0]]
    """
    back = points - np.array(where.move)
    back = -back if where.half else back
    return np.stack([back[:, 1], -back[:, 0]], axis=1) if where.turned else back


def seams(project: Project) -> tuple[Path, ...]:
    """The outline that closes each copy, without its gaps."""
    first, *others = project.placed
    if not others:
        return (project.seam,)
    own = taken(project.seam.points, first)
    return (project.seam, *(Path(put(own, where), closed=True) for where in others))


def sewn_across(project: Project) -> tuple[Path, ...]:
    """Where the corners of each copy are sewn across once it is out of the hoop."""
    boxed = project.finish.boxed
    if boxed is None or not any(step.act is Act.BOX for step in project.steps):
        return ()
    first, *others = project.placed
    own = [np.array(one) for one in boxed.seams]
    found = [*own]
    found += [put(taken(one, first), where) for where in others for one in own]
    return tuple(Path(points, closed=False) for points in found)


def first_of(project: Project) -> Project:
    """The first copy alone, where it lies; pieces and notions are still as many as for all.

    Of one sheet over all copies it has its own share.
    """
    if project.copies == 1:
        return project
    count = project.copies
    return replace(
        project,
        steps=tuple(
            replace(
                step,
                lines=_share(step.lines, count),
                layers=_cut_apart(step.layers) if step.over_all else _share(step.layers, count),
                tape=step.tape_alone if step.over_all else _share(step.tape, count),
                over_all=False,
                tape_alone=(),
                mark=_share(step.mark, count),
            )
            for step in project.steps
        ),
        notions=tuple(
            replace(
                one,
                halves=_share(one.halves, count),
                at=_share(one.at, count),
                hangs=_share(one.hangs, count),
                over_edge=_share(one.over_edge, count),
                fused_to=_share(one.fused_to, count),
            )
            for one in project.notions
        ),
        turned=project.placed[0].turned,
        placed=project.placed[:1],
    )


def _cut_apart(sheets: tuple[Layer, ...]) -> tuple[Layer, ...]:
    """The first copy's share of each sheet."""
    return tuple(replace(sheet, outline=sheet.shares[0], shares=()) for sheet in sheets)


def _share(every: tuple[PerCopy, ...], copies: int) -> tuple[PerCopy, ...]:
    """What is the first copy's of what is all copies'."""
    return every[: len(every) // copies]
