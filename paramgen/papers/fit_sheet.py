"""The hoop field at full size with every line, to lay over a hoop or a fabric.

It has no filled areas, so that it can be printed on a see-through sheet; a second one is
mirrored, for the back of the hoop.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from typing import Self

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.front_end.legend import LegendEntry
from paramgen.drawings.front_end.scene import Scene
from paramgen.drawings.primitives.drawn_paths import box_of, line_within, rectangle, seen, straight
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.lengths import show_both, unbroken
from paramgen.papers.joined_sheets import JOIN_THEM, PictureTile, joins, tiled
from paramgen.papers.line_names import NamedLines, line_names
from paramgen.papers.move_and_clip import moved, within
from paramgen.papers.sheet_foot import SQUARES_ALONE, SheetFoot
from paramgen.papers.sheet_frame import JoinedTiles, SheetFrame, UnnumberedSheet
from paramgen.vocabulary.box import Box, around
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Role, Side
from paramgen.vocabulary.path import Path

_STYLES = {
    Role.PLACEMENT: Style.PLACEMENT,
    Role.TACK_DOWN: Style.STITCHED_BEFORE,
    Role.BASTING: Style.STITCHED_BEFORE,
    Role.TOP_STITCH: Style.STITCHED_BEFORE,
    Role.OVERCAST: Style.STITCHED_BEFORE,
    Role.SEAM: Style.STITCHED_NOW,
}
_CAPTIONS = {
    Style.FIELD_EDGE: "edge of the hoop field",
    Style.CENTRE_MARK: "its middle lines",
    Style.PLACEMENT: "placement line",
    Style.STITCHED_BEFORE: "tack-down and the like",
    Style.STITCHED_NOW: "seam",
    Style.GAP: "turning gap, left open",
    Style.BY_HAND: "done by hand",
    Style.JOIN_LINE: "join papers here",
}
_LEGEND = tuple(LegendEntry(style=style, caption=words) for style, words in _CAPTIONS.items())
_MARK = 8.0


def fit_leaves(scene: Scene, frame: SheetFrame) -> tuple[UnnumberedSheet, ...]:
    """Draw the field with all lines as seen from the front, and from the back.

    The first sheet has the test squares: alone where that takes no more sheets than to spread the
    field over several beside them.
    """
    ways = [
        _Way.of(scene, Side.FRONT, frame, foot, SheetFoot.SCALE if alone else foot)
        for foot, alone in (
            (SheetFoot.SQUARES, False),
            (SheetFoot.COLUMN, False),
            (SheetFoot.SQUARES, True),
        )
    ]
    front = min((way for way in ways if way.suits), key=lambda way: (way.sheets, way.joined))
    back = _Way.of(scene, Side.BACK, frame, SheetFoot.SCALE, SheetFoot.SCALE)
    return (*front.leaves(), *back.leaves())


@dataclass(frozen=True, kw_only=True)
class _Way:
    """One way of laying a side on sheets: what it takes is known before anything is drawn."""

    scene: Scene
    side: Side
    frame: SheetFrame
    first: SheetFoot
    others: SheetFoot
    shapes: tuple[Shape, ...]
    view: Box
    room: Box
    tiles: tuple[PictureTile, ...]

    @classmethod
    def of(
        cls, scene: Scene, side: Side, frame: SheetFrame, first: SheetFoot, others: SheetFoot
    ) -> Self:
        shapes = tuple(_lines(scene, side))
        view = around([scene.field, box_of([shape.path for shape in shapes])])
        drawn = shapely.union_all([shape.path.line for shape in shapes])
        room, tiles = _spread(scene, side, frame, view, drawn, others)
        return cls(
            scene=scene,
            side=side,
            frame=frame,
            first=first,
            others=others,
            shapes=shapes,
            view=view,
            room=room,
            tiles=tiles,
        )

    @property
    def suits(self) -> bool:
        """Whether its foot has room for a map, where there is one."""
        return self.others is not SheetFoot.COLUMN or len(self.tiles) == 1

    @property
    def sheets(self) -> int:
        return len(self.tiles) + (self.first is not self.others)

    @property
    def joined(self) -> int:
        """How many of them are joined."""
        return len(self.tiles) if len(self.tiles) > 1 else 0

    def leaves(self) -> Iterator[UnnumberedSheet]:
        """Its sheets, the first with its own foot."""
        first = self.first
        if first is not self.others:
            yield _squares_alone(self.frame)
            first = self.others
        tiles, room = self.tiles, self.room
        edge = tuple(shape for shape in self.shapes if shape.style is Style.FIELD_EDGE)
        for place, tile in enumerate(tiles):
            sheet = f", sheet {tile.name} of A1 to {tiles[-1].name}" if self.joined else ""
            x, y = tile.shift(room)
            picture = (
                *within(self.shapes, tile.window),
                *(joins(tile, tiles) if self.joined else ()),
                *_names(self.scene, self.side, tile),
            )
            used = {item.style for item in picture if isinstance(item, Shape)}
            heading = _heading(self.scene, self.side, sheet)
            yield UnnumberedSheet(
                heading=heading,
                picture=moved(picture, x, y),
                bottom=tile.window.bottom + y + tile.strip[1],
                legend=tuple(_legend(self.scene, used)),
                says=" ".join(line.text for line in heading),
                joined=JoinedTiles(self.view, edge, tiles, tile) if self.joined else None,
                foot=SheetFoot.SCALE if place else first,
            )


def _legend(scene: Scene, used: Collection[Style]) -> Iterator[LegendEntry]:
    """What is drawn on a sheet."""
    for entry in _LEGEND:
        if entry.style in used:
            yield replace(entry, caption=scene.gap_called) if entry.style is Style.GAP else entry


def _squares_alone(frame: SheetFrame) -> UnnumberedSheet:
    heading = (TextLine("Fit sheet", bold=True), SQUARES_ALONE)
    bottom = frame.below(heading).top
    return UnnumberedSheet(
        heading=heading,
        picture=(),
        bottom=bottom,
        legend=(),
        says=SQUARES_ALONE.text,
        foot=SheetFoot.SQUARES,
    )


def _spread(
    scene: Scene, side: Side, frame: SheetFrame, view: Box, drawn: BaseGeometry, foot: SheetFoot
) -> tuple[Box, tuple[PictureTile, ...]]:
    """Room for the picture on one sheet with such a foot, or on several."""
    room = frame.room(_heading(scene, side, ""), foot, _LEGEND)
    tiles = tiled(view, room.width, room.height, drawn)
    if len(tiles) == 1:
        return room, tiles
    heading = _heading(scene, side, ", sheet AA88 of A1 to AA88")
    room = frame.room(heading, foot, _LEGEND, map_too=True)
    return room, tiled(view, room.width, room.height, drawn)


def _heading(scene: Scene, side: Side, sheet: str) -> tuple[TextLine, ...]:
    name = "Fit sheet" if side is Side.FRONT else "Fit sheet for the back, mirrored"
    way = "front" if side is Side.FRONT else "back: left and right change places"
    words = [
        TextLine(f"{name}{sheet}", bold=True),
        TextLine(f"{scene.hoop_caption}. Seen from the {way}; the top is away from you."),
    ]
    if sheet:
        words.append(TextLine(JOIN_THEM))
    return tuple(words)


def _lines(scene: Scene, side: Side) -> Iterator[Shape]:
    # First what is done by hand, that its long dashes hide no stitched line which they lie on.
    for step in scene.project.steps:
        yield from (Shape(seen(path, side), Style.BY_HAND) for path in step.mark)
    for step in scene.project.steps:
        for line in step.lines:
            for path in line.paths:
                yield Shape(seen(path, side), _STYLES[line.role])
    yield from (Shape(seen(gap, side), Style.GAP) for gap in scene.every_gap)
    # Last, so that no line beside it hides it.
    yield Shape(rectangle(scene.field), Style.FIELD_EDGE)
    yield from _middle_lines(scene.field)


def _names(scene: Scene, side: Side, tile: PictureTile) -> Iterator[DrawnItem]:
    """Say of each line on a sheet what it is, with the stop that it is sewn at."""
    found: dict[str, list[Path]] = {}
    for step in scene.project.steps:
        for line in step.lines:
            name = f"{line.title.partition(',')[0]}, stop {step.stop}"
            found.setdefault(name, []).extend(line.paths)
        if step.mark:
            found.setdefault(f"step {step.number}: {step.title}", []).extend(step.mark)
    for gap in scene.every_gap:
        length = unbroken(show_both(gap.length, scene.project.unit))
        found.setdefault(f"{scene.gap_called}: {length}", []).append(gap)
    lines = tuple(
        NamedLines(name, tuple(_cut(paths, side, tile.trim))) for name, paths in found.items()
    )
    yield from line_names(lines, _edges(scene.field, tile.trim), tile.trim)


def _cut(paths: Sequence[Path], side: Side, room: Box) -> Iterator[Path]:
    inside = shapely.box(room.left, room.top, room.right, room.bottom)
    for path in paths:
        yield from line_within(seen(path, side), inside)


def _edges(field: Box, room: Box) -> tuple[Path, ...]:
    """What else is drawn on a sheet."""
    drawn = (rectangle(field), *(mark.path for mark in _middle_lines(field)))
    return tuple(part for path in drawn for part in _cut((path,), Side.FRONT, room))


def _middle_lines(field: Box) -> Iterator[Shape]:
    """Mark the middle of every edge of the field, and of the field."""
    x, y = field.centre
    for start, end in (
        ((x, field.top), (x, field.top + _MARK)),
        ((x, field.bottom - _MARK), (x, field.bottom)),
        ((field.left, y), (field.left + _MARK, y)),
        ((field.right - _MARK, y), (field.right, y)),
        ((x - _MARK / 2, y), (x + _MARK / 2, y)),
        ((x, y - _MARK / 2), (x, y + _MARK / 2)),
    ):
        yield Shape(straight(start, end), Style.CENTRE_MARK)
