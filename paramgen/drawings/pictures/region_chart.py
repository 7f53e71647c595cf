"""The picture of which pairs of two sizes work: in any hoop, and in each that was asked about."""

import string
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import combinations

import numpy as np
import shapely
from shapely import Geometry
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.framed_picture import LEAST_LETTERS
from paramgen.drawings.front_end.legend import SAMPLE
from paramgen.drawings.primitives.drawn_paths import (
    circle,
    lines_of,
    outer_paths,
    rectangle,
    straight,
)
from paramgen.drawings.primitives.edge_ruler import RulerMark, RulerStep, marks, step_for
from paramgen.drawings.primitives.free_spots import (
    box_about,
    deep_in,
    farthest_first,
    first_free,
    from_middle,
    rings,
)
from paramgen.drawings.primitives.items import Anchor, Drawing, DrawnItem, Group, Shape, Style, Text
from paramgen.drawings.primitives.lettering import BOLD, LINE_ABOVE, text_width
from paramgen.drawings.primitives.paragraphs import TextLine, box_of_texts, moved, paragraph
from paramgen.drawings.primitives.symbols import badge, badge_radius
from paramgen.fit.size_ranges import STEP
from paramgen.fit.size_regions import RegionSide, SizeRegion, SizeRegions
from paramgen.lengths import (
    NO_BREAK,
    round_down,
    round_up,
    show,
    show_both,
    show_size,
    spaced,
    unbroken,
)
from paramgen.sentences import SHOWN_TO
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.path import FloatArray, Path, Point, path
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said

#: Size of its letters, mm.
LETTERS = LEAST_LETTERS

# All in ems: the picture is not at true size, so it is made to fit its letters.
_WIDTH = 36.0
_MARGIN = 1.2
_ROUND = 2.4  # room left round all that is drawn in the plot
_LEAST_PLOT = 18.0
_MOST_PLOT = 30.0
_LINE = 1.2  # width that a region without one is drawn with
_MARK = 0.6
_GAP = 0.2
_DOT = 0.25
_FINE = 2.0  # what a disc of this radius does not go into is easily hidden

_LONG = 6.0  # a straight edge of this length has a letter of its own

# Ends of sides no farther apart than this in sizes touch: one step in both, mm.
_TOUCH = 1.5 * STEP

#: Narrowest range of sizes that is drawn across the whole plot, mm.
LEAST_SPAN = 20.0

#: What the size asked for is called.
ASKED = "asked for"

# Towards the far corner: sizes grow to the right and upwards.
_FAR = (1.0, -1.0)

_TINTS = tuple(Style[f"REGION_{place}"] for place in range(1, 9))
_DASHES = tuple(Style[f"BOUND_{place}"] for place in range(1, 5))

# Sizes are known to a tenth of a millimetre; so near the edge of a region is in it.
_NEAR = 0.05


def region(found: SizeRegions, unit: Unit, title: str) -> Drawing:
    """Draw which pairs of two sizes work.

    Parameters
    ----------
    found : SizeRegions
    unit : Unit
        The person's.
    title : str
        Of the project.

    Returns
    -------
    Drawing
        Named `region`; not at true size. One shaded region for each hoop, with its number, in
        what works in a hoop that is large enough; the sizes asked for; letters at the edges,
        and below what binds there.
    """
    em, heard = LETTERS, _title(found, title)
    plot, bounds = _Plot(found, unit, em), _bounds(found, unit)
    edges = _letters_put(plot, bounds, _Put(taken=(_room(plot.mark_box, em),)))
    asked = _asked_put(plot, replace(edges, items=()))
    numbers = _numbers_put(plot, replace(asked, items=()))

    box, left, width = plot.box, plot.left, _WIDTH * em
    upward = paragraph((TextLine(f"{_name(found.second)}, {unit}"),), (left, 0.0), em, width)
    upward = _up_to(upward, box.top - 0.8 * em)
    heading = paragraph(_heading(found, heard), (left, 0.0), em, width)
    heading = _up_to(heading, box_of_texts(upward).top - 0.6 * em)
    below = (box.left, box.bottom + 2.3 * em)
    across = paragraph((TextLine(f"{_name(found.first)}, {unit}"),), below, em, box.width)
    key, y = _key(plot, (left, box_of_texts(across).bottom + em))
    binding, y = _binding(bounds, (left, y + 0.4 * em), width, em)
    return Drawing(
        name="region",
        title=heard,
        description=_description(found, unit, bounds),
        box=Box(left, box_of_texts(heading).top, left + width, y).grown(_MARGIN * em),
        scale=em / LEAST_LETTERS,
        items=(
            Group("heading", heading),
            Group("picture", tuple(_picture(plot))),
            Group("rulers", (*_rulers(plot), *upward, *across)),
            Group("leaders", numbers.leaders),
            Group("edges", edges.items, "Letters of the edges"),
            Group("asked", asked.items, "Sizes asked for"),
            Group("numbers", numbers.items, "Numbers of the hoops"),
            Group("key", key, "Legend"),
            Group("binding", binding, "What binds at the edges"),
        ),
    )


