"""What the steps say where several copies are made at once."""

from paramgen.layout.project import Act


def all_of(copies: int) -> str:
    """All the copies, in words.

    >>> all_of(2), all_of(4)
    ('both copies', 'all 4 copies')
    """
    return "both copies" if copies == 2 else f"all {copies} copies"


def said(act: Act, say: str, copies: int) -> str:
    """The sentences of a step, and one on what they mean for several copies."""
    every = all_of(copies)
    added = {
        Act.STITCH: f"The machine stitches {every} before it stops.",
        Act.FLIP: f"Look at {every}.",
        Act.UNHOOP: (
            f"{every[:1].upper()}{every[1:]} come out on one sheet: cut them apart midway "
            "between their pieces."
        ),
    }.get(act, f"Do this for {every}.")
    return f"{say} {added}".lstrip()


def said_both_ways(upright: str, turned: str) -> str:
    """The sentences of a step where some copies lie upright and some turned."""
    if upright == turned:
        return upright
    return (
        f"Copies that lie upright: {upright} Copies that lie turned, their top at the right: "
        f"{turned}"
    )
