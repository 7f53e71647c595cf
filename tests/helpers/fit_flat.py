"""A small recipe whose sizes are bounded by its conditions alone, for tests of fitting.

A flat of felt, sewn 0 mm inside its edge: the stitches are as wide and as high as it is, and
nothing is held, so that everything that can be asked of it is arithmetic.
"""

from collections.abc import Sequence

from told import says

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.hooping import Room
from paramgen.making import Order
from paramgen.recipe.read_recipe import Recipe, read_recipe
from paramgen.reference.hoops import Hoop
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.unit import Unit

LEAST, MOST = 20.0, 300.0

TEXT = """
format = 1
title = "Felt flat"
summary = "A flat of felt to set a seed tray on."
sizes.width = {{ means = "width", default = "80mm", least = "20mm", most = "300mm" }}
sizes.height = {{ means = "height", default = "{height}", least = "20mm", most = "300mm" }}
lengths.rim = {{ means = "felt past the stitching", default = "5mm", least = "2mm", most = "9mm" }}
finish = {{ way = "raw edge", finished = "outer", seam = "outer" }}

[outlines.outer]
shape = "rectangle"
width = "width"
height = "height"

[pieces.felt]
title = "felt"
fabric = "felt"
around = "outer"
past = "rim"
two_sided = true
frays = false

[lines.edge]
title = "edge"
role = "seam"
along = "outer"
stitch = "run"

[[steps]]
title = "Lay the felt"
lay = [{{ piece = "felt", side = "front", up = "right" }}]
say = "Lay the felt in the middle."

[[steps]]
title = "Tape the felt"
tape = [{{ piece = "felt" }}]
say = "Tape it at its edges."

[[steps]]
title = "Edge"
stitch = ["edge"]
say = "Stitch the edge."

{conditions}
"""

CONDITION = """
[[conditions]]
require = "{require}"
say = "{says}"
"""


def flat(*require: str, height: str = "60mm", says: Sequence[str] = ()) -> Recipe:
    """The recipe with conditions, said as `(n) does not hold`, from 1, unless it is given."""
    said = says or [f"({number}) does not hold" for number in range(1, len(require) + 1)]
    conditions = "".join(
        CONDITION.format(require=one, says=text) for one, text in zip(require, said, strict=True)
    )
    text = TEXT.format(conditions=conditions, height=height)
    return read_recipe(text, name="felt-flat", source="felt-flat.toml")


def field(width: float, height: float, *, may_turn: bool = True) -> Room:
    return Room(Hoop(f"{width:g}x{height:g}", width, height), may_turn=may_turn)


def asking(
    recipe: Recipe, asked: dict[str, str | float] | None = None, unit: Unit = Unit.MM
) -> RememberedChecks:
    return RememberedChecks(Order(recipe, asked or {}, field(1000, 1000), unit))


def texts(reasons: Sequence[Finding]) -> list[str]:
    return [says(one) for one in reasons]
