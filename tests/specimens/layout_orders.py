"""Projects made of the two recipes, for tests of how they are laid out and hooped."""

from collections.abc import Callable, Mapping

from told import mends

from paramgen.hooping import Hooped, Room, put_in_hoop
from paramgen.layout.lay_out import lay_out
from paramgen.making import Order, resizing
from paramgen.recipe.read_recipe import Recipe, find_recipe, read_recipe
from paramgen.reference.hoops import Hoop, find_hoop, listed
from paramgen.sizing import Sized, size
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.project import Layer, Line, Piece, Project, Step
from paramgen.vocabulary.unit import Unit
from paramgen.works import Stitched, stitch

INCH = 25.4
WALLET = find_recipe("fold-wallet")
COASTER = find_recipe("coaster")
HOOPS = listed()

Asked = Mapping[str, str | float]


def laid(recipe: Recipe, asked: Asked, unit: Unit = Unit.MM) -> Project:
    """Lay a recipe out about the origin, without stitching it."""
    return lay_out(size(recipe, asked, unit=unit))


def stitched(recipe: Recipe, asked: Asked, *, turned: bool = False) -> Stitched:
    return stitch(size(recipe, asked, unit=Unit.MM), turned=turned)


def hooped(
    recipe: Recipe,
    asked: Asked,
    hoop: str | Hoop,
    unit: Unit = Unit.MM,
    *,
    margin: float = 0.0,
    may_turn: bool = True,
    scale: float = 1.0,
    search: bool = True,
) -> Hooped:
    """Put a recipe in a hoop, without rehearsing it: it may hold nothing and still fit.

    Without a search nothing is said of what would fit, which takes far less time.
    """
    hoop = find_hoop(hoop, HOOPS) if isinstance(hoop, str) else hoop
    order = Order(recipe, asked, Room(hoop, margin, may_turn), unit, scale)
    sized = size(recipe, asked, unit=unit, scale=scale)
    resize = resizing(order, sized) if search else _cannot_be_made
    return put_in_hoop(sized, order.room, resize=resize, hoops=HOOPS)


def _cannot_be_made(values: Mapping[str, float]) -> Sized:
    raise CannotMakeError([])


def made_or_refused(lay: Callable[[], Project]) -> Project | None:
    """Lay it out, or see that it is refused by the recipe itself, with a remedy."""
    try:
        return lay()
    except CannotMakeError as problem:
        stops = [one for one in problem.findings if one.stops]
        assert {one.code for one in stops} == {"recipe-condition"}
        assert all(mends(one) for one in stops)
        return None


def recipe_of(text: str, name: str = "plant-tag") -> Recipe:
    return read_recipe(text, name=name, source=f"{name}.toml")


def piece(project: Project, name: str) -> Piece:
    (found,) = (one for one in project.pieces if one.name == name)
    return found


def line(project: Project, name: str) -> Line:
    (found,) = (one for one in project.lines if one.name == name)
    return found


def layers(project: Project, name: str) -> list[Layer]:
    """Every layer of a piece, in the order they are laid."""
    return [one for step in project.steps for one in step.layers if one.piece == name]


def step_of(project: Project, name: str) -> Step:
    """The step in which a line is stitched or a piece first laid."""
    return next(
        step
        for step in project.steps
        if any(one.name == name for one in step.lines)
        or any(one.piece == name for one in step.layers)
    )


#: A small recipe to try one thing at a time with.
TAG = """
format = 1
title = "Plant tag"
summary = "A tag for a seedling pot."
sizes.width = {{ means = "finished width", default = "80mm", least = "20mm", most = "300mm" }}
sizes.height = {{ means = "finished height", default = "40mm", least = "20mm", most = "300mm" }}
finish = {{ way = "raw edge", finished = "finished", seam = "finished" }}

[outlines.finished]
shape = "rectangle"
width = "width"
height = "height"

[pieces.front]
title = "front"
fabric = "felt"
around = "finished"
past = "5"

[lines.edge]
title = "edge"
role = "seam"
along = "finished"

{parts}

[[steps]]
title = "Lay the front"
lay = [{{ piece = "front", side = "front", up = "right" }}]
say = "Lay the felt in the middle."

{steps}

[[steps]]
title = "Edge"
stitch = ["edge"]
say = "Stitch the edge."
"""

STITCH_TRIAL = """
[[steps]]
title = "Trial"
stitch = ["trial"]
say = "Stitch it."
"""


def tag(parts: str, asked: Asked | None = None, *, steps: str = "") -> Project:
    """Lay out a plant tag of 80 × 40 mm with something more to it."""
    return laid(recipe_of(TAG.format(parts=parts, steps=steps)), asked or {})


def trial(line: str, parts: str = "") -> Line:
    """Lay out one line, given by the keys of its table, on a plant tag of 80 × 40 mm."""
    table = f'[lines.trial]\ntitle = "trial"\nrole = "tack-down"\n{line}\n'
    for role in ("placement", "tack-down", "basting", "seam", "top-stitch"):
        if f'role = "{role}"' in line:
            table = f'[lines.trial]\ntitle = "trial"\n{line}\n'
    return next(one for one in tag(table + parts, steps=STITCH_TRIAL).lines if one.name == "trial")
