"""Pieces that are laid as one sheet over all copies: which, how large, and where they are taped."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain

import numpy as np

from paramgen.geometry.outlines import rectangle
from paramgen.layout.layers import strips_round
from paramgen.lengths import TOLERANCE, round_up
from paramgen.reference.hoops import RIM, Hoop
from paramgen.vocabulary.box import around
from paramgen.vocabulary.facts import Mm, facts
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Layer, Piece, Project, Step

#: The name of the length that cut sizes are rounded up to.
_MARK = "ruler_mark"


def sheet_pieces(project: Project) -> frozenset[str]:
    """Names of the pieces that one sheet over all copies can replace, and that may be so laid.

    A piece is one sheet unless its recipe says otherwise if it is not folded, is cut as a
    rectangle, reaches past the trim line all round, and is laid and taped in steps in which
    nothing else is: what is trimmed after the seam need not be cut to size before it.

    Parameters
    ----------
    project : Project
        One copy.

    Raises
    ------
    CannotMakeError
        If the recipe asks for a sheet of a piece that is not trimmed all round.
    """
    pieces = {one.name: one for one in project.pieces}
    found = {name for name, one in pieces.items() if _can_be(one, project)}
    unable = [one for one in project.pieces if one.one_sheet and one.name not in found]
    if unable:
        raise CannotMakeError([_not_trimmed(one) for one in unable])
    while mixed := found & set(chain.from_iterable(_shared_steps(project.steps, found))):
        found -= mixed
    return frozenset(found)


def _can_be(piece: Piece, project: Project) -> bool:
    trimmed = project.finish.trimmed
    if piece.one_sheet is False or trimmed is None or not trimmed.closed or piece.creases:
        return False
    box = piece.cut[0] * piece.cut[1]
    laid = [one for step in project.steps for one in step.layers if one.piece == piece.name]
    inner = trimmed.area.buffer(-TOLERANCE)
    return (
        bool(laid)
        and piece.outline.area.area > box - TOLERANCE
        and all(one.outline.area.covers(inner) for one in laid)
    )


def _not_trimmed(piece: Piece) -> Finding:
    return Finding(
        "sheet-not-trimmed",
        Severity.CANNOT,
        facts(piece=piece.called),
        piece=piece.name,
    )


def _shared_steps(steps: Sequence[Step], sheets: set[str]) -> Iterator[set[str]]:
    """What is laid or taped in a step where something else is that is no sheet."""
    for step in steps:
        names = {layer.piece for layer in step.layers} | set(step.taped)
        if names - sheets:
            yield names


def is_sheet_step(step: Step, sheets: frozenset[str]) -> bool:
    """Whether what a step lays or tapes is sheets over all copies."""
    names = {layer.piece for layer in step.layers}
    names |= set(step.taped) if step.act is Act.TAPE else set()
    return bool(names) and names <= sheets


def sheet_size(copies: Sequence[Project], name: str) -> tuple[float, float]:
    """Width and height in the hoop of a sheet over all copies, on ruler marks."""
    boxes = [around(one.box for one in shares) for shares in _laid(copies, name)]
    mark = next(one.value for one in copies[0].lengths if one.name == _MARK)
    wide = max(box.width for box in boxes)
    high = max(box.height for box in boxes)
    return round_up(wide, mark), round_up(high, mark)


def laid_over_all(copies: Sequence[Project], place: int) -> tuple[Layer, ...]:
    """The sheets that a step lays over all copies.

    Parameters
    ----------
    copies : sequence of Project
    place : int
        Of the step, from 0.
    """
    found = []
    for each in zip(*(one.steps[place].layers for one in copies), strict=True):
        shares = tuple(one.outline for one in each)
        middle = np.array(around(one.box for one in shares).centre)
        wide, high = sheet_size(copies, each[0].piece)
        box = rectangle(-wide / 2, -high / 2, wide / 2, high / 2)
        outline = Path(box.points + middle, closed=True)
        found.append(replace(each[0], outline=outline, shares=shares))
    return tuple(found)


def taped_round(sheets: Sequence[Layer]) -> tuple[Path, ...]:
    """Strips of tape round sheets, at all their edges."""
    return tuple(strip for sheet in sheets for strip in strips_round(sheet.outline))


def beyond_the_rim(steps: Sequence[Step], hoop: Hoop) -> Iterator[Finding]:
    """Find sheets that reach, with their tape, past the rim of the hoop on any side."""
    for step in steps:
        if step.act is not Act.TAPE or not step.over_all or not step.tape:
            continue
        reach = np.abs(np.vstack([strip.points for strip in step.tape])).max(axis=0)
        over = float(max(reach - (hoop.width / 2 + RIM, hoop.height / 2 + RIM)))
        if over > TOLERANCE:
            called = {s.piece: s.called for one in steps for s in one.layers}
            yield Finding(
                "sheet-beyond-rim",
                Severity.CANNOT,
                facts(piece=called[step.taped[0]], over=Mm(over), hoop=hoop.called, rim=Mm(RIM)),
                amount=over,
                step=step.number,
                piece=step.taped[0],
            )


def _laid(copies: Sequence[Project], name: str) -> Iterator[tuple[Path, ...]]:
    """Each time that a piece is laid: its outline in every copy."""
    for steps in zip(*(one.steps for one in copies), strict=True):
        for each in zip(*(step.layers for step in steps), strict=True):
            if each[0].piece == name:
                yield tuple(one.outline for one in each)
