"""What was typed, before anything of it is understood."""

from collections.abc import Sequence

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class TypedRequest:
    """What was typed.

    Parameters
    ----------
    recipe : str
        Empty where there is one for each row of a table.
    values : sequence of str
        NAME=VALUE each.
    hoop, unit, margin, files, scale, paper, paper_margin, printed, booklet : str
        Empty where they were not given.
    may_turn : bool
    whole_pieces : bool
        Whether no template is half of a piece.
    copies : str
        A number or `most`; empty where it was not given.
    singly : bool
        No piece is one sheet over all copies.
    more_hoops : sequence of str
        Asked in turn after the first; where that is empty, as the person said once.
    usual_unit : str
        Shown first if nothing that is typed has a unit.
    title, holds : str
        What it is called, and what it is made to hold; empty where they were not given.
    cloths : sequence of str
        ROLE=COLOUR or ROLE=PICTURE each: what its fabrics look like.
    on : str
        PANEL=KIND:WHAT, several with semicolons between: what is stitched on its panels for its
        looks; empty where nothing was said.
    """

    recipe: str = ""
    values: Sequence[str] = ()
    hoop: str = ""
    unit: str = ""
    margin: str = ""
    files: str = ""
    scale: str = ""
    may_turn: bool = True
    paper: str = ""
    paper_margin: str = ""
    printed: str = ""
    whole_pieces: bool = False
    booklet: str = ""
    copies: str = ""
    singly: bool = False
    title: str = ""
    holds: str = ""
    more_hoops: Sequence[str] = ()
    usual_unit: str = ""
    cloths: Sequence[str] = ()
    on: str = ""
