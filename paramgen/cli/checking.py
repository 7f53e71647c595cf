"""The check command: everything `make` does short of writing."""

from typing import Any

from paramgen.cli.asking import Asked
from paramgen.files.write import write_stitch_files
from paramgen.findings import CannotMakeError, Finding
from paramgen.making import Made, make
from paramgen.plan.build import finding_part, plan


def check(wanted: Asked) -> tuple[Made | None, tuple[Finding, ...]]:
    """Work a project out, its stitch files too.

    Returns
    -------
    made : Made or None
        None if it cannot be made as asked, or a stitch file cannot carry it.
    findings : tuple of Finding

    Raises
    ------
    InputError
        If what was asked is wrong.
    """
    try:
        made = make(wanted.order, wanted.hoops)
        write_stitch_files(made.sewn, wanted.formats, made.project.recipe)
    except CannotMakeError as problem:
        return None, problem.findings
    return made, made.project.findings


def as_report(made: Made | None, found: tuple[Finding, ...]) -> dict[str, Any]:
    """What was found, for another program; `plan` is as in plan.json, without files."""
    return {
        "format": 1,
        "can_be_made": made is not None,
        "findings": [finding_part(one).model_dump(mode="json") for one in found],
        "plan": plan(made, {}, []).model_dump(mode="json") if made else None,
    }
