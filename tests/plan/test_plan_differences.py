"""A stitch file is held to the plan of a project, and each thing in which it is not it is told."""

import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from layout_orders import HOOPS

from paramgen.files.formats import FORMATS
from paramgen.files.proven_files import write_stitch_files
from paramgen.hooping import Room
from paramgen.making import Made, Order, make
from paramgen.plan.differences import Difference, differences, same_bytes
from paramgen.plan.read_plan import LARGEST_PLAN, Planned, read_plan
from paramgen.plan.write_plan import plan as planned_from
from paramgen.plan.write_plan import to_json
from paramgen.reading.examine import read
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop
from paramgen.stitches.needle_points import Run, SewnStep
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit

KINDS = {f"p{kind.ending}": kind for kind in FORMATS}


@cache
def project(recipe: str = "fold-wallet", hoop: str = "130x180") -> Made:
    return make(Order(find_recipe(recipe), {}, Room(find_hoop(hoop, HOOPS))))


def file_of(steps: Sequence[SewnStep], name: str = "p.dst") -> bytes:
    (file,) = write_stitch_files(steps, [KINDS[name]], "p")
    return file.data


@cache
def plan_bytes() -> bytes:
    made = project()
    files = {
        f"stitch/{name}": write_stitch_files(made.sewn, [kind], "p")[0]
        for name, kind in KINDS.items()
    }
    return to_json(planned_from(made, files, [])).encode()


@cache
def plan() -> Planned:
    return read_plan(plan_bytes(), "plan.json")


def told(steps: Sequence[SewnStep], name: str = "p.dst") -> tuple[Difference, ...]:
    return differences(read(file_of(steps, name), name), plan(), Unit.MM)


def codes(found: Sequence[Difference]) -> set[tuple[str, int | None]]:
    return {(one.code, one.stop) for one in found}


def changed(step: SewnStep, act: Callable[[np.ndarray[Any, Any]], Any]) -> SewnStep:
    """A step with every run's needle points changed."""
    runs = [
        Run(run.line, np.rint(act(run.needles)).astype(np.int64), run.ties) for run in step.runs
    ]
    return replace(step, runs=tuple(runs))


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_of_file_of_a_project_is_as_planned(name: str) -> None:
    reading = read(file_of(project().sewn, name), name)
    assert differences(reading, plan(), Unit.MM) == ()
    assert same_bytes(reading, plan()) == f"stitch/{name}"


def test_a_stop_that_is_missing_is_named() -> None:
    steps = list(project().sewn)
    gone = steps.pop(3)
    found = told(steps)
    assert ("stops", None) in codes(found)
    (missing,) = [one for one in found if one.code == "stop-missing"]
    assert f"stop 4 of the plan, {gone.title}, is missing" in missing.message
    # Nothing else is wrong with the stops that are there.
    assert {one.code for one in found} <= {"stops", "stop-missing", "extent"}


def test_a_stop_too_many_is_named() -> None:
    steps = list(project().sewn)
    extra = replace(steps[5], stop=99, colour="#123456")
    found = told([*steps[:2], extra, *steps[2:]])
    assert ("stop-unplanned", 3) in codes(found)


def test_stops_out_of_order_are_told_by_what_they_are() -> None:
    steps = list(project().sewn)
    steps[3], steps[6] = steps[6], steps[3]
    found = told(steps)
    assert {("order", 4), ("order", 7)} <= codes(found)
    (first,) = [one for one in found if one.code == "order" and one.stop == 4]
    assert f"stop 4 is stop 7 of the plan, {project().sewn[6].title}" in first.message


def test_a_stitch_left_out_is_told_with_both_numbers() -> None:
    steps = list(project().sewn)
    run = steps[4].runs[0]
    shorter = Run(run.line, run.needles[:-1], run.ties)
    count = steps[4].stitch_count
    steps[4] = replace(steps[4], runs=(shorter, *steps[4].runs[1:]))
    (message,) = [one.message for one in told(steps) if one.code == "stitches"]
    assert f"has {count - 1} stitches, in the plan {count}" in message


def test_a_needle_point_off_its_line_is_told_with_its_place() -> None:
    steps = list(project().sewn)
    run = steps[0].runs[0]
    needles = run.needles.copy()
    needles[7, 1] += 9  # 0.9 mm down, from a line that runs across
    steps[0] = replace(steps[0], runs=(Run(run.line, needles, run.ties), *steps[0].runs[1:]))
    (found,) = [one for one in told(steps) if one.code == "place"]
    assert found.stop == 1
    x, y = (needles[7] / 10).tolist()
    assert "1 needle point lies off the lines of stop 1" in found.message
    assert f"by 0.9 mm, at x {x:.1f} mm, y {y:.1f} mm" in found.message


def test_a_file_moved_as_a_whole_is_told_as_moved_and_no_more() -> None:
    found = told(
        [changed(step, lambda needles: needles + np.array([30, -20])) for step in project().sewn]
    )
    (moved,) = found
    assert moved.code == "moved"
    assert "3 mm to the right and 2 mm up" in moved.message


