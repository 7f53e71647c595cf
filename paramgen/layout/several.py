"""Several copies of a project in one hooping: what is whose."""

from dataclasses import replace
from typing import TypeVar

import numpy as np

from paramgen.geometry.path import FloatArray, Path, quarter_turn
from paramgen.layout.project import Placement, Project

One = TypeVar("One")


def put(points: FloatArray, where: Placement) -> FloatArray:
    """Put points of a recipe, about its origin, where a copy lies."""
    turned = quarter_turn(points) if where.turned else points
    return np.asarray(turned + np.array(where.move), dtype=np.float64)


def taken(points: FloatArray, where: Placement) -> FloatArray:
    """Undo `put`."""
    back = points - np.array(where.move)
    return np.stack([back[:, 1], -back[:, 0]], axis=1) if where.turned else back


def seams(project: Project) -> tuple[Path, ...]:
    """The outline that closes each copy, without its gaps."""
    first, *others = project.placed
    if not others:
        return (project.seam,)
    own = taken(project.seam.points, first)
    return (project.seam, *(Path(put(own, where), closed=True) for where in others))


def first_of(project: Project) -> Project:
    """The first copy alone, where it lies; pieces and notions are still as many as for all."""
    if project.copies == 1:
        return project
    count = project.copies
    return replace(
        project,
        steps=tuple(
            replace(
                step,
                lines=_share(step.lines, count),
                layers=_share(step.layers, count),
                tape=_share(step.tape, count),
                mark=_share(step.mark, count),
            )
            for step in project.steps
        ),
        notions=tuple(
            replace(one, halves=_share(one.halves, count), at=_share(one.at, count))
            for one in project.notions
        ),
        turned=project.placed[0].turned,
        placed=project.placed[:1],
    )


def _share(every: tuple[One, ...], copies: int) -> tuple[One, ...]:
    """What is the first copy's of what is all copies'."""
    return every[: len(every) // copies]
