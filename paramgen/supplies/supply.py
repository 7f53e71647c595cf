"""Something to have."""

from typing import Literal

from paramgen.vocabulary.frozen_data import dataclass

#: Stands for the time before the first step, when pieces are cut, pressed and folded.
BEFORE = 0


@dataclass(frozen=True, kw_only=True)
class Supply:
    """Something to have.

    Parameters
    ----------
    name : str
        Of the fabric, the notion or the entry of the reference data; one for each sort.
    sort : str
    title : str
        For the person.
    amount : str
        How much, in the person's unit, or of a needle where it is used; may be empty.
    note : str
        What to ask for and what to do with it, in whole sentences; may be empty.
    step : int
        The first step that needs it, or `BEFORE`.
    quantity : int or None
        How many, where it is counted.
    length, width : float or None
        To have, mm, where it is measured; of a sheet its size down and across.
    """

    name: str
    sort: Literal[
        "fabric", "interfacing", "notion", "stabiliser", "thread", "needle", "tape", "tool"
    ]
    title: str
    amount: str = ""
    note: str = ""
    step: int = BEFORE
    quantity: int | None = None
    length: float | None = None
    width: float | None = None

    @property
    def first_needed(self) -> str:
        """When it is first needed, in words."""
        return f"step {self.step}" if self.step else "before the hooping"
