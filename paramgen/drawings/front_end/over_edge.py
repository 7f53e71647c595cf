"""A tape that is folded over an edge of the finished thing and sewn on, on both faces of it."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.drawn_plies import SAME, DrawnPly, PlyMark, PlyPile, line_through
from paramgen.drawings.primitives.items import Style, Tone
from paramgen.finished.finished_thing import SIDES
from paramgen.vocabulary.project import Notion, Project, Step


def taped_over(
    pile: PlyPile, project: Project, tones: Mapping[str, Tone], before: Step | None = None
) -> PlyPile:
    """Lay every tape that is folded over its edge behind and in front of a pile.

    Parameters
    ----------
    pile : PlyPile
    project : Project
        Lying as the pile does.
    tones : mapping of name to Tone
    before : Step or None
        Only what is sewn on in this step or before it; all of them if None.
    """
    for notion in tapes(project, before):
        ply = _tape(notion, tones.get(notion.name))
        pile = replace(pile, plies=(ply, *pile.plies, ply))
    return pile


def tapes(project: Project, before: Step | None = None) -> Iterator[Notion]:
    """The tapes there are, or those that are on once a step is done."""
    for notion in project.notions:
        sewn_on = (step.number for step in project.steps if step.act is notion.needed)
        if notion.over_edge and (before is None or any(at <= before.number for at in sewn_on)):
            yield notion


def tape_area(notion: Notion) -> shapely.Polygon:
    """Where a tape lies on the finished thing, or on the first copy of it."""
    return shapely.Polygon(notion.over_edge[:4])


def along_tapes(line: BaseGeometry, project: Project) -> BaseGeometry:
    """A straight line that is marked on a tape, going on to where the tape is drawn to end.

    It is stitched all along the tape; what is marked of it is what goes through the thing itself.
    """
    for tape in tapes(project):
        if not isinstance(line, shapely.LineString) or len(line.coords) > 2:
            continue
        if tape_area(tape).buffer(SAME).covers(line):
            whole = line_through(line) & tape_area(tape)
            line = whole if isinstance(whole, shapely.LineString) else line
    return line


def _tape(notion: Notion, tone: Tone | None) -> DrawnPly:
    """One of its halves: its open edge is folded too, and past its ends it runs on."""
    start, end, below, back = notion.over_edge[:4]
    edges = shapely.MultiLineString([(start, end), (below, back)])
    marks: tuple[PlyMark, ...] = tuple((edges, Style.FOLDED_EDGE, side) for side in SIDES)
    return DrawnPly(
        name=notion.name,
        title=notion.short_title,
        fabric=notion.name,
        area=tape_area(notion),
        front=Style.RIGHT_SIDE,
        back=Style.RIGHT_SIDE,
        marks=marks,
        tone=tone,
    )
