"""Hoops: the listed ones, a person's own, and any size that is typed."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from paramgen.findings import Fault, InputError
from paramgen.installed import shared
from paramgen.lengths import (
    INCH,
    LONGEST_TEXT,
    TOLERANCE,
    Unit,
    as_typed,
    is_inch,
    parse_length,
    split_unit,
)
from paramgen.nearest import did_you_mean

#: A pair of numbers without a unit, both under this many mm, is in another unit: no
#: hoop field is so small. Common practice, no source.
LEAST_FIELD = 40.0

_TIMES = re.compile(r" ?[x×*✕✖] ?")
_NUMBER = re.compile(r"[-+ .,/0-9e]*[0-9][.,]?")


@dataclass(frozen=True)
class Hoop:
    """A hoop, known by the field it lets the machine stitch.

    Parameters
    ----------
    name : str
        As listed; made from the size for one that is not.
    width, height : float
        Of the field, mm, as the hoop lies before the person.
    also : str
        Its second name, usually in inches: a name, not a measure. Empty if it has none.
    """

    name: str
    width: float
    height: float
    also: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """Both names, or the one."""
        return (self.name, self.also) if self.also else (self.name,)


@dataclass(frozen=True)
class _Size:
    """A pair of lengths as typed: mm, the unit they are in, and whether it was left out."""

    width: float
    height: float
    unit: Unit
    bare: bool


def own_file() -> Path:
    """Tell where a person's own hoops are read from; the file need not be there."""
    from platformdirs import user_config_path  # noqa: PLC0415 (only an edge asks)

    return user_config_path("paramgen", appauthor=False) / "hoops.toml"


def listed(extra: Path | None = None) -> tuple[Hoop, ...]:
    """Read the common hoops and after them a person's own.

    Parameters
    ----------
    extra : Path or None
        A file in the form of `shared/hoops.toml`, in which a width or height may also
        be a text with a unit (`"5 1/2 in"`). If it is not there, there are no more.

    Raises
    ------
    InputError
        With every fault of both files: file, key and the nearest valid key. No two
        hoops may share a name, whichever file they are in.
    """
    from paramgen.reference.hoops_file import read  # noqa: PLC0415 (pydantic is heavy)

    found = [read(shared() / "hoops.toml")]
    if extra is not None:
        found.append(read(extra, optional=True))
    faults = [fault for file in found for fault in file.faults]
    taken: dict[str, str] = {}
    for where, name in (pair for file in found for pair in file.names):
        if (key := hoop_key(name)) in taken:
            message = f"{as_typed(name)} is already the name of a hoop in {taken[key]}."
            faults.append(Fault(message, where, hint="Give every hoop names of its own."))
        taken.setdefault(key, where)
    if faults:
        raise InputError(faults)
    return tuple(hoop for file in found for hoop in file.hoops)


def find_hoop(text: str, hoops: Sequence[Hoop]) -> Hoop:
    """Find the hoop a person means.

    Parameters
    ----------
    text : str
        A listed name (`130x180`, `5x7in`), or a size, width before height, with its
        unit after the second number or after both (`5.5x8in`, `12 x 18 cm`,
        `140mm x 200mm`). Without a unit it is millimetres. Case, spacing and the sign
        between (x, ×, *) do not matter.
    hoops : sequence of Hoop
        The listed ones.

    Returns
    -------
    Hoop
        A listed one if its name or its size is met. An inch name stands for the listed
        field and not for a measure: `5x7in`, and `5.0 x 7.0 in`, is the field of
        130 × 180 mm, and `7x5in` is that hoop lying the other way.

    Raises
    ------
    InputError
        For what is neither, for a size that is zero, negative or over 2 m, and for a
        pair without a unit that cannot be millimetres (`5x7`), with the question meant.
    """
    key = hoop_key(text)
    by_key = {hoop_key(name): hoop for hoop in hoops for name in hoop.names}
    if key in by_key:
        return by_key[key]
    size = _size(text)
    if size is None:
        names = [name for hoop in hoops for name in hoop.names]
        message = f"{as_typed(text)} is not a hoop known here. Known are: {', '.join(names)}."
        hint = did_you_mean(key, names) or "Write any other as a size: 140x200mm or 5.5x8in."
        raise InputError([Fault(message, "hoop", hint=hint)])
    if size.bare and (size.unit is Unit.INCH or max(size.width, size.height) < LEAST_FIELD):
        raise InputError([_question(text, size, by_key)])
    if size.unit is Unit.INCH:
        turned = by_key.get(_name(_Size(size.height, size.width, size.unit, size.bare)))
        if turned:
            name = _name(_Size(turned.height, turned.width, Unit.MM, bare=False))
            return Hoop(name, turned.height, turned.width, also=key)
    for hoop in hoops:
        if _same(size, hoop.width, hoop.height):
            return hoop
    return Hoop(key, size.width, size.height)


