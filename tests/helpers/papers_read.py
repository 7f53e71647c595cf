"""What another library finds in a printed paper, in millimetres."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import pymupdf
import shapely
from shapely.geometry.base import BaseGeometry

MM = 25.4 / 72  # a point of PDF is 1/72 in, ISO 32000

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Stroke:
    """A path as it stands on the page."""

    points: tuple[tuple[float, float], ...]
    width: float
    colour: tuple[float, ...] | None
    fill: tuple[float, ...] | None
    dashed: bool

    @property
    def line(self) -> shapely.LineString:
        return shapely.LineString(self.points)

    @property
    def size(self) -> tuple[float, float]:
        left, top, right, bottom = self.line.bounds
        return right - left, bottom - top


@dataclass(frozen=True)
class Sheet:
    """A page: its size, its strokes, and its lines of text with their boxes."""

    width: float
    height: float
    strokes: tuple[Stroke, ...]
    texts: tuple[tuple[str, Box], ...]

    @property
    def words(self) -> str:
        return " ".join(text for text, _ in self.texts).replace("\u00a0", " ")

    def sized(self, width: float, height: float, within: float = 0.05) -> list[Stroke]:
        """Strokes whose box has this size."""
        return [one for one in self.strokes if np.allclose(one.size, (width, height), atol=within)]


def opened(pdf: bytes) -> Any:
    """Document of the other library, which has no types."""
    untyped: Any = pymupdf
    return untyped.open(stream=pdf, filetype="pdf")


def read(pdf: bytes) -> list[Sheet]:
    with opened(pdf) as document:
        return [_sheet(page) for page in document]


def _sheet(page: Any) -> Sheet:
    strokes = tuple(
        stroke
        for drawing in page.get_drawings()
        for stroke in _strokes(drawing)
        if not _is_of_a_pattern(stroke)
    )
    lines = [
        line
        for block in page.get_text("dict")["blocks"]
        for line in block.get("lines", ())
        if any(span["text"].strip() for span in line["spans"])
    ]
    texts = tuple(
        ("".join(span["text"] for span in line["spans"]), tuple(v * MM for v in line["bbox"]))
        for line in lines
    )
    return Sheet(page.rect.width * MM, page.rect.height * MM, strokes, texts)


#: The cell that a swatch is filled with is 4.6 mm wide. This library tells what is in it as if it
#: stood in the corner of the page; no paper has anything else there.
_CELL = 4.7


def _is_of_a_pattern(stroke: Stroke) -> bool:
    return all(-0.5 <= x <= _CELL and -0.5 <= y <= _CELL for x, y in stroke.points)


def _strokes(drawing: Any) -> Iterator[Stroke]:
    points: list[tuple[float, float]] = []
    found = []
    for item in drawing["items"]:
        if item[0] == "re":
            box = item[1]
            found.append([(box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)])
            found[-1].append(found[-1][0])
            continue
        if item[0] == "qu":
            quad = item[1]
            found.append([(p.x, p.y) for p in (quad.ul, quad.ur, quad.lr, quad.ll, quad.ul)])
            continue
        start, end = (item[1].x, item[1].y), (item[-1].x, item[-1].y)
        if not points or np.hypot(start[0] - points[-1][0], start[1] - points[-1][1]) > 1e-3:
            points = [start]
            found.append(points)
        points.append(end)
    for part in found:
        if drawing.get("closePath") and part[0] != part[-1]:
            part.append(part[0])
        yield Stroke(
            tuple((x * MM, y * MM) for x, y in part),
            (drawing["width"] or 0.0) * MM,
            drawing["color"],
            drawing["fill"],
            drawing["dashes"] not in (None, "", "[] 0"),
        )


def is_at(stroke: Stroke, outline: BaseGeometry) -> bool:
    """Whether a stroke is an outline, wherever it stands on the page, within 0.05 mm."""
    left, top, right, bottom = stroke.line.bounds
    x0, y0, x1, y1 = outline.bounds
    shift = np.array([x0 + x1 - left - right, y0 + y1 - top - bottom]) / 2
    moved = shapely.transform(stroke.line, lambda points: points + shift)
    return bool(moved.hausdorff_distance(outline) <= 0.05)


def segments(stroke: Stroke) -> Iterator[shapely.LineString]:
    for start, end in pairwise(stroke.points):
        yield shapely.LineString([start, end])


def outside(sheet: Sheet) -> list[str]:
    """Texts that reach out of the page."""
    page = shapely.box(0, 0, sheet.width, sheet.height)
    return [text for text, box in sheet.texts if not page.covers(shapely.box(*box))]


def over_each_other(sheet: Sheet) -> list[tuple[str, str]]:
    boxes = [(text, shapely.box(*box).buffer(-0.02)) for text, box in sheet.texts]
    return [
        (a, b)
        for i, (a, one) in enumerate(boxes)
        for b, other in boxes[:i]
        if one.intersects(other)
    ]
