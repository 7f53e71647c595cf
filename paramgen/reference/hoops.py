"""Hoops: the listed ones, a person's own, and any size that is typed.

That a hoop is the person's own is said by the hoop, and whatever goes through hoops in turn takes
those first (`smallest_first`).
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from paramgen.installed import shared
from paramgen.lengths import as_typed
from paramgen.nearest_word import did_you_mean
from paramgen.reference.own_folder import own
from paramgen.reference.typed_sizes import TIMES, TypedSize, parts_of, read_size, spaced, which_unit
from paramgen.vocabulary.facts import Clause, Name, facts
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: A pair of numbers without a unit, both under this many mm, is in another unit: no
#: hoop field is so small. Common practice, no source.
LEAST_FIELD = 40.0

#: A sheet of stabiliser reaches past the field of the hoop by this on each side, mm: past the
#: frame, so that it is held all round (common practice, no source). So far out cloth can be taped.
RIM = 40.0


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
    mine : bool
        Whether the person said that it is theirs.
    """

    name: str
    width: float
    height: float
    also: str = ""
    mine: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        """Both names, or the one."""
        return (self.name, self.also) if self.also else (self.name,)

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("hoop", self.name, self.name)


def own_file() -> Path:
    """Tell where a person's own hoops are read from; the file need not be there."""
    return own("hoops.toml")


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
    from paramgen.reference.hoops_file import read_hoops  # noqa: PLC0415 (it reads hoops)

    return read_hoops(shared() / "hoops.toml", extra)


def find_hoop(text: str, hoops: Sequence[Hoop], *, where: str = "hoop") -> Hoop:
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
    where : str
        What every message starts with.

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
    size = read_size(text, where)
    if size is None:
        names = [name for hoop in hoops for name in hoop.names]
        message = f"{as_typed(text)} is not a hoop known here. {_known(hoops)}"
        which = did_you_mean(key, names)
        hint = f"{which} Write any other as a size: 140x200mm or 5.5x8in.".lstrip()
        raise InputError([Fault(message, where, hint=hint)])
    if size.bare and (size.unit is Unit.INCH or max(size.width, size.height) < LEAST_FIELD):
        raise InputError([_question(text, size, by_key, where)])
    if size.unit is Unit.INCH:
        turned = by_key.get(replace(size, lengths=size.lengths[::-1]).name)
        if turned:
            way = TypedSize((turned.height, turned.width), Unit.MM, bare=False)
            return Hoop(way.name, way.width, way.height, also=key)
    for hoop in hoops:
        if size.same(hoop.width, hoop.height):
            return hoop
    return Hoop(key, size.width, size.height)


def _known(hoops: Sequence[Hoop]) -> str:
    """Name the hoops there are, a person's own first."""

    def named(mine: bool) -> str:
        return ", ".join(name for hoop in hoops if hoop.mine is mine for name in hoop.names)

    if not named(True):
        return f"Known are: {named(False)}."
    besides = f" Known besides: {named(False)}." if named(False) else ""
    return f"Yours are: {named(True)}.{besides}"


def smallest_first(hoops: Iterable[Hoop]) -> tuple[Hoop, ...]:
    """Put a person's own hoops first, and all in order of area; of equal areas the narrower."""
    return tuple(
        sorted(
            hoops,
            key=lambda one: (not one.mine, one.width * one.height, one.width, one.name),
        )
    )


def the_smallest(
    what: Clause | int, hoop: Hoop | None, hoops: Iterable[Hoop], *, turned: bool = False
) -> Clause:
    """Say which is the smallest hoop that takes something; a person's own are spoken of first.

    Parameters
    ----------
    what : Clause or int
        What is taken: it, it as asked, so many copies.
    hoop : Hoop or None
        None if there is none.
    hoops : iterable of Hoop
        Those that were tried.
    turned : bool
        Whether it lies turned there.

    Examples
    --------
    >>> the_smallest(4, Hoop("130x180", 130, 180, mine=True), ()).key
    'smallest-of-yours'
    """
    own = any(one.mine for one in hoops)
    if hoop is None:
        return Clause("no-hoop-none-of-yours" if own else "no-hoop", facts(what=what))
    way = Clause("turned-there") if turned else None
    known = facts(what=what, hoop=hoop.called, turned=way)
    if hoop.mine:
        return Clause("smallest-of-yours", known)
    return Clause("smallest-listed-none-of-yours" if own else "smallest-listed", known)


def with_mine(hoops: Sequence[Hoop], names: Iterable[str], *, where: str) -> tuple[Hoop, ...]:
    """Mark the hoops that a person says are theirs; a size that is not listed is added.

    Raises
    ------
    InputError
        For every name that is no hoop.
    """
    found, faults = list(hoops), Faults()
    for name in names:
        hoop = faults.tried(lambda name=name: find_hoop(name, hoops, where=where))  # type: ignore[misc]
        if hoop is None:
            continue
        if hoop in found:
            found[found.index(hoop)] = replace(hoop, mine=True)
        elif replace(hoop, mine=True) not in found:
            found.append(replace(hoop, mine=True))
    if faults:
        raise InputError(faults)
    return tuple(found)


def hoop_key(name: str) -> str:
    """Write a name so that all ways of writing it are equal.

    A size becomes `130x180` (mm) or `5x7in`; any other name loses case and spacing.

    >>> hoop_key("13 × 18 cm"), hoop_key("5.0in x 7.0in"), hoop_key("Class  Room")
    ('130x180', '5x7in', 'class room')
    """
    try:
        size = read_size(name, "hoop")
    except InputError:
        size = None
    if size is None or (size.bare and size.unit is Unit.INCH):
        return TIMES.sub("x", spaced(name))
    return size.name


def belies(name: str, width: float, height: float) -> bool:
    """Whether a name states a size in mm that is not this one; inch names state none."""
    try:
        size = read_size(name, "hoop")
    except InputError:
        return True
    return size is not None and size.unit is Unit.MM and not size.same(width, height)


def _question(text: str, size: TypedSize, by_key: dict[str, Hoop], where: str) -> Fault:
    """Ask which unit is meant: the one that makes it a listed hoop, if there is one."""
    ways = [f"{'x'.join(number for number, _ in parts_of(text))}{unit}" for unit in ("in", "cm")]
    known = frozenset(way for way in ways if hoop_key(way) in by_key)
    return which_unit(text, size, where, "any hoop", known)
