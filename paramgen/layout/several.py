"""Several copies of a project in one hooping: what is whose."""

from collections.abc import Sequence
from typing import TypeVar

import numpy as np

from paramgen.geometry.path import FloatArray, Path, quarter_turn
from paramgen.layout.project import Placement, Project

One = TypeVar("One")


def put(points: FloatArray, where: Placement) -> FloatArray:
    """Put points of a recipe, about its origin, where a copy lies."""
    return (quarter_turn(points) if where.turned else points) + np.array(where.move)


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


def of_first(project: Project, all_copies: Sequence[One]) -> Sequence[One]:
    """What belongs to the first copy, of what a step has for all of them."""
    return all_copies[: len(all_copies) // project.copies]
