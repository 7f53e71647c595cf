"""What a plan.json says in numbers of the finished thing: hardware, rooms, plies, thickness."""

from collections.abc import Callable, Iterator, Sequence

import numpy as np
import shapely
from plan_hollows import grid
from plan_pile import TOP_STITCH, Laid, Plan, Stitched, Work
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

#: Measures may differ by so much, mm.
NEAR = 0.3
#: A ply of anything that goes under a needle, mm: a thin lining, thick batting. Common
#: practice, no source.
THIN, THICK = 0.1, 2.5
#: A stretch no longer than this, mm, need not be told of.
SHORT = 1.0
#: So near to an edge, mm, a needle may or may not meet the layer.
ON_EDGE = 0.05

Faces = Callable[[Point], tuple[list[Laid], list[Laid]]]


def pierced_told(
    plan: Plan, work: Work, at: tuple[Faces, Faces], pages: Sequence[tuple[Laid, bool]]
) -> Iterator[str]:
    """Hardware goes through what lies there, from one of the two faces inward.

    `at` is what lies at a spot from either face, as far as the wrong side of its cover and all the
    way through: from one cover it may go on into the other.
    `pages` are the flaps, each with whether it stands out: what is set past the finished edge
    is set in these alone.
    """
    shown_at, through_at = at
    for one in plan["proof"]["hardware"]:
        spot = Point(one["at"])
        stacks = shown_at(spot)
        if work.turned and not work.finished.covers(spot):
            over = [page for page, out in pages if out and folded_out(work, page).covers(spot)]
            stacks = (over, over[::-1])
        found = [[layer.piece for layer in stack] for stack in stacks]
        if not any(_begins(stack, one["through"]) for stack in (*stacks, *through_at(spot))):
            yield f"{one['notion']} at {one['at']} goes through {one['through']}; there lie {found}"


def _begins(stack: Sequence[Laid], told: Sequence[str]) -> bool:
    """Whether what is told comes first in the stack; a zip's tape may lie between."""
    rest = list(told)
    for layer in stack:
        if not rest:
            return True
        if layer.piece == rest[0]:
            rest.pop(0)
        elif not layer.zip:
            return False
    return not rest


def folded_out(work: Work, page: Laid) -> Polygon:
    """Where a flap lies that stands out: mirrored at the straight finished edge beside its rim.

    What is turned lies as far outside the seam as it lay inside, and the cloth takes as much of
    it as of the edge on its way round.
    """
    middle = work.seam.exterior.intersection(page.area).centroid
    ring = np.asarray(work.finished.exterior.coords)
    edges = [LineString(ring[at : at + 2]) for at in range(len(ring) - 1)]
    edge = min(edges, key=lambda one: (round(one.distance(middle), 3), -one.length))
    (x, y), (u, v) = edge.coords
    a, b = (u - x) / edge.length, (v - y) / edge.length
    one, two = a * a - b * b, 2 * a * b
    mirror = [one, two, two, -one, x - one * x - two * y, y - two * x + one * y]
    return affinity.affine_transform(page.area, mirror)


def rooms_told(plan: Plan, work: Work) -> Iterator[str]:
    """The clear room of each place that holds something."""
    if any(step["kind"] == TOP_STITCH for step in plan["steps"]) and not work.by_hand:
        yield "a person top-stitches, and where is not told"
        return
    faces = {hold["name"]: hold["face"] for hold in plan["holds"]}
    for told in plan["proof"]["rooms"]:
        found = room(work, told["against"], faces[told["thing"]])
        if found is None:
            yield f"no room for {told['thing']} against {told['against']}"
            continue
        width, height, opens = found
        if told["depth"]:
            width, height = on_its_bottom(plan, width, height)
            if abs(told["depth"] - plan["finish"]["depth"]) > NEAR:
                yield f"room {told['depth']} deep on a bottom of {plan['finish']['depth']}"
        if plan["hoop"]["turned"]:
            width, height = height, width
        if max(abs(width - told["width"]), abs(height - told["height"])) > NEAR:
            yield (
                f"room for {told['thing']} against {told['against']}: {told['width']} x "
                f"{told['height']} told, {width:.2f} x {height:.2f} found"
            )
        if opens != told["opens"]:
            yield f"room for {told['thing']} opens at {told['opens']} as told, {opens} as found"


def on_its_bottom(plan: Plan, width: float, height: float) -> tuple[float, float]:
    """Width and height of a flat room once its corners are sewn across.

    A strip all round half the bottom goes to it: half the depth from one edge, and from each of the
    two beside it, where the sides stand up.
    """
    deep = plan["finish"]["depth"]
    (_, first, _), (_, other, _) = plan["finish"]["across"]
    if abs(first[1] - other[1]) < NEAR:
        return width - deep, height - deep / 2
    return width - deep / 2, height - deep


def room(work: Work, against: str, face: str) -> tuple[float, float, str] | None:
    """Width, height and way in of the largest clear place on a face of a piece."""
    best: tuple[float, float, str] | None = None
    largest = 0.0
    for layer in work.pile:
        if layer.piece != against:
            continue
        above = [
            one
            for one in work.pile
            if (one.at > layer.at if face == "front" else one.at < layer.at)
        ]
        area: BaseGeometry = layer.area
        if layer in work.closing:  # several are one wall
            area = shapely.union_all([one.area.buffer(0.01) for one in work.closing])
        if not above and work.turned:  # it faces what turning has brought there
            above = work.closing
            if work.by_its_zip and layer.at > above[0].at:
                above = [one for one in work.pile if one.at < above[0].at]
        inside = stitched_in(work)
        other = shapely.union_all([one.area.buffer(0.01) for one in above])
        bound = [_binds(line, layer, above) for line in work.through(layer)]
        bound += [line for line in work.by_hand if not line.is_closed]
        threads = shapely.union_all([one.buffer(0.005) for one in bound])
        clear = inside.intersection(area).intersection(other)
        for part in shapely.get_parts(clear.difference(threads)):
            if part.area > largest:
                largest = part.area
                left, top, right, bottom = part.bounds
                opens = _opens(part, inside, threads, above)
                best = (right - left, bottom - top, opens)
    return best


