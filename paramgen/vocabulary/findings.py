"""What is wrong, said so that a person can act on it."""

import re
from collections.abc import Callable, Iterable
from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar

from paramgen.vocabulary.facts import Facts, names_in
from paramgen.vocabulary.frozen_data import dataclass

if TYPE_CHECKING:  # numpy would be loaded only to name a type
    from paramgen.vocabulary.path import Point

Answer = TypeVar("Answer")

#: What moves the cursor, colours the screen, or turns round the order in which letters are shown.
UNSHOWN = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    "\U000e0000-\U000e007f]"
)


class Severity(StrEnum):
    """How bad a finding is, worst first.

    Nothing is written of what cannot be made. What will disappoint is made, and its booklet says
    so before anything is cut. What is worth knowing is a note.
    """

    CANNOT = "cannot be made"
    DISAPPOINT = "will disappoint"
    KNOW = "worth knowing"


@dataclass(frozen=True)
class Instead:
    """What can be made instead of what was asked.

    Parameters
    ----------
    sizes : tuple of (name, mm)
        Those that differ from what was asked.
    hoop : str
        Name of another hoop; empty for the one asked.
    copies : int
        So many in one hooping.
    """

    sizes: tuple[tuple[str, float], ...] = ()
    hoop: str = ""
    copies: int = 1


@dataclass(frozen=True)
class Finding:
    """One thing found about a sized project.

    Parameters
    ----------
    code : str
        Stable short name, lower case with hyphens.
    severity : Severity
        Whether it stops the project.
    facts : Facts
        What is known: what, where, the limit, what is lacking. `wording` has the sentences.
    variant : str
        Which of the ways in which that is found; empty if there is one.
    amount : float or None
        By how much, in millimetres.
    place : tuple of points
        Where in the hoop, in millimetres; empty if nowhere in particular.
    step, piece : int or None, str or None
        The step's number and the piece's name, where they are known.
    instead : tuple of Instead
        What can be made instead, where it was looked for.
    """

    code: str
    severity: Severity
    facts: Facts = ()
    variant: str = ""
    amount: float | None = None
    place: "tuple[Point, ...]" = ()
    step: int | None = None
    piece: str | None = None
    instead: tuple[Instead, ...] = ()

    @property
    def key(self) -> str:
        """Code and variant: what the file of sentences has it under.

        Examples
        --------
        >>> Finding("too-thick", Severity.KNOW, variant="at-the-hem").key
        'too-thick.at-the-hem'
        >>> Finding("too-thick", Severity.KNOW).key
        'too-thick'
        """
        return f"{self.code}.{self.variant}" if self.variant else self.code

    @property
    def about(self) -> tuple[object, ...]:
        """What it is about, whatever its numbers are: equal where the same thing is found.

        Examples
        --------
        The same code is the same thing, with other numbers or with none:

        >>> from paramgen.vocabulary.facts import Mm, facts
        >>> three, four = (Finding("thick", Severity.KNOW, facts(has=Mm(mm))) for mm in (3, 4))
        >>> three.about == four.about == Finding("thick", Severity.KNOW).about
        True
        >>> three.about == Finding("thin", Severity.KNOW).about
        False
        """
        return self.code, self.variant, names_in(self.facts)

    @property
    def stops(self) -> bool:
        """Whether nothing may be written because of it.

        Examples
        --------
        >>> [Finding("thick", one).stops for one in Severity]
        [True, False, False]
        """
        return self.severity is Severity.CANNOT


@dataclass(frozen=True)
class Fault:
    """One thing wrong with what a person typed or wrote in a file.

    Parameters
    ----------
    message : str
        What is wrong and what is allowed.
    where : str
        The file, table, key or word it is about.
    line : int or None
        Line in that file, from 1.
    hint : str
        The nearest valid name or the remedy; empty if there is none.
    """

    message: str
    where: str = ""
    line: int | None = None
    hint: str = ""

    def __str__(self) -> str:
        place = self.where + (f", line {self.line}" if self.line else "")
        text = f"{place}: {self.message}" if place else self.message
        stop = "" if text.endswith((".", "?", "!")) else "."
        return UNSHOWN.sub("?", f"{text}{stop} {self.hint}" if self.hint else text)


class ParamgenError(Exception):
    """Base of everything this program raises on purpose."""


class InputError(ParamgenError):
    """What was typed, or a file that was read, is wrong; holds every fault found.

    Parameters
    ----------
    faults : iterable of Fault
        At least one.
    """

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class Faults(list[Fault]):
    """Every fault found so far: whoever checks goes on, and tells all of them at once."""

    def tried(self, act: Callable[[], Answer]) -> Answer | None:
        """What an act gives; None if what it is given is wrong, and then its faults are kept.

        Examples
        --------
        >>> def refuse() -> int:
        ...     raise InputError([Fault("no"), Fault("nor that")])
        >>> found = Faults()
        >>> found.tried(lambda: 1 + 1), found.tried(refuse), len(found)
        (2, None, 2)

        That nothing came of it is no fault:

        >>> found = Faults()
        >>> found.tried(lambda: None), len(found)
        (None, 0)
        """
        try:
            return act()
        except InputError as problem:
            self.extend(problem.faults)
            return None


class CannotMakeError(ParamgenError):
    """The project cannot be made as asked; holds everything found about it.

    Its text is for a developer: codes and facts. `wording` has the words for a person.

    Parameters
    ----------
    findings : iterable of Finding
        At least one of them stops the project.
    """

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("\n".join(f"{one.key}: {dict(one.facts)}" for one in self.findings))


class WriteError(ParamgenError):
    """A file or folder could not be written; what was there before is still there."""
