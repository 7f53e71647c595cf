"""Thread as it is sold and lies in a seam: what comes with the program, and a person's own."""

from functools import lru_cache
from pathlib import Path
from typing import Annotated, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from paramgen.reference.own_folder import own
from paramgen.reference.own_over_common import common, over_common

_FILE = "threads.toml"

#: Grams a kilometre: the finest that is sewn with, and cord.
Tex = Annotated[float, Field(ge=3, le=500)]
SpoolLength = Annotated[float, Field(ge=5, le=50_000)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class NeedleThread(_Table):
    """Thread of the needle: tex, and metres on a spool."""

    tex: Tex
    spool: SpoolLength


class BobbinThread(_Table):
    """Thread of the bobbin: off the needle's spool if it is the `same`; a bobbin `holds` grams."""

    tex: Tex
    spool: SpoolLength
    same: bool
    holds: Annotated[float, Field(ge=0.1, le=100)]

    @property
    def length(self) -> float:
        """On a full bobbin, m."""
        return 1000 * self.holds / self.tex


class _Range(_Table):
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True, populate_by_name=True)

    least: Annotated[float, Field(ge=0, le=1, alias="from")]
    most: Annotated[float, Field(ge=0, le=1, alias="to")]

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.least > self.most:
            raise ValueError("`from` is more than `to`")
        return self


class LockDepth(_Range):
    """Where the threads lock: a part of the thickness from the front, 0, to the back, 1."""


class ThreadWaste(_Range):
    """What is cut off and wound, as a part of what is sewn."""


class ThreadSold(_Table):
    """All of it."""

    needle: NeedleThread
    bobbin: BobbinThread
    lock: LockDepth
    waste: ThreadWaste


def own_threads() -> Path:
    """Tell where a person's own are read from; the file need not be there."""
    return own(_FILE)


@lru_cache(maxsize=1)
def usual_thread() -> ThreadSold:
    """What comes with the program.

    Examples
    --------
    Of 26.7 tex, 1.5 g are 1.5 / 26.7 km:

    >>> round(usual_thread().bobbin.length, 1)
    56.2
    """
    return common(_FILE, ThreadSold)


def thread_sold(file: Path | None = None) -> ThreadSold:
    """What comes with the program, and over it a person's own.

    Parameters
    ----------
    file : Path or None
        A person's own; in the usual place if None.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return over_common(_FILE, ThreadSold, file)
