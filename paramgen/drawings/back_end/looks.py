"""How each style looks: the one place where colours, widths and dashes are decided.

Nothing is told by colour alone: the right side is shaded, the wrong side hatched, batting
dotted, tape lined, what is cut away crossed, what can be seen through sparsely streaked; a
fold is a double line and a raw edge a thin one. Each fabric of a project has a tone and a small
mark strewn over it, on its right side as on its wrong one; what is laid now is darker than all
that was laid before. Where the person said what a fabric looks like, its right side has that
colour or print under the mark, and its wrong side shows it pale under the hatching. Regions differ
in lightness and in the dash of their edge, and are numbered.
"""

import math
from collections.abc import Mapping
from dataclasses import replace
from enum import StrEnum
from types import MappingProxyType

from paramgen.drawings.back_end.contrast import contrast, faded
from paramgen.drawings.primitives.items import Style, Tone
from paramgen.vocabulary.cloth import Cloth, ClothPicture
from paramgen.vocabulary.frozen_data import dataclass

PAPER = "#ffffff"
INK = "#1a222b"
GREY = "#4d5761"


class Texture(StrEnum):
    """A pattern over the fill of an area."""

    HATCH = "hatch"
    DOTS = "dots"
    LINES = "lines"
    GLEAM = "gleam"
    CROSS = "cross"
    STREWN = "strewn"


#: Lines of a mark, each by its points about the middle, mm.
WeaveMark = tuple[tuple[tuple[float, float], ...], ...]


@dataclass(frozen=True, kw_only=True)
class Look:
    """How a shape looks at hand size; a drawing's scale multiplies every length.

    Parameters
    ----------
    fill : str or None
        `#rrggbb`; None lets what is under the area be seen.
    texture : Texture or None
        Over the fill.
    texture_ink : str
    strewn : tuple of tuple of (float, float)
        Lines of a small mark that the texture is strewn with, about its middle, mm.
    texture_halo : str or None
        Colour of a band under the lines of the pattern, where it must be seen on any print.
    cloth : ClothPicture or None
        The print between fill and texture.
    strength : float
        How much of the print's colours is left, the rest being that of paper.
    bold : float
        How many times wider than usual the lines of the pattern are.
    stroke : str or None
    width : float
        Of the stroke, mm.
    dash : tuple of float
        Lengths drawn and left out in turn, mm; empty for an unbroken stroke.
    halo : float
        Width of the band of paper colour under the stroke, mm; 0 for none.
    core : float
        Width of the light line along the middle of the stroke, which makes it double.
    """

    fill: str | None = None
    texture: Texture | None = None
    texture_ink: str = GREY
    strewn: WeaveMark = ()
    texture_halo: str | None = None
    cloth: ClothPicture | None = None
    strength: float = 1.0
    bold: float = 1.0
    stroke: str | None = None
    width: float = 0.0
    dash: tuple[float, ...] = ()
    halo: float = 0.0
    core: float = 0.0


# A small ring, with eight corners.
_RING = tuple(
    (0.42 * math.cos(k * math.pi / 4), 0.42 * math.sin(k * math.pi / 4)) for k in range(9)
)

