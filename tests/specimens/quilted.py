"""A coaster with lines quilted across it, each way, before its back is laid or after."""

from dataclasses import replace

import numpy as np

from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import find_recipe
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.vocabulary.kinds import Act, Role, Side, StitchKind
from paramgen.vocabulary.path import path
from paramgen.vocabulary.project import Line, Project, Step, Stitch
from paramgen.vocabulary.unit import Unit

#: The quilting keeps so far from the middle, mm: inside the batting of a coaster of 108 mm.
REACH = 45.0


def quilted(count: int, *, role: Role = Role.TOP_STITCH, over_back: bool = False) -> Project:
    """A coaster of 108 mm with so many lines each way across it; none leaves it as it is.

    Parameters
    ----------
    count : int
    role : Role
        Of the lines.
    over_back : bool
        Whether they are stitched when the back lies on the top, and so through it as well.
    """
    plain = lay_out(size(find_recipe("coaster"), {}, unit=Unit.MM), chord_error=COARSE)
    if not count:
        return plain
    at = np.linspace(-REACH, REACH, count + 2)[1:-1].tolist()
    ways = [
        [[(x, -REACH), (x, REACH)] for x in at],
        [[(-REACH, y), (REACH, y)] for y in at],
    ]
    lines = tuple(
        Line(
            f"quilting-{number}",
            f"quilting {number}",
            role,
            Stitch(StitchKind.RUN, 3.0),
            tuple(path(points, closed=False) for points in paths),
        )
        for number, paths in enumerate(ways, 1)
    )
    quilting = Step(
        number=0,
        stop=None,
        act=Act.STITCH,
        title="Quilting",
        say="Quilt it.",
        seen_from=Side.FRONT,
        lines=lines,
    )
    back = next(
        place
        for place, step in enumerate(plain.steps)
        if any(layer.piece == "back" for layer in step.layers)
    )
    place = back + 1 if over_back else back
    steps = (*plain.steps[:place], quilting, *plain.steps[place:])
    return replace(plain, steps=tuple(replace(step, number=at) for at, step in enumerate(steps, 1)))
