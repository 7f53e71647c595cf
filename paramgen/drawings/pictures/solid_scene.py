"""A solid as plain data for a page that turns it: its panels, and each face as a picture."""

from collections.abc import Iterator, Mapping

import shapely
from shapely.geometry.base import BaseGeometry

from paramgen.drawings.back_end.looks import LOOKS, PAPER, look_of
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.drawn_plies import PlyPile
from paramgen.drawings.front_end.framed_picture import LEAST_LETTERS, letters_for
from paramgen.drawings.front_end.solid_faces import bend_look, empty_pile, held_face, slab_face
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Style
from paramgen.finished.finished_thing import SIDES, FinishedThing
from paramgen.solid.hinge_turns import polygons
from paramgen.solid.solid_model import HeldSlab, Slab, Solid, SolidHinge, SolidPanel
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.kinds import Side

#: What can be written as JSON.
Plain = Mapping[str, object]

#: Lengths in a scene have so many decimals, mm.
_DECIMALS = 3


def as_scene(solid: Solid, thing: FinishedThing, cloths: Cloths = NO_CLOTHS) -> dict[str, object]:
    """Describe a solid for a page.

    Parameters
    ----------
    solid : Solid
    thing : FinishedThing
        That it was made of.
    cloths : mapping of name to Cloth
        What its fabrics look like, as far as the person said it.

    Returns
    -------
    dict
        Ready for JSON; the same solid gives the same. Lengths in mm, angles in degrees.
        `panels`, each with its `slabs` from the back to the front and their `faces` as SVG, the
        `hinge` that it hangs on; `held`, the things that go in; `says`, the words of the page.
    """
    em = letters_for(Box(*thing.room.bounds))
    pile = empty_pile(thing, em, cloths)
    title = thing.project.title
    return {
        "title": title,
        "panels": [
            _panel_said(solid, number, pile, em, f"{title}, part {number + 1}")
            for number in range(len(solid.panels))
        ],
        "held": [_held_said(one, number, em) for number, one in enumerate(solid.held)],
        "outer": solid.outer,
        "says": said_of(solid, title, turned=thing.done.turned),
    }


def said_of(solid: Solid, title: str, *, turned: bool) -> dict[str, str]:
    """The words that a page needs for a solid.

    Parameters
    ----------
    solid : Solid
    title : str
    turned : bool
        Whether it is turned out, so that what folds has an inside.
    """
    folds = any(panel.hinge and panel.hinge.moves for panel in solid.panels)
    names = dict.fromkeys(one.title for one in solid.held)
    return {
        "label": f"{title} as a solid",
        "turn": "Turn it by dragging, or with the arrow keys; Home turns it back.",
        "closing": "from open to closed" if folds else "",
        "opened": "open",
        "closed": "closed",
        "holding": f"how far in: {', '.join(names)}" if names else "",
        "out": "outside",
        "in": "in its place",
        "front": "seen from the outside" if folds and turned else "seen from the front",
        "back": "seen from the inside" if folds and turned else "seen from the back",
    }


def _panel_said(
    solid: Solid, number: int, pile: PlyPile, em: float, title: str
) -> dict[str, object]:
    panel = solid.panels[number]
    slabs = []
    for place, (slab, on) in enumerate(zip(panel.slabs, panel.holds, strict=True)):
        faces = {
            side.value: _svg(
                slab_face(pile, panel, place, side),
                slab.outline,
                side,
                f"face-{number + 1}-{place + 1}-{side.value}",
                title,
                em,
            )
            for side in SIDES
        }
        slabs.append({**_slab_said(slab), "holds": list(on), "faces": faces})
    found: dict[str, object] = {"slabs": slabs, "parent": -1, "level": None, "hinge": None}
    if panel.hinge is not None and panel.parent is not None:
        found["parent"] = panel.parent
        found["level"] = _rounded(panel.level) if panel.level else None
        found["hinge"] = _hinge_said(panel, panel.hinge, pile)
    return found


def _slab_said(slab: Slab) -> dict[str, object]:
    return {
        "outline": [_rings(part) for part in polygons(slab.outline)],
        "heights": _rounded(slab.heights),
    }


def _hinge_said(panel: SolidPanel, hinge: SolidHinge, pile: PlyPile) -> dict[str, object]:
    looks = [bend_look(pile, panel, inside=inside) for inside in (False, True)]
    outside, inside = (look_of(style, tone=tone).fill or PAPER for style, tone in looks)
    return {
        "start": _rounded(hinge.start),
        "end": _rounded(hinge.end),
        "opened": hinge.opened,
        "closed": hinge.closed,
        "side": hinge.side,
        "between": list(hinge.between),
        "first": hinge.first,
        "last": hinge.last,
        "spends": round(hinge.spends, _DECIMALS),
        "edges": [[_rounded(one) for one in edge] for edge in hinge.edges],
        "axis": None if hinge.axis is None else round(hinge.axis, _DECIMALS),
        "reach": [list(one) for one in hinge.reach] if hinge.reach else None,
        "outside": outside,
        "inside": inside,
    }


def _held_said(one: HeldSlab, number: int, em: float) -> dict[str, object]:
    return {
        "title": one.title,
        "outline": _rings(one.outline),
        "thickness": round(one.thickness, _DECIMALS),
        "panel": one.panel,
        "out": _rounded(one.out),
        "mouth": round(one.mouth, _DECIMALS),
        "travel": round(one.travel, _DECIMALS),
        "side": one.side,
        "stands": one.stands,
        "fill": LOOKS[Style.HELD].fill or PAPER,
        "face": _svg(
            held_face(one.outline, Side.FRONT),
            one.outline,
            Side.FRONT,
            f"held-{number + 1}",
            one.title,
            em,
        ),
    }


def _svg(
    items: tuple[DrawnItem, ...],
    outline: BaseGeometry,
    side: Side,
    name: str,
    title: str,
    em: float,
) -> dict[str, object]:
    """A face as SVG, and the box that it shows; a page cuts it to its outline."""
    left, top, right, bottom = outline.bounds if not outline.is_empty else (0.0, 0.0, 1.0, 1.0)
    if side is Side.BACK:
        left, right = -right, -left
    box = Box(left, top, right, bottom)
    drawing = Drawing(
        name=name,
        title=title,
        description=title,
        box=box,
        scale=em / LEAST_LETTERS,
        items=items,
    )
    return {
        "box": _rounded((box.left, box.top, box.width, box.height)),
        "svg": to_svg(drawing, ground=False),
    }


def _rings(part: BaseGeometry) -> list[list[list[float]]]:
    return [
        [_rounded(point) for point in shapely.get_coordinates(ring)[:-1].tolist()]
        for ring in _rings_of(part)
    ]


def _rings_of(part: BaseGeometry) -> Iterator[shapely.LinearRing]:
    if isinstance(part, shapely.Polygon):
        yield part.exterior
        yield from part.interiors


def _rounded(numbers: "tuple[float, ...] | list[float]") -> list[float]:
    return [round(float(one), _DECIMALS) + 0.0 for one in numbers]
