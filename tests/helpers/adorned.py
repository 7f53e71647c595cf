"""A recipe with something asked for on its panels, laid out and sewn."""

from dataclasses import replace

import numpy as np
import shapely

from paramgen.embellishment.read_embellishment import embellishments_asked
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import Recipe, find_recipe
from paramgen.sizing import size
from paramgen.stitches.needle_points import SewnStep
from paramgen.stitches.sew import sew
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.path import FloatArray
from paramgen.vocabulary.project import Line, Project, Step
from paramgen.vocabulary.unit import Unit

#: Panels of the recipes that come with the program on which anything can be stitched.
PANELS = (
    ("coaster", "top"),
    ("fold-wallet", "lower outer"),
    ("fold-wallet", "upper outer"),
    ("flap-sleeve", "back and flap"),
    ("notebook-cover", "outer"),
    ("plant-tag", "front"),
    ("card-case", "slot panel"),
    ("zip-pouch", "lower front"),
    ("zip-pouch", "upper front"),
    ("boxed-pouch", "lower front"),
    ("bunting-flag", "front"),
    ("key-fob", "strip"),
    ("tissue-cover", "back"),
)


def recipe_with(name: str, on: str) -> Recipe:
    """A recipe, and what is asked for on its panels."""
    return replace(find_recipe(name), on=embellishments_asked(on))


def adorned(name: str, on: str, **asked: str) -> Project:
    """It laid out about its origin."""
    return lay_out(size(recipe_with(name, on), asked, unit=Unit.MM))


def found_of(project: Project) -> list[Finding]:
    """All that is found about what is stitched on its panels."""
    return [found for one in project.embellishments for found in one.findings]


def own_steps(project: Project, line: str) -> list[Step]:
    """The stops that stitch lines of a name, `quilting` or `edge-line`."""
    return [step for step in project.steps if any(one.name.startswith(line) for one in step.lines)]


def own_lines(project: Project, line: str) -> list[Line]:
    """Their lines."""
    return [one for step in own_steps(project, line) for one in step.lines]


def as_one(lines: list[Line]) -> shapely.MultiLineString:
    """All paths of some lines."""
    return shapely.MultiLineString([path.line for line in lines for path in line.paths])


def sewn_stops(project: Project, line: str) -> list[SewnStep]:
    """The needle points of those stops."""
    sewn, found = sew(project.steps)
    assert found == ()
    stops = {step.stop for step in own_steps(project, line)}
    return [step for step in sewn if step.stop in stops]


def needles(project: Project, line: str) -> FloatArray:
    """All needle points of those stops, mm."""
    runs = [run.needles * 0.1 for step in sewn_stops(project, line) for run in step.runs]
    return np.concatenate(runs) if runs else np.empty((0, 2))
