"""The pile of layers and the stitched lines of a plan.json, read from it alone.

A layer laid on the front of the hoop lies on top of all before it, one laid on the back under
all before it. What is laid once the work is out of the hoop is no part of the pile.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise, product
from typing import Any

import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

Plan = dict[str, Any]

#: From memory.
LAP_HIDES = 20.0
#: Lengths no farther apart are the same, mm: plan.json has four decimals.
SAME = 0.001

OUT, TOP_STITCH, BIND = "take out of the hoop", "top-stitch", "bind the edge"


@dataclass(frozen=True)
class Laid:
    """One layer, `at` so high in the pile, 0 at the back of the hoop."""

    at: int
    piece: str
    step: int
    up: str
    plies: int
    area: Polygon
    folded: tuple[LineString, ...] = ()
    slit: LineString | None = None
    #: What is turned in along its edges, and how many plies that is besides its own.
    hems: tuple[tuple[BaseGeometry, int], ...] = ()
    #: Of a strip that is turned in as well, each panel between its creases.
    panels: tuple[tuple[Polygon, int], ...] = ()

    @property
    def leaves(self) -> list[tuple[BaseGeometry, int]]:
        """Areas, each with its plies."""
        if self.panels:
            return list(self.panels)
        return [(self.area, self.plies), *self.hems]

    @property
    def zip(self) -> bool:
        """A zip is the one thing that opens along a slit."""
        return self.slit is not None


@dataclass(frozen=True)
class Stitched:
    """One unbroken line of a stop of the machine."""

    name: str
    step: int
    path: LineString
    swing: float = 0.0


@dataclass(frozen=True)
class Work:
    """One copy as it lies in the hoop before it is taken out."""

    pile: tuple[Laid, ...]
    lines: tuple[Stitched, ...]
    seam: Polygon
    finished: Polygon
    turned: bool
    #: The piece of the work and the closing piece, or pieces, that it is turned out between.
    between: tuple[str, ...] = ()
    #: What a person top-stitches once the work is out of the hoop.
    by_hand: tuple[LineString, ...] = ()

    @property
    def closing(self) -> list[Laid]:
        """What closes it: one layer, or several whose folds leave an opening."""
        return [layer for layer in self.pile if layer.piece in self.between[1:]]

    @property
    def by_its_zip(self) -> bool:
        """Whether it is turned through its zip: all of its seam is sewn, and nothing else opens."""
        laid = max((layer.step for layer in self.closing), default=0)
        last = [line.path for line in self.lines if line.step > laid]
        sewn = shapely.union_all(last).buffer(0.05)
        zipped = any(layer.zip for layer in self.pile)
        whole = self.seam.exterior.difference(sewn).length < 1.0
        return self.turned and zipped and len(self.closing) == 1 and whole

    @property
    def hides_its_inside(self) -> bool:
        """Whether layers that close it together lap by 20 mm all along their folds."""
        several = self.closing
        both = [one.area & other.area for one, other in combinations(several, 2)]
        lap = shapely.union_all(both) & self.seam
        left, top, right, bottom = lap.bounds if not lap.is_empty else (0.0,) * 4
        return min(right - left, bottom - top) >= LAP_HIDES - SAME

    def through(self, layer: Laid) -> list[Stitched]:
        """The lines that are stitched once the layer lies there."""
        return [line for line in self.lines if line.step > layer.step]


def read(plan: Plan) -> Work:
    """The first copy, from the dict of a plan.json."""
    steps = plan["steps"]
    out = min((step["number"] for step in steps if step["kind"] == OUT), default=len(steps) + 1)
    laid: list[dict[str, Any]] = []
    lines: list[Stitched] = []
    for step in steps:
        number = step["number"]
        if number >= out:
            break
        here = [layer for layer in plan["layers"] if layer["step"] == number]
        # One sheet over all copies is every copy's.
        sheets = [layer for layer in here if layer.get("over_all")]
        for layer in sheets or _first(here, len(plan["copies"])):
            laid.insert(len(laid) if layer["side"] == "front" else 0, layer)
        if step["stop"] is not None:
            lines += [_stitched(one, number) for one in _first(step["lines"], len(plan["copies"]))]
    finish = plan["finish"]
    pieces = {piece["name"]: piece for piece in plan["pieces"]}
    return Work(
        tuple(
            _laid(layer, at, pieces.get(layer["piece"]), turned=plan["hoop"]["turned"])
            for at, layer in enumerate(laid)
        ),
        tuple(lines),
        Polygon(finish["seam"]),
        Polygon(finish["finished"]),
        finish["way"] == "turned",
        tuple(finish["between"]),
        tuple(
            LineString(mark)
            for step in steps
            if step["kind"] in (TOP_STITCH, BIND)
            for mark in _first(step["mark"], len(plan["copies"]))
        ),
    )


def _first(things: Sequence[Any], copies: int) -> Sequence[Any]:
    """What of a step is of the first copy: all copies have as many."""
    return things[: len(things) // copies]


def _laid(layer: dict[str, Any], at: int, piece: dict[str, Any] | None, *, turned: bool) -> Laid:
    area = Polygon(layer["outline"])
    folded = tuple(LineString(edge) for edge in layer["folded_edges"])
    strip = layer["plies"] > 1
    hemmed = piece and folded and not strip
    return Laid(
        at,
        layer["piece"],
        layer["step"],
        layer["up"],
        layer["plies"],
        area,
        folded,
        LineString(layer["slit"]) if layer["slit"] else None,
        tuple(_hems(area, folded, piece, turned=turned)) if hemmed and piece else (),
        tuple(_panels(area, piece)) if piece and strip and layer["hems"] else (),
    )


def _panels(area: Polygon, piece: dict[str, Any]) -> Iterator[tuple[Polygon, int]]:
    """Each panel between the creases of a strip, where it lies once it is folded flat.

    It is folded with the side up that comes to lie inside, and then turned over as a page is:
    left and right change places, top and bottom do not.
    """
    _, top, right, _ = area.bounds
    for (near, far), (over, under) in product(_laid_flat(piece, 0), _laid_flat(piece, 1)):
        yield box(right - far, top + over, right - near, top + under), 1


def _laid_flat(piece: dict[str, Any], axis: int) -> list[tuple[float, float]]:
    """Where each panel lies along one size of a piece, from the least.

    At every crease flat cloth runs on the other way, in whatever order it was folded.
    """
    size = piece["cut"][axis]
    marks = [
        fold["start"][axis] for fold in piece["folds"] if fold["start"][axis] == fold["end"][axis]
    ]
    edges = [-size / 2, *sorted(marks), size / 2]
    ends, way = [0.0], 1
    for start, end in pairwise(edges):
        ends.append(ends[-1] + way * (end - start))
        way = -way
    panels = [(start, end) for start, end in pairwise(ends)]
    longest = max(panels, key=lambda one: abs(one[1] - one[0]))
    # The longest is the face, and the one that lies as it lay.
    turn = 1 if longest[1] > longest[0] else -1
    sides = [sorted((turn * start, turn * end)) for start, end in panels]
    least = min(low for low, _ in sides)
    return [(low - least, high - least) for low, high in sides]


def _hems(
    area: Polygon, folded: Sequence[LineString], piece: dict[str, Any], *, turned: bool
) -> Iterator[tuple[BaseGeometry, int]]:
    """A strip along each folded edge, as deep as each fold turns in; and their corners.

    Cloth that lies n times on itself along one edge and is folded m times at the next lies n times
    m in the corner: what is there besides the piece and both strips is the product of these.
    """
    strips: list[list[tuple[BaseGeometry, int]]] = [[], []]
    for axis in (0, 1):
        in_hoop = 1 - axis if turned else axis
        edges = [edge for edge in folded if _square_to(edge, in_hoop)]
        turns = sum(
            fold["kind"] == "hem" and fold["start"][axis] == fold["end"][axis]
            for fold in piece["folds"]
        )
        for edge in edges if turns else ():
            deep = (piece["cut"][axis] - piece["folded"][axis]) / turns
            strip = area.intersection(edge.buffer(deep, cap_style="flat"))
            strips[axis].append((strip, turns // len(edges)))
    yield from (*strips[0], *strips[1])
    for (one, times), (other, across) in product(*strips):
        yield one.intersection(other), times * across


def _square_to(edge: LineString, axis: int) -> bool:
    """Whether an edge has one place along an axis."""
    (start, *_, end) = edge.coords
    return bool(abs(start[axis] - end[axis]) < 0.01)


def _stitched(line: dict[str, Any], step: int) -> Stitched:
    points = line["points"]
    ring = [*points, points[0]] if line["closed"] else points
    return Stitched(line["name"], step, LineString(ring), line["swing"] or 0.0)


def length_within(line: LineString, area: BaseGeometry) -> float:
    """How much of a line lies in an area."""
    return float(line.intersection(area).length)
