"""From the words of the command line to an order, with every fault in them at once."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace

from paramgen.booklet.booklet_length import BookletLength
from paramgen.copies.copies_in_hoop import CopiesInHoop
from paramgen.files.format_choice import formats_named
from paramgen.files.formats import FORMATS, Format
from paramgen.hooping import Room
from paramgen.layout.panel_names import panel_faults
from paramgen.lengths import as_typed, parse_length, show
from paramgen.making import Order
from paramgen.nearest_word import did_you_mean
from paramgen.ordering.cloths_asked import PrintReader, cloths_asked, fabric_roles, read_print
from paramgen.ordering.embellishments_typed import MotifReader, embellishments_typed, read_motif
from paramgen.ordering.known_lists import known_hoops, unit_asked
from paramgen.ordering.meant_words import names_of, paired
from paramgen.ordering.things_to_hold import holding
from paramgen.ordering.titles import title_asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.papers.printing import MARGIN, SQUARE, Printing, faults_of, parse_printed
from paramgen.recipe.read_recipe import Recipe, find_recipe
from paramgen.reference.hoops import Hoop, find_hoop
from paramgen.reference.paper_sizes import default_paper, find_paper, listed_papers
from paramgen.vocabulary.cloth import Cloths
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.works import AFRESH, Works


@dataclass(frozen=True, kw_only=True)
class UnderstoodRequest:
    """What was asked, understood."""

    order: Order
    hoops: tuple[Hoop, ...]
    formats: tuple[Format, ...]
    printing: Printing
    form: BookletLength = BookletLength.SHORT
    cloths: Cloths = field(default_factory=dict)


def asked(
    words: TypedRequest,
    *,
    find: Callable[[str], Recipe] = find_recipe,
    among: tuple[Hoop, ...] | None = None,
    hoop_by: str = "--hoop",
    read: PrintReader = read_print,
    motifs: MotifReader = read_motif,
    works: Works = AFRESH,
) -> UnderstoodRequest:
    """Understand what was typed.

    Parameters
    ----------
    words : TypedRequest
    find : callable
        Reads the recipe of a name or path.
    among : tuple of Hoop or None
        The hoops there are, if they are read already.
    hoop_by : str
        The option that says the hoop.
    read : callable
        Gives the picture of a print by its name: from the file of that name, unless another
        is given.
    motifs : callable
        Gives the motif in a stitch file by its name, in the same way.
    works : Works
        Keeps the numbers, which are worked out to find what is wrong with what was typed.

    Raises
    ------
    InputError
        With every fault in it.
    """
    faults = Faults()
    recipe = faults.tried(lambda: find(words.recipe))
    together, apart = paired(words.values, recipe.file if recipe else None)
    values, unclear = pairs(together)
    if recipe is not None:
        unclear += _options_as_values(values, names_of(recipe.file))
    faults.extend([*apart, *unclear])
    typed = [*values.values(), words.margin]
    called = [words.hoop]
    unit = faults.tried(lambda: unit_asked(words.unit, typed, words.usual_unit, called)) or Unit.MM
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
    roles = fabric_roles(recipe.file) if recipe else None
    cloths = faults.tried(lambda: cloths_asked(words.cloths, roles, read))
    asks: Mapping[str, str | float] = values
    title = faults.tried(lambda: title_asked(words.title))
    times = 1.0 if scale is None else scale
    stitched_on = faults.tried(lambda: embellishments_typed(words.on, motifs))
    if recipe is not None:
        recipe = replace(recipe, title=title or "", on=stitched_on or ())
        recipe, asks = _sized(recipe, values, unit, times, words, faults, works)
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
        or cloths is None
    ):
        raise InputError(faults)
    room = Room(hoop, margin, words.may_turn)
    further = tuple(Room(one, margin, words.may_turn) for one in others if one is not None)
    order = Order(recipe, asks, room, unit, scale, copies, words.singly, further)
    return UnderstoodRequest(
        order=order, hoops=hoops, formats=formats, printing=printing, form=form, cloths=cloths
    )


def _sized(
    recipe: Recipe,
    values: dict[str, str],
    unit: Unit,
    times: float,
    words: TypedRequest,
    faults: Faults,
    works: Works,
) -> tuple[Recipe, Mapping[str, str | float]]:
    """The recipe named for what it holds, and what is asked of it, which it takes."""
    sized = faults.tried(lambda: works.sized(recipe, values, unit=unit, scale=times))
    if sized is not None:
        faults.extend(panel_faults(sized, words.on))
    if sized is None or not words.holds:
        return recipe, values
    found = faults.tried(lambda: holding(recipe, values, unit, words.holds))
    if found is None:
        return recipe, values
    faults.tried(lambda: works.sized(found[0], found[1], unit=unit, scale=times))
    return found


#: Options that are easily taken for values of a recipe.
_OPTIONS = (
    "hoop",
    "title",
    "holds",
    "copies",
    "files",
    "unit",
    "margin",
    "scale",
    "paper",
    "out",
    "cloth",
    "on",
)


def _options_as_values(values: dict[str, str], names: Sequence[str]) -> list[Fault]:
    """Fault of each option that is typed as a value; it is no longer one of the values."""
    mistaken = [name for name in _OPTIONS if name in values and name not in names]
    return [
        Fault("is an option", name, hint=f"Write {_as_option(name, values.pop(name))}.")
        for name in mistaken
    ]


def _as_option(name: str, value: str) -> str:
    return f'--{name} "{value}"' if " " in value else f"--{name} {value}"


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
            faults.append(Fault(f"I do not know what `{word}` is for", hint=hint))
        elif name in found:
            faults.append(Fault(f"is given twice, `{found[name]}` and `{value}`", name))
        else:
            found[name] = value
    return found, faults


def hoops_asked(words: TypedRequest) -> list[str]:
    """The hoops to be asked in turn, each once."""
    names = [words.hoop, *words.more_hoops]
    return [*dict.fromkeys(name for name in names if name.strip())]


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
