"""What `fit` says of ranges, nearest sizes, hoops, copies and another hoop."""

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from string import ascii_lowercase

from paramgen.cli.command_that_makes import make_command
from paramgen.cli.text_tables import indented, table
from paramgen.copies.most_copies import CopiesThatFit
from paramgen.copies.step_wording import in_hoopings
from paramgen.fit.binding_reason import binds_most
from paramgen.fit.fitting_hoops import HoopFit
from paramgen.fit.largest_pair import Both
from paramgen.fit.other_hoop import ComparisonGroup, ComparisonRow, Transfer
from paramgen.fit.remembered_checks import HOOP, LIMIT, RememberedChecks
from paramgen.fit.size_ranges import SizeRange
from paramgen.hooping import Room
from paramgen.lengths import (
    TOLERANCE,
    round_down,
    round_up,
    show,
    show_both,
    show_size,
    show_size_both,
)
from paramgen.sentences import SHOWN_TO
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said

RangesFound = Mapping[tuple[Room, str], SizeRange | None]


def ranges_report(asking: RememberedChecks, found: RangesFound, *, free: bool) -> str:
    """From which size to which it works, and what binds at the ends."""
    reasons = _Lettered(asking.unit)
    rows: list[Sequence[str]] = []
    for (room, name), one in found.items():
        if one is None:
            why = reasons.words(asking.against({}, room), room)
            rows.append((room.hoop.name, name, f"no size works: {why}", "", "", ""))
        else:
            ends = (reasons.words(end.binds, room) for end in (one.least, one.most))
            rows.append((room.hoop.name, name, _exact(one), _on_ruler(asking.unit, one), *ends))
    others = "the others following" if free else "the others as asked"
    head = (
        "hoop",
        "size",
        "works from and to",
        "on the ruler",
        "limit below",
        "limit above",
    )
    one_at_a_time = f", one size at a time, {others}" if len(asking.sizes({})) > 1 else ""
    parts = [f"{_title(asking)}\n", f"What works{one_at_a_time}", table(head, rows).rstrip()]
    parts += [indented(f"  {letter}: {text}") for letter, text in reasons.listed]
    if free:
        parts += ["", *_with_others(asking, found)]
    return "\n".join(parts)


