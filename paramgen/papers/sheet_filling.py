"""Filling sheets with boxes that have several forms, on as few sheets as are found.

They are filled by trying: in several orders, upright first, then turned; the fewest sheets win,
then the fewest turned templates.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from paramgen.vocabulary.box import Box
from paramgen.vocabulary.frozen_data import dataclass

#: More boxes than these are laid in one order only.
MANY = 40
# Boxes that touch by no more than this do not overlap, mm.
_TOUCH = 1e-6


@dataclass(frozen=True)
class BoxForm:
    """One way in which a box can lie.

    Parameters
    ----------
    width, height : float
        mm.
    turned : bool
        Whether it lies turned for it, which is done only if it saves a sheet.
    """

    width: float
    height: float
    turned: bool = False


@dataclass(frozen=True)
class BoxOnSheet:
    """Where a box lies.

    Parameters
    ----------
    index, form : int
        Which box, and which of its forms.
    sheet : int
        From 0.
    box : Box
    """

    index: int
    form: int
    sheet: int
    box: Box


@dataclass(frozen=True)
class SheetRoom:
    """What is not free on sheets.

    Parameters
    ----------
    first : sequence of sequences of Box
        On the first sheet, in one way or another, the usual one first.
    others : sequence of Box
        On every other sheet.
    """

    first: Sequence[Sequence[Box]]
    others: Sequence[Box]


@dataclass(frozen=True)
class FilledSheets:
    """How boxes lie on sheets.

    Parameters
    ----------
    laid : tuple of BoxOnSheet
        By sheet, and from the top.
    count : int
        Of sheets; nothing may lie on the first.
    first : int
        In which way the first sheet is taken.
    turned : int
        How many boxes lie turned.
    """

    laid: tuple[BoxOnSheet, ...]
    count: int
    first: int
    turned: int


def filled(
    boxes: Sequence[Sequence[BoxForm]], room: Box, sheets: SheetRoom, gap: float
) -> FilledSheets | None:
    """Lay boxes on sheets.

    Parameters
    ----------
    boxes : sequence of sequences of BoxForm
        For each box the ways in which it can lie, the best first.
    room : Box
        Of a sheet.
    sheets : SheetRoom
        What is not free there.
    gap : float
        Least room between two boxes, and to what is not free, mm.

    Returns
    -------
    FilledSheets or None
        Of all that was tried it has the fewest sheets, then the fewest turned boxes; None if a
        box fits on no sheet.
    """
    least = _least_sheets(boxes, room)
    best: FilledSheets | None = None
    for order, forms in _ways(boxes):
        for first, taken in enumerate(sheets.first):
            laid = _lay(order, forms, boxes, room, taken, sheets.others, gap)
            if laid is None:
                continue
            count = max((one.sheet + 1 for one in laid), default=1)
            turned = sum(boxes[one.index][one.form].turned for one in laid)
            if best is None or (count, turned) < (best.count, best.turned):
                best = FilledSheets(_in_order(laid), count, first, turned)
        if best and (best.count, best.turned) <= (least, 0):
            break
    return best


def _in_order(laid: Sequence[BoxOnSheet]) -> tuple[BoxOnSheet, ...]:
    """By sheet and from the top, sheets but the first in the order of the boxes on them."""
    lowest: dict[int, int] = {}
    for one in laid:
        lowest[one.sheet] = min(lowest.get(one.sheet, one.index), one.index)
    others = sorted((sheet for sheet in lowest if sheet), key=lowest.__getitem__)
    number = {0: 0, **{sheet: place for place, sheet in enumerate(others, 1)}}
    moved = (replace(one, sheet=number[one.sheet]) for one in laid)
    return tuple(sorted(moved, key=lambda one: (one.sheet, one.box.top, one.box.left)))


_Ways = Iterator[tuple[list[int], list[list[int]]]]


def _ways(boxes: Sequence[Sequence[BoxForm]]) -> _Ways:
    """Orders to lay boxes in, with the forms that each may take: first without turning."""

    def size(index: int) -> BoxForm:
        return boxes[index][0]

    numbers = range(len(boxes))
    orders = [
        sorted(numbers, key=lambda i: (-size(i).height, -size(i).width, i)),
        sorted(numbers, key=lambda i: (-size(i).height * size(i).width, i)),
        sorted(numbers, key=lambda i: (-max(size(i).height, size(i).width), i)),
        sorted(numbers, key=lambda i: (-size(i).width, -size(i).height, i)),
    ]
    every = [list(range(len(forms))) for forms in boxes]
    upright = [[f for f in one if not forms[f].turned] or one
               for one, forms in zip(every, boxes, strict=True)]  # fmt: skip
    turned = [sorted(one, key=lambda f: not forms[f].turned)
              for one, forms in zip(every, boxes, strict=True)]  # fmt: skip
    few = len(boxes) <= MANY
    for forms in (upright, every, turned):
        for order in orders if few else orders[:1]:
            yield order, forms


def _least_sheets(boxes: Sequence[Sequence[BoxForm]], room: Box) -> int:
    """No fewer sheets will do: they have no more area."""
    area = sum(min(form.width * form.height for form in forms) for forms in boxes)
    return max(1, math.ceil(area / (room.width * room.height) - 1e-9))


def _lay(
    order: Sequence[int],
    forms: Sequence[Sequence[int]],
    boxes: Sequence[Sequence[BoxForm]],
    room: Box,
    first: Sequence[Box],
    others: Sequence[Box],
    gap: float,
) -> tuple[BoxOnSheet, ...] | None:
    """Lay boxes in an order, each as high as it goes on the first sheet that takes it."""
    sheets: list[list[Box]] = [list(first)]
    laid = []
    for index in order:
        found = None
        for place, taken in enumerate([*sheets, list(others)]):
            found = _spot([(f, boxes[index][f]) for f in forms[index]], taken, room, gap)
            if found:
                form, box = found
                laid.append(BoxOnSheet(index, form, place, box))
                taken.append(box)
                if place == len(sheets):
                    sheets.append(taken)
                break
        if found is None:
            return None
    return tuple(laid)


def _spot(
    forms: Sequence[tuple[int, BoxForm]], taken: Sequence[Box], room: Box, gap: float
) -> tuple[int, Box] | None:
    """Find the highest place for a box in the first form that has one, then the leftmost."""
    tops = sorted({room.top, *(box.bottom + gap for box in taken)})
    lefts = sorted({room.left, *(box.right + gap for box in taken)})
    near = gap - _TOUCH
    for number, form in forms:
        across = [(left, left + form.width) for left in lefts]
        across = [(left, right) for left, right in across if right <= room.right + _TOUCH]
        for top in tops:
            bottom = top + form.height
            if bottom > room.bottom + _TOUCH:
                break
            beside = [
                (other.left, other.right + near)
                for other in taken
                if top < other.bottom + near and other.top < bottom + near
            ]
            for left, right in across:
                if not any(left < ends and begins < right + near for begins, ends in beside):
                    return number, Box(left, top, right, bottom)
    return None
