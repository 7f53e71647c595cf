"""The picture of one step, as the person sees it."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import takewhile

import numpy as np
import shapely

from paramgen.copies.step_wording import all_of
from paramgen.drawings.front_end.corner_laid_flat import corner_laid_flat
from paramgen.drawings.front_end.drawn_zips import slider_place
from paramgen.drawings.front_end.facing_sides import face_seen, fold_sides
from paramgen.drawings.front_end.framed_picture import FramedPicture, Inset, composed, letters_for
from paramgen.drawings.front_end.labels import Label
from paramgen.drawings.front_end.lapped_work import lapped_labels, lapped_work
from paramgen.drawings.front_end.layers_apart import layers_apart
from paramgen.drawings.front_end.laying_distances import laid_by
from paramgen.drawings.front_end.legend import entries_for
from paramgen.drawings.front_end.pulling_over import pulls, reached
from paramgen.drawings.front_end.scene import Scene, State
from paramgen.drawings.front_end.table_work import CAPTIONS_ON_THE_TABLE, on_the_table
from paramgen.drawings.front_end.work_before_turning import as_sewn, as_sewn_labels
from paramgen.drawings.front_end.work_in_hoop import painted, tape_off
from paramgen.drawings.front_end.work_turned_out import (
    outermost_fabric,
    shown_state,
    turned_at,
    turned_out,
    turned_out_labels,
)
from paramgen.drawings.primitives.drawn_paths import outer_paths, rightmost, seen, spot_in
from paramgen.drawings.primitives.items import Drawing, DrawnItem, Style
from paramgen.drawings.primitives.paragraphs import TextLine, listed
from paramgen.finished.standing_room import cut_out_by
from paramgen.finished.turning_passage import through_gap, through_opening, through_zip
from paramgen.layout.copies_apart import seams
from paramgen.lengths import show_both, show_size_both, spaced, unbroken
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Layer, Line, Step
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

_BY_HAND = {
    Act.TRIM: "cut along this line",
    Act.UNHOOP: "cut the copies apart between these lines",
    Act.TEAR: "take the stabiliser away up to this line",
    Act.CLIP: "clip here",
    Act.NOTCH: "notch here",
    Act.FOLD: "fold here",
    Act.TOP_STITCH: "top-stitch here",
}

#: Words of the legend for what means something else once the work is out of its hoop.
IN_HAND = {
    Style.FOLDED_EDGE: "folded or turned edge",
    Style.HIDDEN: "inside, or on the other side",
}
_WORDS: Mapping[State, Mapping[Style, str]] = {
    State.BEFORE_HOOPING: CAPTIONS_ON_THE_TABLE,
    State.AS_SEWN: IN_HAND,
    State.TO_THE_LINING: IN_HAND,
    State.RIGHT_SIDE_OUT: IN_HAND,
}
_ABOVE = {State.IN_THE_HOOP: "top, away from you"}

# A length in a sentence: millimetres are always there, first or in brackets.
_MEASURE = re.compile(r"\d\s*mm\b")

# A label so far below the slider, in ems, does not lead along the zip.
_BESIDE = 7.0


def step_picture(hooped: Scene, number: int) -> Drawing:
    """Draw one step.

    Parameters
    ----------
    hooped : Scene
    number : int
        Of the step, from 1.

    Returns
    -------
    Drawing
        Named `step-07`. All steps of a project have the same view, so that pictures
        laid side by side compare.
    """
    return composed(step_sheet(hooped, number))


def step_sheet(hooped: Scene, number: int) -> FramedPicture:
    """Picture of one step and its labels, before they are put together."""
    state = hooped.state(hooped.project.steps[number - 1])
    in_hoop = state is State.IN_THE_HOOP
    copies = hooped.project.copies
    # Out of the hoop copies are cut apart, and one is shown.
    hooped = hooped if in_hoop or state is State.BEFORE_HOOPING else hooped.one
    project = hooped.project
    step = project.steps[number - 1]
    if state is State.BEFORE_HOOPING:
        table = on_the_table(hooped, step)
        view, em, picture, labels = table.view, table.letters, table.picture, table.labels
    else:
        view = hooped.view if in_hoop else hooped.view_in_hand
        em = letters_for(view) if in_hoop else hooped.letters_in_hand
        picture, labels = _shown(hooped, step, em)
    inset = _inset(hooped, step, view, em)
    beside = inset.labels if inset else ()
    of = f"{project.own_title}: step " if project.own_title else "Step "
    one_of = copies > 1 and state not in (State.IN_THE_HOOP, State.BEFORE_HOOPING)
    return FramedPicture(
        name=f"step-{number:02}",
        title=f"{project.title}, step {number}: {step.title}",
        description=_description(hooped, step, (*labels, *beside)),
        heading=(
            TextLine(f"{of}{number} of {len(project.steps)}{_stop(step)}"),
            TextLine(step.title, bold=True),
            TextLine(_seen_from(hooped, step)),
            *((TextLine(where),) if (where := _where(hooped, step)) else ()),
            *((TextLine(f"One of the {copies} copies."),) if one_of else ()),
        ),
        above=_above(hooped, step, state),
        view=view,
        picture=picture,
        legend=entries_for(
            (*picture, *(inset.picture if inset else ())), _words(hooped, state), project.unit
        ),
        letters=em,
        labels=labels,
        plan=(hooped.field, hooped.extent) if in_hoop and hooped.close_up else None,
        column=True,
        inset=inset,
    )


def _words(hooped: Scene, state: State) -> Mapping[Style, str]:
    """What the legend says otherwise than elsewhere."""
    words = dict(_WORDS.get(state, {}))
    return words | {Style.GAP: hooped.gap_called}


def _inset(hooped: Scene, step: Step, view: Box, em: float) -> Inset | None:
    """The layers edge-on where a hand goes in, in a step that turns or pulls over."""
    if hooped.thing is None:
        return None
    done = hooped.thing.done
    if step.act in (Act.BOX, Act.BIND) and hooped.project.depth:
        return corner_laid_flat(
            hooped.project.depth,
            cut_out_by(hooped.thing),
            view,
            em,
            hooped.project.unit,
            tone=hooped.tones.get(outermost_fabric(hooped, step)),
            binds=step.act is Act.BIND,
        )
    turned = turned_at(hooped, step)
    side = turned.side if turned else step.seen_from
    if step.act is Act.TURN and turned is None:
        passage, where, does = through_gap(done), "at the turning gap", "reach in here"
        if hooped.open_edges:
            where = "at the open edge"
        if done.opening and passage is None:
            passage, where = through_opening(done), "at the opening"
    elif step.act is Act.TURN:
        passage, where, does = through_zip(done), "at the zip", "reach in through the zip"
    elif step.act is Act.PULL_OVER and (every := pulls(hooped)):
        passages = [one for pull in every if (one := reached(hooped, pull))]
        # The first of those that have most between their layers.
        passage = max(passages, key=lambda one: len(one.partly), default=None)
        where, does = "at a mouth", "reach in here"
    else:
        return None
    if passage is None:
        return None
    unit = hooped.project.unit
    heading = english().as_used(f"The layers {where}, seen edge-on", unit)
    does = english().as_used(does, unit)
    return layers_apart(
        passage, hooped.thing.layers, hooped.tones, view, side, em, heading=heading, reach_in=does
    )


def _above(hooped: Scene, step: Step, state: State) -> str:
    """What stands over a picture: which edge of it is its top, or where its own top lies."""
    lies = state not in (State.IN_THE_HOOP, State.BEFORE_HOOPING)
    if not (lies and hooped.project.turned):
        return _ABOVE.get(state, "top")
    turned = turned_at(hooped, step)
    side = turned.side if turned else step.seen_from
    return f"the top of it is at the {'right' if side is Side.FRONT else 'left'}"


def _stop(step: Step) -> str:
    return f", stop {step.stop} of the machine" if step.stop is not None else ", by hand"


def _shown(hooped: Scene, step: Step, em: float) -> tuple[tuple[DrawnItem, ...], tuple[Label, ...]]:
    """Picture and labels of a step, however the work is when it begins."""
    state = hooped.state(step)
    if state is State.IN_THE_HOOP:
        return painted(hooped, step, em), tuple(_labels(hooped, step))
    if (lapped := turned_at(hooped, step)) and hooped.lapped(step):
        return lapped_work(hooped, step, lapped), tuple(lapped_labels(step, lapped))
    if state is State.AS_SEWN:
        return as_sewn(hooped, step, em), tuple(as_sewn_labels(hooped, step))
    return turned_out(hooped, step, em), tuple(turned_out_labels(hooped, step))


def _seen_from(hooped: Scene, step: Step) -> str:
    if hooped.state(step) is not State.IN_THE_HOOP:
        return shown_state(hooped, step)
    if step.seen_from is Side.BACK:
        return "Seen from the back: left and right change places."
    return "Seen from the front."


def _where(hooped: Scene, step: Step) -> str:
    turned = turned_at(hooped, step)
    if hooped.state(step) is State.BEFORE_HOOPING:
        return ""
    if hooped.state(step) is not State.IN_THE_HOOP:
        # What has been turned over does not lie as it did.
        side = turned.side if turned else step.seen_from
        return "" if side is Side.BACK else "It lies as it did in the hoop."
    if hooped.close_up:
        return f"{hooped.hoop_caption}. Shown close up; the small plan shows where it lies."
    return f"{hooped.hoop_caption}."


def _labels(hooped: Scene, step: Step) -> Iterator[Label]:
    side, unit = step.seen_from, hooped.project.unit
    yield from _layer_labels(hooped, step)
    for title, lines in _by_title(step.lines):
        paths = [seen(path, side) for line in lines for path in line.paths]
        yield Label(rightmost(paths), tuple(_line_words(title, lines, unit)), on_line=True)
    if step.tape:
        strips = [seen(strip, side) for strip in step.tape]
        count = f" ({len(strips)} strips)" if len(strips) > 1 else ""
        yield Label(rightmost(strips), (TextLine(f"tape it down{count}"),), on_line=True)
    if step.mark:
        marks = [seen(mark, side) for mark in step.mark]
        yield Label(rightmost(marks), (TextLine(_BY_HAND.get(step.act, "here")),), on_line=True)
    if step.act in (Act.UNTAPE, Act.UNHOOP):
        yield from _tape_labels(hooped, step)
    if step.act is Act.UNHOOP and not _torn_later(hooped, step):
        washed = hooped.number_of(Act.WASH_OUT) is not None
        how = "cut it off" if washed else "tear it away"
        words = (TextLine("stabiliser", bold=True), TextLine(f"{how} outside this line"))
        yield Label(rightmost(_outermost(hooped, step)), words, on_line=True)
    if step.act is Act.FLIP:
        words = (TextLine("turn it over about this line"), TextLine("left and right change places"))
        yield Label((0.0, hooped.field.centre[1]), words, on_line=True)
    if step.act is Act.OPEN_ZIP:
        sliders = [slider_place(layer, side, opened=True) for layer in _zips(hooped, step)]
        words = (TextLine("slider", bold=True), TextLine("pulled inside the seam line"))
        also = (TextLine("so too in every copy"),) if hooped.project.copies > 1 else ()
        # As the copies are alike, the one nearest to the words stands for all.
        for at in sorted(sliders)[-1:] if also else sliders:
            yield Label(at, (*words, *also), drop=_BESIDE * letters_for(hooped.view))


def _torn_later(hooped: Scene, step: Step) -> bool:
    """Whether a step of its own tears it away, and not from marked places alone.

    What is taken out after turning lies inside.
    """
    after = hooped.project.steps[step.number :]
    return any(
        one.act is Act.TEAR and not one.mark
        for one in takewhile(lambda one: one.act is not Act.TURN, after)
    )


def _outermost(hooped: Scene, step: Step) -> list[Path]:
    """The lines along which stitching has perforated the stabiliser farthest out."""
    stitched = [
        path
        for past in hooped.project.steps[: step.number]
        for line in past.lines
        for path in line.paths
    ]
    whole = shapely.union_all([one.area for one in (*seams(hooped.project), *stitched)])
    return [seen(one, step.seen_from) for one in outer_paths(whole)]


def _tape_labels(hooped: Scene, step: Step) -> Iterator[Label]:
    here, behind = tape_off(hooped, step)
    other = step.seen_from.other
    if here:
        also = (TextLine(f"and {len(behind)} on the {other} of the hoop"),) if behind else ()
        yield Label(rightmost(here), (TextLine(f"take off this tape{_count(here)}"), *also), True)
    elif behind:
        words = TextLine(f"take off the tape on the {other} of the hoop{_count(behind)}")
        yield Label(rightmost(behind), (words,), on_line=True)


def _count(strips: Sequence[Path]) -> str:
    return f" ({len(strips)} strips)" if len(strips) > 1 else ""


def _layer_labels(hooped: Scene, step: Step) -> Iterator[Label]:
    """Label what is laid; where copies are laid alike, the one nearest to the words."""
    alike: dict[tuple[int, tuple[TextLine, ...]], list[Point]] = {}
    share = max(1, len(step.layers) // hooped.project.copies)
    before = hooped.project.steps[: step.number - 1]
    told = _MEASURE.search(step.say) is not None
    for place, (layer, at) in enumerate(_shown_layers(step)):
        words = (
            *_layer_words(layer, step.seen_from, hooped.project.unit),
            # Where the words say what it is laid by, it may be another line.
            *(() if told else laid_by(layer, before, layer.side, hooped.project.unit)),
        )
        alike.setdefault((place % share, words), []).append(at)
    for (_, words), spots in alike.items():
        also = (TextLine(f"{len(spots)} times alike"),) if len(spots) > 1 else ()
        yield Label(max(spots), (*words, *also))


def _layer_words(layer: Layer, side: Side, unit: Unit) -> Iterator[TextLine]:
    box = layer.outline.box
    yield TextLine(layer.title, bold=True)
    if layer.shares:
        yield TextLine(f"one sheet over {all_of(len(layer.shares))}")
    yield TextLine(unbroken(show_size_both(box.width, box.height, unit)))
    face = face_seen(layer, side)
    if layer.side != side:
        yield TextLine(f"on the {layer.side} of the hoop")
    elif layer.clear:
        yield TextLine("see-through")
    elif face:
        yield TextLine(f"{face} side towards you")
    folds = fold_sides(layer, side)
    if folds:
        edges = "edge" if len(folds) == 1 else "edges"
        yield TextLine(f"folded {edges} at the {listed(folds)}")


def _line_words(title: str, lines: Sequence[Line], unit: Unit) -> Iterator[TextLine]:
    sizes = {_extent(line) for line in lines}
    runs = sum(len(line.paths) for line in lines)
    yield TextLine(title, bold=True)
    if len(sizes) > 1:
        yield TextLine(f"{runs} lines")
    elif runs > len(lines) > 1:
        yield TextLine(f"{len(lines)} times alike, each")
    elif len(lines) > 1:
        yield TextLine(f"{len(lines)} lines, each")
    if len(sizes) == 1:
        width, height = sizes.pop()
        if width > 0.0 and height > 0.0:
            yield TextLine(unbroken(show_size_both(width, height, unit)))
        else:
            yield TextLine(unbroken(show_both(max(width, height), unit)))


def _extent(line: Line) -> tuple[float, float]:
    """Width and height of a line, to 0.1 mm."""
    points = np.vstack([path.points for path in line.paths])
    width, height = (points.max(axis=0) - points.min(axis=0)).tolist()
    return round(width, 1), round(height, 1)


def _by_title(lines: Iterable[Line]) -> Iterable[tuple[str, list[Line]]]:
    titles: dict[str, list[Line]] = {}
    for line in lines:
        if line.paths:
            titles.setdefault(line.title, []).append(line)
    return titles.items()


def _zips(hooped: Scene, step: Step) -> Iterator[Layer]:
    for past in hooped.project.steps[: step.number]:
        yield from (layer for layer in past.layers if layer.slit)


def _shown_layers(step: Step) -> Iterator[tuple[Layer, Point]]:
    """Pair each layer laid now with a point in what can be seen of it."""
    side = step.seen_from
    for place, layer in enumerate(step.layers):
        room = seen(layer.outline, side).area
        over = [
            seen(later.outline, side).area
            for later in step.layers[place + 1 :]
            if later.side == layer.side
        ]
        over += [seen(strip, side).area for strip in step.tape]
        open_room = shapely.difference(room, shapely.union_all(over)) if over else room
        yield layer, spot_in(open_room if open_room.area > 1.0 else room)


def _description(hooped: Scene, step: Step, labels: tuple[Label, ...]) -> str:
    """Say in words what the picture shows."""
    before = [
        layer.title
        for past in hooped.project.steps[: step.number - 1]
        for layer in past.layers
        if layer.side == step.seen_from
    ]
    parts = [step.say, _seen_from(hooped, step)]
    parts += [f"{', '.join(line.text for line in label.lines)}." for label in labels]
    if before and hooped.state(step) in (State.IN_THE_HOOP, State.AS_SEWN):
        parts.append(f"Already there: {', '.join(dict.fromkeys(before))}.")
    return spaced(" ".join(part for part in parts if part))
