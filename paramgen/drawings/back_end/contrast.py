"""Whether a colour can be told from what it lies on."""

from functools import lru_cache

# Least ratios of WCAG 2.2, success criteria 1.4.3 (text) and 1.4.11 (graphics).
TEXT_CONTRAST = 4.5
GRAPHICS_CONTRAST = 3.0


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb` as WCAG 2.2 defines it, from 0 to 1."""
    parts = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    linear = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return sum(part * weight for part, weight in zip(linear, (0.2126, 0.7152, 0.0722), strict=True))


def contrast(a: str, b: str) -> float:
    """Contrast ratio of two colours as WCAG 2.2 defines it, from 1 to 21."""
    dark, light = sorted((luminance(a), luminance(b)))
    return (light + 0.05) / (dark + 0.05)


def faded(colour: str, share: float) -> str:
    """A colour of which so much is left, the rest being white.

    >>> faded("#204060", 0.25)
    '#c7cfd7'
    """
    parts = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return "#" + "".join(f"{round(255 + (part - 255) * share):02x}" for part in parts)


# Few colours are asked about, each for every line drawn in it.
@lru_cache(maxsize=256)
def darkened(colour: str, background: str, ratio: float) -> str:
    """Darken a colour, keeping its hue, until it stands out from a light background.

    Parameters
    ----------
    colour, background : str
        `#rrggbb`.
    ratio : float
        Contrast to reach; black must reach it.

    Returns
    -------
    str
        The colour itself if it stands out already.
    """
    parts = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    for share in range(100, -1, -1):
        darker = "#" + "".join(f"{part * share // 100:02x}" for part in parts)
        if luminance(darker) <= luminance(background) and contrast(darker, background) >= ratio:
            return darker
    return "#000000"