@dataclass(frozen=True)
class SizesInPicture:
    """Where sizes lie in the picture: the first goes to the right, the second upwards.

    Parameters
    ----------
    box : Box
        Of the plot, in the picture.
    middle : (first size, second size)
        Those that lie in the middle of the plot, mm.
    scale : float
        How long a millimetre is drawn.
    """

    box: Box
    middle: Point
    scale: float

    def at(self, sizes: Point) -> Point:
        """Where sizes lie in the picture."""
        (x, y), (middle, centre) = sizes, self.middle
        return (x - middle) * self.scale, (centre - y) * self.scale


def sizes_in_picture(found: SizeRegions, unit: Unit) -> SizesInPicture:
    """Where sizes lie in the picture that `region` draws of the same."""
    return _Plot(found, unit, LETTERS).sizes_in_picture


@dataclass(frozen=True)
class _Plot:
    """How sizes lie in the picture: the first to the right, the second upwards."""

    found: SizeRegions
    unit: Unit
    em: float

    @cached_property
    def sizes(self) -> Box:
        """Sizes that all that is drawn lies in, from the least to the most, mm."""
        shapes = [self.found.whole.area, *(one.area for one in self.found.hoops)]
        shapes += [shapely.LineString(side.points) for side in self.found.sides]
        shapes.append(shapely.Point(self.found.asked))
        left, low, right, high = map(float, shapely.total_bounds(shapes))
        return Box(left, low, right, high)

    @cached_property
    def scale(self) -> float:
        """How long a millimetre is drawn."""
        span = max(self.sizes.width, self.sizes.height, LEAST_SPAN)
        return (_MOST_PLOT - 2 * _ROUND) * self.em / span

    @cached_property
    def box(self) -> Box:
        """Where it is drawn, about the origin."""
        least, round_it = _LEAST_PLOT * self.em, 2 * _ROUND * self.em
        size = (
            max(self.sizes.width * self.scale + round_it, least),
            max(self.sizes.height * self.scale + round_it, least),
        )
        return box_about((0.0, 0.0), size)

    @property
    def left(self) -> float:
        """Where all that is written starts, so that the plot and its ruler lie in the middle."""
        return (self.box.left + self.box.right - _WIDTH * self.em) / 2 - 1.5 * self.em

    @property
    def sizes_in_picture(self) -> SizesInPicture:
        """Where sizes lie."""
        return SizesInPicture(self.box, self.sizes.centre, self.scale)

    def at(self, sizes: Point) -> Point:
        """Where some sizes lie."""
        return self.sizes_in_picture.at(sizes)

    def drawn(self, shape: Geometry) -> BaseGeometry:
        """A shape of sizes as it is drawn."""
        (middle, centre), scale = self.sizes.centre, np.array((self.scale, -self.scale))
        drawn = shapely.transform(shape, lambda points: (points - (middle, centre)) * scale)
        assert isinstance(drawn, BaseGeometry)
        return drawn

    @cached_property
    def hoops(self) -> tuple[tuple[int, SizeRegion], ...]:
        """Hoops that something works in, with their numbers, the smallest region first."""
        some = [
            (number, one)
            for number, one in enumerate(self.found.hoops, 1)
            if not shapely.is_empty(one.area)
        ]
        return tuple(
            sorted(
                some, key=lambda pair: (shapely.area(pair[1].area), shapely.length(pair[1].area))
            )
        )

    @cached_property
    def areas(self) -> dict[int, tuple[Path, ...]]:
        """Closed outlines of each hoop's region, by its number."""
        return {
            number: tuple(
                outline
                for part in _parts(self.drawn(one.area))
                for outline in outer_paths(_with_width(part, _LINE * self.em))
            )
            for number, one in self.hoops
        }

    @cached_property
    def whole(self) -> BaseGeometry:
        """What works in whatever hoop."""
        return self.drawn(self.found.whole.area)

    @cached_property
    def fine(self) -> Geometry:
        """Narrow notches and parts of what works, and its corners: what a letter would hide."""
        reach, whole = _FINE * self.em, self.whole
        if not whole.area:
            return shapely.GeometryCollection()
        filled = whole.buffer(reach).buffer(-reach)
        blunt = whole.buffer(-reach).buffer(reach)
        # The noise of arithmetic leaves slivers along straight edges; all else reaches its edge.
        hair = 0.01 * self.em
        return ((filled - whole) | (whole - blunt)).buffer(-hair).buffer(2 * hair)

    @property
    def mark(self) -> Point:
        """Where the sizes asked for lie."""
        return self.at(self.found.asked)

    @property
    def mark_box(self) -> Box:
        """What their mark takes."""
        return box_about(self.mark, (2 * _MARK * self.em,) * 2)


