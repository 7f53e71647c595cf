"""Materials of several projects, or of one many times, as one."""

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import replace
from itertools import chain
from typing import TypeVar

from paramgen.amounts.project_materials import (
    ClothToCut,
    Materials,
    NotionToHave,
    PieceToCut,
    StabiliserSheets,
    TapeToHold,
)

_One = TypeVar("_One")


def times(one: Materials, count: int) -> Materials:
    """What so many hoopings take.

    Parameters
    ----------
    one : Materials
    count : int
        At least 1.
    """
    return summed([one] * count)


def summed(several: Sequence[Materials]) -> Materials:
    """What projects take together.

    Cloths of one role and title are one cloth. In it pieces of one name and size are one piece,
    and so are notions, sheets and tape of one kind; all else stands beside each other, in the
    order in which it first comes.
    """
    return Materials(
        cloths=_joined(chain(*(one.cloths for one in several)), _cloth_key, _cloth),
        notions=_joined(chain(*(one.notions for one in several)), _notion_key, _notion),
        stabiliser=_joined(chain(*(one.stabiliser for one in several)), _sheet_key, _sheets),
        tape=_joined(chain(*(one.tape for one in several)), lambda tape: tape.width, _tape),
    )


def _joined(
    found: Iterable[_One],
    key: Callable[[_One], Hashable],
    join: Callable[[Sequence[_One]], _One],
) -> tuple[_One, ...]:
    groups: dict[Hashable, list[_One]] = {}
    for one in found:
        groups.setdefault(key(one), []).append(one)
    return tuple(map(join, groups.values()))


def _cloth_key(one: ClothToCut) -> Hashable:
    return one.role, one.sort, one.title


def _cloth(same: Sequence[ClothToCut]) -> ClothToCut:
    pieces = _joined(chain(*(one.pieces for one in same)), _piece_key, _piece)
    return replace(same[0], pieces=pieces, wash=any(one.wash for one in same))


def _piece_key(one: PieceToCut) -> Hashable:
    return replace(one, quantity=0)


def _piece(same: Sequence[PieceToCut]) -> PieceToCut:
    return replace(same[0], quantity=sum(one.quantity for one in same))


def _notion_key(one: NotionToHave) -> Hashable:
    return replace(one, quantity=0)


def _notion(same: Sequence[NotionToHave]) -> NotionToHave:
    return replace(same[0], quantity=sum(one.quantity for one in same))


def _sheet_key(one: StabiliserSheets) -> Hashable:
    return replace(one, sheets=0)


def _sheets(same: Sequence[StabiliserSheets]) -> StabiliserSheets:
    return replace(same[0], sheets=sum(one.sheets for one in same))


def _tape(same: Sequence[TapeToHold]) -> TapeToHold:
    return replace(
        same[0],
        length=sum(one.length for one in same),
        strips=sum(one.strips for one in same),
    )
