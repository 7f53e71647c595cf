"""From the names a person types to kinds of stitch file."""

from collections.abc import Iterable
from difflib import get_close_matches

from paramgen.files.formats import FORMATS, Format
from paramgen.findings import Fault, InputError


def formats_named(names: Iterable[str]) -> tuple[Format, ...]:
    """Find kinds of stitch file by name, each once, in the order of `FORMATS`.

    Raises
    ------
    InputError
        For every name there is no file of.

    Examples
    --------
    >>> [kind.name for kind in formats_named(["svg", "DST", "svg"])]
    ['dst', 'svg']
    """
    wanted = {name.strip().lower() for name in names}
    known = [kind.name for kind in FORMATS]
    strange = sorted(wanted.difference(known))
    if strange:
        raise InputError(_unknown(name, known) for name in strange)
    return tuple(kind for kind in FORMATS if kind.name in wanted)


def _unknown(name: str, known: list[str]) -> Fault:
    near = get_close_matches(name, known, n=1)
    return Fault(
        f'no stitch file is called "{name}"; there are {", ".join(known)}.',
        hint=f'Did you mean "{near[0]}"?' if near else "",
    )
