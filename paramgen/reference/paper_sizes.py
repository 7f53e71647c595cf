"""Papers: the listed ones, and rolls of any width."""

import re
import tomllib
from collections.abc import Iterable, Sequence

from paramgen.installed import shared
from paramgen.lengths import as_typed, parse_length, show
from paramgen.nearest_word import did_you_mean
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit

_ROLL = re.compile(r"roll(?P<colon>[\s:]*)(?P<width>.*)", re.DOTALL)


@dataclass(frozen=True)
class Paper:
    """A paper, standing upright.

    Parameters
    ----------
    name : str
        For the person.
    width : float
        mm.
    height : float or None
        mm; None for a roll, which is cut where the print ends.
    default_for : str
        The unit whose users get it if they ask for none; empty for most.
    """

    name: str
    width: float
    height: float | None
    default_for: str = ""


def listed_papers() -> tuple[Paper, ...]:
    """Read the papers that come with the program."""
    text = (shared() / "papers.toml").read_text("utf-8")
    return tuple(
        Paper(one["name"], float(one["width"]), float(one["height"]), one.get("default_for", ""))
        for one in tomllib.loads(text)["paper"]
    )


def default_paper(unit: Unit, papers: Iterable[Paper]) -> Paper:
    """Find the paper of those who measure in a unit."""
    return next(paper for paper in papers if paper.default_for == unit)


def find_paper(text: str, papers: Sequence[Paper], *, where: str = "paper") -> Paper:
    """Read a paper as a person writes it.

    Parameters
    ----------
    text : str
        Name of a listed paper in any case, or `roll:610mm`, `roll 24in` for a roll.
    papers : sequence of Paper
        The listed ones.
    where : str
        What every message starts with.

    Raises
    ------
    InputError
        For what is neither, and for a roll without a width.

    Examples
    --------
    >>> find_paper("roll:24in", ())
    Paper(name='roll 24 in', width=609.6, height=None, default_for='')
    """
    key = " ".join(text.casefold().split())
    for paper in papers:
        if paper.name.casefold() == key:
            return paper
    roll = _ROLL.fullmatch(key)
    if roll and (roll["colon"] or not roll["width"]):
        if not roll["width"]:
            hint = "Write roll:610mm or roll:24in."
            raise InputError([Fault("a roll needs its width.", where, hint=hint)])
        width = parse_length(roll["width"], name=where)
        unit = Unit.INCH if re.search(r"[\"″”]|in", roll["width"]) else Unit.MM
        return Paper(f"roll {show(width, unit)}", width, None)
    names = [paper.name for paper in papers]
    message = f"{as_typed(text)} is not a paper known here. Known are: {', '.join(names)}."
    near = did_you_mean(key, [*(name.casefold() for name in names), "roll"])
    hint = near or "For a plotter write the width of its roll: roll:610mm."
    raise InputError([Fault(message, where, hint=hint)])
