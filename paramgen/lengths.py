"""Lengths as people type and read them; millimetres inside."""

import math
import re
import unicodedata
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: Lengths closer than this are the same length, in mm: far above the noise of
#: floating-point arithmetic, far below anything that can be cut or sewn.
TOLERANCE = 1e-6

#: Decimals of a millimetre that two lengths are told apart by at most.
FINEST = 4

#: One inch in mm, exactly (international yard and pound agreement, 1959).
INCH = 25.4

#: No length that is typed is longer, in mm.
MOST = 2000.0

#: No length takes more characters; it bounds the work that any text can cause.
LONGEST_TEXT = 60


_INCH = Fraction(254, 10)
_INCH_MARKS = ("in", "in.", "inch", "inches", '"', "″", "”", "“", "„", "''", "′′", "’’")
_UNITS: dict[str, Fraction] = {
    "": Fraction(1),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1000)),
    **dict.fromkeys(_INCH_MARKS, _INCH),
}

_LENGTH = re.compile(
    r"(?P<sign>[+-]?) ?"
    r"(?:(?:(?P<whole>[0-9]+)[ -] ?)?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)"
    r"|(?P<number>(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:e[+-]?[0-9]+)?))"
    r" ?(?P<unit>[^0-9/]*)"
)
_NOT_FINITE = re.compile(r"[+-]? ?(?:infinity|inf|nan|∞) ?(?P<unit>\D*)")
_MAYBE_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
#: A space at which no line is broken.
NO_BREAK = "\u00a0"
#: A fraction as rulers have it; not the needle 80/12.
RULER_FRACTION = r"\d{1,2}/(?:2|4|8|16|32|64)(?!\d)"
_SHOWN = rf"(?:{RULER_FRACTION}|\d[\d.]*(?: {RULER_FRACTION})?)"
_WITH_UNIT = r" (?:mm|cm²|cm|sq in|in|m|yd|%|g/m²|oz/yd²)(?!\w)"
_MEASURE = re.compile(
    rf"(?<![\d/.])(?:{_SHOWN}(?: × {_SHOWN})+(?:{_WITH_UNIT})?|{_SHOWN}{_WITH_UNIT}"
    rf"|\d+ {RULER_FRACTION}(?!/))"
)
_FORMS = "Write a length as 114, 114mm, 11.4 cm, 4.5in or 4 1/2 in."


def parse_length(text: object, *, name: str = "", zero: bool = False, most: float = MOST) -> float:
    """Read a length as a person writes it.

    Parameters
    ----------
    text : str or number
        `114`, `114mm`, `11.4 cm`, `4.5in`, `4 1/2"`, `4-1/2 in`, `4½"` and the like, in
        any case and spacing. A plain number is millimetres. A decimal comma is read
        like a decimal point.
    name : str
        What the length is for; every message starts with it.
    zero : bool
        Whether 0 is allowed.
    most : float
        Longest allowed, mm.

    Returns
    -------
    float
        Millimetres. Worked out with whole numbers and rounded once, so `4 1/2"` is
        the same number as `114.3`.

    Raises
    ------
    InputError
        For what is not a length, is zero, negative, not finite or longer than `most`,
        and for what can be read in two ways: a fraction without a unit (`4 1/2`),
        a fraction that may lack a space (`41/2 in`), a comma that may part thousands
        (`1,200`).

    Examples
    --------
    Four inches and a half of 25.4 mm each:

    >>> parse_length("4 1/2 in"), 4.5 * 25.4
    (114.3, 114.3)
    >>> parse_length("0", zero=True)
    0.0
    >>> parse_length("0", name="width")
    Traceback (most recent call last):
        ...
    paramgen.vocabulary.findings.InputError: width: `0` is zero. Write a length of more than 0.
    >>> parse_length("4 1/0 in")
    Traceback (most recent call last):
        ...
    paramgen.vocabulary.findings.InputError: `4 1/0 in` is not a finite length: it divides by 0...
    """
    if type(text) is float and 0 < text <= most:
        return text
    typed = as_typed(text)
    value, unit = _read(text, typed, name)
    if value < 0:
        raise _refusal(name, f"{typed} is negative.", "Write a length of more than 0.")
    if value == 0 and not zero:
        raise _refusal(name, f"{typed} is zero.", "Write a length of more than 0.")
    if value - Fraction(most) > Fraction(TOLERANCE):
        raise _refusal(name, f"{typed} is longer than the limit of {_limit(most, unit)}.")
    return float(value)


