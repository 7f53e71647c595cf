"""A finding as a person reads it: what is wrong, and what would mend it."""

from collections.abc import Iterable, Iterator, Mapping

from paramgen.lengths import (
    INCH,
    LengthTold,
    in_both_units,
    other_unit,
    show_all_sizes_apart,
    show_bound,
    show_size,
)
from paramgen.vocabulary.facts import (
    Clause,
    Clauses,
    Degrees,
    Fact,
    Mm,
    MmByMm,
    Name,
    NamesInTurn,
    Position,
    SquareMm,
    StepName,
    Term,
    Written,
)
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import Wording, english
from paramgen.wording.sentence_template import IfKnown, SentenceTemplate, Slot, template


@dataclass(frozen=True)
class _Shown:
    """A fact where it stands in a sentence, and how it is shown there."""

    fact: Fact | float
    form: str


_Token = str | _Shown


def said(finding: Finding, unit: Unit, words: Wording | None = None) -> tuple[str, str]:
    """Put a finding in words.

    Parameters
    ----------
    finding : Finding
    unit : Unit
        The person's.
    words : Wording or None
        None for those that come with the program.

    Returns
    -------
    message : str
        What, where and the limit: begins small and has no full stop.
    remedy : str
        Whole sentences; empty if none is known.

    Examples
    --------
    >>> from paramgen.vocabulary.facts import facts
    >>> known = facts(has=Mm(40.0), needs=Mm(50.0), lacks=Mm(10.0))
    >>> said(Finding("gap-short", Severity.CANNOT, known), Unit.MM)[1]
    'Make the gap 10 mm (3/8 in) longer.'
    """
    words = words or english()
    known = dict(finding.facts)
    both = [
        list(_tokens(template(words.sentence(finding.code, finding.variant, part)), known, words))
        for part in ("says", "mend")
    ]
    message, remedy = _filled(both, unit, words)
    return message, remedy


def in_sentences(finding: Finding, unit: Unit, words: Wording | None = None) -> str:
    """What is wrong and what would mend it, as whole sentences."""
    message, remedy = said(finding, unit, words)
    return f"{sentence(message)} {remedy}".rstrip()


def sentence(text: str) -> str:
    """A text with a capital and a full stop.

    >>> sentence("the gap is short")
    'The gap is short.'
    """
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!")) else f"{text}."


def how_bad(severity: Severity, words: Wording | None = None) -> str:
    """What a severity is called."""
    return (words or english()).severities[severity.value]


def _tokens(parts: SentenceTemplate, known: Mapping[str, Fact], words: Wording) -> Iterator[_Token]:
    for part in parts:
        match part:
            case str():
                yield part
            case Slot():
                yield from _field(part, known[part.name], words)
            case IfKnown():
                if all(one.name in known for one in part.parts if isinstance(one, Slot)):
                    yield from _tokens(part.parts, known, words)


def _field(part: Slot, fact: Fact, words: Wording) -> Iterator[_Token]:
    match fact:
        case Clause():
            yield from _clause(fact, words)
        case Clauses() if "|" not in part.form:
            between = words.forms[part.form] if part.form else " "
            for index, one in enumerate(fact.each):
                yield from ((between,) if index else ())
                yield from _clause(one, words)
        case Written():
            for bit in fact.parts:
                yield bit if isinstance(bit, str) else _Shown(bit, "plain")
        case _:
            yield _Shown(fact, part.form)


def _clause(clause: Clause, words: Wording) -> Iterator[_Token]:
    text = words.clauses.get(clause.key)
    if text is None:  # what another finding says
        code, _, variant = clause.key.partition(".")
        text = words.sentence(code, variant, "says")
    yield from _tokens(template(text), dict(clause.facts), words)


