"""What a person said once, put to use where they say nothing else.

Settings are words, filled in where nothing was typed, so that all that reads words, and what a row
of a table is made from, needs to know nothing of them.
"""

from dataclasses import replace
from pathlib import Path

from paramgen.files.format_choice import formats_named
from paramgen.ordering.known_lists import known_hoops, unit_asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.reference.hoops import with_mine
from paramgen.reference.paper_sizes import find_paper, listed_papers
from paramgen.reference.settings import Settings, line_of, own_settings, read_settings
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.unit import Unit


def with_settings(words: TypedRequest, settings: Settings | None = None) -> TypedRequest:
    """Fill in what a person said once, where they say nothing now.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    said = sound_settings(own_settings()) if settings is None else settings
    inches = not said.unit and unit_asked("", said.hoops[:1]) is Unit.INCH
    return replace(
        words,
        more_hoops=words.more_hoops if words.hoop.strip() else said.hoops,
        files=words.files or ",".join(said.files),
        paper=words.paper or said.paper,
        usual_unit=said.unit or (str(Unit.INCH) if inches else ""),
    )


def unit_shown(typed: str) -> Unit:
    """The unit of what is only shown: the one typed, else as a person said once."""
    return unit_asked(typed, (), with_settings(TypedRequest()).usual_unit)


def sound_settings(file: Path) -> Settings:
    """The settings of a file whose words are all known."""
    said = read_settings(file)
    try:
        check_settings(said)
    except InputError as problem:
        # Whoever typed nothing of the kind must know where it stands.
        raise InputError(_in_file(file, fault) for fault in problem.faults) from None
    return said


def _in_file(file: Path, fault: Fault) -> Fault:
    """A fault of what an option would say, with its place in the file."""
    option, *_ = [*fault.where.split(), ""]
    keys = {"--hoop": "hoops", "--files": "files", "--unit": "unit", "--paper": "paper"}
    if option not in keys:
        return fault
    line = line_of(file.read_text("utf-8-sig"), keys[option])
    return replace(fault, where=f"{file}, key `{keys[option]}`", line=line)


def check_settings(said: Settings) -> None:
    """Refuse words that are not known; raises InputError with every fault."""
    faults = Faults()
    hoops = faults.tried(lambda: known_hoops(mine=()))
    if hoops and said.hoops:
        faults.tried(lambda: with_mine(hoops, said.hoops, where="--hoop"))
    if said.files:
        faults.tried(lambda: formats_named(said.files))
    if said.unit:
        faults.tried(lambda: unit_asked(said.unit))
    if said.paper:
        faults.tried(lambda: find_paper(said.paper, listed_papers(), where="--paper"))
    if faults:
        raise InputError(faults)
