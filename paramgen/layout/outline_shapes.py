"""The outlines of a recipe as shapes."""

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import numpy as np
import shapely

from paramgen.budget import POINTS, up_to
from paramgen.geometry import along_path, offset, outlines
from paramgen.geometry.outlines import ShapeError
from paramgen.layout.name_scope import (
    NamedValues,
    as_named,
    holds,
    label,
    pointed_at,
    spot,
    whole,
    within_reach,
)
from paramgen.recipe import language as recipe
from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.terms import Reference
from paramgen.sizing import Sized, repeats
from paramgen.vocabulary.facts import Clause, Mm, facts
from paramgen.vocabulary.path import CHORD_ERROR, FloatArray, Path, path

Shapes = Mapping[str, Path]


# Asked for several times of one sized recipe, as finely as it is sewn and as coarsely as it may be.
@lru_cache(maxsize=4)
def shapes(sized: Sized, chord_error: float = CHORD_ERROR) -> Shapes:
    """Work out every outline, by name, `pocket-band[2]` where repeated.

    Parameters
    ----------
    chord_error : float
        Most a chord may leave a curve, mm.

    Returns
    -------
    mapping of name to closed Path, clockwise

    Raises
    ------
    ShapeError
        If the measures do not make the shape; it names the outline.
    """
    made: dict[str, Path] = {}
    points = 0
    for name, cases in sized.recipe.file.outlines.items():
        for case in cases:
            for index, names in repeats(case.repeat, sized.names):
                one = label(name, index, names)
                if one not in made and holds(case.when, names):
                    try:
                        shape = offset.clockwise(_shape(case, names, made, chord_error))
                        within_reach(Clause("it"), shape.bounds)
                    except ShapeError as problem:
                        raise ShapeError(
                            "of-outline", name=as_named(one), why=problem.why
                        ) from None
                    made[one] = shape
                    points += len(shape.points)
                    POINTS.ask(points, up_to("outlines", one))
    return MappingProxyType(made)


def find(reference: Reference, names: NamedValues, made: Shapes) -> Path:
    """Outline that a reference points at.

    Raises
    ------
    ShapeError
        If there is none at these sizes and choices.
    """
    name = pointed_at(reference, names)
    if name not in made:
        raise ShapeError("no-such-outline", name=as_named(name))
    return made[name]


def _shape(case: recipe.Outline, names: NamedValues, made: Shapes, chord_error: float) -> Path:
    match case:
        case recipe.Rectangle():
            return _rectangle(case, names, chord_error)
        case recipe.Oval():
            size = case.width.number(names), case.height.number(names)
            return outlines.oval(_at(case.at, names), *size, chord_error)
        case recipe.RegularPolygon():
            sides = whole(Clause("number-of-sides"), case.sides.number(names), 0)
            across = case.across.number(names)
            return outlines.regular_polygon(_at(case.at, names), sides, across)
        case recipe.FreePolygon():
            return _simple(path([spot(one, names) for one in case.points], closed=True))
        case recipe.FreePath():
            return _simple(path(route(case.start, case.then, names, chord_error), closed=True))
        case recipe.Offset():
            outset = case.shape == "outset"
            by = case.by.number(names) * (1 if outset else -1)
            within_reach(Clause("outset-by" if outset else "inset-by", facts(by=Mm(abs(by)))), [by])
            of = find(case.of, names, made)
            return offset.offset(of, by, round_corners=case.outer_corners == "round")
        case recipe.CornersOut():
            by = case.by.number(names)
            return along_path.corners_out(find(case.of, names, made), case.edge, by)
        case recipe.WithinOutline():
            return along_path.common(find(case.of, names, made), find(case.inside, names, made))
        case _:
            raise AssertionError(type(case))


def _at(pair: list[Formula] | None, names: NamedValues) -> tuple[float, float]:
    return spot(pair, names) if pair else (0.0, 0.0)


def _rectangle(case: recipe.Rectangle, names: NamedValues, chord_error: float) -> Path:
    def number(term: Formula | None) -> float | None:
        return None if term is None else term.number(names)

    left, right = span(*map(number, (case.left, case.right, case.width, case.middle)))
    top, bottom = span(*map(number, (case.top, case.bottom, case.height, case.centre)))
    rounded, cut = number(case.rounded) or 0.0, number(case.cut) or 0.0
    return outlines.rectangle(
        left, top, right, bottom, rounded=rounded, cut=cut, chord_error=chord_error
    )


def span(
    low: float | None, high: float | None, size: float | None, middle: float | None
) -> tuple[float, float]:
    """Both ends of a span from any two of its measures; about 0 where only its size is known.

    Examples
    --------
    >>> span(2.0, None, 7.0, None), span(None, 9.0, None, 5.5), span(None, None, 7.0, None)
    ((2.0, 9.0), (2.0, 9.0), (-3.5, 3.5))
    >>> span(None, None, 0.0, None)
    (0.0, 0.0)
    """
    if low is not None and high is not None:
        return low, high
    if size is None:
        edge = low if low is not None else high
        assert edge is not None
        assert middle is not None
        return min(edge, 2 * middle - edge), max(edge, 2 * middle - edge)
    if low is not None:
        return low, low + size
    if high is not None:
        return high - size, high
    return (middle or 0.0) - size / 2, (middle or 0.0) + size / 2


def route(
    start: list[Formula], then: list[Any], names: NamedValues, chord_error: float = CHORD_ERROR
) -> FloatArray:
    """Points from a start along straight parts and arcs, shape (n, 2)."""
    points = [spot(start, names)]
    for leg in then:
        if isinstance(leg, recipe.ArcTo):
            through, end = spot(leg.through, names), spot(leg.to, names)
            points += outlines.arc_through(points[-1], through, end, chord_error)[1:].tolist()
            POINTS.ask(len(points), Clause("in-one-path"))
        else:
            points.append(spot(leg, names))
    return np.array(points)


def _simple(outline: Path) -> Path:
    if len(outline.points) < 3 or not shapely.Polygon(outline.points).is_valid:
        raise ShapeError("outline-crosses-itself")
    return outline
