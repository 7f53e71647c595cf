"""In which step something is first needed."""

from collections.abc import Callable, Iterator
from types import MappingProxyType

from paramgen.making import Made
from paramgen.reference.supply_list import NeededCase
from paramgen.supplies.sewing import sewings
from paramgen.supplies.supply import BEFORE
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Notion, Project


def first_needed(cases: list[NeededCase], made: Made) -> int | None:
    """Number of the first step in which one of the cases holds; `BEFORE`; None if none does."""
    found = [step for case in cases if (step := _first(case, made)) is not None]
    return min(found, default=None)


def notion_needed(notion: Notion, project: Project) -> int:
    """Number of the first step that needs a notion: it is laid there, or used as it says."""
    laid = (s.number for s in project.steps if any(one.piece == notion.name for one in s.layers))
    return next(laid, None) or min(_doing(project, notion.needed), default=BEFORE)


def _first(case: NeededCase, made: Made) -> int | None:
    """Where all that a case names has come to hold."""
    firsts = [min(steps, default=None) for steps in _steps(case, made)]
    known = [step for step in firsts if step is not None]
    return max(known) if len(known) == len(firsts) else None


def _steps(case: NeededCase, made: Made) -> Iterator[list[int]]:
    """For each thing that a case names the steps with it; none where it is not there."""
    project = made.project
    if case.work is not None:
        yield _WORK[case.work](made)
    if case.act is not None:
        yield _doing(project, Act(case.act))
    if case.notion is not None:
        yield [notion_needed(n, project) for n in project.notions if n.sort == case.notion]
    if case.hardware is not None:
        set_in = [n for n in project.notions if n.sort == case.hardware and (n.halves or n.at)]
        yield [notion_needed(notion, project) for notion in set_in]
    if case.material is not None:
        yield [BEFORE for one in project.fabrics if one.material.name == case.material]


def _doing(project: Project, act: Act) -> list[int]:
    return [step.number for step in project.steps if step.act is act]


def _edge_stitched(project: Project) -> Iterator[int]:
    """The steps that edge-stitch a piece; before all of them where none says so."""
    for piece in project.pieces:
        if piece.edge_stitched is not None:
            doing = [s for s in project.steps if s.act is Act.EDGE_STITCH]
            yield next((s.number for s in doing if piece.name in s.pieces), BEFORE)


def _cut_out(project: Project) -> list[int]:
    """The steps that cut something out while the hoop holds the work."""
    out = min(_doing(project, Act.UNHOOP), default=0)
    return [number for number in _doing(project, Act.TRIM) if number < out]


_WORK: MappingProxyType[str, Callable[[Made], list[int]]] = MappingProxyType(
    {
        "cut": lambda made: [BEFORE for _ in made.project.pieces],
        "wash": lambda made: [BEFORE for one in made.project.fabrics if one.material.wash],
        "fold": lambda made: [BEFORE for piece in made.project.pieces if piece.creases],
        "fuse": lambda made: [BEFORE for one in made.project.fabrics if one.interfacing],
        "edge-stitch": lambda made: list(_edge_stitched(made.project)),
        "hoop": lambda made: [step.number for step in made.project.steps if step.lines],
        "sew thick": lambda made: [one.step for one in sewings(made) if one.thick],
        "cut out in the hoop": lambda made: _cut_out(made.project),
    }
)
