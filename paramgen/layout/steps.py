"""The steps of the work in order, numbered, coloured, each with what it shows."""

from collections.abc import Iterator, Mapping
from dataclasses import field
from functools import lru_cache

from paramgen.budget import IN_ALL, PLIES, POINTS, STEPS, STRIPS, up_to_step
from paramgen.geometry.outlines import ShapeError
from paramgen.layout.layers import layer, notion_layer, tape
from paramgen.layout.lines import run_along, straight_through
from paramgen.layout.name_scope import NamedValues, all_of, as_named, holds, pointed_at, whole
from paramgen.layout.outline_shapes import Shapes, find
from paramgen.layout.pieces import CutPiece
from paramgen.layout.stop_colours import colour_of
from paramgen.recipe.language import RunAlong, StepGroup, StepTable, StraightMark
from paramgen.recipe.terms import Reference
from paramgen.sentences import Speaker
from paramgen.sizing import Sized, repeats, turns
from paramgen.vocabulary.facts import Clause
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Edge, Side
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Layer, Line, Notion, Step


@dataclass(frozen=True)
class StepParts:
    """What the steps put together, each by name."""

    shapes: Shapes
    lines: Mapping[str, Line]
    pieces: Mapping[str, CutPiece]
    notions: Mapping[str, Notion]


@dataclass(frozen=True)
class StepScope:
    """The names a step works with, and the index of its repeat; empty if there is none."""

    names: NamedValues
    index: str = ""


@dataclass
class _Hoop:
    """The state of the hoop while the steps go on."""

    seen_from: Side = Side.FRONT
    stop: int = 0
    number: int = 0
    loose: list[Layer] = field(default_factory=list)
    plies: int = 0
    strips: int = 0
    points: int = 0


def times_laid(sized: Sized) -> dict[str, int]:
    """How often the steps lay each piece or notion."""
    count: dict[str, int] = {}
    STEPS.ask(_count(sized), IN_ALL)
    for table, scope in _unrolled(sized):
        for lay in table.lay:
            name = pointed_at(lay.piece, scope.names)
            count[name] = count.get(name, 0) + 1
    return count


def edges_laid(sized: Sized) -> dict[str, Edge]:
    """Where the steps say that the last fold, or the hem, of a piece lies, if all say the same."""
    said: dict[str, set[Edge]] = {}
    for table, scope in _unrolled(sized):
        for lay in table.lay:
            if lay.fold is not None:
                said.setdefault(pointed_at(lay.piece, scope.names), set()).add(lay.fold)
    return {name: edges.pop() for name, edges in said.items() if len(edges) == 1}


def _count(sized: Sized) -> int:
    """Steps that there may be, not asking which of them the choices leave out."""
    return sum(
        turns(entry.repeat, sized.names) * len(entry.steps)
        if isinstance(entry, StepGroup) and holds(entry.when, sized.names)
        else 1
        for entry in sized.recipe.file.steps
    )


def steps(sized: Sized, parts: StepParts, speaker: Speaker) -> tuple[Step, ...]:
    """Work through the steps of a recipe.

    Parameters
    ----------
    speaker : Speaker
        Knows whether the project lies turned in the hoop.
    """
    hoop = _Hoop()
    return tuple(_step(table, scope, parts, speaker, hoop) for table, scope in _unrolled(sized))


@lru_cache(maxsize=2)
def _unrolled(sized: Sized) -> tuple[tuple[StepTable, StepScope], ...]:
    """Each step there is, with the names it works with and the index of its repeat."""
    return tuple(_each(sized))


def _each(sized: Sized) -> Iterator[tuple[StepTable, StepScope]]:
    for entry in sized.recipe.file.steps:
        if not isinstance(entry, StepGroup):
            if holds(entry.when, sized.names):
                yield entry, StepScope(sized.names)
            continue
        if not holds(entry.when, sized.names):
            continue
        for index, names in repeats(entry.repeat, sized.names):
            for table in entry.steps:
                if holds(table.when, names):
                    yield table, StepScope(names, index)


