"""Which hollow becomes the outside, and where it is not closed against the inside."""

from collections import deque
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from paramgen.findings import Finding, Severity
from paramgen.layout.project import Project
from paramgen.rehearsal.faces import NEAR, Plane, plane
from paramgen.rehearsal.hollows import WORLD, Spaces, hollows, spaces
from paramgen.rehearsal.places import place_of
from paramgen.rehearsal.sheets import Sandwich, sandwich

#: Leaks looked for before giving up; each is blocked before the next is sought.
MOST_LEAKS = 12


@dataclass(frozen=True, eq=False)
class Rehearsed:
    """A project worked through to its end.

    Parameters
    ----------
    project : Project
    sandwich : Sandwich
    plane : Plane
    spaces : Spaces
    hollow : array of int, shape (nodes,)
        Hollow of each space once the turning gap is closed and the leaks found are mended.
    outside : int
        The hollow that is the outside of the finished thing.
    leaks : tuple of Finding
        Where the outside opens to the hidden inside.
    """

    project: Project
    sandwich: Sandwich
    plane: Plane
    spaces: Spaces
    hollow: NDArray[np.intp]
    outside: int
    leaks: tuple[Finding, ...]

    @property
    def turned(self) -> bool:
        """Whether it is turned at all."""
        return self.project.finish.way == "turned"

    def indices(self, piece: str) -> list[int]:
        """Sheets of a piece, from the back to the front."""
        return [i for i, sheet in enumerate(self.sandwich.sheets) if sheet.piece == piece]

    def shows(self, node: int) -> bool:
        """Whether a space is part of the outside."""
        return bool(self.hollow[node] == self.outside)


def work_through(project: Project) -> Rehearsed:
    """Work a project through: pile up, cut, join, and close the turning gap."""
    pile = sandwich(project)
    cut = plane(project, pile)
    between = spaces(cut)
    if project.finish.way != "turned":
        return Rehearsed(project, pile, cut, between, hollows(between), WORLD, ())
    closed = _gap_edges(cut)
    seeds = _seeds(project, pile, between)
    leaks: list[Finding] = []
    found = hollows(between, frozenset(closed))
    outside = int(found[seeds[0]]) if seeds else WORLD
    while seeds and outside == WORLD and len(leaks) < MOST_LEAKS:
        finding, edges = _leak(between, seeds, frozenset(closed))
        leaks.append(finding)
        if not edges:
            break
        closed |= edges
        found = hollows(between, frozenset(closed))
        outside = int(found[seeds[0]])
    return Rehearsed(project, pile, cut, between, found, outside, tuple(leaks))


def _gap_edges(cut: Plane) -> set[int]:
    """Edges of the seam line that are left open for turning."""
    if not cut.gaps:
        return set()
    gaps = shapely.union_all(cut.gaps)
    lines = [edge.line for edge in cut.edges]
    middles = shapely.line_interpolate_point(lines, 0.5, normalized=True)
    open_at = shapely.dwithin(middles, gaps, NEAR)
    return {index for index, edge in enumerate(cut.edges) if edge.seam and open_at[index]}


def _seeds(project: Project, pile: Sandwich, between: Spaces) -> list[int]:
    """Spaces right against the closing piece, on its side towards the other one."""
    names = project.finish.between
    if len(names) != 2:
        return []
    first, last = (
        [i for i, sheet in enumerate(pile.sheets) if sheet.piece == name] for name in names
    )
    if not first or not last:
        return []
    inside = np.append(between.plane.within, False)[between.face]
    if min(last) > max(first):
        return list(np.flatnonzero((between.above == min(last)) & inside))
    return list(np.flatnonzero((between.below == max(last)) & inside))


def _leak(between: Spaces, seeds: list[int], closed: frozenset[int]) -> tuple[Finding, set[int]]:
    """Shortest way from the outside into the hidden inside, and the edges that would close it."""
    ways: dict[int, list[tuple[int, int]]] = {}
    for way in between.ways:
        if way.edge not in closed:
            ways.setdefault(way.a, []).append((way.b, way.edge))
            ways.setdefault(way.b, []).append((way.a, way.edge))
    came: dict[int, tuple[int, int]] = {int(seed): (-1, -1) for seed in seeds}
    queue = deque(came)
    while queue:
        node = queue.popleft()
        for other, edge in ways.get(node, []):
            if other not in came:
                came[other] = (node, edge)
                queue.append(other)
    passed: list[tuple[int, int, int]] = []
    node = WORLD
    while node in came and came[node][0] >= 0:
        before, edge = came[node]
        passed.append((before, edge, node))
        node = before
    for before, edge, after in reversed(passed):
        ends = _ends_at(between, edge, (before, after))
        line = between.plane.edges[edge]
        if line.seam or ends:
            return _named(between, edge, ends)
    finding = Finding(
        "opens-inside", Severity.CANNOT, "the outside is not closed against the inside"
    )
    return finding, set()


def _ends_at(between: Spaces, edge: int, nodes: tuple[int, int]) -> list[int]:
    """Sheets round whose raw end one passes from one space to another across an edge."""
    f, g = between.plane.edges[edge].faces
    if -1 in (f, g) or not (between.plane.within[f] and between.plane.within[g]):
        return []
    ending = between.plane.covers[f] != between.plane.covers[g]
    touched = {int(s) for n in nodes for s in (between.below[n], between.above[n]) if s >= 0}
    sheets = between.plane.sandwich.sheets
    return [
        int(s)
        for s in np.flatnonzero(ending)
        if s in touched
        and sheets[s].sort == "fabric"
        and sheets[s].layer not in between.plane.edges[edge].fold
    ]


def _named(between: Spaces, edge: int, ends: list[int]) -> tuple[Finding, set[int]]:
    """Say what is open at an edge, and give every edge at which it is."""
    plane = between.plane
    edges = plane.edges
    if not ends:
        binds = edges[edge].binds
        along = {index for index, other in enumerate(edges) if other.seam and other.binds == binds}
        finding = Finding(
            "seam-does-not-close",
            Severity.CANNOT,
            "the seam does not close the outside: a piece that should be caught by it is not",
            "Lay every piece before the seam, and let it reach past the seam line.",
            place=place_of([edges[index].line for index in sorted(along)]),
        )
        return finding, along
    one = plane.sandwich.sheets[ends[0]]
    along = {
        index
        for index, other in enumerate(edges)
        if -1 not in other.faces
        and plane.covers[other.faces[0]][ends[0]] != plane.covers[other.faces[1]][ends[0]]
    }
    finding = Finding(
        "opens-inside",
        Severity.CANNOT,
        f"the {one.title} is not closed off along its raw edge: what it belongs to opens to the "
        "hidden inside",
        f"Tack the {one.title} down along that edge, or let it reach past the seam.",
        place=place_of([edges[index].line for index in sorted(along)]),
        step=one.step,
        piece=one.piece,
    )
    return finding, along
