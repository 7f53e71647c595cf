"""Copies on one sheet: what is trimmed, and what must hold wherever they lie."""

from collections.abc import Mapping
from functools import cache
from itertools import combinations

import numpy as np
import shapely
from copies_made import room_of, several
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from paramgen.hooping import Hooped
from paramgen.layout.copies_apart import put, taken
from paramgen.reference.hoops import Hoop, listed
from paramgen.vocabulary.findings import CannotMakeError
from paramgen.vocabulary.kinds import Act
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Piece, Project, Step

Asked = Mapping[str, str | float]

HOOPS = listed()
#: Between the lines that two copies are trimmed along, mm.
CUT = 3.0
ROUND: Asked = {"outline": "round", "width": "4in"}
TAG: Asked = {"width": 60, "height": 75, "label_width": 30, "label_height": 30}


def areas(project: Project) -> list[BaseGeometry]:
    """What each copy is trimmed to, where it lies."""
    assert project.finish.trimmed is not None
    own = taken(project.finish.trimmed.points, project.placed[0])
    return [shapely.Polygon(put(own, where)) for where in project.placed]


def sheets_of(project: Project) -> list[Piece]:
    return [one for one in project.pieces if one.over > 1]


def sheet_steps(project: Project, act: Act) -> list[Step]:
    return [step for step in project.steps if step.over_all and step.act is act]


def box(points: FloatArray) -> tuple[float, float]:
    wide, high = points.max(axis=0) - points.min(axis=0)
    return float(wide), float(high)


def box_of(shape: BaseGeometry) -> tuple[float, float]:
    left, top, right, bottom = shape.bounds
    return right - left, bottom - top


@cache
def most_on(recipe: str, hoop: Hoop, key: tuple[tuple[str, str | float], ...]) -> Hooped | None:
    try:
        return several(recipe, "most", hoop, dict(key), search=False)
    except CannotMakeError as problem:
        codes = {one.code for one in problem.findings if one.stops}
        assert codes <= {"hoop-exceeded", "recipe-condition", "shape-impossible"}
        return None


WISHES = st.one_of(
    st.tuples(
        st.just("coaster"),
        st.fixed_dictionaries(
            {
                "width": st.floats(75, 140).map(lambda w: round(w, 1)),
                "outline": st.sampled_from(["rounded", "round", "oval", "polygon", "square"]),
                "trim_allowance": st.sampled_from([3.2, 5, 8]),
            }
        ),
    ),
    st.tuples(
        st.just("plant-tag"),
        st.fixed_dictionaries(
            {
                "width": st.floats(58, 100).map(lambda w: round(w, 1)),
                "label_width": st.just(30),
                "label_height": st.just(30),
                "hang": st.sampled_from(["strap", "slot", "hole"]),
            }
        ),
    ),
    st.tuples(
        st.just("bunting-flag"),
        st.fixed_dictionaries(
            {
                "width": st.floats(60, 110).map(lambda w: round(w, 1)),
                "length": st.floats(45, 110).map(lambda h: round(h, 1)),
                "shape": st.sampled_from(["triangle", "swallowtail", "half-round", "pennant"]),
                "top": st.sampled_from(["tape", "casing"]),
            }
        ),
    ),
    st.tuples(
        st.sampled_from(["zip-pouch", "fold-wallet"]),
        st.fixed_dictionaries({"width": st.floats(110, 150).map(lambda w: round(w, 1))}),
    ),
)


def keep_apart(wish: tuple[str, Asked], hoop: Hoop) -> None:
    """Copies keep apart, in the field and under the sheets."""
    recipe, asked = wish
    there = most_on(recipe, hoop, tuple(sorted(asked.items())))
    if there is None or there.project.copies == 1:
        return
    project = there.project
    needles = np.concatenate([run.needles for step in there.sewn for run in step.runs]) / 10
    assert (np.abs(needles).max(axis=0) <= (hoop.width / 2 + 1e-9, hoop.height / 2 + 1e-9)).all()
    assert not project.placed[0].half
    if not sheets_of(project):
        return
    trims = areas(project)
    assert all(one.distance(two) >= CUT - 1e-6 for one, two in combinations(trims, 2))
    # What is a copy's own keeps clear of the next one's too, its tape of all but tape.
    bare: list[BaseGeometry] = [
        room_of(project, which, tape=False) for which in range(project.copies)
    ]
    assert all(one.distance(two) >= CUT - 1e-6 for one, two in combinations(bare, 2))
    for which in range(project.copies):
        whole = room_of(project, which)
        for other, shape in enumerate(bare):
            assert other == which or whole.intersection(shape).area < 1e-6
    # Each sheet covers what the piece of every copy would, and reaches no farther than that.
    mark = next(one.value for one in project.lengths if one.name == "ruler_mark")
    for step in sheet_steps(project, Act.LAY):
        for layer in step.layers:
            sheet, own = layer.outline.area, [one.area for one in layer.shares]
            assert len(own) == project.copies
            assert all(sheet.buffer(1e-6).covers(one) for one in own)
            for trim, one in zip(trims, own, strict=True):
                assert one.buffer(1e-6).covers(trim)
            wide, high = box_of(shapely.union_all(own))
            across, down = box(layer.outline.points)
            assert wide - 1e-6 <= across < wide + mark
            assert high - 1e-6 <= down < high + mark
    # All that is stitched after a sheet is taped keeps clear of its tape; so does no other tape.
    for step in sheet_steps(project, Act.TAPE):
        strips = shapely.union_all([one.area for one in step.tape])
        off = next(s.number for s in project.steps[step.number :] if s.takes_tape_off(step.taped))
        for later in project.steps[step.number : off]:
            for line in later.lines:
                for path in line.paths:
                    assert not strips.intersects(path.line.buffer(line.stitch.aside))
