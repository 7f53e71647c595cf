"""Whether a plan is one: everything on it, nothing twice, and the cuts in their order cut it."""

import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from cloth_simulator import Panel, cut_out, find

from paramgen.amounts.project_materials import ClothToCut
from paramgen.kits.cloth_there import ClothThere, Cutting, OneWay
from paramgen.kits.cutting_plan import SheetPlan
from paramgen.kits.plan_cutting import plan_cutting
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.kinds import Grain
from paramgen.vocabulary.unit import Unit

#: More than rounding makes, mm.
HAIR = 1e-5


def check_plans(
    cloth: ClothToCut, plans: Sequence[SheetPlan], layers: int, one_way: OneWay = OneWay.NO
) -> None:
    asked = {piece.name: piece for piece in cloth.pieces}
    placed = [piece for plan in plans for piece in plan.placed]
    assert Counter(one.piece for one in placed) == {p.name: p.quantity for p in cloth.pieces}
    for one in placed:
        piece = asked[one.piece]
        lies = piece.cut[::-1] if one.turned else piece.cut
        assert (one.width, one.height) == lies
        if piece.grain is not Grain.ANY:
            assert one.turned == (piece.grain is Grain.WIDTH), "the grain runs along the cloth"
        if one_way is not OneWay.NO:
            assert one.turned == (one_way is OneWay.ACROSS), "the print stands upright"
    for plan in plans:
        _check_plan(plan, layers)


def _check_plan(plan: SheetPlan, layers: int) -> None:
    assert plan.bound <= plan.length + HAIR
    assert plan.there is None or plan.length <= plan.there + HAIR
    for one in plan.placed:
        assert one.x >= -HAIR
        assert one.x + one.width <= plan.width + HAIR
        assert one.y >= -HAIR
        assert one.y + one.height <= plan.length + HAIR
    assert all(len(cut.lines) <= layers for cut in plan.cuts)
    end = plan.length + 50 if plan.there is None else plan.there
    left, right = plan.selvedges
    panels = cut_out(
        Panel(-left, 0.0, plan.width + right, end),
        [(str(cut.kind), cut.ruler, cut.lines) for cut in plan.cuts],
    )
    for one in plan.placed:
        assert find(panels, one.x, one.y, one.width, one.height) == 1, one


def check_random_order(
    cloth: ClothToCut, there: Sequence[ClothThere], cutting: Cutting, way: OneWay
) -> None:
    """Plan an order with a little time and with none; both are plans, the first no longer."""
    stock = [replace(one, one_way=way) for one in there]
    until = time.perf_counter() + 0.3
    try:
        plans = plan_cutting(cloth, stock, cutting, Unit.MM, lambda: until - time.perf_counter())
    except InputError as problem:
        said = " ".join(map(str, problem.faults))
        assert "can be used" in said or "on its side" in said
        return
    check_plans(cloth, plans, cutting.layers, way)
    first = plan_cutting(cloth, stock, cutting, Unit.MM, lambda: 0.0)
    check_plans(cloth, first, cutting.layers, way)
    assert _to_buy(plans) <= _to_buy(first) + HAIR
    if all(plan.proven for plan in first):
        assert _to_buy(plans) >= _to_buy(first) - HAIR


def check_on_motifs(plan: SheetPlan) -> None:
    """Every piece's middle is a whole number of repeats from every other's, either way."""
    assert plan.motif is not None
    first = plan.placed[0]
    for one in plan.placed:
        across = one.x + one.width / 2 - first.x - first.width / 2
        along = one.y + one.height / 2 - first.y - first.height / 2
        for apart, repeat in zip((across, along), plan.motif, strict=True):
            assert abs(apart - round(apart / repeat) * repeat) < HAIR * 100
    # Wherever the first motif stands, up to one repeat farther in, every strip still has room.
    assert min(one.y for one in plan.placed) >= plan.motif[1] - HAIR * 100
    for strip in {one.strip for one in plan.placed}:
        inside = [one for one in plan.placed if one.strip == strip]
        left, right = min(one.x for one in inside), max(one.x + one.width for one in inside)
        assert right - left + plan.motif[0] <= plan.width + HAIR * 100


def check_random_motifs(
    cloth: ClothToCut,
    there: Sequence[ClothThere],
    cutting: Cutting,
    repeat: tuple[int, int],
    way: OneWay,
) -> None:
    """Plan an order on motifs; every piece is on one, and the cuts cut it."""
    motif = (float(repeat[0]), float(repeat[1]))
    printed = [replace(one, motif=motif, one_way=way) for one in there]
    try:
        plans = plan_cutting(cloth, printed, cutting, Unit.MM, lambda: 0.0)
    except InputError as problem:
        said = " ".join(map(str, problem.faults))
        assert "can be used" in said or "on its side" in said
        return
    check_plans(cloth, plans, 1, way)
    for plan in plans:
        check_on_motifs(plan)
        assert not plan.proven


def _to_buy(plans: Sequence[SheetPlan]) -> float:
    return sum(one.length for one in plans if one.bought and one.there is None)
