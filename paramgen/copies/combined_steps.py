"""Several copies of a stitched project made one: the same steps, each with what is all copies'."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import chain

from paramgen.copies.copy_tiles import TileSpot
from paramgen.copies.footprint import needle_box
from paramgen.copies.most_copies import StitchedTurns
from paramgen.copies.shared_sheets import is_sheet_step, laid_over_all, sheet_size, taped_round
from paramgen.copies.step_wording import all_of, out_on_sheets, said, said_each_way, said_of_sheets
from paramgen.geometry.outlines import rectangle
from paramgen.layout.lay_out import shifted
from paramgen.layout.turning_gaps import gaps_in, is_open_edge
from paramgen.stitches.needle_points import GRID_MM
from paramgen.vocabulary.kinds import Act, FinishWay
from paramgen.vocabulary.project import Layer, Notion, Piece, Project, Step


def copies_at(ways: StitchedTurns, spots: Sequence[TileSpot]) -> tuple[Project, ...]:
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
        where = replace(one.project.placed[0], move=move)
        found.append(replace(project, placed=(where,)))
    return tuple(found)


def combined(
    copies: Sequence[Project], sheets: frozenset[str] = frozenset(), *, tape_cut: bool = False
) -> Project:
    """Make one project of several copies that lie in one hoop.

    Parameters
    ----------
    copies : sequence of Project
        At least two, of one recipe and the same sizes.
    sheets : frozenset of str
        The pieces that are one sheet over all of them.
    tape_cut : bool
        Whether tape of some was cut short for the next.
    """
    first, count = copies[0], len(copies)
    ways = {(one.turned, one.placed[0].half): one for one in reversed(copies)}
    out = next((step.number for step in first.steps if step.act is Act.UNHOOP), 0)
    over: tuple[Layer, ...] = ()
    steps = []
    for place, parts in enumerate(zip(*(one.steps for one in copies), strict=True)):
        step = parts[0]
        # Out of the hoop they are cut apart, and the first is shown.
        each = {way: one.steps[place].say for way, one in sorted(ways.items())}
        say = step.say if out and step.number > out else said_each_way(each)
        if is_sheet_step(step, sheets):
            if step.layers:
                over = (*over, *laid_over_all(copies, place))
            steps.append(_over_all(step, over, count, first))
            continue
        cut = tape_cut and step.act is Act.TAPE
        apart = ""
        if sheets and step.number == out:
            apart = out_on_sheets(count, at_gap=_left_at_gap(first))
        say = said(step.act, say, count, once=step.once, apart=apart, tape_cut=cut)
        step = _step(parts, say)
        # What they are trimmed along later shows where they can be cut apart.
        trims = [one.finish.trimmed for one in copies if one.finish.trimmed]
        steps.append(replace(step, mark=tuple(trims)) if apart else step)
    return replace(
        first,
        pieces=tuple(
            _sheet(one, copies)
            if one.name in sheets
            else replace(one, quantity=one.quantity * count)
            for one in first.pieces
        ),
        notions=tuple(
            _notion(parts) for parts in zip(*(one.notions for one in copies), strict=True)
        ),
        steps=tuple(steps),
        turned=all(one.turned for one in copies),
        placed=tuple(one.placed[0] for one in copies),
    )


def _sheet(piece: Piece, copies: Sequence[Project]) -> Piece:
    """A piece as one sheet over all copies, the project's own way round if all lie so."""
    size = sheet_size(copies, piece.name)
    size = size[::-1] if all(one.turned for one in copies) else size
    wide, high = size[0] / 2, size[1] / 2
    return replace(
        piece,
        title=f"{piece.title}, one sheet for {all_of(len(copies))}",
        cut=size,
        folded=size,
        outline=rectangle(-wide, -high, wide, high),
        over=len(copies),
    )


def _left_at_gap(project: Project) -> bool:
    """Whether the allowance is left at a gap, as it is but where a whole edge stays open."""
    gaps = gaps_in(project, (project.seam,)) if project.finish.way is FinishWay.TURNED else ()
    return any(not is_open_edge(project.seam, gap.line) for gap in gaps)


def _over_all(step: Step, over: Sequence[Layer], copies: int, first: Project) -> Step:
    """A step that lays or tapes one sheet over all copies; what is over all so far is given."""
    names = {layer.piece for layer in step.layers} | set(step.taped)
    mine = [layer for layer in over if layer.piece in names]
    layers = tuple(mine[len(mine) - len(step.layers) :])
    # Of a piece that is laid again the last one is taped.
    taped = tuple({layer.piece: layer for layer in mine}.values()) if step.taped else ()
    return replace(
        step,
        say=said_of_sheets(step, mine, copies, first.unit),
        layers=layers,
        tape=taped_round(taped),
        over_all=True,
        tape_alone=step.tape,
    )


def _notion(parts: Sequence[Notion]) -> Notion:
    return replace(
        parts[0],
        quantity=parts[0].quantity * (1 if parts[0].once else len(parts)),
        halves=tuple(chain.from_iterable(one.halves for one in parts)),
        hangs=tuple(chain.from_iterable(one.hangs for one in parts)),
        fused_to=tuple(chain.from_iterable(one.fused_to for one in parts)),
        over_edge=tuple(chain.from_iterable(one.over_edge for one in parts)),
        at=tuple(chain.from_iterable(one.at for one in parts)),
    )


def _step(parts: Sequence[Step], say: str) -> Step:
    return replace(
        parts[0],
        say=say,
        lines=tuple(chain.from_iterable(one.lines for one in parts)),
        layers=tuple(chain.from_iterable(one.layers for one in parts)),
        tape=tuple(chain.from_iterable(one.tape for one in parts)),
        mark=tuple(chain.from_iterable(one.mark for one in parts)),
    )