def test_a_scaled_file_is_told_as_scaled() -> None:
    found = told(
        [changed(step, lambda needles: needles * 0.95) for step in project().sewn], "p.pes"
    )
    (scaled,) = [one for one in found if one.code == "scaled"]
    assert "95.0 %" in scaled.message
    # Every stop's stitches are shorter.
    assert {one.stop for one in found if one.code == "length"} == set(range(1, 10))


def test_a_turned_file_is_told_as_turned() -> None:
    found = told(
        [changed(step, lambda needles: needles[:, ::-1] * [-1, 1]) for step in project().sewn]
    )
    assert [one.code for one in found] == ["turned"]


def test_colours_are_held_to_the_plan_where_the_kind_keeps_them() -> None:
    steps = list(project().sewn)
    steps[2] = replace(steps[2], colour="#010203")
    for name in KINDS:
        exact = name not in ("p.dst", "p.exp", "p.jef", "p-v1.pes")
        found = codes(told(steps, name))
        # Where the kind keeps no colour, or the nearest, no more is known than that.
        assert found == {("colour", 3)} if exact else found <= {("bytes", None)}, name


def test_another_project_differs() -> None:
    other = project("coaster", "130x180")
    found = told(other.sewn)
    assert {"stops", "extent"} <= {one.code for one in found}
    assert same_bytes(read(file_of(other.sewn), "p.dst"), plan()) == ""


def spoiled(act: Callable[[Any], None]) -> bytes:
    raw = json.loads(plan_bytes())
    act(raw)
    return json.dumps(raw).encode()


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "plan.json, line 1: it is no JSON, or cut short"),
        (b"\xff\xfe\x00", "plan.json: it is no JSON"),
        (b"[" * 100_000, "plan.json: it is no JSON"),
        (b"{}", "it is JSON, but not the plan of a project"),
        (b"[1, 2]", "it is JSON, but not the plan of a project"),
        (b"3", "it is JSON, but not the plan of a project"),
        (b'{"made_by": "paramgen", "format": 7}', "a plan of format 7; known here is 1"),
        (b'{"made_by": "paramgen", "format": true}', "a plan of format True"),
        (b'{"made_by": "paramgen", "format": 1}', "plan.json: steps: this key is missing"),
        (bytes(LARGEST_PLAN + 1), "it is larger than 16 MB"),
    ],
)
def test_what_is_no_plan_is_said_to_be_none(data: bytes, said: str) -> None:
    with pytest.raises(InputError) as refused:
        read_plan(data, "plan.json")
    assert said in str(refused.value)


def test_a_plan_that_is_cut_short_is_told_with_its_line() -> None:
    data = plan_bytes()
    with pytest.raises(InputError, match=r"plan\.json, line \d+: it is no JSON, or cut short"):
        read_plan(data[: len(data) // 2], "plan.json")


@pytest.mark.parametrize(
    ("act", "said"),
    [
        (lambda raw: raw["steps"].append(3), "plan.json: steps."),
        (
            lambda raw: raw["extent"].update(left="wide"),
            "extent.left: this is not what",
        ),
        (lambda raw: raw["extent"].update(left=float("nan")), "extent.left: this is not what"),
        (lambda raw: raw["extent"].update(left=1e308), "extent.left: this is not what"),
        (lambda raw: raw["steps"][0].update(stitches=-1), "steps.0.stitches: this is not what"),
        (lambda raw: raw["steps"][0].pop("lines"), "steps.0.lines: this key is missing"),
        (lambda raw: raw.update(files=None), "files: this is not what"),
    ],
)
def test_each_key_that_is_wrong_is_named(act: Callable[[Any], None], said: str) -> None:
    with pytest.raises(InputError) as refused:
        read_plan(spoiled(act), "plan.json")
    assert said in str(refused.value)


def test_keys_of_another_version_do_not_matter() -> None:
    def newer(raw: Any) -> None:
        raw["hoop"]["depth"] = 3
        raw["kit"] = []
        del raw["choices"]

    assert read_plan(spoiled(newer), "plan.json") == plan()


def test_no_more_is_told_of_a_plan_than_the_first_part_that_is_wrong() -> None:
    # Each that is kept takes memory: 200,000 empty steps took a gigabyte.
    with pytest.raises(InputError) as refused:
        read_plan(spoiled(lambda raw: raw.update(steps=[3, 4, 5])), "plan.json")
    (fault,) = refused.value.faults
    assert fault.where == "plan.json: steps.0"


@pytest.mark.parametrize("many", [b"[]," * 500_001, b"1," * 1_500_001])
def test_a_plan_of_more_parts_than_a_project_has_is_not_looked_into(many: bytes) -> None:
    data = plan_bytes().rstrip()[:-1] + b', "more": [' + many + b"0]}"
    with pytest.raises(InputError, match="more lists or values than any plan"):
        read_plan(data, "plan.json")
