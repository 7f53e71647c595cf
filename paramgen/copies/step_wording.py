"""What the steps say where several copies are made at once."""

from collections.abc import Mapping, Sequence

from paramgen.lengths import show_size_both
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.project import Layer, Step
from paramgen.vocabulary.unit import Unit


def all_of(copies: int) -> str:
    """All the copies, in words.

    >>> all_of(2), all_of(4)
    ('both copies', 'all 4 copies')
    """
    return "both copies" if copies == 2 else f"all {copies} copies"


def said(
    act: Act, say: str, copies: int, *, once: str = "", apart: str = "", tape_cut: bool = False
) -> str:
    """The sentences of a step, and one on what they mean for several copies.

    >>> said(Act.PRESS, "Press. Tie them together.", 2, once="Tie them together.")
    'Press. Do this for both copies. Tie them together.'
    >>> said(Act.PRESS, "Tie them together.", 2, once="Tie them together.")
    'Tie them together.'

    Parameters
    ----------
    act : Act
    say : str
    copies : int
    once : str
        With what they end, of what is done once for all copies together.
    apart : str
        How they are cut apart once they are out of the hoop, where they hang together by more
        than the stabiliser.
    tape_cut : bool
        Whether there is tape that must be cut short.
    """
    if once and say == once:
        return say
    every = all_of(copies)
    added = {
        Act.STITCH: f"The machine stitches {every} before it stops.",
        Act.FLIP: f"Look at {every}.",
        Act.UNHOOP: apart
        or (
            f"{every[:1].upper()}{every[1:]} come out on one sheet: cut them apart midway "
            "between their pieces."
        ),
    }.get(act, f"Do this for {every}.")
    if tape_cut:
        added += " Cut a strip short where it would reach onto the next copy."
    return " ".join(part for part in (say.removesuffix(once).rstrip(), added, once) if part)


def out_on_sheets(copies: int, *, at_gap: bool) -> str:
    """How copies are cut apart that hang together by sheets over all of them.

    Parameters
    ----------
    copies : int
    at_gap : bool
        Whether more is left at a turning gap, to be folded in there.
    """
    every = all_of(copies)
    gap = " and what is left at the turning gap" if at_gap else ""
    return (
        f"{every[:1].upper()}{every[1:]} hang together by the sheets over them: cut them apart "
        f"where there is most room between their seams, clear of what they are trimmed along{gap}."
    )


def said_of_sheets(step: Step, sheets: Sequence[Layer], copies: int, unit: Unit) -> str:
    """The sentences of a step that lays or tapes one sheet over all copies.

    Parameters
    ----------
    step : Step
        As of the first copy.
    sheets : sequence of Layer
        The sheets that it is about.
    copies : int
    unit : Unit
        The person's.
    """
    every = all_of(copies)
    if step.act is Act.LAY:
        box = sheets[-1].outline.box
        size = show_size_both(box.width, box.height, unit)
        added = (
            f"It is one sheet over {every}, {size} as it lies: lay it once, as far past the "
            "outermost lines at one edge as at the edge opposite."
        )
    elif step.act is Act.TAPE:
        added = f"The sheet over {every} is taped round its own edges, and nowhere between copies."
    else:
        added = f"Do this for {every} at once."
    return f"{step.say} {added}".lstrip()


#: How copies lie that are turned by 90°, half-turned or both.
_WAYS: Mapping[tuple[bool, bool], str] = {
    (False, False): "Copies that lie upright",
    (True, False): "Copies that lie turned, their top at the right",
    (False, True): "Copies that lie half-turned, their top at the bottom",
    (True, True): "Copies that lie turned, their top at the left",
}


def said_each_way(says: Mapping[tuple[bool, bool], str]) -> str:
    """The sentences of a step, for copies that lie in different ways.

    Parameters
    ----------
    says : mapping of (turned, half-turned) to str
        In the order in which they are said.
    """
    if len(set(says.values())) == 1:
        return next(iter(says.values()))
    return " ".join(f"{_WAYS[way]}: {say}" for way, say in says.items())


def in_hoopings(wanted: int, most: int) -> str:
    """Say in how many hoopings so many copies are made, and how many in each.

    >>> in_hoopings(20, 8), in_hoopings(16, 8), in_hoopings(9, 8)
    ('in 3 hoopings: 8, 8 and 4', 'in 2 hoopings of 8', 'in 2 hoopings: 8 and 1')
    >>> in_hoopings(8, 8), in_hoopings(100, 8)
    ('in 1 hooping', 'in 13 hoopings: 12 of 8 and one of 4')
    """
    whole, rest = divmod(wanted, most)
    count = whole + bool(rest)
    if count == 1:
        return "in 1 hooping"
    if not rest:
        return f"in {count} hoopings of {most}"
    if whole > MOST_NAMED:
        return f"in {count} hoopings: {whole} of {most} and one of {rest}"
    return f"in {count} hoopings: {', '.join([str(most)] * whole)} and {rest}"


#: So many hoopings are named one by one.
MOST_NAMED = 4
