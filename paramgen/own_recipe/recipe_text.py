"""The text of a recipe that begins as a person wants it."""

import json
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined

from paramgen.own_recipe.first_sizes import first_size
from paramgen.own_recipe.wanted_recipe import (
    Construction,
    FirstOutline,
    PocketClosing,
    WantedRecipe,
)
from paramgen.reference.things import Thing

#: How much of a round corner's radius keeps a square one away from either side.
_IN_CORNER = "0.293 * corner_radius"


@cache
def _texts() -> Environment:
    found = Environment(
        loader=PackageLoader("paramgen.own_recipe", "text"),
        autoescape=False,  # it is TOML: texts of the person's are quoted, or on a comment's line
        undefined=StrictUndefined,
        keep_trailing_newline=True,
        trim_blocks=True,
        lstrip_blocks=True,
        block_start_string="<%",
        block_end_string="%>",
        variable_start_string="<<",
        variable_end_string=">>",
    )
    found.filters["quoted"] = _quoted
    return found


def recipe_text(wanted: WantedRecipe, hoop: str, roomier: int = 0) -> str:
    """A whole recipe, commented.

    Parameters
    ----------
    wanted : WantedRecipe
    hoop : str
        A hoop that takes it, for the command in its first lines.
    roomier : int
        More room for what it holds than the least, mm.
    """
    width, height = first_size(wanted, roomier)
    turned = wanted.construction is Construction.TURNED
    rounded = wanted.outline is FirstOutline.ROUNDED
    snap = wanted.closing is PocketClosing.SNAP
    corner = _IN_CORNER if rounded else ""
    needed_width = "thing_width + thing_thickness + thing_ease + 2 * edge_stitch"
    needed_height = "thing_height + thing_thickness / 2 + thing_ease + 2 * edge_stitch"
    return (
        _texts()
        .get_template("zip.toml" if wanted.zipped else "flat.toml")
        .render(
            name=wanted.name,
            hoop=hoop,
            title=wanted.title,
            kind=kind(wanted),
            summary=_sentence(kind(wanted)),
            outline=str(wanted.outline),
            turned=turned,
            pockets=wanted.pockets,
            snap=snap,
            thing=_measures(wanted.thing),
            width=width,
            height=height,
            edge="seam line" if turned else "finished edge",
            box="box" if turned else "outline",
            in_corner=corner,
            past="turn_of_cloth + allowance" if turned else "allowance",
            pocket_k="the pocket" if snap else "pocket {k}",
            pocket_word="pocket" if wanted.pockets == 1 else "pockets",
            needed_width=needed_width + (f" + 2 * {corner}" if rounded else ""),
            needed_height=needed_height + (f" + {corner}" if rounded else ""),
            least_gap=_LEAST_GAP.get(wanted.outline, "min(50, 0.4 * min(width, height))"),
            gap_width=_GAP_WIDTH[wanted.outline],
        )
    )


#: The least turning gap of a hexagon, whose shortest side is half as long as it is wide; and how
#: wide each outline must be for one of 50 mm, or of 0.4 of its shorter side.
_LEAST_GAP = {FirstOutline.HEXAGON: "min(50, 0.2 * width)"}
_GAP_WIDTH = {
    FirstOutline.RECTANGLE: "50 + 24",
    FirstOutline.ROUNDED: "50 + 24 + 2 * corner_radius",
    FirstOutline.HEXAGON: "2 * (50 + 20)",
    FirstOutline.OVAL: "min(sqrt(125 * height), height)",
}


def kind(wanted: WantedRecipe) -> str:
    """What it is, in a few words.

    Examples
    --------
    >>> from paramgen.own_recipe.wanted_recipe import recipe_wanted
    >>> kind(recipe_wanted("mat", [], outline="oval"))
    'an oval mat of two layers, turned through a gap'
    """
    shape = {FirstOutline.RECTANGLE: "a", FirstOutline.ROUNDED: "a round-cornered"}
    head = shape.get(
        wanted.outline, f"a{'n' if wanted.outline is FirstOutline.OVAL else ''} {wanted.outline}"
    )
    if wanted.outline is FirstOutline.HEXAGON:
        head = "a six-sided"
    turned = wanted.construction is Construction.TURNED
    if wanted.zipped:
        how = "lined, turned" if turned else "of felt or vinyl with raw edges"
        return f"{head} pouch with a zip across the front, {how}"
    how = "of two layers, turned through a gap" if turned else "of felt or vinyl with raw edges"
    if not wanted.pockets:
        return f"{head} mat {how}"
    if wanted.closing is PocketClosing.SNAP:
        return f"{head} sleeve with a pocket closed by a snap, {how}"
    pockets = "a pocket" if wanted.pockets == 1 else f"{wanted.pockets} pockets"
    return f"{head} sleeve with {pockets}, {how}"


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."


def _measures(thing: Thing | None) -> dict[str, str]:
    if thing is None:
        return {}
    sizes = {"width": thing.width, "height": thing.height, "thickness": thing.thickness}
    return {"name": thing.name, **{key: f"{size:.6g}" for key, size in sizes.items()}}


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)  # what JSON escapes, TOML reads the same
