"""Kits worked out: what is sewn, what it takes, how every cloth is cut."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from paramgen.amounts.project_materials import (
    ClothToCut,
    Materials,
    PieceToCut,
    StabiliserSheets,
    materials,
)
from paramgen.amounts.summed_materials import summed, times
from paramgen.kits.cloth_asked import STABILISER, with_usual
from paramgen.kits.cloth_on_mats import ON_MATS, ClothOnMats, on_mats
from paramgen.kits.cloth_there import ClothThere, Cutting, OneWay
from paramgen.kits.cutting_plan import SheetPlan
from paramgen.kits.kit_order import KitOrder
from paramgen.kits.plan_cutting import as_one_cloth, check_print, plan_cutting
from paramgen.kits.strip_choice import SecondsLeft
from paramgen.vocabulary.findings import Fault, Faults, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.unit import Unit

#: No more kits are planned at once.
MOST_KITS = 1000


@dataclass(frozen=True, kw_only=True)
class Kit:
    """What to buy and how to cut it.

    Parameters
    ----------
    orders : tuple of KitOrder
    unit : Unit
        The person's.
    cutting : Cutting
    materials : Materials
        All together.
    sheets : tuple of SheetPlan
        Every length of cloth that something is cut from.
    on_mats : tuple of ClothOnMats
        Cloths whose pieces a machine cuts; of those, sheets are cut from the lengths of cloth.
    """

    orders: tuple[KitOrder, ...]
    unit: Unit
    cutting: Cutting
    materials: Materials
    sheets: tuple[SheetPlan, ...]
    on_mats: tuple[ClothOnMats, ...] = ()

    @property
    def title(self) -> str:
        """What it is for: `12 × Fold wallet`."""
        return ", ".join(f"{one.count} × {one.made.project.title}" for one in self.orders)


def work_out(
    orders: Sequence[KitOrder],
    there: Mapping[str, Sequence[ClothThere]],
    cutting: Cutting,
    unit: Unit,
    left: SecondsLeft,
    tell: Callable[[str], None] = lambda _: None,
) -> Kit:
    """Work out what many of some projects take and how to cut it.

    Parameters
    ----------
    orders : sequence of KitOrder
    there : mapping of role to cloths
        As far as it was said; the rest is bought in the usual width.
    cutting : Cutting
    unit : Unit
    left : callable
        Seconds left for all cloths together.
    tell : callable
        Told before each cloth what is planned.

    Raises
    ------
    InputError
        With every piece that is too large for its cloth.
    """
    every = summed([times(materials(one.made), one.hoopings) for one in orders])
    cloths = [cloth for cloth in as_one_cloth(every.cloths) if cloth.sort != "trim"]
    if STABILISER in there:
        cloths += _from_rolls(every.stabiliser)
    faults, sheets, laid = Faults(), list[SheetPlan](), list[ClothOnMats]()
    for place, cloth in enumerate(cloths):
        tell(cloth.role)
        share = _share(left, len(cloths) - place)
        way = _as_washed(cutting, cloth)
        stock = with_usual(cloth.role, there.get(cloth.role, ()), way, unit)
        try:
            to_cut = cloth
            if cutting.mat is not None and cloth.sort in ON_MATS:
                in_time = partial(_in_time, share, share() / 2)
                check_print(cloth, stock[-1])
                _check_no_motif(cloth, stock[-1])
                one, to_cut = on_mats(cloth, cutting.mat, stock[-1].one_way, unit, in_time)
                # All of it is held to the print by now.
                stock = tuple(replace(each, one_way=OneWay.NO) for each in stock)
                laid.append(one)
            sheets += plan_cutting(to_cut, stock, way, unit, share)
        except InputError as problem:
            faults.extend(problem.faults)
    if faults:
        raise InputError(faults)
    return Kit(
        orders=tuple(orders),
        unit=unit,
        cutting=cutting,
        materials=every,
        sheets=tuple(sheets),
        on_mats=tuple(laid),
    )


def _check_no_motif(cloth: ClothToCut, there: ClothThere) -> None:
    if there.motif is not None:
        text = "pieces on a mat are not centred on motifs"
        hint = "Leave out `motif`, or cut without a mat."
        raise InputError([Fault(text, f"--fabric {cloth.role}", hint=hint)])


def _in_time(left: SecondsLeft, kept: float) -> bool:
    """Whether more is left than is kept for what comes after."""
    return left() > kept


def _share(left: SecondsLeft, among: int) -> SecondsLeft:
    """An equal share of what is left now."""
    until = left() * (1 - 1 / among)
    return lambda: left() - until


def _as_washed(cutting: Cutting, cloth: ClothToCut) -> Cutting:
    """What is not washed does not shrink; what is no fabric is not squared up."""
    washed = cloth.sort == "fabric"
    return replace(cutting, shrinkage=cutting.shrinkage if washed else 0.0)


def _from_rolls(sheets: Sequence[StabiliserSheets]) -> Iterator[ClothToCut]:
    """Sheets of stabiliser as pieces that are cut from a roll, one cloth for each kind."""
    for title in dict.fromkeys(one.title for one in sheets):
        pieces = tuple(
            PieceToCut(
                name=f"sheet-{one.hoop}",
                title=f"sheet for {one.hoop}",
                quantity=one.sheets,
                cut=one.size,
                grain=Grain.ANY,
            )
            for one in sheets
            if one.title == title
        )
        yield ClothToCut(role=STABILISER, sort="stabiliser", title=title, wash=False, pieces=pieces)
