"""The picture of a class: a bar for each person, and one for each machine, along the time."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from paramgen.drawings.primitives.drawn_paths import rectangle, straight
from paramgen.drawings.primitives.items import (
    Anchor,
    Drawing,
    DrawnItem,
    Group,
    Shape,
    Style,
    Text,
    Tone,
)
from paramgen.drawings.primitives.lettering import text_width
from paramgen.vocabulary.box import Box
from paramgen.worktime.class_schedule import ClassSchedule, WorkBlock
from paramgen.worktime.step_times import WorkPhase

#: Width of the time, and of the names beside it, mm.
_WIDE, _NAMES = 140.0, 24.0
#: From one bar to the next, height of a bar, letters, mm.
_PITCH, _HIGH, _EM = 5.0, 3.8, 2.8
#: No more bars in a picture: a page takes them.
MOST_BARS = 36
#: Minutes between two marks of the time: the first of these of which few are needed.
_MARKS = (5, 10, 15, 30, 60, 120, 240, 480)
_FEW = 9
_TONES = {WorkPhase.PREPARE: 0, WorkPhase.IN_HOOP: 1, WorkPhase.FINISH: 2}
#: What a phase is called in the legend.
_CALLED = {
    WorkPhase.PREPARE: "before the hooping",
    WorkPhase.IN_HOOP: "at the machine",
    WorkPhase.FINISH: "after it",
}

_Bar = tuple[str, tuple[WorkBlock, ...]]


def schedule_pictures(found: ClassSchedule) -> tuple[Drawing, ...]:
    """Draw who does what when, in as many pictures as there are bars for; machines stand last."""
    bars = list(_bars(found))
    parts = [bars[at : at + MOST_BARS] for at in range(0, len(bars), MOST_BARS)]
    return tuple(_picture(found, part, number, len(parts)) for number, part in enumerate(parts, 1))


def _bars(found: ClassSchedule) -> Iterator[_Bar]:
    by_person = sorted(found.blocks, key=lambda one: (one.person, one.begin))
    for person, group in groupby(by_person, key=lambda one: one.person):
        yield f"person {person + 1}", tuple(group)
    sewn = [(one.machine, one) for one in found.blocks if one.machine is not None]
    by_machine = sorted(sewn, key=lambda one: (one[0], one[1].begin))
    for machine, pairs in groupby(by_machine, key=lambda one: one[0]):
        yield f"machine {machine + 1}", tuple(block for _, block in pairs)


def _picture(found: ClassSchedule, bars: Sequence[_Bar], number: int, of: int) -> Drawing:
    part = f", part {number} of {of}" if of > 1 else ""
    bottom = len(bars) * _PITCH
    return Drawing(
        name=f"class-{number}",
        title=f"Who does what when{part}: the number in a bar is that of the bag",
        description=_told(bars),
        box=Box(-_NAMES, -6.5, _WIDE + 6.0, bottom + 7.5),
        scale=1.0,
        items=tuple(_items(found, bars, bottom)),
    )


def _told(bars: Sequence[_Bar]) -> str:
    said = []
    for name, blocks in bars:
        parts = (
            f"bag {one.job + 1} {one.phase.value}, minute {one.begin / 60:.0f} to "
            f"{one.end / 60:.0f}"
            for one in blocks
        )
        said.append(f"{name}: {'; '.join(parts)}")
    return f"{'. '.join(said)}."


def _items(found: ClassSchedule, bars: Sequence[_Bar], bottom: float) -> Iterator[DrawnItem]:
    length = max(found.length, 60.0)
    across = _WIDE / length
    step = next((one for one in _MARKS if length / 60 / one <= _FEW), _MARKS[-1])
    for minutes in range(0, int(length / 60) + 1, step):
        x = minutes * 60 * across
        yield Shape(straight((x, -1.5), (x, bottom)), Style.MEASURE)
        yield Text((x, -2.5), _clock(minutes), _EM, Anchor.MIDDLE)
    for row, (name, blocks) in enumerate(bars):
        top = row * _PITCH + (_PITCH - _HIGH) / 2
        held: list[DrawnItem] = [Text((-1.5, top + _HIGH / 2 + 0.35 * _EM), name, _EM, Anchor.END)]
        for one in blocks:
            box = Box(one.begin * across, top, one.end * across, top + _HIGH)
            held.extend(_block(one, box))
        yield Group(name.replace(" ", "-"), tuple(held), name)
    x = 0.0
    for phase, called in _CALLED.items():
        box = Box(x, bottom + 2.5, x + 7.0, bottom + 2.5 + _HIGH)
        yield from _filled(phase, box)
        yield Text((x + 8.5, bottom + 2.5 + _HIGH / 2 + 0.35 * _EM), called, _EM)
        x += 12.0 + text_width(called, _EM)


def _block(one: WorkBlock, box: Box) -> Iterator[DrawnItem]:
    yield from _filled(one.phase, box)
    number = str(one.job + 1)
    wide = text_width(number, _EM)
    if wide + 1.2 > box.width:
        return
    x, y = box.centre
    ground = Box(x - wide / 2 - 0.4, y - 0.55 * _EM, x + wide / 2 + 0.4, y + 0.55 * _EM)
    yield Shape(rectangle(ground), Style.OUTSIDE)
    yield Text((x, y + 0.35 * _EM), number, _EM, Anchor.MIDDLE, bold=True)


def _filled(phase: WorkPhase, box: Box) -> Iterator[DrawnItem]:
    yield Shape(rectangle(box), Style.SWATCH, tone=Tone(_TONES[phase], _CALLED[phase]))
    yield Shape(rectangle(box), Style.CUT_LINE)


def _clock(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    return f"{hours}:{rest:02}"
