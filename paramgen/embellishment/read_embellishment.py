"""Reading what is asked for on a panel: `lower outer=quilting:diagonal,20mm`."""

import re
from dataclasses import dataclass, field

from paramgen.embellishment.embellishment_kind import EmbellishmentKind
from paramgen.embellishment.kind_options import (
    MOST_ASKED,
    Embellishment,
    KindOption,
    MeasureOption,
    OptionValue,
    TextOption,
    WordOption,
)
from paramgen.embellishment.listed_kinds import KINDS
from paramgen.embellishment.panels_asked import ON, QUOTES, parted, where_asked
from paramgen.lengths import as_typed, parse_length, show
from paramgen.nearest_word import did_you_mean
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.unit import Unit

#: No text of one is longer.
LONGEST_ASKED = 4_200

_WRITE = 'Write PANEL=KIND:WHAT, as in "lower outer=quilting:diagonal,20mm".'
_NUMBER = re.compile(r"[-+]?\d+(?:\.\d+)?\s*(?:°|deg|degrees)?")


def embellishments_asked(typed: str) -> tuple[Embellishment, ...]:
    """Read all that a person asks for.

    Parameters
    ----------
    typed : str
        PANEL=KIND:WHAT, several with semicolons between.

    Raises
    ------
    InputError
        With every fault in them.

    Examples
    --------
    >>> (one,) = embellishments_asked("lower outer = quilting: diagonal, 20 mm")
    >>> one.panel, one.kind, one.given
    ('lower outer', 'quilting', (('direction', 'diagonal'), ('spacing', 20.0)))
    >>> one.text
    'quilting:diagonal,20mm'
    """
    faults: list[Fault] = []
    found: list[Embellishment] = []
    words = parted(typed, ";")
    for word in words:
        panel, equals, what = (part.strip() for part in word.partition("="))
        if not equals or not panel or not what:
            faults.append(Fault(f"I do not know what {as_typed(word)} is for", ON, hint=_WRITE))
            continue
        try:
            found.append(read_embellishment(what, panel, where_asked(panel)))
        except InputError as problem:
            faults.extend(problem.faults)
    if len(words) > MOST_ASKED:
        hint = f"Ask for {MOST_ASKED} at most."
        faults.append(Fault(f"{len(words)} are asked for", ON, hint=hint))
    if faults:
        raise InputError(faults)
    return tuple(found)


def _quoted(bit: str) -> str | None:
    """What stands in quotes; None if it is in none."""
    closed = len(bit) > 1 and QUOTES.get(bit[0]) == bit[-1]
    return bit[1:-1] if closed else None


def read_embellishment(text: str, panel: str, where: str) -> Embellishment:
    """Read what is asked for on one panel: `quilting:diagonal,20mm`.

    Parameters
    ----------
    text : str
    panel : str
        As it is called.
    where : str
        Where it stands, for messages.

    Raises
    ------
    InputError
        With every fault in it.
    """
    if len(text) > LONGEST_ASKED:
        message = f"what stands there is {len(text):,} letters long; {LONGEST_ASKED:,} are enough"
        raise InputError([Fault(message, where)])
    name, _, rest = (part.strip() for part in text.partition(":"))
    kind = KINDS.get(" ".join(name.lower().split()))
    if kind is None:
        hint = did_you_mean(name, KINDS) or f"There are {', '.join(KINDS)}."
        raise InputError([Fault(f"{as_typed(name)} is no kind of embellishment", where, hint=hint)])
    reading = _Reading(kind, where)
    for bit in parted(rest, ","):
        reading.take(bit)
    if reading.faults:
        raise InputError(reading.faults)
    given = tuple(reading.given.items())
    short = ",".join(_shortest(kind, *pair) for pair in given)
    return Embellishment(
        panel=" ".join(panel.split()),
        kind=kind.name,
        given=given,
        text=f"{kind.name}:{short}" if short else kind.name,
        where=where,
    )


