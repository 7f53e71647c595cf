"""The check command: everything `make` does short of writing."""

from contextlib import suppress
from pathlib import Path
from typing import Any

from paramgen.cli.asking import Asked
from paramgen.cli.letters import check_letters
from paramgen.copies.several import put_copies_in_hoop
from paramgen.files.write import write_stitch_files
from paramgen.findings import CannotMakeError, Finding
from paramgen.hooping import stitch
from paramgen.layout.build import lay_out
from paramgen.layout.project import Project
from paramgen.making import Made, in_turn, make, resizing
from paramgen.pack.places import place_pictures, write_places
from paramgen.plan.build import finding_part, plan
from paramgen.sizing import size


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
        check_letters(wanted)
        write_stitch_files(made.sewn, wanted.formats, made.project.recipe)
    except CannotMakeError as problem:
        return None, problem.findings
    return made, made.project.findings


def lies_in_hoop(wanted: Asked) -> Project | None:
    """The project as the places of its findings see it, sound or not.

    In the hoop that takes it, of several asked, if it can be sewn there, else about the recipe's
    origin; None if it has no shape at all.
    """
    order = wanted.order
    sized = size(order.recipe, order.asked, unit=order.unit, scale=order.scale)
    room, _ = in_turn(order, sized)
    if order.copies != 1:
        with suppress(CannotMakeError):
            resize = resizing(order, sized)
            return put_copies_in_hoop(
                sized, room, order.copies, resize=resize, singly=order.singly
            ).project
    try:
        for turned in room.ways:
            made = stitch(sized, turned=turned)
            if room.takes(made.needs):
                return made.project
    except CannotMakeError:
        pass  # a line that cannot be sewn can still be shown
    try:
        return lay_out(sized)
    except CannotMakeError:
        return None


def draw_places(wanted: Asked, found: tuple[Finding, ...], folder: Path) -> str:
    """Draw where the findings are, and say what came of it.

    Raises
    ------
    WriteError
        If the folder holds anything else, or cannot be written.
    """
    project = lies_in_hoop(wanted)
    order = wanted.order
    if project is None:
        return "These sizes give no project to show places in: no picture was drawn."
    if not any(finding.place for finding in found):
        return "No finding has a place to show: no picture was drawn."
    sized = size(order.recipe, order.asked, unit=order.unit, scale=order.scale)
    pictures = place_pictures(project, in_turn(order, sized)[0].hoop, found)
    write_places(pictures, folder)
    count = f"{len(pictures)} pictures" if len(pictures) > 1 else "A picture"
    return f"{count} of where the findings are: {folder.absolute()}"


def as_report(made: Made | None, found: tuple[Finding, ...]) -> dict[str, Any]:
    """What was found, for another program; `plan` is as in plan.json, without files."""
    return {
        "format": 1,
        "can_be_made": made is not None,
        "findings": [finding_part(one).model_dump(mode="json") for one in found],
        "plan": plan(made, {}, []).model_dump(mode="json") if made else None,
    }
