"""Batting under a quilted panel: a piece of its own, laid and held before the panel is.

It lies inside the seam and clear of the panel's folds and of zips, so that it adds nothing to their
thickness. Its tack-down is hidden under the panel.
"""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.embellishment_kind import (
    FreeGround,
    Worked,
    by_hand,
    stop_of_line,
)
from paramgen.geometry.offset import clockwise
from paramgen.geometry.outlines import rectangle
from paramgen.lengths import show_both
from paramgen.reference.materials import listed_materials
from paramgen.vocabulary.kinds import Act, Face, Grain, Role, Side, StitchKind
from paramgen.vocabulary.path import Path, path
from paramgen.vocabulary.project import Fabric, Layer, Line, Piece, Stitch

#: The role of its fabric, and the material it is taken to be.
ROLE, MATERIAL = "batting", "batting"
#: It is laid so far inside the line that shows where, mm: 1 mm inside the seam then (common
#: practice, no source).
INSIDE_LINE = 1.0
#: Its tack-down runs so far inside its edge, mm: a line nearer than 3 mm does not hold, and tape
#: reaches 3 mm onto it (common practice, no source).
HELD_INSIDE = 4.0
#: No smaller piece is worth laying, mm.
LEAST_SIDE = 25.0
#: Strips of tape, mm, and how far they reach onto it.
_TAPE, _LONG, _ONTO = 12.0, 20.0, 3.0


def batting_under(ground: FreeGround) -> Worked:
    """Batting for a panel: its piece, and the steps that lay it; nothing where it has no room."""
    lies = _largest(ground.padded)
    if lies is None or min(lies.box.width, lies.box.height) < LEAST_SIDE:
        return Worked()
    title = f"batting for the {ground.title}"
    name = f"batting-{ground.panel.piece.replace('[', '-').replace(']', '')}"
    material = listed_materials()[MATERIAL]
    middle = np.array(lies.box.centre)
    size = lies.box.width, lies.box.height
    piece = Piece(
        name=name,
        title=title,
        fabric=ROLE,
        quantity=1,
        cut=size,
        folded=size,
        outline=Path(lies.points - middle, closed=True),
        creases=(),
        grain=Grain.ANY,
    )
    layer = Layer(
        piece=name,
        title=title,
        fabric=ROLE,
        side=Side.FRONT,
        up=Face.RIGHT,
        outline=lies,
        folded_edges=(),
        plies=1,
        ply=material.ply,
    )
    around = _offset(lies, INSIDE_LINE)
    within = _offset(lies, -HELD_INSIDE)
    run = Stitch(StitchKind.RUN, 3.0)
    place = Line(f"place-{name}", f"outline of the {title}", Role.PLACEMENT, run, (around,))
    tack = Line(
        f"tack-{name}",
        f"tack-down of the {title}",
        Role.TACK_DOWN,
        Stitch(StitchKind.RUN, 2.5),
        (within,),
    )
    inside = show_both(INSIDE_LINE, ground.unit)
    steps = (
        stop_of_line(
            f"Placement of the {title}",
            f"Stitch. The line shows where the batting for the {ground.title} goes.",
            place,
        ),
        by_hand(
            Act.LAY,
            f"Lay the {title}",
            f"Cut it by its template and lay it just inside the line, {inside} from it all round. "
            "Fusible fleece lies glue side up; keep the iron off it until the work is finished.",
            layers=(layer,),
        ),
        by_hand(
            Act.TAPE,
            f"Tape the {title}",
            "Tape it at both sides, only just onto its edge: the next line runs beside it.",
            tape=_strips(lies),
            taped=(name,),
        ),
        stop_of_line(
            f"Tack-down of the {title}",
            f"Stitch the batting down. The {ground.title} hides this line.",
            tack,
        ),
        by_hand(Act.UNTAPE, "Remove the tape", "Take the tape off the batting.", pieces=(name,)),
    )
    return Worked(before=steps, pieces=(piece,), fabrics=(Fabric(ROLE, material, None),))


def _largest(area: BaseGeometry) -> Path | None:
    parts = [one for one in shapely.get_parts(area) if one.geom_type == "Polygon" and one.area > 0]
    if not parts:
        return None
    largest = max(parts, key=lambda one: float(one.area))
    return clockwise(path(shapely.get_coordinates(largest.exterior)[:-1], closed=True))


def _offset(outline: Path, by: float) -> Path:
    moved = outline.area.buffer(by, join_style="mitre")
    found = _largest(moved)
    assert found is not None
    return found


def _strips(outline: Path) -> tuple[Path, ...]:
    """A strip across the middle of either side."""
    box = outline.box
    y = box.centre[1]
    top, bottom = y - _TAPE / 2, y + _TAPE / 2
    return (
        rectangle(box.left + _ONTO - _LONG, top, box.left + _ONTO, bottom),
        rectangle(box.right - _ONTO, top, box.right - _ONTO + _LONG, bottom),
    )
