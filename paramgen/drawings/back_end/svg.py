"""Drawings as SVG: the only place that writes it."""

import re
from collections.abc import Iterable, Iterator
from html import escape
from xml.etree.ElementTree import tostring

from svgwrite import Drawing as Page
from svgwrite.base import BaseElement
from svgwrite.path import Path as PathElement
from svgwrite.pattern import Pattern

from paramgen.drawings.back_end.looks import INK, PAPER, Look, Texture, WeaveMark, look_of
from paramgen.drawings.primitives.drawn_paths import rectangle
from paramgen.drawings.primitives.items import Anchor, Drawing, DrawnItem, Group, Shape, Text
from paramgen.vocabulary.path import Path

# What XML 1.0 cannot hold, even escaped (section 2.2, Char).
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_NAME = re.compile(r"[^A-Za-z0-9]+")


def to_svg(drawing: Drawing, *, ground: bool = True) -> str:
    """Write a drawing as SVG at true size.

    Parameters
    ----------
    drawing : Drawing
    ground : bool
        Whether paper lies under it.

    Returns
    -------
    str
        One `svg` element, to be saved as UTF-8 or put into a page as it is. Width,
        height and view box are in millimetres. The same drawing gives the same text.
    """
    name, box = _safe_name(drawing.name), drawing.box
    page = Page(
        size=(f"{number(box.width)}mm", f"{number(box.height)}mm"),
        viewBox=" ".join(map(number, (box.left, box.top, box.width, box.height))),
        id=name,
        role="img",
        aria_labelledby=f"{name}-title {name}-desc",
        font_family="sans-serif",
        fill="none",
        stroke_linecap="round",
        stroke_linejoin="round",
        factory=_UNCHECKED,
    )
    for pattern in _patterns(drawing, name):
        page.defs.add(pattern)
    _describe(page, drawing.title, drawing.description, name)
    if ground:
        page.add(_path(_data(rectangle(box)), fill=PAPER))
    framed = tostring(page.get_xml(), encoding="unicode").removesuffix(_END)
    return "".join([framed, *_written(drawing.items, name, drawing.scale), _END, "\n"])


def number(value: float) -> str:
    """Write a number with three decimals, never as -0."""
    text = f"{value:.3f}"
    return "0.000" if text == "-0.000" else text


# Shared by every element, so that none checks itself against the whole of SVG.
_UNCHECKED = BaseElement(debug=False)

_END = "</svg>"

# Round a closed line go as many dashes or more.
_LEAST_DASHES = 8


# What a picture is full of is written out here: the objects that the library makes of each
# line and text take longer than all the rest of a picture.
def _written(items: Iterable[DrawnItem], name: str, scale: float) -> Iterator[str]:
    for item in items:
        if isinstance(item, Group):
            yield f'<g id="{name}-{_safe_name(item.name)}"'
            inside = list(_written(item.items, name, scale))
            title = f"<title>{_escaped(_clean(item.title))}</title>" if item.title else ""
            yield "".join([">", title, *inside, "</g>"]) if title or inside else " />"
        elif isinstance(item, Text):
            yield _text(item)
        else:
            yield from _shape(item, name, scale)


def _shape(shape: Shape, name: str, scale: float) -> Iterator[str]:
    """Write a shape as its halo, its ground, itself and its core, from below to the top."""
    look, data = look_of(shape.style, now=shape.now, tone=shape.tone), _data(shape.path)
    if look.halo:
        yield _line(data, PAPER, look.halo * scale)
    if look.texture and look.fill and shape.path.closed:
        # Not in the pattern itself: where it is printed its tiles would not quite meet.
        yield f'<path d="{data}" fill="{look.fill}" />'
    parts = [f'<path d="{data}"']  # attributes follow in the order of their names
    if look.texture and shape.path.closed:
        parts.append(f' fill="url(#{_pattern_name(shape, name)})"')
    elif look.fill and shape.path.closed:
        parts.append(f' fill="{look.fill}"')
    if look.stroke:
        parts.append(f' stroke="{shape.colour or look.stroke}"')
    if look.dash:
        # Round what is small dashes are shortened, or a strip of tape would be but its corners.
        fit = shape.path.length / (_LEAST_DASHES * sum(look.dash)) if shape.path.closed else scale
        lengths = " ".join(number(length * min(scale, fit)) for length in look.dash)
        parts.append(f' stroke-dasharray="{lengths}" stroke-linecap="butt"')
    if look.stroke:
        parts.append(f' stroke-width="{number(look.width * scale)}"')
    yield "".join([*parts, " />"])
    if look.core:
        yield _line(data, PAPER, look.core * scale)


