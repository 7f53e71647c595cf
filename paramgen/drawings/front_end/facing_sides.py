"""Which way a layer faces and lies, as the person sees it."""

from paramgen.vocabulary.kinds import Face, Side
from paramgen.vocabulary.project import Layer


def face_seen(layer: Layer, side: Side) -> Face | None:
    """Say which face of a layer is towards a person who looks at a side of the hoop.

    Parameters
    ----------
    layer : Layer
    side : str
        `front` or `back`.

    Returns
    -------
    str or None
        `right` or `wrong`; None for what has no right side. A piece folded double shows
        the same face on both sides.
    """
    if layer.faceless:
        return None
    if layer.two_sided:
        return Face.RIGHT
    if layer.plies > 1:
        return Face.WRONG if layer.right_sides_in else Face.RIGHT
    return layer.up if side is Side.FRONT else layer.up.other


def fold_sides(layer: Layer, side: Side) -> tuple[str, ...]:
    """Say at which sides of a layer its folds lie, as seen from a side of the hoop.

    Returns
    -------
    tuple of str
        Of `top`, `bottom`, `left` and `right`, each once, in the order of the folds.
    """
    box = layer.outline.box
    flip = -1.0 if side is Side.BACK else 1.0
    sides = []
    for start, end in layer.folded_edges:
        x = (start[0] + end[0] - box.left - box.right) / max(box.width, 1e-9) * flip
        y = (start[1] + end[1] - box.top - box.bottom) / max(box.height, 1e-9)
        if abs(x) > abs(y):
            sides.append("right" if x > 0 else "left")
        else:
            sides.append("bottom" if y > 0 else "top")
    return tuple(dict.fromkeys(sides))