def _filled(sentences: Iterable[list[_Token]], unit: Unit, words: Wording) -> Iterator[str]:
    """Sentences that are read as one: lengths in them that differ read differently."""
    sentences = list(sentences)
    shown = [one for tokens in sentences for one in tokens if isinstance(one, _Shown)]
    lengths = {
        one: LengthTold(one.fact.value, _towards(one.form) or one.fact.towards)
        for one in shown
        if isinstance(one.fact, Mm) and one.form not in ("grid", "least", "most")
    }
    in_both = dict(zip(lengths, in_both_units([*lengths.values()], unit), strict=True))
    sizes = {one.fact: None for one in shown if isinstance(one.fact, MmByMm)}
    measures = [(one.width, one.height) for one in sizes]
    of_size = dict(zip(sizes, show_all_sizes_apart(measures, unit), strict=True))

    def text(token: _Token) -> str:
        if isinstance(token, str):
            return words.as_used(token, unit)
        fact, form = token.fact, token.form
        if token in in_both:
            own, beside = in_both[token]
            return own if "alone" in form else f"{own} ({beside})"
        if isinstance(fact, MmByMm):
            beside = show_size(fact.width, fact.height, other_unit(unit))
            return f"{of_size[fact]} ({beside})" if form == "both" else of_size[fact]
        return _text(fact, form, unit, words)

    for tokens in sentences:
        yield _without_article("".join(map(text, tokens)), shown, words)


def _towards(form: str) -> str:
    return next((way for way in ("up", "down") if way in form.split()), "")


def _without_article(text: str, shown: Iterable[_Shown], words: Wording) -> str:
    """A sentence in which what is called by a number has no article: pocket 1."""
    article = words.forms["article"]
    titles = {
        one.title
        for token in shown
        for one in (token.fact.each if isinstance(token.fact, NamesInTurn) else (token.fact,))
        if isinstance(one, Name) and one.title[-1:].isdigit() and one.kind in ("piece", "notion")
    }
    for title in sorted(titles):
        text = text.replace(f"{article}{title}", title)
    return text


def _text(fact: Fact | float, form: str, unit: Unit, words: Wording) -> str:
    """A fact that no other has to read different from."""
    if "|" in form:
        one, several = form.split("|")
        return one if _is_one(fact, words) else several
    match fact:
        case Name():
            by_name = fact.kind == "size" and fact.title == fact.name
            own = by_name or fact.kind in ("thing", "hoop", "file", "key")
            return fact.title if own else words.as_used(fact.title, unit)
        case NamesInTurn():
            return words.forms[form].join(_text(one, "", unit, words) for one in fact.each)
        case StepName():
            how = words.forms[{"": "step", "number": "step_number"}.get(form, form)]
            return how.format(number=fact.number, title=words.as_used(fact.title, unit))
        case Term():
            return words.as_used(words.terms[fact.group][fact.word], unit)
        case _:
            return _measure(fact, form, unit)


def _measure(fact: Fact | float, form: str, unit: Unit) -> str:
    match fact:
        case int() | float():
            return f"{fact:g}" if form == "plain" else f"{fact:,}"
        case Mm(value=value) if form == "grid":
            return f"{round(value, 2):g} mm"
        case Mm(value=value):
            return show_bound(value, unit, least=form == "least")
        case SquareMm(value=value):
            inches = value / INCH**2
            return f"{inches:.1f} sq in" if unit is Unit.INCH else f"{value / 100:.1f} cm²"
        case Degrees(value=value):
            return f"{value:.0f}°"
        case Position(x=x, y=y):
            return f"x {x:.1f} mm, y {y:.1f} mm"
        case _:
            raise TypeError(f"{fact!r} cannot be shown in a sentence")


def _is_one(fact: Fact | float, words: Wording) -> bool:
    """Whether a fact is of one thing, and not of several: what its verb goes by."""
    match fact:
        case int():
            return fact == 1
        case Name():
            return not _is_plural(fact.title, words)
        case NamesInTurn():
            return len(fact.each) == 1 and _is_one(fact.each[0], words)
        case Clauses():
            return len(fact.each) == 1
        case _:
            return True


def _is_plural(title: str, words: Wording) -> bool:
    """Whether a title names several things: `glasses`, not `canvas` nor `pair of glasses`."""
    head = title
    for before in words.forms["head_before"].split("|"):
        head = head.partition(before)[0]
    head = head.rstrip("0123456789 ").lower()
    return head.endswith("s") and not head.endswith(words.singular_ends)
