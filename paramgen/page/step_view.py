"""The work step by step: each step's picture large, with what to do and to look for."""

from collections.abc import Iterator
from dataclasses import replace

from markupsafe import Markup

from paramgen.booklet.booklet_length import BookletLength
from paramgen.booklet.compose import BookletPictures, booklet
from paramgen.booklet.lettered_pictures import lettered
from paramgen.booklet.said import StepBlock
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.framed_picture import composed
from paramgen.drawings.front_end.scene import Scene, State
from paramgen.drawings.pictures.finished_views import finished_sheets
from paramgen.drawings.pictures.step import step_sheet
from paramgen.finished.finished_thing import OTHER
from paramgen.making import Made
from paramgen.pack.pack_files import scene_of
from paramgen.page.filled_templates import filled
from paramgen.page.project_parts import ShownProject
from paramgen.page.said_pictures import SaidPicture, said_beside
from paramgen.vocabulary.cloth import Cloths
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.works import Kept

#: So many projects are kept with all that their steps say.
MOST_TOLD = 4

#: The side from which a step is looked at, where that is not the one that its words speak of.
OTHER_SIDE = "other"


@dataclass(frozen=True)
class ToldSteps:
    """A project with what each of its steps says.

    Parameters
    ----------
    scene : Scene
    blocks : tuple of StepBlock
    """

    scene: Scene
    blocks: tuple[StepBlock, ...]


class StepTeller:
    """Tells the steps of projects; those told last are kept."""

    def __init__(self) -> None:
        self._kept = Kept[ToldSteps](MOST_TOLD)

    def told(self, shown: ShownProject) -> ToldSteps | None:
        """What the steps say; None if it cannot be made."""
        made = shown.made
        if made is None or shown.attempt is None:
            return None
        key = (shown.attempt.order.key, shown.words.cloths)
        return self._kept.get(key, lambda: _told(made, shown.cloths))


def _told(made: Made, cloths: Cloths) -> ToldSteps:
    scene = scene_of(made, cloths)
    steps = tuple(step_sheet(scene, step.number) for step in made.project.steps)
    pictures = BookletPictures(steps, finished_sheets(made.thing, cloths))
    return ToldSteps(scene, booklet(made, scene, pictures, BookletLength.FULL).blocks)


@dataclass(frozen=True, kw_only=True)
class LookedAtStep:
    """One step as it is looked at.

    Parameters
    ----------
    block : StepBlock
    count : int
        How many there are.
    svg : Markup
        With its words in it, for where it is large.
    said : SaidPicture
        With its words beside it, for where these would be too small.
    turns : bool
        Whether it can be seen from the other side as well.
    other : bool
        Whether it is seen so now.
    before, after : str
        Addresses of its neighbours; empty where there is none.
    flipped, flipped_from : str
        Address of the same from the other side, and which side that is.
    """

    block: StepBlock
    count: int
    svg: Markup
    said: SaidPicture
    turns: bool
    other: bool
    before: str
    after: str
    flipped: str
    flipped_from: str


def looked_at(shown: ShownProject, told: ToldSteps, step: str, side: str) -> LookedAtStep:
    """Draw a step.

    Parameters
    ----------
    shown : ShownProject
    told : ToldSteps
    step : str
        Its number as it stands in the address; the nearest there is, if it is none.
    side : str
        `other` to see it from the side that its words do not speak of.
    """
    count = len(told.blocks)
    number = int(step) if step.isascii() and step.isdecimal() and len(step) < 6 else 1
    number = min(max(number, 1), count)
    scene = told.scene
    one = scene.project.steps[number - 1]
    seen_from = one.seen_from
    # What is moved or taped by hand is drawn over all else: from behind it would seem to lie there.
    turns = scene.state(one) is State.IN_THE_HOOP and bool(one.lines or one.layers)
    other = turns and side == OTHER_SIDE
    sheet = step_sheet(_from_behind(scene, number) if other else scene, number)
    block, query = told.blocks[number - 1], shown.address

    def at(place: int, back: bool = False) -> str:
        return f"{query}&step={place}{f'&side={OTHER_SIDE}' if back else ''}"

    return LookedAtStep(
        block=block,
        count=count,
        svg=Markup(to_svg(composed(sheet))),
        said=said_beside(sheet, lettered(sheet) if other else block.picture),
        turns=turns,
        other=other,
        before=at(number - 1) if number > 1 else "",
        after=at(number + 1) if number < count else "",
        flipped=at(number, not other),
        flipped_from=str(seen_from if other else OTHER[seen_from]),
    )


def _from_behind(scene: Scene, number: int) -> Scene:
    steps = list(scene.project.steps)
    one = steps[number - 1]
    steps[number - 1] = replace(one, seen_from=OTHER[one.seen_from])
    return replace(scene, project=replace(scene.project, steps=tuple(steps)))


def step_parts(
    shown: ShownProject, teller: StepTeller, step: str, side: str
) -> Iterator[tuple[str, str]]:
    """The part of the page that changes from step to step."""
    told = teller.told(shown)
    if told is None:
        yield "step", filled("part_no_steps.html", shown=shown)
        return
    yield "step", filled("part_step.html", seen=looked_at(shown, told, step, side))
