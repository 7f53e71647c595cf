"""Appliqué: a patch of another fabric on a panel, its raw edge under satin."""

from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType

import numpy as np
from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.applique_outline import (
    LEAST_EDGE,
    MOST_EDGE,
    PLACED,
    TACK_INSIDE,
    TACKED,
    AppliqueLines,
    applique_lines,
    covered_by,
    moved,
)
from paramgen.embellishment.embellishment_kind import (
    EmbellishmentKind,
    FreeGround,
    Worked,
    by_hand,
    stop_to_stitch,
)
from paramgen.embellishment.ground_findings import largest_room, no_room
from paramgen.embellishment.kind_options import (
    Embellishment,
    MeasureOption,
    TextOption,
    WordOption,
)
from paramgen.embellishment.place_on_ground import (
    PLACING,
    TURN,
    largest_alike,
    place_for,
    turned_points,
)
from paramgen.embellishment.satin_column import (
    SPACING,
    Satin,
)
from paramgen.embellishment.satin_options import DENSITY, PULLED
from paramgen.geometry.figures import FIGURES_DRAWN, figure, fitted_figure
from paramgen.geometry.outlines import ShapeError, rectangle
from paramgen.geometry.svg_path import closed_outlines
from paramgen.lengths import round_up, show_both
from paramgen.reference.materials import ANY_CLOTH, listed_materials
from paramgen.vocabulary.facts import Clause, Name, facts
from paramgen.vocabulary.findings import Finding, InputError, Severity
from paramgen.vocabulary.kinds import Act, Face, Grain, Role, Side, StitchKind
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Fabric, Layer, Piece, Step, Stitch
from paramgen.vocabulary.unit import Unit

_MEANS = {
    "oval": "a circle, or an oval where width and height differ",
    "rectangle": "a rectangle",
    "triangle": "a triangle standing on a side",
    "diamond": "a diamond standing on its point",
    "hexagon": "a hexagon standing on a side",
    "star": "a star of five points",
    "heart": "a heart",
    "leaf": "a leaf",
    "drop": "a drop",
}
SHAPE = WordOption(
    name="shape",
    words=MappingProxyType({name: _MEANS[name] for name in FIGURES_DRAWN}),
    also=MappingProxyType({"circle": "oval", "square": "rectangle", "round": "oval"}),
)
OWN_SHAPE = TextOption(
    name="path",
    means="a shape of one's own, as SVG path data in quotes",
    longest=4000,
)
WIDTH = MeasureOption(
    name="width", means="of the shape", default=None, least=12.0, most=500.0, bare=True
)
HEIGHT = MeasureOption(name="height", means="of the shape", default=None, least=12.0, most=500.0)
EDGE = MeasureOption(
    name="edge", means="width of the satin edge", default=3.5, least=LEAST_EDGE, most=MOST_EDGE
)

#: The patch is cut so much larger than its shape all round, mm, to be held while it is tacked down
#: (common practice, no source); to a mark of so much, mm.
_SPARE = 12.0
_MARK = MappingProxyType({Unit.MM: 5.0, Unit.INCH: 6.35})

#: What a patch takes of the room that there is, unless its size is said.
_SHARE = 0.45

#: Strips of tape, mm: how wide and long, and how far they reach onto the patch, which is less than
#: it is cut larger.
_TAPE, _LONG, _ONTO = 12.0, 20.0, 6.0


