"""Sizes as people type them: two lengths with a sign between them, or three."""

import re

from paramgen.lengths import (
    INCH,
    LONGEST_TEXT,
    TOLERANCE,
    as_typed,
    is_inch,
    parse_length,
    split_unit,
)
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: The signs that part lengths.
TIMES = re.compile(r" ?[x×*✕✖] ?")
_NUMBER = re.compile(r"[-+ .,/0-9e]*[0-9][.,]?")
_WAYS = ("width", "height", "thickness")


@dataclass(frozen=True)
class TypedSize:
    """Lengths as typed.

    Parameters
    ----------
    lengths : tuple of float
        Width, height and, where there is a third, thickness, mm.
    unit : Unit
        The unit they are in; millimetres where they are not all inches.
    bare : bool
        Whether the unit was left out.
    """

    lengths: tuple[float, ...]
    unit: Unit
    bare: bool

    @property
    def width(self) -> float:
        """The first length, mm."""
        return self.lengths[0]

    @property
    def height(self) -> float:
        """The second length, mm."""
        return self.lengths[1]

    @property
    def name(self) -> str:
        """The size in its unit: `140x200` or `5.5x8in`."""
        scale, unit = (INCH, "in") if self.unit is Unit.INCH else (1.0, "")
        numbers = (f"{mm / scale:.4f}".rstrip("0").rstrip(".") for mm in self.lengths)
        return f"{'x'.join(numbers)}{unit}"

    def same(self, width: float, height: float) -> bool:
        """Whether it has this width and height, mm."""
        return abs(self.width - width) <= TOLERANCE and abs(self.height - height) <= TOLERANCE


def read_size(text: str, what: str, *, most: int = 2) -> TypedSize | None:
    """Read lengths with signs between them: `140x200`, `5 1/2 × 8 in`, `12mm x 3 cm`.

    Parameters
    ----------
    text : str
        The unit stands after the last number, or after each; a number without one has that
        of the last. Without any it is millimetres.
    what : str
        What has the size; every message starts with it.
    most : int
        2, or 3 where a thickness may follow.

    Returns
    -------
    TypedSize or None
        None if the text does not look like a size.

    Raises
    ------
    InputError
        With every fault in it: lengths as `parse_length` refuses them; a unit that is left
        out after the last number only.
    """
    parts = parts_of(text)
    if not 2 <= len(parts) <= most or not all(_NUMBER.fullmatch(number) for number, _ in parts):
        return None
    last = parts[-1][1]
    first = next((unit for _, unit in parts if unit), "")
    if first and not last:
        whole = " x ".join(f"{number} {unit or first}" for number, unit in parts)
        message = f"{as_typed(text)} has no unit after its {_WAYS[len(parts) - 1]}."
        raise InputError([Fault(message, what, hint=f"If it is the same unit, write {whole}.")])
    # A fraction says inches; whoever asks decides whether that is said clearly enough.
    common = last or ("in" if any("/" in number for number, _ in parts) else "")
    faults: list[Fault] = []
    lengths: list[float] = []
    units = [unit or common for _, unit in parts]
    for (number, _), unit, way in zip(parts, units, _WAYS, strict=False):
        try:
            lengths.append(parse_length(f"{number} {unit}".strip(), name=f"{what} {way}"))
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    inches = all(is_inch(unit) for unit in units)
    return TypedSize(tuple(lengths), Unit.INCH if inches else Unit.MM, bare=not last)


def parts_of(text: str) -> list[tuple[str, str]]:
    """Part a size at its signs into numbers and their units, as text; none if it is too long.

    >>> parts_of("4½ × 7in")
    [('4 1/2', ''), ('7', 'in')]
    """
    tidy = spaced(text)
    if len(tidy) > 2 * LONGEST_TEXT:
        return []
    return [split_unit(part) for part in TIMES.split(tidy)]


def which_unit(
    text: str, size: TypedSize, what: str, smallest: str, known: frozenset[str] = frozenset()
) -> Fault:
    """Ask which unit was meant where none was typed.

    Parameters
    ----------
    text : str
        As typed.
    size : TypedSize
        As it was read.
    what : str
        What has the size.
    smallest : str
        What it would be smaller than in millimetres: `any hoop`.
    known : frozenset of str
        Sizes, written as `5x7in`, of which one is likely meant.
    """
    numbers = [number for number, _ in parts_of(text)]
    if size.unit is Unit.INCH:
        hint = f"Are inches meant? Then write {' x '.join(numbers)} in."
        return Fault(f"{as_typed(text)} has a fraction but no unit.", what, hint=hint)
    typed = "x".join(numbers)
    asked = {"inches": f"{typed}in", "centimetres": f"{typed}cm"}
    asked = {unit: way for unit, way in asked.items() if way in known} or asked
    message = f"{as_typed(text)} has no unit, and in millimetres it is smaller than {smallest}."
    hint = f"Are {' or '.join(asked)} meant? Then write {' or '.join(asked.values())}."
    return Fault(message, what, hint=hint)


def spaced(text: str) -> str:
    """Lower case and single spaces."""
    return " ".join(text.casefold().split())
