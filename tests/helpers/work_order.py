"""The order of work of a project, told shortly."""

from paramgen.vocabulary.project import Project


def work_order(project: Project) -> list[str]:
    """What each step sews or lays, by name, or does by hand."""
    return [
        "sew " + ", ".join(one.name for one in step.lines)
        if step.lines
        else "lay " + ", ".join(one.piece for one in step.layers)
        if step.layers
        else str(step.act)
        for step in project.steps
    ]