#: Every style, as what was there before.
LOOKS: Mapping[Style, Look] = MappingProxyType(
    {
        Style.HOOP_FIELD: Look(fill="#fbfbf9", stroke="#6d757d", width=0.35),
        Style.RIGHT_SIDE: Look(fill="#dde5ec"),
        Style.WRONG_SIDE: Look(fill=PAPER, texture=Texture.HATCH, texture_ink="#848c94"),
        Style.NO_RIGHT_SIDE: Look(fill="#f6f2ea", texture=Texture.DOTS, texture_ink="#7d766a"),
        Style.SEE_THROUGH: Look(texture=Texture.GLEAM, texture_ink=GREY),
        Style.ZIP_TAPE: Look(fill="#e6dfea"),
        Style.COIL: Look(stroke=INK, width=1.6, dash=(0.45, 0.4)),
        Style.SLIT: Look(fill=PAPER, stroke=INK, width=0.25),
        Style.SLIDER: Look(fill=INK, stroke=PAPER, width=0.2),
        Style.ZIP_STOP: Look(stroke=INK, width=0.6),
        Style.RAW_EDGE: Look(stroke=GREY, width=0.2),
        Style.FOLDED_EDGE: Look(stroke=GREY, width=0.9, core=0.4),
        Style.HIDDEN: Look(stroke=GREY, width=0.25, dash=(1.6, 1.0)),
        Style.HOLDING_TAPE: Look(
            fill="#f7edc4",
            texture=Texture.LINES,
            texture_ink="#8d7a33",
            stroke="#6b5a16",
            width=0.3,
        ),
        Style.TAPE_OFF: Look(stroke="#6b5a16", width=0.3, dash=(1.2, 0.8)),
        Style.PLACEMENT: Look(stroke=INK, width=0.3, dash=(0.3, 0.9)),
        Style.STITCHED_BEFORE: Look(stroke="#5f676f", width=0.25, dash=(1.5, 0.6), halo=0.7),
        Style.STITCHED_NOW: Look(stroke=INK, width=0.6, dash=(2.0, 0.7), halo=1.3),
        Style.THREAD: Look(stroke="#555e67", width=0.22),
        Style.THREAD_NOW: Look(stroke=INK, width=0.3),
        Style.PATCH: Look(fill="#f4e3d3"),
        Style.BY_HAND: Look(stroke=INK, width=0.5, dash=(3.0, 1.0, 0.5, 1.0), halo=1.2),
        Style.GAP: Look(stroke=INK, width=1.4, core=0.8, halo=2.0),
        Style.CUT_AWAY: Look(fill=PAPER, texture=Texture.CROSS, texture_ink="#7d858d"),
        Style.WAY: Look(fill=INK, stroke=INK, width=1.0, halo=2.0),
        Style.FLAP: Look(stroke=INK, width=0.55, halo=1.3),
        Style.MEASURE: Look(fill=INK, stroke=INK, width=0.25, halo=0.9),
        Style.PIECE_OUTLINE: Look(stroke="#868e96", width=0.2),
        Style.CUT_LINE: Look(stroke=INK, width=0.35),
        Style.SWATCH: Look(fill="#e3e7ea", stroke=GREY, width=0.2),
        Style.PRINT_AS_CUT: Look(),
        Style.CREASE: Look(stroke=INK, width=0.3, dash=(4.0, 1.0, 0.6, 1.0)),
        Style.GRAIN: Look(fill=INK, stroke=INK, width=0.3),
        Style.ON_FOLD: Look(fill=INK, stroke=INK, width=0.3),
        Style.CENTRE_MARK: Look(stroke=INK, width=0.5),
        Style.JOIN_LINE: Look(stroke=GREY, width=0.25, dash=(0.8, 0.8)),
        Style.FIELD_EDGE: Look(stroke=INK, width=0.5),
        Style.HELD: Look(fill="#efe3c8", stroke=INK, width=0.3),
        Style.BEHIND: Look(stroke=INK, width=0.25, dash=(1.6, 1.0)),
        Style.HARDWARE: Look(fill=PAPER, stroke=INK, width=0.6),
        Style.CORD: Look(stroke=INK, width=1.0, core=0.5, halo=1.6),
        Style.CUT_OUT: Look(fill=PAPER, stroke=GREY, width=0.3),
        Style.PLACE: Look(stroke="#a11212", width=1.4, halo=2.6),
        Style.SHEET: Look(fill="#e3e7ea", stroke=GREY, width=0.2),
        Style.TITLE_GROUND: Look(fill="#e3e7ea"),
        Style.RIGHT_FACE: Look(fill="#4a6a86", stroke=GREY, width=0.2),
        Style.HIDDEN_INSIDE: Look(fill="#f3ecdc", texture=Texture.DOTS, texture_ink="#7d766a"),
        Style.OUTSIDE: Look(fill=PAPER),
        Style.CROSSING: Look(stroke=INK, width=0.45, halo=0.9),
        Style.CHECK_MARK: Look(stroke=INK, width=0.35),
        Style.LEADER: Look(stroke=INK, width=0.2, halo=0.7),
        Style.DOT: Look(fill=INK, stroke=PAPER, width=0.2),
        Style.BADGE: Look(fill=PAPER, stroke=INK, width=0.4),
        Style.NO_REGION: Look(fill="#e6e9ec"),
        Style.REGION: Look(fill=PAPER),
        Style.REGION_1: Look(fill="#9fc3e6"),
        Style.REGION_2: Look(fill="#dfc08a"),
        Style.REGION_3: Look(fill="#a6d6b0"),
        Style.REGION_4: Look(fill="#e6c3de"),
        Style.REGION_5: Look(fill="#bcdcf2"),
        Style.REGION_6: Look(fill="#efdcab"),
        Style.REGION_7: Look(fill="#cdebce"),
        Style.REGION_8: Look(fill="#f4e2f0"),
        Style.BOUND: Look(stroke=INK, width=0.8),
        Style.BOUND_1: Look(stroke=INK, width=0.3),
        Style.BOUND_2: Look(stroke=INK, width=0.4, dash=(2.4, 0.8)),
        Style.BOUND_3: Look(stroke=INK, width=0.5, dash=(0.5, 0.7)),
        Style.BOUND_4: Look(stroke=INK, width=0.4, dash=(2.8, 0.7, 0.5, 0.7)),
        Style.RULER: Look(stroke=INK, width=0.3),
        Style.ASKED: Look(fill=INK, stroke=PAPER, width=0.4),
        Style.PLY_EDGES: Look(fill="#c9cfd5"),
        Style.PLY_EDGE: Look(stroke=GREY, width=0.06),
        Style.FACE_EDGE: Look(stroke=INK, width=0.25),
    }
)

