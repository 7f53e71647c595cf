"""What a person's own fabrics look like, as typed: `outer=#7a9e3f`, `lining=leaves.jpg`."""

import re
from collections.abc import Callable, Sequence
from pathlib import Path

from paramgen.lengths import as_typed, parse_length
from paramgen.nearest_word import did_you_mean
from paramgen.recipe.language import RecipeFile
from paramgen.vocabulary.cloth import Cloth, Cloths
from paramgen.vocabulary.findings import Fault, Faults, InputError

_OPTION = "--cloth"
_WRITE = 'Write ROLE=COLOUR or ROLE=PICTURE: outer=#7a9e3f, "lining=leaves.jpg, repeat 60 mm".'

# After a picture, how wide one repeat is: `leaves.jpg, repeat 60 mm`, also without the comma.
_REPEAT = re.compile(
    r"^(?P<what>.*?)[\s,;]+repeat(?:ed|s)?(?:\s*[:=]|\s+every|)\s*(?P<width>.*)$", re.IGNORECASE
)
_HEX = re.compile(r"#(?:[0-9a-f]{3}){1,2}", re.IGNORECASE)
_OF_A_FILE = re.compile(r"[\\/]|\.\w{1,5}$")


def fabric_roles(file: RecipeFile) -> tuple[str, ...]:
    """The parts that fabrics have in a recipe, with every choice that it gives."""
    return tuple(dict.fromkeys([*file.fabrics, *(one.fabric for one in file.pieces.values())]))


def cloths_asked(
    typed: Sequence[str],
    roles: Sequence[str] | None,
    *,
    others_too: bool = False,
) -> Cloths:
    """Read what the fabrics look like.

    Parameters
    ----------
    typed : sequence of str
        One each.
    roles : sequence of str or None
        The parts that fabrics have in the recipe; None if it is not known.
    others_too : bool
        Whether parts that the recipe has not are left out and are no fault: of several recipes in
        a table each has its own.

    Returns
    -------
    mapping of role to Cloth

    Raises
    ------
    InputError
        With every fault.
    """
    faults, found = Faults(), dict[str, Cloth]()
    for word in typed:
        role, equals, what = (part.strip() for part in word.partition("="))
        role = "-".join(role.lower().split())
        if not equals or not role or not what:
            faults.append(
                Fault(f"I do not know what {as_typed(word)} is for", _OPTION, hint=_WRITE)
            )
            continue
        if roles is not None and role not in roles:
            if not others_too:
                faults.append(_no_role(role, roles))
            continue
        if role in found:
            faults.append(Fault("is given twice", f"{_OPTION} {role}"))
            continue
        cloth = faults.tried(lambda role=role, what=what: _cloth(what, f"{_OPTION} {role}"))  # type: ignore[misc]
        if cloth is not None:
            found[role] = cloth
    if faults:
        raise InputError(faults)
    return found


def _no_role(role: str, roles: Sequence[str]) -> Fault:
    there = ", ".join(roles)
    hint = did_you_mean(role, roles) or f"Its fabrics are {there}."
    return Fault(f"{as_typed(role)} is no fabric of this project", _OPTION, hint=hint)


def _cloth(what: str, where: str) -> Cloth:
    """One fabric: a picture where a repeat is said or it looks like a file, else a colour."""
    parts = _REPEAT.match(what)
    name, width = (parts["what"].strip(), parts["width"]) if parts else (what, "")
    if _HEX.fullmatch(name):
        return _plain(name, name, width, where, said=parts is not None)
    colours = _colour_names()
    colour = colours.get("".join(name.lower().split()))
    if colour is not None and not Path(name).is_file():
        return _plain(colour, name, width, where, said=parts is not None)
    if name.startswith("#"):
        text = f"{as_typed(name)} is no colour"
        raise InputError([Fault(text, where, hint="Write # and six digits of 0 to 9 and a to f.")])
    if not (_OF_A_FILE.search(name) or parts or Path(name).exists()):
        text = f"{as_typed(name)} is no colour and no picture"
        near = did_you_mean("".join(name.lower().split()), colours)
        raise InputError([Fault(text, where, hint=near or _WRITE)])
    return _print(name, width, where, said=parts is not None)


def _plain(colour: str, called: str, width: str, where: str, *, said: bool) -> Cloth:
    if said:
        text = f"a colour has no repeat, and {as_typed(width)} is said for one"
        raise InputError([Fault(text, where, hint="A repeat is the width of a picture.")])
    digits = colour.lower()
    if len(digits) == 4:
        digits = "#" + "".join(2 * digit for digit in digits[1:])
    return Cloth(digits, called)


def _print(name: str, width: str, where: str, *, said: bool) -> Cloth:
    from paramgen.cloths.print_picture import USUAL_REPEAT  # noqa: PLC0415  slow to load
    from paramgen.cloths.read_print import read_print  # noqa: PLC0415

    faults = Faults()
    repeat: float | None = USUAL_REPEAT
    if said:
        repeat = faults.tried(lambda: parse_length(width, name=f"{where}, repeat"))
    # A picture is looked at even where its repeat is wrong, so that both are told at once.
    read: Callable[[], Cloth] = lambda: read_print(Path(name), repeat=repeat or USUAL_REPEAT)  # noqa: E731
    cloth = faults.tried(read)
    if cloth is None or faults:
        raise InputError(faults)
    return cloth


def _colour_names() -> dict[str, str]:
    """Names of colours, of the W3C's CSS Color Module, with their codes."""
    from PIL import ImageColor  # noqa: PLC0415  slow to load

    return {name: code for name, code in ImageColor.colormap.items() if isinstance(code, str)}
