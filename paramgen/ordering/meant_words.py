"""What is meant by words that a command does not take as they are typed: said once."""

import re
from collections.abc import Sequence
from contextlib import suppress
from itertools import takewhile

from paramgen.lengths import parse_length
from paramgen.recipe.built_in_lengths import NAMES
from paramgen.recipe.language import RecipeFile
from paramgen.recipe.other_words import option_meant
from paramgen.reference.typed_sizes import parts_of, read_size
from paramgen.vocabulary.findings import Fault, InputError


def names_of(file: RecipeFile) -> list[str]:
    """Every name that a recipe takes a value for."""
    return [*file.sizes, *file.counts, *file.choices, *file.lengths, *NAMES]


def paired(words: Sequence[str], file: RecipeFile | None) -> tuple[list[str], list[Fault]]:
    """Put words together as NAME=VALUE where it is plain what they mean.

    A shell parts words at spaces: `width=4 1/2 in` comes as three.

    Parameters
    ----------
    words : sequence of str
    file : RecipeFile or None
        What has these values, if it is known.

    Returns
    -------
    words : list of str
        NAME=VALUE each, as far as they are understood; the others are left out.
    faults : list of Fault
        One for all words that belong together.
    """
    found: list[str] = []
    faults: list[Fault] = []
    rest = [" ".join(word.split()) for word in words]
    while rest:
        count, meant = _first(rest, file)
        whole = " ".join(rest[:count])
        found += meant
        if not (meant and count == 1 and "=" in whole):
            faults.append(_unclear(whole, meant))
        rest = rest[count:]
    return found, faults


def _unclear(whole: str, meant: Sequence[str]) -> Fault:
    message = f"I do not know what `{whole}` is for"
    if not meant:
        hint = 'Write NAME=VALUE without spaces, or in quotes: "width=4 1/2in".'
        return Fault(message, hint=hint)
    said = " ".join(f'"{one}"' if " " in one or '"' in one else one for one in meant)
    return Fault(message, hint=f"Write NAME=VALUE without spaces, or in quotes: {said}")


def _first(rest: Sequence[str], file: RecipeFile | None) -> tuple[int, list[str]]:
    """How many of the first words belong together, and what they mean; nothing if unknown."""
    name, equals, value = (part.strip() for part in rest[0].partition("="))
    names = names_of(file) if file else []
    bare = [*takewhile(lambda word: "=" not in word, rest[1:])]
    if equals and name and value:
        return _longest(name, [value, *bare], 1)
    if equals and name and bare:  # width= 5in
        return _longest(name, bare, 2)
    if not equals and name.lower() in names and len(rest) > 1:
        after = rest[1]
        if after == "=" and len(rest) > 2:  # width = 5in
            further = takewhile(lambda word: "=" not in word, rest[2:])
            return _longest(name, list(further), 3)
        if after.startswith("=") and len(after) > 1:  # width =5in
            further = takewhile(lambda word: "=" not in word, rest[2:])
            return _longest(name, [after[1:], *further], 2)
        if bare:  # width 5in
            return _longest(name, bare, 2)
    if equals:
        return 1, []
    if file and (meant := option_meant(name, file)):
        return 1, list(meant)
    # Up to a name that has a value of its own.
    run = [rest[0], *takewhile(lambda word: word.lower() not in names, bare)]
    return len(run), _of_bare(" ".join(run), file)


def _longest(name: str, values: Sequence[str], before: int) -> tuple[int, list[str]]:
    """A name with as many of the words after it as make one length; at least with the first."""
    for count in range(len(values), 1, -1):
        if text := _length(" ".join(values[:count])):
            return before - 1 + count, [f"{name}={text}"]
    return before, [f"{name}={values[0]}"]


def _of_bare(text: str, file: RecipeFile | None) -> list[str]:
    """What words mean that name nothing: sizes in their order, or an option of a choice."""
    if file is None:
        return []
    sizes = list(file.sizes)
    try:
        size = read_size(text, "")
    except InputError:
        size = None
    if size is not None and len(sizes) > 1:
        parts = parts_of(text)
        unit = parts[-1][1] or ("in" if any("/" in number for number, _ in parts) else "")
        return [
            f"{name}={_close(f'{number} {own or unit}'.strip())}"
            for name, (number, own) in zip(sizes, parts, strict=False)
        ]
    if sizes and (length := _length(text)):
        return [f"{sizes[0]}={length}"]
    return list(option_meant(text, file))


def _length(text: str) -> str:
    """A length as it is typed, with its unit where a fraction says it; empty if it is none."""
    for whole in (text, f"{text}in"):
        with suppress(InputError):
            parse_length(whole, zero=True)
            return _close(whole)
    return ""


def _close(text: str) -> str:
    """A length with its unit close to it, which saves quotes."""
    return _BEFORE_UNIT.sub(r"\1", text)


_BEFORE_UNIT = re.compile(r" (mm|cm|in)$")
