"""All that is asked for on the panels of a project, worked out and put in the order of the work."""

from collections.abc import Sequence
from dataclasses import replace

from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.embellishment_kind import FreeGround, Worked
from paramgen.embellishment.free_ground import (
    Obstacle,
    PanelGround,
    PanelPlace,
    ground_left,
    panel_ground,
)
from paramgen.embellishment.ground_findings import in_the_way, refused
from paramgen.embellishment.kind_options import Embellishment
from paramgen.embellishment.listed_kinds import KINDS
from paramgen.embellishment.panel_fitness import hidden, places_of, unfit
from paramgen.embellishment.pieces_apart import pieces_apart
from paramgen.vocabulary.facts import Clause
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Fabric, Piece, Project, Step

#: So much of the room may something take before it is named as being in the way, as a share of what
#: is seen of the panel.
_IN_THE_WAY = 0.02


@dataclass(frozen=True)
class EmbellishedSteps:
    """A project's steps with those of all that is asked for, not yet numbered.

    Parameters
    ----------
    steps : tuple of Step
    own : tuple of tuple of int
        For all that is asked for in turn the numbers of its steps.
    pieces : tuple of Piece
        To cut besides.
    fabrics : tuple of Fabric
        Of those.
    findings : tuple of tuple of Finding
        For each in turn what is found about it.
    """

    steps: tuple[Step, ...]
    own: tuple[tuple[int, ...], ...]
    pieces: tuple[Piece, ...]
    fabrics: tuple[Fabric, ...]
    findings: tuple[tuple[Finding, ...], ...]


@dataclass(frozen=True)
class _Done:
    """What one of them came to, and where it stands among all that was asked for."""

    order: int
    place: PanelPlace
    worked: Worked


def embellish(
    project: Project, asked: Sequence[Embellishment], gaps: Sequence[Path] = ()
) -> EmbellishedSteps:
    """Work out what is asked for on a project's panels.

    Parameters
    ----------
    project : Project
        As the recipe has it, about its origin.
    asked : sequence of Embellishment
        Their panels by the names of pieces.
    gaps : sequence of Path
        The parts of the seam that are left open for turning.
    """
    done: list[_Done] = []
    findings: list[list[Finding]] = [[] for _ in asked]
    grounds: dict[tuple[str, int], PanelGround] = {}
    taken: dict[tuple[str, int], list[BaseGeometry]] = {}
    # What fills what is left goes round all else.
    for order, one in sorted(enumerate(asked), key=lambda pair: KINDS[pair[1].kind].fills):
        places = places_of(project, one.panel)
        if not places:
            title = next((p.title for p in project.pieces if p.name == one.panel), one.panel)
            findings[order].append(refused("not-laid", one, title))
        refusals: list[Finding] = []
        for copy, place in enumerate(places):
            if why := unfit(project, one, place):
                refusals.append(why)
                continue
            if (one.panel, copy) not in grounds:
                grounds[one.panel, copy] = panel_ground(project, place, gaps=gaps)
            there = taken.setdefault((one.panel, copy), [])
            found = _worked(one, grounds[one.panel, copy], there)
            if isinstance(found, Finding):
                refusals.append(found)
                continue
            own = [*(piece.name for piece in project.pieces), *_pieces(done)]
            found = pieces_apart(found, own)
            there += [found.taken] if found.taken is not None else []
            findings[order] += found.findings
            done.append(_Done(order, place, found))
        # Of a piece that is laid again, on the back, what lies on the front is meant.
        findings[order] += refusals[:1] if len(refusals) == len(places) else ()
    done.sort(key=lambda one: one.order)
    fabrics = {fabric.role: fabric for one in done for fabric in one.worked.fabrics}
    put = _put_in(project.steps, done)
    return EmbellishedSteps(
        steps=tuple(step for step, _ in put),
        own=tuple(
            tuple(number for number, (_, whose) in enumerate(put, 1) if whose == order)
            for order in range(len(asked))
        ),
        pieces=tuple(piece for one in done for piece in one.worked.pieces),
        fabrics=tuple(fabrics.values()),
        findings=tuple(tuple(dict.fromkeys(each)) for each in findings),
    )


def _worked(
    asked: Embellishment, there: PanelGround, taken: Sequence[BaseGeometry]
) -> Worked | Finding:
    """What one of them comes to where a panel is laid, or why it cannot be there."""
    if why := hidden(asked, there.ground.panel, there.ground.seen):
        return why
    ground, obstacles = ground_left(there, taken)
    worked = KINDS[asked.kind].work(asked, ground)
    if not worked.findings:
        return worked
    ways = _in_the_way(obstacles, ground)
    return replace(worked, findings=tuple(in_the_way(one, ways) for one in worked.findings))


def _pieces(done: Sequence[_Done]) -> list[str]:
    """Names of the pieces so far."""
    return [piece.name for one in done for piece in one.worked.pieces]


def _in_the_way(obstacles: Sequence[Obstacle], ground: FreeGround) -> tuple[Clause, ...]:
    least = _IN_THE_WAY * ground.seen.area
    return tuple(one.called for one in obstacles if (one.area & ground.seen).area > least)


def _put_in(steps: Sequence[Step], done: Sequence[_Done]) -> list[tuple[Step, int | None]]:
    """Steps with what comes before a panel is laid, and what comes once it is held.

    Each with the place, among all that is asked for, of what it is a step of.
    """
    found: list[tuple[Step, int | None]] = []
    names: dict[str, int] = {}
    for at in range(len(steps) + 1):
        for one in done:
            if one.place.stitched == at:
                found += [(_named(step, names), one.order) for step in one.worked.steps]
        for one in done:
            if one.place.laid == at:
                found += [(_named(step, names), one.order) for step in one.worked.before]
        found += [(step, None) for step in steps[at : at + 1]]
    return found


def _named(step: Step, names: dict[str, int]) -> Step:
    """A step whose lines have names of their own: `quilting`, `quilting-2`."""
    lines = []
    for line in step.lines:
        names[line.name] = names.get(line.name, 0) + 1
        number = names[line.name]
        lines.append(replace(line, name=f"{line.name}-{number}") if number > 1 else line)
    return replace(step, lines=tuple(lines))