def _parts(shape: BaseGeometry) -> Iterator[BaseGeometry]:
    """Polygons and points of a shape, and its lines, joined where they meet."""
    parts = shapely.get_parts(shape)
    lines = [part for part in parts if isinstance(part, shapely.LineString) and part.length]
    # A line of no length is a point; joining would drop it.
    yield from (
        part for part in parts if not (isinstance(part, shapely.LineString) and part.length)
    )
    yield from shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines)))


def _with_width(part: BaseGeometry, width: float) -> BaseGeometry:
    """Give a line or a point a width, so that it is seen."""
    if isinstance(part, shapely.Polygon):
        return part
    if not part.length:
        return shapely.Point(shapely.get_coordinates(part)[0]).buffer(width / 2)
    return part.buffer(width / 2, cap_style="flat")


def _picture(plot: _Plot) -> Iterator[DrawnItem]:
    yield Shape(rectangle(plot.box), Style.NO_REGION)
    yield from (Shape(outline, Style.REGION) for outline in outer_paths(plot.whole))
    regions = plot.hoops[::-1]  # the smaller lies on the larger
    for number, one in regions:
        title = one.room.hoop.name if one.room else ""
        tints = tuple(Shape(area, _tint(number)) for area in plot.areas[number])
        yield Group(f"region-{number}", tints, title)
    x, y = plot.mark
    yield Shape(straight((plot.box.left, y), plot.mark), Style.LEADER)
    yield Shape(straight((x, plot.box.bottom), plot.mark), Style.LEADER)
    for number, _ in regions:
        yield from (Shape(area, _dash(number)) for area in plot.areas[number])
    for edge in (*outer_paths(plot.whole), *lines_of(plot.whole)):
        yield Shape(edge, Style.BOUND)
    yield Shape(rectangle(plot.box), Style.RULER)


def _rulers(plot: _Plot) -> Iterator[DrawnItem]:
    """Marks and numbers along the bottom and the left edge, both at one scale."""
    em, box = plot.em, plot.box
    (x, y), half = plot.sizes.centre, (box.width / 2 / plot.scale, box.height / 2 / plot.scale)
    (left, right), (low, high) = (x - half[0], x + half[0]), (y - half[1], y + half[1])
    step: RulerStep = max(
        (step_for(*ends, plot.unit, plot.scale, em) for ends in ((left, right), (low, high))),
        key=lambda step: step.length,
    )
    for mark in marks(left, right, step, plot.unit):
        at = plot.at((mark.at, y))[0]
        yield Shape(straight((at, box.bottom), (at, box.bottom + _long(mark, em))), Style.RULER)
        if mark.number:
            place = (at, box.bottom + (0.9 + LINE_ABOVE) * em)
            yield Text(place, mark.number, em, Anchor.MIDDLE)
    for mark in marks(low, high, step, plot.unit):
        at = plot.at((x, mark.at))[1]
        yield Shape(straight((box.left - _long(mark, em), at), (box.left, at)), Style.RULER)
        if mark.number:
            yield Text((box.left - em, at + 0.35 * em), mark.number, em, Anchor.END)


