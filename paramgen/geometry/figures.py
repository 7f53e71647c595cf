"""Closed figures by their usual names, drawn from straight lines and arcs to fit a size.

Each is drawn once as path data in a box of its own and stretched to the width and height asked.
"""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from paramgen.geometry.offset import clockwise
from paramgen.geometry.outlines import ShapeError
from paramgen.geometry.svg_path import PathStroke, drawn, reach_of, read_path_data
from paramgen.vocabulary.facts import MmByMm
from paramgen.vocabulary.path import Path

FIGURES_DRAWN: Mapping[str, str] = MappingProxyType(
    {
        "oval": "M0,-50 A50,50 0 0 1 0,50 A50,50 0 0 1 0,-50 Z",
        "rectangle": "M-50,-50 H50 V50 H-50 Z",
        "triangle": "M0,-50 L57.735,50 H-57.735 Z",
        "diamond": "M0,-50 L35,0 L0,50 L-35,0 Z",
        "hexagon": "M-50,0 L-25,-43.301 H25 L50,0 L25,43.301 H-25 Z",
        "star": "M0,-50 L14.695,-20.225 L47.553,-15.451 L23.776,7.725 L29.389,40.451 L0,25 "
        "L-29.389,40.451 L-23.776,7.725 L-47.553,-15.451 L-14.695,-20.225 Z",
        "heart": "M0,-27 A26,26 0 0 1 48,-14 C48,10 20,28 0,46 C-20,28 -48,10 -48,-14 "
        "A26,26 0 0 1 0,-27 Z",
        "leaf": "M0,-50 A58,58 0 0 1 0,50 A58,58 0 0 1 0,-50 Z",
        "drop": "M0,-50 C6,-30 30,-8 30,15 A30,30 0 0 1 -30,15 C-30,-8 -6,-30 0,-50 Z",
    }
)


def figure(name: str, width: float | None, height: float | None) -> tuple[Path, ...]:
    """A figure of a name; see `fitted_figure`.

    Examples
    --------
    >>> (sheet,) = figure("rectangle", 40.0, 30.0)
    >>> sheet.bounds
    (-20.0, -15.0, 20.0, 15.0)
    """
    return fitted_figure(read_path_data(FIGURES_DRAWN[name]), width, height)


def fitted_figure(
    strokes: tuple[PathStroke, ...], width: float | None, height: float | None
) -> tuple[Path, ...]:
    """Closed outlines of path data, about the origin and as large as asked.

    Parameters
    ----------
    strokes : tuple of PathStroke
        Of closed outlines.
    width, height : float or None
        Of all of them together, mm; in proportion where one is None; one of them is not.

    Returns
    -------
    tuple of Path
        Clockwise.

    Raises
    ------
    ShapeError
        If it has no width or no height.
    """
    coarse = 100.0 / max(reach_of(strokes), 1e-9)
    points = np.concatenate([one.points for one in drawn(strokes, coarse)]) / coarse
    low, high = points.min(axis=0), points.max(axis=0)
    size = high - low
    if (size <= 0).any():
        raise ShapeError("rectangle-of-no-area", size=MmByMm(float(size[0]), float(size[1])))
    across = (width or 0.0) / float(size[0]) if width else None
    along = (height or 0.0) / float(size[1]) if height else None
    by = np.array([across or along or 1.0, along or across or 1.0])
    # Drawn finely enough for the larger of the two, then stretched.
    scale = float(by.max())
    found = []
    for one in drawn(strokes, scale):
        moved = (one.points / scale - (low + high) / 2) * by
        found.append(clockwise(Path(moved, True)))
    return tuple(found)
