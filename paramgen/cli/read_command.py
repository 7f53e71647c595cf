"""The read command: what is in a stitch file, and whether it is what it should be."""

from contextlib import suppress
from pathlib import Path

from paramgen.files.read_any_kind import LARGEST_FILE
from paramgen.ordering.known_lists import known_hoops, unit_asked
from paramgen.plan.differences import Difference, differences, same_bytes
from paramgen.plan.read_plan import LARGEST_PLAN, Planned, is_plan, read_plan
from paramgen.reading.examine import read
from paramgen.reading.field_fits import InHoop, exceeds, in_hoop, in_hoops
from paramgen.reading.file_report import FileReport
from paramgen.reference.hoops import find_hoop
from paramgen.vocabulary.findings import Fault, Faults, Finding, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit


@dataclass(frozen=True, kw_only=True)
class FileFindings:
    """What was found of a file.

    Parameters
    ----------
    reading : FileReport
    unit : Unit
    hoops : tuple of InHoop
        How it lies in each hoop there is, the smallest first.
    asked : InHoop or None
        How it lies in the hoop asked about.
    exceeds : Finding or None
        By how much it exceeds that.
    plan : Planned or None
        The project that it should be.
    same_bytes : str
        Name of the plan's file that it is, byte for byte.
    differences : tuple of Difference
        Where it is not that project.
    """

    reading: FileReport
    unit: Unit
    hoops: tuple[InHoop, ...]
    asked: InHoop | None
    exceeds: Finding | None
    plan: Planned | None
    same_bytes: str
    differences: tuple[Difference, ...]

    @property
    def good(self) -> bool:
        """Whether the hoop asked about takes it, and it is the project it should be."""
        return self.exceeds is None and not self.differences


def look(file: Path, hoop: str = "", plan: Path | None = None, unit: str = "") -> FileFindings:
    """Read a file, and hold it to a hoop and a plan if they are given.

    Parameters
    ----------
    file : Path
    hoop, unit : str
        As typed; empty where they were not given.
    plan : Path or None
        The plan.json, or the folder it lies in.

    Raises
    ------
    InputError
        With every fault in what was typed and in both files.
    """
    faults = Faults()
    shown = faults.tried(lambda: unit_asked(unit, [hoop])) or Unit.MM
    hoops = faults.tried(known_hoops) or ()
    asked = None
    if hoop.strip() and hoops:
        asked = faults.tried(lambda: find_hoop(hoop, hoops, where="--hoop"))
    reading = faults.tried(lambda: _reading(file))
    planned = faults.tried(lambda: _planned(plan)) if plan is not None else None
    if faults or reading is None:
        raise InputError(faults)
    return FileFindings(
        reading=reading,
        unit=shown,
        hoops=in_hoops(reading, hoops),
        asked=in_hoop(reading, asked) if asked else None,
        exceeds=exceeds(reading, asked, hoops) if asked else None,
        plan=planned,
        same_bytes=same_bytes(reading, planned) if planned else "",
        differences=differences(reading, planned, shown) if planned else (),
    )


def _reading(file: Path) -> FileReport:
    data, name = load(file, LARGEST_FILE), _name(file)
    if is_plan(data):
        hint = "Give a stitch file, and the plan after --plan."
        raise InputError(
            [Fault("this is the plan of a project, not a stitch file", name, hint=hint)]
        )
    return read(data, name)


def _planned(path: Path) -> Planned:
    file = path
    with suppress(OSError, ValueError):  # what is wrong with the path is said when it is read
        file = path / "plan.json" if path.is_dir() else path
    return read_plan(load(file, LARGEST_PLAN), _name(file))


def _name(file: Path) -> str:
    """Path as typed, without letters that cannot be shown."""
    return "".join(letter if letter.isprintable() else "?" for letter in str(file))


def load(file: Path, largest: int) -> bytes:
    """Bytes of a file; of one that is larger than allowed, one byte too many.

    Raises
    ------
    InputError
        If there is no such file, it is no file, or it cannot be read.
    """
    hint = "Give the path of the file."
    try:
        if file.is_dir():
            raise InputError([Fault("this is a folder, not a file", _name(file), hint=hint)])
        if not file.exists():
            raise InputError([Fault("there is no such file", _name(file), hint=hint)])
        if not file.is_file():  # a device or a pipe may never end
            raise InputError([Fault("this is not a file of bytes", _name(file), hint=hint)])
        with file.open("rb") as stream:
            return stream.read(largest + 1)
    except (OSError, ValueError) as problem:
        said = getattr(problem, "strerror", None) or problem
        text = f"it cannot be read: {said}"
        raise InputError([Fault(text, _name(file), hint="See who may read it.")]) from None
