"""What `fit --hold` understands and says, and the list of things to hold."""

import textwrap
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from paramgen.cli.command_that_makes import make_command
from paramgen.cli.text_tables import WIDTH, finding_text, indented, table
from paramgen.fit.smallest_holding import HoldAnswer, Holding
from paramgen.lengths import (
    INCH,
    parse_length,
    round_up,
    show,
    show_both,
    show_size,
    show_size_both,
    show_sizes_apart,
)
from paramgen.ordering.known_things import known_things
from paramgen.ordering.titles import LONGEST_TITLE
from paramgen.ordering.typed_values import typed
from paramgen.reference.hoops import Hoop
from paramgen.reference.things import TYPED, SeveralThings, find_several
from paramgen.reference.typed_sizes import TypedSize
from paramgen.sentences import SHOWN_TO
from paramgen.vocabulary.findings import Faults, InputError, Severity
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import how_bad, said, sentence


def hold_asked(
    typed: Sequence[str], ease: str = "", own: Path | None = None
) -> tuple[tuple[SeveralThings, ...], float | None]:
    """Understand what is to be held, and with how much ease.

    Parameters
    ----------
    typed : sequence of str
        What was given to each `--hold`.
    ease : str
        What was given to `--ease`; empty if it was not.
    own : Path or None
        The person's own things; in the usual place if None.

    Raises
    ------
    InputError
        With every fault in it.
    """
    faults = Faults()
    things = faults.tried(lambda: known_things(own))
    found = [
        faults.tried(partial(find_several, text, things, where="--hold"))
        for text in typed
        if things
    ]
    room = faults.tried(
        lambda: parse_length(ease, name="--ease", zero=True) if ease.strip() else None
    )
    if faults:
        raise InputError(faults)
    return tuple(several for several in found if several is not None), room


def hold_report(answer: HoldAnswer) -> str:
    """Say which sizes hold the things, in which hoop, and how to make it."""
    best, unit = answer.best, answer.order.unit
    parts = [_asked_for(answer)]
    if best is None:
        parts.append("\n".join(map(indented, _refused(answer))))
    else:
        parts.append("\n".join(_found(answer, best)))
        if best.binds:
            binds = [
                f"  {name}: {sentence(said(reasons[0], unit)[0])}"
                for name, reasons in best.binds.items()
            ]
            mark = show(best.mark, unit)
            parts.append("\n".join([f"Why not {mark} less", *map(_wrapped, binds)]))
        if len(answer.holdings) > 1:
            head = ("finished", "put in", "smallest listed hoop", "field it needs")
            rows = [_row(answer, one) for one in answer.holdings]
            parts.append(f"Ways to hold it\n{table(head, rows)}".rstrip())
        if answer.told:
            parts.append("\n".join(finding_text(one, unit) for one in answer.told))
        parts.append(f"To make it\n  {_command(answer, best)}")
    return "\n\n".join(parts)


def own_place(thing: str, choice: str) -> str:
    """Say which choice has a place for a thing of its own."""
    return _wrapped(f"Note: with {choice} the {thing} has a place of its own.")


def _asked_for(answer: HoldAnswer) -> str:
    """What is to be held, and the room that it gets."""
    unit, where = answer.order.unit, answer.where
    lines = [f"{answer.order.recipe.kind_for(unit)}, to hold"]
    for one in answer.things:
        thing = one.thing
        thick = f", {show_both(thing.thickness, unit)} thick" if thing.thickness else ""
        size = show_size_both(thing.width, thing.height, unit)
        source = f"; {thing.source}" if thing.source else ""
        # A name that is a size or begins with a number would be one more factor.
        of = "of" if thing.name[:1].isdigit() else "×"
        lines.append(_wrapped(f"  {one.number} {of} {thing.name}: {size}{thick}{source}"))
        if thing.source == TYPED and not thing.thickness:
            example = _with_thickness(one, unit)
            told = f"    thickness taken as 0, as none is given; type it too, as in {example}"
            lines.append(_wrapped(told))
    for one, against in answer.beside:
        size = show_size_both(one.thing.width, one.thing.height, unit)
        lines.append(_wrapped(f"  {one.number} × {one.thing.name}: {size}; at the {against}"))
    if where.places > 1 and any(one.number > 1 for one in answer.things):
        lines.append(f"  spread over {where.places} pockets")
    if answer.best is not None and where.ease:
        way = answer.best.way
        room = way.asked[where.ease] - (0 if where.thickness else way.pile)
        ease = [f"{show_both(room, unit)} of ease"]
        ease += [f"{show_both(way.pile, unit)} for thickness"] if way.pile else []
        lines.append(f"  with {' and '.join(ease)}")
    return "\n".join(lines)


