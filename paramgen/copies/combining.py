"""Several copies of a stitched project made one: the same steps, each with what is all copies'."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import chain

from paramgen.copies.footprint import needle_box
from paramgen.copies.most import Ways
from paramgen.copies.saying import said, said_both_ways
from paramgen.copies.tiles import Spot
from paramgen.layout.build import shifted
from paramgen.layout.project import Act, Notion, Placement, Project, Step
from paramgen.stitches.sewn import GRID_MM


def copies_at(ways: Ways, spots: Sequence[Spot]) -> tuple[Project, ...]:
    """Lay a copy at each spot, so that all their needle points are in the middle of the field."""
    places = []
    for spot in spots:
        tile, (left, top, right, bottom) = (
            ways.tiles[spot.kind],
            needle_box(ways.stitched[spot.kind]),
        )
        x, y = spot.x + tile.left, spot.y + tile.top
        places.append((x, y, x + right - left, y + bottom - top))
    lefts, tops, rights, bottoms = zip(*places, strict=True)
    # The middle of all, rounded to the grid as that of one is.
    middle_x, middle_y = (
        round((min(a) + max(b)) / 2) for a, b in ((lefts, rights), (tops, bottoms))
    )
    found = []
    for spot, (x, y, _, _) in zip(spots, places, strict=True):
        one = ways.stitched[spot.kind]
        left, top, _, _ = needle_box(one)
        by = (x - middle_x - left) * GRID_MM, (y - middle_y - top) * GRID_MM
        project = shifted(one.project, *by)
        move = one.move[0] + by[0], one.move[1] + by[1]
        found.append(replace(project, placed=(Placement(project.turned, move),)))
    return tuple(found)


def combined(copies: Sequence[Project]) -> Project:
    """Make one project of several copies that lie in one hoop.

    Parameters
    ----------
    copies : sequence of Project
        At least two, of one recipe and the same sizes.
    """
    first, count = copies[0], len(copies)
    other = next((one for one in copies if one.turned != first.turned), first)
    upright, turned = (other, first) if first.turned else (first, other)
    out = next((step.number for step in first.steps if step.act is Act.UNHOOP), 0)
    words = [
        # Out of the hoop they are cut apart, and the first is shown.
        one.say if out and one.number > out else said_both_ways(a.say, b.say)
        for one, a, b in zip(first.steps, upright.steps, turned.steps, strict=True)
    ]
    return replace(
        first,
        pieces=tuple(replace(one, quantity=one.quantity * count) for one in first.pieces),
        notions=tuple(
            _notion(parts) for parts in zip(*(one.notions for one in copies), strict=True)
        ),
        steps=tuple(
            _step(parts, say)
            for parts, say in zip(
                zip(*(one.steps for one in copies), strict=True), words, strict=True
            )
        ),
        turned=all(one.turned for one in copies),
        placed=tuple(one.placed[0] for one in copies),
    )


def _notion(parts: Sequence[Notion]) -> Notion:
    return replace(
        parts[0],
        quantity=parts[0].quantity * (1 if parts[0].once else len(parts)),
        halves=tuple(chain.from_iterable(one.halves for one in parts)),
        at=tuple(chain.from_iterable(one.at for one in parts)),
    )


def _step(parts: Sequence[Step], say: str) -> Step:
    return replace(
        parts[0],
        say=said(parts[0].act, say, len(parts)),
        lines=tuple(chain.from_iterable(one.lines for one in parts)),
        layers=tuple(chain.from_iterable(one.layers for one in parts)),
        tape=tuple(chain.from_iterable(one.tape for one in parts)),
        mark=tuple(chain.from_iterable(one.mark for one in parts)),
    )
