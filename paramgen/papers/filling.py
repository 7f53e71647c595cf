"""Filling sheets with boxes that have several forms, on as few sheets as are found."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from paramgen.drawings.boxes import Box

#: More boxes than these are laid in one order only.
MANY = 40
# Boxes that touch by no more than this do not overlap, mm.
_TOUCH = 1e-6


@dataclass(frozen=True)
class Form:
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
class Laid:
    """Where a box lies.

    Parameters
    ----------
    index, form : int
        Which box, and which of its forms.
    sheet, kind : int
        Which sheet, from 0, and which kind of sheet that is.
    box : Box
    """

    index: int
    form: int
    sheet: int
    kind: int
    box: Box


@dataclass
class _Sheet:
    kind: int
    taken: list[Box]


def filled(
    boxes: Sequence[Sequence[Form]], room: Box, kinds: Sequence[Sequence[Box]], gap: float
) -> tuple[Laid, ...]:
    """Lay boxes on sheets.

    Parameters
    ----------
    boxes : sequence of sequences of Form
        For each box the ways in which it can lie, the best first; one at least fits on a sheet.
    room : Box
        Of a sheet.
    kinds : sequence of sequences of Box
        What is not free on a sheet of each kind, the usual kind first.
    gap : float
        Least room between two boxes, and to what is not free, mm.

    Returns
    -------
    tuple of Laid
        By sheet, and from the top. Of all that was tried it has the fewest sheets, then the
        fewest turned boxes.
    """
    ways = _ways(boxes)
    least = _least_sheets(boxes, room)
    best: tuple[Laid, ...] = ()
    cost = (math.inf, math.inf)
    for order, forms in ways:
        laid = _lay(order, forms, boxes, room, kinds, gap)
        if laid is None:
            continue
        sheets = 1 + max((one.sheet for one in laid), default=-1)
        turned = sum(boxes[one.index][one.form].turned for one in laid)
        if (sheets, turned) < cost:
            best, cost = laid, (sheets, turned)
        if cost <= (least, 0):
            break
    return tuple(sorted(best, key=lambda one: (one.sheet, one.box.top, one.box.left)))


_Ways = Iterator[tuple[list[int], list[list[int]]]]


def _ways(boxes: Sequence[Sequence[Form]]) -> _Ways:
    """Orders to lay boxes in, with the forms that each may take: first without turning."""

    def size(index: int) -> Form:
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


def _least_sheets(boxes: Sequence[Sequence[Form]], room: Box) -> int:
    """No fewer sheets will do: they have no more area."""
    area = sum(min(form.width * form.height for form in forms) for forms in boxes)
    return max(1, math.ceil(area / (room.width * room.height) - 1e-9))


def _lay(
    order: Sequence[int],
    forms: Sequence[Sequence[int]],
    boxes: Sequence[Sequence[Form]],
    room: Box,
    kinds: Sequence[Sequence[Box]],
    gap: float,
) -> tuple[Laid, ...] | None:
    """Lay boxes in an order, each as high as it goes on the first sheet that takes it."""
    sheets: list[_Sheet] = []
    laid = []
    for index in order:
        fresh = [_Sheet(kind, list(taken)) for kind, taken in enumerate(kinds)]
        found = None
        for place, sheet in enumerate([*sheets, *fresh]):
            found = _spot([(f, boxes[index][f]) for f in forms[index]], sheet.taken, room, gap)
            if found:
                form, box = found
                laid.append(Laid(index, form, min(place, len(sheets)), sheet.kind, box))
                sheet.taken.append(box)
                if place >= len(sheets):
                    sheets.append(sheet)
                break
        if found is None:
            return None
    return tuple(laid)


def _spot(
    forms: Sequence[tuple[int, Form]], taken: Sequence[Box], room: Box, gap: float
) -> tuple[int, Box] | None:
    """Find the highest place for a box in the first form that has one, then the leftmost."""
    tops = sorted({room.top, *(box.bottom + gap for box in taken)})
    lefts = sorted({room.left, *(box.right + gap for box in taken)})
    for number, form in forms:
        for top in tops:
            for left in lefts:
                box = Box(left, top, left + form.width, top + form.height)
                if (
                    box.right <= room.right + _TOUCH
                    and box.bottom <= room.bottom + _TOUCH
                    and not any(_too_near(box, other, gap) for other in taken)
                ):
                    return number, box
    return None


def _too_near(one: Box, other: Box, gap: float) -> bool:
    near = gap - _TOUCH
    return (
        one.left < other.right + near
        and other.left < one.right + near
        and one.top < other.bottom + near
        and other.top < one.bottom + near
    )
