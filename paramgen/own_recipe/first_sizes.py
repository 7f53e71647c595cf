"""The finished size that a recipe begins with: what holds its thing, in whole steps.

The text says the same as conditions, in its own lengths; a test tries that both agree.
"""

import math

from paramgen.own_recipe.wanted_recipe import (
    Construction,
    FirstOutline,
    PocketClosing,
    WantedRecipe,
)

#: Sizes are rounded up to this, mm.
STEP = 5
#: Of a thing without pockets, and the least of one that has them or a zip, mm.
PLAIN = (110, 110)
LEAST_FLAT = (60, 60)
LEAST_ZIPPED = (110, 80)

#: As the texts have them, mm: room beyond a thing, stitching inside the edge, corners, the snap.
EASE = 4
EDGE = {Construction.TURNED: 2.5, Construction.RAW_EDGE: 3.0}
ZIP_EDGE = {Construction.TURNED: 0.0, Construction.RAW_EDGE: 3.0}
RADIUS = 10
SNAP = 12
#: A round corner of radius r keeps a square one r · (1 - √½) away from either side.
IN_CORNER = 1 - math.sqrt(0.5)
#: Of the opening of a zip the slider at its end takes so much, mm.
SLIDER = 30
#: What shows above the things in pockets, mm: nothing else may lie there.
ABOVE = 15


def first_size(wanted: WantedRecipe, roomier: int = 0) -> tuple[int, int]:
    """Width and height that a recipe begins with, mm; of a hexagon the width alone counts.

    Parameters
    ----------
    wanted : WantedRecipe
    roomier : int
        More room each way than the least that is reckoned here, mm.
    """
    thing = wanted.thing
    if thing is None:
        return PLAIN
    thick = thing.thickness
    wide, high = (side + thick + EASE + roomier for side in (thing.width, thing.height))
    round_corner = RADIUS * IN_CORNER if wanted.outline is FirstOutline.ROUNDED else 0.0
    if wanted.zipped:
        more = 2 * (ZIP_EDGE[wanted.construction] + round_corner)
        through = min(thing.width, thing.height) + thick + SLIDER
        return _least(max(wide + more, through), high + more, LEAST_ZIPPED)
    edge = EDGE[wanted.construction]
    # Above a thing in the middle lie the snap and the edge; the same below it.
    snap = high + 2 * (SNAP + 11 + edge) if wanted.closing is PocketClosing.SNAP else 0.0
    match wanted.outline:
        case FirstOutline.OVAL:
            side = math.sqrt(2)  # of a rectangle within an ellipse
            wide, high = side * wide + 2 * edge, max(side * high + 2 * edge, snap)
            if wanted.construction is Construction.TURNED:
                # At the top it is flat enough for a turning gap of 50, or 0.4 of its width.
                wide = max(wide, min(math.sqrt(125 * (high + STEP)), high + STEP))
            return _least(wide, high, LEAST_FLAT)
        case FirstOutline.HEXAGON:
            # From its middle to a corner, at the height of the thing's corners; and to a flat side.
            across = max(wide + high / math.sqrt(3), 2 * high / math.sqrt(3))
            across += 4 * edge / math.sqrt(3)
            return _least(max(across, snap * 2 / math.sqrt(3)), 0.0, LEAST_FLAT)
        case _:
            head = SNAP + 11 if wanted.closing is PocketClosing.SNAP else ABOVE
            return _least(
                wide + 2 * edge + 2 * round_corner,
                high + 2 * edge + round_corner + head,
                LEAST_FLAT,
            )


def _least(width: float, height: float, least: tuple[int, int]) -> tuple[int, int]:
    wide, high = (
        STEP * math.ceil(max(one, low) / STEP)
        for one, low in zip((width, height), least, strict=True)
    )
    return wide, high
