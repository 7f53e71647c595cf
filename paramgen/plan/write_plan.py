"""A project in its hoop as plan.json."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict

import numpy as np
import shapely

from paramgen import __version__
from paramgen.files.proven_files import StitchFile
from paramgen.finished.proof import Proof
from paramgen.layout.copies_apart import put
from paramgen.making import Made
from paramgen.papers.printing import Printing
from paramgen.plan.fact_parts import fact_part, rounded
from paramgen.plan.plan_format import (
    FORMAT,
    ChoicePart,
    ClothPart,
    CopyPart,
    EmbellishmentPart,
    ExtentPart,
    FigurePart,
    FilePart,
    FindingPart,
    FinishPart,
    FlapPart,
    FoldPart,
    HardwarePart,
    HemPart,
    HoldPart,
    HollowPart,
    HoopPart,
    LayerPart,
    LayersPart,
    LinePart,
    NotionPart,
    PaperPart,
    PiecePart,
    Plan,
    ProofPart,
    RoomPart,
    ShownPart,
    StepPart,
    SupplyPart,
    TakesPart,
    ThicknessPart,
)
from paramgen.stitches.measures import sewn_length
from paramgen.stitches.needle_points import SewnStep
from paramgen.supplies.all_supplies import supplies
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloth, Cloths
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.project import Figure, Hem, Layer, Line, Piece, Placement, Project, Step
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said

#: Points of a curve that are not needed to keep it within this are left out, mm.
KEPT_WITHIN = 0.001


def plan(
    made: Made,
    files: Mapping[str, StitchFile],
    names: Sequence[str],
    printing: Printing | None = None,
    cloths: Cloths = NO_CLOTHS,
) -> Plan:
    """Everything about a project in one place.

    Parameters
    ----------
    made : Made
    files : mapping of file name to StitchFile
    names : sequence of str
        Every file of the folder, `plan.json` and stitch files too.
    printing : Printing or None
        How the papers are printed; None where there are none.
    cloths : mapping of name to Cloth
        What its fabrics look like, as far as the person said it.
    """
    project, hoop = made.project, made.room.hoop
    sewn = {step.stop: step for step in made.sewn}
    return Plan(
        format=FORMAT,
        made_by="paramgen",
        version=__version__,
        recipe=project.recipe,
        title=project.title,
        unit=project.unit,
        finished=_numbers(project.finished),
        sizes=[_figure(one) for one in project.sizes],
        counts=[_figure(one) for one in project.counts],
        choices=[
            ChoicePart(name=name, means=means, option=option, option_means=option_means)
            for name, means, option, option_means in project.choices
        ],
        lengths=[_figure(one) for one in project.lengths],
        hoop=HoopPart(
            name=hoop.name,
            width=_number(hoop.width),
            height=_number(hoop.height),
            margin=_number(made.room.margin),
            turned=project.turned,
        ),
        copies=[
            CopyPart(turned=one.turned, half_turned=one.half, origin=_numbers(one.move))
            for one in project.placed
        ],
        extent=ExtentPart(**{side: _number(at) for side, at in asdict(made.extent).items()}),
        pieces=[_piece(one) for one in project.pieces],
        notions=[
            NotionPart(
                name=one.name,
                title=one.title,
                sort=one.sort,
                quantity=one.quantity,
                length=_maybe(one.length),
                width=_maybe(one.width),
            )
            for one in project.notions
        ],
        embellishments=[
            EmbellishmentPart(panel=one.piece, asked=one.asked, steps=list(one.steps))
            for one in project.embellishments
        ],
        cloths=[
            ClothPart(
                fabric=fabric,
                called=one.called,
                colour=one.colour,
                repeat=_repeat(one),
            )
            for fabric, one in sorted(cloths.items(), key=lambda pair: pair[0])
        ],
        supplies=[
            SupplyPart(
                name=one.name,
                sort=one.sort,
                title=one.title,
                quantity=one.quantity,
                length=_maybe(one.length),
                width=_maybe(one.width),
                step=one.step or None,
            )
            for one in supplies(made)
        ],
        holds=[
            HoldPart(
                name=one.name,
                title=one.title,
                size=_numbers(one.size),
                ease=_number(one.ease),
                thickness=_number(one.thickness),
                number=one.number,
                against=one.against,
                face=one.face,
            )
            for one in project.holds
        ],
        finish=_finish(project),
        layers=[_layer(layer, step) for step in project.steps for layer in step.layers],
        steps=[_step(one, sewn.get(one.stop or 0)) for one in project.steps],
        paper=_paper(printing) if printing else None,
        files=[
            FilePart(
                name=name,
                format=one.format.name,
                steps=one.steps,
                stitches=one.stitches,
                sha256=one.sha256,
            )
            for name, one in files.items()
        ],
        findings=[finding_part(one, project.unit) for one in project.findings],
        proof=_proof(made.proof, project.placed[0]),
        contents=sorted(names),
    )


def to_json(made: Plan) -> str:
    """Text of plan.json: the same for the same plan."""
    return (
        json.dumps(made.model_dump(mode="json"), ensure_ascii=False, indent=1, allow_nan=False)
        + "\n"
    )


def finding_part(finding: Finding, unit: Unit) -> FindingPart:
    """A finding as it stands in plan.json, in words in the person's unit."""
    message, remedy = said(finding, unit)
    return FindingPart(
        code=finding.code,
        severity=finding.severity,
        variant=finding.variant,
        facts={name: fact_part(fact) for name, fact in finding.facts},
        message=message,
        remedy=remedy,
        amount=_maybe(finding.amount),
        place=[_numbers(point) for point in finding.place],
        step=finding.step,
        piece=finding.piece,
    )


