"""A second opinion on what a plan.json says of the finished thing, by reasoning of its own.

The seam is the spine of a book: the work and the closing piece are its covers, and what lies
between them and is caught at the rim alone are its pages. Turning swings the covers round
until their wrong sides meet, and keeps the order of the pages. Nothing here is taken from the
program: the dict of a plan.json goes in, plain sentences of what disagrees come out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import plan_hollows
import plan_measures
import shapely
from plan_pile import Laid, Plan, Work, length_within, read
from shapely.geometry import LineString, MultiLineString, Point

WORK, OUT, CLOSING = "work side", "stands out", "closing side"
#: From the one cover to the other.
ORDER = (WORK, OUT, CLOSING)
#: Shorter than this, mm, two rims do not share a stretch, and a line does not bind.
SHARED = 0.5
#: What a line may be off by, mm: plan.json leaves out what is not needed of a curve, and the
#: program judges by chords of its own.
NEAR = 0.3
#: Sample points on the faces and the zip, mm apart.
SPACING = 5.0


@dataclass(frozen=True)
class Page:
    """A flap: a layer between the covers, where it comes to lie and its rim."""

    layer: Laid
    lies: str
    rim: MultiLineString


@dataclass(frozen=True)
class Book:
    """The finished thing: both covers' piles and the pages, from the work to the closing piece."""

    body: tuple[Laid, ...]
    pages: tuple[Page, ...]
    cover: tuple[Laid, ...]

    def shown_at(self, spot: Point) -> tuple[list[Laid], list[Laid]]:
        """Layers at a spot from the face of the work inward, and from that of the closing piece.

        A page on the work lies on all pages before it; on the closing piece the first page
        lies on all after it.
        """
        work, closing = self.faces
        return (
            [layer for layer in work if layer.area.covers(spot)],
            [layer for layer in closing if layer.area.covers(spot)],
        )

    def through_at(self, spot: Point) -> tuple[list[Laid], list[Laid]]:
        """Layers at a spot all the way through, from either face.

        The covers' wrong sides lie on each other, and what is set in one may go on into the other.
        """
        work, closing = self.shown_at(spot)
        return work + closing[::-1], closing + work[::-1]

    @property
    def faces(self) -> tuple[list[Laid], list[Laid]]:
        """All layers from the face of the work inward, and from that of the closing piece."""
        on_work = [page.layer for page in reversed(self.pages) if page.lies == WORK]
        on_closing = [page.layer for page in self.pages if page.lies == CLOSING]
        return [*on_work, *reversed(self.body)], [*on_closing, *self.cover]

    @property
    def on_body(self) -> list[Laid]:
        """Every layer once, but for those that stand out."""
        work, closing = self.faces
        return list(dict.fromkeys([*work, *closing]))


def bind(plan: Plan, work: Work) -> Book:
    """The book of turned goods; of raw-edge goods the front and the back of the pile."""
    if not work.turned:
        return Book(work.pile, (), work.pile)
    low = max(layer.at for layer in work.pile if layer.piece == work.between[0])
    high = min(layer.at for layer in work.closing)
    between = [layer for layer in work.pile if low < layer.at < high and hangs(work, layer)]
    pages = tuple(Page(one, _lies(plan, one.piece), rim(work, one)) for one in between)
    body = tuple(one for one in work.pile if one.at < high and one not in between)
    return Book(body, pages, tuple(one for one in work.pile if one.at >= high))


def hangs(work: Work, layer: Laid) -> bool:
    """Whether the layer is caught at the seam, and no line goes through it within the seam."""
    held = layer.area.intersection(work.seam.buffer(-NEAR))
    return rim(work, layer).length > SHARED and not any(
        length_within(line.path, held) > SHARED for line in work.through(layer)
    )


def rim(work: Work, layer: Laid) -> MultiLineString:
    """The stretches of the seam line that cross the layer."""
    stretches = shapely.line_merge(work.seam.exterior.intersection(layer.area))
    parts = [part for part in shapely.get_parts(stretches) if isinstance(part, LineString)]
    return MultiLineString([part for part in parts if part.length > SHARED])


def _lies(plan: Plan, piece: str) -> str:
    finish = plan["finish"]
    if piece in finish["pulled_over"]:
        return CLOSING
    return OUT if piece in finish["stands_out"] else WORK


