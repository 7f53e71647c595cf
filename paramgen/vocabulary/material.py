"""A material that things are sewn from."""

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class Material:
    """A material as it is sold.

    Parameters
    ----------
    name, title : str
        For recipes and for the person.
    sort : str
        `fabric`, `interfacing`, `batting` or `trim`.
    ply : (float, float)
        Least and most thickness of one layer, pressed and under stitches, mm: an estimate.
    ask_for : str
        What to say when buying it.
    wash : bool
        Whether it is washed before it is cut.
    source : str
        Where the thickness is from.
    needle, point : str
        The finest needle that goes through it, `90/14`, and the point that it takes; empty where
        any does.
    """

    name: str
    title: str
    sort: str
    ply: tuple[float, float]
    ask_for: str
    wash: bool
    source: str
    needle: str = ""
    point: str = ""

    @property
    def faceless(self) -> bool:
        """Whether neither face is a right side, nor is it ever seen: batting and the like."""
        return self.sort in ("batting", "interfacing", "stabiliser")
