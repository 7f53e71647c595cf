"""A posed solid as it is looked at from afar: which way it is turned, what lies before what.

It is seen without perspective, so a flat face stays true but for being squeezed. Two bodies that
a plane parts are drawn in the order in which they lie along its normal: that on the far side of
the plane hides nothing of the other. The plane is sought among those along the faces and edges of
the boxes round them, as for boxes any two that do not meet are parted by one of these (separating
axes, from memory).
"""

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from paramgen.solid.hinge_turns import standing
from paramgen.solid.posed_bodies import Posed, PosedBend, PosedPlate
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray

#: Lengths under this are none, mm.
_NONE = 1e-6

#: No more corners than this are looked at one by one.
_FEW = 12

PosedBody = PosedPlate | PosedBend


@dataclass(frozen=True)
class Gaze:
    """Which way a solid is turned before it is looked at.

    Parameters
    ----------
    turn : float
        About the upright, degrees: what was at the right comes to the front.
    tilt : float
        Then about the level, degrees: what was above comes to the front.
    """

    turn: float
    tilt: float

    @cached_property
    def matrix(self) -> FloatArray:
        """X right, y down, and z towards who looks, of what has been turned, shape (3, 3).

        Examples
        --------
        >>> np.allclose(Gaze(90, 0).matrix @ [1, 0, 0], [0, 0, 1])
        True
        >>> np.allclose(Gaze(0, 90).matrix @ [0, -1, 0], [0, 0, 1])
        True
        """
        a, b = np.radians(self.turn), np.radians(self.tilt)
        about_upright = np.array(
            [[np.cos(a), 0.0, -np.sin(a)], [0.0, 1.0, 0.0], [np.sin(a), 0.0, np.cos(a)]]
        )
        about_level = np.array(
            [[1.0, 0.0, 0.0], [0.0, np.cos(b), np.sin(b)], [0.0, -np.sin(b), np.cos(b)]]
        )
        return np.asarray(about_level @ about_upright)


def far_to_near(stands: Posed, gaze: Gaze) -> list[PosedBody]:
    """Everything of a solid in the order in which it is drawn, each over those before it."""
    bodies: list[PosedBody] = [*stands.plates, *stands.bends]
    boxes = [_boxed(body) for body in bodies]
    seen = [corners @ gaze.matrix.T for corners, _ in boxes]
    count = len(bodies)
    before: list[set[int]] = [set() for _ in range(count)]
    for one in range(count):
        for other in range(one):
            if not _may_cover(seen[one], seen[other]):
                continue
            if _nearer(boxes[one], boxes[other], gaze.matrix[2]):
                before[one].add(other)
            else:
                before[other].add(one)
    depth = [float(points[:, 2].mean()) for points in seen]
    left, order = set(range(count)), list[int]()
    while left:
        free = [k for k in left if not before[k] & left] or list(left)
        nearest = min(free, key=lambda k: (depth[k], k))
        order.append(nearest)
        left.remove(nearest)
    return [bodies[k] for k in order]


def _may_cover(one: FloatArray, other: FloatArray) -> bool:
    """Whether the rooms that two bodies take in the picture meet."""
    low = np.maximum(one[:, :2].min(axis=0), other[:, :2].min(axis=0))
    high = np.minimum(one[:, :2].max(axis=0), other[:, :2].max(axis=0))
    return bool((high - low > _NONE).all())


def _boxed(body: PosedBody) -> tuple[FloatArray, FloatArray]:
    """Corners of the box round a body, its own if they are few, and its directions in the rows."""
    if isinstance(body, PosedBend):
        points = np.concatenate([body.inner, body.outer]).reshape(-1, 3)
        along = body.outer[0, 1] - body.outer[0, 0]
        through = body.outer[0, 0] - body.inner[0, 0]
        across = np.cross(along, through)
        axes = np.array([_unit(along), _unit(through), _unit(across)])
        return points, axes
    rings = np.concatenate(body.rings)
    (left, top), (right, bottom) = rings.min(axis=0), rings.max(axis=0)
    corners = np.array([(left, top), (right, top), (right, bottom), (left, bottom)])
    if len(rings) <= _FEW:  # a triangle takes half of its box
        corners = rings
    both = [standing(body.place, corners, height) for height in (body.low, body.high)]
    return np.concatenate(both), body.place[:3, :3].T


def _unit(way: FloatArray) -> FloatArray:
    return np.asarray(way / (np.linalg.norm(way) or 1.0))


def _nearer(
    one: tuple[FloatArray, FloatArray], other: tuple[FloatArray, FloatArray], way: FloatArray
) -> bool:
    """Whether one body lies nearer than another to who looks, along the way to them."""
    (points, axes), (others, more) = one, other
    crossed = np.cross(axes[:, np.newaxis], more[np.newaxis]).reshape(-1, 3)
    long = np.linalg.norm(crossed, axis=1) > 1e-3
    found = np.concatenate([axes, more, crossed[long]])
    found = found / np.linalg.norm(found, axis=1, keepdims=True)
    mine, theirs = points @ found.T, others @ found.T
    above = mine.min(axis=0) - theirs.max(axis=0)
    under = theirs.min(axis=0) - mine.max(axis=0)
    gaps = np.maximum(above, under)
    # Of those that part them, the one that is looked at most from in front.
    towards = found @ way
    parts = gaps > -1e-4
    best = int(np.argmax(np.where(parts, 1.0 + np.abs(towards), gaps * 1e-3)))
    if abs(towards[best]) < _NONE:
        return bool(points.mean(axis=0) @ way > others.mean(axis=0) @ way)
    return bool((above[best] >= under[best]) == (towards[best] > 0))


def bodies_of(stands: Posed) -> Sequence[PosedBody]:
    """Its plates and its bends."""
    return (*stands.plates, *stands.bends)
