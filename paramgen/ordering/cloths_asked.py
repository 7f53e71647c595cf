"""What a person's own fabrics look like, as typed: `outer=#7a9e3f`, `lining=leaves.jpg`."""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from paramgen.lengths import as_typed, parse_length
from paramgen.nearest_word import did_you_mean
from paramgen.recipe.language import RecipeFile
from paramgen.vocabulary.cloth import Cloth, Cloths
from paramgen.vocabulary.findings import Fault, Faults, InputError

#: Gives the picture of a print by its name and by how wide one repeat is, mm; the usual width
#: where none was said.
PrintReader = Callable[[str, float | None], Cloth]

_OPTION = "--cloth"
_WRITE = (
    'Write ROLE=COLOUR or ROLE=PICTURE: outer=#7a9e3f, lining=teal, "lining=leaves.jpg, repeat '
    '60 mm".'
)
_WRITE_WHAT = "Write a colour such as teal or #7a9e3f, or a picture: leaves.jpg, repeat 60 mm."

# After a picture, how wide one repeat is: `leaves.jpg, repeat 60 mm`, also without the comma.
_REPEAT = re.compile(
    r"^(?P<what>.*?)[\s,;]+repeat(?:s|ed)?(?:\s*[:=]|\s+every|)\s*(?P<width>.*)$", re.IGNORECASE
)
_HEX = re.compile(r"#(?:[0-9a-f]{3}){1,2}", re.IGNORECASE)
_OF_A_FILE = re.compile(r"[\\/]|\.\w{1,5}$")


def fabric_roles(file: RecipeFile) -> tuple[str, ...]:
    """The parts that fabrics have in a recipe, with every choice that it gives."""
    return tuple(dict.fromkeys([*file.fabrics, *(one.fabric for one in file.pieces.values())]))


def role_of(typed: str) -> str:
    """The part of which something is typed: `clear-vinyl` of `Clear vinyl = teal`."""
    return "-".join(typed.partition("=")[0].lower().split())


def read_print(name: str, repeat: float | None) -> Cloth:
    """The picture in a file; raises InputError."""
    from paramgen.cloths.read_print import print_in  # noqa: PLC0415  slow, and seldom asked for

    return print_in(Path(name), repeat)


def cloths_asked(
    typed: Sequence[str],
    roles: Sequence[str] | None,
    read: PrintReader = read_print,
) -> Cloths:
    """Read what the fabrics look like.

    Parameters
    ----------
    typed : sequence of str
        One each.
    roles : sequence of str or None
        The parts that fabrics have in the recipe; None if it is not known.
    read : callable

    Returns
    -------
    mapping of role to Cloth

    Raises
    ------
    InputError
        With every fault.

    Examples
    --------
    >>> cloths_asked(["outer=#7A3", "clear vinyl = teal"], ["outer", "clear-vinyl"])
    {'outer': Cloth(colour='#77aa33', ...), 'clear-vinyl': Cloth(colour='#008080', ...)}
    """
    faults, found = Faults(), dict[str, Cloth]()
    seen = set[str]()
    for word in typed:
        role, what = role_of(word), word.partition("=")[2].strip()
        if not role or not what:
            text = f"I do not know what {as_typed(word)} is for"
            faults.append(Fault(text, _OPTION, hint=_WRITE))
            continue
        where = f"{_OPTION} {role}"
        if role in seen:
            faults.append(Fault("is given twice", where))
        elif roles is not None and role not in roles:
            faults.append(_no_role(role, roles))
        elif (cloth := faults.tried(partial(_cloth, what, where, read))) is not None:
            found[role] = cloth
        seen.add(role)
    if faults:
        raise InputError(faults)
    return found


def _no_role(role: str, roles: Sequence[str]) -> Fault:
    hint = did_you_mean(role, roles) or f"Its fabrics are {', '.join(roles)}."
    return Fault(f"{as_typed(role)} is no fabric of this project", _OPTION, hint=hint)


def _cloth(what: str, where: str, read: PrintReader) -> Cloth:
    """One fabric: a colour by its code or its name, else a picture."""
    parts = _REPEAT.match(what)
    name, width = (parts["what"].strip(), parts["width"]) if parts else (what, None)
    colour = _colour(name)
    if colour and width is not None:
        text = f"{as_typed(name)} is a colour, which has no repeat"
        raise InputError([Fault(text, where, hint="A repeat is the width of a picture.")])
    if colour:
        return Cloth(colour, name)
    if name.startswith("#"):
        hint = "Write # and six digits of 0 to 9 and a to f."
        raise InputError([Fault(f"{as_typed(name)} is no colour", where, hint=hint)])
    if width is None and not _OF_A_FILE.search(name):
        near = did_you_mean(_closed_up(name), _colours())
        text = f"{as_typed(name)} is no colour, and no picture by its name"
        raise InputError([Fault(text, where, hint=near or _WRITE_WHAT)])
    return _print(name, width, where, read)


def _colour(name: str) -> str:
    """Code of a colour; empty if it is none."""
    if _HEX.fullmatch(name):
        digits = name.lower()
        return digits if len(digits) > 4 else "#" + "".join(2 * digit for digit in digits[1:])
    return "" if _OF_A_FILE.search(name) else _colours().get(_closed_up(name), "")


def _closed_up(name: str) -> str:
    return "".join(name.lower().split())


def _colours() -> dict[str, str]:
    from paramgen.cloths.colour_names import colour_names  # noqa: PLC0415  slow, seldom asked for

    return colour_names()


def _print(name: str, width: str | None, where: str, read: PrintReader) -> Cloth:
    """A picture; it is looked at even where its repeat is wrong, so that both are told at once."""
    faults = Faults()
    repeat = None
    if width is not None:
        repeat = faults.tried(lambda: parse_length(width, name=f"{where}, repeat"))
    cloth = faults.tried(lambda: read(name, repeat))
    if cloth is None or faults:
        # A reader that knows no file says not where.
        raise InputError(replace(one, where=one.where or where) for one in faults)
    return cloth
