"""What is proven of the finished thing when all is well, as plain numbers."""

from collections.abc import Iterator
from typing import Literal

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.finished.bulk import Thickness, by_hand, closed_thickness
from paramgen.finished.clear_room import room_in
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.hardware_reach import places
from paramgen.finished.pockets import pockets_along
from paramgen.finished.standing_room import room_of_all
from paramgen.rehearsal.hollows import WORLD
from paramgen.rehearsal.outside_hollow import Rehearsed
from paramgen.rehearsal.rehearsal_limits import needle_for
from paramgen.rehearsal.thickness import LayersUnderNeedle, layers_along
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import Point


@dataclass(frozen=True)
class ShownFace:
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
class HollowProof:
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
class LargestHeld:
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
class FlapLies:
    """A flap of the finished thing.

    Parameters
    ----------
    pieces : tuple of str
    lies : str
        `work side`, `stands out` or `closing side`.
    rim : tuple of tuple of Point
        The stretches of the seam line where it is bound, mm.
    """

    pieces: tuple[str, ...]
    lies: Literal["work side", "stands out", "closing side"]
    rim: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, kw_only=True)
class RoomIn:
    """A place that holds something.

    Parameters
    ----------
    held : str
        Name of what it is for.
    against : str
        The piece it lies against.
    width, height : float
        Clear, between the lines that bind it, mm; of what stands, of its bottom and up its front.
    opens : str
        `zip` or `mouth`.
    depth : float
        Of its bottom, mm; 0 of what lies flat.
    """

    held: str
    against: str
    width: float
    height: float
    opens: Literal["zip", "mouth"]
    depth: float = 0.0


@dataclass(frozen=True)
class HardwareProof:
    """Where hardware is set.

    Parameters
    ----------
    notion : str
    at : Point
        mm, on the finished thing open and flat as it lay in the hoop.
    through : tuple of str
        The pieces it pierces, from the face that is seen inward.
    reached_by : str
        `outside`, `zip`, `mouth` or `gap`: what leads to its far side.
    depth : float
        How far in from there, mm.
    """

    notion: str
    at: Point
    through: tuple[str, ...]
    reached_by: Literal["outside", "zip", "mouth", "gap"]
    depth: float


@dataclass(frozen=True, kw_only=True)
class Proof:
    """What shows, what goes in, where it all lies and how thick it is.

    Parameters
    ----------
    hollows : tuple of HollowProof
        The insides of folds are left out.
    shows : tuple of ShownFace
    takes : tuple of LargestHeld
    layers : tuple of LayersUnderNeedle
    top_stitch_needle : str or None
        To suggest for top-stitching by hand once it is finished; None where there is none.
    flaps : tuple of FlapLies
        In order from the work to the closing piece.
    rooms : tuple of RoomIn
    hardware : tuple of HardwareProof
    thickness : Thickness
        Of the closed thing.
    """

    hollows: tuple[HollowProof, ...]
    shows: tuple[ShownFace, ...]
    takes: tuple[LargestHeld, ...]
    layers: tuple[LayersUnderNeedle, ...]
    top_stitch_needle: str | None
    flaps: tuple[FlapLies, ...]
    rooms: tuple[RoomIn, ...]
    hardware: tuple[HardwareProof, ...]
    thickness: Thickness


def proof(thing: FinishedThing) -> Proof:
    """Put a finished thing into numbers."""
    done = thing.done
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
        if done.in_sight(node):
            faces: tuple[tuple[int, Side], ...] = ((below, Side.FRONT), (above, Side.BACK))
            for sheet, side in faces:
                if sheet >= 0:
                    key = (sheets[sheet].piece, side)
                    shown[key] = shown.get(key, 0.0) + area
    takes = []
    for held in done.project.holds:
        room = room_in(thing, held)
        if room is not None:
            takes.append(
                LargestHeld(held.name, held.against, *(float(np.round(x, 3)) for x in room))
            )
    return Proof(
        hollows=tuple(
            HollowProof(_kind(done, hollow), area, tuple(sorted(round_it[hollow])))
            for hollow, area in sorted(sizes.items())
        ),
        shows=tuple(ShownFace(piece, side, area) for (piece, side), area in sorted(shown.items())),
        takes=tuple(takes),
        layers=layers_along(done),
        top_stitch_needle=_top_stitch_needle(thing),
        flaps=tuple(
            FlapLies((flap.piece,), flap.lies.words, _lines(flap.rim)) for flap in thing.flaps
        ),
        rooms=tuple(_rooms(thing)),
        hardware=tuple(
            HardwareProof(
                one.notion.name,
                one.at,
                tuple(dict.fromkeys(ply.sheet.piece for ply in one.pierced)),
                one.opening,
                one.depth,
            )
            for one in places(thing)
            if one.opening
        ),
        thickness=closed_thickness(thing),
    )


def _lines(shape: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    return tuple(
        tuple((float(x), float(y)) for x, y in shapely.get_coordinates(part))
        for part in shapely.get_parts(shape)
        if not part.is_empty
    )


def _rooms(thing: FinishedThing) -> Iterator[RoomIn]:
    for held in thing.project.holds:
        for pocket in pockets_along(thing, held):
            box = Box(*pocket.area.bounds)
            across, down, depth = box.width, box.height, 0.0
            if (stands := room_of_all(thing, pocket)) is not None:
                across, down = stands.lying((stands.width, stands.height))
                depth = stands.depth
            opens: Literal["zip", "mouth"] = "zip" if pocket.through_zip else "mouth"
            yield RoomIn(
                held=held.name,
                against=pocket.piece,
                width=across,
                height=down,
                opens=opens,
                depth=depth,
            )


def _top_stitch_needle(thing: FinishedThing) -> str | None:
    more = {step.number: step.more_layers for step in thing.project.steps}
    most = max((line.plies + more[line.step] for line in by_hand(thing)), default=0)
    return needle_for(most, thing.project.least_needle, in_hoop=False) if most else None


def _kind(done: Rehearsed, hollow: int) -> Literal["outside", "hidden", "closed"]:
    if hollow == done.outside or (hollow == WORLD and done.looked_into):
        return "outside"
    return "hidden" if hollow == WORLD else "closed"