def _long(mark: RulerMark, em: float) -> float:
    return (0.7 if mark.number else 0.35) * em


@dataclass(frozen=True)
class _Bound:
    """One thing that binds: its letter, its words, and where it does, in sizes."""

    letter: str
    text: str
    runs: tuple[Geometry, ...]


def _bounds(found: SizeRegions, unit: Unit) -> list[_Bound]:
    """All that binds, each thing once, whatever its numbers are."""
    things: dict[tuple[object, ...], list[RegionSide]] = {}
    for side in found.sides:
        things.setdefault(side.binds.about, []).append(side)
    rounds = ((letter, turn) for turn in range(len(things)) for letter in string.ascii_uppercase)
    return [
        _Bound(f"{letter}{turn + 1 if turn else ''}", _said(sides, unit), _runs(sides))
        for sides, (letter, turn) in zip(things.values(), rounds, strict=False)
    ]


def _said(sides: Sequence[RegionSide], unit: Unit) -> str:
    """What binds at sides where the same thing does, in the words of the first."""
    text, *others = dict.fromkeys(said(side.binds, unit)[0] for side in sides)
    return f"{text} (the numbers differ along the edge)" if others else text


def _runs(sides: Sequence[RegionSide]) -> tuple[Geometry, ...]:
    """Sides as lines, those that touch joined to one."""
    lines = [shapely.LineString(side.points) for side in sides]
    ends = [shapely.boundary(line) for line in lines]
    links = [
        shapely.shortest_line(one, other)
        for one, other in combinations(ends, 2)
        if shapely.dwithin(one, other, _TOUCH)
    ]
    joined = shapely.line_merge(shapely.union_all([*lines, *links]))
    return tuple(shapely.get_parts(joined))


@dataclass(frozen=True)
class _Put:
    """Plates in the plot, and the room that they and their leaders take."""

    items: tuple[DrawnItem, ...] = ()
    leaders: tuple[DrawnItem, ...] = ()
    taken: tuple[Geometry, ...] = ()


@dataclass(frozen=True)
class _Try:
    """Spots for a plate.

    Parameters
    ----------
    spots : array of shape (n, 2)
        The best first.
    start : Point or None
        Where a leader to it starts; None if it needs none.
    clear : bool
        Whether the leader must be clear of what is taken too.
    """

    spots: FloatArray
    start: Point | None = None
    clear: bool = True


def _letters_put(plot: _Plot, bounds: Sequence[_Bound], put: _Put) -> _Put:
    """Put a letter on each run of edge, or on each edge of it that is long, in its middle.

    Where it would hide something small it goes beside it, in what does not work.
    """
    for bound in bounds:
        size = _plate(bound.letter, plot.em)
        for edge in (edge for run in bound.runs for edge in _edges(plot.drawn(run), plot.em)):
            spots = from_middle(edge, 0.3 * plot.em)
            start = _point(spots)
            seen = (_Try(spots), _Try(_outside(plot, start, size), start))
            tries = (*_off_fine(plot, seen, size), *_tries(plot, spots, start))
            put = _with_plate(plot, put, bound.letter, tries)
    return put


def _edges(run: BaseGeometry, em: float) -> Sequence[Geometry]:
    """Long straight parts of a run as it is drawn; the run itself if it has none."""
    corners = shapely.get_coordinates(run.simplify(0.1 * em))
    straights = shapely.linestrings(np.stack([corners[:-1], corners[1:]], axis=1))
    return [one for one in np.asarray(straights) if one.length >= _LONG * em] or [run]


def _off_fine(plot: _Plot, tries: Iterable[_Try], size: Point) -> Iterator[_Try]:
    """Of spots for a plate those where it hides nothing small."""
    return (replace(one, spots=_off(one.spots, size, plot.fine)) for one in tries)


