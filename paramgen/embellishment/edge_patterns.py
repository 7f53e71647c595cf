"""Edge lines in one repeat: how far along the edge each point lies, and how far from the line.

A repeat begins and ends on the line, and is as long as it is asked for or a little more or less, so
that a whole number of them fills a side: what stands at one corner stands at every other.
"""

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray

#: Points along one curve of a repeat: chords leave it by less than a needle point on the grid does.
_CURVE = 32
#: Barbs of a feather lie back at this angle to the line, degrees (common practice, no source).
_BARB = 45.0


@dataclass(frozen=True, kw_only=True)
class EdgePattern:
    """How an edge line looks.

    Parameters
    ----------
    name, means : str
    repeat : float
        Length of one repeat unless it is asked for, mm.
    deep : float
        How far it reaches from the line, as a share of the repeat, unless it is asked for.
    outward, inward : bool
        Whether it reaches out from the line, towards the edge of the panel, and in from it.
    pair : bool
        Whether a side has an even number of repeats: they lie to one side and to the other by
        turns.
    drawn : callable
        From length and depth of a repeat, mm, and its number to its points but for the last, which
        is the next one's first: along the line, and out from it, shape (n, 2). Every other one is
        the same.
    """

    name: str
    means: str
    repeat: float
    deep: float
    outward: bool
    inward: bool
    pair: bool
    drawn: Callable[[float, float, int], FloatArray]


def _straight(length: float, depth: float, number: int) -> FloatArray:
    del length, depth, number
    return np.array([[0.0, 0.0]])


def _scallop(length: float, depth: float, number: int) -> FloatArray:
    """A circular arc over a repeat, so high."""
    del number
    radius = (length * length / 4 + depth * depth) / (2 * depth)
    half = math.asin(min(1.0, length / 2 / radius))
    half = half if depth <= length / 2 else math.pi - half
    angle = np.linspace(-half, half, _CURVE, endpoint=False)
    along = length / 2 + radius * np.sin(angle)
    return np.stack([along, radius * np.cos(angle) - (radius - depth)], axis=1)


def _wave(length: float, depth: float, number: int) -> FloatArray:
    del number
    share = np.linspace(0.0, 1.0, _CURVE, endpoint=False)
    return np.stack([length * share, depth * np.sin(2 * math.pi * share)], axis=1)


def _feather(length: float, depth: float, number: int) -> FloatArray:
    """On along the line, and a barb that lies back, out and in by turns."""
    side = 1.0 if number % 2 == 0 else -1.0
    back = depth / math.tan(math.radians(_BARB))
    tip = [length / 2 - back, side * depth]
    return np.array([[0.0, 0.0], [length / 2, 0.0], tip, [length / 2, 0.0]])


def _blanket(length: float, depth: float, number: int) -> FloatArray:
    """A bite inward at the middle of each repeat."""
    del number
    return np.array([[0.0, 0.0], [length / 2, 0.0], [length / 2, -depth], [length / 2, 0.0]])


EDGE_PATTERNS: Mapping[str, EdgePattern] = MappingProxyType(
    {
        one.name: one
        for one in (
            EdgePattern(
                name="straight",
                means="a line along the edge",
                repeat=20.0,
                deep=0.0,
                outward=False,
                inward=False,
                pair=False,
                drawn=_straight,
            ),
            EdgePattern(
                name="scallop",
                means="arcs that bulge towards the edge",
                repeat=12.0,
                deep=0.3,
                outward=True,
                inward=False,
                pair=False,
                drawn=_scallop,
            ),
            EdgePattern(
                name="wave",
                means="a wave that swings to either side of its line",
                repeat=12.0,
                deep=0.18,
                outward=True,
                inward=True,
                pair=False,
                drawn=_wave,
            ),
            EdgePattern(
                name="feather",
                means="a line with barbs out and in by turns",
                repeat=5.0,
                deep=0.6,
                outward=True,
                inward=True,
                pair=True,
                drawn=_feather,
            ),
            EdgePattern(
                name="blanket",
                means="a line with bites inward from it",
                repeat=5.0,
                deep=0.8,
                outward=False,
                inward=True,
                pair=False,
                drawn=_blanket,
            ),
        )
    }
)
