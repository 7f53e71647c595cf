"""From the words of the command line to an order, with every fault in them at once."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from paramgen.booklet.said import BookletLength
from paramgen.cli.meant_words import paired
from paramgen.cli.shared_workshop import workshop
from paramgen.copies.copies_in_hoop import CopiesInHoop
from paramgen.files.format_choice import formats_named
from paramgen.files.formats import FORMATS, Format
from paramgen.hooping import Room
from paramgen.lengths import as_typed, is_inch, parse_length, show, split_unit
from paramgen.making import Order
from paramgen.nearest_word import did_you_mean
from paramgen.papers.printing import MARGIN, SQUARE, Printing, faults_of, parse_printed
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.hoops import Hoop, find_hoop, listed, own_file, with_mine
from paramgen.reference.paper_sizes import default_paper, find_paper, listed_papers
from paramgen.reference.settings import own_settings, read_settings
from paramgen.sizing import size
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.unit import Unit


@dataclass(frozen=True, kw_only=True)
class TypedRequest:
    """What was typed.

    Parameters
    ----------
    recipe : str
        Empty where there is one for each row of a table.
    values : sequence of str
        NAME=VALUE each.
    hoop, unit, margin, files, scale, paper, paper_margin, printed, booklet : str
        Empty where they were not given.
    may_turn : bool
    whole_pieces : bool
        Whether no template is half of a piece.
    copies : str
        A number or `most`; empty where it was not given.
    singly : bool
        No piece is one sheet over all copies.
    more_hoops : sequence of str
        Asked in turn after the first; where that is empty, as the person said once.
    usual_unit : str
        Shown first if nothing that is typed has a unit.
    title, holds : str
        What it is called, and what it is made to hold; empty where they were not given.
    """

    recipe: str = ""
    values: Sequence[str] = ()
    hoop: str = ""
    unit: str = ""
    margin: str = ""
    files: str = ""
    scale: str = ""
    may_turn: bool = True
    paper: str = ""
    paper_margin: str = ""
    printed: str = ""
    whole_pieces: bool = False
    booklet: str = ""
    copies: str = ""
    singly: bool = False
    title: str = ""
    holds: str = ""
    more_hoops: Sequence[str] = ()
    usual_unit: str = ""


@dataclass(frozen=True)
class UnderstoodRequest:
    """What was asked, understood."""

    order: Order
    hoops: tuple[Hoop, ...]
    formats: tuple[Format, ...]
    printing: Printing
    form: BookletLength = BookletLength.SHORT


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


def asked(
    words: TypedRequest,
    *,
    find: Callable[[str], Recipe] | None = None,
    among: tuple[Hoop, ...] | None = None,
    hoop_by: str = "--hoop",
) -> UnderstoodRequest:
    """Understand what was typed.

    Parameters
    ----------
    words : TypedRequest
    find : callable or None
        Reads the recipe of a name or path; the workshop of this run if None.
    among : tuple of Hoop or None
        The hoops there are, if they are read already.
    hoop_by : str
        The option that says the hoop.

    Raises
    ------
    InputError
        With every fault in it.
    """
    faults = Faults()
    recipe = faults.tried(lambda: (find or workshop().recipe)(words.recipe))
    together, apart = paired(words.values, recipe.file if recipe else None)
    values, unclear = pairs(together)
    faults.extend([*apart, *unclear])
    typed = [*values.values(), words.hoop, words.margin]
    unit = faults.tried(lambda: unit_asked(words.unit, typed, words.usual_unit)) or Unit.MM
    hoops = among or faults.tried(known_hoops) or ()
    chosen = [
        faults.tried(lambda name=name: _hoop(name, hoops, hoop_by))  # type: ignore[misc]
        for name in (hoops_asked(words) or [""])
        if hoops
    ]
    hoop, *others = chosen or [None]
    margin = faults.tried(lambda: parse_length(words.margin or "0", name="--margin", zero=True))
    for one in chosen:
        if one is not None and margin is not None:
            faults.extend(_too_large(margin, one, unit))
    formats = faults.tried(lambda: _formats(words.files))
    scale = faults.tried(lambda: _scale(words.scale))
    printing = faults.tried(lambda: _printing(words, unit))
    form = faults.tried(lambda: _form(words.booklet))
    copies = faults.tried(lambda: copies_asked(words.copies))
    asks: Mapping[str, str | float] = values
    title = faults.tried(lambda: _title(words.title))
    times = 1.0 if scale is None else scale
    if recipe is not None:
        recipe = replace(recipe, title=title or "")
        recipe, asks = _sized(recipe, values, unit, times, words.holds, faults)
    if (
        faults
        or recipe is None
        or hoop is None
        or margin is None
        or formats is None
        or scale is None
        or printing is None
        or form is None
        or copies is None
    ):
        raise InputError(faults)
    room = Room(hoop, margin, words.may_turn)
    further = tuple(Room(one, margin, words.may_turn) for one in others if one is not None)
    order = Order(recipe, asks, room, unit, scale, copies, words.singly, further)
    return UnderstoodRequest(order, hoops, formats, printing, form)


def _title(typed: str) -> str:
    if not typed:
        return ""
    from paramgen.cli.titles import title_asked  # few need it

    return title_asked(typed)


def _sized(
    recipe: Recipe,
    values: dict[str, str],
    unit: Unit,
    times: float,
    holds: str,
    faults: Faults,
) -> tuple[Recipe, Mapping[str, str | float]]:
    """The recipe named for what it holds, and what is asked of it, which it takes."""
    if faults.tried(lambda: size(recipe, values, unit=unit, scale=times)) is None or not holds:
        return recipe, values
    from paramgen.cli.things_to_hold import holding  # few need it

    found = faults.tried(lambda: holding(recipe, values, unit, holds))
    if found is None:
        return recipe, values
    faults.tried(lambda: size(found[0], found[1], unit=unit, scale=times))
    return found


def pairs(values: Iterable[str]) -> tuple[dict[str, str], list[Fault]]:
    """Part each NAME=VALUE at its first equals sign.

    Returns
    -------
    values : dict of name to what follows the sign
    faults : list of Fault
        For each that has no sign, or names a thing again.
    """
    found: dict[str, str] = {}
    faults = []
    for word in values:
        name, equals, value = (part.strip() for part in word.partition("="))
        name = name.lower()
        if not equals or not name or not value:
            hint = 'Write NAME=VALUE without spaces, or in quotes: "width=4 1/2in".'
            faults.append(Fault(f"`{word}` does not say what is what", hint=hint))
        elif name in found:
            faults.append(Fault(f"is given twice, `{found[name]}` and `{value}`", name))
        else:
            found[name] = value
    return found, faults


def hoops_asked(words: TypedRequest) -> list[str]:
    """The hoops to be asked in turn, each once."""
    names = [words.hoop, *words.more_hoops]
    return [*dict.fromkeys(name for name in names if name.strip())]


def unit_asked(typed: str, values: Iterable[str] = (), usual: str = "") -> Unit:
    """The unit asked for; else that of the first value typed with one; else the usual one."""
    if typed:
        known = {"mm": Unit.MM, "in": Unit.INCH, "inch": Unit.INCH, "inches": Unit.INCH}
        if typed.strip().lower() not in known:
            hint = did_you_mean(typed, known) or "There are mm and in."
            raise InputError([Fault(f"`{typed}` is no unit", "--unit", hint=hint)])
        return known[typed.strip().lower()]
    written = [split_unit(value)[1] for value in values]
    first = next((unit for unit in written if unit), usual or "mm")
    return Unit.INCH if is_inch(first) else Unit.MM


def _hoop(typed: str, hoops: tuple[Hoop, ...], where: str) -> Hoop:
    if not typed.strip():
        names = ", ".join(hoop.name for hoop in hoops)
        hint = (
            f"There are {names}, and any WIDTHxHEIGHT such as 140x200mm. Say once which are yours: "
            "paramgen settings --hoop 130x180"
        )
        raise InputError([Fault("say which hoop", where, hint=hint)])
    return find_hoop(typed, hoops, where=where)


def _too_large(margin: float, hoop: Hoop, unit: Unit) -> Iterator[Fault]:
    """Fault of a margin that leaves nothing of a hoop's field."""
    half = min(hoop.width, hoop.height) / 2
    if margin >= half:
        text = f"{show(margin, unit)} all round leaves nothing of the field of {hoop.name}"
        yield Fault(text, "--margin", hint=f"It must be less than {show(half, unit)}.")


