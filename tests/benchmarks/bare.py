"""What `make` is measured against: the same libraries and needle points, nothing worked out.

Run by `speed.py` in a process of its own, with a file of needle points and a folder.
"""

import json
import sys
from pathlib import Path
from typing import Any

import numpy  # noqa: F401
import pydantic  # noqa: F401
import pyembroidery
import shapely  # noqa: F401
import svgwrite  # noqa: F401
import typer  # noqa: F401

#: The kinds that `make` writes, as the stitch library names their settings.
KINDS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("a.dst", {}),
    ("a.exp", {}),
    ("a.pes", {"version": 6}),
    ("a-v1.pes", {"version": 1}),
    ("a.jef", {"date": "20000101000000"}),
    ("a.vp3", {}),
    ("a.xxx", {}),
    ("a.csv", {}),
    ("a.json", {}),
    ("a.svg", {}),
)


def main(points: Path, folder: Path) -> None:
    """Write the points of a file in each kind of file."""
    write(json.loads(points.read_bytes()), folder)


def write(steps: Any, folder: Path) -> None:
    """Write steps, each its colour and its runs of points, in each kind of file."""
    for name, settings in KINDS:
        pattern = pyembroidery.EmbPattern()
        for colour, runs in steps:
            pattern.add_command(pyembroidery.COLOR_BREAK)
            pattern.add_thread(pyembroidery.EmbThread(colour, colour))
            for run in runs:
                for x, y in run:
                    pattern.add_stitch_absolute(pyembroidery.STITCH, x, y)
                pattern.add_command(pyembroidery.TRIM)
        pattern.add_command(pyembroidery.END)
        pyembroidery.write(pattern, str(folder / name), settings)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
