"""What is to be done by hand and no step does, and steps that come too early or find nothing."""

from collections.abc import Iterator

from paramgen.vocabulary.facts import Mm, Name, Term, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, FinishWay
from paramgen.vocabulary.project import Project


def by_hand(project: Project) -> Iterator[Finding]:
    """Find what is never turned, sewn across or set, or at the wrong time; nothing to fuse to."""
    yield from _never_turned(project)
    yield from _corners(project)
    yield from _set_early(project)
    yield from _never_set(project)
    yield from _nothing_to_fuse(project)


def _never_turned(project: Project) -> Iterator[Finding]:
    """What is sewn right sides together, and no step turns it out."""
    if project.finish.way is FinishWay.TURNED and not any(
        one.act is Act.TURN for one in project.steps
    ):
        yield Finding(
            "never-turned",
            Severity.CANNOT,
        )


def _corners(project: Project) -> Iterator[Finding]:
    """Corners that are never sewn across, or when their points would lie outside.

    In goods that are turned to their lining first, the gap between two linings is closed before.
    """
    boxed = project.finish.boxed
    if boxed is None:
        return
    place = tuple(point for one in boxed.seams for point in one)
    across = next((step for step in project.steps if step.act is Act.BOX), None)
    if across is None:
        yield Finding(
            "corners-not-sewn", Severity.CANNOT, facts(depth=Mm(boxed.depth)), place=place
        )
        return
    after = project.steps[across.number :]
    turned = [step for step in project.steps if step.act is Act.TURN]
    if turned and turned[-1].number < across.number:
        yield Finding(
            "corners-sewn-late",
            Severity.CANNOT,
            facts(step=across.called, turned=turned[-1].called),
            place=place,
            step=across.number,
        )
    closed = next((step for step in after if step.act is Act.HAND_SEW), None)
    if closed and any(step.number < across.number for step in turned):
        yield Finding(
            "gap-closed-late",
            Severity.DISAPPOINT,
            facts(step=closed.called, across=across.called),
            place=place,
            step=closed.number,
        )


def _set_early(project: Project) -> Iterator[Finding]:
    """Hardware that is set before what it goes through is hooped."""
    hooped = next((step for step in project.steps if step.act is Act.STITCH), None)
    out = next((step for step in project.steps if step.act is Act.UNHOOP), None)
    for step in project.steps:
        if step.act is Act.FASTEN and hooped and step.number < hooped.number:
            yield Finding(
                "hardware-set-early",
                Severity.CANNOT,
                facts(step=step.called, out=out.called if out else None),
                variant="" if out else "never-out",
                step=step.number,
            )


def _never_set(project: Project) -> Iterator[Finding]:
    """Hardware that has its place, and no step sets it."""
    done = {step.act for step in project.steps}
    laid = {layer.piece for step in project.steps for layer in step.layers}
    for notion in project.notions:
        places = (*notion.halves, *notion.at)
        if places and notion.needed not in done and notion.name not in laid:
            yield Finding(
                "hardware-not-set",
                Severity.CANNOT,
                facts(notion=notion.called, does=Term("act", notion.needed.value)),
                variant="once-out" if notion.needed is Act.FASTEN else "",
                place=places,
                piece=notion.name,
            )


def _nothing_to_fuse(project: Project) -> Iterator[Finding]:
    """Pieces that interfacing should be fused to, and there is none for them."""
    if any(notion.needed is Act.FUSE for notion in project.notions):
        return  # a patch, say: what the step marks
    interfaced = {fabric.role for fabric in project.fabrics if fabric.interfacing}
    for step in project.steps:
        for piece in project.pieces if step.act is Act.FUSE else ():
            if piece.name in step.pieces and piece.fabric not in interfaced:
                yield Finding(
                    "nothing-to-fuse",
                    Severity.CANNOT,
                    facts(
                        step=step.called,
                        piece=piece.called,
                        fabric=Name("fabric", piece.fabric, piece.fabric),
                    ),
                    step=step.number,
                    piece=piece.name,
                )
