"""Things to hold: the listed ones, a person's own, and any size that is typed."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path

from paramgen.installed import shared
from paramgen.lengths import LONGEST_TEXT, TOLERANCE, as_typed, show_size
from paramgen.nearest_word import did_you_mean
from paramgen.reference.own_folder import own
from paramgen.reference.typed_sizes import TIMES, read_size, spaced, which_unit
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

#: A size without a unit, all of it under this many mm, is in another unit: nothing so small is
#: put in a pocket. Common practice, no source.
LEAST_THING = 20.0
#: Source of a size that is typed.
TYPED = "as typed"
#: So many things are named to choose from.
_MOST_NAMED = 6
#: No pocket holds more.
MOST_OF_EACH = 500

# An x within a word is no sign: `4 x-ray films`, `lunch box 2`.
_BEFORE = re.compile(r"(?P<number>[0-9]+)(?: of | ?(?:x(?=[ 0-9])|[×*✕✖]) ?| )(?P<rest>.+)")
_AFTER = re.compile(r"(?P<rest>.*\S)(?: ?[×*✕✖] ?| x ?|(?<=mm|cm|in)x ?)(?P<number>[0-9]+)")
_UNIT_APART = re.compile(r"(?<=[0-9]) (?=(?:mm|cm|in)\b)")


@dataclass(frozen=True, kw_only=True)
class Thing:
    """A thing to hold.

    Parameters
    ----------
    name : str
        As listed; made from the size for one that is not.
    width, height, thickness : float
        Closed or folded as it is put away, mm; thickness 0 where it does not count.
    also : str
        Its second name; empty if it has none.
    source : str
        Where the size is from: a standard, `common practice, no source`, `from memory`.
    words : tuple of str
        What else finds it, where no name does: `card`, `money`.
    """

    name: str
    width: float
    height: float
    thickness: float = 0.0
    also: str = ""
    source: str = ""
    words: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """Both names, or the one."""
        return (self.name, self.also) if self.also else (self.name,)

    @property
    def title(self) -> str:
        """What it is called beside its size: a thing, if that is all that is known of it."""
        return "thing" if self.source == TYPED else self.name


@dataclass(frozen=True)
class SeveralThings:
    """A thing and how many of it."""

    thing: Thing
    number: int = 1


def own_things() -> Path:
    """Tell where a person's own things are read from; the file need not be there."""
    return own("things.toml")


def listed_things(extra: Path | None = None) -> tuple[Thing, ...]:
    """Read the common things and after them a person's own.

    Parameters
    ----------
    extra : Path or None
        A file in the form of `shared/things.toml`, in which a length may also be a text
        with a unit, and only name, width and height must be given. If it is not there,
        there are no more.

    Raises
    ------
    InputError
        With every fault of both files, as `hoops.listed` does.
    """
    from paramgen.reference.things_file import read_things  # noqa: PLC0415 (it reads things)

    return read_things(shared() / "things.toml", extra)


def find_thing(text: str, things: Sequence[Thing], *, where: str = "thing") -> Thing:
    """Find the thing a person means.

    Parameters
    ----------
    text : str
        A listed name in any case, one or several (`passports`); or a size, width before
        height, with its thickness if it counts: `90x150mm`, `4 x 6 in`, `90x150x3mm`. Without
        a unit it is millimetres.
    things : sequence of Thing
        The listed ones.
    where : str
        What every message starts with.

    Raises
    ------
    InputError
        For what is neither, and for a size without a unit that cannot be millimetres.
    """
    key = thing_key(text)
    for thing in things:
        if key in map(thing_key, thing.names):
            return thing
    for thing in things:
        if key in map(thing_key, thing.words):
            return thing
    turned = [one for one in things if _in_any_order(key) in map(_in_any_order, one.names)]
    if len(turned) == 1:  # `phone large`
        return turned[0]
    size = read_size(text, where, most=3)
    if size is None:
        names = [name for thing in things for name in (*thing.names, *thing.words)]
        which = _there_are(key, things) or did_you_mean(key, names)
        which = which or "`paramgen things` lists them."
        hint = f"{which} Write any other as a size: 90x150mm or 3.5x6in."
        raise InputError([Fault(f"{as_typed(text)} is not a thing known here.", where, hint=hint)])
    if size.bare and (size.unit is Unit.INCH or max(size.lengths) < LEAST_THING):
        raise InputError([which_unit(text, size, where, "anything a pocket is made for")])
    thickness = size.lengths[2] if len(size.lengths) > 2 else 0.0
    if too_thick(size.width, size.height, thickness):
        message = f"{as_typed(text)} is thicker than it is wide or high."
        hint = "Write width x height x thickness; several of a size as 4 of 90x150mm."
        raise InputError([Fault(message, where, hint=hint)])
    name = show_size(size.width, size.height, size.unit)
    return Thing(name=name, width=size.width, height=size.height, thickness=thickness, source=TYPED)


