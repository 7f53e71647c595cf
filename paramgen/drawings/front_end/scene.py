"""A project and its hoop, made ready once for all the pictures of it.

Out of the hoop the work is drawn as the rehearsal has it, laid as it lay in the hoop, since
sentences name its sides so: before turning as it was laid (`work_before_turning.py`), after it as a
pile of plies (`work_turned_out.py`).
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from enum import Enum, auto
from functools import cached_property, partial
from itertools import islice

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import PlyPile, moved
from paramgen.drawings.front_end.fabric_tones import tones_of
from paramgen.drawings.front_end.finished_pile import (
    finished_pile,
    folded_pile,
    lapped_pile,
    lining_pile,
)
from paramgen.drawings.front_end.framed_picture import letters_for
from paramgen.drawings.front_end.lying_prints import NO_PRINTS, Prints, on_side
from paramgen.drawings.front_end.over_edge import tape_area, taped_over, tapes
from paramgen.drawings.front_end.print_ways import prints_of
from paramgen.drawings.front_end.trimming import TrimCuts, cuts_of
from paramgen.drawings.primitives.drawn_paths import box_of, circle, outer_paths, seen, thinned
from paramgen.drawings.primitives.items import Tone
from paramgen.finished.finished_thing import FinishedThing, finish, folded_before, top_stitched
from paramgen.finished.flaps import Flap, FlapSide
from paramgen.finished.hung_rings import across, away_from, hung_rings
from paramgen.finished.standing_room import flat_room, standing_room
from paramgen.layout.copies_apart import first_of, put, seams
from paramgen.layout.lay_out import shifted
from paramgen.layout.turning_gaps import gaps_in, is_open_edge
from paramgen.lengths import show_size_both
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import NOT_IN_THE_HOOP, Act, FinishWay, Side
from paramgen.vocabulary.path import Path, Point, path
from paramgen.vocabulary.project import Line, Placement, Project, Step

# A project that takes less than this part of the field, both ways, is shown close up.
_CLOSE_UP = 0.7


# In ems: room kept round the seam line for arrows, and round all that is drawn.
_ARROWS, _ROUND = 4.5, 0.5


# So near to a corner that is sewn across the seam's own corners are parts of it, mm.
_BESIDE = 0.5


class State(Enum):
    """How the work is when a step begins."""

    BEFORE_HOOPING = auto()
    IN_THE_HOOP = auto()
    AS_SEWN = auto()
    TO_THE_LINING = auto()
    RIGHT_SIDE_OUT = auto()


@dataclass(frozen=True, kw_only=True)
class Scene:
    """A project in its hoop, with outlines thin enough to draw.

    Parameters
    ----------
    project : Project
    hoop : str
        Its name for the person.
    field : Box
        What the hoop lets the machine stitch, mm; its middle is the origin.
    course : Path
        The seam line, as finely as it was laid out.
    thing : FinishedThing or None
        The finished thing, its own way round; None if it was not rehearsed.
    move : (dx, dy)
        By how much it was moved in its hoop after any turn, mm.
    cloths : mapping of name to Cloth
        What its fabrics look like, as far as the person said it.
    """

    project: Project
    hoop: str
    field: Box
    course: Path
    thing: FinishedThing | None = None
    move: Point = (0.0, 0.0)
    cloths: Cloths

    @cached_property
    def tones(self) -> Mapping[str, Tone]:
        """What each of its fabrics is told by."""
        return tones_of(self.project, self.cloths)

    @cached_property
    def prints(self) -> Prints:
        """How the print of each layer lies, about the recipe's origin; none without a thing."""
        return prints_of(self.thing, self.cloths) if self.thing else NO_PRINTS

    def print_seen(self, step: Step, place: int, side: Side) -> Path | None:
        """How the print lies on a layer of a step, as it is seen from a side of the hoop.

        Parameters
        ----------
        step : Step
        place : int
            Of the layer, among those of the step.
        side : Side
        """
        if self.thing is None or not self.prints:
            return None
        each = len(self.thing.project.steps[step.number - 1].layers)
        before = sum(len(one.layers) for one in self.thing.project.steps[: step.number - 1])
        copy, own = divmod(place, each)
        lies = self.prints.get(before + own)
        if lies is None:
            return None
        shown = on_side(lies, self.thing.layers[before + own], side)
        points = put(shapely.get_coordinates(shown), self._placed[copy])
        return seen(Path(points, closed=False), side)

    @property
    def _placed(self) -> tuple[Placement, ...]:
        """Where each copy lies: the first as the scene has it, which may have moved it."""
        return (Placement(self.project.turned, self.move), *self.project.placed[1:])

    @cached_property
    def one(self) -> "Scene":
        """The first copy alone, in the middle; itself where there is but one."""
        if self.project.copies == 1:
            return self
        x, y = box_of([self.project.seam]).centre
        project = shifted(first_of(self.project), -x, -y)
        course = Path(self.course.points - np.array([x, y]), closed=True)
        move = self.move[0] - x, self.move[1] - y
        return replace(self, project=project, course=course, move=move)

    @cached_property
    def extent(self) -> Box:
        """Box around all that is laid, stitched, taped and marked."""
        return box_of([self.project.seam, *_outlines(self.project.steps)])

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
    def letters_in_hand(self) -> float:
        """Size of letters in the pictures of the work out of its hoop, mm."""
        return letters_for(self.extent)

    @cached_property
    def view_in_hand(self) -> Box:
        """What the pictures show once the work is out of the hoop, the same for all of them."""
        em, seam = self.letters_in_hand, box_of([self.project.seam])
        places = [
            circle(place, (notion.width or 2 * em) / 2)
            for notion in self.project.notions
            for place in (*notion.halves, *notion.at)
        ]
        plies = (
            [one for ply in self._done_pile.plies for one in outer_paths(ply.area)]
            if (self._done_pile)
            else []
        )
        rings = [
            path(shapely.get_coordinates(part.envelope), closed=True)
            for ring in hung_rings(self.project)
            for part in ring.parts(
                across(ring.fold) if ring.fold else away_from(self.project.seam.area, ring.at)
            )
        ]
        tape = [one for tape in tapes(self.project) for one in outer_paths(tape_area(tape))]
        shown = box_of([*_in_hand(self.project.steps), *places, *plies, *rings, *tape])
        room = around([shown.grown(_ROUND * em), seam.grown(_ARROWS * em)])
        half = max(-room.left, room.right)
        return Box(-half, room.top, half, room.bottom)

    def state(self, step: Step) -> State:
        """How the work is when a step begins."""
        if step.number < self._hooping and step.act in (*NOT_IN_THE_HOOP, Act.FOLD):
            return State.BEFORE_HOOPING
        out = self.number_of(Act.UNHOOP)
        turns = [one.number for one in self.project.steps if one.act is Act.TURN]
        if out is None or step.number <= out:
            return State.IN_THE_HOOP
        if not turns or step.number <= turns[0]:
            return State.AS_SEWN
        return State.RIGHT_SIDE_OUT if step.number > turns[-1] else State.TO_THE_LINING

    def pile(self, step: Step) -> PlyPile | None:
        """The work as it lies turned out, or lapped, when a step begins; None before that."""
        state = self.state(step)
        if self.lapped(step):
            return self._laid(partial(lapped_pile, sewn=step.number), self.thing)
        if state is State.TO_THE_LINING:
            across = self.number_of(Act.BOX)
            flat = across is None or step.number <= across
            return self._flat_lining_pile if flat else self._lining_pile
        if state is State.RIGHT_SIDE_OUT:
            if self.folded_over(step):
                pile = self._folded_pile
            else:
                early = self.before_pulling_over(step)
                pile = self._came_out_pile if early else self._done_pile
            return taped_over(pile, self.project, self.tones, step) if pile else None
        return None

    def folded_over(self, step: Step) -> bool:
        """Whether the turned work lies folded when a step begins."""
        return folded_before(self.project, step)

    def lapped(self, step: Step) -> bool:
        """Whether a step sews the work, which is not turned, folded: a ring hangs in a fold."""
        before = self.project.steps[: step.number - 1]
        return (
            self.state(step) is State.AS_SEWN
            and self.project.finish.way is not FinishWay.TURNED
            and bool(step.mark)
            and any(one.number == step.number for one in top_stitched(self.project))
            and any(one.act is Act.FASTEN for one in before)
            and any(ring.fold for ring in hung_rings(self.project))
        )

    @cached_property
    def _hooping(self) -> int:
        """Number of the first step that needs the hoop."""
        steps = self.project.steps
        needs = (one.number for one in steps if one.lines or one.layers or one.tape)
        return next(needs, 0)

    def before_pulling_over(self, step: Step) -> bool:
        """Whether flaps still lie on the side of the work when a step begins."""
        pulled = [one.number for one in self.project.steps if one.act is Act.PULL_OVER]
        return bool(pulled and self.to_pull_over) and step.number <= pulled[-1]

    @cached_property
    def to_pull_over(self) -> tuple[Flap, ...]:
        """The flaps that are pulled over, in order from the work."""
        book = self.thing.flaps if self.thing else ()
        return tuple(flap for flap in book if flap.lies is FlapSide.CLOSING)

    @cached_property
    def as_it_came_out(self) -> FinishedThing | None:
        """The turned thing before its flaps are pulled over, its own way round."""
        return finish(self.thing.done, pulled_over=False) if self.thing else None

    @cached_property
    def _done_pile(self) -> PlyPile | None:
        return self._laid(partial(finished_pile, bare=True), self.thing)

    @cached_property
    def _folded_pile(self) -> PlyPile | None:
        return self._laid(folded_pile, self.thing)

    @cached_property
    def _came_out_pile(self) -> PlyPile | None:
        return self._laid(partial(finished_pile, bare=True), self.as_it_came_out)

    @cached_property
    def _lining_pile(self) -> PlyPile | None:
        stands = standing_room(self.thing) if self.thing else None
        room = None if stands is None else stands.wall
        return self._laid(partial(lining_pile, room=room), self.thing)

    @cached_property
    def _flat_lining_pile(self) -> PlyPile | None:
        room = flat_room(self.thing) if self.thing else None
        return self._laid(partial(lining_pile, room=room), self.thing)

    def _laid(self, made: Callable[..., PlyPile], thing: FinishedThing | None) -> PlyPile | None:
        """Lay a pile as the work lay in the hoop, with nothing in it and its zip half open."""
        if thing is None:
            return None
        opened = self.number_of(Act.OPEN_ZIP) is not None
        pile = made(
            thing, self.letters_in_hand, tones=self.tones, prints=self.prints, opened=opened
        )
        return moved(pile, self.project.turned, self.move)

    @cached_property
    def hoop_caption(self) -> str:
        """Hoop and field as the person knows them, in both units."""
        size = show_size_both(self.field.width, self.field.height, self.project.unit)
        return f"Hoop {self.hoop}, field {size}"

    @cached_property
    def gaps(self) -> tuple[Path, ...]:
        """Parts of the seam line that no seam closes."""
        return gaps_in(self.project, (self.project.seam,))

    @cached_property
    def open_edges(self) -> tuple[Path, ...]:
        """Those of them that leave a whole edge open: there it is trimmed as elsewhere."""
        return tuple(one for one in self.gaps if is_open_edge(self.project.seam, one.line))

    @property
    def gap_called(self) -> str:
        """What a part of the seam line is called that is left open."""
        return "edge that stays open" if self.open_edges else "turning gap, left open"

    @cached_property
    def every_gap(self) -> tuple[Path, ...]:
        """The same of all copies in the hoop."""
        return gaps_in(self.project, seams(self.project))

    @cached_property
    def opening(self) -> Path | None:
        """The fold under which a hand goes in where pieces close it together; None if none do."""
        closing = [
            layer
            for step in self.project.steps
            for layer in step.layers
            if layer.piece in self.project.finish.closing
        ]
        seam = self.project.seam.area
        folds = [
            shapely.LineString(edge) & seam for layer in closing for edge in layer.folded_edges
        ]
        across = [fold for fold in folds if fold.length > 0.0]
        if self.gaps or len(across) < 2:
            return None
        return path(shapely.get_coordinates(across[-1]), closed=False)

    @cached_property
    def whole(self) -> BaseGeometry:
        """Where anything was laid."""
        layers = [layer for step in self.project.steps for layer in step.layers]
        return shapely.union_all([layer.outline.area for layer in layers])

    @cached_property
    def _cuts(self) -> tuple[TrimCuts, ...]:
        boxed = self.project.finish.boxed
        uncut = shapely.union_all(
            [shapely.MultiPoint(one).envelope.buffer(_BESIDE) for one in boxed.seams]
            if boxed
            else []
        )
        return cuts_of(self.project.steps, self.course, self.gaps, self.whole, uncut)

    def cuts(self, step: Step) -> TrimCuts:
        """What a step cuts off the work once it is out of the hoop."""
        return self._cuts[step.number - 1]

    def number_of(self, act: Act) -> int | None:
        """Number of the first step with an act; None if there is none."""
        return next((step.number for step in self.project.steps if step.act is act), None)


def hooped(
    project: Project,
    hoop: str,
    width: float,
    height: float,
    thing: FinishedThing | None = None,
    move: Point = (0.0, 0.0),
    cloths: Cloths = NO_CLOTHS,
) -> Scene:
    """Make a project ready for drawing.

    Parameters
    ----------
    project : Project
    hoop : str
        Name of the hoop for the person.
    width, height : float
        Of its field, mm.
    thing : FinishedThing or None
        The finished thing, for the pictures of the work once it is turned.
    move : (dx, dy)
        By how much the project was moved in its hoop after any turn, mm.
    cloths : mapping of name to Cloth
        What its fabrics look like; a print is drawn where there is a finished thing.

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
    return Scene(
        project=replace(project, seam=seam, steps=steps),
        hoop=hoop,
        field=field,
        course=project.seam,
        thing=thing,
        move=move,
        cloths=cloths,
    )


def _in_hand(steps: Iterable[Step]) -> Iterable[Path]:
    """Go through what is still there, or to be done, once the work is out of the hoop."""
    out = False
    for step in steps:
        out = out or step.act is Act.UNHOOP
        yield from (layer.outline for layer in step.layers)
        if out:
            yield from step.mark


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
