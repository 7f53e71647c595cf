"""The place of a finding, shown in the project as it lies in its hoop."""

from collections.abc import Iterator

import numpy as np

from paramgen.drawings.front_end.framed_picture import FramedPicture, composed, letters_for
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.legend import entries_for
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.front_end.thread_styles import stitched_style
from paramgen.drawings.primitives.drawn_paths import box_of, circle, rectangle
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Group, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.lengths import spaced
from paramgen.vocabulary.box import around
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import Path, Point, path
from paramgen.wording.say import how_bad, said, sentence

# What is smaller than so many ems has a ring of this radius round it.
_RING = 1.5


def place_picture(hooped: Scene, finding: Finding, number: int) -> Drawing:
    """Draw where a finding is.

    Parameters
    ----------
    hooped : Scene
    finding : Finding
        With a place.
    number : int
        Its place in the list, from 1.

    Returns
    -------
    Drawing
        Named `place-01-` and its code. The project is drawn light, seen from the front, and
        the place strong.
    """
    message, mend = said(finding, hooped.project.unit)
    course = _course(finding.place)
    room = around([hooped.whole_view, box_of([course])])
    em = letters_for(room)
    view = room.grown(0.5 * em)
    place = tuple(_place(course, em))
    picture: tuple[DrawnItem, ...] = (
        Shape(rectangle(hooped.field), Style.HOOP_FIELD),
        Group("pieces", tuple(_pieces(hooped)), "Outlines of the pieces"),
        Group("stitches", tuple(_stitches(hooped)), "Stitched lines"),
        Group("place", place, message),
    )
    remedy = (TextLine(mend),) if mend else ()
    bad = how_bad(finding.severity)
    return composed(
        FramedPicture(
            name=f"place-{number:02}-{finding.code}",
            title=f"{hooped.project.title}: {message}",
            description=spaced(
                f"{bad}: {sentence(message)} {mend} {hooped.hoop_caption}. Seen from the front."
            ),
            heading=(
                TextLine(f"{number}. {hooped.project.title}: {bad}"),
                TextLine(sentence(message), bold=True),
                TextLine(f"{hooped.hoop_caption}. Seen from the front."),
            ),
            above="",
            view=view,
            picture=picture,
            legend=entries_for(
                picture, {Style.STITCHED_BEFORE: "stitched lines"}, hooped.project.unit
            ),
            letters=em,
            labels=(Label(_tip(place), tuple(_words(hooped, finding)), on_line=True),),
            notes=remedy,
            column=True,
        )
    )


def _course(place: tuple[Point, ...]) -> Path:
    """A place as a path: closed if it comes back to its start."""
    return path(place, closed=len(place) > 3 and place[0] == place[-1])


def _place(course: Path, em: float) -> Iterator[Shape]:
    box = box_of([course])
    size = max(box.width, box.height)
    if size > 0.0:
        yield Shape(course, Style.PLACE)
    if size < _RING * em:
        yield Shape(circle(box.centre, _RING * em), Style.PLACE)


def _tip(place: tuple[Shape, ...]) -> Point:
    """Rightmost point of what is drawn."""
    points = np.vstack([shape.path.points for shape in place])
    x, y = points[np.argmax(points[:, 0])]
    return float(x), float(y)


def _words(hooped: Scene, finding: Finding) -> Iterator[TextLine]:
    named = {piece.name: piece.title for piece in hooped.project.pieces}
    named.update((notion.name, notion.title) for notion in hooped.project.notions)
    yield TextLine("here", bold=True)
    if finding.piece in named:
        yield TextLine(named[finding.piece])
    if finding.step is not None and finding.step <= len(hooped.project.steps):
        step = hooped.project.steps[finding.step - 1]
        yield TextLine(f"step {step.number}: {step.title}")


def _pieces(hooped: Scene) -> Iterator[Shape]:
    for step in hooped.project.steps:
        for layer in step.layers:
            yield Shape(layer.outline, Style.PIECE_OUTLINE)


def _stitches(hooped: Scene) -> Iterator[Shape]:
    for step in hooped.project.steps:
        if step.act is Act.UNHOOP:
            break
        for line in step.lines:
            yield from (Shape(one, stitched_style(line)) for one in line.paths)