def _off(spots: FloatArray, size: Point, shape: Geometry) -> FloatArray:
    """Of spots for a plate those where it is clear of a shape."""
    half = np.array(size) / 2
    boxes = shapely.box(*(spots - half).T, *(spots + half).T)
    found: FloatArray = spots[~np.asarray(shapely.intersects(boxes, shape))]
    return found


def _outside(plot: _Plot, start: Point, size: Point) -> FloatArray:
    """Spots for a plate outside of what works, for a leader from a point of its edge.

    The best has a short leader that is soon away from the edge.
    """
    em, near = plot.em, plot.whole.buffer(2 * _GAP * plot.em)
    spots = _off(rings(start, 0.6 * em), size, near)
    leaders = shapely.linestrings(np.stack([np.broadcast_to(start, spots.shape), spots], axis=1))
    # What the dot at its start hides may be crossed.
    crossed = np.asarray(shapely.length(shapely.intersection(leaders, plot.whole)) > _DOT * em)
    along = shapely.length(leaders) + shapely.length(shapely.intersection(leaders, near))
    order = np.argsort(np.round(along, 3), kind="stable")
    found: FloatArray = spots[order][~crossed[order]]
    return found


def _asked_put(plot: _Plot, put: _Put) -> _Put:
    """Say beside the mark that it is what is asked for."""
    put = _with_plate(plot, put, ASKED, _tries(plot, np.empty((0, 2)), plot.mark))
    return replace(put, items=(*put.items, Shape(_diamond(plot.mark, plot.em), Style.ASKED)))


def _numbers_put(plot: _Plot, put: _Put) -> _Put:
    """Put each number where only its hoop's region is seen, near the far corner, or beside it."""
    over: list[Geometry] = []
    for number, one in plot.hoops:
        area, words = plot.drawn(one.area), str(number)
        seen = shapely.difference(area, shapely.union_all(over))
        over.append(area)
        radius = badge_radius(words, plot.em)
        depths = (radius + _GAP * plot.em, 0.6 * radius, 0.2 * radius)
        within = [farthest_first(deep_in(seen, deep, 0.3 * plot.em), _FAR) for deep in depths]
        tries = _tries(plot, np.vstack(within), _start(plot, area, put))
        off_fine = _off_fine(plot, tries[:2], (2 * radius,) * 2)
        put = _with_plate(plot, put, words, (_Try(within[0]), *off_fine, *tries), ring=True)
    return put


def _ends(plot: _Plot) -> tuple[Geometry, ...]:
    """Where leaders to regions without a width start, for nothing to lie on."""
    lines = [plot.drawn(one.area) for _, one in plot.hoops if not shapely.area(one.area)]
    return tuple(_dot_room(_start(plot, line, _Put()), plot.em) for line in lines)


def _start(plot: _Plot, area: Geometry, put: _Put) -> Point:
    """Farthest point of a region's edge that nothing lies on, for a leader to start at."""
    edge = area if not shapely.area(area) else shapely.boundary(area)
    if shapely.length(edge):
        edge = shapely.segmentize(edge, 0.3 * plot.em)
    spots = shapely.get_coordinates(edge)
    spots = farthest_first(spots, _FAR)
    there = shapely.union_all(put.taken)
    free = spots[~shapely.dwithin(shapely.points(spots), there, _DOT * plot.em)]
    return _point(free if len(free) else spots)


def _tries(plot: _Plot, spots: FloatArray, start: Point) -> tuple[_Try, ...]:
    """Spots, and then those round a point that a leader starts at."""
    nearby = rings(start, 0.6 * plot.em)
    return _Try(spots), _Try(nearby, start), _Try(nearby, start, clear=False)


