"""The spaces between sheets, joined where nothing holds them apart: the hollows."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from paramgen.rehearsal.faces import Edge, Plane

#: The node of the world outside the trimmed work.
WORLD = 0

Node = int


@dataclass(frozen=True)
class Way:
    """A way from one space to another across an edge.

    Parameters
    ----------
    edge : int
        Index of the edge.
    a, b : int
        Nodes.
    """

    edge: int
    a: Node
    b: Node


@dataclass(frozen=True, eq=False)
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
    ways : tuple of Way
    """

    plane: Plane
    first: NDArray[np.intp]
    face: NDArray[np.intp]
    below: NDArray[np.intp]
    above: NDArray[np.intp]
    ways: tuple[Way, ...]


def spaces(plane: Plane) -> Spaces:
    """Number the spaces and find every way between two of them."""
    first, face, below, above = [], [-1], [-1], [-1]
    for number in range(len(plane.areas)):
        stack = plane.stack(number)
        first.append(len(face))
        for under, over in zip([-1, *stack], [*stack, -1], strict=True):
            face.append(number)
            below.append(under)
            above.append(over)
    start = np.array(first, dtype=np.intp)
    ways = tuple(
        Way(index, a, b)
        for index, edge in enumerate(plane.edges)
        for a, b in _across(plane, start, edge)
    )
    as_array = [np.array(values, dtype=np.intp) for values in (face, below, above)]
    return Spaces(plane, start, as_array[0], as_array[1], as_array[2], ways)


def _across(plane: Plane, first: NDArray[np.intp], edge: Edge) -> Iterator[tuple[Node, Node]]:
    """Pairs of spaces that meet at an edge.

    Sheets in both faces go on across the edge, the others end at it. Between two that go
    on, all spaces of both faces meet round the ends of those that do not, unless a stitch
    binds the two; the inside of a fold meets nothing at its fold.
    """
    f, g = edge.faces
    if f == g:
        return
    stack_f, stack_g = plane.stack(f), plane.stack(g)
    identity = _identities(plane, edge)
    names_f, names_g = [identity(s) for s in stack_f], [identity(s) for s in stack_g]
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
    edge: Edge,
    first: NDArray[np.intp],
    face: int,
    stack: list[int],
    low: int,
    high: int,
) -> list[Node]:
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
        nodes.append(int(first[face]) + space)
    return nodes


def _identities(plane: Plane, edge: Edge) -> Callable[[int], int]:
    """How to tell a sheet that goes on: the two tapes of a zip are one beyond its stops."""
    sheets = plane.sandwich.sheets
    starts = {
        layer: min(i for i, sheet in enumerate(sheets) if sheet.layer == layer)
        for layer in edge.zipped
    }

    def identity(sheet: int) -> int:
        return starts.get(sheets[sheet].layer, sheet)

    return identity


class Joined:
    """Sets of nodes, joined two at a time."""

    def __init__(self, count: int) -> None:
        self._parent = list(range(count))

    def root(self, node: Node) -> Node:
        """One node that stands for all that are joined with this one."""
        while self._parent[node] != node:
            self._parent[node] = self._parent[self._parent[node]]
            node = self._parent[node]
        return node

    def join(self, a: Node, b: Node) -> None:
        """Make one set of two."""
        first, second = sorted((self.root(a), self.root(b)))
        self._parent[second] = first


def hollows(spaces: Spaces, closed: frozenset[int] = frozenset()) -> NDArray[np.intp]:
    """Hollow of each node: the number of a node that stands for it; the world is 0.

    Parameters
    ----------
    closed : frozenset of int
        Ways, by their place in `spaces.ways`, that are taken to be closed.
    """
    joined = Joined(len(spaces.face))
    for number, way in enumerate(spaces.ways):
        if number not in closed:
            joined.join(way.a, way.b)
    return np.array([joined.root(node) for node in range(len(spaces.face))], dtype=np.intp)
