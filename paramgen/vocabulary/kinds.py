"""Kinds that a recipe, a project and whoever shows it name alike."""

from enum import StrEnum


class Side(StrEnum):
    """A side of the hoop, or of what lies in it as it is seen from there."""

    FRONT = "front"
    BACK = "back"

    @property
    def other(self) -> "Side":
        """The side seen once it is turned over.

        Examples
        --------
        >>> Side.FRONT.other.value
        'back'

        >>> Side.FRONT.other.other is Side.FRONT
        True
        """
        return Side.BACK if self is Side.FRONT else Side.FRONT


class Face(StrEnum):
    """A face of a fabric."""

    RIGHT = "right"
    WRONG = "wrong"

    @property
    def other(self) -> "Face":
        """The face at its back.

        Examples
        --------
        >>> Face.RIGHT.other.value
        'wrong'
        >>> Face.WRONG.other.value
        'right'
        """
        return Face.WRONG if self is Face.RIGHT else Face.RIGHT


class Edge(StrEnum):
    """An edge of what lies in the hoop, seen from the front."""

    TOP = "top"
    RIGHT = "right"
    BOTTOM = "bottom"
    LEFT = "left"


class Along(StrEnum):
    """One of the two sizes of what lies flat."""

    WIDTH = "width"
    HEIGHT = "height"


class Leaf(StrEnum):
    """Which sheet of a layer one is, or which tape of a zip."""

    #: The only one, or the one that a hem is turned in on.
    MAIN = ""
    BACK = "back"
    FRONT = "front"
    HEM = "hem"
    #: What of a hem is turned in once more with the hem that crosses it, between the two.
    CORNER = "corner"
    #: What is turned in at an edge of a strip, between the layers that it is folded to.
    INSIDE = "inside"
    UPPER = "upper"
    LOWER = "lower"


class Grain(StrEnum):
    """The size of a piece that the lengthwise grain runs along; on the bias, at 45° to both."""

    WIDTH = "width"
    HEIGHT = "height"
    BIAS = "bias"
    ANY = "any"


class NotionSort(StrEnum):
    """What a notion is, as far as it matters how it is laid, sewn and fitted."""

    ZIP = "zip"
    SNAP = "snap"
    RING = "ring"
    RIVET = "rivet"
    CLAMP = "clamp"
    RIBBON = "ribbon"
    ELASTIC = "elastic"
    CORD = "cord"
    OTHER = "other"


class FinishWay(StrEnum):
    """How a project is finished."""

    TURNED = "turned"
    RAW_EDGE = "raw edge"
    BOUND = "bound"


class Role(StrEnum):
    """What a stitched line is for."""

    PLACEMENT = "placement"
    TACK_DOWN = "tack-down"
    BASTING = "basting"
    SEAM = "seam"
    OVERCAST = "overcast"
    TOP_STITCH = "top-stitch"


class StitchKind(StrEnum):
    """How a stitched line is sewn."""

    RUN = "run"
    DOUBLE = "double run"
    TRIPLE = "triple"
    ZIGZAG = "zigzag"
    SEAM = "seam"
    BASTING = "basting"
    #: The needle goes in at every vertex of the path, and nowhere else.
    AS_DRAWN = "as drawn"


#: Those whose stitches are spaced along a line.
SPACED = tuple(kind for kind in StitchKind if kind is not StitchKind.AS_DRAWN)


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
    BOX = "sew across the corners"
    BIND = "bind the edge"
    FINGER_PRESS = "finger-press"
    PRESS = "press"
    TOP_STITCH = "top-stitch"
    FASTEN = "fit the snap or ring"
    WASH_OUT = "wash out the stabiliser"
    PULL_OUT = "pull out the basting"
    PUT_IN = "put in what it holds"


#: What can only be done while the work is not in the embroidery hoop.
NOT_IN_THE_HOOP = frozenset(
    {
        Act.FUSE,
        Act.EDGE_STITCH,
        Act.TURN,
        Act.PULL_OVER,
        Act.HAND_SEW,
        Act.BOX,
        Act.BIND,
        Act.PRESS,
        Act.TOP_STITCH,
        Act.FASTEN,
        Act.PUT_IN,
        Act.WASH_OUT,
        Act.BIND,
    }
)

#: What is sewn on a sewing machine through all of the finished thing.
SEWN_THROUGH = frozenset({Act.TOP_STITCH, Act.BIND})


class FoldKind(StrEnum):
    """How a piece is folded along one of its sizes."""

    HALF = "half"
    QUARTER = "quarter"
    THIRDS = "thirds"
    HEM = "hem"
