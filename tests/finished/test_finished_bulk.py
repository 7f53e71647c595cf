"""Plies under the stitching that is done by hand, and how thick the closed thing is.

At a top-stitched edge lie the plies of all bodies, the same plies once more as allowances, each of
which comes back once, and the ends of a tab (common practice, no source). The thickness of a ply
is that of `shared/materials.toml`: quilting cotton 0.15 to 0.3 mm, ribbon 0.3 to 0.5.
"""

from collections.abc import Mapping
from dataclasses import replace

import pytest
from finished_things import altered, empty, sewn, worked
from turned_mats import Part, finished, mat, pocket, tab

from paramgen.finished.bulk import bulk, by_hand, by_machine, closed_thickness, thickness_at
from paramgen.finished.finished_thing import finish
from paramgen.recipe.read_recipe import Recipe
from paramgen.reference.materials import listed_materials
from paramgen.vocabulary.findings import Severity
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.path import Point, path

COTTON, RIBBON, TAPE = (0.15, 0.3), (0.3, 0.5), (0.4, 0.7)


def thick(cotton: float, ribbon: float = 0, tape: float = 0, more: float = 0.0) -> object:
    """Thickness of so many plies of each, least and most."""
    sums = (
        cotton * c + ribbon * r + tape * t + more
        for c, r, t in zip(COTTON, RIBBON, TAPE, strict=True)
    )
    return pytest.approx(tuple(sums))


def test_the_plies_are_those_of_the_materials() -> None:
    listed = listed_materials()
    names = ("quilting-cotton", "ribbon", "zip-tape")
    assert [listed[name].ply for name in names] == [COTTON, RIBBON, TAPE]


# --- A mat ------------------------------------------------------------------------------------


@pytest.mark.parametrize("closing", ["front", "back"])
@pytest.mark.parametrize(
    ("parts", "plies"),
    [
        ([], 2 + 2),
        ([pocket("pocket")], 4 + 4),
        ([pocket("pocket", plies=1)], 4 + 4),  # thickest beside its mouth, along the hem
        ([pocket("small", 15.0), pocket("large")], 6 + 6),
    ],
)
def test_at_a_stitched_edge_every_ply_comes_back_once(
    closing: Side, parts: list[Part], plies: int
) -> None:
    thing = finished(mat(*parts, closing=closing))
    (edge,) = by_hand(thing)
    assert edge.plies == plies
    assert edge.thick == thick(plies)
    assert edge.step == thing.project.steps[-1].number


def test_past_the_allowances_there_are_bodies_alone() -> None:
    # Trimmed 5 mm outside the seam; stitched 7 mm inside the edge it is 8 mm inside the seam.
    (edge,) = by_hand(finished(mat(stitched_in=7.0)))
    assert (edge.plies, edge.thick) == (2, thick(2))
    (edge,) = by_hand(finished(mat(stitched_in=3.9)))
    assert edge.plies == 4


def test_the_ends_of_a_tab_lie_under_the_needle_once() -> None:
    # Two plies of ribbon reach 7 mm past the seam, trimmed to 5, and are turned in: they lie from
    # the seam at x = 51 to 46, the stitching at x = 48; the tab itself lies past the edge.
    (edge,) = by_hand(finished(mat(tab("tab"), stands_out=("tab",))))
    assert (edge.plies, edge.thick) == (4 + 2, thick(4, ribbon=2))
    # One that lies flat on the work lies there with its body, and its ends come back too.
    (edge,) = by_hand(finished(mat(tab("tab"))))
    assert (edge.plies, edge.thick) == (4 + 2 + 2, thick(4, ribbon=4))


def test_under_the_needle_of_the_machine_lies_what_is_laid_by_then() -> None:
    thing = finished(mat(pocket("pocket")))
    (seam,) = by_machine(thing)
    assert (seam.plies, seam.thick) == (4, thick(4))


def test_a_mat_is_as_thick_as_its_edge() -> None:
    found = closed_thickness(finished(mat()))
    assert (found.empty, found.full) == (thick(4), thick(4))
    # Folded in half, its edge of 4 plies lies on another.
    found = closed_thickness(finished(mat(folds='{ across = "height", at = "0" }')))
    assert found.empty == thick(8)


# --- The folding wallet: the table of its plies at the bottom end, two pockets a stack ---------


WALLET = {"width": 124, "height": 172}
#: Stitched 2 mm inside edges at x = ±62 and y = ±86: across the tab, at the far end, and at the
#: side where the zip's tape lies, from y = -51 - 12.5 to -51 + 12.5, under the upper pockets.
TAB, FAR_END, BESIDE_ZIP = (0.0, 84.0), (0.0, -84.0), (60.0, -55.0)


def plies_at(which: str | Recipe, spot: Point, asked: Mapping[str, str | float]) -> int:
    """Plies where a wallet is top-stitched, at one place alone."""
    done = sewn(which, {**WALLET, **asked})
    (x, y), project = spot, done.project
    short = path([(x, y - 0.1), (x, y + 0.1)], closed=False)
    steps = tuple(
        replace(step, mark=(short,)) if step.act is Act.TOP_STITCH else step
        for step in project.steps
    )
    (there,) = by_hand(finish(replace(done, project=replace(project, steps=steps))))
    return there.plies


