"""The check command: all that `make` can find, and nothing of what it makes."""

from pathlib import Path
from typing import Any

from paramgen.cli.left_out_papers import left_out
from paramgen.cli.shared_workshop import workshop
from paramgen.files.format_limits import check_limits
from paramgen.making import Made
from paramgen.ordering.letters_papers_lack import check_letters
from paramgen.ordering.order_from_words import UnderstoodRequest
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.findings import CannotMakeError, Finding
from paramgen.vocabulary.unit import Unit


def check(wanted: UnderstoodRequest) -> tuple[Made | None, tuple[Finding, ...]]:
    """Work a project out, as far as anything may be found in it.

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
        made = workshop().make(wanted.order, wanted.hoops)
        check_letters(wanted)
        check_limits(made.sewn, wanted.formats)
    except CannotMakeError as problem:
        return None, problem.findings
    return made, made.project.findings


def draw_places(wanted: UnderstoodRequest, found: tuple[Finding, ...], folder: Path) -> str:
    """Draw where the findings are, and say what came of it.

    Raises
    ------
    WriteError
        If the folder holds anything else, or cannot be written.
    """
    from paramgen.pack.finding_pictures import place_pictures, write_places  # few ask for them

    attempt = workshop().attempt(wanted.order, wanted.hoops)
    project = attempt.project
    if project is None:
        return "These sizes give no project to show places in: no picture was drawn."
    if not any(finding.place for finding in found):
        return "No finding has a place to show: no picture was drawn."
    pictures = place_pictures(project, attempt.room.hoop, found, wanted.cloths)
    write_places(pictures, folder)
    count = f"{len(pictures)} pictures" if len(pictures) > 1 else "A picture"
    return f"{count} of where the findings are: {folder.absolute()}"


def as_report(
    made: Made | None, found: tuple[Finding, ...], unit: Unit, cloths: Cloths = NO_CLOTHS
) -> dict[str, Any]:
    """What was found, for another program; `plan` is as in plan.json, without files.

    `left_out` names the papers that cannot be typeset here.
    """
    from paramgen.plan.write_plan import finding_part, plan  # few ask for it

    return {
        "format": 1,
        "can_be_made": made is not None,
        "left_out": list(left_out()),
        "findings": [finding_part(one, unit).model_dump(mode="json") for one in found],
        "plan": plan(made, {}, [], cloths=cloths).model_dump(mode="json") if made else None,
    }
