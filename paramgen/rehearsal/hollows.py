"""The spaces between sheets, joined where nothing holds them apart: the hollows."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from paramgen.rehearsal.faces import FaceEdge, Plane

#: The node of the world outside the trimmed work.
WORLD = 0

SpaceNode = int


@dataclass(frozen=True)
class SpaceLink:
    """A way from one space to another across an edge.

    Parameters
    ----------
    edge : int
        Index of the edge.
    a, b : int
        Nodes.
    """

    edge: int
    a: SpaceNode
    b: SpaceNode


@dataclass(frozen=True, eq=False, kw_only=True)
class Spaces:
    """Every space of every face as a node, and the ways between them.

    The spaces of a face are numbered from the back: space k lies between its (k-1)th and
    kth sheet. Node 0 is the world.

    Parameters
    ----------
    plane : Plane
    first : array of int, shape (faces,)
        Node of the backmost space of each face.
    face : array of int, shape (nodes,)
        Face of each node; -1 for the world.
    below, above : array of int, shape (nodes,)
        Sheets behind and in front of each space; -1 where there is none.
    ways : tuple of SpaceLink
    """

    plane: Plane
    first: NDArray[np.intp]
    face: NDArray[np.intp]
    below: NDArray[np.intp]
    above: NDArray[np.intp]
    ways: tuple[SpaceLink, ...]

    @cached_property
    def joins(self) -> NDArray[np.intp]:
        """The two nodes of each way, shape (ways, 2)."""
        return np.array([(way.a, way.b) for way in self.ways], dtype=np.intp).reshape(-1, 2)


def spaces(plane: Plane) -> Spaces:
    """Number the spaces and find every way between two of them."""
    stacks = [plane.stack(number) for number in range(len(plane.areas))]
    first, face, below, above = [], [-1], [-1], [-1]
    for number, stack in enumerate(stacks):
        first.append(len(face))
        for under, over in zip([-1, *stack], [*stack, -1], strict=True):
            face.append(number)
            below.append(under)
            above.append(over)
    # Edges between the same faces that bind and fold the same join the same spaces.
    known: dict[tuple[object, ...], list[tuple[SpaceNode, SpaceNode]]] = {}
    ways = []
    for index, edge in enumerate(plane.edges):
        key = (edge.faces, edge.binds, edge.fold, edge.zipped)
        if key not in known:
            known[key] = list(_across(plane, stacks, first, edge))
        ways += [SpaceLink(index, a, b) for a, b in known[key]]
    start, of, under_it, over_it = (
        np.array(values, dtype=np.intp) for values in (first, face, below, above)
    )
    return Spaces(
        plane=plane, first=start, face=of, below=under_it, above=over_it, ways=tuple(ways)
    )


def _across(
    plane: Plane, stacks: Sequence[list[int]], first: Sequence[SpaceNode], edge: FaceEdge
) -> Iterator[tuple[SpaceNode, SpaceNode]]:
    """Pairs of spaces that meet at an edge.

    Sheets in both faces go on across the edge, the others end at it. Between two that go
    on, all spaces of both faces meet round the ends of those that do not, unless a stitch
    binds the two; the inside of a fold meets nothing at its fold.
    """
    f, g = edge.faces
    if f == g:
        return
    stack_f, stack_g = (stacks[face] if face >= 0 else [] for face in (f, g))
    names_f, names_g = _identities(plane, edge, stack_f), _identities(plane, edge, stack_g)
    place_f = {name: place for place, name in reversed(list(enumerate(names_f)))}
    place_g = {name: place for place, name in reversed(list(enumerate(names_g)))}
    common = [name for name in names_f if name in place_g]
    at_f = [-1, *(place_f[name] for name in common), len(stack_f)]
    at_g = [-1, *(place_g[name] for name in common), len(stack_g)]
    for place in range(len(common) + 1):
        low, high = at_f[place], at_f[place + 1]
        if edge.binds and 0 < place < len(common):
            under, over = stack_f[low], stack_f[high]
            if edge.binds[0] <= under and over <= edge.binds[1]:
                continue
        group = [
            *_group(plane, edge, first, f, stack_f, low, high),
            *_group(plane, edge, first, g, stack_g, at_g[place], at_g[place + 1]),
        ]
        for other in group[1:]:
            yield group[0], other


def _group(
    plane: Plane,
    edge: FaceEdge,
    first: Sequence[SpaceNode],
    face: int,
    stack: list[int],
    low: int,
    high: int,
) -> list[SpaceNode]:
    """Nodes of a face between two of its sheets that go on; the fold's inside left out."""
    if face < 0:
        return [WORLD]
    sheets = plane.sandwich.sheets
    nodes = []
    for space in range(low + 1, high + 1):
        if 0 < space < len(stack):
            under, over = sheets[stack[space - 1]], sheets[stack[space]]
            if under.layer == over.layer and under.layer in edge.fold:
                continue
        nodes.append(first[face] + space)
    return nodes


def _identities(plane: Plane, edge: FaceEdge, stack: list[int]) -> list[int]:
    """What tells each sheet that goes on: beyond its stops the two tapes of a zip are one."""
    if not edge.zipped:
        return stack
    sheets = plane.sandwich.sheets
    starts = {
        layer: min(i for i, sheet in enumerate(sheets) if sheet.layer == layer)
        for layer in edge.zipped
    }
    return [starts.get(sheets[sheet].layer, sheet) for sheet in stack]


def hollows(spaces: Spaces, closed: frozenset[int] = frozenset()) -> NDArray[np.intp]:
    """Hollow of each node: the least of the nodes that are joined with it; the world is 0.

    Parameters
    ----------
    closed : frozenset of int
        Ways, by their place in `spaces.ways`, that are taken to be closed.
    """
    is_open = np.ones(len(spaces.ways), dtype=bool)
    is_open[list(closed)] = False
    return joined(len(spaces.face), spaces.joins[is_open])


def joined(count: int, pairs: NDArray[np.intp]) -> NDArray[np.intp]:
    """For each of so many nodes the least of those that pairs join it with, one after another.

    Parameters
    ----------
    count : int
    pairs : array of int, shape (n, 2)
    """
    least = np.arange(count, dtype=np.intp)
    a, b = pairs.T
    while True:
        low, high = np.minimum(least[a], least[b]), np.maximum(least[a], least[b])
        if np.array_equal(low, high):
            return least
        # What stands for a node is brought down too, so that long chains close in a few turns.
        for nodes in (high, a, b):
            np.minimum.at(least, nodes, low)
        least = least[least]
