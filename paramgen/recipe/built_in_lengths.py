"""Lengths that every recipe has without saying so; recipe and person may set others."""

from collections.abc import Mapping

from paramgen.recipe.language import FabricTable, Length
from paramgen.reference.materials import ANY_CLOTH, listed_materials
from paramgen.vocabulary.unit import Unit

#: Where neither recipe nor person sets one. Common practice, no source.
RULER_MARK_MEANS = "cut sizes are rounded up to this ruler mark"
RULER_MARKS = {Unit.MM: 1.0, Unit.INCH: 25.4 / 8}

#: Finest and coarsest ruler mark, mm: a tenth of what a ruler shows, and an inch.
LEAST_MARK, MOST_MARK = 0.1, 25.4


def _length(means: str, default: float, least: float, most: float) -> Length:
    entry = {"means": means, "default": default, "least": least, "most": most}
    return Length.model_validate(entry)


#: Stitch lengths: common practice, no source.
BUILT_IN = {
    "placement_stitch": _length("longest stitch of placement lines", 3.0, 1.0, 7.0),
    "tack_down_stitch": _length("longest stitch of tack-downs", 2.5, 1.0, 7.0),
    "basting_stitch": _length("longest stitch of basting", 5.0, 2.0, 7.0),
    "seam_stitch": _length("longest stitch of seams", 2.5, 1.0, 4.0),
    "seam_swing": _length("width of the zigzag that reinforces seams", 1.5, 0.8, 4.0),
    "top_stitch": _length("longest stitch of top-stitching", 3.0, 1.0, 7.0),
}


def ply_range(table: FabricTable | None) -> tuple[float, float]:
    """Least and most thickness of a layer of a fabric with its interfacing, mm."""
    known = listed_materials()
    names = [ANY_CLOTH] if table is None else [table.kind, table.interfacing]
    plies = [known[name].ply for name in names if name]
    return sum(ply[0] for ply in plies), sum(ply[1] for ply in plies)


def ply_names(fabrics: Mapping[str, FabricTable]) -> dict[str, float]:
    """Names that formulas may use for how thick a layer of each fabric is, and their values, mm."""
    return {
        name: value
        for role, table in fabrics.items()
        for name, value in zip(ply_names_of(role), ply_range(table), strict=True)
    }


def ply_names_of(fabric: str) -> tuple[str, str]:
    """Names that formulas use for the least and most thickness of a layer of a fabric.

    Examples
    --------
    >>> ply_names_of("clear-vinyl")
    ('clear_vinyl_ply_least', 'clear_vinyl_ply_most')
    """
    name = fabric.replace("-", "_")
    return f"{name}_ply_least", f"{name}_ply_most"


#: Every name a recipe must not define again.
NAMES = ("ruler_mark", *BUILT_IN)