#: Those that look otherwise where they belong to what is done now.
LOOKS_NOW: Mapping[Style, Look] = MappingProxyType(
    {
        Style.RIGHT_SIDE: Look(fill="#a9cdea"),
        Style.WRONG_SIDE: Look(fill="#fff3d6", texture=Texture.HATCH, texture_ink="#8a6a1c"),
        Style.NO_RIGHT_SIDE: Look(fill="#fff3d6", texture=Texture.DOTS, texture_ink="#6f5616"),
        Style.SEE_THROUGH: Look(texture=Texture.GLEAM, texture_ink=INK),
        Style.ZIP_TAPE: Look(fill="#d9c4e6"),
        Style.CUT_LINE: Look(stroke=INK, width=0.7, halo=1.5),
        Style.RAW_EDGE: Look(stroke=INK, width=0.45),
        Style.FOLDED_EDGE: Look(stroke=INK, width=1.3, core=0.55),
        Style.HIDDEN: Look(stroke=INK, width=0.45, dash=(1.6, 1.0), halo=1.0),
    }
)


@dataclass(frozen=True)
class FabricWeave:
    """What a fabric is told by.

    Parameters
    ----------
    pale, strong : str
        `#rrggbb` of its right side, laid before and laid now.
    ink : str
        Of its pattern.
    mark : tuple of tuple of (float, float)
    """

    pale: str
    strong: str
    ink: str
    mark: WeaveMark


_TICK: WeaveMark = (((0.0, -0.45), (0.0, 0.45)),)
_CHEVRON: WeaveMark = (((-0.45, -0.3), (0.0, 0.25), (0.45, -0.3)),)
_SLANTED_CROSS: WeaveMark = (((-0.35, -0.35), (0.35, 0.35)), ((-0.35, 0.35), (0.35, -0.35)))
_SQUARE: WeaveMark = (((-0.35, -0.35), (0.35, -0.35), (0.35, 0.35), (-0.35, 0.35), (-0.35, -0.35)),)
_TRIANGLE: WeaveMark = (((0.0, -0.45), (0.45, 0.35), (-0.45, 0.35), (0.0, -0.45)),)
_PAIR: WeaveMark = (((-0.4, -0.2), (0.4, -0.2)), ((-0.4, 0.2), (0.4, 0.2)))
_BOW: WeaveMark = (((-0.45, 0.2), (-0.2, -0.2), (0.2, -0.2), (0.45, 0.2)),)

