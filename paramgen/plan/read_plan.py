"""What of a plan.json a stitch file is held to.

Only that is read, and what else the plan holds is left alone: so a plan that an older or a
newer version wrote will do as long as these keys mean the same.
"""

import json
import re
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, FailFast, Field, ValidationError

from paramgen.plan.plan_format import FORMAT
from paramgen.vocabulary.findings import Fault, InputError

#: The largest plan that is read, bytes, and the most faults of one that are told.
LARGEST_PLAN = 16_000_000
_MOST_FAULTS = 10
#: Lists and tables in one, and commas between values: a project has at most 150,000 points, each
#: a list of two, and twenty large copies need 4.7 MB. Each takes memory, however short it is.
_MOST_LISTS, _MOST_COMMAS = 500_000, 1_500_000

#: What a plan says of itself, before any of its parts.
_PLAN = re.compile(rb'(?:\xef\xbb\xbf)?\s*\{[^\[{]*"made_by"\s*:\s*"paramgen"')

#: Millimetres: a thousand kilometres are more than any number in a plan, and can be shown.
PlannedNumber = Annotated[float, Field(ge=-1e9, le=1e9, allow_inf_nan=False)]
PlannedCount = Annotated[int, Field(ge=0)]


class _Part(BaseModel):
    model_config = ConfigDict(extra="ignore", frozen=True, strict=True, defer_build=True)


class PlannedHoop(_Part):
    """The hoop, and how the project lies in it."""

    name: str
    turned: bool


class PlannedExtent(_Part):
    """Smallest and largest needle points, mm."""

    left: PlannedNumber
    top: PlannedNumber
    right: PlannedNumber
    bottom: PlannedNumber


class PlannedLine(_Part):
    """A line as drawn, mm; a zigzag swings to both sides of it, or outward alone."""

    swing: PlannedNumber | None
    outward: bool = False
    closed: bool
    points: Annotated[
        list[Annotated[list[PlannedNumber], Field(min_length=2, max_length=2)]], FailFast()
    ] = Field(min_length=2)


class PlannedStep(_Part):
    """A step of the work; `stop` is None where nothing is stitched."""

    title: str
    stop: int | None
    colour: str | None
    stitches: PlannedCount
    length: PlannedNumber
    lines: Annotated[list[PlannedLine], FailFast()]


class PlannedFile(_Part):
    """A stitch file of the pack."""

    name: str
    sha256: str


class Planned(_Part):
    """The project that a stitch file should be."""

    format: Literal[1]
    made_by: Literal["paramgen"]
    recipe: str
    title: str
    hoop: PlannedHoop
    extent: PlannedExtent
    steps: Annotated[list[PlannedStep], FailFast()]
    files: Annotated[list[PlannedFile], FailFast()]

    @property
    def stops(self) -> tuple[PlannedStep, ...]:
        """The stitched steps, in order."""
        return tuple(step for step in self.steps if step.stop is not None)


def is_plan(data: bytes) -> bool:
    """Whether a file says that it is the plan of a project, be it whole or cut short.

    >>> is_plan(b'{"format": 1, "made_by": "paramgen"'), is_plan(b'{"stitches": [[0, 0, 0]]}')
    (True, False)
    """
    return _PLAN.match(data[:1000]) is not None


def read_plan(data: bytes, name: str) -> Planned:
    """Read a plan.json.

    Parameters
    ----------
    data : bytes
        All of it, or one byte more than `LARGEST_PLAN`.
    name : str
        The file's, for faults.

    Raises
    ------
    InputError
        If it is no plan of a project, or what is needed of it is wrong.
    """
    hint = "Give the plan.json of the project's folder."
    if len(data) > LARGEST_PLAN:
        text = f"it is larger than {LARGEST_PLAN // 1_000_000} MB, which no plan.json is"
        raise InputError([Fault(text, name, hint=hint)])
    if data.count(b"[") + data.count(b"{") > _MOST_LISTS or data.count(b",") > _MOST_COMMAS:
        text = "it holds more lists or values than any plan.json does"
        raise InputError([Fault(text, name, hint=hint)])
    try:
        raw = json.loads(data.decode("utf-8-sig"))
    except json.JSONDecodeError as problem:
        text = f"it is no JSON, or cut short: {problem.msg}"
        raise InputError([Fault(text, name, problem.lineno, hint=hint)]) from None
    except (ValueError, RecursionError):
        raise InputError([Fault("it is no JSON", name, hint=hint)]) from None
    if not isinstance(raw, dict) or raw.get("made_by") != "paramgen":
        raise InputError([Fault("it is JSON, but not the plan of a project", name, hint=hint)])
    if raw.get("format") != FORMAT or isinstance(raw["format"], bool):
        text = f"it is a plan of format {str(raw.get('format'))[:20]}; known here is {FORMAT}"
        hint = "Make the project anew, or check it with the version that made it."
        raise InputError([Fault(text, name, hint=hint)])
    hint = "Make the project anew."
    try:
        return Planned.model_validate(raw)
    except ValidationError as problem:
        raise InputError(
            Fault(_said(error["type"]), f"{name}: {_key(error['loc'])}", hint=hint)
            for error in problem.errors(include_input=False, include_url=False)[:_MOST_FAULTS]
        ) from None


def _key(loc: tuple[int | str, ...]) -> str:
    return ".".join(str(part) for part in loc)


def _said(kind: str) -> str:
    return "this key is missing" if kind == "missing" else "this is not what a plan holds here"