def applique(asked: Embellishment, ground: FreeGround) -> Worked:
    """Stitch a patch on a panel."""
    satin = Satin(
        width=asked.measure(EDGE) or LEAST_EDGE,
        spacing=asked.measure(DENSITY) or SPACING,
        pull=asked.measure(PULLED) or 0.0,
    )
    own, name = asked.words_of(OWN_SHAPE), asked.word(SHAPE)
    width, height = _size(asked, ground)
    drawn = (own or name, bool(own), width, height, asked.measure(TURN) or 0.0)
    try:
        left, top, right, bottom = _covered(*drawn, satin.stitched).bounds
        size = (right - left, bottom - top)
        middle = place_for(asked, ground, size)
        if middle is None:
            what = "a patch of its own shape" if own else f"a patch, {_called(name)}"
            has = largest_alike(ground.area, size)
            return Worked(findings=(no_room(asked, ground, what=what, needs=size, has=has),))
        lines = _lines(*drawn, satin)
    except InputError as problem:
        why = Name("key", "path", str(problem.faults[0].message))
        return Worked(findings=(_refused(ground, "cannot-be-read", why=why),))
    except ShapeError as problem:
        return Worked(findings=(_refused(ground, "no-shape", why=problem.why),))
    by = (middle[0] - (left + right) / 2, middle[1] - (top + bottom) / 2)
    return _steps(moved(lines, by), ground, satin, "patch" if own else name)


@lru_cache(maxsize=64)
def _outlines(
    shape: str, own: bool, width: float | None, height: float | None, turn: float
) -> tuple[Path, ...]:
    if own:
        outlines = fitted_figure(closed_outlines(shape), width, height)
    else:
        outlines = figure(shape, width, height)
    if not turn:
        return outlines
    return tuple(Path(turned_points(one.points, turn), True) for one in outlines)


@lru_cache(maxsize=64)
def _covered(
    shape: str, own: bool, width: float | None, height: float | None, turn: float, edge: float
) -> BaseGeometry:
    return covered_by(_outlines(shape, own, width, height, turn), edge)


@lru_cache(maxsize=64)
def _lines(
    shape: str,
    own: bool,
    width: float | None,
    height: float | None,
    turn: float,
    satin: Satin,
) -> AppliqueLines:
    return applique_lines(_outlines(shape, own, width, height, turn), satin)


def _size(asked: Embellishment, ground: FreeGround) -> tuple[float | None, float | None]:
    """Width and height: as said, or as there is room."""
    width, height = asked.measure(WIDTH), asked.measure(HEIGHT)
    if width is None and height is None:
        room = largest_room(ground.area) or (40.0, 40.0)
        least = WIDTH.least
        return None, max(least, _SHARE * min(room))
    return width, height


def _steps(lines: AppliqueLines, ground: FreeGround, satin: Satin, shape: str) -> Worked:
    unit, panel = ground.unit, ground.title
    title = "patch" if shape == "patch" else f"{shape} patch"
    piece = _piece(lines, unit, f"{shape}-on-{ground.panel.piece}", title)
    size = " × ".join(show_both(one, unit) for one in piece.cut)
    place = stop_to_stitch(
        f"Placement of the {title}",
        f"Stitch the outline of the {title} on the {panel}: it shows where the patch goes.",
        "applique-placement",
        lines.outline,
        Stitch(StitchKind.RUN, PLACED),
        called=f"outline of the {title}",
    )
    lay = by_hand(
        Act.LAY,
        f"Lay the {title}",
        f"Lay the patch, {size}, right side up over the outline, so that it reaches past it all "
        "round.",
        layers=(_layer(lines, piece),),
    )
    tape = by_hand(
        Act.TAPE,
        f"Tape the {title}",
        "Tape the patch at both sides, well outside the outline.",
        tape=_strips(lines, piece),
        taped=(piece.name,),
    )
    tack = stop_to_stitch(
        f"Tack-down of the {title}",
        f"Stitch the {title} down, {show_both(TACK_INSIDE, unit)} inside the outline. "
        "Keep fingers away from the needle.",
        "applique-tack-down",
        lines.tack_down,
        Stitch(StitchKind.RUN, TACKED),
        called=f"tack-down of the {title}",
    )
    untape = by_hand(
        Act.UNTAPE,
        f"Take the tape off the {title}",
        "Take the tape off the patch.",
        pieces=(piece.name,),
    )
    trim = by_hand(
        Act.TRIM,
        f"Trim the {title}",
        f"Leave the work in the hoop, and take the hoop off the machine. Cut the patch back to the "
        f"outline, {show_both(TACK_INSIDE, unit)} outside its tack-down, with small bent scissors. "
        f"Cut neither the stitches nor the {panel}.",
        mark=tuple(_ring(one) for one in lines.outline),
        pieces=(piece.name,),
    )
    edge = stop_to_stitch(
        f"Edge of the {title}",
        f"Stitch the satin edge over the raw edge of the {title}, "
        f"{show_both(satin.width, unit)} wide.",
        "applique-edge",
        tuple(Path(np.array(run), False) for run in lines.edge),
        Stitch(StitchKind.AS_DRAWN, 2.0, swing=satin.stitched),
        called=f"satin edge of the {title}",
    )
    fabric = Fabric("patch", listed_materials()[ANY_CLOTH], None)
    return Worked(
        steps=(
            _with_role(place, Role.PLACEMENT),
            lay,
            tape,
            _with_role(tack, Role.TACK_DOWN),
            untape,
            trim,
            edge,
        ),
        pieces=(piece,),
        fabrics=(fabric,),
        taken=lines.covered,
    )


