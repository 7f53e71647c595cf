"""The hoops and the unit that are meant where a command needs no more; quick to load.

The unit is the one asked for with `--unit`, else that of the first value typed with one, else as
the person said once, else that in which they call their hoop, else millimetres. Hoop names in
inches are names, not measures: 5x7in is the field of 130 × 180 mm.
"""

from collections.abc import Iterable, Sequence
from pathlib import Path

from paramgen.lengths import is_inch, split_unit
from paramgen.nearest_word import did_you_mean
from paramgen.reference.hoops import Hoop, listed, own_file, with_mine
from paramgen.reference.settings import own_settings, read_settings
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.unit import Unit


def known_hoops(own: Path | None = None, mine: Sequence[str] | None = None) -> tuple[Hoop, ...]:
    """The listed hoops and the person's own, those marked that they say are theirs.

    Parameters
    ----------
    own : Path or None
        A file of hoops; in the usual place if None.
    mine : sequence of str or None
        Names of theirs; as they said once if None.
    """
    hoops = listed(own or own_file())
    file = own_settings()
    said = read_settings(file).hoops if mine is None else mine
    return with_mine(hoops, said, where=f"{file}, key `hoops`") if said else hoops


def unit_asked(
    typed: str, values: Iterable[str] = (), usual: str = "", hoops: Iterable[str] = ()
) -> Unit:
    """The unit asked for; else of the first value typed with one; else the usual; else of a hoop.

    Examples
    --------
    >>> [unit_asked("", ["100"], usual, ["6x10in"]).value for usual in ("", "mm")]
    ['in', 'mm']
    """
    if typed:
        known = {"mm": Unit.MM, "in": Unit.INCH, "inch": Unit.INCH, "inches": Unit.INCH}
        if typed.strip().lower() not in known:
            hint = did_you_mean(typed, known) or "There are mm and in."
            raise InputError([Fault(f"`{typed}` is no unit", "--unit", hint=hint)])
        return known[typed.strip().lower()]
    written = [split_unit(value)[1] for value in values]
    called = [split_unit(name)[1] for name in hoops]
    first = next((unit for unit in (*written, usual, *called) if unit), "mm")
    return Unit.INCH if is_inch(first) else Unit.MM
