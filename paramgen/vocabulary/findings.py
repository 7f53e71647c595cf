"""What is wrong, said so that a person can act on it."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:  # numpy would be loaded only to name a type
    from paramgen.vocabulary.path import Point

Answer = TypeVar("Answer")

#: What moves the cursor, colours the screen, or turns round the order in which letters are shown.
UNSHOWN = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    "\U000e0000-\U000e007f]"
)


class Severity(StrEnum):
    """How bad a finding is, worst first."""

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
    message : str
        What, where and the limit, in the person's unit.
    remedy : str
        What would mend it, with a number where one can be computed; empty if unknown.
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
    message: str
    remedy: str = ""
    amount: float | None = None
    place: "tuple[Point, ...]" = ()
    step: int | None = None
    piece: str | None = None
    instead: tuple[Instead, ...] = ()

    @property
    def stops(self) -> bool:
        """Whether nothing may be written because of it."""
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
        """What an act gives; None if what it is given is wrong, and then its faults are kept."""
        try:
            return act()
        except InputError as problem:
            self.extend(problem.faults)
            return None


class CannotMakeError(ParamgenError):
    """The project cannot be made as asked; holds everything found about it.

    Parameters
    ----------
    findings : iterable of Finding
        At least one of them stops the project.
    """

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("\n".join(finding.message for finding in self.findings))


class WriteError(ParamgenError):
    """A file or folder could not be written; what was there before is still there."""
