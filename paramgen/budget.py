"""One budget for the whole work on a project: the most there may be of what takes time or memory.

Each part of it is asked for before the work is done. What is within all of it takes some two
seconds and less than half a gigabyte, however a recipe is written; a person's own project takes
a small part of it. All figures are our own choice, several times the largest project that the
recipes, sizes and hoops that come with the program can be asked for; where a figure has a ground
of its own it stands beside it.

A refusal (`over-budget`) names what, how much, the limit and what to lessen. The largest sizes of
the recipes take a quarter of any at most, and a test holds them to that.
"""

from functools import lru_cache

from paramgen.vocabulary.facts import Clause, Name, Term, facts
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass

#: The code of every refusal on these grounds.
CODE = "over-budget"


@dataclass(frozen=True)
class Allowance:
    """The most of one thing that is worked out for one project.

    Parameters
    ----------
    what : str
        A word of the file of sentences, which says as well what a person can do about it.
    most : int
    """

    what: str
    most: int

    def ask(
        self,
        amount: float,
        where: Clause,
        lessen: Clause | None = None,
        *,
        at_least: bool = False,
    ) -> None:
        """Ask for so much before the work is done.

        Parameters
        ----------
        amount : float
        where : Clause
            Where, as the end of a sentence.
        lessen : Clause or None
            What to do about it there, where more can be said.
        at_least : bool
            Whether it was not counted to the end.

        Raises
        ------
        CannotMakeError
            If it is more than there is; says what, how much, the limit and what to lessen.

        Examples
        --------
        >>> try:
        ...     STITCHES.ask(90_000, IN_ALL)
        ... except CannotMakeError as refusal:
        ...     print(refusal.findings[0].facts[0])
        ('amount', 90000)
        """
        if amount <= self.most:
            return
        known = facts(
            amount=round(amount),
            what=Term("work", self.what),
            where=where,
            most=self.most,
            lessen=lessen or Clause(f"lessen-{self.what}"),
        )
        variant = "more-than" if at_least else ""
        raise CannotMakeError([Finding(CODE, Severity.CANNOT, known, variant=variant)])


#: In the whole project.
IN_ALL = Clause("in-all")


@lru_cache(maxsize=256)
def up_to(kind: str, name: str) -> Clause:
    """Where, in what a recipe names: up to the end of one of its lines, outlines, pieces, values.

    >>> up_to("lines", "seam").key
    'up-to-lines'
    """
    return Clause(f"up-to-{kind}", facts(name=Name(kind, name, name)))


@lru_cache(maxsize=256)
def up_to_step(number: int, key: str = "up-to-step") -> Clause:
    """Where, in the order of the work: up to one of the steps.

    >>> up_to_step(3)
    Clause(key='up-to-step', facts=(('step', 3),))
    """
    return Clause(key, facts(step=number))


#: A recipe is a page or five of text, the longest that comes with the program 54 kB; each
#: formula in it takes a tenth of a millisecond to read.
MOST_BYTES = 130_000

#: A person's own list of hoops, or of things to hold: some thousand of them.
MOST_BYTES_OF_A_LIST = 100_000

#: No measure lies farther from the recipe's origin, mm: the largest field that can be typed is
#: 2 m either way, and allowances and tape reach out of it.
REACH = 2500.0

#: No piece is cut longer, mm: a strap or a binding of the longest is joined from shorter ones.
LONGEST_CUT = 5000.0

#: No notion that is never laid is longer, mm: tape or cord off a roll.
LONGEST_NOTION = 100_000.0

#: What would fit a hoop is looked for by trying: so many stitches in all tries, and in stitches
#: what a try and a run take beside them. The largest wallet takes 190,000 for its 34 tries, a tag
#: 250,000 for its 58.
MOST_TRIED = 350_000
A_TRY, A_RUN = 2_000, 50

#: Sizes that could be made instead are looked for in a recipe of no more arithmetic, as all of it
#: is worked out for each: twice what the longest that comes with the program has.
MOST_TERMS_TRIED = 8_000

TERMS = Allowance("terms", 60_000)
STEPS = Allowance("steps", 400)
PARTS = Allowance("parts", 1_200)
POINTS = Allowance("points", 150_000)
POINTS_COMPARED = Allowance("points-compared", 3_000_000)
MEETINGS = Allowance("meetings", 20_000)
CORNERS_MOVED = Allowance("corners-moved", 300)
PIECES = Allowance("pieces", 600)
PLIES = Allowance("plies", 150)
CREASES = Allowance("creases", 400)
STRIPS = Allowance("strips", 1_500)
MILLIMETRES = Allowance("millimetres", 100_000)
RUNS = Allowance("runs", 600)
STITCHES = Allowance("stitches", 60_000)
FIELDS = Allowance("fields", 2_000)
FACES = Allowance("faces", 30_000)