def _with_plate(
    plot: _Plot, put: _Put, words: str, tries: Sequence[_Try], *, ring: bool = False
) -> _Put:
    """Put words on a plate at the first free spot, with its leader."""
    em, leaders, taken = plot.em, put.leaders, put.taken
    size = (2 * badge_radius(words, em),) * 2 if ring else _plate(words, em)
    there = (*taken, *_ends(plot))
    for one in tries:
        dot = () if one.start is None else (_dot_room(one.start, em),)
        lead = one.start if one.clear else None
        at = first_free(one.spots, size, plot.box, (*there, *dot), lead)
        if at is not None:
            break
    else:
        return put
    if one.start is not None:
        leaders = (*leaders, Shape(straight(one.start, at), Style.LEADER))
        leaders = (*leaders, Shape(circle(one.start, _DOT * em), Style.DOT))
        taken = (*taken, shapely.LineString([one.start, at]), _dot_room(one.start, em))
    box = box_about(at, size)
    text = Text((at[0], at[1] + 0.35 * em), words, em, Anchor.MIDDLE, bold=True)
    plate = badge(at, words, em) if ring else (Shape(rectangle(box), Style.BADGE), text)
    return _Put((*put.items, *plate), leaders, (*taken, _room(box, em)))


def _dot_room(at: Point, em: float) -> Geometry:
    return shapely.Point(at).buffer(_DOT * em)


def _plate(words: str, em: float) -> Point:
    return text_width(words, em) * BOLD + 0.7 * em, 1.6 * em


def _room(box: Box, em: float) -> Geometry:
    room = box.grown(_GAP * em)
    return shapely.box(room.left, room.top, room.right, room.bottom)


def _point(spots: FloatArray) -> Point:
    x, y = spots[0]
    return float(x), float(y)


def _diamond(at: Point, em: float) -> Path:
    (x, y), reach = at, _MARK * em
    return path([(x, y - reach), (x + reach, y), (x, y + reach), (x - reach, y)], closed=True)


def _tint(number: int) -> Style:
    return _TINTS[(number - 1) % len(_TINTS)]


def _dash(number: int) -> Style:
    return _DASHES[(number - 1) % len(_DASHES)]


def _key(plot: _Plot, at: Point) -> tuple[tuple[DrawnItem, ...], float]:
    """List the mark, the whole region and each hoop with its sizes; say where the list ends."""
    em, found = plot.em, plot.found
    items: list[DrawnItem] = []
    (x, y), first = at, (SAMPLE + 0.8) * em
    for number, title, told in _entries(found, plot.unit):
        lines = (TextLine(title, bold=True), *map(TextLine, told))
        texts = paragraph(lines, (x + first, y), em, _WIDTH * em - first)
        patch = Box(x, y + 0.1 * em, x + SAMPLE * em, y + 2.3 * em)
        if number is None:
            items.append(Shape(_diamond((patch.centre[0], y + 0.7 * em), em), Style.ASKED))
        elif not number:
            items.extend(Shape(rectangle(patch), style) for style in (Style.REGION, Style.BOUND))
        else:
            if not shapely.is_empty(found.hoops[number - 1].area):
                styles = (_tint(number), _dash(number))
                items.extend(Shape(rectangle(patch), style) for style in styles)
            items.extend(badge(patch.centre, str(number), em))
        items.extend(texts)
        y = max(box_of_texts(texts).bottom, y + 2.4 * em) + 0.5 * em
    return tuple(items), y


def _entries(found: SizeRegions, unit: Unit) -> Iterator[tuple[int | None, str, tuple[str, ...]]]:
    """Number, title and words of all that the legend lists; 0 for the whole, None for the mark."""
    yield None, ASKED, (*_sizes_of(found, unit), _where(found))
    yield 0, "what works in a hoop that is large enough", _ranges(found, found.whole.area, unit)
    for number, one in enumerate(found.hoops, 1):
        yield number, _hoop(one, unit), _ranges(found, one.area, unit)


def _binding(
    bounds: Sequence[_Bound], at: Point, width: float, em: float
) -> tuple[tuple[DrawnItem, ...], float]:
    """Spell out what each letter stands for; say where the list ends."""
    (x, y), items = at, list[DrawnItem]()
    if not bounds:
        return (), y
    title = paragraph((TextLine("What binds at the edges", bold=True),), at, em, width)
    items.extend(title)
    y = box_of_texts(title).bottom + 0.5 * em
    first = (SAMPLE + 0.8) * em
    for bound in bounds:
        size = _plate(bound.letter, em)
        middle = (x + SAMPLE / 2 * em, y + 0.8 * em)
        items.append(Shape(rectangle(box_about(middle, size)), Style.BADGE))
        place = (middle[0], middle[1] + 0.35 * em)
        items.append(Text(place, bound.letter, em, Anchor.MIDDLE, bold=True))
        lines = paragraph(
            (TextLine(unbroken(bound.text)),),
            (x + first, y + 0.1 * em),
            em,
            width - first,
        )
        items.extend(lines)
        y = max((line.box.bottom for line in lines), default=y)
        y = max(y, middle[1] + size[1] / 2) + 0.5 * em
    return tuple(items), y