def smallest_first(hoops: Iterable[Hoop]) -> tuple[Hoop, ...]:
    """Put hoops in order of area; of equal areas the narrower first, then by name."""
    return tuple(sorted(hoops, key=lambda hoop: (hoop.width * hoop.height, hoop.width, hoop.name)))


def hoop_key(name: str) -> str:
    """Write a name so that all ways of writing it are equal.

    A size becomes `130x180` (mm) or `5x7in`; any other name loses case and spacing.

    >>> hoop_key("13 × 18 cm"), hoop_key("5.0in x 7.0in"), hoop_key("Class  Room")
    ('130x180', '5x7in', 'class room')
    """
    try:
        size = _size(name)
    except InputError:
        size = None
    if size is None or (size.bare and size.unit is Unit.INCH):
        return _TIMES.sub("x", _spaced(name))
    return _name(size)


def belies(name: str, width: float, height: float) -> bool:
    """Whether a name states a size in mm that is not this one; inch names state none."""
    try:
        size = _size(name)
    except InputError:
        return True
    return size is not None and size.unit is Unit.MM and not _same(size, width, height)


def _size(text: str) -> _Size | None:
    """Read a pair of lengths; None if it does not look like one."""
    spaced = _spaced(text)
    parts = _TIMES.split(spaced) if len(spaced) <= 2 * LONGEST_TEXT else []
    if len(parts) != 2:
        return None
    (left, left_unit), (right, right_unit) = split_unit(parts[0]), split_unit(parts[1])
    if not (_NUMBER.fullmatch(left) and _NUMBER.fullmatch(right)):
        return None
    if left_unit and not right_unit:
        both = f"{left} {left_unit} x {right} {left_unit}"
        message = f"{as_typed(text)} has no unit after its height."
        raise InputError([Fault(message, "hoop", hint=f"If it is the same unit, write {both}.")])
    bare = not right_unit
    # A fraction says inches; whoever asks decides whether that is said clearly enough.
    unit = right_unit or ("in" if "/" in left + right else "")
    faults: list[Fault] = []
    lengths: list[float] = []
    for number, own_unit, name in (
        (left, left_unit or unit, "hoop width"),
        (right, unit, "hoop height"),
    ):
        try:
            lengths.append(parse_length(f"{number} {own_unit}".strip(), name=name))
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    inches = is_inch(unit) and is_inch(left_unit or unit)
    return _Size(lengths[0], lengths[1], Unit.INCH if inches else Unit.MM, bare)


def _question(text: str, size: _Size, by_key: dict[str, Hoop]) -> Fault:
    """Ask which unit is meant: the one that makes it a listed hoop, if there is one."""
    (left, _), (right, _) = (split_unit(part) for part in _TIMES.split(_spaced(text)))
    if size.unit is Unit.INCH:
        hint = f"Are inches meant? Then write {left} x {right} in."
        return Fault(f"{as_typed(text)} has a fraction but no unit.", "hoop", hint=hint)
    asked = {"inches": f"{left}x{right}in", "centimetres": f"{left}x{right}cm"}
    listed_ones = {unit: way for unit, way in asked.items() if hoop_key(way) in by_key}
    asked = listed_ones or asked
    message = f"{as_typed(text)} has no unit, and in millimetres it is smaller than any hoop."
    hint = f"Are {' or '.join(asked)} meant? Then write {' or '.join(asked.values())}."
    return Fault(message, "hoop", hint=hint)


def _name(size: _Size) -> str:
    """Name a size in its unit: `140x200` or `5.5x8in`."""
    scale, unit = (INCH, "in") if size.unit is Unit.INCH else (1.0, "")
    width, height = (
        f"{mm / scale:.4f}".rstrip("0").rstrip(".") for mm in (size.width, size.height)
    )
    return f"{width}x{height}{unit}"


def _same(size: _Size, width: float, height: float) -> bool:
    return abs(size.width - width) <= TOLERANCE and abs(size.height - height) <= TOLERANCE


def _spaced(text: str) -> str:
    return " ".join(text.casefold().split())
