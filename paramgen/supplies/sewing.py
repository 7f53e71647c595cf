"""What is sewn in each step, by the machine or on a sewing machine: through what, which needle.

Only here is it said what lies under a needle, on either machine, and so which needle it is and
whether eyes want protection: list, caption and caution read it.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from paramgen.finished.bulk import by_hand
from paramgen.making import Made
from paramgen.rehearsal.rehearsal_limits import THICK, needle_for
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import SEWN_THROUGH, Act, Role
from paramgen.vocabulary.project import Layer, Project, Step

#: A line within this of where a zip opens, or of its stops, is near metal, mm (from memory).
NEAR_ZIP = 10.0
#: A jeans needle goes through more layers than this on a sewing machine (from memory).
FEW = 4


@dataclass(frozen=True, kw_only=True)
class StepSewing:
    """What is sewn in a step.

    Parameters
    ----------
    step : int
    stop : int or None
        None for what is sewn on a sewing machine.
    act : Act
    layers : int
        Most layers under the needle, the stabiliser not counted.
    batting : bool
        Whether batting is among them.
    stabiliser : bool
        Whether there is stabiliser besides.
    size : str
        Of the needle, `90/14`.
    thick : bool
        Whether it is thick somewhere, or a seam crosses a zip.
    near_zip : bool
        Whether it comes near a zip, where the needle could meet metal.
    """

    step: int
    stop: int | None
    act: Act
    layers: int
    batting: bool
    stabiliser: bool
    size: str
    thick: bool
    near_zip: bool

    @property
    def needle(self) -> str:
        """The needle in words."""
        jeans = self.stop is None and self.layers > FEW
        return f"jeans needle {self.size}" if jeans else f"needle {self.size}"

    @property
    def through(self) -> str:
        """What it goes through, in words; empty where that is one layer."""
        if self.layers < 2:
            return ""
        words = f"up to {self.layers} layers"
        if self.act in SEWN_THROUGH:
            words += ", folded edges included"
        if self.batting:
            words += ", batting among them"
        comma = "," if "," in words else ""
        return f"{words}{comma} and the stabiliser" if self.stabiliser else words


def sewings(made: Made) -> tuple[StepSewing, ...]:
    """What is sewn, in the order of the steps."""
    return tuple(_sewings(made))


def to_put_in(found: Sequence[StepSewing]) -> dict[int, str]:
    """What to say of needles, by the number of the step to say it in.

    Another needle for the next stop is put in while hands are at work, where they are.
    """
    said = {one.step: f"Put in a {one.needle}." for one in found if not one.stop}
    stops = [one for one in found if one.stop]
    for one in stops[:1]:
        said[one.step] = f"Put in a {one.needle} first."
    for before, one in pairwise(stops):
        if one.size != before.size:
            by_hand_before = one.step - before.step > 1
            when = f"now, for stop {one.stop}" if by_hand_before else "first"
            said[one.step - by_hand_before] = f"Put in a {one.needle} {when}."
    return said


def _sewings(made: Made) -> Iterator[StepSewing]:
    project = made.project
    sewn = {one.stop for one in made.sewn}
    most: dict[int, int] = {}
    for one in made.proof.layers:
        most[one.step] = max(most.get(one.step, 0), one.most)
    for under in by_hand(made.thing):
        most[under.step] = max(most.get(under.step, 0), under.plies)
    bulky = {one.step for one in project.findings if one.code.startswith("bulky-")}
    stays = not any(_takes_out(step) for step in project.steps)
    for step in project.steps:
        by_machine = (*SEWN_THROUGH, Act.EDGE_STITCH, Act.BOX)
        if not (step.stop in sewn or step.act in by_machine):
            continue
        laid = [layer for past in project.steps[: step.number] for layer in past.layers]
        lines = tuple(_lines(step))
        layers = most.get(step.number, 0)
        layers += step.more_layers
        if step.act is Act.EDGE_STITCH:
            layers = _edge_plies(project, step)
        in_hoop = step.stop is not None
        seam = any(line.role is Role.SEAM for line in step.lines)
        crosses = (seam or step.act in SEWN_THROUGH) and _reaches(lines, laid, 0.0)
        yield StepSewing(
            step=step.number,
            stop=step.stop,
            act=step.act,
            layers=layers,
            batting=_over_batting(project, laid, lines),
            stabiliser=in_hoop or (step.act in SEWN_THROUGH and stays),
            size=needle_for(layers, project.least_needle, in_hoop=in_hoop),
            thick=layers >= THICK or step.number in bulky or crosses,
            near_zip=step.act is not Act.EDGE_STITCH and _reaches(lines, laid, NEAR_ZIP),
        )


def _takes_out(step: Step) -> bool:
    """Whether a step leaves no stabiliser in the work."""
    return step.act is Act.WASH_OUT or (step.act is Act.TEAR and not step.mark)


def _lines(step: Step) -> Iterator[BaseGeometry]:
    yield from (path.line for line in step.lines for path in line.paths)
    yield from (mark.line for mark in step.mark)


def _reaches(lines: Sequence[BaseGeometry], laid: Sequence[Layer], within: float) -> bool:
    """Whether a line comes so near to where a zip among these opens, its ends included."""
    slits = [LineString(layer.slit) for layer in laid if layer.slit]
    return any(slit.distance(line) <= within for slit in slits for line in lines)


def _over_batting(project: Project, laid: Sequence[Layer], lines: Sequence[BaseGeometry]) -> bool:
    soft = {one.role for one in project.fabrics if one.material.sort == "batting"}
    there = [layer.outline.area for layer in laid if layer.fabric in soft]
    return any(area.intersects(line) for area in there for line in lines)


def _edge_plies(project: Project, step: Step) -> int:
    """Most layers that are edge-stitched at once, as pieces are folded, their hems included.

    Along a line that the step draws its pieces are sewn to each other; else each lies alone.
    """
    plies = dict.fromkeys(step.pieces, 0)
    for later in project.steps:
        for layer in later.layers:
            if layer.piece in plies:
                plies[layer.piece] = max(plies[layer.piece], layer.most_plies)
    return sum(plies.values()) if step.mark else max(plies.values(), default=0)