def _heading(found: SizeRegions, title: str) -> tuple[TextLine, ...]:
    across, upward = _name(found.first), _name(found.second)
    lines = [f"{across.capitalize()} goes to the right, {upward} upwards; all else is as asked."]
    if shapely.is_empty(found.whole.area):
        lines.append("Nothing works, in whatever hoop.")
    elif not shapely.area(found.whole.area):
        lines.append("One follows from the other: what works is a line.")
    return (TextLine(title, bold=True), *map(TextLine, lines))


def _title(found: SizeRegions, title: str) -> str:
    words = f"{_name(found.first)} and {_name(found.second)} that work"
    return f"{title}: {words}" if title else words


def _description(found: SizeRegions, unit: Unit, bounds: Sequence[_Bound]) -> str:
    """All that the picture tells, for a person who has it read out."""
    parts = [
        f"{f'{number}, ' if number else ''}{title}: {', '.join(said)}"
        for number, title, said in _entries(found, unit)
    ]
    parts += [f"Edge {bound.letter}: {bound.text}" for bound in bounds]
    return spaced(" ".join(f"{part}." for part in parts))


def _name(name: str) -> str:
    return name.replace("_", " ")


def _hoop(one: SizeRegion, unit: Unit) -> str:
    if one.room is None:
        return "any hoop"
    hoop = one.room.hoop
    field = unbroken(show_size(hoop.width, hoop.height, unit))
    return f"hoop {' or '.join(hoop.names)}, field {field}"


def _sizes_of(found: SizeRegions, unit: Unit) -> tuple[str, ...]:
    pairs = zip((found.first, found.second), found.asked, strict=True)
    return tuple(f"{_name(name)} {unbroken(show_both(mm, unit))}" for name, mm in pairs)


def _where(found: SizeRegions) -> str:
    asked = shapely.Point(found.asked)
    if not _holds(found.whole.area, asked):
        return "nothing works there"
    numbers = [str(k) for k, one in enumerate(found.hoops, 1) if _holds(one.area, asked)]
    if not numbers:
        return "outside the region of every hoop" if found.hoops else "it works"
    return f"inside {'region' if len(numbers) == 1 else 'regions'} {', '.join(numbers)}"


def _holds(area: Geometry, asked: shapely.Point) -> bool:
    return bool(shapely.dwithin(area, asked, _NEAR))


def _ranges(found: SizeRegions, area: Geometry, unit: Unit) -> tuple[str, ...]:
    if shapely.is_empty(area):
        return ("nothing works",)
    left, low, right, high = shapely.bounds(area)
    return (
        f"{_name(found.first)} {_range(left, right, unit)}",
        f"{_name(found.second)} {_range(low, high, unit)}",
    )


def _range(least: float, most: float, unit: Unit) -> str:
    """A range in both units, its ends on marks within it."""
    other = Unit.MM if unit is Unit.INCH else Unit.INCH
    return f"{_in_one(least, most, unit)} ({_in_one(least, most, other)})"


def _in_one(least: float, most: float, unit: Unit) -> str:
    mark = SHOWN_TO[unit]
    low, high = round_up(least, mark), round_down(most, mark)
    if low > high:
        return f"about{NO_BREAK}{unbroken(show(least, unit))}"
    if low == high:
        return unbroken(show(low, unit))
    return NO_BREAK.join(
        (unbroken(show(low, unit).removesuffix(f" {unit}")), "to", unbroken(show(high, unit)))
    )


def _up_to(texts: Sequence[Text], bottom: float) -> tuple[Text, ...]:
    """Move texts up or down so that they end at a height."""
    by = bottom - box_of_texts(texts).bottom
    return tuple(moved(text, 0.0, by) for text in texts)
