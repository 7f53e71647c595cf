"""What is typed of a kit beside the project, on the command line or the page."""

from collections.abc import Sequence

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class KitQuestion:
    """What was typed of a kit, besides the project.

    Parameters
    ----------
    count, selvedge, squaring, layers, stages, shrinkage, mat, seconds : str
        Empty where they were not given.
    fabrics : sequence of str
        ROLE=CLOTH each.
    people, machines : str
        Of a class.
    prices : sequence of str
        NAME=PRICE each.
    rate, currency : str
        For an hour of work; a label.
    """

    count: str = ""
    fabrics: Sequence[str] = ()
    selvedge: str = ""
    squaring: str = ""
    layers: str = ""
    stages: str = ""
    shrinkage: str = ""
    mat: str = ""
    seconds: str = ""
    people: str = ""
    machines: str = ""
    prices: Sequence[str] = ()
    rate: str = ""
    currency: str = ""
