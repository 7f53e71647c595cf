"""What was made, as tables of plain text."""

from collections.abc import Iterable, Sequence

from paramgen.cli.text_tables import table
from paramgen.drawings.primitives.paragraphs import fabric_name
from paramgen.lengths import show_both, show_size_both
from paramgen.making import Made
from paramgen.supplies.all_supplies import supplies
from paramgen.supplies.cut_list import cut_list
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.project import Project


def made_report(made: Made, cloths: Cloths = NO_CLOTHS) -> str:
    """Pieces to cut, notions to have ready, steps of a project, and what its fabrics look like."""
    project = made.project
    unit = project.unit
    hoop = made.room.hoop
    way = ", turned by 90°" if project.turned else ""
    way += f", {project.copies} copies at once" if project.copies > 1 else ""
    field = show_size_both(hoop.width, hoop.height, unit)
    kind = f" ({project.kind})" if project.own_title else ""
    finished = show_size_both(*project.finished, unit, depth=project.depth)
    parts = [
        f"{project.title}{kind}, finished {finished}",
        f"Hoop {hoop.name}, field {field}{way}\n",
        "Cut\n" + table(("piece", "fabric", "pieces", "cut", "folded"), _cut(project)),
        "Fabric\n" + table(("fabric", "how much"), _fabric(made)),
        "Have ready\n" + table(("what", "how much", "first needed"), _ready(made)),
        "Steps\n" + table(("step", "stop", "what", "stitches"), _steps(made)),
    ]
    if cloths:
        parts.append("Your own fabrics\n" + table(("fabric", "shown as"), _shown_as(made, cloths)))
    return "\n".join(parts)


def _shown_as(made: Made, cloths: Cloths) -> Iterable[Sequence[str]]:
    """What each fabric is drawn as; which way up a print lies, which no recipe says."""
    from paramgen.drawings.front_end.print_ways import upside_down  # few ask for it

    unit, over = made.project.unit, upside_down(made.thing, cloths)
    for fabric, cloth in cloths.items():
        name = fabric_name(fabric)
        if all(fabric != piece.fabric for piece in made.project.pieces):
            yield name, f"{cloth.called}; no piece is of it with these choices"
        elif any(layer.clear and layer.fabric == fabric for layer in made.thing.layers):
            yield name, f"{cloth.called}; it is see-through, and drawn without"
        elif cloth.picture is None:
            yield name, cloth.called
        else:
            repeat = show_both(cloth.picture.width, unit)
            way = "upright in the finished front view, or where its pieces show"
            if fabric in over:
                way += "; upside down past a fold, as one piece goes over it"
            yield name, f"{cloth.called}, one repeat {repeat} wide, {way}"


def _cut(project: Project) -> Iterable[Sequence[str]]:
    for row in cut_list(project):
        yield row.title, row.fabric, str(row.quantity), row.cut, row.folded


def _fabric(made: Made) -> Iterable[Sequence[str]]:
    """How much of each fabric, as the booklet has it."""
    return ((one.title, one.amount) for one in supplies(made) if one.sort == "fabric")


def _ready(made: Made) -> Iterable[Sequence[str]]:
    """What goes into it besides fabric; the booklet has needles and tools as well."""
    for one in supplies(made):
        if one.sort not in ("fabric", "needle", "tool"):
            yield one.title, one.amount, one.first_needed


def _steps(made: Made) -> Iterable[Sequence[str]]:
    counts = {step.stop: step.stitch_count for step in made.sewn}
    for step in made.project.steps:
        count = str(counts[step.stop]) if step.stop else ""
        stop = str(step.stop) if step.stop else "by hand"
        yield str(step.number), stop, step.title, count
