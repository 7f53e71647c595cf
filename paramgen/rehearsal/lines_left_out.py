"""Stitched lines that need not cut the plane: they neither open nor close anything that shows.

Let a line bind sheets of one wall alone: everything laid before it lies on one side of the hollow
that becomes the outside. Along it the spaces between those sheets are parted, and no others. So
the plane cut by it and the plane not cut by it differ by two things alone. Faces that it would
part are one; each has the same stack on both sides, and every space that the line does not bind
would be joined with itself across it. And ways are added, each of them between two bound spaces.

If, with those ways, no bound space is part of the outside, then none of them leads to the outside
or out of it: the outside is joined by the ways that there are without them, and is the same. With
the turning gap open it must reach the world by ways that pass no bound space: those are there in
either plane.

What else is asked of spaces: what is held in them, so nothing may be held against a sheet that is
bound; and which way a zip lets a hand out of a wall, so there may be no zip. How thick a closed
thing is, is looked at in each face and where folds lay it, so nothing may be folded or stand out;
then one spot of a face is as good as another.

Where any of this does not hold, every line cuts the plane.
"""

import numpy as np
from numpy.typing import NDArray

from paramgen.rehearsal.hollows import Spaces
from paramgen.rehearsal.sheets import Sandwich
from paramgen.vocabulary.kinds import FinishWay
from paramgen.vocabulary.path import BoolArray
from paramgen.vocabulary.project import Project


def lines_left_out(project: Project, pile: Sandwich) -> frozenset[int]:
    """Lines that bind sheets of one wall alone, by their places in `Sandwich.sewn`."""
    finish = project.finish
    if finish.way is not FinishWay.TURNED or finish.folds or finish.stands_out or pile.slits:
        return frozenset()
    against = {held.against for held in project.holds}
    of_walls = _of_walls(project, pile)
    laid = np.array([sheet.step for sheet in pile.sheets])
    held = np.array([sheet.piece in against for sheet in pile.sheets], dtype=bool)
    return frozenset(
        number
        for number, sewn in enumerate(pile.sewn)
        for before in [laid < sewn.step]
        if not (before & held).any() and any((wall | ~before).all() for wall in of_walls)
    )


def bound_spaces(
    project: Project, pile: Sandwich, spaces: Spaces, lines: frozenset[int]
) -> NDArray[np.intp]:
    """Spaces that lines left out may part: all between sheets of a wall laid before the last."""
    last = max(pile.sewn[number].step for number in lines)
    before = np.array([sheet.step < last for sheet in pile.sheets] + [False])
    bound = np.zeros(len(spaces.face), dtype=bool)
    for wall in _of_walls(project, pile):
        of_it = np.append(wall, False) & before  # the last for where there is no sheet
        bound |= of_it[spaces.below] & of_it[spaces.above]
    return np.flatnonzero(bound)


def _of_walls(project: Project, pile: Sandwich) -> list[BoolArray]:
    """Which sheets belong to each of the two walls: none where one of them is not laid."""
    places = [
        [place for place, sheet in enumerate(pile.sheets) if sheet.piece == name]
        for name in project.finish.between
    ]
    if len(places) != 2 or not all(places):
        return []
    low, high = sorted(places)
    order = np.arange(len(pile.sheets))
    return [order <= max(low), order >= min(high)]
