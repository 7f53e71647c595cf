"""The spaces between sheets, joined where nothing holds them apart: the hollows."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from paramgen.rehearsal.faces import FaceEdge, Plane
from paramgen.vocabulary.frozen_data import dataclass

#: The node of the world outside the trimmed work.
WORLD = 0

#: One of the two faces of an edge, 0 or 1, and the number of a space in it.
SideSpace = tuple[int, int]


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
    joins : array of int, shape (ways, 2)
        The two nodes that each way leads between.
    crosses : array of int, shape (ways,)
        Index of the edge that each way crosses; they come in the order of the edges.
    """

    plane: Plane
    first: NDArray[np.intp]
    face: NDArray[np.intp]
    below: NDArray[np.intp]
    above: NDArray[np.intp]
    joins: NDArray[np.intp]
    crosses: NDArray[np.intp]


def spaces(plane: Plane) -> Spaces:
    """Number the spaces and find every way between two of them."""
    first, face, below, above = [], [-1], [-1], [-1]
    for number, stack in enumerate(plane.stacks):
        first.append(len(face))
        face += [number] * (len(stack) + 1)
        below += [-1, *stack]
        above += [*stack, -1]
    start, of, under_it, over_it = (
        np.array(values, dtype=np.intp) for values in (first, face, below, above)
    )
    joins, crosses = _ways(plane, start)
    return Spaces(
        plane=plane,
        first=start,
        face=of,
        below=under_it,
        above=over_it,
        joins=joins,
        crosses=crosses,
    )


def _ways(plane: Plane, first: NDArray[np.intp]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """The two nodes of every way, and the edge that it crosses."""
    # Edges between the same stacks that bind and fold the same join the same spaces of them.
    alike: dict[tuple[object, ...], tuple[int, int]] = {}
    pairs: list[tuple[SideSpace, SideSpace]] = []
    found: list[tuple[int, int, int]] = []
    for index, edge in enumerate(plane.edges):
        f, g = edge.faces
        if f == g:
            continue
        # The world has no stack, and other faces may have an empty one.
        key = (f < 0, g < 0, plane.stack(f), plane.stack(g), edge.binds, edge.fold, edge.zipped)
        if key not in alike:
            before = len(pairs)
            pairs += _across(plane, edge)
            alike[key] = before, len(pairs) - before
        found.append((index, *alike[key]))
    edges, begin, many = np.array(found, dtype=np.intp).reshape(-1, 3).T
    crosses = np.repeat(edges, many)
    ends = np.cumsum(many)
    place = np.arange(len(crosses)) - np.repeat(ends - many, many) + np.repeat(begin, many)
    side, space = np.array(pairs, dtype=np.intp).reshape(-1, 2, 2)[place].transpose(2, 0, 1)
    start = np.append(first, WORLD)  # of the world outside, whose face is -1
    return start[plane.faces[crosses[:, np.newaxis], side]] + space, crosses


def _across(plane: Plane, edge: FaceEdge) -> Iterator[tuple[SideSpace, SideSpace]]:
    """Pairs of spaces that meet at an edge.

    Sheets in both faces go on across the edge, the others end at it. Between two that go
    on, all spaces of both faces meet round the ends of those that do not, unless a stitch
    binds the two; the inside of a fold meets nothing at its fold.
    """
    stack_f, stack_g = (plane.stack(face) for face in edge.faces)
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
            *_group(plane, edge, 0, low, high),
            *_group(plane, edge, 1, at_g[place], at_g[place + 1]),
        ]
        for other in group[1:]:
            yield group[0], other


def _group(plane: Plane, edge: FaceEdge, side: int, low: int, high: int) -> list[SideSpace]:
    """Spaces of a face between two of its sheets that go on; the fold's inside left out."""
    if edge.faces[side] < 0:
        return [(side, 0)]
    if not edge.fold:
        return [(side, space) for space in range(low + 1, high + 1)]
    sheets, stack = plane.sandwich.sheets, plane.stack(edge.faces[side])
    spaces = []
    for space in range(low + 1, high + 1):
        if 0 < space < len(stack):
            under, over = sheets[stack[space - 1]], sheets[stack[space]]
            if under.layer == over.layer and under.layer in edge.fold:
                continue
        spaces.append((side, space))
    return spaces


def _identities(plane: Plane, edge: FaceEdge, stack: Sequence[int]) -> Sequence[int]:
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
        Ways, by their place in `spaces.joins`, that are taken to be closed.
    """
    is_open = np.ones(len(spaces.joins), dtype=bool)
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
