"""What is to be done by hand and no step does, and steps that come too early or find nothing."""

from collections.abc import Iterator

from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, FinishWay
from paramgen.vocabulary.project import Project


def by_hand(project: Project) -> Iterator[Finding]:
    """Find work never turned, hardware set too early or never, interfacing that is not there."""
    yield from _never_turned(project)
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
            "no step turns the work right side out, and it is sewn right sides together",
            "Add a step that does `turn right side out`, once it is out of the hoop and trimmed.",
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
                f"step {step.number}, {step.title}, comes before anything is hooped: the pieces "
                "that it goes through do not lie on each other yet",
                f"Do it after step {out.number}, {out.title}."
                if out
                else "Do it when the work is sewn and taken out of the hoop.",
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
                f"no step sets the {notion.title}",
                f"Add a step to {notion.needed}, when the work is out of the hoop."
                if notion.needed is Act.FASTEN
                else f"Add a step to {notion.needed}.",
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
                    f"step {step.number}, {step.title}, fuses interfacing to the {piece.title}, "
                    f"and there is none for its fabric, {piece.fabric}",
                    f"Say which interfacing {piece.fabric} takes, or leave the {piece.title} out "
                    "of the step.",
                    step=step.number,
                    piece=piece.name,
                )