def _paper(one: Printing) -> PaperPart:
    return PaperPart(
        name=one.paper.name,
        width=_number(one.paper.width),
        height=_maybe(one.paper.height),
        margin=_number(one.margin),
        square=_numbers(one.square),
        corrected=one.corrected,
    )


def _finish(project: Project) -> FinishPart:
    finish, boxed = project.finish, project.finish.boxed
    return FinishPart(
        way=finish.way,
        finished=_points(finish.finished or project.seam),
        seam=_points(project.seam),
        between=list(finish.between),
        pulled_over=list(finish.pulled_over),
        stands_out=list(finish.stands_out),
        trimmed=_points(finish.trimmed) if finish.trimmed else None,
        folds=[[_numbers(point) for point in fold] for fold in finish.folds],
        depth=_number(project.depth),
        across=[[_numbers(point) for point in one] for one in boxed.seams] if boxed else [],
    )


def _in_hoop(points: Sequence[Point], where: Placement) -> list[list[float]]:
    """Points of the finished thing where the first copy lies in the hoop."""
    return [_numbers(point) for point in put(np.array(points), where).tolist()]


def _proof(one: Proof, where: Placement) -> ProofPart:
    return ProofPart(
        hollows=[
            HollowPart(kind=hollow.kind, area=_number(hollow.area), pieces=list(hollow.pieces))
            for hollow in one.hollows
        ],
        shows=[
            ShownPart(piece=show.piece, face=show.face, area=_number(show.area))
            for show in one.shows
        ],
        takes=[
            TakesPart(
                thing=takes.held,
                against=takes.against,
                width=_number(takes.width),
                height=_number(takes.height),
            )
            for takes in one.takes
        ],
        layers=[
            LayersPart(
                line=layers.line,
                step=layers.step,
                fewest=layers.fewest,
                most=layers.most,
                needle=layers.needle,
            )
            for layers in one.layers
        ],
        top_stitch_needle=one.top_stitch_needle,
        flaps=[
            FlapPart(
                pieces=list(flap.pieces),
                lies=flap.lies,
                rim=[_in_hoop(part, where) for part in flap.rim],
            )
            for flap in one.flaps
        ],
        rooms=[
            RoomPart(
                thing=room.held,
                against=room.against,
                width=_number(room.width),
                height=_number(room.height),
                opens=room.opens,
                depth=_number(room.depth),
            )
            for room in one.rooms
        ],
        hardware=[
            HardwarePart(
                notion=each.notion,
                at=_in_hoop([each.at], where)[0],
                through=list(each.through),
                reached_by=each.reached_by,
                depth=_number(each.depth),
            )
            for each in one.hardware
        ],
        thickness=ThicknessPart(
            empty=_numbers(one.thickness.empty), full=_numbers(one.thickness.full)
        ),
    )


