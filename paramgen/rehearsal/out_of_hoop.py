"""What is done on a sewing machine, with the iron or by hand, while the work is in the hoop."""

from collections.abc import Iterator

from paramgen.lengths import show_both
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import NOT_IN_THE_HOOP, Act
from paramgen.vocabulary.project import Project, Step

#: What is done to pieces before anything is hooped.
_PREPARES = (Act.FUSE, Act.EDGE_STITCH)
#: Why the hoop is in the way.
_WANTS = {
    Act.FUSE: "wants an iron",
    Act.EDGE_STITCH: "wants a sewing machine",
    Act.TURN: "cannot be done",
    Act.PULL_OVER: "cannot be done",
    Act.HAND_SEW: "wants a needle and both hands",
    Act.PRESS: "wants an iron",
    Act.TOP_STITCH: "wants a sewing machine",
    Act.FASTEN: "wants pliers, or a hammer and a firm base,",
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


def _in_the_hoop(
    steps: tuple[Step, ...], hooped: Step, taken_out: Step | None
) -> Iterator[Finding]:
    last = taken_out.number if taken_out else len(steps) + 1
    for step in steps:
        if step.act not in NOT_IN_THE_HOOP or not hooped.number < step.number < last:
            continue
        if step.act in _PREPARES:
            remedy = f"Do it before step {hooped.number}, {hooped.title}."
        elif taken_out:
            remedy = f"Do it after step {last}, {taken_out.title}."
        else:
            remedy = f"Take the work out of the hoop before step {step.number}."
        yield Finding(
            "sewn-in-hoop",
            Severity.CANNOT,
            f"step {step.number}, {step.title}, {_WANTS[step.act]} while the work is in the "
            f"embroidery hoop, where it is from step {hooped.number} on",
            remedy,
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
            f"the {piece.title} laid in step {laid[piece.name].number} should be stitched "
            f"{show_both(piece.edge_stitched, project.unit)} inside its edges, and no step before "
            "does that",
            f"Edge-stitch the {piece.title} before step {hooped.number}, {hooped.title}.",
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
                f"step {step.number}, {step.title}, pulls over what still lies inside: the work "
                "is not turned right side out by then",
                f"Do it after step {turned.number}, {turned.title}."
                if turned
                else f"Turn the work right side out before step {step.number}.",
                step=step.number,
            )