@pytest.mark.parametrize(
    ("asked", "at_tab", "at_far_end", "beside_zip"),
    [
        # Bodies, as many allowances, and the tab: outer 2, pockets 4, lining 1, and 8 or 2.
        ({"tab": "fabric"}, 7 + 7 + 8, 8 + 8, 9 + 9),
        ({"tab": "ribbon"}, 7 + 7 + 2, 8 + 8, 9 + 9),
        ({"tab": "none"}, 7 + 7, 8 + 8, 9 + 9),
        # Pockets and lower outer of one ply; at the far end the outer stays double.
        ({"layers": "single"}, 4 + 4 + 2, 6 + 6, 7 + 7),
        # A long pouch lies behind the lower half too.
        ({"pouch": "long"}, 8 + 8 + 2, 8 + 8, 9 + 9),
        # One pocket less in each stack.
        ({"pockets": 1}, 5 + 5 + 2, 6 + 6, 7 + 7),
    ],
)
def test_the_wallets_plies_are_those_of_the_table(
    asked: dict[str, str | float], at_tab: int, at_far_end: int, beside_zip: int
) -> None:
    assert plies_at("fold-wallet", TAB, asked) == at_tab
    assert plies_at("fold-wallet", FAR_END, asked) == at_far_end
    assert plies_at("fold-wallet", BESIDE_ZIP, asked) == beside_zip


def test_with_pockets_of_one_ply_alone_twelve_lie_at_the_tab() -> None:
    # Outer 2, pockets 2, lining 1, twice, and the ribbon.
    deep = altered(
        "fold-wallet",
        "deep_hem = \"layers == 'single' and pouch == 'short'\"",
        "deep_hem = \"layers == 'single' and height < 0\"",
    )
    assert plies_at(deep, TAB, {"layers": "single"}) == 5 + 5 + 2


@pytest.mark.parametrize(("tab", "plies"), [("fabric", 2 + 8 + 4 + 1), ("ribbon", 2 + 2 + 4 + 1)])
def test_the_wallets_last_seam_goes_through_the_bodies_and_the_tab(tab: str, plies: int) -> None:
    assert by_machine(worked("fold-wallet", {**WALLET, "tab": tab}))[-1].plies == plies


@pytest.mark.parametrize(
    ("asked", "upper", "lower", "ends"),
    [
        ({"tab": "ribbon"}, 8, 7, (0, 2)),
        ({"tab": "fabric"}, 8, 7, (8, 0)),
        ({"tab": "none"}, 8, 7, (0, 0)),
        ({"tab": "ribbon", "pouch": "long"}, 8, 8, (0, 2)),
        ({"tab": "ribbon", "layers": "single"}, 6, 4, (0, 2)),
    ],
)
def test_closed_and_empty_both_ends_lie_on_each_other_with_the_tab(
    asked: dict[str, str | float], upper: int, lower: int, ends: tuple[int, int]
) -> None:
    # T = (2 · upper + 2 · lower) plies and the ends of the tab, of outer cotton or of ribbon.
    nothing = empty(worked("fold-wallet", {**WALLET, **asked}))
    cotton, ribbon = ends
    there = thickness_at(nothing, (0.0, -86.0))
    assert there == thick(2 * upper + 2 * lower + cotton, ribbon=ribbon)


def test_closed_and_full_it_is_its_bodies_and_what_it_holds() -> None:
    # Four packets of 2 mm: 8 and 7 plies and the zip's tape, and 8 mm.
    full = worked("fold-wallet", WALLET)
    assert closed_thickness(full).full == thick(15, tape=1, more=8.0)
    # Empty the sides are thickest, where the tape lies: 9 and 7 plies, and as many allowances.
    assert closed_thickness(full).empty == thick(2 * 15, tape=2)
    # Of 0.76 mm (ISO/IEC 7810 ID-1) four come to less than the edges.
    cards = worked("fold-wallet", {**WALLET, "packet_thickness": "0.76mm"})
    least, most = 15 * 0.15 + 0.4 + 3.04, 15 * 0.3 + 0.7 + 3.04
    assert (least, most) == pytest.approx((5.69, 8.24))
    assert closed_thickness(cards).full == pytest.approx((5.69, 30 * 0.3 + 2 * 0.7))


# --- What is said of it -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pockets", "told"),
    [
        # Under the foot of a machine at home: 4 + 4k plies; over 16 it skips.
        (3, []),
        (4, [("bulky-by-hand", Severity.KNOW)]),
        # 44 plies are 6.6 mm at least, and no foot lifts over 6; in the hoop 22 are 3.3 to 6.6.
        (10, [("bulky-by-machine", Severity.KNOW), ("too-bulky-by-hand", Severity.CANNOT)]),
    ],
)
def test_over_sixteen_plies_are_told_and_what_no_foot_goes_over_is_refused(
    pockets: int, told: list[tuple[str, Severity]]
) -> None:
    parts = [pocket(f"pocket-{at}", 20.0 - 2 * at) for at in range(pockets)]
    found = list(bulk(finished(mat(*parts))))
    assert [(one.code, one.severity) for one in found] == told
    for one in found:
        if one.code == "too-bulky-by-hand":
            assert one.amount == pytest.approx(44 * 0.15 - 6.0)