def disagreements(plan: Plan) -> list[str]:
    """Everything in which this opinion differs from what the plan says."""
    work = read(plan)
    book = bind(plan, work)
    return [
        *flaps_told(plan, book),
        *trapped(work, book),
        *zips_covered(work, book),
        *outermost_told(plan, work, book),
        *plan_hollows.shows_told(plan, work),
        *plan_measures.pierced_told(
            plan, work, (book.shown_at, book.through_at), [_out(one) for one in book.pages]
        ),
        *plan_measures.rooms_told(plan, work),
        *plan_measures.plies_told(plan, work),
        *plan_measures.thickness_told(plan, work, book.on_body),
    ]


def _out(page: Page) -> tuple[Laid, bool]:
    return page.layer, page.lies == OUT


def flaps_told(plan: Plan, book: Book) -> Iterator[str]:
    """The flaps that the plan tells: which, in what order, where they lie, and their rims."""
    mine = [(page.layer.piece, page.lies) for page in book.pages]
    told = [(piece, flap["lies"]) for flap in plan["proof"]["flaps"] for piece in flap["pieces"]]
    if mine != told:
        yield f"flaps: {told} told, {mine} found"
        return
    rims = iter(book.pages)
    for flap in plan["proof"]["flaps"]:
        for piece in flap["pieces"]:
            here = next(rims).rim
            there = MultiLineString([part for part in flap["rim"] if len(part) > 1])
            off = shapely.hausdorff_distance(here, there, densify=0.05)
            if len(flap["pieces"]) == 1 and off > NEAR:
                yield f"rim of {piece} off by {off:.2f}"


def trapped(work: Work, book: Book) -> Iterator[str]:
    """Flaps that cannot come to lie where they should."""
    for page in book.pages:
        name = page.layer.piece
        if page.lies == OUT and not _straight(page.rim):
            yield f"{name} should stand out and its rim is not straight"
        if page.lies == CLOSING and page.rim.length > work.seam.length - SHARED:
            yield f"{name} cannot be pulled over: it has no mouth"
    for near, far in combinations(book.pages, 2):
        shared = near.rim.intersection(far.rim.buffer(NEAR)).length
        if shared > SHARED and ORDER.index(near.lies) > ORDER.index(far.lies):
            yield (
                f"{far.layer.piece} ({far.lies}) is trapped by {near.layer.piece} ({near.lies}),"
                f" laid in step {near.layer.step}"
            )


def _straight(line: MultiLineString) -> bool:
    """All of it on one straight run."""
    return line.minimum_rotated_rectangle.area < NEAR * line.length


def zips_covered(work: Work, book: Book) -> Iterator[str]:
    """Zips that can be reached on neither face somewhere within the finished edge."""
    for layer in work.pile:
        if layer.slit is None:
            continue
        clear = layer.slit.intersection(work.finished.buffer(-1.0))
        spots = [clear.interpolate(at * SPACING) for at in range(int(clear.length / SPACING) + 1)]
        covered = 0
        for spot in spots:
            if layer not in (stack[0] for stack in book.shown_at(spot) if stack):
                covered += 1
        if covered or not spots:
            yield f"{layer.piece} is covered on both faces at {covered} of {len(spots)} places"


def outermost_told(plan: Plan, work: Work, book: Book) -> Iterator[str]:
    """What is outermost on either face: told to show, its right side, no larger than told."""
    told = {(one["piece"], one["face"]): one["area"] for one in plan["proof"]["shows"]}
    cells = plan_hollows.grid(work)
    # The work shows what lay towards the closing piece, the closing piece what lay towards
    # the work; and so do the pages that lie on them.
    for side, layers in zip(("front", "back"), book.faces, strict=True):
        bare = cells.within(work.seam)
        found: dict[str, float] = {}
        wrong: dict[str, float] = {}
        for layer in layers:
            here = bare & cells.within(layer.area)
            bare &= ~here
            area = float(cells.areas[here].sum())
            found[layer.piece] = found.get(layer.piece, 0.0) + area
            if layer.plies == 1 and not layer.zip and (layer.up == "right") != (side == "front"):
                wrong[layer.piece] = wrong.get(layer.piece, 0.0) + area
        for piece, area in found.items():
            there = told.get((piece, side), 0.0)
            if area > there + cells.slack(area):
                yield f"{side} of {piece} is outermost over {area:.0f} mm², told {there:.0f}"
        for piece, area in wrong.items():
            if area > cells.slack(area):
                yield f"the wrong side of {piece} is outermost over {area:.0f} mm²"
        if cells.areas[bare].sum() > cells.slack(0.0):
            yield f"nothing lies over {cells.areas[bare].sum():.0f} mm² of the {side}"
