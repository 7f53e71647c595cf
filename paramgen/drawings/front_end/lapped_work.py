"""The work as it is lapped and sewn: folded with its ring in the fold, and not turned."""

from collections.abc import Iterator

from paramgen.drawings.front_end.fitted_hardware import ring_drawn
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.front_end.work_before_turning import SEWN_HERE
from paramgen.drawings.front_end.work_turned_out import TurnedWork
from paramgen.drawings.primitives.drawn_paths import lines_of, rightmost, seen
from paramgen.drawings.primitives.items import DrawnItem, Group, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.finished.hung_rings import away_from, hung_rings
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Step


def lapped_work(hooped: Scene, step: Step, lapped: TurnedWork) -> tuple[DrawnItem, ...]:
    """Paint the work folded as it is sewn in a step, the ring in its fold.

    Parameters
    ----------
    hooped : Scene
    step : Step
        That sews the work as it lies lapped.
    lapped : TurnedWork
        How it lies then.
    """
    pile, side = lapped
    rings = tuple(
        shape
        for ring in hung_rings(hooped.project)
        if ring.fold
        for shape in ring_drawn(ring, away_from(pile.room, ring.at), pile.room, side)
    )
    lines = tuple(Shape(line, Style.BY_HAND, now=True) for line in _sewn(lapped))
    return (*pile.without(Style.BY_HAND).painted[side], *rings, Group("now", lines, step.title))


def lapped_labels(step: Step, lapped: TurnedWork) -> Iterator[Label]:
    """Say where it is sewn."""
    yield Label(rightmost(_sewn(lapped)), (TextLine(SEWN_HERE[step.act], bold=True),), on_line=True)


def _sewn(lapped: TurnedWork) -> tuple[Path, ...]:
    """What is sewn now, as it is seen."""
    lines = lapped.pile.lines_seen(Style.BY_HAND, lapped.side)
    return tuple(seen(line, lapped.side) for line in lines_of(lines))