def _piece(lines: AppliqueLines, unit: Unit, name: str, title: str) -> Piece:
    """A rectangle of fabric that reaches past the shape all round."""
    left, top, right, bottom = lines.covered.bounds
    mark = _MARK[unit]
    width, height = (round_up(one + 2 * _SPARE, mark) for one in (right - left, bottom - top))
    return Piece(
        name=name,
        title=title,
        fabric="patch",
        quantity=1,
        cut=(width, height),
        folded=(width, height),
        outline=rectangle(-width / 2, -height / 2, width / 2, height / 2),
        creases=(),
        grain=Grain.ANY,
    )


def _layer(lines: AppliqueLines, piece: Piece) -> Layer:
    """The patch as it is laid, and what it is cut back to."""
    left, top, right, bottom = lines.covered.bounds
    middle = np.array([(left + right) / 2, (top + bottom) / 2])
    return Layer(
        piece=piece.name,
        title=piece.title,
        fabric=piece.fabric,
        side=Side.FRONT,
        up=Face.RIGHT,
        outline=Path(piece.outline.points + middle, True),
        folded_edges=(),
        plies=1,
        ply=listed_materials()[ANY_CLOTH].ply,
        cut_back=max(lines.outline, key=lambda one: float(one.area.area)),
    )


def _strips(lines: AppliqueLines, piece: Piece) -> tuple[Path, ...]:
    """A strip of tape across the middle of either side of the patch as it is cut."""
    left, top, right, bottom = lines.covered.bounds
    x, y = (left + right) / 2, (top + bottom) / 2
    edge = piece.cut[0] / 2 - _ONTO
    low, high = y - _TAPE / 2, y + _TAPE / 2
    return (
        rectangle(x - edge - _LONG, low, x - edge, high),
        rectangle(x + edge, low, x + edge + _LONG, high),
    )


def _ring(outline: Path) -> Path:
    """A closed line to cut along, all that it encloses being kept."""
    return Path(np.concatenate([outline.points, outline.points[:1]]), False)


def _with_role(step: Step, role: Role) -> Step:
    return replace(step, lines=tuple(replace(line, role=role) for line in step.lines))


def _called(name: str) -> str:
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _refused(ground: FreeGround, why_not: str, *, why: Name | Clause) -> Finding:
    return Finding(
        "applique-shape",
        Severity.CANNOT,
        facts(panel=ground.panel.called, why=why),
        variant=why_not,
        piece=ground.panel.piece,
    )


APPLIQUE = EmbellishmentKind(
    name="applique",
    means="a patch of another fabric, its raw edge under satin",
    options=(SHAPE, OWN_SHAPE, WIDTH, HEIGHT, EDGE, DENSITY, PULLED, *PLACING),
    work=applique,
)
