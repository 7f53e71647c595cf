"""Colours by their names, as the CSS Color Module of the W3C has them."""

from PIL import ImageColor


def colour_names() -> dict[str, str]:
    """Their codes, `#rrggbb`, by their names.

    >>> colour_names()["teal"]  # CSS Color Module Level 4, section 6.1
    '#008080'
    """
    return {name: code for name, code in ImageColor.colormap.items() if isinstance(code, str)}