#: By the place of a fabric; from the ninth on they come again, the mark as many times over.
WEAVES: tuple[FabricWeave, ...] = (
    FabricWeave("#d8e6f4", "#9cc0e0", "#30506e", _TICK),
    FabricWeave("#e8f4e3", "#bfdcb2", "#3c6330", (_RING,)),
    FabricWeave("#f7dcd8", "#e8b0a6", "#7a3a30", _CHEVRON),
    FabricWeave("#cfe6e2", "#86bdb6", "#1f524d", _SLANTED_CROSS),
    FabricWeave("#e6e4bd", "#cbc77e", "#57541c", _SQUARE),
    FabricWeave("#f1dcc5", "#dcb488", "#6b4620", _TRIANGLE),
    FabricWeave("#e4dcf2", "#c0b0de", "#4f3f78", _PAIR),
    FabricWeave("#e2e2e2", "#bcbcbc", "#464646", _BOW),
)

# Two marks in one place stand so far apart, mm, both ways.
_NEXT = 0.35


def weave_of(tone: Tone) -> FabricWeave:
    """What a fabric is told by."""
    turn, place = divmod(tone.place, len(WEAVES))
    weave = WEAVES[place]
    lines = tuple(
        tuple((x + _NEXT * (k - turn / 2), y + _NEXT * (k - turn / 2)) for x, y in line)
        for k in range(turn + 1)
        for line in weave.mark
    )
    return replace(weave, mark=lines)


def look_of(style: Style, *, now: bool = False, tone: Tone | None = None) -> Look:
    """How a style looks, of a fabric if it is the area of one."""
    look = LOOKS_NOW.get(style, LOOKS[style]) if now else LOOKS[style]
    return _woven(look, style, tone, now=now) if tone else look


#: How much is left of a cloth's colours: laid before what is laid now; and where it is pale, so
#: that what is drawn on it is seen on a black one too.
_BEFORE, _PALE = 0.55, 0.2

# What is dark on a cloth, and what is light on it: the one that is told better is taken.
_ON_A_CLOTH = (INK, PAPER)

_RIGHT = (Style.RIGHT_SIDE, Style.SWATCH)


def _as_the_cloth(look: Look, style: Style, cloth: Cloth, tone: Tone) -> Look:
    """A look with the colour or print of a person's own fabric, pale but on its right side."""
    if style is Style.SEE_THROUGH:
        return look
    if style not in _RIGHT or not tone.faced:
        return replace(look, fill=faded(cloth.colour, _PALE), cloth=cloth.picture, strength=_PALE)
    strength = _BEFORE if tone.faded else 1.0
    fill = faded(cloth.colour, strength)
    ink, other = sorted(_ON_A_CLOTH, key=lambda one: -contrast(one, fill))
    return replace(
        look,
        fill=fill,
        texture_ink=ink,
        texture_halo=other if cloth.picture else None,
        cloth=cloth.picture,
        strength=strength,
    )


def _woven(look: Look, style: Style, tone: Tone, *, now: bool) -> Look:
    """A look with the mark of a fabric, and with its tone where that is shaded."""
    if style is Style.PRINT_AS_CUT:
        return replace(look, cloth=tone.cloth.picture if tone.cloth else None, strength=_PALE)
    weave = weave_of(tone)
    shaded = style in (Style.RIGHT_SIDE, Style.SHEET, Style.SWATCH, Style.TITLE_GROUND)
    fill, texture = weave.strong if now else weave.pale, Texture.STREWN
    if not tone.faced:
        plain = LOOKS[Style.NO_RIGHT_SIDE]
        fill, texture = plain.fill or PAPER, Texture.DOTS
    if style is Style.TITLE_GROUND:
        return replace(look, fill=faded(tone.cloth.colour, _PALE) if tone.cloth else fill)
    woven = replace(
        look,
        fill=fill if shaded else look.fill,
        texture=look.texture or texture,
        texture_ink=weave.ink,
        strewn=weave.mark,
        bold=1.5 if now else 1.0,
    )
    return woven if tone.cloth is None else _as_the_cloth(woven, style, tone.cloth, tone)
