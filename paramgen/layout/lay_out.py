"""A sized recipe laid out in the hoop."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import chain

import numpy as np

from paramgen.budget import IN_ALL, PARTS, TERMS
from paramgen.geometry.outlines import ShapeError
from paramgen.layout.boxed_corners import boxed_corners, finished_size
from paramgen.layout.copies_apart import put
from paramgen.layout.embellished_project import with_embellishments
from paramgen.layout.lines import lines
from paramgen.layout.name_scope import (
    NamedValues,
    all_of,
    ending,
    holds,
    pointed_at,
    spot,
    whole,
)
from paramgen.layout.outline_shapes import Shapes, find, shapes
from paramgen.layout.pieces import held, notions, pieces
from paramgen.layout.placed_notions import check_patches, check_tape
from paramgen.layout.steps import StepParts, edges_laid, steps, times_laid
from paramgen.recipe.arithmetic import FormulaError
from paramgen.recipe.language import (
    ArcTo,
    FlapWhen,
    WallWhen,
    condition_of,
    piece_of,
)
from paramgen.recipe.terms import Reference
from paramgen.sizing import Sized, conditions, turns
from paramgen.vocabulary.facts import Clause, Mm, Name, facts
from paramgen.vocabulary.findings import CannotMakeError, Fault, Finding, InputError, Severity
from paramgen.vocabulary.kinds import Act, Along, FinishWay
from paramgen.vocabulary.path import CHORD_ERROR, FloatArray, Path, Point
from paramgen.vocabulary.project import (
    Bend,
    Boxed,
    Finish,
    Layer,
    Line,
    Placement,
    Project,
    Step,
)
from paramgen.wording.load import english

#: Most layers under the needle unless the recipe says otherwise (from memory).
MOST_LAYERS = 16

PointsMoved = Callable[[FloatArray], FloatArray]


def lay_out(
    sized: Sized, *, turned: bool = False, half: bool = False, chord_error: float = CHORD_ERROR
) -> Project:
    """Make shapes of a sized recipe, with the recipe's origin at the centre of the hoop.

    Parameters
    ----------
    sized : Sized
    turned : bool
        Lay the project turned by 90° clockwise, its top at the right of the hoop.
    half : bool
        Lay it half-turned besides, by 180°.
    chord_error : float
        Most a chord may leave a curve, mm; the default is fit to be sewn.

    Raises
    ------
    CannotMakeError
        If one of the recipe's conditions forbids it, or a shape cannot be drawn.
    InputError
        If the recipe's arithmetic fails at these sizes.
    """
    said = conditions(sized)
    if any(finding.stops for finding in said):
        raise CannotMakeError(said)
    try:
        project = _laid_out(sized, said, (turned, half), chord_error)
    except ShapeError as problem:
        finding = Finding("shape-impossible", Severity.CANNOT, facts(why=problem.why))
        raise CannotMakeError([*said, finding]) from None
    except CannotMakeError as problem:
        raise CannotMakeError([*said, *problem.findings]) from None
    except FormulaError as problem:
        raise InputError([Fault(str(problem), sized.recipe.source)]) from None
    way = Placement(turned, half=half)
    return moved(project, lambda points: put(points, way)) if turned or half else project


def without_curves(sized: Sized, chord_error: float) -> bool:
    """Whether it is laid out in the very same points if chords may leave curves by so much.

    False too where it has no shape.
    """
    file = sized.recipe.file
    drawn = chain.from_iterable(spots for table in file.lines.values() for spots in table.points)
    if any(isinstance(spot, ArcTo) for spot in drawn):
        return False
    try:
        fine, coarse = shapes(sized), shapes(sized, chord_error)
    except (ShapeError, FormulaError, CannotMakeError):
        return False
    return all(np.array_equal(fine[name].points, coarse[name].points) for name in fine)


def _laid_out(
    sized: Sized, said: tuple[Finding, ...], way: tuple[bool, bool], chord_error: float
) -> Project:
    file = sized.recipe.file
    PARTS.ask(_parts(sized), IN_ALL)
    TERMS.ask(_repeated_terms(sized), Clause("in-repeats"))
    turned, half = way
    speaker = replace(sized.speaker, turned=turned, half=half)
    outlines = shapes(sized, chord_error)
    cut = pieces(sized, outlines, times_laid(sized), edges_laid(sized))
    ready = notions(sized, cut, outlines)
    parts = StepParts(
        outlines, lines(sized, outlines, chord_error), cut, {one.name: one for one in ready}
    )
    done = steps(sized, parts, speaker)
    kind = sized.recipe.kind_for(sized.unit)
    finish = _finish(sized, outlines, done)
    ends = ending(file, sized.names)
    laid = tuple(chain.from_iterable(step.layers for step in done))
    for one in ready:
        check_tape(one, find(ends.finished, sized.names, outlines))
        check_patches(one, {name: part.piece for name, part in cut.items()}, laid)
    measured = find(ends.measured or ends.finished, sized.names, outlines)
    finished = finished_size(measured.box, finish.boxed)
    project = Project(
        recipe=sized.recipe.name,
        title=sized.recipe.title or kind,
        kind=kind,
        summary=english().as_used(file.summary, sized.unit),
        unit=sized.unit,
        finished=finished,
        sizes=sized.sizes,
        counts=sized.counts,
        lengths=sized.lengths,
        choices=sized.choices,
        pieces=tuple(one.piece for one in cut.values()),
        notions=ready,
        holds=held(sized, outlines),
        steps=done,
        seam=find(ends.seam, sized.names, outlines),
        turned=turned,
        findings=(*said, *_not_kept(sized, finished)),
        finish=finish,
        fabrics=tuple(
            one
            for one in sized.fabrics.values()
            if any(part.piece.fabric == one.role for part in cut.values())
        ),
        varied=sized.varied,
        own_held=tuple(title for _, title in sized.recipe.held),
    )
    return with_embellishments(sized, project)


def _not_kept(sized: Sized, finished: tuple[float, float]) -> Iterator[Finding]:
    """Tell of a width or height that is asked for, where the outline is less wide or high.

    A strap or a flap may make it more.
    """
    ways = {Along.WIDTH: (finished[0], "wide"), Along.HEIGHT: (finished[1], "high")}
    for one in sized.sizes:
        if not one.asked or one.along is None:
            continue
        is_so, way = ways[one.along]
        if one.value - is_so > KEPT_WITHIN:
            known = facts(
                size=Name("size", one.name, one.name),
                asked=Mm(one.value),
                has=Mm(is_so),
                means=Name("size", one.name, one.means),
            )
            yield Finding("size-not-kept", Severity.KNOW, known, variant=way)


#: A size that is asked for is kept to this, mm: the outline of a curve is laid out in chords.
KEPT_WITHIN = 0.5


def _parts(sized: Sized) -> int:
    """Outlines, pieces and lines that there may be, not asking which the choices leave out."""
    file = sized.recipe.file
    tables = (*chain.from_iterable(file.outlines.values()), *file.pieces.values())
    return sum(turns(table.repeat, sized.names) for table in (*tables, *file.lines.values()))


def _repeated_terms(sized: Sized) -> int:
    """Terms of arithmetic in all that is repeated, as often as it is."""
    return sum(turns(repeat, sized.names) * work for repeat, work in sized.recipe.repeated_work)


def _finish(sized: Sized, outlines: Shapes, done: tuple[Step, ...]) -> Finish:
    table, names = ending(sized.recipe.file, sized.names), sized.names
    boxed = None
    if table.boxed and table.depth:
        seam, edge = (find(ref, names, outlines) for ref in (table.seam, table.finished))
        boxed = boxed_corners(seam, edge, table.boxed, table.depth.number(names))
    laid = dict.fromkeys(layer.piece for step in done for layer in step.layers)
    # What is cut while the work is in the hoop is an opening, not its edge.
    out = next((step.number for step in done if step.act is Act.UNHOOP), 0)
    trims = (step for step in done if step.act is Act.TRIM and step.number > out)
    marks = [mark for step in trims for mark in step.mark]
    section = [spot(pair, names) for pair in table.section or ()]
    walls = _there(table.between, names)
    if table.way is FinishWay.TURNED and len(walls) < 2:
        raise ShapeError("closes-with-nothing")
    return Finish(
        way=table.way,
        between=tuple(pointed_at(ref, names) for ref in walls),
        # What is trimmed again is left as the last of it leaves it.
        trimmed=min(marks, key=lambda mark: mark.area.area) if marks else None,
        folds=tuple(
            _fold_line(fold.across, fold.at.number(names))
            for fold in table.folds
            if holds(fold.when, names)
        ),
        most_layers=whole(Clause("most-layers"), table.most_layers.number(names), 1)
        if table.most_layers
        else MOST_LAYERS,
        section=(section[0], section[1]) if section else None,
        finished=find(table.finished, names, outlines),
        pulled_over=all_of(_there(table.pulled_over, names), names, laid),
        stands_out=all_of(_there(table.stands_out, names), names, laid),
        outside=pointed_at(table.outside, names) if table.outside else "",
        boxed=boxed,
        binding=pointed_at(table.binding, names) if table.binding else "",
        covers=table.covers.number(names) if table.covers else 0.0,
    )


def _there(
    entries: Iterable[WallWhen | FlapWhen | Reference], names: NamedValues
) -> list[Reference]:
    """The pieces that a list under `finish` names, of those entries that count."""
    return [piece_of(one) for one in entries if holds(condition_of(one), names)]


def _fold_line(across: Along, at: float) -> tuple[Point, Point]:
    return ((-1.0, at), (1.0, at)) if across is Along.HEIGHT else ((at, -1.0), (at, 1.0))


def lines_turned(steps: Iterable[Step], way: Placement) -> tuple[Step, ...]:
    """Lay the lines of steps another way round; all else in them still lies as it did."""
    return tuple(
        replace(step, lines=_lines(step, lambda points: put(points, way))) for step in steps
    )


def shifted(project: Project, dx: float, dy: float) -> Project:
    """Move a project in the hoop, mm."""
    if dx == 0 and dy == 0:
        return project
    by = np.array([dx, dy])
    return moved(project, lambda points: points + by)


def moved(project: Project, move: PointsMoved) -> Project:
    """Apply a move of the plane to everything that lies in the hoop."""
    return replace(
        project,
        steps=tuple(_step(step, move) for step in project.steps),
        seam=_path(project.seam, move),
        notions=tuple(
            replace(
                one,
                halves=_points(one.halves, move),
                at=_points(one.at, move),
                hangs=_points(one.hangs, move),
                over_edge=_points(one.over_edge, move),
                fused_to=tuple(
                    replace(patch, outline=_path(patch.outline, move)) for patch in one.fused_to
                ),
            )
            for one in project.notions
        ),
        holds=tuple(
            replace(one, within=_path(one.within, move) if one.within else None)
            for one in project.holds
        ),
        finish=_moved_finish(project.finish, move),
        findings=tuple(replace(one, place=_points(one.place, move)) for one in project.findings),
    )


def _moved_finish(finish: Finish, move: PointsMoved) -> Finish:
    return replace(
        finish,
        boxed=_moved_boxed(finish.boxed, move) if finish.boxed else None,
        trimmed=_path(finish.trimmed, move) if finish.trimmed else None,
        folds=tuple(_pair(line, move) for line in finish.folds),
        section=_pair(finish.section, move) if finish.section else None,
        finished=_path(finish.finished, move) if finish.finished else None,
    )


def _moved_boxed(boxed: Boxed, move: PointsMoved) -> Boxed:
    def courses(found: tuple[Bend, ...]) -> tuple[Bend, ...]:
        return tuple((a, b, c) for a, b, c in (_points(one, move) for one in found))

    return replace(boxed, seams=courses(boxed.seams), folds=courses(boxed.folds))


def _step(step: Step, move: PointsMoved) -> Step:
    return replace(
        step,
        lines=_lines(step, move),
        layers=tuple(_layer(layer, move) for layer in step.layers),
        tape=tuple(_path(strip, move) for strip in step.tape),
        mark=tuple(_path(mark, move) for mark in step.mark),
        tape_alone=tuple(_path(strip, move) for strip in step.tape_alone),
    )


def _lines(step: Step, move: PointsMoved) -> tuple[Line, ...]:
    return tuple(
        replace(line, paths=tuple(_path(one, move) for one in line.paths)) for line in step.lines
    )


def _layer(layer: Layer, move: PointsMoved) -> Layer:
    return replace(
        layer,
        outline=_path(layer.outline, move),
        folded_edges=tuple(_pair(edge, move) for edge in layer.folded_edges),
        slit=_pair(layer.slit, move) if layer.slit else None,
        hems=tuple(
            replace(hem, outline=_path(hem.outline, move), fold=_pair(hem.fold, move))
            for hem in layer.hems
        ),
        shares=tuple(_path(share, move) for share in layer.shares),
        cut_back=None if layer.cut_back is None else _path(layer.cut_back, move),
    )


def _path(line: Path, move: PointsMoved) -> Path:
    return Path(move(line.points), line.closed)


def _pair(pair: tuple[Point, Point], move: PointsMoved) -> tuple[Point, Point]:
    start, end = _points(pair, move)
    return start, end


def _points(points: Iterable[Point], move: PointsMoved) -> tuple[Point, ...]:
    listed = list(points)
    if not listed:
        return ()
    return tuple((float(x), float(y)) for x, y in move(np.array(listed)))
