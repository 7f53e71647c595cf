"""Which hollow becomes the outside, and where it is not closed against the inside.

It is turned through a gap in the seam, which is closed later, or through an opening that stays:
between the folds of several pieces that close it together. What such an opening leads to in the
hoop, the world outside, is the inside of the finished thing.
"""

from collections import deque
from dataclasses import replace
from functools import cached_property
from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray

from paramgen.rehearsal.faces import NEAR, Plane, plane
from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.hollows import WORLD, Spaces, hollows, spaces
from paramgen.rehearsal.laps import least_lap
from paramgen.rehearsal.lines_left_out import bound_spaces, lines_left_out
from paramgen.rehearsal.rehearsal_limits import LAP_HIDES
from paramgen.rehearsal.sheets import GRID, Sandwich, Sheet, sandwich
from paramgen.vocabulary.facts import facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import FinishWay
from paramgen.vocabulary.path import BoolArray
from paramgen.vocabulary.project import Project

#: Leaks looked for before giving up; each is blocked before the next is sought.
MOST_LEAKS = 12


@dataclass(frozen=True, eq=False, kw_only=True)
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
    opens : bool
        Whether the turning gap, or the opening, leads from the outside to the world, so that it
        can be turned.
    opening : tuple of LineString
        Folds of the closing pieces round which the outside opens.
    """

    project: Project
    sandwich: Sandwich
    plane: Plane
    spaces: Spaces
    hollow: NDArray[np.intp]
    outside: int
    leaks: tuple[Finding, ...]
    opens: bool
    opening: tuple[shapely.LineString, ...] = ()

    @property
    def turned(self) -> bool:
        """Whether it is turned at all."""
        return self.project.finish.way is FinishWay.TURNED

    @property
    def through_zip(self) -> bool:
        """Whether it is turned out through its open zip alone: no seam leaves a gap."""
        return (
            self.turned and not self.opening and not self.plane.gaps and bool(self.sandwich.slits)
        )

    @property
    def walled(self) -> bool:
        """Whether all pieces that it is turned out between are laid."""
        names = self.project.finish.between
        return self.turned and len(names) > 1 and all(self.indices(name) for name in names)

    @cached_property
    def lap(self) -> float:
        """How far pieces that close it together lie over each other at the opening, mm."""
        places = {one.layer: one.area for one in self.sandwich.sheets if self.closes(one)}
        both = [one & other for one, other in combinations(places.values(), 2)]
        return least_lap(shapely.union_all(both) & self.project.seam.area, self.opening)

    def closes(self, sheet: Sheet) -> bool:
        """Whether a sheet is of a piece that closes it, alone or with others."""
        return sheet.piece in self.project.finish.closing

    @property
    def looked_into(self) -> bool:
        """Whether who looks into the opening sees all that its inside is."""
        short = self.lap < LAP_HIDES - 10 * GRID
        return bool(self.opening) and not self.plane.gaps and short

    def inside(self, node: int) -> bool:
        """Whether a space is of the inside that the opening leads to: in the hoop the world."""
        return bool(self.opening) and bool(self.hollow[node] == WORLD)

    def in_sight(self, node: int) -> bool:
        """Whether a space is part of the outside, or of an inside that is looked into."""
        return bool(self.seen_spaces[node])

    @cached_property
    def seen_spaces(self) -> BoolArray:
        """Which spaces are in sight, shape (nodes,)."""
        shows = self.hollow == self.outside
        if self.looked_into:
            shows = shows | (self.hollow == WORLD)
        return np.asarray(shows)

    @property
    def between(self) -> tuple[int, int]:
        """Sheets between which the outside lies until it is turned, the lower one first.

        Of several that close it together the nearest to the work.
        """
        return _walls(self.project, self.sandwich)

    def indices(self, *pieces: str) -> list[int]:
        """Sheets of some pieces, from the back to the front."""
        return [i for i, sheet in enumerate(self.sandwich.sheets) if sheet.piece in pieces]

    def shows(self, node: int) -> bool:
        """Whether a space is part of the outside."""
        return bool(self.hollow[node] == self.outside)


def work_through(project: Project) -> Rehearsed:
    """Work a project through: pile up, cut, join, and close the turning gap."""
    pile = sandwich(project)
    left_out = lines_left_out(project, pile)
    done = _worked_through(project, pile, left_out)
    if left_out and not _the_same_in_full(done, left_out):
        return _worked_through(project, pile, frozenset())
    return done


def _the_same_in_full(done: Rehearsed, left_out: frozenset[int]) -> bool:
    """Whether nothing else would be found if every line cut the plane; see `lines_left_out`."""
    if done.leaks or not done.opens or done.outside == WORLD:
        return False
    bound = bound_spaces(done.project, done.sandwich, done.spaces, left_out)
    if (done.hollow[bound] == done.outside).any():
        return False
    past = np.flatnonzero(np.isin(done.spaces.joins, bound).any(axis=1))
    through = hollows(done.spaces, frozenset(past.tolist()))
    return bool(through[done.hollow == done.outside].min() == WORLD)


def _worked_through(project: Project, pile: Sandwich, left_out: frozenset[int]) -> Rehearsed:
    cut = plane(project, pile, left_out)
    between = spaces(cut)
    if project.finish.way is not FinishWay.TURNED:
        return Rehearsed(
            project=project,
            sandwich=pile,
            plane=cut,
            spaces=between,
            hollow=hollows(between),
            outside=WORLD,
            leaks=(),
            opens=True,
        )
    facing = facing_spaces(project, pile, between)
    round_folds = _ways_round_folds(project, between, facing)
    gap = gap_ways(between) | round_folds
    closed = set(gap)
    seeds = _seeds(project, pile, between, facing)
    leaks: list[Finding] = []
    by_zip = not gap and bool(seeds) and int(hollows(between)[seeds[0]]) == WORLD
    shut = spaces(_zips_closed(cut)) if by_zip and pile.slits else between
    found = hollows(shut, frozenset(closed))
    outside = int(found[seeds[0]]) if seeds else WORLD
    while seeds and outside == WORLD and len(leaks) < MOST_LEAKS:
        finding, ways = _leak(shut, seeds, frozenset(closed))
        leaks.append(finding)
        if not ways:
            break
        closed |= ways
        found = hollows(shut, frozenset(closed))
        outside = int(found[seeds[0]])
    through = hollows(between, frozenset(closed - gap) if shut is between else frozenset())
    opens = bool(seeds) and int(through[seeds[0]]) == WORLD
    return Rehearsed(
        project=project,
        sandwich=pile,
        plane=cut,
        spaces=between,
        hollow=found,
        outside=outside,
        leaks=tuple(leaks),
        opens=opens,
        opening=_lines_of(between, round_folds),
    )


def _zips_closed(cut: Plane) -> Plane:
    """The same with every zip closed from stop to stop, as the finished thing can be."""
    lines = [edge.line for edge in cut.edges]
    edges = list(cut.edges)
    for slit in cut.sandwich.slits:
        beside = slit.line.buffer(NEAR)
        shapely.prepare(beside)
        for at in np.flatnonzero(shapely.covers(beside, lines)).tolist():
            edges[at] = replace(edges[at], zipped=edges[at].zipped | {slit.layer})
    return replace(cut, edges=tuple(edges))


def _walls(project: Project, pile: Sandwich) -> tuple[int, int]:
    """The sheets of the two walls that lie next to each other, the lower one first."""
    first, last = (
        [i for i, sheet in enumerate(pile.sheets) if sheet.piece in names]
        for names in ((project.finish.work,), project.finish.closing)
    )
    return (max(first), min(last)) if max(first) < min(last) else (max(last), min(first))


def facing_spaces(project: Project, pile: Sandwich, between: Spaces) -> NDArray[np.bool_]:
    """Which spaces lie between the two walls, shape (nodes,): all where one of them is not laid.

    They do if the sheet next to them on the closing side is a closing piece, or lies before it.
    """
    laid = {sheet.piece for sheet in pile.sheets}
    finish = project.finish
    if len(finish.between) < 2 or not laid >= set(finish.between):
        return np.ones(len(between.face), dtype=bool)
    low, high = _walls(project, pile)
    ends = [i for i, sheet in enumerate(pile.sheets) if sheet.piece in finish.closing]
    if min(ends) == high:
        next_to_it, other = between.above, between.below < high
        return np.asarray((next_to_it > low) & (next_to_it <= max(ends)) & other)
    next_to_it, other = between.below, (between.above > low) | (between.above < 0)
    return np.asarray((next_to_it >= min(ends)) & (next_to_it < high) & other)


def _ways_round_folds(project: Project, between: Spaces, facing: NDArray[np.bool_]) -> set[int]:
    """Ways from between the walls round a fold of one of several closing pieces."""
    cut = between.plane
    layers = {one.layer for one in cut.sandwich.sheets if one.piece in project.finish.closing}
    if len(layers) < 2:
        return set()
    at_fold = np.array([bool(edge.fold & layers) for edge in cut.edges], dtype=bool)
    inside = np.array(
        [-1 not in edge.faces and bool(cut.within[list(edge.faces)].all()) for edge in cut.edges]
    )
    out = facing[between.joins[:, 0]] != facing[between.joins[:, 1]]
    return set(np.flatnonzero(out & (at_fold & inside)[between.crosses]).tolist())


def _lines_of(between: Spaces, ways: set[int]) -> tuple[shapely.LineString, ...]:
    """The lines that some ways cross, put together where they meet."""
    lines = [between.plane.edges[n].line for n in sorted(set(between.crosses[sorted(ways)]))]
    merged = shapely.line_merge(shapely.union_all(lines)) if lines else shapely.LineString()
    return tuple(part for part in shapely.get_parts(merged) if part.length > 0.0)


def gap_ways(between: Spaces) -> set[int]:
    """Ways across the parts of the seam line that are left open for turning."""
    cut = between.plane
    if not cut.gaps:
        return set()
    lines = [edge.line for edge in cut.edges]
    middles = shapely.line_interpolate_point(lines, 0.5, normalized=True)
    open_at = shapely.dwithin(middles, shapely.union_all(cut.gaps), NEAR)
    through = cut.on_seam & open_at
    return set(np.flatnonzero(through[between.crosses]).tolist())


def _seeds(
    project: Project, pile: Sandwich, between: Spaces, facing: NDArray[np.bool_]
) -> list[int]:
    """Spaces right against the closing pieces, on their side towards the work."""
    finish = project.finish
    laid = {sheet.piece for sheet in pile.sheets}
    if len(finish.between) < 2 or not laid >= set(finish.between):
        return []
    inside = np.append(between.plane.within, False)[between.face]
    closing = np.array([sheet.piece in finish.closing for sheet in pile.sheets] + [False])
    in_front = pile.sheets[_walls(project, pile)[1]].piece in finish.closing
    next_to_it = between.above if in_front else between.below
    return list(np.flatnonzero(closing[next_to_it] & inside & facing))


def _leak(between: Spaces, seeds: list[int], closed: frozenset[int]) -> tuple[Finding, set[int]]:
    """Shortest way from the outside into the hidden inside, and the ways that would close it."""
    ways: dict[int, list[tuple[int, int]]] = {}
    for number, (a, b) in enumerate(between.joins.tolist()):
        if number not in closed:
            ways.setdefault(a, []).append((b, number))
            ways.setdefault(b, []).append((a, number))
    came: dict[int, tuple[int, int]] = {int(seed): (-1, -1) for seed in seeds}
    queue = deque(came)
    while queue:
        node = queue.popleft()
        for other, number in ways.get(node, []):
            if other not in came:
                came[other] = (node, number)
                queue.append(other)
    passed: list[tuple[int, int, int]] = []
    node = WORLD
    while node in came and came[node][0] >= 0:
        before, number = came[node]
        passed.append((before, number, node))
        node = before
    for before, number, after in reversed(passed):
        edge = int(between.crosses[number])
        ends = _ends_at(between, edge, (before, after))
        if ends:
            return _round_an_end(between, ends[0], before)
        if between.plane.edges[edge].seam:
            return _across_the_seam(between)
    finding = Finding("opens-inside", Severity.CANNOT)
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
        and not sheets[s].of_zip
        and sheets[s].layer not in between.plane.edges[edge].fold
    ]


def _round_an_end(between: Spaces, sheet: int, before: int) -> tuple[Finding, set[int]]:
    """Say that the outside reaches round a raw end, and close it on its outer side."""
    plane = between.plane
    one = plane.sandwich.sheets[sheet]
    along = {
        index
        for index, edge in enumerate(plane.edges)
        if -1 not in edge.faces
        and plane.covers[edge.faces[0]][sheet] != plane.covers[edge.faces[1]][sheet]
    }
    outer = between.below if between.below[before] == sheet else between.above
    along_it = np.isin(between.crosses, sorted(along))
    touched = (outer[between.joins] == sheet).any(axis=1)
    ways = set(np.flatnonzero(along_it & touched).tolist())
    finding = Finding(
        "opens-inside",
        Severity.CANNOT,
        facts(piece=one.called),
        variant="at-raw-edge",
        place=place_of([plane.edges[index].line for index in sorted(along)]),
        step=one.step,
        piece=one.piece,
    )
    return finding, ways


def _across_the_seam(between: Spaces) -> tuple[Finding, set[int]]:
    """Say that the seam leaves the outside open, and close it."""
    edges = between.plane.edges
    finding = Finding(
        "seam-does-not-close",
        Severity.CANNOT,
        place=place_of([edge.line for edge in edges if edge.seam]),
    )
    return finding, set(np.flatnonzero(between.plane.on_seam[between.crosses]).tolist())