def _with_thickness(several: SeveralThings, unit: Unit) -> str:
    """Several of a size as they are typed with a thickness."""
    inch, thing = unit is Unit.INCH, several.thing
    size = TypedSize((thing.width, thing.height, INCH / 16 if inch else 2.0), unit, bare=False)
    return f"{several.number} of {size.name}{'' if inch else unit}"


def _found(answer: HoldAnswer, best: Holding) -> Iterator[str]:
    """Sizes, which way round, and hoops."""
    unit = answer.order.unit
    yield f"Finished: {_sizes(best, unit)}"
    yield _wrapped(f"Put in: {_put_in(answer, best)}")
    if answer.room is not None and not best.fits(answer.room):
        width, height = best.needs[0]
        field, needs = show_sizes_apart(answer.room.field, (width, height), unit)
        yield f"The field of {answer.room.hoop.name}, {field}, does not take it: it needs {needs}"
    if best.hoops:
        yield _wrapped(f"Listed hoops that take it: {', '.join(map(_hoop, best.hoops))}")
    else:
        yield f"No listed hoop takes it. What would: a field of {_field(answer, best)}"


def _refused(answer: HoldAnswer) -> Iterator[str]:
    """Why none is held: what would mend one thing would not mend the whole."""
    for reason in answer.refused:
        message, _ = said(reason, answer.order.unit)
        yield f"{how_bad(Severity.CANNOT)}: {sentence(message)}"


def _sizes(one: Holding, unit: Unit) -> str:
    if len(one.sizes) == 2:
        width, height = one.sizes.values()
        return show_size_both(width, height, unit)
    return ", ".join(f"{name} {show_both(value, unit)}" for name, value in one.sizes.items())


def _put_in(answer: HoldAnswer, one: Holding) -> str:
    """Which way round each kind is put in."""
    unit = answer.order.unit
    sizes = [show_size(*size, unit) for size in one.way.sizes]
    if len(sizes) == 1:
        return sizes[0]
    names = (several.thing.name for several in answer.things)
    return ", ".join(f"{name} as {size}" for name, size in zip(names, sizes, strict=True))


def _field(answer: HoldAnswer, one: Holding) -> str:
    """Smallest field that takes it, margins and all, so that what is shown is enough."""
    unit, margin = answer.order.unit, answer.order.room.margin
    width, height = (round_up(side + 2 * margin, SHOWN_TO[unit]) for side in one.needs[0])
    return show_size_both(width, height, unit)


def _hoop(hoop: tuple[Hoop, bool]) -> str:
    return f"{hoop[0].name} (turned by 90°)" if hoop[1] else hoop[0].name


def _row(answer: HoldAnswer, one: Holding) -> Sequence[str]:
    unit = answer.order.unit
    hoop = _hoop(one.hoops[0]) if one.hoops else "none"
    return _sizes(one, unit), _put_in(answer, one), hoop, _field(answer, one)


def _command(answer: HoldAnswer, best: Holding) -> str:
    """What makes it, to be copied."""
    room = answer.order.room
    if answer.room is not None and best.fits(answer.room):
        hoop = answer.room.hoop.name
    elif best.hoops:
        hoop = best.hoops[0][0].name
    else:
        hoop = "x".join(typed(side + 2 * room.margin, Unit.MM) for side in best.needs[0])
    asked = {**best.sizes, **best.way.asked}
    return make_command(answer.order, asked, hoop, holds=_called(answer, best))


def _called(answer: HoldAnswer, best: Holding) -> str:
    """What it holds, as `--holds` takes it: how many, if of one known kind; not too long."""
    if answer.order.recipe.file.holds[answer.where.name].when is not None:
        return ""  # the name is of what it is made for
    title = best.way.title
    if len(answer.things) == 1:
        (one,) = answer.things
        title = f"{one.number} {title}" if one.number > 1 and title == one.thing.name else title
    return title if len(title) <= LONGEST_TITLE else "things"


def _wrapped(text: str) -> str:
    return textwrap.fill(
        text, WIDTH, subsequent_indent="    ", break_long_words=False, break_on_hyphens=False
    )
