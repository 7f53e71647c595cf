"""The hoops or the things to hold that are known, read and told."""

from typing import Literal

from paramgen.ordering.known_lists import known_hoops
from paramgen.ordering.settings_filled_in import unit_shown


def known_report(what: Literal["hoops", "things"], unit: str = "") -> str:
    """The list, in a unit as it was typed.

    Raises
    ------
    InputError
        With every fault of the files that it is read from, and of the unit.
    """
    if what == "hoops":
        from paramgen.cli.hoop_report import hoop_report

        return hoop_report(known_hoops(), unit_shown(unit))
    from paramgen.cli.thing_report import thing_report
    from paramgen.ordering.known_things import known_things

    return thing_report(known_things(), unit_shown(unit))
