"""Whether what is laid stays where it lies until the needle catches it."""

from collections.abc import Iterator
from dataclasses import dataclass, field

import shapely

from paramgen.rehearsal.finding_points import place_of
from paramgen.rehearsal.holding import enough
from paramgen.rehearsal.rehearsal_limits import SPECK
from paramgen.vocabulary.facts import facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, Role
from paramgen.vocabulary.project import Layer, Project, Step

#: Lines that hold what they go through from then on.
_HOLD = (Role.TACK_DOWN, Role.BASTING, Role.TOP_STITCH)


@dataclass(eq=False)
class _Laid:
    """A layer as the steps go on; `strips` says what each step taped whose strips are on it."""

    layer: Layer
    step: int
    strips: list[tuple[str, ...]] = field(default_factory=list)
    stitched: bool = False


def securing(project: Project) -> Iterator[Finding]:
    """Find pieces that nothing holds when the hoop is turned over, or a seam meets them."""
    laid: list[_Laid] = []
    told: set[str] = set()
    by_fingers: set[str] = set()
    for step in project.steps:
        if step.act is Act.UNHOOP:
            return
        laid += [_Laid(layer, step.number) for layer in step.layers]
        for one in laid:
            free = not (one.strips or one.stitched)
            if free and one.layer.piece not in told and _moves(one.layer, step):
                told.add(one.layer.piece)
                yield _finding(one, step)
            elif (
                free
                and one.layer.piece not in told | by_fingers
                and _through(one.layer, step, _HOLD) > 0.0
            ):
                by_fingers.add(one.layer.piece)
                yield _by_fingers(one, step)
            _after(one, step)


def _by_fingers(one: _Laid, step: Step) -> Finding:
    """Say that only fingers keep a layer where it lies while the needle comes."""
    return Finding(
        "not-taped",
        Severity.DISAPPOINT,
        facts(piece=one.layer.called, laid=one.step, step=step.called),
        place=place_of([one.layer.outline.line]),
        step=step.number,
        piece=one.layer.piece,
    )


def _moves(layer: Layer, step: Step) -> bool:
    """Whether a layer that nothing holds would fall off or slip in a step."""
    return step.act is Act.FLIP or _through(layer, step, (Role.SEAM,)) > 0.0


def _after(one: _Laid, step: Step) -> None:
    """What holds a layer once a step is done."""
    one.strips = [taped for taped in one.strips if not step.takes_tape_off(taped)]
    if step.act is Act.TAPE and (
        one.layer.piece in step.taped
        or any(
            strip.box.overlaps(one.layer.outline.box)
            and (strip.area & one.layer.outline.area).area > SPECK
            for strip in step.tape
        )
    ):
        one.strips.append(step.taped)
    elif step.act is Act.STITCH and not one.stitched:
        one.stitched = _through(one.layer, step, _HOLD) >= enough(one.layer.outline.area) or (
            _through(one.layer, step, (Role.SEAM,)) > 0.0
        )


def _through(layer: Layer, step: Step, roles: tuple[Role, ...]) -> float:
    """Length of the lines of some roles that a step sews through a layer, mm."""
    paths = [path.line for line in step.lines if line.role in roles for path in line.paths]
    return float((shapely.MultiLineString(paths) & layer.outline.area).length) if paths else 0.0


def _finding(one: _Laid, step: Step) -> Finding:
    return Finding(
        "not-secured",
        Severity.CANNOT,
        facts(piece=one.layer.called, laid=one.step, step=step.called),
        variant="falls" if step.act is Act.FLIP else "slips",
        place=place_of([one.layer.outline.line]),
        step=step.number,
        piece=one.layer.piece,
    )