@dataclass
class _Reading:
    """What was understood so far, and what is wrong with the rest."""

    kind: EmbellishmentKind
    where: str
    given: dict[str, OptionValue] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def take(self, bit: str) -> None:
        """Understand what stands between two commas."""
        if (quoted := _quoted(bit)) is not None:
            self._text(quoted)
            return
        if bit[0] in QUOTES:
            text = f"{as_typed(bit)} begins with a quote that nothing closes"
            self.faults.append(Fault(text, self.where))
            return
        plain = " ".join(bit.lower().split())
        for option in self.kind.options:
            if isinstance(option, WordOption) and (word := _of_words(plain, option)):
                self._give(option, word, bit)
                return
        named = self._named(plain)
        if named is not None:
            self._measure(named, plain.removeprefix(named.name).strip(" :="), bit)
        elif plain[:1].isdigit() or plain[:1] in "+-.½¼¾⅛⅜⅝⅞":
            bare = next((one for one in _measures(self.kind) if one.bare), None)
            if bare is None:
                self.faults.append(self._unknown(bit))
            else:
                self._measure(bare, plain, bit)
        else:
            self.faults.append(self._unknown(bit))

    def _named(self, plain: str) -> MeasureOption | None:
        measures = sorted(_measures(self.kind), key=lambda one: -len(one.name))
        return next(
            (one for one in measures if re.match(rf"{re.escape(one.name)}(?![a-z])", plain)), None
        )

    def _text(self, words: str) -> None:
        option = next((one for one in self.kind.options if isinstance(one, TextOption)), None)
        tidy = " ".join(words.split())
        if option is None:
            text = f"{as_typed(words)} in quotes is for words to be stitched"
            hint = f"{self.kind.name.capitalize()} has none."
            self.faults.append(Fault(text, self.where, hint=hint))
        elif not tidy:
            self.faults.append(Fault("nothing stands in the quotes", self.where))
        elif len(tidy) > option.longest:
            text = f"{as_typed(tidy)} has {len(tidy)} letters; {option.longest} at most"
            self.faults.append(Fault(text, self.where))
        else:
            self._give(option, tidy, words)

    def _measure(self, option: MeasureOption, text: str, bit: str) -> None:
        name = f"{self.where}, {option.name}"
        try:
            value = (
                _number(text, name)
                if option.plain
                else parse_length(text, name=name, zero=option.least <= 0)
            )
        except InputError as problem:
            self.faults.extend(problem.faults)
            return
        if not option.least - 1e-9 <= value <= option.most + 1e-9:
            low, high = (_limit(option, one) for one in (option.least, option.most))
            message = f"{as_typed(bit)} is outside {low} to {high} ({option.means})"
            self.faults.append(Fault(message, self.where))
            return
        self._give(option, value, bit)

    def _give(self, option: KindOption, value: OptionValue, bit: str) -> None:
        if option.name in self.given:
            message = f"{as_typed(bit)} is one {option.name} too many"
            self.faults.append(Fault(message, self.where, hint="Say it once."))
        else:
            self.given[option.name] = value

    def _unknown(self, bit: str) -> Fault:
        words: list[str] = []
        for one in self.kind.options:
            words += one.words if isinstance(one, WordOption) else ()
        names = [one.name for one in _measures(self.kind)]
        hint = did_you_mean(bit, [*words, *names])
        if not hint:
            shown = [f"{one.name} {_such_as(one)}" for one in _measures(self.kind)]
            hint = f"It takes {', '.join([*words, *shown])}."
        return Fault(f"{self.kind.name} knows no {as_typed(bit)}", self.where, hint=hint)


def _such_as(option: MeasureOption) -> str:
    """A value that the option takes."""
    usual, unit = (30.0, "") if option.plain else (5.0, "mm")
    return f"{min(max(usual, option.least), option.most):g}{unit}"


def _of_words(plain: str, option: WordOption) -> str:
    """The word of an option that is meant; empty if it is none of them."""
    return plain if plain in option.words else option.also.get(plain, "")


def _measures(kind: EmbellishmentKind) -> list[MeasureOption]:
    return [one for one in kind.options if isinstance(one, MeasureOption)]


def _number(text: str, name: str) -> float:
    if not _NUMBER.fullmatch(text):
        raise InputError([Fault(f"{as_typed(text)} is no number", name, hint="Write 30, say.")])
    return float(text.rstrip("°degrs ").strip())


def _limit(option: MeasureOption, value: float) -> str:
    return f"{value:g}" if option.plain else show(value, Unit.MM)


def _shortest(kind: EmbellishmentKind, name: str, value: OptionValue) -> str:
    """An option as it would be typed."""
    option = next(one for one in kind.options if one.name == name)
    match option:
        case WordOption():
            return str(value)
        case TextOption():
            return f'"{value}"'
        case MeasureOption():
            number = f"{float(value):.9g}" + ("" if option.plain else "mm")
            return number if option.bare else f"{option.name} {number}"
