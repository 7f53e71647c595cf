"""Pictures of the finished thing as a solid, from a few sides and in a few poses."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

import numpy as np
import shapely

from paramgen.drawings.front_end.framed_picture import FramedPicture, composed, letters_for
from paramgen.drawings.front_end.legend import entries_for
from paramgen.drawings.front_end.over_edge import tapes
from paramgen.drawings.front_end.solid_faces import SolidFaces, empty_pile
from paramgen.drawings.front_end.solid_stood_up import StoodUp
from paramgen.drawings.primitives.drawn_paths import box_of
from paramgen.drawings.primitives.items import Drawing, Shape, Style, flat
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.finished.bulk import closed_thickness
from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.front_when_closed import front_when_closed
from paramgen.finished.standing_room import standing_room
from paramgen.lengths import show_both, show_size_both, spaced, unbroken
from paramgen.solid.looked_at import Gaze
from paramgen.solid.posed import posed
from paramgen.solid.solid_model import HeldSlab, Solid
from paramgen.solid.solid_of import solid_of
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.frozen_data import dataclass

_CAPTIONS: Mapping[Style, str] = MappingProxyType(
    {Style.STITCHED_BEFORE: "stitching", Style.FOLDED_EDGE: "folded or turned edge"}
)

#: From the left and above, and from behind on the right; of what folds, its inside.
_OUTSIDE, _INSIDE = Gaze(-32.0, 28.0), Gaze(148.0, 28.0)
#: Of what stands, its bottom: from the left and below.
_BELOW = Gaze(-24.0, -52.0)
#: So far in is drawn what goes in.
_HALF_IN = 0.5


@dataclass(frozen=True, kw_only=True)
class _Pose:
    """One way it stands and is looked at.

    Parameters
    ----------
    name : str
    title : str
        Follows "as a solid".
    how : str
        A sentence on how it stands.
    gaze : Gaze
    closed, held : float
        0 to 1, as for `posed`.
    """

    name: str
    title: str
    how: str
    gaze: Gaze
    closed: float = 0.0
    held: float = 1.0


def solid_views(thing: FinishedThing) -> tuple[Drawing, ...]:
    """Draw the finished thing as a solid.

    Parameters
    ----------
    thing : FinishedThing
        Laid out its own way round, not turned in a hoop.

    Returns
    -------
    tuple of Drawing
        Of what folds `open`, `half-closed`, `closed-front` and `closed-back`; of what does not
        `front` and `back`. Besides, where it holds something, `going-in`.
    """
    return tuple(composed(sheet) for sheet in solid_sheets(thing))


def solid_sheets(thing: FinishedThing, cloths: Cloths = NO_CLOTHS) -> tuple[FramedPicture, ...]:
    """Pictures of it as a solid, before they are put together."""
    solid = solid_of(thing)
    em = letters_for(Box(*thing.room.bounds))
    faces = SolidFaces(solid, empty_pile(thing, em, cloths))
    return tuple(_sheet(thing, faces, pose, em) for pose in _poses(thing, solid))


def telling(sheets: Sequence[FramedPicture]) -> tuple[FramedPicture, ...]:
    """The picture that tells most of how it goes together, where there is room for one."""
    order = ("finished-solid-half-closed", "finished-solid-going-in")
    return tuple(sorted(sheets, key=lambda sheet: [sheet.name != name for name in order])[:1])


def _poses(thing: FinishedThing, solid: Solid) -> Iterator[_Pose]:
    outside, inside = (_OUTSIDE, _INSIDE) if solid.outer > 0 else (_INSIDE, _OUTSIDE)
    within = "inside" if thing.done.turned else "back"
    last = [panel.hinge.last for panel in solid.panels if panel.hinge and panel.hinge.moves]
    if last:
        # Half of the first of its folds, and what is folded later not yet.
        half = min(last) / 2
        is_outer = front_when_closed(thing, solid.panels[0].outline) is thing.outer
        front, back = (outside, inside) if is_outer else (inside, outside)
        yield _Pose(name="open", title="open", how=f"Open, from the {within}.", gaze=inside)
        yield _Pose(
            name="half-closed",
            title="half closed",
            how=f"Half closed, from the {within}.",
            gaze=inside,
            closed=half,
        )
        yield _Pose(
            name="closed-front",
            title="closed, front",
            how="Closed, from the front.",
            gaze=front,
            closed=1.0,
        )
        yield _Pose(
            name="closed-back",
            title="closed, back",
            how="Closed, from the back.",
            gaze=back,
            closed=1.0,
        )
    else:
        yield _Pose(name="front", title="front", how="From the front.", gaze=outside)
        yield _Pose(name="back", title="back", how="From the back.", gaze=inside)
    if standing_room(thing) is not None:
        yield _Pose(name="bottom", title="bottom", how="From below.", gaze=_BELOW)
    if solid.held:
        names = ", ".join(dict.fromkeys(one.title for one in solid.held))
        yield _Pose(
            name="going-in",
            title=f"{names} going in",
            how=f"Open, the {names} half in.",
            gaze=inside if solid.held[0].side != solid.outer else outside,
            held=_half_in(solid.held[0]),
        )


def _half_in(one: HeldSlab) -> float:
    """How far in a thing is drawn: halfway, or half of it where it would be out of sight there."""
    along = shapely.get_coordinates(one.outline) @ np.array(one.out)
    deepest, tall = one.mouth - float(along.min()), float(np.ptp(along))
    if deepest - _HALF_IN * one.travel < tall:
        return _HALF_IN
    return 1.0 - (deepest - tall / 2) / one.travel


def _sheet(thing: FinishedThing, faces: SolidFaces, pose: _Pose, em: float) -> FramedPicture:
    project = thing.project
    stood = StoodUp(faces, posed(faces.solid, pose.closed, pose.held))
    picture = stood.items(pose.gaze)
    thick = _thickness(thing, faces.solid)
    title = f"{project.title}: as a solid, {pose.title}"
    shapes = [item.path for item in flat(picture) if isinstance(item, Shape)]
    return FramedPicture(
        name=f"finished-solid-{pose.name}",
        title=title,
        description=spaced(f"{pose.how} {thick}"),
        heading=(TextLine(title, bold=True), TextLine(pose.how), TextLine(thick)),
        above="",
        view=box_of(shapes).grown(0.5 * em),
        picture=picture,
        legend=entries_for(picture, _CAPTIONS, project.unit),
        letters=em,
    )


def _thickness(thing: FinishedThing, solid: Solid) -> str:
    """Say how thick it is where it is thickest, and how its thickness is drawn."""
    unit = thing.project.unit
    least, most = (unbroken(show_both(one, unit)) for one in closed_thickness(thing).empty)
    folds = any(panel.hinge and panel.hinge.moves for panel in solid.panels)
    stands = standing_room(thing)
    if stands is not None:
        high = unbroken(show_both(stands.stands, unit))
        bottom = unbroken(show_size_both(stands.width, stands.depth, unit))
        return (
            f"Empty, it stands {high} high on a bottom of {bottom}. Its plies are drawn at the "
            "middle of what they may be."
        )
    how = " and ".join(["closed"] * folds + ["empty"] * bool(solid.held))
    if any(tapes(thing.project)):
        how = f"{how}, without the tape over its edge".removeprefix(", ")
    it_is = f"{how[:1].upper()}{how[1:]}, it is" if how else "It is"
    return (
        f"{it_is} {least} to {most} thick where it is thickest. Its plies are drawn at the middle "
        "of what they may be, without what is turned in at its edges."
    )
