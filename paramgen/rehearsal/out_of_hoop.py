"""What is done on a sewing machine, with the iron or by hand, while the work is in the hoop."""

from collections.abc import Iterator

from paramgen.vocabulary.facts import Mm, Term, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import NOT_IN_THE_HOOP, Act
from paramgen.vocabulary.project import Project, Step

#: What is done to pieces before anything is hooped.
_PREPARES = (Act.FUSE, Act.EDGE_STITCH)
#: What is wanted that the hoop is in the way of.
_WANTS = {
    Act.FUSE: "iron",
    Act.EDGE_STITCH: "sewing machine",
    Act.TURN: "nothing",
    Act.PULL_OVER: "nothing",
    Act.HAND_SEW: "hands",
    Act.BOX: "sewing machine",
    Act.BIND: "sewing machine",
    Act.PRESS: "iron",
    Act.TOP_STITCH: "sewing machine",
    Act.FASTEN: "pliers",
    Act.PUT_IN: "nothing",
    Act.WASH_OUT: "water",
}


def out_of_hoop(project: Project) -> Iterator[Finding]:
    """Find what comes while the work is in the hoop, and what was to be done before and is not."""
    steps = project.steps
    hooped = next((step for step in steps if step.act is Act.STITCH), None)
    if hooped is None:
        return
    taken_out = next((step for step in steps if step.act is Act.UNHOOP), None)
    yield from _in_the_hoop(steps, hooped, taken_out)
    yield from _not_edge_stitched(project, hooped, taken_out)
    yield from _pulled_over_early(steps)
    yield from _put_in_early(steps)


def _in_the_hoop(
    steps: tuple[Step, ...], hooped: Step, taken_out: Step | None
) -> Iterator[Finding]:
    last = taken_out.number if taken_out else len(steps) + 1
    for step in steps:
        if step.act not in NOT_IN_THE_HOOP or not hooped.number < step.number < last:
            continue
        out = "after" if taken_out else "never-out"
        yield Finding(
            "sewn-in-hoop",
            Severity.CANNOT,
            facts(
                step=step.called,
                wants=Term("wants", _WANTS[step.act]),
                hooped=hooped.called,
                out=taken_out.called if taken_out else None,
            ),
            variant="before" if step.act in _PREPARES else out,
            step=step.number,
            piece=step.pieces[0] if step.pieces else None,
        )


def _not_edge_stitched(project: Project, hooped: Step, taken_out: Step | None) -> Iterator[Finding]:
    """Pieces whose edges are to be stitched beforehand, and no step does so."""
    # What is stitched once it is hooped is found as such.
    in_time = [step for step in project.steps if not taken_out or step.number < taken_out.number]
    done = {name for step in in_time if step.act is Act.EDGE_STITCH for name in step.pieces}
    laid = {layer.piece: step for step in reversed(in_time) for layer in step.layers}
    for piece in project.pieces:
        if piece.edge_stitched is None or piece.name in done or piece.name not in laid:
            continue
        yield Finding(
            "not-edge-stitched",
            Severity.CANNOT,
            facts(
                piece=piece.called,
                laid=laid[piece.name].number,
                inside=Mm(piece.edge_stitched),
                hooped=hooped.called,
            ),
            step=laid[piece.name].number,
            piece=piece.name,
        )


def _pulled_over_early(steps: tuple[Step, ...]) -> Iterator[Finding]:
    """Flaps pulled over while the work lies inside out still."""
    turned = next((step for step in steps if step.act is Act.TURN), None)
    for step in steps:
        if step.act is Act.PULL_OVER and not (turned and turned.number < step.number):
            yield Finding(
                "out-of-order",
                Severity.CANNOT,
                facts(step=step.called, turned=turned.called if turned else None),
                variant="" if turned else "never-turned",
                step=step.number,
            )


def _put_in_early(steps: tuple[Step, ...]) -> Iterator[Finding]:
    """What it holds put in while the work lies inside out still, or is not done yet."""
    for step in steps:
        after = [one for one in steps[step.number :] if one.act is not Act.PUT_IN]
        if step.act is not Act.PUT_IN or not after:
            continue
        yield Finding(
            "put-in-early",
            Severity.CANNOT,
            facts(step=step.called, then=after[0].called, last=after[-1].called),
            variant="inside-out" if any(one.act is Act.TURN for one in after) else "",
            step=step.number,
        )