def copies_asked(typed: str) -> CopiesInHoop:
    """How many copies: 1 unless something was typed."""
    word = typed.strip().lower()
    if word == "most":
        return "most"
    if word and not (word.isascii() and word.isdigit() and int(word[: _DIGITS + 1]) > 0):
        text = f"{as_typed(typed)} is no number of copies"
        raise InputError([Fault(text, "--copies", hint="Write a whole number from 1, or most.")])
    if len(word) > _DIGITS:
        text = f"{as_typed(typed)} copies lie in no hoop"
        raise InputError([Fault(text, "--copies", hint="Write most for as many as fit.")])
    return int(word or "1")


#: More digits than a number of copies has.
_DIGITS = 6


def _scale(typed: str) -> float:
    try:
        return float(typed or "1")
    except ValueError:
        hint = "Write 1.2 for finished sizes a fifth larger."
        raise InputError(
            [Fault(f"{as_typed(typed)} is not a number", "--scale", hint=hint)]
        ) from None


def _formats(typed: str) -> tuple[Format, ...]:
    names = [name for name in typed.replace(" ", ",").split(",") if name]
    return formats_named(names) if names and names != ["all"] else FORMATS


def _form(typed: str) -> BookletLength:
    known = {form.value: form for form in BookletLength}
    wanted = typed.strip().lower() or BookletLength.SHORT.value
    if wanted not in known:
        hint = did_you_mean(wanted, known) or f"There are {' and '.join(known)}."
        raise InputError(
            [Fault(f"{as_typed(typed)} is no form of the booklet", "--booklet", hint=hint)]
        )
    return known[wanted]


def _printing(words: TypedRequest, unit: Unit) -> Printing:
    """How the papers are printed, with every fault in what was said of it."""
    papers, faults = listed_papers(), Faults()
    paper = faults.tried(
        lambda: (
            find_paper(words.paper, papers, where="--paper")
            if words.paper.strip()
            else default_paper(unit, papers)
        )
    )
    margin = faults.tried(
        lambda: (
            parse_length(words.paper_margin, name="--paper-margin", zero=True)
            if words.paper_margin
            else MARGIN
        )
    )
    square = faults.tried(
        lambda: parse_printed(words.printed) if words.printed else (SQUARE, SQUARE)
    )
    if paper is not None and margin is not None and square is not None:
        printing = Printing(paper, margin, square, halves=not words.whole_pieces)
        faults.extend(faults_of(printing, unit))
        if not faults:
            return printing
    raise InputError(faults)
