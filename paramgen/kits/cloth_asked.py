"""Cloth and how it is cut, as typed: `outer=110cm`, `lining=45 x 70 cm`, `outer=3 fat quarters`."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from paramgen.amounts.project_materials import materials
from paramgen.kits.cloth_there import (
    FAT_EIGHTH,
    FAT_QUARTER,
    SELVEDGE,
    SQUARING,
    ClothThere,
    Cutting,
    OneWay,
)
from paramgen.lengths import as_typed, parse_length, show_size_both
from paramgen.making import Made
from paramgen.mats.outlines_to_nest import Mat
from paramgen.nearest_word import did_you_mean
from paramgen.reference.typed_sizes import TIMES, read_size
from paramgen.supplies.fabric_amount import FUSED, USABLE
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.unit import Unit

#: What else is cut from a width, besides the fabrics of the projects.
INTERFACING, STABILISER = "interfacing", "stabiliser"

#: Sides of a mat, mm.
SMALLEST_MAT, LARGEST_MAT = 100.0, 2000.0

_FABRIC, _MAT = "--fabric", "--mat"
#: Before the repeat of a print on whose motifs pieces are centred; finer ones need no centring, mm.
_MOTIF, _LEAST_REPEAT = "motif", 5.0
_FAT = re.compile(r"(?:(\d{1,3}) )?fat (quarter|eighth)s?")
_NO_SELVEDGE = (INTERFACING, STABILISER, "batting")
_FORMS = (
    "Write a width such as 110cm or 44in, width x length of what is there, such as 50 x 70 cm, or "
    '"fat quarter".'
)


def cloth_asked(words: Sequence[str], roles: Iterable[str]) -> dict[str, tuple[ClothThere, ...]]:
    """Understand what was typed of cloth.

    Parameters
    ----------
    words : sequence of str
        ROLE=CLOTH each; a role may be named again for another cloth of it. After a comma:
        `one-way` or `one-way across`; `motif` and the repeat of the print, across x along.
    roles : iterable of str
        What can be cut from a cloth.

    Returns
    -------
    dict of role to ClothThere
        What is there first, what is bought last, if that is said.

    Raises
    ------
    InputError
        With every fault.
    """
    known, faults = list(dict.fromkeys(roles)), Faults()
    found: dict[str, list[ClothThere]] = {}
    for word in words:
        one = faults.tried(lambda word=word: _cloth(word, known))  # type: ignore[misc]
        if one is not None:
            found.setdefault(one.role, []).append(one)
    for role, several in found.items():
        faults.extend(_disagreeing(role, several))
    if faults:
        raise InputError(faults)
    return {role: tuple(sorted(several, key=lambda c: c.bought)) for role, several in found.items()}


def roles_of(mades: Iterable[Made]) -> Iterator[str]:
    """What can be cut from a cloth."""
    for made in mades:
        for cloth in materials(made).cloths:
            if cloth.sort != "trim":
                yield INTERFACING if cloth.sort == "interfacing" else cloth.role
    yield STABILISER


def with_usual(
    role: str, said: Sequence[ClothThere], cutting: Cutting, unit: Unit
) -> tuple[ClothThere, ...]:
    """The cloths of a role, the last of them bought: of the usual width unless that was said."""
    if said and said[-1].bought:
        return tuple(said)
    way = said[-1].one_way if said else OneWay.NO
    motif = said[-1].motif if said else None
    selvedges = 0 if role in _NO_SELVEDGE else 2
    width = FUSED[unit] if role == INTERFACING else USABLE[unit] + selvedges * cutting.selvedge
    width /= 1 - cutting.shrinkage
    bought = ClothThere(role=role, width=width, selvedges=selvedges, one_way=way, motif=motif)
    return (*said, bought)


def cutting_asked(
    unit: Unit,
    *,
    selvedge: str = "",
    squaring: str = "",
    layers: str = "",
    stages: str = "",
    shrinkage: str = "",
    mat: str = "",
) -> Cutting:
    """Understand how cloth is to be cut; each as usual where nothing was typed.

    Raises
    ------
    InputError
        With every fault.
    """
    faults = Faults()
    off = faults.tried(lambda: _length(selvedge, "--selvedge", SELVEDGE[unit]))
    end = faults.tried(lambda: _length(squaring, "--squaring", SQUARING[unit]))
    many = faults.tried(lambda: _layers(layers))
    steps = faults.tried(lambda: _stages(stages))
    lost = faults.tried(lambda: _shrinkage(shrinkage))
    on = faults.tried(lambda: _mat(mat))
    if faults or off is None or end is None or many is None or steps is None or lost is None:
        raise InputError(faults)
    return Cutting(selvedge=off, squaring=end, layers=many, stages=steps, shrinkage=lost, mat=on)


def _mat(typed: str) -> Mat | None:
    """A mat by its width and height; None where none was typed."""
    if not (word := typed.strip()):
        return None
    size = read_size(word, _MAT)
    if (
        size is None
        or len(size.lengths) != 2
        or not all(SMALLEST_MAT <= one <= LARGEST_MAT for one in size.lengths)
    ):
        least, most = (show_size_both(one, one, Unit.MM) for one in (SMALLEST_MAT, LARGEST_MAT))
        text = f"{as_typed(typed)} is no width x height of a mat from {least} to {most}"
        hint = "Write the part that the blade reaches: 30 x 60 cm."
        raise InputError([Fault(text, _MAT, hint=hint)])
    return Mat(width=size.width, height=size.height)


def _cloth(word: str, roles: Sequence[str]) -> ClothThere:
    role, equals, rest = (part.strip() for part in word.partition("="))
    if not equals or not rest:
        raise InputError([Fault(f"{as_typed(word)} says no cloth", _FABRIC, hint=_FORMS)])
    role = role.casefold()
    if role not in roles:
        hint = did_you_mean(role, roles) or f"There are {', '.join(roles)}."
        raise InputError([Fault(f"nothing is cut from `{role}`", _FABRIC, hint=hint)])
    said, *more = re.split(r",\s+", rest)
    one = _sold(role, said)
    for term in more:
        if term.casefold().startswith(_MOTIF):
            one = replace(one, motif=_motif(term, role))
            continue
        known = {way.value: way for way in OneWay if way is not OneWay.NO}
        plain = " ".join(term.casefold().split())
        if plain not in known:
            hint = did_you_mean(plain, known) or f"There are {', '.join((*known, _MOTIF))}."
            raise InputError(
                [Fault(f"{as_typed(term)} says nothing of a cloth", _FABRIC, hint=hint)]
            )
        one = replace(one, one_way=known[plain])
    if one.motif is not None and one.one_way is OneWay.NO:  # a motif has an upper end
        return replace(one, one_way=OneWay.ALONG)
    return one


def _motif(term: str, role: str) -> tuple[float, float]:
    """The repeat of a print on whose motifs pieces are centred."""
    where = f"{_FABRIC} {role}, {_MOTIF}"
    size = read_size(term[len(_MOTIF) :].strip(), where)
    if size is None or len(size.lengths) != 2 or min(size.lengths) < _LEAST_REPEAT:
        hint = "Write the repeat of the print, across x along the cloth, such as motif 8 x 12 cm."
        raise InputError([Fault(f"{as_typed(term)} is no repeat of a print", where, hint=hint)])
    return size.width, size.height


def _sold(role: str, said: str) -> ClothThere:
    plain = " ".join(said.casefold().replace("-", " ").split())
    sides = 0 if role in _NO_SELVEDGE else 2
    if fat := _FAT.fullmatch(plain):
        width, length = FAT_QUARTER if fat[2] == "quarter" else FAT_EIGHTH
        pieces = int(fat[1]) if fat[1] else None
        return ClothThere(
            role=role,
            width=width,
            length=length,
            pieces=pieces,
            bought=pieces is None,
            selvedges=min(sides, 1),
            called=f"fat {fat[2]}",
        )
    where = f"{_FABRIC} {role}"
    if TIMES.search(plain) and (size := read_size(said, where)):
        return ClothThere(
            role=role,
            width=size.width,
            length=size.height,
            bought=False,
            selvedges=sides,
        )
    try:
        width = parse_length(said, name=where)
    except InputError:
        raise InputError([Fault(f"{as_typed(said)} is no cloth", where, hint=_FORMS)]) from None
    return ClothThere(role=role, width=width, selvedges=sides)


def _disagreeing(role: str, several: Sequence[ClothThere]) -> Iterator[Fault]:
    where = f"{_FABRIC} {role}"
    if sum(one.bought for one in several) > 1:
        hint = "Give the length of what is there already: 110cm x 2m."
        yield Fault("more than one is to be bought", where, hint=hint)
    if len({one.one_way for one in several}) > 1:
        hint = "Say it of each, or give them names of their own in the recipe."
        yield Fault("its prints do not run the same way", where, hint=hint)
    if len({one.motif for one in several}) > 1:
        hint = "Say the repeat of each, or of none."
        yield Fault("its prints do not have the same repeat", where, hint=hint)


def _length(typed: str, where: str, usual: float) -> float:
    return parse_length(typed, name=where, zero=True) if typed.strip() else usual


def _layers(typed: str) -> int:
    word = typed.strip() or "4"
    if not (word.isascii() and word.isdigit() and 1 <= int(word[:4]) <= 12 and len(word) < 3):
        text = f"{as_typed(typed)} is no number of layers from 1 to 12"
        raise InputError([Fault(text, "--layers", hint="A rotary cutter goes through 4 well.")])
    return int(word)


def _stages(typed: str) -> int:
    word = typed.strip() or "2"
    if word not in ("2", "3"):
        text = f"{as_typed(typed)} is no number of stages"
        hint = "Write 2 for strips and pieces, or 3 for pieces behind each other in a strip."
        raise InputError([Fault(text, "--stages", hint=hint)])
    return int(word)


def _shrinkage(typed: str) -> float:
    word = typed.strip().removesuffix("%").strip() or "0"
    try:
        part = float(word.replace(",", ".")) / 100
    except ValueError:
        part = -1.0
    if not 0 <= part <= 0.2:
        text = f"{as_typed(typed)} is no shrinkage from 0 to 20 %"
        raise InputError([Fault(text, "--shrinkage", hint="Write 3%.")])
    return part
