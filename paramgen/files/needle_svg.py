"""Needle points as a picture at true size.

The stitch library's own picture has neither millimetres nor steps, so this one is ours: a
group for each step, in it a path for each run, with a vertex at every needle point.
"""

from collections.abc import Sequence
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray

from paramgen.files.formats import Format
from paramgen.files.readback import ReadStep, needles_of
from paramgen.stitches.needle_points import Run, SewnStep

_NAMESPACE = "http://www.w3.org/2000/svg"
_MARGIN = 10
_THREAD_MM = "0.3"


def encode(steps: Sequence[SewnStep], _kind: Format, label: str) -> bytes:
    """Draw the steps, in millimetres, the origin at the centre of the hoop field.

    The picture reaches 1 mm past the outermost needle points.
    """
    needles = np.concatenate([needles_of(step) for step in steps])
    left, top = (needles.min(axis=0) - _MARGIN).tolist()
    width, height = (np.ptp(needles, axis=0) + 2 * _MARGIN).tolist()
    root = ET.Element(
        "svg",
        {
            "xmlns": _NAMESPACE,
            "width": f"{width / 10:.1f}mm",
            "height": f"{height / 10:.1f}mm",
            "viewBox": f"{left / 10:.1f} {top / 10:.1f} {width / 10:.1f} {height / 10:.1f}",
            "fill": "none",
            "stroke-width": _THREAD_MM,
        },
    )
    ET.SubElement(root, "title").text = _printable(label)
    for step in steps:
        group = ET.SubElement(root, "g", {"id": f"stop-{step.stop}", "stroke": step.colour})
        ET.SubElement(group, "title").text = f"{step.stop}. {_printable(step.title)}"
        for run in step.runs:
            ET.SubElement(group, "path", {"d": _path_data(run)})
    ET.indent(root)
    return f"{ET.tostring(root, encoding='unicode')}\n".encode()


def _path_data(run: Run) -> str:
    return "M " + " ".join(f"{x / 10:.1f},{y / 10:.1f}" for x, y in run.needles.tolist())


def _printable(title: str) -> str:
    """Leave out what XML does not allow even escaped: control characters, lone surrogates."""
    return "".join(letter if letter.isprintable() else " " for letter in title)


def read_back(data: bytes, _kind: Format) -> tuple[ReadStep, ...]:
    """Read the steps and needle points of a picture that `encode` drew."""
    return tuple(ReadStep(np.concatenate(runs), colour) for colour, runs in read_runs(data))


def read_runs(data: bytes) -> tuple[tuple[str, tuple[NDArray[np.float64], ...]], ...]:
    """Read the colour and the runs of each step of a picture that `encode` drew.

    Raises
    ------
    ValueError
        If the file has a document type of its own, which could make it of any size, or
        anything else that `encode` does not write.
    """
    if b"<!" in data:
        raise ValueError("a document type or a comment")
    root = ET.fromstring(data.decode("utf-8"))
    steps = tuple(
        (
            group.get("stroke", "").lower(),
            tuple(_vertices(path) for path in group.iterfind(f"{{{_NAMESPACE}}}path")),
        )
        for group in root.iterfind(f"{{{_NAMESPACE}}}g")
    )
    if any(not runs or min(map(len, runs)) == 0 for _, runs in steps):
        raise ValueError("a step or a run of nothing")
    return steps


def _vertices(path: ET.Element) -> NDArray[np.float64]:
    data = path.get("d", "")
    numbers = [float(number) for number in data.replace("M", " ").replace(",", " ").split()]
    # Tenths of a millimetre; the rounding takes away binary fractions and nothing else.
    return np.round(np.array(numbers).reshape(-1, 2) * 10, 6)
