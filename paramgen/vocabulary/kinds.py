"""Kinds that a recipe, a project and whoever shows it name alike."""

from enum import StrEnum
from typing import Literal

Side = Literal["front", "back"]
Face = Literal["right", "wrong"]
Grain = Literal["width", "height", "any"]


class Role(StrEnum):
    """What a stitched line is for."""

    PLACEMENT = "placement"
    TACK_DOWN = "tack-down"
    BASTING = "basting"
    SEAM = "seam"
    TOP_STITCH = "top-stitch"


class StitchKind(StrEnum):
    """How a stitched line is sewn."""

    RUN = "run"
    DOUBLE = "double run"
    TRIPLE = "triple"
    ZIGZAG = "zigzag"
    SEAM = "seam"
    BASTING = "basting"


class Act(StrEnum):
    """What happens in a step; all but the first are done by hand."""

    STITCH = "stitch"
    LAY = "lay"
    TAPE = "tape"
    UNTAPE = "remove tape"
    FLIP = "turn the hoop over"
    OPEN_ZIP = "open the zip"
    TRIM = "trim"
    CLIP = "clip"
    NOTCH = "notch"
    FOLD = "fold"
    FUSE = "fuse the interfacing"
    EDGE_STITCH = "edge-stitch"
    UNHOOP = "take out of the hoop"
    TEAR = "tear away the stabiliser"
    TURN = "turn right side out"
    PULL_OVER = "pull over"
    HAND_SEW = "sew by hand"
    FINGER_PRESS = "finger-press"
    PRESS = "press"
    TOP_STITCH = "top-stitch"
    FASTEN = "fit the snap or ring"


#: What can only be done while the work is not in the embroidery hoop.
NOT_IN_THE_HOOP = frozenset(
    {
        Act.FUSE,
        Act.EDGE_STITCH,
        Act.TURN,
        Act.PULL_OVER,
        Act.HAND_SEW,
        Act.PRESS,
        Act.TOP_STITCH,
        Act.FASTEN,
    }
)


class FoldKind(StrEnum):
    """How a piece is folded along one of its sizes."""

    HALF = "half"
    QUARTER = "quarter"
    HEM = "hem"
