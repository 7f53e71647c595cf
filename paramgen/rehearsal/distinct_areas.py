"""Which of many areas lie at which of many places."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from paramgen.vocabulary.path import BoolArray, FloatArray


class DistinctAreas:
    """Areas that are asked again and again which places they cover, those alike only once.

    Parameters
    ----------
    areas : sequence of BaseGeometry

    Examples
    --------
    >>> areas = DistinctAreas([shapely.box(0, 0, 2, 2), shapely.box(1, 0, 3, 2)])
    >>> areas.cover(np.array([[0.5, 1.0], [2.5, 1.0], [9.0, 9.0]])).tolist()
    [[True, False, False], [False, True, False]]
    >>> DistinctAreas([]).cover(np.array([[0.5, 1.0]])).shape
    (0, 1)
    >>> areas.cover(np.array([[0.5, 1.0]]), []).any(axis=0).tolist()
    [False]
    """

    def __init__(self, areas: Sequence[BaseGeometry]) -> None:
        numbers: dict[bytes, int] = {}
        keys = shapely.to_wkb(list(areas))
        self._which = [numbers.setdefault(key, len(numbers)) for key in keys]
        self._areas: NDArray[np.object_] = np.empty(len(numbers), dtype=object)
        for number, area in zip(self._which, areas, strict=True):
            self._areas[number] = area
        shapely.prepare(self._areas)
        self._bounds = shapely.bounds(self._areas)
        boxes = shapely.box(*self._bounds.T)
        self._is_box = shapely.equals_identical(
            shapely.normalize(self._areas), shapely.normalize(boxes)
        )

    def cover(self, spots: FloatArray, among: Sequence[int] | None = None) -> BoolArray:
        """Which places lie within which areas, shape (areas, places).

        Parameters
        ----------
        spots : array of float, shape (places, 2)
        among : sequence of int or None
            The areas that are asked for, by their places in the order given; all if None.
        """
        which = self._which if among is None else [self._which[place] for place in among]
        asked = np.array(sorted(set(which)), dtype=np.intp)
        x, y = spots.T
        left, top, right, bottom = self._bounds[asked].T[..., np.newaxis]
        found = (left < x) & (x < right) & (top < y) & (y < bottom)
        # What is no box need not lie all over the box round it.
        area, place = np.nonzero(found & ~self._is_box[asked, np.newaxis])
        found[area, place] = shapely.contains_xy(self._areas[asked[area]], x[place], y[place])
        return np.asarray(found[np.searchsorted(asked, which)])
