"""What must hold of the rehearsal whatever is rehearsed."""

from collections.abc import Callable
from functools import lru_cache

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from paramgen.findings import CannotMakeError
from paramgen.geometry.path import FloatArray, quarter_turn
from paramgen.layout.build import lay_out, moved
from paramgen.layout.project import Project
from paramgen.lengths import Unit
from paramgen.recipe.read import Recipe, find_recipe
from paramgen.rehearsal.faces import plane, trimmed_to
from paramgen.rehearsal.hollows import spaces
from paramgen.rehearsal.rehearse import COARSE, rehearse
from paramgen.rehearsal.sheets import sandwich
from paramgen.sizing import size

CASES: dict[str, tuple[str, dict[str, str]]] = {
    "wallet": ("fold-wallet", {}),
    "wallet-long-rounded": (
        "fold-wallet",
        {"pouch": "long", "corners": "rounded", "pockets": "3", "height": "200mm"},
    ),
    "wallet-narrow": ("fold-wallet", {"width": "105mm"}),
    "coaster": ("coaster", {}),
    "coaster-oval": ("coaster", {"outline": "oval", "height": "90mm"}),
    "coaster-hexagon": ("coaster", {"outline": "polygon", "padding": "none"}),
}

Move = Callable[[FloatArray], FloatArray]


@lru_cache
def recipe(name: str) -> Recipe:
    return find_recipe(name)


def project(case: str) -> Project:
    name, asked = CASES[case]
    return lay_out(size(recipe(name), asked, unit=Unit.MM), chord_error=COARSE)


def said(one: Project) -> list[tuple[str, str | None, int | None, float | None]]:
    return [
        (f.code, f.piece, f.step, None if f.amount is None else round(f.amount, 2))
        for f in rehearse(one).findings
    ]


def mirrored(points: FloatArray) -> FloatArray:
    there: FloatArray = points * np.array([-1.0, 1.0])
    return there


def shifted(points: FloatArray) -> FloatArray:
    there: FloatArray = points + np.array([13.7, -4.2])
    return there


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("move", [mirrored, quarter_turn, shifted], ids=lambda m: m.__name__)
def test_moving_the_project_changes_no_finding(case: str, move: Move) -> None:
    one = project(case)
    assert said(moved(one, move)) == said(one)


@pytest.mark.parametrize("case", CASES)
def test_the_spaces_between_the_layers_add_up(case: str) -> None:
    # Over a face with n sheets lie n + 1 spaces, so all spaces together have the area of the
    # trimmed work once, and of every sheet in it once more.
    one = project(case)
    pile = sandwich(one)
    cut = plane(one, pile)
    between = spaces(cut)
    room = trimmed_to(one, pile)
    areas = np.array([area.area for area in cut.areas])
    total = areas[between.face[1:]].sum()
    expected = room.area + sum(shapely.intersection(sheet.area, room).area for sheet in pile.sheets)
    assert total == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("case", CASES)
def test_faces_cover_the_trimmed_work_once(case: str) -> None:
    one = project(case)
    pile = sandwich(one)
    room = trimmed_to(one, pile)
    cut = plane(one, pile)
    assert sum(area.area for area in cut.areas) == pytest.approx(room.area, rel=1e-6)
    assert shapely.union_all(list(cut.areas)).area == pytest.approx(room.area, rel=1e-6)


@settings(deadline=None, max_examples=12, suppress_health_check=[HealthCheck.too_slow])
@given(
    width=st.integers(75, 330),
    height=st.integers(110, 360),
    pockets=st.integers(1, 4),
    pouch=st.sampled_from(["short", "long"]),
    tab=st.sampled_from(["snap", "none"]),
)
def test_any_wallet_within_limits_is_sound_or_told_why(
    width: int, height: int, pockets: int, pouch: str, tab: str
) -> None:
    asked = {
        "width": str(width),
        "height": str(height),
        "pockets": str(pockets),
        "pouch": pouch,
        "tab": tab,
    }
    try:
        one = lay_out(size(recipe("fold-wallet"), asked, unit=Unit.MM), chord_error=COARSE)
    except CannotMakeError:
        return  # the recipe's own condition says why
    # Sizes alone can only make it hold too little, or let the gap and the stack be tight.
    codes = {f.code for f in rehearse(one).findings}
    assert codes <= {"does-not-fit", "held-too-little", "no-grip", "thickness-jump", "too-thick"}
