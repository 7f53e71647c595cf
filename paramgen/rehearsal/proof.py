"""What the rehearsal proves when all is well, as plain numbers."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from paramgen.layout.project import Side
from paramgen.rehearsal.contents import room_in
from paramgen.rehearsal.hollows import WORLD
from paramgen.rehearsal.thickness import Layers, layers_along, top_stitch_needle
from paramgen.rehearsal.turned import Rehearsed


@dataclass(frozen=True)
class Shown:
    """A face of a piece that shows in the finished thing.

    Parameters
    ----------
    piece : str
    face : str
        `front` or `back`, as it lies in the hoop.
    area : float
        mm², inside the seam line.
    """

    piece: str
    face: Side
    area: float


@dataclass(frozen=True)
class Hollow:
    """One hollow of the finished thing, inside the seam line.

    Parameters
    ----------
    kind : str
        `outside` for what shows, pockets and pouches with it; `hidden` for what lies
        between outside and lining; `closed` for what opens to neither.
    area : float
        Of all its spaces together, mm².
    pieces : tuple of str
        The pieces round it.
    """

    kind: Literal["outside", "hidden", "closed"]
    area: float
    pieces: tuple[str, ...]


@dataclass(frozen=True)
class Takes:
    """What goes where something is to be held.

    Parameters
    ----------
    held : str
        Name of the thing.
    against : str
        The piece it lies against.
    width, height : float
        Largest thing of the same shape that goes there, mm.
    """

    held: str
    against: str
    width: float
    height: float


@dataclass(frozen=True)
class Proof:
    """What shows, what goes in, and how thick it is.

    Parameters
    ----------
    hollows : tuple of Hollow
        The insides of folds are left out.
    shows : tuple of Shown
    takes : tuple of Takes
    layers : tuple of Layers
    top_stitch_needle : str
        To suggest for top-stitching after turning.
    """

    hollows: tuple[Hollow, ...]
    shows: tuple[Shown, ...]
    takes: tuple[Takes, ...]
    layers: tuple[Layers, ...]
    top_stitch_needle: str


def proof(done: Rehearsed) -> Proof:
    """Put a rehearsed project into numbers."""
    spaces, plane, sheets = done.spaces, done.plane, done.sandwich.sheets
    shown: dict[tuple[str, Side], float] = {}
    sizes: dict[int, float] = {}
    round_it: dict[int, set[str]] = {}
    for node in range(1, len(spaces.face)):
        face = int(spaces.face[node])
        if not plane.within[face]:
            continue
        below, above = int(spaces.below[node]), int(spaces.above[node])
        same = below >= 0 and above >= 0 and sheets[below].layer == sheets[above].layer
        area = float(plane.areas[face].area)
        if not same:
            hollow = int(done.hollow[node])
            sizes[hollow] = sizes.get(hollow, 0.0) + area
            around = round_it.setdefault(hollow, set())
            around |= {sheets[sheet].piece for sheet in (below, above) if sheet >= 0}
        if done.shows(node):
            faces: tuple[tuple[int, Side], ...] = ((below, "front"), (above, "back"))
            for sheet, side in faces:
                if sheet >= 0:
                    key = (sheets[sheet].piece, side)
                    shown[key] = shown.get(key, 0.0) + area
    takes = []
    for held in done.project.holds:
        room = room_in(done, held)
        if room is not None:
            takes.append(Takes(held.name, held.against, *(float(np.round(x, 3)) for x in room)))
    return Proof(
        tuple(
            Hollow(_kind(done, hollow), area, tuple(sorted(round_it[hollow])))
            for hollow, area in sorted(sizes.items())
        ),
        tuple(Shown(piece, side, area) for (piece, side), area in sorted(shown.items())),
        tuple(takes),
        layers_along(done),
        top_stitch_needle(done),
    )


def _kind(done: Rehearsed, hollow: int) -> Literal["outside", "hidden", "closed"]:
    if hollow == done.outside:
        return "outside"
    return "hidden" if hollow == WORLD else "closed"