def _figure(one: Figure) -> FigurePart:
    return FigurePart(name=one.name, means=one.means, value=_number(one.value), asked=one.asked)


def _repeat(cloth: Cloth) -> list[float] | None:
    one = cloth.picture
    return None if one is None else _numbers((one.width, one.height))


def _piece(one: Piece) -> PiecePart:
    return PiecePart(
        name=one.name,
        title=one.title,
        fabric=one.fabric,
        quantity=one.quantity,
        cut=_numbers(one.cut),
        folded=_numbers(one.folded),
        grain=one.grain,
        over=one.over,
        folds=[
            FoldPart(
                order=crease.order,
                kind=crease.kind,
                start=_numbers(crease.start),
                end=_numbers(crease.end),
                towards=crease.towards,
            )
            for crease in one.creases
        ],
        outline=_points(one.outline),
    )


def _layer(layer: Layer, step: Step) -> LayerPart:
    return LayerPart(
        piece=layer.piece,
        step=step.number,
        side=layer.side,
        up=layer.up,
        plies=layer.plies,
        outline=_points(layer.outline),
        folded_edges=[[_numbers(point) for point in edge] for edge in layer.folded_edges],
        slit=[_numbers(point) for point in layer.slit] if layer.slit else None,
        two_sided=layer.two_sided,
        frays=layer.frays,
        clear=layer.clear,
        right_sides_in=layer.right_sides_in,
        unlined=layer.unlined,
        ply=_numbers(layer.ply),
        hems=[_hem(hem) for hem in layer.hems],
        over_all=bool(layer.shares),
    )


def _hem(hem: Hem) -> HemPart:
    return HemPart(outline=_points(hem.outline), twice=hem.twice, plies=hem.plies)


def _step(step: Step, sewn: SewnStep | None) -> StepPart:
    return StepPart(
        number=step.number,
        title=step.title,
        kind=step.act.value,
        by_hand=sewn is None,
        stop=step.stop,
        colour=step.colour,
        seen_from=step.seen_from,
        say=step.say,
        lines=[_line(line, path) for line in step.lines for path in line.paths],
        mark=[_to_its_end(path) for path in step.mark],
        pieces=list(step.pieces),
        stitches=sewn.stitch_count if sewn else 0,
        length=_number(sewn_length(sewn)) if sewn else 0.0,
    )


def _line(line: Line, path: Path) -> LinePart:
    return LinePart(
        name=line.name,
        title=line.title,
        role=line.role.value,
        kind=line.stitch.kind.value,
        longest_stitch=_number(line.stitch.length),
        swing=_number(line.stitch.swing) if line.stitch.swing else None,
        outward=line.stitch.outward,
        closed=path.closed,
        points=_points(path),
    )


def _points(path: Path) -> list[list[float]]:
    """Points of a path, those of curves thinned to what keeps it within `KEPT_WITHIN`."""
    points = path.points
    if len(points) > 8:
        ring = np.concatenate([points, points[:1]]) if path.closed else points
        points = shapely.get_coordinates(shapely.LineString(ring).simplify(KEPT_WITHIN))
        points = points[:-1] if path.closed else points
    return [_numbers(point) for point in points.tolist()]


def _to_its_end(path: Path) -> list[list[float]]:
    """Points of a path; a closed one ends where it begins."""
    points = _points(path)
    return [*points, points[0]] if path.closed else points


def _numbers(values: Iterable[float] | Point) -> list[float]:
    return [_number(value) for value in values]


def _number(value: float) -> float:
    return rounded(value)


def _maybe(value: float | None) -> float | None:
    return None if value is None else _number(value)