class _Lettered:
    """Reasons told by letters, each once; a field and a recipe's own limits by a word."""

    def __init__(self, unit: Unit) -> None:
        self._unit = unit
        self._letters: dict[str, str] = {}

    def words(self, reasons: Sequence[Finding], room: Room) -> str:
        return ", ".join(dict.fromkeys(self._word(reason, room) for reason in reasons))

    def _word(self, reason: Finding, room: Room) -> str:
        if reason.code == HOOP and room.hoop.name:
            return "the field"
        if reason.code == LIMIT and reason.variant in ("least", "most"):
            return "the recipe"
        text, _ = said(reason, self._unit)
        if text not in self._letters:
            count = len(self._letters)
            self._letters[text] = ascii_lowercase[count % 26] * (count // 26 + 1)
        return self._letters[text]

    @property
    def listed(self) -> list[tuple[str, str]]:
        return [(letter, text) for text, letter in self._letters.items()]


def _exact(one: SizeRange) -> str:
    """Both ends to a tenth of a millimetre."""
    low, high = (show(end.value, Unit.MM) for end in (one.least, one.most))
    return low if low == high else f"{low.removesuffix(' mm')} to {high}"


#: What a ruler shows; a sixteenth of an inch is what is shown anywhere.
_RULER = {Unit.MM: 1.0, Unit.INCH: SHOWN_TO[Unit.INCH]}


def _on_ruler(unit: Unit, one: SizeRange) -> str:
    """The marks of a ruler inside both ends, in the person's unit, with the other beside."""
    other = Unit.INCH if unit is Unit.MM else Unit.MM
    first, beside = _marks(one, unit) or "no mark", _marks(one, other)
    return f"{first} ({beside})" if beside else first


def _marks(one: SizeRange, unit: Unit) -> str:
    mark = _RULER[unit]
    low, high = round_up(one.least.value, mark), round_down(one.most.value, mark)
    if low > high + TOLERANCE:
        return ""
    shown = show(low, unit), show(high, unit)
    return shown[0] if low == high else f"{shown[0].removesuffix(f' {unit}')} to {shown[1]}"


def _with_others(asking: RememberedChecks, found: RangesFound) -> Iterator[str]:
    """With which other sizes the ends go, where they are not as asked."""
    for (room, name), one in found.items():
        for end in (one.least, one.most) if one else ():
            if end.others:
                sizes = _named(end.others, asking.unit)
                value = show_both(end.value, asking.unit)
                yield f"In {room.hoop.name}, {name} {value} goes with {sizes}."


def end_report(asking: RememberedChecks, found: RangesFound, *, most: bool) -> str:
    """The largest or smallest of a size, and how to make it."""
    parts = []
    for (room, name), one in found.items():
        if one is None:
            continue
        at, towards, word = (
            (one.most, round_down, "largest") if most else (one.least, round_up, "smallest")
        )
        mark = towards(at.value, SHOWN_TO[asking.unit])
        value = at.value if asking.against({**at.others, name: mark}, room) else mark
        size = show_both(value, asking.unit)
        parts.append(f"The {word} {name} in {room.hoop.name} is {size}. To make it")
        parts.append(f"  {_command(asking, {**at.others, name: value}, room)}")
    return "\n".join(parts)


def copies_report(asking: RememberedChecks, name: str, most: Mapping[Room, float | None]) -> str:
    """The largest of a size of which as many copies as asked lie in each hoop."""
    copies = asking.order.copies
    assert copies != "most"
    parts = []
    for room, value in most.items():
        if value is None:
            parts.append(f"No {name} was found of which {copies} lie in {room.hoop.name} at once.")
            continue
        size = show_both(value, asking.unit)
        so_many = "one lies" if copies == 1 else f"{copies} lie"
        parts.append(
            f"The largest {name} of which {so_many} in {room.hoop.name} at once is {size}. "
            f"To make {'it' if copies == 1 else 'them'}"
        )
        command = make_command(asking.order, {name: value}, room.hoop.name, copies=copies)
        parts.append(f"  {command}")
    return "\n".join(parts)


def both_report(asking: RememberedChecks, found: Mapping[Room, Both], *, most: bool) -> str:
    """The largest or smallest of both sizes in each hoop, and how to make it."""
    unit, rows = asking.unit, []
    for room, one in found.items():
        none = f"none of {one.tried} tried works" if one.tried else "no size works"
        shown = _sizes(list(asking.sizes(one.values).values()), unit) if one.values else none
        rows.append((room.hoop.name, shown))
    word = "largest" if most else "smallest"
    head = ("hoop", f"{word} {' × '.join(asking.sizes({}))}")
    parts = [f"{_title(asking)}\n", table(head, rows).rstrip()]
    works = {room: one.values for room, one in found.items() if one.values}
    parts += _why_none(asking, [room for room in found if room not in works])
    if bounded := [room.hoop.name for room, one in found.items() if one.tried and one.values]:
        tried = max(one.tried for one in found.values())
        parts += ["", _bounded(bounded, tried, "larger" if most else "smaller")]
    if works:
        parts += ["", "To make it" if len(works) == 1 else "To make one of them"]
        parts += [f"  {_command(asking, values, room)}" for room, values in works.items()]
    return "\n".join(parts)


def _why_none(asking: RememberedChecks, rooms: Sequence[Room]) -> Iterator[str]:
    """What binds the most of the sizes that were tried, where none of them works."""
    for room in rooms:
        why = binds_most(asking, room)
        if why is None:
            continue
        text = f", as with the first of them: {said(why.finding, asking.unit)[0]}"
        if why.finding.code == HOOP:
            text = f": the stitches do not lie in the field of {_field(room, asking.unit)}"
        of = "none" if why.binds == why.tried else f"{why.binds}"
        can = "can" if why.binds == why.tried else "cannot"
        yield ""
        sizes = f"{of} of the {why.tried} sizes tried {can} be made"
        yield indented(f"In {room.hoop.name}, {sizes}{text}.")


def _field(room: Room, unit: Unit) -> str:
    less = " less the margin" if room.margin else ""
    return f"{show_size(room.hoop.width, room.hoop.height, unit)}{less}"


def _bounded(hoops: Sequence[str], tried: int, more: str) -> str:
    """Say that the search was ended before all sizes were known."""
    return indented(
        f"In {', '.join(hoops)} this is the best of {tried} sizes that were worked through, as all "
        f"of them would take minutes: a {more} one may work. "
        "Ask for those you wish for with --near."
    )


def near_report(
    asking: RememberedChecks,
    names: Sequence[str],
    wished: Sequence[float],
    found: Mapping[Room, Sequence[float] | None],
) -> str:
    """The nearest sizes that work, and how to make the nearest of all."""
    unit = asking.unit
    rows = []
    for room, sizes in found.items():
        shown = _sizes(sizes, unit) if sizes else "no size works"
        off = ""
        if sizes:
            by = [value - wish for value, wish in zip(sizes, wished, strict=True)]
            off = ", ".join(
                f"{name} {show(abs(one), unit)} {'more' if one > 0 else 'less'}"
                for name, one in zip(names, by, strict=True)
                if abs(one) > TOLERANCE
            )
            off = off or "as wished for"
        rows.append((room.hoop.name, shown, off))
    head = ("hoop", f"nearest {' × '.join(names)}", "off by")
    parts = [f"{_title(asking)}\n"]
    parts += [f"Wished for: {_sizes(wished, unit)}", table(head, rows).rstrip()]
    works = {room: sizes for room, sizes in found.items() if sizes}
    parts += _why_none(asking, [room for room in found if room not in works])
    if works:
        wish = tuple(wished)
        room = min(works, key=lambda one: sum(map(_square, works[one], wish)))
        values = dict(zip(names, works[room], strict=True))
        parts += ["", f"To make it\n  {_command(asking, values, room)}"]
    return "\n".join(parts)


def _square(one: float, other: float) -> float:
    return (one - other) ** 2


def _sizes(sizes: Sequence[float], unit: Unit) -> str:
    if len(sizes) == 1:
        return show_both(sizes[0], unit)
    return show_size_both(sizes[0], sizes[1], unit)


def taken_report(
    asking: RememberedChecks, taken: Sequence[HoopFit], most: Mapping[Room, CopiesThatFit]
) -> str:
    """Which hoops take it, which way round, the room left, and how many."""
    unit = asking.unit
    rows = []
    for one in taken:
        hoop = one.room.hoop
        left = [show(abs(side), unit) for side in one.left]
        words = [
            f"{value} {'left' if side >= 0 else 'too ' + way}"
            for value, side, way in zip(left, one.left, ("wide", "high"), strict=True)
        ]
        way = ("turned by 90°" if one.turned else "not turned") if one.takes else "not at all"
        row = [hoop.name, show_size(hoop.width, hoop.height, unit), way, *words]
        count = [_how_many(most[one.room]) if one.room in most else "none"] if most else []
        rows.append([*row, *count])
    head = ["hoop", "field", "lies", "across", "down", *(["copies at once"] if most else [])]
    text = f"{_title(asking)}\n\n{table(head, rows)}".rstrip()
    return f"{text}\n\n{_to_make_copies(asking, most)}" if any(most.values()) else text


def _to_make_copies(asking: RememberedChecks, most: Mapping[Room, CopiesThatFit]) -> str:
    """The command for as many as are asked for in the first hoop that has room, or as there is."""
    wanted = asking.order.copies
    enough = [room for room, one in most.items() if isinstance(wanted, int) and one.count >= wanted]
    room = enough[0] if enough else max(most, key=lambda one: most[one].count)
    count = wanted if enough and isinstance(wanted, int) else most[room].count
    made = make_command(asking.order, {}, room.hoop.name, copies=count)
    told = ""
    if isinstance(wanted, int) and not enough and count:
        told = f"{room.hoop.name} takes {count} at once: {wanted} are made "
        told += f"{in_hoopings(wanted, count)}.\n\n"
    return f"{told}To make {'one' if count == 1 else f'{count} at once'}\n  {made}"


def _how_many(most: CopiesThatFit) -> str:
    """So many, and whether more could lie there."""
    end = "no more can lie there" if most.exact else f"at most {most.bound} could"
    return f"{most.count}, {end}"


def transfer_report(result: Transfer) -> str:
    """What changes in another hoop, what stays, and what scaling would have done."""
    before, after = result.before, result.after
    old, new = before.room.hoop.name, after.room.hoop.name
    parts = [f"{before.project.title}, from {old} to {new}"]
    changed = [row for row in result.rows if row.changed]
    stayed = [row for row in result.rows if not row.changed]
    for title, rows in (("Changed", changed), ("Stayed", stayed)):
        if rows:
            cells = [cell for row in rows for cell in _cells(row, before.project.unit)]
            parts.append(f"{title}\n{table(('', old, new, 'stitch file scaled'), cells)}".rstrip())
    across, down = (f"{100 * factor:.1f} %" for factor in result.factors)
    scaled = (
        f"The last column is what would be left in the old stitch file, scaled to {across} "
        f"across and {down} down: "
        "allowances, stitches and room for what it holds would not be what they must be."
    )
    parts += [indented(scaled), f"To make it\n  {make_command(result.order, {}, new)}"]
    return "\n\n".join(parts)


#: Widest first column of the comparison, in letters.
WHAT = 40


def _cells(row: ComparisonRow, unit: Unit) -> Iterator[Sequence[str]]:
    """A row of the comparison, its first column wrapped."""
    first, *more = textwrap.wrap(row.what, WHAT)
    yield first, _value(row.before, row, unit), _value(row.after, row, unit), _scaled(row, unit)
    for line in more:
        yield line, "", "", ""


def _value(value: Sequence[float], row: ComparisonRow, unit: Unit) -> str:
    if row.group is ComparisonGroup.COUNTS:
        return f"{value[0]:g}"
    return _sizes(value, unit)


def _scaled(row: ComparisonRow, unit: Unit) -> str:
    """What scaling leaves; of a length that lies both ways the shortest and the longest."""
    if not row.scaled:
        return ""
    if row.group is ComparisonGroup.COUNTS:
        return f"{row.scaled[0]:g}"
    if len(row.before) == 2:
        return show_size(row.scaled[0], row.scaled[1], unit)
    low, high = show(min(row.scaled), unit), show(max(row.scaled), unit)
    return high if low == high else f"{low.removesuffix(f' {unit}')} to {high}"


def _title(asking: RememberedChecks) -> str:
    """What it is, with its sizes as asked for, and which of them follow from others."""
    sizes = {
        f"{name} following at" if name in asking.following else name: value
        for name, value in asking.sizes({}).items()
    }
    named = _named(sizes, asking.unit)
    title = asking.order.recipe.kind_for(asking.unit)
    return f"{title}, asked for with {named}"


def _named(sizes: Mapping[str, float], unit: Unit) -> str:
    return ", ".join(f"{name} {show_both(value, unit)}" for name, value in sizes.items())


def _command(asking: RememberedChecks, values: Mapping[str, float], room: Room) -> str:
    return make_command(asking.order, values, room.hoop.name)
