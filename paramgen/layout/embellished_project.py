"""What a person or a recipe asks for on the panels, put into a project that is laid out."""

from collections.abc import Iterable
from dataclasses import replace

import shapely

from paramgen.embellishment.kind_options import Embellishment
from paramgen.layout.name_scope import holds, pointed_at
from paramgen.layout.panel_names import find_panel, panel_titles
from paramgen.layout.stop_colours import colour_of
from paramgen.layout.turning_gaps import gaps_in
from paramgen.sizing import Sized
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.path import path
from paramgen.vocabulary.project import Line, PanelWork, Project, Step


def with_embellishments(sized: Sized, project: Project) -> Project:
    """A project with the steps of all that is asked for on its panels.

    Raises
    ------
    InputError
        If there is no panel of a name.
    """
    asked = tuple(_asked(sized))
    if not asked:
        return project
    # Slow to load, and seldom asked for: nothing of it where there is none.
    from paramgen.embellishment.embellish import embellish  # noqa: PLC0415

    done = embellish(project, asked, gaps_in(project, [project.seam]))
    known = {one.role for one in project.fabrics}
    return replace(
        project,
        steps=_numbered(done.steps),
        pieces=(*project.pieces, *done.pieces),
        fabrics=(*project.fabrics, *(one for one in done.fabrics if one.role not in known)),
        embellishments=tuple(
            PanelWork(one.panel, one.told, own, found)
            for one, own, found in zip(asked, done.own, done.findings, strict=True)
        ),
    )


def coarser(project: Project, chord_error: float) -> Project:
    """A project whose stitching on panels has no more vertices than an error asks for, mm.

    Examples
    --------
    Nothing of what has none is changed:

    >>> from paramgen.layout.lay_out import lay_out
    >>> from paramgen.recipe.read_recipe import find_recipe
    >>> from paramgen.sizing import size
    >>> from paramgen.vocabulary.unit import Unit
    >>> mat = lay_out(size(find_recipe("coaster"), {}, unit=Unit.MM))
    >>> coarser(mat, 0.02) is mat
    True
    """
    own = {number for one in project.embellishments for number in one.steps}
    if not own:
        return project
    steps = tuple(
        replace(step, lines=tuple(_coarser(line, chord_error) for line in step.lines))
        if step.number in own
        else step
        for step in project.steps
    )
    return replace(project, steps=steps)


def _coarser(line: Line, chord_error: float) -> Line:
    if line.stitch.kind is StitchKind.AS_DRAWN:  # its vertices are needle points
        return line
    paths = (
        path(shapely.get_coordinates(one.line.simplify(chord_error)), closed=one.closed)
        for one in line.paths
    )
    return replace(line, paths=tuple(paths))


def _asked(sized: Sized) -> Iterable[Embellishment]:
    """What the recipe asks for, and then the person, each panel by its piece's name."""
    for table in sized.recipe.file.embellishments:
        if holds(table.when, sized.names):
            yield replace(table.work, panel=pointed_at(table.on, sized.names))
    titles = panel_titles(sized) if sized.recipe.on else {}
    for one in sized.recipe.on:
        yield replace(one, panel=find_panel(one.panel, titles, one.where))


def _numbered(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Steps with their numbers, and stops with theirs and their colours, from 1."""
    found: list[Step] = []
    stop = 0
    for number, step in enumerate(steps, 1):
        stop += step.stop is not None
        found.append(
            replace(step, number=number)
            if step.stop is None
            else replace(step, number=number, stop=stop, colour=colour_of(stop))
        )
    return tuple(found)
