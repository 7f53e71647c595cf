"""A project and its hoop, made ready once for all the pictures of it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import islice

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.boxes import Box, around
from paramgen.drawings.outlines import (
    area_within,
    box_of,
    circle,
    line_string,
    line_within,
    lines_of,
    straight,
    thinned,
)
from paramgen.drawings.sheet import letters_for
from paramgen.geometry.path import Path, Point
from paramgen.layout.project import Act, Layer, Line, Project, Role, Step
from paramgen.lengths import show_size_both

# A project that takes less than this part of the field, both ways, is shown close up.
_CLOSE_UP = 0.5

# A stitched line leaves the exact outline by less than this, in mm; a gap is longer.
_SAME_LINE = 0.05


@dataclass(frozen=True)
class Scene:
    """A project in its hoop, with outlines thin enough to draw.

    Parameters
    ----------
    project : Project
    hoop : str
        Its name for the person.
    field : Box
        What the hoop lets the machine stitch, mm; its middle is the origin.
    """

    project: Project
    hoop: str
    field: Box

    @cached_property
    def extent(self) -> Box:
        """Box around all that is laid, stitched, taped and marked."""
        places = [
            circle(place, notion.width or 0.0)
            for notion in self.project.notions
            for place in (*notion.halves, *notion.at)
        ]
        return box_of([self.project.seam, *_outlines(self.project.steps), *places])

    @cached_property
    def whole_view(self) -> Box:
        """Box around the field and all that reaches out of it."""
        return around([self.field, self.extent])

    @cached_property
    def close_up(self) -> bool:
        """Whether the project is too small in its field to be seen well in the whole of it."""
        return (
            self.extent.width < _CLOSE_UP * self.field.width
            and self.extent.height < _CLOSE_UP * self.field.height
        )

    @cached_property
    def view(self) -> Box:
        """What the pictures of the steps show, the same for all of them and for both sides."""
        if self.close_up:
            room = self.extent.grown(0.5 * letters_for(self.extent))
        else:
            room = self.whole_view
        half = max(-room.left, room.right)
        return Box(-half, room.top, half, room.bottom)

    @cached_property
    def hoop_caption(self) -> str:
        """Hoop and field as the person knows them, in both units."""
        size = show_size_both(self.field.width, self.field.height, self.project.unit)
        return f"Hoop {self.hoop}, field {size}"

    @cached_property
    def gaps(self) -> tuple[Path, ...]:
        """Parts of the seam line that no seam closes."""
        sewn = [
            path
            for line in self.project.lines
            if line.role is Role.SEAM
            for path in line.paths
            if len(path.points) > 1
        ]
        if not sewn:
            return ()
        near = shapely.union_all([line_string(path) for path in sewn]).buffer(
            _SAME_LINE, cap_style="flat"
        )
        left = shapely.difference(line_string(self.project.seam), near)
        return tuple(gap for gap in lines_of(left) if gap.length > 1.0)

    def number_of(self, act: Act) -> int | None:
        """Number of the first step with an act; None if there is none."""
        return next((step.number for step in self.project.steps if step.act is act), None)


def hooped(project: Project, hoop: str, width: float, height: float) -> Scene:
    """Make a project ready for drawing.

    Parameters
    ----------
    project : Project
    hoop : str
        Name of the hoop for the person.
    width, height : float
        Of its field, mm.

    Returns
    -------
    Scene
        To be used for all the pictures of the project: making it takes longer than
        drawing one of them.
    """
    outlines = [project.seam, *_outlines(project.steps)]
    thin = iter(thinned(outlines))
    seam = next(thin)
    steps = tuple(_step(step, thin) for step in project.steps)
    field = Box(-width / 2, -height / 2, width / 2, height / 2)
    return Scene(replace(project, seam=seam, steps=steps), hoop, field)


def trimmed(layer: Layer, room: BaseGeometry) -> tuple[Layer, ...]:
    """Cut a layer to what lies within an area: nothing, one part or several."""
    folds = tuple(part for edge in layer.folded_edges for part in _straight_within(edge, room))
    slit = _straight_within(layer.slit, room) if layer.slit else ()
    return tuple(
        replace(layer, outline=part, folded_edges=folds, slit=slit[0] if slit else None)
        for part in area_within(layer.outline, room)
    )


def _straight_within(
    edge: tuple[Point, Point], room: BaseGeometry
) -> tuple[tuple[Point, Point], ...]:
    ends = [part.points[[0, -1]].tolist() for part in line_within(straight(*edge), room)]
    return tuple(((ax, ay), (bx, by)) for (ax, ay), (bx, by) in ends)


def _outlines(steps: Iterable[Step]) -> Iterable[Path]:
    """Go through every path of the steps, in the order in which `_step` puts them back."""
    for step in steps:
        for line in step.lines:
            yield from line.paths
        yield from (layer.outline for layer in step.layers)
        yield from step.tape
        yield from step.mark


def _step(step: Step, thin: Iterable[Path]) -> Step:
    def take(count: int) -> tuple[Path, ...]:
        return tuple(islice(thin, count))

    lines: tuple[Line, ...] = tuple(
        replace(line, paths=take(len(line.paths))) for line in step.lines
    )
    layers = tuple(
        replace(layer, outline=outline)
        for layer, outline in zip(step.layers, take(len(step.layers)), strict=True)
    )
    return replace(
        step, lines=lines, layers=layers, tape=take(len(step.tape)), mark=take(len(step.mark))
    )
