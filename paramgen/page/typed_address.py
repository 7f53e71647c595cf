"""The address of a page: all that was asked, as it was typed.

What a recipe asks for stands with `my.` before its name, so that no recipe's word is mistaken for
one of the page's own: `recipe=coaster&my.width=4in&hoop=5x7in`.
"""

from collections.abc import Iterator
from urllib.parse import parse_qsl, urlencode

from paramgen.nearest_word import did_you_mean
from paramgen.ordering.typed_request import TypedRequest
from paramgen.vocabulary.findings import Fault
from paramgen.vocabulary.frozen_data import dataclass

#: Before the name of what a recipe asks for.
OWN = "my."

#: Entries of an address that are a text each, and those that are there or not.
TEXTS = (
    "recipe",
    "hoop",
    "unit",
    "margin",
    "copies",
    "holds",
    "title",
    "on",
    "scale",
    "files",
    "paper",
    "paper_margin",
    "printed",
    "booklet",
)
#: Entry that may stand several times, for each fabric once.
CLOTH = "cloth"
FLAGS = ("upright", "whole_pieces", "singly")

#: Entries that the form of a project does not ask for, and keeps.
KEPT = ("scale", "files", "paper", "paper_margin", "printed", "booklet", "whole_pieces", "singly")

#: Entries that say how it is looked at, and nothing of what it is.
LOOKS = ("step", "side")

#: Before the names of entries of a kit, which its view reads (`kit_in_address.py`).
KIT = "kit."

#: The same, of views that read them themselves.
OTHER_LOOKS = ("over", "row", "columns")

#: An address is no longer than this, and has no more entries.
MOST_LETTERS, MOST_ENTRIES = 8000, 400


@dataclass(frozen=True)
class AskedInAddress:
    """What an address asks for.

    Parameters
    ----------
    words : TypedRequest
    faults : tuple of Fault
        Of entries that are not known, or stand twice.
    """

    words: TypedRequest
    faults: tuple[Fault, ...] = ()


def asked_in(query: str) -> AskedInAddress:
    """Read an address.

    Parameters
    ----------
    query : str
        What stands after its question mark.

    Examples
    --------
    >>> found = asked_in("recipe=coaster&my.width=4+in&hoop=5x7in&hoop=100x100")
    >>> found.words.recipe, found.words.values, found.words.hoop, found.words.more_hoops
    ('coaster', ('width=4 in',), '5x7in', ('100x100',))
    >>> asked_in("recipe=coaster&hop=5x7in").faults[0].hint
    'Did you mean `hoop`?'
    >>> asked_in("").words == TypedRequest()
    True
    """
    if len(query) > MOST_LETTERS:
        return AskedInAddress(TypedRequest(), (Fault("the address is too long"),))
    try:
        entries = parse_qsl(query, keep_blank_values=True, max_num_fields=MOST_ENTRIES)
    except ValueError:
        return AskedInAddress(TypedRequest(), (Fault("the address has too many entries"),))
    texts: dict[str, str] = {}
    values: dict[str, str] = {}
    flags: set[str] = set()
    hoops: list[str] = []
    cloths: list[str] = []
    faults: list[Fault] = []
    for key, value in entries:
        if key.startswith(OWN) and key.removeprefix(OWN):
            name = key.removeprefix(OWN)
            if name in values:
                faults.append(Fault("is given twice", name))
            elif value.strip():
                values[name] = value
        elif key == "hoop":
            hoops += [value] if value.strip() else []
        elif key == CLOTH:
            cloths += [value] if value.strip() else []
        elif key in TEXTS:
            if key in texts:
                faults.append(Fault("is given twice", key))
            texts[key] = value
        elif key in FLAGS:
            flags.add(key)
        elif key in LOOKS or key in OTHER_LOOKS or key.startswith(KIT):
            continue
        else:
            hint = did_you_mean(key, (*TEXTS, CLOTH, *FLAGS))
            faults.append(Fault("no entry of an address has this name", key, hint=hint))
    words = TypedRequest(
        **texts,
        values=tuple(f"{name}={value}" for name, value in values.items()),
        hoop=hoops[0] if hoops else "",
        more_hoops=tuple(hoops[1:]),
        cloths=tuple(cloths),
        may_turn="upright" not in flags,
        whole_pieces="whole_pieces" in flags,
        singly="singly" in flags,
    )
    return AskedInAddress(words, tuple(faults))


def address_of(words: TypedRequest) -> str:
    """Write the address that asks for something.

    Returns
    -------
    str
        What stands after the question mark.

    Examples
    --------
    >>> words = TypedRequest(recipe="coaster", values=("width=4 in",), hoop="5x7in")
    >>> address_of(words)
    'recipe=coaster&my.width=4+in&hoop=5x7in'
    >>> asked_in(address_of(words)).words == words
    True
    """
    return urlencode([*entries_of(words)])


def entries_of(words: TypedRequest) -> Iterator[tuple[str, str]]:
    """The entries of the address that asks for something, by name."""
    if words.recipe:
        yield "recipe", words.recipe
    for pair in words.values:
        name, _, value = pair.partition("=")
        yield f"{OWN}{name}", value
    for hoop in (words.hoop, *words.more_hoops):
        if hoop:
            yield "hoop", hoop
    for key in TEXTS[2:]:
        value = getattr(words, key)
        if value:
            yield key, value
    yield from ((CLOTH, cloth) for cloth in words.cloths if cloth.strip())
    flags = (not words.may_turn, words.whole_pieces, words.singly)
    yield from ((key, "1") for key, there in zip(FLAGS, flags, strict=True) if there)