def _step(
    table: StepTable, scope: StepScope, parts: StepParts, speaker: Speaker, hoop: _Hoop
) -> Step:
    names, index = scope.names, scope.index
    hoop.number += 1
    act = _act(table)
    lines = tuple(_lines(table, names, parts.lines))
    colour = None
    stop = None
    if act is Act.STITCH:
        hoop.stop += 1
        stop, colour = hoop.stop, colour_of(hoop.stop)
    if act is Act.FLIP:
        hoop.seen_from = hoop.seen_from.other
    layers = tuple(_layers(table, names, parts, hoop))
    hoop.loose.extend(layers)
    strips = tuple(_strips(table, names, hoop))
    try:
        marks = tuple(_mark(one, names, parts.shapes) for one in table.mark)
    except ShapeError as problem:
        raise ShapeError("of-mark", step=hoop.number, why=problem.why) from None
    hoop.points += sum(len(path.points) for line in lines for path in line.paths)
    hoop.points += sum(len(outline.points) for outline in marks)
    hoop.points += sum(len(layer.outline.points) for layer in layers)
    POINTS.ask(hoop.points, up_to_step(hoop.number))
    if act in (Act.TAPE, Act.STITCH):
        taped = {pointed_at(on.piece, names) for on in table.tape}
        hoop.loose = [one for one in hoop.loose if one.piece not in taped]
    seen_from = table.seen or hoop.seen_from
    from_back = seen_from is Side.BACK
    each, once = (
        speaker.say(words, names, index, from_back=from_back) if words else ""
        for words in (table.say, table.say_once)
    )
    return Step(
        number=hoop.number,
        stop=stop,
        act=act,
        title=speaker.say(table.title, names, index, from_back=from_back),
        say=f"{each} {once}".strip(),
        once=once,
        seen_from=seen_from,
        colour=colour,
        lines=lines,
        layers=layers,
        tape=strips,
        mark=marks,
        taped=tuple(dict.fromkeys(pointed_at(on.piece, names) for on in table.tape)),
        pieces=all_of(table.pieces, names, (*parts.pieces, *parts.notions)),
        more_layers=whole(Clause("more-layers"), table.more_layers.number(names), 0)
        if table.more_layers
        else 0,
    )


def _mark(one: RunAlong | StraightMark | Reference, names: NamedValues, shapes: Shapes) -> Path:
    if isinstance(one, RunAlong):
        return run_along(one, names, shapes)
    if isinstance(one, StraightMark):
        return straight_through(one.points, names)
    return find(one, names, shapes)


def _strips(table: StepTable, names: NamedValues, hoop: _Hoop) -> Iterator[Path]:
    for on in table.tape:
        for strip in tape(on, names, hoop.loose):
            hoop.strips += 1
            STRIPS.ask(hoop.strips, up_to_step(hoop.number), at_least=True)
            yield strip


def _act(table: StepTable) -> Act:
    if table.do is not None:
        return Act(table.do)
    if table.stitch:
        return Act.STITCH
    return Act.LAY if table.lay else Act.TAPE


def _lines(table: StepTable, names: NamedValues, lines: Mapping[str, Line]) -> Iterator[Line]:
    """Lines a step stitches; the bare name of a repeated line means all of them."""
    for ref in table.stitch:
        wanted, found = pointed_at(ref, names), False
        for name, line in lines.items():
            if name == wanted or (ref.index is None and name.startswith(f"{wanted}[")):
                yield line
                found = True
        if not found:
            raise ShapeError("no-such-line", name=as_named(wanted))


def _layers(table: StepTable, names: NamedValues, parts: StepParts, hoop: _Hoop) -> Iterator[Layer]:
    for lay in table.lay:
        name = pointed_at(lay.piece, names)
        if name in parts.notions:
            laid = notion_layer(lay, parts.notions[name], names)
        elif name in parts.pieces:
            laid = layer(lay, parts.pieces[name], names)
        else:
            raise ShapeError("nothing-to-lay", name=as_named(name))
        hoop.plies += laid.plies
        PLIES.ask(hoop.plies, up_to_step(hoop.number, "in-the-hoop-up-to-step"))
        yield laid
