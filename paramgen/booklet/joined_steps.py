"""Steps that belong together, and one picture of them.

Laying, taping it down and turning the hoop for that; stitching and taking the tape off; folding
one piece and the next. Each of them keeps its number and its words; they share a picture, which
shows what all of theirs would.
"""

from collections.abc import Sequence
from dataclasses import replace

from paramgen.drawings.front_end.framed_picture import FramedPicture
from paramgen.drawings.front_end.scene import Scene, State
from paramgen.drawings.front_end.work_in_hoop import tape_off
from paramgen.drawings.pictures.step import step_sheet
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.project import Step

#: Pieces folded one after the other share a picture, so many at most.
_MOST_FOLDED = 3


def belonging(scene: Scene) -> tuple[tuple[Step, ...], ...]:
    """Part the steps of a project into runs that share a picture, in order."""
    runs: list[list[Step]] = []
    for step in scene.project.steps:
        if runs and _belongs(scene, runs[-1], step):
            runs[-1].append(step)
        else:
            runs.append([step])
    return tuple(map(tuple, runs))


def as_one(scene: Scene, sheets: Sequence[FramedPicture], run: Sequence[Step]) -> FramedPicture:
    """Draw a run of steps in one picture.

    Parameters
    ----------
    scene : Scene
    sheets : sequence of FramedPicture
        The picture of every step alone, in order.
    run : sequence of Step
        One of those of `belonging`.
    """
    main = drawn(run)
    one = replace(
        main,
        title="; ".join(step.title for step in run),
        say=" ".join(step.say for step in run),
        tape=tuple(strip for step in run for strip in step.tape),
        taped=tuple(name for step in run for name in step.taped),
        pieces=tuple(dict.fromkeys(name for step in run for name in step.pieces)),
    )
    if main.act is not Act.FOLD:
        one = replace(one, pieces=main.pieces)
    steps = tuple(one if step is main else step for step in scene.project.steps)
    sheet = step_sheet(replace(scene, project=replace(scene.project, steps=steps)), main.number)
    # The strips that then come off are there to be seen while it is stitched.
    off = [
        label for step in run if step.act is Act.UNTAPE for label in sheets[step.number - 1].labels
    ]
    return replace(sheet, labels=(*sheet.labels, *off))


def drawn(run: Sequence[Step]) -> Step:
    """The step of a run whose picture is drawn, with what the others add to it."""
    return next((step for step in run if step.layers or step.lines), None) or next(
        (step for step in run if step.act is not Act.FLIP), run[0]
    )


def _belongs(scene: Scene, run: Sequence[Step], step: Step) -> bool:
    last = run[-1]
    if scene.state(step) is State.BEFORE_HOOPING:
        return _folded_on(run, step)
    if any(scene.state(one) is not State.IN_THE_HOOP for one in (*run, step)):
        return False
    if step.act is Act.FLIP:  # back to the front, after what was laid on the back
        return step.seen_from is Side.FRONT and any(one.layers for one in run) and not last.lines
    if last.seen_from != step.seen_from:
        return False
    if step.act is Act.UNTAPE:
        return bool(last.lines) and bool(tape_off(scene, step)[0])
    if last.act is Act.FLIP:
        return len(run) == 1 and step.seen_from is Side.BACK and step.act in (Act.LAY, Act.OPEN_ZIP)
    return step.act is Act.TAPE and last.act in (Act.LAY, Act.OPEN_ZIP)


def _folded_on(run: Sequence[Step], step: Step) -> bool:
    """Whether a piece is folded right after others, all of them named."""
    folds = (*run, step)
    names = [name for one in folds for name in one.pieces]
    return (
        len(folds) <= _MOST_FOLDED
        and all(one.act is Act.FOLD and one.pieces for one in folds)
        and len(names) == len(set(names))
    )
