"""How a paper is printed: on what, within which margins, by a printer how far off."""

import re
from collections.abc import Iterator

from paramgen.lengths import LONGEST_TEXT, TOLERANCE, as_typed, parse_length, show, split_unit
from paramgen.reference.paper_sizes import Paper
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: Kept free for the printer all round, mm. Desktop printers leave about 1/6 in (4.2 mm) free:
#: common practice, no source. Some leave more, and the first sheet says what to do then.
MARGIN = 6.0
#: Side of the square that the person measures, mm.
SQUARE = 50.0
#: Printers that are farther off than this part are set wrongly.
MOST_OFF = 0.05
#: Least room inside the margins, mm: the test squares and as much above them.
LEAST_WIDTH, LEAST_HEIGHT = 125.0, 125.0

_TIMES = re.compile(r"\s*[x×*]\s*")


@dataclass(frozen=True)
class Printing:
    """How a paper is printed.

    Parameters
    ----------
    paper : Paper
    margin : float
        Kept free all round, mm.
    square : (across, down)
        What the square of 5 cm measured when it was printed uncorrected, mm.
    halves : bool
        Whether folded pieces may be printed as halves to lay on a fold of the fabric.
    """

    paper: Paper
    margin: float = MARGIN
    square: tuple[float, float] = (SQUARE, SQUARE)
    halves: bool = True

    @property
    def corrected(self) -> bool:
        """Whether the printer is off and the drawing makes up for it."""
        return self.square != (SQUARE, SQUARE)

    @property
    def stretch(self) -> tuple[float, float]:
        """Times across and down by which all is drawn larger than it shall come out."""
        return SQUARE / self.square[0], SQUARE / self.square[1]


def faults_of(printing: Printing, unit: Unit) -> Iterator[Fault]:
    """Faults of a margin that leaves too little of the paper."""
    paper, kept = printing.paper, 2 * printing.margin
    sizes = [("width", paper.width, LEAST_WIDTH)]
    if paper.height is not None:
        sizes.append(("height", paper.height, LEAST_HEIGHT))
    for way, size, least in sizes:
        if size - kept < least * (1 + MOST_OFF):
            most = (size - least * (1 + MOST_OFF)) / 2
            text = (
                f"{show(printing.margin, unit)} all round leaves too little of the {way} of "
                f"{paper.name}, {show(size, unit)}"
            )
            hint = (
                f"It may be at most {show(most - 0.05, unit)}."
                if most > 5
                else "Take a larger paper."
            )
            yield Fault(text, "--paper-margin" if most > 5 else "--paper", hint=hint)


def parse_printed(text: str, *, name: str = "--printed") -> tuple[float, float]:
    """Read what the square of 5 cm measured.

    Parameters
    ----------
    text : str
        One length for both ways (`49.5mm`), or across and down (`49.5x50.2mm`).
    name : str
        What every message starts with.

    Returns
    -------
    across, down : float
        mm.

    Raises
    ------
    InputError
        For what is no length, and for a length more than a twentieth off.
    """
    parts = _TIMES.split(text.strip()) if len(text) <= 2 * LONGEST_TEXT else []
    if len(parts) not in (1, 2):
        hint = "Write 49.5mm, or across and down: 49.5x50.2mm."
        raise InputError(
            [Fault(f"{as_typed(text)} is not what a square measures.", name, hint=hint)]
        )
    unit = split_unit(parts[-1])[1]
    typed = [part if split_unit(part)[1] else f"{part} {unit}".strip() for part in parts]
    ways = [name] if len(typed) == 1 else [f"{name}, across", f"{name}, down"]
    faults: list[Fault] = []
    sides: list[float] = []
    for part, way in zip(typed, ways, strict=True):
        try:
            sides.append(parse_length(part, name=way))
        except InputError as problem:
            faults.extend(problem.faults)
            continue
        if abs(sides[-1] - SQUARE) > MOST_OFF * SQUARE + TOLERANCE:
            faults.append(_too_far_off(part, sides[-1], way))
    if faults:
        raise InputError(faults)
    return sides[0], sides[-1]


def _too_far_off(part: str, side: float, way: str) -> Fault:
    least, most = SQUARE * (1 - MOST_OFF), SQUARE * (1 + MOST_OFF)
    off = abs(side / SQUARE - 1)
    text = (
        f"{as_typed(part)} for the square of 5 cm is {off:.1%} off, more than the 5 % that can be "
        f"made up for: {show(least, Unit.MM)} to {show(most, Unit.MM)}"
    )
    return Fault(text, way, hint="Print at 100 %, without fitting to the page, and measure again.")
