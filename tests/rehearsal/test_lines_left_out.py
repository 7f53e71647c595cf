"""Lines that neither open nor close anything that shows do not cut the plane, and lose nothing."""

from dataclasses import replace

import numpy as np
import pytest
from quilted import quilted

from paramgen.finished.all_findings import prove
from paramgen.geometry.outlines import rectangle
from paramgen.rehearsal.outside_hollow import Rehearsed, work_through
from paramgen.vocabulary.kinds import Role
from paramgen.vocabulary.project import Project


def shown(done: Rehearsed) -> float:
    """Area of what is part of the outside within the seam line, mm²."""
    faces = done.spaces.face[1:][done.hollow[1:] == done.outside]
    return float(
        sum(done.plane.areas[face].area for face in faces.tolist() if done.plane.within[face])
    )


def small_top(project: Project) -> Project:
    """A project whose top ends within the seam line."""
    return replace(
        project,
        steps=tuple(
            replace(
                step,
                layers=tuple(
                    replace(layer, outline=rectangle(-40.0, -40.0, 40.0, 40.0))
                    if layer.piece == "top"
                    else layer
                    for layer in step.layers
                ),
            )
            for step in project.steps
        ),
    )


@pytest.mark.parametrize("role", [Role.TOP_STITCH, Role.TACK_DOWN, Role.BASTING])
def test_quilting_of_the_work_alone_adds_no_face(role: Role) -> None:
    done = work_through(quilted(20, role=role))
    assert len(done.plane.areas) == len(work_through(quilted(0)).plane.areas)
    assert done.opens
    assert not done.leaks
    # The outside is what lies between top and back within the seam: one space all over it.
    assert shown(done) == pytest.approx(done.project.seam.area.area)


def test_a_quilted_coaster_can_be_made() -> None:
    assert prove(quilted(20)).findings == ()


def test_quilting_through_the_back_cuts_and_is_found() -> None:
    project = quilted(3, role=Role.TACK_DOWN, over_back=True)
    done = work_through(project)
    # Three lines each way cross in 9 places, and make 2 × 2 closed squares between them.
    squares = [area for area in done.plane.areas if area.area == pytest.approx(22.5**2)]
    assert len(squares) == 4
    # What they enclose is reached from nowhere: it is no part of the outside.
    assert shown(done) == pytest.approx(done.project.seam.area.area - 4 * 22.5**2)
    assert any(finding.stops for finding in prove(project).findings)


def test_where_the_outside_opens_to_the_inside_every_line_cuts() -> None:
    done = work_through(small_top(quilted(3)))
    assert done.leaks
    assert sum(area.area == pytest.approx(22.5**2) for area in done.plane.areas) == 4


def test_what_is_folded_is_cut_along_every_line() -> None:
    flat = quilted(3)
    folded = replace(flat, finish=replace(flat.finish, folds=(((-1.0, 0.0), (1.0, 0.0)),)))
    squares = [
        np.count_nonzero([area.area == pytest.approx(22.5**2) for area in one.plane.areas])
        for one in (work_through(flat), work_through(folded))
    ]
    assert squares == [0, 4]
