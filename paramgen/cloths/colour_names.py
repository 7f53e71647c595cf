"""Colours by their names, as the CSS Color Module of the W3C has them."""

from PIL import ImageColor


def colour_names() -> dict[str, str]:
    """Their codes, `#rrggbb`, by their names.

    >>> colour_names()["teal"]  # CSS Color Module Level 4, section 6.1
    '#008080'
    """
    known = {name: ImageColor.getrgb(name) for name in list(ImageColor.colormap)}
    return {name: "#" + bytes(parts[:3]).hex() for name, parts in known.items()}
