"""Drawings as SVG: the only place that writes it."""

import re
from collections.abc import Iterable, Iterator

import numpy as np
from svgwrite import Drawing as Page
from svgwrite.base import BaseElement
from svgwrite.container import Group as Container
from svgwrite.path import Path as PathElement
from svgwrite.pattern import Pattern
from svgwrite.text import Text as TextElement

from paramgen.drawings.looks import INK, PAPER, Look, Texture, look_of
from paramgen.drawings.primitives import Anchor, Drawing, Group, Item, Shape, Style, Text, flat
from paramgen.geometry.path import Path

# What XML 1.0 cannot hold, even escaped (section 2.2, Char).
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_NAME = re.compile(r"[^A-Za-z0-9]+")


def to_svg(drawing: Drawing) -> str:
    """Write a drawing as SVG at true size.

    Parameters
    ----------
    drawing : Drawing

    Returns
    -------
    str
        One `svg` element, to be saved as UTF-8 or put into a page as it is. Width,
        height and view box are in millimetres. The same drawing gives the same text.
    """
    return _Writer(drawing).written()


def number(value: float) -> str:
    """Write a number with three decimals, never as -0."""
    return f"{round(float(value), 3) + 0.0:.3f}"


class _Writer:
    def __init__(self, drawing: Drawing) -> None:
        self.drawing = drawing
        self.name = _safe_name(drawing.name)

    def written(self) -> str:
        drawing, box = self.drawing, self.drawing.box
        page = Page(
            size=(f"{number(box.width)}mm", f"{number(box.height)}mm"),
            viewBox=" ".join(map(number, (box.left, box.top, box.width, box.height))),
            id=self.name,
            role="img",
            aria_labelledby=f"{self.name}-title {self.name}-desc",
            font_family="sans-serif",
            fill="none",
            stroke_linecap="round",
            stroke_linejoin="round",
            debug=False,
        )
        for element in self.patterns():
            page.defs.add(element)
        _describe(page, drawing.title, drawing.description, self.name)
        page.add(_path(_corners(box.left, box.top, box.right, box.bottom), fill=PAPER))
        self.fill_in(page, drawing.items)
        return f"{page.tostring()}\n"

    def fill_in(self, container: BaseElement, items: Iterable[Item]) -> None:
        for item in items:
            if isinstance(item, Group):
                group = Container(id=f"{self.name}-{_safe_name(item.name)}", debug=False)
                if item.title:
                    group.set_desc(title=_clean(item.title))
                self.fill_in(group, item.items)
                container.add(group)
            elif isinstance(item, Text):
                container.add(_text(item))
            else:
                for element in self.shape(item):
                    container.add(element)

    def shape(self, shape: Shape) -> Iterator[BaseElement]:
        look, data, scale = (
            look_of(shape.style, now=shape.now),
            _data(shape.path),
            self.drawing.scale,
        )
        fill = (look.fill or "none") if shape.path.closed else "none"
        if look.texture and shape.path.closed:
            fill = f"url(#{self.pattern_name(shape.style, now=shape.now)})"
        if look.halo:
            yield _path(data, stroke=PAPER, stroke_width=number(look.halo * scale))
        if look.stroke:
            more = {}
            if look.dash:
                more["stroke_dasharray"] = " ".join(number(d * scale) for d in look.dash)
                more["stroke_linecap"] = "butt"
            yield _path(
                data,
                fill=fill,
                stroke=shape.colour or look.stroke,
                stroke_width=number(look.width * scale),
                **more,
            )
        else:
            yield _path(data, fill=fill)
        if look.core:
            yield _path(data, stroke=PAPER, stroke_width=number(look.core * scale))

    def patterns(self) -> Iterator[BaseElement]:
        used = {(s.style, s.now) for s in flat(self.drawing.items) if isinstance(s, Shape)}
        for style, now in sorted(used):
            look = look_of(style, now=now)
            if look.texture:
                yield _pattern(look, self.pattern_name(style, now=now), self.drawing.scale)

    def pattern_name(self, style: Style, *, now: bool) -> str:
        return f"{self.name}-{_safe_name(style)}{'-now' if now else ''}"


def _pattern(look: Look, name: str, scale: float) -> BaseElement:
    across, along, mark, ink, turn = {
        Texture.HATCH: (2.4, 2.4, "M0 {m}H{w}", 0.2, 45),
        Texture.LINES: (0.9, 0.9, "M0 {m}H{w}", 0.15, 0),
        Texture.DOTS: (1.8, 1.8, "M{m} {m}h0", 0.5, 45),
    }[look.texture or Texture.HATCH]
    width, height = number(across * scale), number(along * scale)
    element = Pattern(
        id=name,
        patternUnits="userSpaceOnUse",
        width=width,
        height=height,
        patternTransform=f"rotate({turn})",
        debug=False,
    )
    element.add(_path(_corners(0.0, 0.0, across * scale, along * scale), fill=look.fill or "none"))
    element.add(
        _path(
            mark.format(m=number(across * scale / 2), w=width),
            stroke=look.texture_ink,
            stroke_width=number(ink * scale),
        )
    )
    return element


def _describe(page: BaseElement, title: str, description: str, name: str) -> None:
    page.set_desc(title=_clean(title), desc=_clean(description))
    for element, part in zip(page.elements, ("title", "desc"), strict=False):
        element.xml.set("id", f"{name}-{part}")


def _text(text: Text) -> BaseElement:
    more = {"font_weight": "bold"} if text.bold else {}
    if text.anchor is not Anchor.START:
        more["text_anchor"] = text.anchor.value
    return TextElement(
        _clean(text.words),
        x=[number(text.at[0])],
        y=[number(text.at[1])],
        fill=INK,
        font_size=number(text.size),
        debug=False,
        **more,
    )


def _path(data: str, **attributes: str) -> BaseElement:
    return PathElement(data, debug=False, **attributes)


def _data(path: Path) -> str:
    flat_points = (np.round(path.points, 3) + 0.0).ravel().tolist()
    body = "L".join(["%.3f %.3f"] * len(path.points)) % tuple(flat_points)
    return f"M{body}Z" if path.closed else f"M{body}"


def _corners(left: float, top: float, right: float, bottom: float) -> str:
    return f"M{number(left)} {number(top)}H{number(right)}V{number(bottom)}H{number(left)}Z"


def _safe_name(name: str) -> str:
    return _NOT_NAME.sub("-", name).strip("-").lower() or "drawing"


def _clean(words: str) -> str:
    return _NOT_XML.sub("\ufffd", words)
