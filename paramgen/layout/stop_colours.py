"""Colours that tell the steps apart; they say nothing about thread."""

#: Dark and less dark by turns, so that neighbours differ in lightness as well as in hue,
#: and each nearest to another colour of the fixed chart of PES version 1, which would make
#: one step of two neighbours it cannot tell apart. An even number, so that this holds where
#: they begin again, and no fewer than any shipped recipe has stops: none has two alike.
COLOURS = (
    "#8e2f4f",
    "#3f8f5a",
    "#2b3f8c",
    "#b8702a",
    "#1f5a5e",
    "#b5559c",
    "#5c4a1e",
    "#4a86b8",
    "#5a1fa8",
    "#e03a24",
)


def colour_of(stop: int) -> str:
    """Colour of the machine's nth stop, from 1, as `#rrggbb`; never that of the next one.

    Examples
    --------
    >>> colour_of(1) == colour_of(1 + len(COLOURS))
    True
    """
    return COLOURS[(stop - 1) % len(COLOURS)]
