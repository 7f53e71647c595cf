"""One budget for the whole work on a project: the most there may be of what takes time or memory.

Each part of it is asked for before the work is done. What is within all of it takes some two
seconds and less than half a gigabyte, however a recipe is written; a person's own project takes
a small part of it. All figures are our own choice, several times the largest project that the
recipes, sizes and hoops that come with the program can be asked for; where a figure has a ground
of its own it stands beside it.
"""

from dataclasses import dataclass

from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity

#: The code of every refusal on these grounds.
CODE = "over-budget"


@dataclass(frozen=True)
class Allowance:
    """The most of one thing that is worked out for one project.

    Parameters
    ----------
    what : str
        In the plural, as in a sentence: "stitches".
    most : int
    lessen : str
        What a person can do about it, as a sentence.
    """

    what: str
    most: int
    lessen: str

    def ask(self, amount: float, of: str, lessen: str = "", *, at_least: bool = False) -> None:
        """Ask for so much before the work is done.

        Parameters
        ----------
        amount : float
        of : str
            Where, as the end of a clause: "in its steps".
        lessen : str
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
        ...     STITCHES.ask(90_000, "in all")
        ... except CannotMakeError as refusal:
        ...     print(refusal.findings[0].message)
        there would be 90,000 stitches in all; at most 60,000 are worked out for one project
        """
        if amount <= self.most:
            return
        much = f"more than {self.most:,}" if at_least else f"{amount:,.0f}"
        message = (
            f"there would be {much} {self.what} {of}; at most {self.most:,} are worked out for one "
            "project"
        )
        raise CannotMakeError([Finding(CODE, Severity.CANNOT, message, lessen or self.lessen)])


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

#: What would fit a hoop is looked for by trying: so many stitches in all tries, and in stitches
#: what a try and a run take beside them. The largest wallet takes 190,000 for its 34 tries, a tag
#: 250,000 for its 58.
MOST_TRIED = 350_000
A_TRY, A_RUN = 2_000, 50

#: Sizes that could be made instead are looked for in a recipe of no more arithmetic, as all of it
#: is worked out for each: twice what the longest that comes with the program has.
MOST_TERMS_TRIED = 8_000

TERMS = Allowance(
    "terms of arithmetic", 60_000, "Take fewer repeats, or shorter formulas in what is repeated."
)
STEPS = Allowance("steps", 400, "Take fewer repeats, or put more in one step.")
PARTS = Allowance(
    "outlines, pieces and lines", 1_200, "Take fewer repeats, or fewer outlines, pieces and lines."
)
POINTS = Allowance(
    "points", 150_000, "Take fewer or smaller curves, and fewer outlines and lines of them."
)
POINTS_COMPARED = Allowance(
    "points that are compared",
    3_000_000,
    "Keep fewer lines within or clear of outlines, take fewer gaps, or simpler outlines.",
)
MEETINGS = Allowance(
    "places where two straight parts may cross",
    20_000,
    "Take fewer lines, pieces and outlines that cross each other, or simpler ones.",
)
CORNERS_MOVED = Allowance(
    "corners and bends", 300, "Inset or outset a simpler outline, or draw it by its points."
)
PIECES = Allowance("pieces and notions", 600, "Cut fewer, or make fewer copies at once.")
PLIES = Allowance("plies", 150, "Lay fewer pieces, or fold them fewer times.")
CREASES = Allowance("creases", 400, "Fold it fewer times.")
STRIPS = Allowance("strips of tape", 1_500, "Tape fewer pieces, or at fewer edges.")
MILLIMETRES = Allowance(
    "mm of stitched line", 100_000, "Take fewer or shorter lines, or make fewer copies at once."
)
RUNS = Allowance(
    "runs of stitches, each tied in and off",
    600,
    "Take fewer lines, lines in fewer parts, or make fewer copies at once.",
)
STITCHES = Allowance(
    "stitches",
    60_000,
    "Take longer stitches, fewer or shorter lines, or make fewer copies at once.",
)
FIELDS = Allowance(
    "fields that edges and lines part the work into",
    2_000,
    "Take fewer lines that cross each other, or fewer pieces that lie on each other.",
)
FACES = Allowance(
    "layers in all the fields that edges and lines part the work into",
    30_000,
    "Take fewer lines that cross pieces, or fewer pieces that lie on each other.",
)