def _line(data: str, colour: str, width: float) -> str:
    return f'<path d="{data}" stroke="{colour}" stroke-width="{number(width)}" />'


def _patterns(drawing: Drawing, name: str) -> Iterator[BaseElement]:
    """Write the pattern of each textured look that the drawing uses, once."""
    textured = {
        _pattern_name(shape, name): look
        for shape in drawing.shapes
        if (look := look_of(shape.style, now=shape.now, tone=shape.tone)).texture
    }
    for pattern_name, look in sorted(textured.items(), key=lambda pair: pair[0]):
        yield _pattern(look, pattern_name, drawing.scale)


def _pattern_name(shape: Shape, name: str) -> str:
    tone = f"-{shape.tone.place}" if shape.tone else ""
    return f"{name}-{_safe_name(shape.style)}{tone}{'-now' if shape.now else ''}"


# Of each texture: side of its tile, width of its lines, the lines, and how it is turned.
_TEXTURES = {
    Texture.HATCH: (2.4, 0.2, "M0 {middle}H{side}", "rotate(45)"),
    Texture.LINES: (0.9, 0.15, "M0 {middle}H{side}", "rotate(0)"),
    Texture.GLEAM: (6.0, 0.2, "M0 {middle}H{side}", "rotate(-60)"),
    Texture.CROSS: (1.6, 0.12, "M0 {middle}H{side}M{middle} 0V{side}", "rotate(45)"),
    Texture.DOTS: (1.8, 0.5, "M{middle} {middle}h0", "rotate(45)"),
    Texture.STREWN: (4.6, 0.2, "", "rotate(0)"),
}

# Strewn with marks, a tile is so many times as large, its own lines in its first quarter and
# the marks clear of them: where, for the side of the tile.
_LARGER, _FIRST = 1.5, 0.22
_MARKS = {Texture.STREWN: ((0.25, 0.25), (0.75, 0.75))}
_MARK = ((0.65, 0.65),)
_MARK_WIDTH = 0.2


def _pattern(look: Look, name: str, scale: float) -> BaseElement:
    texture = look.texture or Texture.HATCH
    side, width, lines, turned = _TEXTURES[texture]
    own = 0.5
    if look.strewn and lines:
        side, own = side * _LARGER, _FIRST
    across = number(side * scale)
    element = Pattern(
        id=name,
        patternUnits="userSpaceOnUse",
        width=across,
        height=across,
        patternTransform=turned,
        factory=_UNCHECKED,
    )
    drawn = [(lines.format(middle=number(own * side * scale), side=across), width)] if lines else []
    if look.strewn:
        places = _MARKS.get(texture, _MARK)
        drawn.append(("".join(_strewn(look.strewn, places, side, scale)), _MARK_WIDTH))
    for data, wide in drawn:
        thick = number(wide * look.bold * scale)
        element.add(_path(data, stroke=look.texture_ink, stroke_width=thick))
    return element


def _strewn(
    mark: WeaveMark, places: Iterable[tuple[float, float]], side: float, scale: float
) -> Iterator[str]:
    """Write a mark at some places of a tile."""
    for across, down in places:
        for line in mark:
            points = ((across * side + x, down * side + y) for x, y in line)
            yield "M" + "L".join(f"{number(x * scale)} {number(y * scale)}" for x, y in points)


def _describe(page: BaseElement, title: str, description: str, name: str) -> None:
    page.set_desc(title=_clean(title), desc=_clean(description))
    for element, part in zip(page.elements, ("title", "desc"), strict=False):
        element.xml.set("id", f"{name}-{part}")


def _text(text: Text) -> str:
    size = number(text.size)
    bold = ' font-weight="bold"' if text.bold else ""
    anchor = f' text-anchor="{text.anchor.value}"' if text.anchor is not Anchor.START else ""
    x, y = (number(one) for one in text.at)
    words = _escaped(_clean(text.words))
    return f'<text fill="{INK}" font-size="{size}"{bold}{anchor} x="{x}" y="{y}">{words}</text>'


def _escaped(words: str) -> str:
    return escape(words, quote=False)


def _path(data: str, **attributes: str) -> BaseElement:
    return PathElement(data, factory=_UNCHECKED, **attributes)


def _data(path: Path) -> str:
    body = "L".join(["%.3f %.3f"] * len(path.points)) % tuple(path.points.ravel().tolist())
    body = body.replace("-0.000", "0.000")
    return f"M{body}Z" if path.closed else f"M{body}"


def _safe_name(name: str) -> str:
    return _NOT_NAME.sub("-", name).strip("-").lower() or "drawing"


def _clean(words: str) -> str:
    return _NOT_XML.sub("\ufffd", words)
