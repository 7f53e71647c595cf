"""From the names a person types to kinds of stitch file."""

from collections.abc import Iterable

from paramgen.files.formats import FORMATS, Format
from paramgen.nearest_word import did_you_mean
from paramgen.vocabulary.findings import Fault, InputError


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
        raise InputError(
            Fault(
                f"no stitch file is called `{name}`; there are {', '.join(known)}.",
                "--files",
                hint=did_you_mean(name, known),
            )
            for name in strange
        )
    return tuple(kind for kind in FORMATS if kind.name in wanted)
