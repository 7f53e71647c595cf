"""Whether a plan is one: everything on it, nothing twice, and the cuts in their order cut it."""

from collections import Counter
from collections.abc import Sequence

from cloth_simulator import Panel, cut_out, find

from paramgen.amounts.project_materials import ClothToCut
from paramgen.kits.cloth_there import OneWay
from paramgen.kits.cutting_plan import SheetPlan
from paramgen.vocabulary.kinds import Grain

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
