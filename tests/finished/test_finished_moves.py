"""What is found of a finished thing is found wherever, and whichever way round, it lies."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from turned_mats import TOP_STITCH, finished, mat, pocket, stitched, tab

from paramgen.finished.all_findings import prove
from paramgen.finished.bulk import closed_thickness
from paramgen.finished.proof import proof
from paramgen.layout.lay_out import moved
from paramgen.vocabulary.kinds import NotionSort, Side
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Held, Notion, Project


def holding(project: Project) -> Project:
    """A mat that is to hold a card too wide for its pocket, and has a snap out of reach."""
    card = Held(
        name="card",
        title="card",
        size=(95.0, 150.0),
        ease=4.0,
        against="pocket",
        face=Side.BACK,
        share=0.5,
        thickness=1.0,
    )
    snap = Notion(
        name="snap",
        title="snap",
        sort=NotionSort.SNAP,
        quantity=1,
        length=None,
        width=12.0,
        coil=None,
        halves=((7.0, -22.0), (9.0, 17.0)),
        clearance=9.0,
        through=(("closing",), ("pocket",)),
    )
    return replace(project, holds=(card,), notions=(snap,))


@cache
def mats() -> dict[str, Project]:
    """Mats with something wrong, by what must be found of each."""
    fold = '{ across = "height", at = "-2" }'
    line = stitched("line", "tack-down", (-30.0, -12.0), (18.0, -12.0))
    return {
        "flap-trapped": mat(tab("one"), tab("two", 4.0), pulled_over=("one",), stands_out=("two",)),
        "flap-cannot-stand-out": mat(pocket("pocket"), stands_out=("pocket",), closing=Side.BACK),
        "thread-shows": mat(line, pocket("pocket"), closing=Side.BACK),
        "gap-edge-not-caught": mat(pocket("pocket", reaches=4.0), gap="bottom", past=4.0),
        "gap-not-closed": mat(pocket("pocket"), gap="bottom", after=""),
        "wrong-side-shows": mat(pocket("pocket", plies=1, keys="unlined = true", up="wrong")),
        "stitched-too-narrow": holding(mat(pocket("pocket"), folds=fold)),
        "halves-apart": holding(mat(pocket("pocket"), folds=fold, closing=Side.BACK)),
        "mouth-covered": holding(
            mat(pocket("pocket"), pocket("larger", -6.0), after=TOP_STITCH, folds=fold)
        ),
    }


def codes(project: Project) -> list[tuple[str, str | None, int | None, float | None]]:
    return sorted(
        (one.code, one.piece, one.step, None if one.amount is None else round(one.amount, 2))
        for one in prove(project).findings
    )


@pytest.mark.parametrize("code", mats())
def test_each_mat_has_what_it_is_named_for(code: str) -> None:
    assert code in [one[0] for one in codes(mats()[code])]


@pytest.mark.parametrize("code", mats())
@given(
    turns=st.integers(0, 3),
    mirrored=st.booleans(),
    by=st.tuples(st.integers(-300, 300), st.integers(-300, 300)),
)
@settings(max_examples=6)
def test_moving_a_mat_changes_nothing_that_is_found_or_proven(
    code: str, turns: int, mirrored: bool, by: tuple[int, int]
) -> None:
    def move(points: FloatArray) -> FloatArray:
        there = points * np.array([-1.0, 1.0]) if mirrored else points
        for _ in range(turns):
            there = np.stack([-there[:, 1], there[:, 0]], axis=1)
        return np.asarray(there + np.array(by) / 10)

    one = mats()[code]
    other = moved(one, move)
    if turns % 2:
        # A thing to hold lies the way round that the project does.
        other = replace(
            other, holds=tuple(replace(held, size=held.size[::-1]) for held in other.holds)
        )
    assert codes(other) == codes(one)
    here, there = (proof(finished(each, *each.holds)) for each in (one, other))
    assert [flap.lies for flap in there.flaps] == [flap.lies for flap in here.flaps]
    for flat, turned in zip(here.rooms, there.rooms, strict=True):
        sizes = (turned.width, turned.height)
        assert (flat.width, flat.height) == pytest.approx(
            sizes[:: -1 if turns % 2 else 1], abs=1e-3
        )
    depths = [each.depth for each in here.hardware]
    assert [each.depth for each in there.hardware] == pytest.approx(depths, abs=1e-3)
    thick = closed_thickness(finished(one, *one.holds))
    assert there.thickness.full == pytest.approx(thick.full)
    assert there.thickness.empty == pytest.approx(thick.empty)
