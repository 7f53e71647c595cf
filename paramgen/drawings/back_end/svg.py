"""Drawings as SVG: the only place that writes it."""

import re
from base64 import b64encode
from collections.abc import Iterable, Iterator
from html import escape
from xml.etree.ElementTree import tostring

from svgwrite import Drawing as Page
from svgwrite.base import BaseElement
from svgwrite.image import Image
from svgwrite.path import Path as PathElement
from svgwrite.pattern import Pattern

from paramgen.drawings.back_end.looks import INK, PAPER, Look, Texture, WeaveMark, look_of
from paramgen.drawings.primitives.drawn_paths import rectangle
from paramgen.drawings.primitives.items import Anchor, Drawing, DrawnItem, Group, Shape, Text
from paramgen.vocabulary.cloth import ClothPicture
from paramgen.vocabulary.path import Path

# What XML 1.0 cannot hold, even escaped (section 2.2, Char).
_NOT_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
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
    for pattern in (*_patterns(drawing, name), *_prints(drawing, name)):
        page.defs.add(pattern)
    _describe(page, drawing.title, drawing.description, name)
    if ground:
        page.add(_path(_data(rectangle(box)), fill=PAPER))
    framed = tostring(page.get_xml(), encoding="unicode").removesuffix(_END)
    # On a dark cloth no line would be seen without a band of paper under it.
    band = _ON_A_CLOTH if any(one.tone and one.tone.cloth for one in drawing.shapes) else 0.0
    return "".join([framed, *_written(drawing.items, name, drawing.scale, band), _END, "\n"])


def number(value: float) -> str:
    """Write a number with three decimals, never as -0."""
    text = f"{value:.3f}"
    return "0.000" if text == "-0.000" else text


# Shared by every element, so that none checks itself against the whole of SVG.
_UNCHECKED = BaseElement(debug=False)

_END = "</svg>"

# Round a closed line go as many dashes or more.
_LEAST_DASHES = 8

# How much wider than a line the band under it is in a picture with a person's own fabrics, mm.
_ON_A_CLOTH = 0.5


# What a picture is full of is written out here: the objects that the library makes of each
# line and text take longer than all the rest of a picture.
def _written(items: Iterable[DrawnItem], name: str, scale: float, band: float) -> Iterator[str]:
    for item in items:
        if isinstance(item, Group):
            yield f'<g id="{name}-{_safe_name(item.name)}"'
            inside = list(_written(item.items, name, scale, band))
            title = f"<title>{_escaped(_clean(item.title))}</title>" if item.title else ""
            yield "".join([">", title, *inside, "</g>"]) if title or inside else " />"
        elif isinstance(item, Text):
            yield _text(item)
        else:
            yield from _shape(item, name, scale, band)


def _shape(shape: Shape, name: str, scale: float, band: float) -> Iterator[str]:
    """Write a shape as its halo, its ground, its print, itself and its core, from below up."""
    look, data = look_of(shape.style, now=shape.now, tone=shape.tone), _data(shape.path)
    halo = look.halo
    if band and look.stroke and not (look.fill and shape.path.closed):
        halo = max(halo, look.width + band)
    if halo:
        yield _line(data, PAPER, halo * scale)
    if look.texture and look.fill and shape.path.closed:
        # Not in the pattern itself: where it is printed its tiles would not quite meet.
        yield f'<path d="{data}" fill="{look.fill}" />'
    if look.cloth and shape.print_at:
        ground = f'<path d="{data}" fill="{PAPER}" />' if look.strength < 1.0 else ""
        fade = f' fill-opacity="{number(look.strength)}"' if look.strength < 1.0 else ""
        yield f'{ground}<path d="{data}" fill="url(#{_print_name(shape, name)})"{fade} />'
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
    tone += "-before" if shape.tone and shape.tone.faded else ""
    return f"{name}-{_safe_name(shape.style)}{tone}{'-now' if shape.now else ''}"


def _prints(drawing: Drawing, name: str) -> Iterator[BaseElement]:
    """Write each print that the drawing shows, once, and how it lies, once for each way.

    One repeat is a tile as large as on the fabric itself.
    """
    pictures: dict[str, ClothPicture] = {}
    ways: dict[str, tuple[str, str]] = {}
    for shape in drawing.shapes:
        picture = look_of(shape.style, now=shape.now, tone=shape.tone).cloth
        if picture and shape.print_at:
            whole = _whole_print(shape, name)
            pictures[whole] = picture
            ways[_print_name(shape, name)] = whole, _lies(shape.print_at)
    for whole, picture in sorted(pictures.items(), key=lambda pair: pair[0]):
        yield _repeat(picture, whole)
    for way, (whole, lies) in sorted(ways.items(), key=lambda pair: pair[0]):
        yield Pattern(href=f"#{whole}", id=way, patternTransform=lies, factory=_UNCHECKED)


def _whole_print(shape: Shape, name: str) -> str:
    return f"{name}-cloth-{shape.tone.place}" if shape.tone else name


def _print_name(shape: Shape, name: str) -> str:
    lies = "_".join(_parts(shape.print_at)).replace("-", "m") if shape.print_at else ""
    return f"{_whole_print(shape, name)}-at-{lies}"


def _lies(at: Path) -> str:
    """How a print is turned, mirrored and moved, from three points of it 1 mm apart."""
    return f"matrix({' '.join(_parts(at))})"


def _parts(at: Path) -> Iterator[str]:
    (x, y), right, down = at.points.tolist()
    return map(number, (right[0] - x, right[1] - y, down[0] - x, down[1] - y, x, y))


def _repeat(picture: ClothPicture, name: str) -> BaseElement:
    size = {"width": number(picture.width), "height": number(picture.height)}
    element = Pattern(id=name, patternUnits="userSpaceOnUse", factory=_UNCHECKED, **size)
    data = f"data:{picture.mime};base64,{b64encode(picture.data).decode()}"
    element.add(Image(data, factory=_UNCHECKED, preserveAspectRatio="none", **size))
    return element


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
_MARK_WIDTH, _MARK_HALO = 0.2, 0.3


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
    if look.texture_halo:
        for data, wide in drawn:
            thick = number((wide * look.bold + _MARK_HALO) * scale)
            element.add(_path(data, stroke=look.texture_halo, stroke_width=thick))
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
