"""What a reader of a drawing can see of it."""

from paramgen.drawings.primitives.items import Drawing, Group, Shape, Style, Text, flat


def overlapping(drawing: Drawing) -> list[tuple[str, str]]:
    texts = drawing.texts
    return [
        (a.words, b.words)
        for i, a in enumerate(texts)
        for b in texts[:i]
        if a.box.grown(-1e-6).overlaps(b.box)
    ]


def clipped(drawing: Drawing) -> list[str]:
    return [text.words for text in drawing.texts if not drawing.box.holds(text.box)]


def picture(drawing: Drawing) -> list[Shape]:
    """Shapes of the picture itself, without its labels and legend."""
    (group,) = (g for g in drawing.items if isinstance(g, Group) and g.name == "picture")
    return [item for item in flat(group.items) if isinstance(item, Shape)]


def of_style(drawing: Drawing, style: Style) -> list[Shape]:
    """Shapes of a style in the picture itself."""
    return [shape for shape in picture(drawing) if shape.style is style]


def words(drawing: Drawing, *groups: str) -> str:
    """All that is written, or only what is in the groups named, on one line."""
    items = [
        item
        for item in drawing.items
        if not groups or (isinstance(item, Group) and item.name in groups)
    ]
    texts = [item.words for item in flat(items) if isinstance(item, Text)]
    return " ".join(texts).replace("\u00a0", " ")