def stitched_in(work: Work) -> Polygon:
    """What the finished edge leaves, and the lines that a person top-stitches all round."""
    rings = [Polygon(line) for line in work.by_hand if line.is_closed]
    inside = shapely.intersection_all([work.finished, *rings])
    assert isinstance(inside, Polygon)
    return inside


def _binds(line: Stitched, layer: Laid, beside: Sequence[Laid]) -> BaseGeometry:
    """Where a line holds the layer to what lies on one side of it."""
    there = [one.area for one in beside if one.step < line.step]
    return line.path.intersection(layer.area).intersection(shapely.union_all(there))


def _opens(part: Polygon, inside: Polygon, threads: BaseGeometry, beside: Sequence[Laid]) -> str:
    """By a free edge within what is sewn or between two folds, by a zip in its wall, or not."""
    edges = inside.exterior.union(threads)
    free = part.exterior.difference(edges.buffer(0.05))
    if free.length > 10.0:
        return "mouth"
    slits = [one.slit for one in beside if one.slit is not None]
    folds = [edge for one in beside for edge in one.folded if not slits]
    if any(edge.intersection(part.buffer(-1.0)).length > 10.0 for edge in folds):
        return "mouth"
    return "zip" if any(slit.intersection(part).length > 10.0 for slit in slits) else "nothing"


def plies_told(plan: Plan, work: Work) -> Iterator[str]:
    """The fewest and most plies under each stitched line."""
    for told in plan["proof"]["layers"]:
        here = [
            line for line in work.lines if (line.name, line.step) == (told["line"], told["step"])
        ]
        counts = [plies_under(work, line) for line in here]
        if not counts:
            yield f"no line {told['line']} in step {told['step']}"
            continue
        least, low, high, most = (
            pick(one) for pick, one in zip(ENDS, zip(*counts, strict=True), strict=True)
        )
        if not (least <= told["fewest"] <= low and high <= told["most"] <= most):
            yield (
                f"under {told['line']} lie {told['fewest']} to {told['most']} plies as told, "
                f"{low} to {high} as found"
            )


ENDS: tuple[Callable[[Sequence[int]], int], ...] = (min, min, max, max)


def plies_under(work: Work, line: Stitched) -> tuple[int, int, int, int]:
    """Fewest and most plies on all but short stretches of a line, between those on any point."""
    there = [leaf for layer in work.pile if layer.step < line.step for leaf in layer.leaves]
    # A needle on an edge may or may not meet the layer: of the whole line, too.
    reach = line.swing + ON_EDGE
    low = min(_long(_counted(there, line.path, ON_EDGE)))
    high = max(_long(_counted(there, line.path, -ON_EDGE)))
    under = min(plies for _, plies in _counted(there, line.path, -reach))
    over = max(plies for _, plies in _counted(there, line.path, reach))
    return under, low, high, over


def _long(counted: Sequence[tuple[float, int]]) -> list[int]:
    """The plies of all but short stretches, if there are any that are not."""
    return [plies for length, plies in counted if length > SHORT] or [one for _, one in counted]


def _counted(
    leaves: Sequence[tuple[BaseGeometry, int]], path: LineString, wider: float
) -> list[tuple[float, int]]:
    """Length and plies of each stretch of a path, every leaf so much wider all round."""
    leaves = [(area.buffer(wider), plies) for area, plies in leaves]
    met = shapely.get_coordinates([path.intersection(area.boundary) for area, _ in leaves])
    along = np.atleast_1d(shapely.line_locate_point(path, shapely.points(met)))
    at = np.unique(np.concatenate([[0.0, path.length], along]))
    middles = shapely.line_interpolate_point(path, (at[1:] + at[:-1]) / 2)
    plies = sum(many * shapely.covers(area, middles) for area, many in leaves)
    return list(zip(np.diff(at).tolist(), np.asarray(plies).tolist(), strict=True))


def thickness_told(plan: Plan, work: Work, layers: Sequence[Laid]) -> Iterator[str]:
    """How thick it is closed: no less than its plies pressed flat, no more than all of them thick.

    Folded once, and at its edge with every layer's allowance beside it, it is four times as
    thick as flat. `layers` are those that lie on each other once it is finished.
    """
    empty, full = plan["proof"]["thickness"]["empty"], plan["proof"]["thickness"]["full"]
    cells = grid(work)
    plies = int(np.max(sum(one.plies * cells.within(one.area) for one in layers)))
    if not plies * THIN <= empty[0] <= empty[1] <= 4 * plies * THICK:
        yield f"empty it is {empty} thick as told, of {plies} plies"
    # What stands on a bottom need not be held flat.
    flat = [] if plan["finish"]["depth"] else plan["holds"]
    held = [hold["thickness"] * hold["number"] for hold in flat]
    one = max((hold["thickness"] for hold in flat), default=0.0)
    if not (max(empty[0], one) <= full[0] <= full[1] and empty[1] <= full[1]):
        yield f"full it is {full} thick as told, empty {empty}, with {one} in it"
    if full[1] > empty[1] + 2 * sum(held) + NEAR:
        yield f"full it is {full} thick as told, empty {empty}, holding {sum(held)}"