def find_several(text: str, things: Sequence[Thing], *, where: str = "thing") -> SeveralThings:
    """Find the thing a person means, and how many of it.

    Parameters
    ----------
    text : str
        As `find_thing` takes it, alone or with a number of each: `4 bank cards`,
        `4 x bank card`, `bank card x4`, `90x150mm x4`, `4 of 90x150mm`. What is itself a
        name or a size is that first: a `5 euro note` is one note, `4 x 6 in` a size.
    things : sequence of Thing
    where : str
        What every message starts with.

    Raises
    ------
    InputError
        As `find_thing` does, and for more than 500 or none of a thing.
    """
    problem: InputError | None = None
    for number, name in _readings(text):
        try:
            thing = find_thing(name, things, where=where)
        except InputError as refused:
            # The last tells most of what was meant: what is left of `4 bank crads`.
            problem = refused
            continue
        if number is not None and not 1 <= number <= MOST_OF_EACH:
            message = f"{as_typed(text)} is {number} of a thing; 1 to {MOST_OF_EACH} can be held."
            raise InputError([Fault(message, where)])
        return SeveralThings(thing, 1 if number is None else number)
    assert problem is not None
    raise problem


def _there_are(key: str, things: Sequence[Thing]) -> str:
    """Name the things whose names have all the words of what was typed; empty if none has."""
    wanted = set(key.split(" "))
    near = [
        thing.name
        for thing in things
        if any(wanted <= set(thing_key(name).split(" ")) for name in (*thing.names, *thing.words))
    ]
    if len(near) == 1:
        return f"Did you mean `{near[0]}`?"
    if not near:
        return ""
    more = f", and {len(near) - _MOST_NAMED} more" if len(near) > _MOST_NAMED else ""
    return f"There are {', '.join(near[:_MOST_NAMED])}{more}."


@lru_cache(maxsize=1000)
def thing_key(name: str) -> str:
    """Write a name so that all ways of writing it are equal, one or several.

    >>> thing_key("Bank  Cards"), thing_key("Glasses"), thing_key("4 × 6 in photos")
    ('bank card', 'glass', '4x6in photo')
    """
    plain = TIMES.sub("x", spaced(name[: 2 * LONGEST_TEXT + 1])).replace("-", " ")
    return " ".join(_single(word) for word in _UNIT_APART.sub("", plain).split(" "))


def _in_any_order(name: str) -> tuple[str, ...]:
    """The words of a name; equal whichever comes first."""
    return tuple(sorted(thing_key(name).split(" ")))


def too_thick(width: float, height: float, thickness: float) -> bool:
    """Whether a thickness is not the least of three sizes."""
    return thickness > min(width, height) + TOLERANCE


def belies_size(name: str, width: float, height: float) -> bool:
    """Whether a name states a size that is not this one."""
    try:
        size = read_size(name, "thing", most=3)
    except InputError:
        return True
    return size is not None and not size.same(width, height)


def _single(word: str) -> str:
    """One of several.

    >>> _single("licences"), _single("boxes"), _single("keys"), _single("pass"), _single("ties")
    ('licence', 'box', 'key', 'pass', 'tie')
    >>> _single("batteries"), _single("battery")
    ('battery', 'battery')
    """
    if re.search(r"(?:ss|x|ch|sh)es$", word):
        return word[:-2]
    one = word[:-1] if re.search(r"[^su]s$", word) else word
    return f"{one[:-2]}y" if re.search(r"...[^aeiou]ie$", one) else one


def _readings(text: str) -> Iterator[tuple[int | None, str]]:
    """Ways to part a text into a number and a thing, the likeliest first."""
    yield from _digits_for_words(text)
    tidy = spaced(text)
    after, before = _AFTER.fullmatch(tidy), _BEFORE.fullmatch(tidy)
    short = len(tidy) <= 2 * LONGEST_TEXT
    # `90x150mm x4`: after a unit, a bare number is no thickness.
    if short and after and len(after["number"]) <= 6 and _ends_in_unit(after["rest"]):
        yield int(after["number"]), after["rest"]
    yield None, text
    if _is_size(text):
        return  # 20x30x40mm is not 20 of 30x40mm
    if short and after and len(after["number"]) <= 6:
        yield int(after["number"]), after["rest"]
    if short and before and len(before["number"]) <= 6:
        yield int(before["number"]), before["rest"]


#: Numbers that people write as words.
_WORDS = (
    *("one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)
_IN_WORDS = re.compile(rf"({'|'.join(_WORDS)}|a|an) (?:of )?(.+)")


def _digits_for_words(text: str) -> Iterator[tuple[int | None, str]]:
    """`six bank cards`, where the number is written as a word; a name may begin with one."""
    found = _IN_WORDS.fullmatch(spaced(text)) if len(text) <= 2 * LONGEST_TEXT else None
    if found:
        number = _WORDS.index(found[1]) + 1 if found[1] in _WORDS else 1
        yield None, text
        yield number, found[2]


def _ends_in_unit(text: str) -> bool:
    return bool(re.search(r"[0-9] ?(?:mm|cm|m|in|inch|inches|\"|″|”)$", text)) and _is_size(text)


def _is_size(text: str) -> bool:
    try:
        return read_size(text, "thing", most=3) is not None
    except InputError:
        return True
