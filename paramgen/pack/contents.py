"""Everything in a project's folder, as bytes by file name."""

from collections.abc import Iterator, Sequence

from paramgen.drawings.hooped import hooped
from paramgen.drawings.step import step_picture
from paramgen.drawings.svg import to_svg
from paramgen.drawings.template import piece_template
from paramgen.drawings.whole import whole
from paramgen.files.formats import Format
from paramgen.files.write import write_stitch_files
from paramgen.making import Made
from paramgen.pack.names import distinct, project_name, safe_name
from paramgen.pack.place import PLAN
from paramgen.plan.build import plan, to_json

Contents = dict[str, bytes]


def contents(made: Made, formats: Sequence[Format]) -> Contents:
    """Write a project into memory.

    Parameters
    ----------
    made : Made
    formats : sequence of Format
        Kinds of stitch file.

    Returns
    -------
    dict of file name, with / between folders, to bytes

    Raises
    ------
    CannotMakeError
        If a kind of stitch file cannot carry the project.
    WriteError
        If a stitch file does not read back as it was written.
    """
    name = project_name(made)
    written = write_stitch_files(made.sewn, formats, name)
    files = {f"stitch/{name}{file.ending}": file for file in written}
    found: Contents = {name: file.data for name, file in files.items()}
    found.update((file, text.encode()) for file, text in _pictures(made))
    names = sorted([*found, PLAN])
    found[PLAN] = to_json(plan(made, files, names)).encode()
    return {file: found[file] for file in names}


def _pictures(made: Made) -> Iterator[tuple[str, str]]:
    project, hoop = made.project, made.room.hoop
    scene = hooped(project, hoop.name, hoop.width, hoop.height)
    yield "whole.svg", to_svg(whole(scene))
    for step in project.steps:
        stem = f"{step.number:02}-{safe_name(step.title)}"
        yield f"steps/{stem}.svg", to_svg(step_picture(scene, step.number))
    stems = distinct([safe_name(piece.name) for piece in project.pieces])
    for stem, piece in zip(stems, project.pieces, strict=True):
        yield f"pieces/{stem}.svg", to_svg(piece_template(piece, project.unit))
