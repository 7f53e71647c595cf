"""Which side of a closed thing is its front."""

from shapely.geometry.base import BaseGeometry

from paramgen.finished.finished_thing import OTHER, FinishedThing
from paramgen.finished.fold_room import over_what_is_held
from paramgen.vocabulary.kinds import Side


def front_when_closed(thing: FinishedThing, stays: BaseGeometry) -> Side:
    """Say from which side of what stays where it lay the front of the closed thing is seen.

    The side that a flap closes over is the front. Of what opens like a book it is the half that
    lies on the right when it is open and seen from outside, as of a book that is read from left
    to right; common practice, no source. Of all else it is the outer side of what stays.

    Parameters
    ----------
    thing : FinishedThing
        Turned, with a fold.
    stays : BaseGeometry
        What the first fold leaves where it lay, mm.
    """
    outer, folds = thing.outer, thing.project.finish.folds
    if over_what_is_held(thing, folds[-1]) is not None:
        return OTHER[outer]
    (ax, ay), (bx, by) = folds[0]
    if abs(bx - ax) > abs(by - ay):
        return outer
    on_right = float(stays.centroid.x) > ax
    # From the back of the hoop left and right change places.
    return outer if on_right == (outer is Side.FRONT) else OTHER[outer]