def split_unit(text: str) -> tuple[str, str]:
    """Part a length into its number and its unit, both as text.

    The unit is empty if there is none that is known.

    Examples
    --------
    >>> split_unit("4½ Inches")
    ('4 1/2', 'inches')

    >>> split_unit("7 wide"), split_unit("")
    (('7 wide', ''), ('', ''))
    """
    tidy = _tidy(text)
    word = re.split(r"[0-9 ]", tidy)[-1]
    return (tidy.removesuffix(word).strip(), word) if word in _UNITS else (tidy, "")


def is_inch(unit: str) -> bool:
    """Whether a unit, as `split_unit` gives it, is the inch.

    Examples
    --------
    >>> is_inch("inches"), is_inch("mm"), is_inch("")
    (True, False, False)
    """
    return unit in _INCH_MARKS


def as_typed(value: object) -> str:
    """Quote what a person wrote, so that any message can hold it: short and printable.

    Examples
    --------
    >>> as_typed(" 4   in"), as_typed("")
    ('`4 in`', '``')

    Of what is longer than 30 characters, 30 are quoted:

    >>> as_typed("9" * 31) == "`" + "9" * 30 + "…`"
    True
    """
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) >= 10**LONGEST_TEXT:
        return "a number of more than 60 digits"
    shown = " ".join(str(value)[: LONGEST_TEXT + 1].split())
    shown = "".join(char if char.isprintable() else "?" for char in shown)
    if len(shown) > LONGEST_TEXT // 2:
        shown = shown[: LONGEST_TEXT // 2] + "…"
    return f"`{shown}`"


def show(mm: float, unit: Unit, *, denominator: int = 16) -> str:
    """Write a length for a person to read.

    Parameters
    ----------
    mm : float
        Finite.
    unit : Unit
    denominator : int
        Inches are rounded to the nearest mark of a ruler with so many marks an inch.

    Returns
    -------
    str
        Inches as on a ruler, to the nearest mark, `4 1/2 in`; millimetres to the nearest
        tenth, `114.3 mm`. Halves round away from zero. What would round to nothing keeps
        its first decimal that is not 0, `0.02 in`; only what is within `TOLERANCE` of 0
        is 0.

    Examples
    --------
    >>> show(114.3, Unit.INCH), show(114.3, Unit.MM), show(0.5, Unit.INCH)
    ('4 1/2 in', '114.3 mm', '0.02 in')

    >>> show(0, Unit.INCH), show(0, Unit.MM)
    ('0 in', '0 mm')
    """
    return f"{_number(mm, unit, denominator)} {unit}"


def show_both(mm: float, unit: Unit, *, denominator: int = 16) -> str:
    """Write a length in the unit asked for, with the other beside it.

    Examples
    --------
    >>> show_both(114.3, Unit.INCH)
    '4 1/2 in (114.3 mm)'

    >>> show_both(0, Unit.MM)
    '0 mm (0 in)'
    """
    beside = show(mm, other_unit(unit), denominator=denominator)
    return f"{show(mm, unit, denominator=denominator)} ({beside})"


def show_apart(one: float, other: float, unit: Unit) -> tuple[str, str]:
    """Write two lengths in both units so that they read differently where they differ.

    Examples
    --------
    >>> show_apart(20.36, 20.44, Unit.MM)
    ('20.36 mm (13/16 in)', '20.44 mm (13/16 in)')

    Those that are the same read the same:

    >>> show_apart(25.4, 25.4, Unit.MM)
    ('25.4 mm (1 in)', '25.4 mm (1 in)')
    """
    first, second = show_all_apart([LengthTold(one), LengthTold(other)], unit)
    return first, second


@dataclass(frozen=True)
class LengthTold:
    """A length that is told beside others.

    Parameters
    ----------
    mm : float
    towards : str
        `up` or `down` where what is shown must be enough; empty for the nearest.
    """

    mm: float
    towards: str = ""

    def rounded(self, unit: Unit, level: int) -> float:
        """What is told of it, mm, as finely as a level says.

        Examples
        --------
        >>> LengthTold(20.31, "up").rounded(Unit.MM, 0), LengthTold(20.31).rounded(Unit.MM, 0)
        (20.4, 20.31)
        """
        if not self.towards:
            return self.mm
        return (round_up if self.towards == "up" else round_down)(self.mm, _mark(unit, level))

    def shown(self, unit: Unit, level: int) -> str:
        """Write it as finely as a level says.

        Examples
        --------
        >>> told = LengthTold(20.36)
        >>> told.shown(Unit.MM, 0), told.shown(Unit.MM, 1)
        ('20.4 mm', '20.36 mm')

        To the nearest tenth it would be 20.3, which is not enough:

        >>> LengthTold(20.31, "up").shown(Unit.MM, 0)
        '20.4 mm'
        >>> LengthTold(0, "up").shown(Unit.MM, 0)
        '0 mm'
        """
        mm = self.rounded(unit, level)
        if level == 0:
            return show(mm, unit)
        if unit is Unit.INCH and level <= len(_FINER):
            return show(mm, unit, denominator=_FINER[level - 1])
        if unit is Unit.MM:
            number = f"{mm:.{level + 1}f}"
        else:
            number = f"{mm / INCH:.{_PLACES[level - len(_FINER) - 1]}f}"
        return f"{number.rstrip('0').rstrip('.')} {unit}"

    def read(self, unit: Unit, level: int) -> float:
        """What is read where it is shown so, mm.

        Examples
        --------
        >>> LengthTold(20.36).read(Unit.MM, 0), LengthTold(0).read(Unit.INCH, 0)
        (20.4, 0.0)
        """
        number, _, fraction = self.shown(unit, level).removesuffix(f" {unit}").rpartition(" ")
        value = float(Fraction(fraction) + Fraction(number or 0))
        return value if unit is Unit.MM else value * INCH


#: Marks an inch where sixteenths read alike, and after these so many decimals.
_FINER, _PLACES = (32, 64), (2, 3, 4, 5, 6)
#: The finest level: from tenths of a millimetre and from sixteenths of an inch.
_FINEST = {Unit.MM: FINEST - 1, Unit.INCH: len(_FINER) + len(_PLACES)}


def _mark(unit: Unit, level: int) -> float:
    """What lengths are shown to at a level, mm."""
    if unit is Unit.MM:
        return 10.0 ** -(level + 1)
    if level <= len(_FINER):
        return INCH / (16, *_FINER)[level]
    return INCH * 10.0 ** -_PLACES[level - len(_FINER) - 1]


#: Lengths that differ by more marks than that read differently, whichever way each is rounded.
_APART = 3
#: Lengths that differ by less no ruler tells apart, mm.
RULER = INCH / 64


def show_all_apart(
    lengths: Sequence[LengthTold], unit: Unit, least: float = TOLERANCE
) -> tuple[str, ...]:
    """Write lengths in both units so that those that differ read differently in the first.

    As `show_both` writes them; those that would read alike as finely as tells them apart, and
    no finer: one that is on its mark stays. Those that differ by no more than `least`, or by
    less than `FINEST` decimals of a millimetre, may read alike. What stands beside is as
    everywhere, so that the same length has the same beside it wherever it is told.

    Examples
    --------
    >>> show_all_apart([LengthTold(7.96), LengthTold(8), LengthTold(22)], Unit.MM)
    ('7.96 mm (5/16 in)', '8 mm (5/16 in)', '22 mm (7/8 in)')

    >>> show_all_apart([], Unit.MM)
    ()
    """
    return _all_apart(tuple(lengths), unit, least)


# Most lengths in a recipe's sentences stay the same while sizes are tried.
@lru_cache(maxsize=1024)
def _all_apart(lengths: tuple[LengthTold, ...], unit: Unit, least: float) -> tuple[str, ...]:
    return tuple(f"{first} ({beside})" for first, beside in in_both_units(lengths, unit, least))


def in_both_units(
    lengths: Sequence[LengthTold], unit: Unit, least: float = TOLERANCE
) -> tuple[tuple[str, str], ...]:
    """Write lengths so that those that differ read differently, and in the other unit.

    Examples
    --------
    >>> in_both_units([LengthTold(114.3)], Unit.INCH)
    (('4 1/2 in', '114.3 mm'),)

    >>> in_both_units([], Unit.INCH)
    ()
    """
    return tuple(
        (one.shown(unit, level), show(one.rounded(unit, level), other_unit(unit)))
        for one, level in zip(lengths, _levels(lengths, unit, least), strict=True)
    )


def _levels(lengths: Sequence[LengthTold], unit: Unit, least: float) -> list[int]:
    """How finely each is shown, so that those that differ read so, and which is more."""
    levels = [0] * len(lengths)
    in_order = sorted(one.mm for one in lengths)
    if all(not 0 < high - low <= _APART * _mark(unit, 0) for low, high in pairwise(in_order)):
        return levels
    enough = max(least, 10.0**-FINEST)
    while len(lengths) > 1:
        read = [one.read(unit, at) for one, at in zip(lengths, levels, strict=True)]
        finer = [
            place
            for place, one in enumerate(lengths)
            if levels[place] < _FINEST[unit]
            and abs(read[place] - one.mm) > TOLERANCE
            and any(
                abs(one.mm - other.mm) > enough and (one.mm - other.mm) * (read[place] - seen) <= 0
                for other, seen in zip(lengths, read, strict=True)
            )
        ]
        if not finer:
            return levels
        coarsest = min(levels[place] for place in finer)
        for place in finer:
            levels[place] += levels[place] == coarsest
    return levels


def show_sizes_apart(
    one: tuple[float, float], other: tuple[float, float], unit: Unit
) -> tuple[str, str]:
    """Write two sizes in mm so that widths that differ read differently, and heights too.

    Examples
    --------
    >>> show_sizes_apart((130.02, 100), (130, 180), Unit.MM)
    ('130.02 × 100 mm', '130 × 180 mm')

    >>> show_sizes_apart((130, 180), (130, 180), Unit.MM)
    ('130 × 180 mm', '130 × 180 mm')
    """
    first, second = show_all_sizes_apart((one, other), unit)
    return first, second


def show_all_sizes_apart(sizes: Sequence[tuple[float, float]], unit: Unit) -> tuple[str, ...]:
    """Write sizes in mm so that widths that differ read differently, and heights too.

    Examples
    --------
    >>> show_all_sizes_apart([(130, 100.02), (130, 100), (90, 60)], Unit.MM)
    ('130 × 100.02 mm', '130 × 100 mm', '90 × 60 mm')

    >>> show_all_sizes_apart([], Unit.MM)
    ()
    """
    wide, high = (
        [first for first, _ in in_both_units([LengthTold(size[axis]) for size in sizes], unit)]
        for axis in (0, 1)
    )
    return tuple(
        f"{across.removesuffix(f' {unit}')} × {down}"
        for across, down in zip(wide, high, strict=True)
    )


def show_size(
    width: float, height: float, unit: Unit, *, depth: float = 0.0, denominator: int = 16
) -> str:
    """Write a width and height in mm for a person to read, and a depth where there is one.

    Examples
    --------
    >>> show_size(114.3, 177.8, Unit.INCH)
    '4 1/2 × 7 in'

    >>> show_size(0, 0, Unit.INCH)
    '0 × 0 in'
    >>> show_size(160, 110, Unit.MM, depth=60)
    '160 × 110 × 60 mm'
    """
    *first, last = (width, height, depth) if depth else (width, height)
    numbers = [_number(one, unit, denominator) for one in first]
    return " × ".join([*numbers, show(last, unit, denominator=denominator)])


def show_size_both(
    width: float, height: float, unit: Unit, *, depth: float = 0.0, denominator: int = 16
) -> str:
    """Write a width and height, and a depth if any, in the unit asked for, the other beside it.

    Examples
    --------
    >>> show_size_both(114.3, 177.8, Unit.MM)
    '114.3 × 177.8 mm (4 1/2 × 7 in)'

    >>> show_size_both(0, 0, Unit.MM)
    '0 × 0 mm (0 × 0 in)'
    """
    one, other = (
        show_size(width, height, each, depth=depth, denominator=denominator)
        for each in (unit, other_unit(unit))
    )
    return f"{one} ({other})"


def round_up(mm: float, mark: float) -> float:
    """Round up to a ruler mark.

    Parameters
    ----------
    mm : float
        What lies within `TOLERANCE` above a mark is on that mark.
    mark : float
        Distance between marks, mm, more than `TOLERANCE`.

    Returns
    -------
    float
        A whole number of marks, mm.

    Examples
    --------
    >>> round_up(114.3, 6.35), round_up(114.31, 6.35)
    (114.3, 120.65)

    >>> round_up(0, 6.35)
    0.0
    """
    return _marks(math.ceil((mm - TOLERANCE) / mark), mark)


def round_down(mm: float, mark: float) -> float:
    """Round down to a ruler mark; what lies within `TOLERANCE` below a mark is on it.

    Examples
    --------
    >>> round_down(114.3, 6.35), round_down(114.29, 6.35)
    (114.3, 107.95)

    >>> round_down(0, 6.35)
    0.0
    """
    return _marks(math.floor((mm + TOLERANCE) / mark), mark)


def _marks(count: int, mark: float) -> float:
    """Multiply out, without the noise that 18 × 6.35 = 114.29999999999998 would bring."""
    return round(count * mark, 9)


def _refusal(name: str, message: str, hint: str = "") -> InputError:
    return InputError([Fault(message, where=name, hint=hint)])


def _tidy(text: str) -> str:
    """Lower case, single spaces, plain dashes and slashes, vulgar fractions written out."""
    out = []
    for char in text.strip()[: LONGEST_TEXT + 1]:
        if unicodedata.decomposition(char).startswith("<fraction>"):
            # Spaces keep 4½ from becoming 41/2; ⅟ (one over) is followed by its divisor.
            written = unicodedata.normalize("NFKC", char)
            out.append(f" {written}" if written.endswith("⁄") else f" {written} ")
        else:
            out.append(char)
    plain = "".join(out).translate(str.maketrans("‐‑–−⁄∕", "----//"))
    return " ".join(plain.casefold().split())


def _read(text: object, typed: str, name: str) -> tuple[Fraction, Unit]:
    """Read a length in mm and the unit it was written in, whatever its size."""
    if isinstance(text, float) and not math.isfinite(text):
        raise _refusal(name, f"{typed} is not a finite length.", _FORMS)
    if isinstance(text, int | float) and not isinstance(text, bool):
        return Fraction(text), Unit.MM
    if not isinstance(text, str):
        raise _refusal(name, f"{typed} is not a length.", _FORMS)
    tidy = _tidy(text)
    infinite = _NOT_FINITE.fullmatch(tidy)
    if infinite and infinite["unit"] in _UNITS:
        raise _refusal(name, f"{typed} is not a finite length.", _FORMS)
    match = _LENGTH.fullmatch(tidy)
    if match is None or len(text.strip()) > LONGEST_TEXT:
        raise _refusal(name, f"{typed} is not a length.", _FORMS)
    unit = match["unit"]
    if unit not in _UNITS:
        raise _refusal(name, f"{typed} is not in a unit known here.", "Use mm, cm, m or in.")
    value = _decimal(match, typed, name) if match["number"] else _fraction(match, typed, name)
    sign = -1 if match["sign"] == "-" else 1
    return sign * value * _UNITS[unit], Unit.INCH if is_inch(unit) else Unit.MM


def _decimal(match: re.Match[str], typed: str, name: str) -> Fraction:
    number = match["number"]
    if _MAYBE_THOUSANDS.fullmatch(number):
        raise _refusal(
            name,
            f"{typed} can be read in two ways: is the comma a decimal comma?",
            f"Write {number.replace(',', '.')} or {number.replace(',', '')}.",
        )
    number = number.replace(",", ".")
    if "e" not in number:
        return Fraction(number)
    # By way of a float: a fraction would write out every nought of 1e999999999.
    value = float(number)
    if math.isinf(value):
        raise _refusal(name, f"{typed} is not a finite length.", _FORMS)
    return Fraction(value)


def _fraction(match: re.Match[str], typed: str, name: str) -> Fraction:
    whole, top, bottom = int(match["whole"] or 0), int(match["top"]), int(match["bottom"])
    unit = "in" if not match["unit"] or is_inch(match["unit"]) else match["unit"]
    if bottom == 0:
        raise _refusal(name, f"{typed} is not a finite length: it divides by 0.", _FORMS)
    if match["whole"] and top >= bottom:
        raise _refusal(
            name, f"{typed} is not a length: {top}/{bottom} is not less than a whole.", _FORMS
        )
    if not match["whole"] and top >= bottom and top >= 10:
        proper = f"{top // bottom} {top % bottom}/{bottom}" if top % bottom else f"{top // bottom}"
        raise _refusal(
            name,
            f"{typed} can be read in two ways: is a space missing?",
            f"Part the whole from the fraction, as in 4 1/2 {unit}, or write {proper} {unit}.",
        )
    if not match["unit"]:
        mixed = f"{whole} {top}/{bottom}" if match["whole"] else f"{top}/{bottom}"
        raise _refusal(
            name,
            f"{typed} has a fraction but no unit. Are inches meant?",
            f"Then write {mixed} in.",
        )
    return whole + Fraction(top, bottom)


def _limit(mm: float, unit: Unit) -> str:
    """Write a limit so that what is shown is itself allowed."""
    mark = INCH / 16 if unit is Unit.INCH else 0.1
    return f"{show(round_down(mm, mark), unit)} ({show(mm, other_unit(unit))})"


def unbroken(words: str) -> str:
    r"""Keep every length and size in a text on one line with its unit.

    Examples
    --------
    >>> unbroken("cut 4 1/2 × 7 in, then lay 2 strips")
    'cut 4\xa01/2\xa0×\xa07\xa0in, then lay 2 strips'

    >>> unbroken("no length in 2 of 3")
    'no length in 2 of 3'

    >>> unbroken("")
    ''
    """
    return _MEASURE.sub(lambda match: match[0].replace(" ", NO_BREAK), words)


def spaced(words: str) -> str:
    """Undo `unbroken`, for what is read aloud or broken elsewhere.

    Examples
    --------
    >>> spaced(unbroken("4 1/2 in"))
    '4 1/2 in'

    >>> spaced("")
    ''
    """
    return words.replace(NO_BREAK, " ")


def show_bound(mm: float, unit: Unit, *, least: bool) -> str:
    """Write a limit in both units so that what is shown in either is itself allowed.

    Parameters
    ----------
    least : bool
        Whether it is the least allowed, and not the most.

    Examples
    --------
    >>> show_bound(330, Unit.MM, least=False)
    '330 mm (12 15/16 in)'

    Of a least the mark above it is told: 13 in are 330.2 mm, 12 15/16 in are 328.6 mm.

    >>> show_bound(330, Unit.MM, least=True)
    '330 mm (13 in)'
    >>> show_bound(0, Unit.MM, least=False)
    '0 mm (0 in)'
    """
    rounded = round_up if least else round_down
    marks = {Unit.MM: 0.1, Unit.INCH: INCH / 16}
    first, beside = (show(rounded(mm, marks[one]), one) for one in (unit, other_unit(unit)))
    return f"{first} ({beside})"


def other_unit(unit: Unit) -> Unit:
    """The unit that is shown beside.

    Examples
    --------
    >>> other_unit(Unit.MM).value, other_unit(other_unit(Unit.MM)).value
    ('in', 'mm')
    """
    return Unit.MM if unit is Unit.INCH else Unit.INCH


def _number(mm: float, unit: Unit, denominator: int) -> str:
    if abs(mm) <= TOLERANCE:
        return "0"
    sign, size = ("-" if mm < 0 else ""), abs(mm)
    parts = denominator if unit is Unit.INCH else 10
    value = size / INCH if unit is Unit.INCH else size
    # A hair is added so that a half with noise rounds as a half.
    marks = math.floor(value * parts + 0.5 + TOLERANCE)
    if marks == 0:
        places = -math.floor(math.log10(value))
        return sign + f"{value:.{places}f}".rstrip("0")
    whole, rest = divmod(marks, parts)
    if unit is Unit.MM:
        return f"{sign}{whole}.{rest}" if rest else f"{sign}{whole}"
    if not rest:
        return f"{sign}{whole}"
    part = _part_of_inch(rest, parts)
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


@lru_cache(maxsize=256)
def _part_of_inch(marks: int, in_an_inch: int) -> str:
    return str(Fraction(marks, in_an_inch))
