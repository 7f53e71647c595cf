"""The layers in the hoop as single sheets, in order from the back of the hoop to the front.

Ways stitched again and again are looked at once (`each_once`), as two alike cross everywhere.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import combinations
from typing import TypeVar

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.layout.copies_apart import first_of, sewn_across
from paramgen.rehearsal.distinct_areas import DistinctAreas
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.facts import Name
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Face, Leaf, Role, Side, StitchKind
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Hem, Layer, Line, Project

LinesT = TypeVar("LinesT", shapely.LineString, shapely.MultiLineString)

#: No allowance is wider than this, mm.
_ALLOWANCE = 60.0
#: Edges are brought together on this grid, mm, so that lines that mean to meet do.
GRID = 1e-4


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """One sheet of material: a layer, a leaf of a folded layer, or one tape of a zip.

    Parameters
    ----------
    piece, title : str
    step : int
        Number of the step that lays it.
    side : str
        `front` or `back`: where it is laid.
    area : Polygon
    front, back : bool
        Whether that face is a right side.
    folds : tuple of LineString
        Edges of the area that are folds.
    leaf : Leaf
        The two leaves of a piece folded in half are neighbours; a hem is what is turned in along
        an edge, of a strip between its layers, and a corner of it what another hem turns in once
        more; a zip has an upper and a lower tape.
    layer : int
        Number of the layer it belongs to, in the order of laying.
    plies : int
        Thicknesses of fabric.
    frays : bool
    ply : (float, float)
        Least and most thickness of one of them, pressed and under stitches, mm.
    """

    piece: str
    title: str
    step: int
    side: str
    area: shapely.Polygon
    front: bool
    back: bool
    folds: tuple[shapely.LineString, ...]
    leaf: Leaf
    layer: int
    plies: int
    frays: bool
    ply: tuple[float, float] = (0.0, 0.0)

    @property
    def of_zip(self) -> bool:
        """Whether it is a tape of a zip."""
        return self.leaf in (Leaf.UPPER, Leaf.LOWER)

    @property
    def shows(self) -> bool:
        """Whether it can come to be seen; a strip folded more than once is drawn as one."""
        return self.leaf not in (Leaf.INSIDE, Leaf.CORNER)

    @property
    def folded(self) -> bool:
        """Whether it is a leaf of a piece folded in half."""
        return self.leaf in (Leaf.BACK, Leaf.FRONT)

    @cached_property
    def outline_key(self) -> bytes:
        """The same for sheets of one outline, and only for them."""
        return self.area.wkb

    @cached_property
    def raw_edges(self) -> BaseGeometry:
        """Its edges that are not folds."""
        whole = self.area.exterior
        if not self.folds:
            return whole
        return shapely.difference(whole, shapely.union_all(self.folds), grid_size=GRID)

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("piece", self.piece, self.title)


@dataclass(frozen=True)
class Slit:
    """Where a zip opens.

    Parameters
    ----------
    piece : str
    layer : int
    line : LineString
        From stop to stop.
    coil : float
        Width of the coil, mm.
    """

    piece: str
    layer: int
    line: shapely.LineString
    coil: float


@dataclass(frozen=True)
class SewnLine:
    """A stitched line as the rehearsal sees it.

    Parameters
    ----------
    line : Line
    step : int
        Number of the step that stitches it.
    path : MultiLineString
    stays : bool
        Whether it is still there in the end: basting may be pulled out again.
    """

    line: Line
    step: int
    path: shapely.MultiLineString
    stays: bool = True


@dataclass(frozen=True, kw_only=True)
class Sandwich:
    """All sheets from the back to the front, and all lines in the order of sewing.

    What is sewn as it is drawn is for its looks, on one panel that other lines hold: it shuts
    nothing, and stands apart, as its stitches would part the plane into thousands of fields. So
    do patches that are applied to a panel: they are part of its face, and no sheet of their own.

    Parameters
    ----------
    sheets : tuple of Sheet
    slits : tuple of Slit
    sewn : tuple of SewnLine
        Sewn in the hoop.
    across : tuple of MultiLineString
        Where corners are sewn across once it is out of the hoop. On the flat work nothing goes on
        past it: so it is as if it held all layers together.
    drawn : tuple of SewnLine
        Sewn in the hoop as they are drawn.
    applied : tuple of Sheet
        Patches, as they are cut back.
    """

    sheets: tuple[Sheet, ...]
    slits: tuple[Slit, ...]
    sewn: tuple[SewnLine, ...]
    across: tuple[shapely.MultiLineString, ...] = ()
    drawn: tuple[SewnLine, ...] = ()
    applied: tuple[Sheet, ...] = ()

    @cached_property
    def single(self) -> tuple[Sheet, ...]:
        """Sheets, of a piece folded in half the one leaf for both: they lie in one place."""
        return tuple(sheet for sheet in self.sheets if sheet.leaf is not Leaf.FRONT)

    @cached_property
    def whole(self) -> tuple[tuple[Sheet, BaseGeometry], ...]:
        """Each sheet and where it lies; the tapes of a zip, which meet at its slit, as one."""
        return tuple(
            (sheet, sheet.area)
            if not sheet.of_zip
            else (sheet, shapely.union_all([o.area for o in self.sheets if o.layer == sheet.layer]))
            for sheet in self.sheets
            if not sheet.of_zip or sheet.leaf is Leaf.UPPER
        )

    @cached_property
    def areas(self) -> DistinctAreas:
        """Where those sheets lie, in the same order."""
        return DistinctAreas([area for _, area in self.whole])


def each_once(paths: Iterable[LinesT]) -> list[LinesT]:
    """Paths, each once however often it is stitched: all crossings of two alike take long.

    >>> there = shapely.MultiLineString([[(0, 0), (1, 0)]])
    >>> len(each_once([there, shapely.MultiLineString([[(0, 0), (1, 0)]])]))
    1
    """
    listed = list(paths)
    return list(dict(zip(shapely.to_wkb(listed), listed, strict=True)).values())


def sandwich(project: Project) -> Sandwich:
    """Pile up what the steps lay, and list what they stitch."""
    pile: list[list[Sheet]] = []
    slits: list[Slit] = []
    sewn: list[SewnLine] = []
    drawn: list[SewnLine] = []
    applied: list[Sheet] = []
    coils = {notion.name: notion.coil for notion in project.notions}
    number = 0
    pulled = max((step.number for step in project.steps if step.act is Act.PULL_OUT), default=0)
    for step in project.steps:
        if step.act is Act.UNHOOP:
            break
        for layer in step.layers:
            if layer.cut_back is not None:
                applied += _sheets(replace(layer, outline=layer.cut_back), step.number, number)
                continue
            leaves = _sheets(layer, step.number, number)
            if layer.slit:
                line = shapely.LineString(layer.slit)
                slits.append(Slit(layer.piece, number, line, coils.get(layer.piece) or 0.0))
            if layer.side is Side.FRONT:
                pile.append(leaves)
            else:
                pile.insert(0, leaves)
            number += 1
        for stitched in step.lines:
            strings = [path.line for path in stitched.paths]
            stays = stitched.role is not Role.BASTING or step.number > pulled
            one = SewnLine(stitched, step.number, shapely.MultiLineString(strings), stays)
            (drawn if stitched.stitch.kind is StitchKind.AS_DRAWN else sewn).append(one)
    every = tuple(sheet for leaves in pile for sheet in leaves)
    across = tuple(_through_allowances(one) for one in sewn_across(first_of(project)))
    return Sandwich(
        sheets=every,
        slits=tuple(slits),
        sewn=tuple(sewn),
        across=across,
        drawn=tuple(drawn),
        applied=tuple(applied),
    )


def frontmost(pile: Sandwich, shape: BaseGeometry, step: int) -> Sheet | None:
    """The sheet in front of all others where something is stitched in a step."""
    middle = shape.representative_point()
    there = [one for one in pile.sheets if one.step < step and one.area.intersects(middle)]
    return there[-1] if there else None


def _through_allowances(across: Path) -> shapely.MultiLineString:
    """A seam across a corner, which goes on through the allowances of the two that meet there."""
    start, corner, end = across.points
    first, last = ((one - corner) / np.hypot(*(one - corner)) for one in (start, end))
    ends = start + first * _ALLOWANCE, end + last * _ALLOWANCE
    return shapely.MultiLineString([[ends[0], corner, ends[1]]])


def _sheets(layer: Layer, step: int, number: int) -> list[Sheet]:
    """Sheets of one layer, the backmost first."""
    area = shapely.Polygon(layer.outline.points)
    folded = tuple(shapely.LineString(edge) for edge in layer.folded_edges)
    up = layer.two_sided or layer.up is Face.RIGHT
    down = layer.two_sided or layer.up is Face.WRONG

    def sheet(
        part: shapely.Polygon,
        front: bool,
        back: bool,
        leaf: Leaf,
        plies: int,
        folds: tuple[shapely.LineString, ...] = folded,
    ) -> Sheet:
        return Sheet(
            piece=layer.piece,
            title=layer.title,
            step=step,
            side=layer.side,
            area=part,
            front=front,
            back=back,
            folds=folds,
            leaf=leaf,
            layer=number,
            plies=plies,
            frays=layer.frays and not layer.slit,
            ply=layer.ply,
        )

    if layer.slit:
        upper, lower = _tapes(area, layer.slit)
        return [sheet(upper, up, True, Leaf.UPPER, 1), sheet(lower, up, True, Leaf.LOWER, 1)]
    if layer.hems and layer.plies == 1:
        # It is turned in to the wrong side, or to the right side where that is in.
        behind = (layer.up is Face.RIGHT) != layer.right_sides_in
        outer = layer.two_sided or not layer.right_sides_in
        inner = layer.two_sided or layer.right_sides_in
        faces = (inner, outer) if behind else (outer, inner)
        main = sheet(area, up, down, Leaf.MAIN, 1)
        turned: list[Sheet] = []
        for before, hem in enumerate(layer.hems):
            # It takes along what was turned in before it: that then lies between the two hems, its
            # face to the first of them, and ends in folds where they do.
            for first in layer.hems[:before]:
                if (corner := _corner(first, hem)) is not None:
                    folds = (*_folds(first), *_folds(hem))
                    plies = first.in_corner(hem)
                    turned.append(sheet(corner, *faces[::-1], Leaf.CORNER, plies, folds))
            strip = shapely.Polygon(hem.outline.points)
            across = [other.fold for other in layer.hems if other.upright is not hem.upright]
            folds = (*(shapely.LineString(fold) for fold in across), *_folds(hem))
            turned.append(sheet(strip, *faces, Leaf.HEM, hem.plies, folds))
        return [*reversed(turned), main] if behind else [main, *turned]
    if layer.plies == 1:
        return [sheet(area, up, down, Leaf.MAIN, 1)]
    inner = layer.two_sided or layer.right_sides_in
    outer = layer.two_sided or not layer.right_sides_in
    if layer.plies == 2:
        return [sheet(area, inner, outer, Leaf.BACK, 1), sheet(area, outer, inner, Leaf.FRONT, 1)]
    # What is turned in at the end of a strip, or along it, lies hidden between its layers.
    hidden = [
        sheet(part, outer, outer, Leaf.INSIDE, plies, (shapely.LineString(part.exterior),))
        for part, plies in _turned_in(layer.hems)
    ]
    return [*hidden, sheet(area, outer, outer, Leaf.MAIN, layer.plies)]


def _turned_in(hems: Sequence[Hem]) -> Iterator[tuple[shapely.Polygon, int]]:
    """Where each hem lies with its plies; a hem across another takes it along, and so folds it."""
    yield from ((shapely.Polygon(hem.outline.points), hem.plies) for hem in hems)
    for one, other in combinations(hems, 2):
        if (corner := _corner(one, other)) is not None:
            yield corner, one.in_corner(other)


def _corner(one: Hem, other: Hem) -> shapely.Polygon | None:
    """Where two hems along neighbouring edges lie on each other; none of those along opposite."""
    if one.upright is other.upright:
        return None
    corner = one.outline.area.intersection(other.outline.area)
    assert isinstance(corner, shapely.Polygon)
    return corner


def _folds(hem: Hem) -> tuple[shapely.LineString, ...]:
    """The fold of a hem and, turned in twice, the fold that its raw edge is turned in by."""
    fold = shapely.LineString(hem.fold)
    if not hem.twice:
        return (fold,)
    box = hem.outline.box
    (ax, ay), _ = hem.fold
    if hem.upright:
        inner = box.left + box.right - ax
        return fold, shapely.LineString([(inner, box.top), (inner, box.bottom)])
    inner = box.top + box.bottom - ay
    return fold, shapely.LineString([(box.left, inner), (box.right, inner)])


def _tapes(
    area: shapely.Polygon, slit: tuple[Point, Point]
) -> tuple[shapely.Polygon, shapely.Polygon]:
    """Part a zip along its slit into two tapes, the upper first; the slit lies along an axis."""
    box = Box(*area.bounds)
    (ax, ay), (bx, by) = slit
    if abs(ay - by) <= abs(ax - bx):
        return shapely.box(box.left, box.top, box.right, ay), shapely.box(
            box.left, ay, box.right, box.bottom
        )
    return shapely.box(box.left, box.top, ax, box.bottom), shapely.box(
        ax, box.top, box.right, box.bottom
    )
