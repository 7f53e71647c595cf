"""A folder of pictures of where findings are."""

import re
from collections.abc import Sequence
from pathlib import Path

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.finding_place import place_picture
from paramgen.pack.file_names import safe_name
from paramgen.reference.hoops import Hoop
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.findings import Finding, WriteError
from paramgen.vocabulary.project import Project

_OURS = re.compile(r"\d\d+-[a-z0-9-]+\.svg")


def place_pictures(
    project: Project, hoop: Hoop, findings: Sequence[Finding], cloths: Cloths = NO_CLOTHS
) -> dict[str, bytes]:
    """Draw every finding that has a place.

    Parameters
    ----------
    project : Project
        As it lies in its hoop.
    hoop : Hoop
    findings : sequence of Finding
    cloths : mapping of name to Cloth
        What its fabrics look like, as far as the person said it; of a print its colour is shown.

    Returns
    -------
    dict of file name to bytes
        Numbered as the findings are listed.
    """
    scene = hooped(project, hoop.name, hoop.width, hoop.height, cloths=cloths)
    return {
        f"{number:02}-{safe_name(finding.code)}.svg": to_svg(
            place_picture(scene, finding, number)
        ).encode()
        for number, finding in enumerate(findings, start=1)
        if finding.place
    }


def write_places(files: dict[str, bytes], folder: Path) -> None:
    """Write pictures of places; those of an earlier run are replaced, anything else never.

    Raises
    ------
    WriteError
        If something else is in the folder, or the disk refuses.
    """
    try:
        there = sorted(folder.iterdir()) if folder.exists() else []
        strange = [file.name for file in there if not _ours(file)]
        if strange:
            raise WriteError(
                f"{folder} holds {strange[0]}, which this program did not make; nothing was "
                "changed. Choose another folder with --places."
            )
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            (folder / name).write_bytes(data)
        for file in there:
            if file.name not in files:
                file.unlink()
    except OSError as problem:
        raise WriteError(
            f"{folder} cannot be written: {problem.strerror or problem}. "
            "Choose another folder with --places."
        ) from None


def _ours(file: Path) -> bool:
    """Whether a file is a picture of a place that this program drew."""
    if file.is_symlink() or not file.is_file() or not _OURS.fullmatch(file.name):
        return False
    with file.open("rb") as stream:
        return b' id="place-' in stream.read(2000)
