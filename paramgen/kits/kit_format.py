"""What kit.json holds, key by key; the one declaration of its format. Lengths are millimetres.

On a cloth, x goes from the left edge of the usable width to the right, y from the end of the cloth
along its length.
"""

import json
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from paramgen.kits.cloth_on_mats import ClothOnMats, sheet_size
from paramgen.kits.cutting_plan import ClothCut, PlacedPiece, SheetPlan
from paramgen.kits.kit_price import KitPrice
from paramgen.kits.kit_thread import KitThread
from paramgen.kits.kit_time import HoopingTime, KitClass
from paramgen.kits.kit_told import KitTold
from paramgen.lengths import TOLERANCE
from paramgen.pack.file_names import safe_name

#: Raised when a key changes its meaning or goes.
KIT_FORMAT: Literal[1] = 1

KitLength = Annotated[float, Field(description="millimetres")]


class KitPart(BaseModel):
    """Base of every table of kit.json."""

    model_config = ConfigDict(extra="forbid", defer_build=True)


class KitOrderPart(KitPart):
    """One project, and how many of it."""

    recipe: str
    title: str
    count: int = Field(description="finished things asked for")
    copies: int = Field(description="that one hooping gives")
    hoopings: int
    hoop: str


class KitCutPart(KitPart):
    """One cut."""

    order: int = Field(description="from 1, on this cloth")
    kind: str = Field(description="square up, strip, selvedge, clear to the motif, piece or trim")
    ruler: KitLength = Field(description="millimetres from the edge that was cut before")
    from_motif: float | None = Field(
        description="millimetres before the middle of the motifs that are next; null if not so"
    )
    layers: int = Field(description="cut at once")
    folded: bool = Field(description="the cloth lies folded selvedge to selvedge")
    strips: list[int] = Field(description="numbers of the strips it makes or goes through")
    lines: list[list[float]] = Field(
        description="x1, y1, x2, y2 in millimetres, one for each layer"
    )


class KitPlacedPart(KitPart):
    """A piece where it lies."""

    piece: str
    title: str
    x: KitLength
    y: KitLength
    width: KitLength = Field(description="across the cloth, millimetres")
    height: KitLength = Field(description="along the cloth, millimetres")
    turned: bool = Field(description="its own width lies along the cloth")
    strip: int
    by_template: bool = Field(description="cut to shape by its template afterwards")


class KitClothPart(KitPart):
    """A length of cloth and how it is cut."""

    role: str
    sort: str
    title: str
    called: str = Field(description="what it is sold as; empty where its width says it")
    number: int = Field(description="among the lengths of its role")
    bought: bool = Field(description="yet to be bought")
    sold_width: KitLength = Field(description="from edge to edge, before it shrinks, millimetres")
    width: KitLength = Field(description="usable, millimetres")
    selvedges: list[float] = Field(description="left and right of that, millimetres")
    length: KitLength = Field(description="that the plan takes, squared up, millimetres")
    bound: KitLength = Field(
        description="no plan in strips takes less; 0 for what is there or is sold by the piece"
    )
    proven: bool = Field(description="no such plan takes less of what is bought")
    motif: list[float] | None = Field(
        description="repeat across and along, where each piece is centred on a motif, millimetres"
    )
    there: float | None = Field(description="its whole length, millimetres; null if sold by length")
    buy: float | None = Field(description="length to buy as it is sold, millimetres")
    used: float = Field(description="part of the cloth that becomes pieces, 0 to 1")
    cuts: list[KitCutPart]
    placed: list[KitPlacedPart]


class KitNestedPart(KitPart):
    """A piece where it lies on a mat, from the mat's upper left corner."""

    piece: str
    title: str
    x: KitLength
    y: KitLength
    turned: int = Field(description="clockwise, degrees")
    outline: list[tuple[float, float]] = Field(description="corners on the mat, millimetres")


class KitMatPart(KitPart):
    """A mat as it is laid."""

    file: str = Field(description="the lines to cut, at true size")
    times: int = Field(description="how often it is cut")
    sheet: tuple[float, float] = Field(
        description="width and height of the cloth on it, millimetres"
    )
    placed: list[KitNestedPart]


class KitMatsPart(KitPart):
    """A cloth of which a machine cuts the pieces."""

    role: str
    sort: str
    title: str
    width: KitLength
    height: KitLength
    edge: KitLength = Field(description="kept clear all round, millimetres")
    gap: KitLength = Field(description="between two pieces, at least, millimetres")
    count: int = Field(description="mats in all")
    bound: int = Field(description="no plan takes fewer")
    proven: bool
    by_hand: list[str] = Field(description="pieces that are too large for the mat")
    mats: list[KitMatPart]


class KitNotionPart(KitPart):
    """A notion to have."""

    name: str
    title: str
    sort: str
    quantity: int
    length: float | None = Field(description="of each, at least, millimetres")
    width: float | None


class KitSheetPart(KitPart):
    """Sheets of stabiliser."""

    hoop: str
    title: str
    width: KitLength
    height: KitLength
    sheets: int


class KitTapePart(KitPart):
    """Tape that holds what is laid."""

    width: KitLength
    length: KitLength
    strips: int


class KitRangePart(KitPart):
    """The least and the most that an estimate comes to."""

    least: float
    most: float


class KitStepThreadPart(KitPart):
    """Thread of one step of one hooping, without waste."""

    step: int
    stop: int | None = Field(description="null for what is sewn on a sewing machine")
    title: str
    stitches: int
    length: KitLength = Field(description="of all its stitches, millimetres")
    thick: KitRangePart = Field(description="mean thickness under a stitch, millimetres")


class KitProjectThreadPart(KitPart):
    """Thread of one hooping of a project, waste included, millimetres."""

    title: str
    hoopings: int
    needle: KitRangePart
    bobbin: KitRangePart
    both: KitRangePart
    steps: list[KitStepThreadPart]


class KitThreadPart(KitPart):
    """Thread of all hoopings, waste included; lengths are millimetres."""

    needle_tex: float
    bobbin_tex: float
    same: bool = Field(description="the bobbin is wound from the needle's spool")
    needle: KitRangePart
    bobbin: KitRangePart
    both: KitRangePart
    spools: KitRangePart
    bobbin_spools: KitRangePart
    bobbins: KitRangePart = Field(description="to wind")
    ratio_301: KitRangePart = Field(description="both threads by the trade's ratio, for comparison")
    per_thousand: KitRangePart = Field(
        description="both threads by the rule for 1000 embroidery stitches, for comparison"
    )
    projects: list[KitProjectThreadPart]


class KitTimePart(KitPart):
    """How long a hooping of a project takes, seconds."""

    title: str
    hoopings: int
    prepare: float
    at_machine: float
    finish: float


class KitBlockPart(KitPart):
    """Something that a person does without a break; times are seconds from the beginning."""

    bag: int
    phase: str
    person: int
    machine: int | None
    begin: float
    end: float


class KitClassPart(KitPart):
    """Who does what when, each making their own."""

    people: int
    machines: int
    length: float = Field(description="until all is done, seconds")
    bound: float = Field(description="no order of work is shorter, seconds")
    proven: bool
    blocks: list[KitBlockPart]


class KitPriceRowPart(KitPart):
    """A material and what it costs."""

    title: str
    price: float = Field(description="of one")
    per: str
    used: float = Field(description="goes into it")
    bought: float = Field(description="is bought as it is sold")


class KitOrderPricePart(KitPart):
    """What the things of one order cost; nothing is rounded."""

    title: str
    count: int
    materials: float
    work: float
    each: float


class KitPricePart(KitPart):
    """What the kit costs; nothing is rounded."""

    currency: str = Field(description="a label")
    rate: float = Field(description="for an hour of work")
    materials: float = Field(description="of what goes into it")
    work: float
    whole: float
    bought: float = Field(description="of what is bought as it is sold")
    unpriced: list[str]
    rows: list[KitPriceRowPart]
    projects: list[KitOrderPricePart]


class KitFile(KitPart):
    """What to buy for many of a project, and how to cut it."""

    made_by: Literal["paramgen"] = "paramgen"
    format: Literal[1] = KIT_FORMAT
    unit: str = Field(description="the person's; lengths here are millimetres all the same")
    projects: list[KitOrderPart]
    selvedge: KitLength
    squaring: KitLength
    layers: int
    stages: int = Field(description="3 where pieces may lie behind each other in a strip")
    shrinkage: float = Field(description="part of a length that is lost in the wash")
    fabrics: list[KitClothPart]
    on_mats: list[KitMatsPart]
    notions: list[KitNotionPart]
    stabiliser: list[KitSheetPart]
    tape: list[KitTapePart]
    thread: KitThreadPart
    times: list[KitTimePart]
    in_class: KitClassPart | None = Field(description="null unless a class was asked for")
    price: KitPricePart | None = Field(description="null unless prices were given")


def kit_schema() -> dict[str, Any]:
    """The JSON schema of kit.json."""
    made = KitFile.model_json_schema(mode="serialization")
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made}


def kit_json(told: KitTold) -> str:
    """Text of kit.json: the same for the same kit."""
    part = _file(told).model_dump(mode="json")
    return json.dumps(part, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _file(told: KitTold) -> KitFile:
    kit = told.kit
    every = kit.materials
    return KitFile(
        unit=str(kit.unit),
        projects=[
            KitOrderPart(
                recipe=one.made.project.recipe,
                title=one.made.project.title,
                count=one.count,
                copies=one.made.project.copies,
                hoopings=one.hoopings,
                hoop=one.made.room.hoop.name,
            )
            for one in kit.orders
        ],
        selvedge=kit.cutting.selvedge,
        squaring=kit.cutting.squaring,
        layers=kit.cutting.layers,
        stages=kit.cutting.stages,
        shrinkage=kit.cutting.shrinkage,
        fabrics=[_cloth(one) for one in kit.sheets],
        on_mats=[_on_mats(place, one) for place, one in enumerate(kit.on_mats, 1)],
        notions=[
            KitNotionPart(
                name=one.name,
                title=one.title,
                sort=str(one.sort),
                quantity=one.quantity,
                length=one.length,
                width=one.width,
            )
            for one in every.notions
        ],
        stabiliser=[
            KitSheetPart(
                hoop=one.hoop,
                title=one.title,
                width=one.size[0],
                height=one.size[1],
                sheets=one.sheets,
            )
            for one in every.stabiliser
        ],
        tape=[
            KitTapePart(width=one.width, length=one.length, strips=one.strips) for one in every.tape
        ],
        thread=_thread(told.thread),
        times=[_time(one) for one in told.times],
        in_class=None if told.in_class is None else _class(told.in_class),
        price=None if told.price is None else _price(told.price),
    )


def _range(found: tuple[float, float]) -> KitRangePart:
    least, most = (_plain(one) for one in found)
    return KitRangePart(least=least, most=most)


def _thread(thread: KitThread) -> KitThreadPart:
    taken = thread.all
    return KitThreadPart(
        needle_tex=thread.sold.needle.tex,
        bobbin_tex=thread.sold.bobbin.tex,
        same=thread.sold.bobbin.same,
        needle=_range(taken.needle),
        bobbin=_range(taken.bobbin),
        both=_range(taken.both),
        spools=_range(thread.spools),
        bobbin_spools=_range(thread.bobbin_spools),
        bobbins=_range(thread.bobbins),
        ratio_301=_range(thread.by_301),
        per_thousand=_range(thread.by_thousand.both),
        projects=[
            KitProjectThreadPart(
                title=one.title,
                hoopings=one.hoopings,
                needle=_range(one.one.needle),
                bobbin=_range(one.one.bobbin),
                both=_range(one.one.both),
                steps=[
                    KitStepThreadPart(
                        step=step.step,
                        stop=step.stop,
                        title=step.title,
                        stitches=step.stitches,
                        length=_plain(step.length),
                        thick=_range(step.thick),
                    )
                    for step in one.steps
                ],
            )
            for one in thread.projects
        ],
    )


def _time(one: HoopingTime) -> KitTimePart:
    return KitTimePart(
        title=one.title,
        hoopings=one.hoopings,
        prepare=_plain(one.prepare),
        at_machine=_plain(one.at_machine),
        finish=_plain(one.finish),
    )


def _class(one: KitClass) -> KitClassPart:
    return KitClassPart(
        people=one.people,
        machines=one.machines,
        length=_plain(one.schedule.length),
        bound=_plain(one.schedule.bound),
        proven=one.schedule.proven,
        blocks=[
            KitBlockPart(
                bag=block.job + 1,
                phase=block.phase.value,
                person=block.person + 1,
                machine=None if block.machine is None else block.machine + 1,
                begin=_plain(block.begin),
                end=_plain(block.end),
            )
            for block in one.schedule.blocks
        ],
    )


def _price(price: KitPrice) -> KitPricePart:
    return KitPricePart(
        currency=price.currency,
        rate=price.rate,
        materials=sum(much for _, much in price.batch.materials),
        work=price.batch.work,
        whole=price.batch.whole,
        bought=price.bought,
        unpriced=list(price.batch.unpriced),
        rows=[
            KitPriceRowPart(
                title=one.title,
                price=one.price,
                per=one.per.value,
                used=one.used,
                bought=one.bought,
            )
            for one in price.rows
        ],
        projects=[
            KitOrderPricePart(
                title=one.title,
                count=one.count,
                materials=one.materials,
                work=one.work,
                each=one.each,
            )
            for one in price.orders
        ],
    )


def _cloth(plan: SheetPlan) -> KitClothPart:
    return KitClothPart(
        role=plan.role,
        sort=plan.sort,
        title=plan.title,
        called=plan.called,
        number=plan.number,
        bought=plan.bought,
        sold_width=_plain(plan.sold_width),
        width=_plain(plan.width),
        selvedges=[_plain(one) for one in plan.selvedges],
        length=_plain(plan.length),
        bound=_plain(plan.bound),
        proven=plan.proven,
        motif=None if plan.motif is None else [_plain(one) for one in plan.motif],
        there=None if plan.there is None else _plain(plan.there),
        buy=None if plan.buy is None else _plain(plan.buy),
        used=round(plan.used, 4),
        cuts=[_cut(number, one) for number, one in enumerate(plan.cuts, 1)],
        placed=[_placed(one) for one in plan.placed],
    )


def mat_file(place: int, laid: ClothOnMats, number: int) -> str:
    """The file of the lines of a mat, by the cloth's place and the mat's number, from 1."""
    return f"mats/{place}-{safe_name(laid.role)}-{number}.svg"


def _on_mats(place: int, laid: ClothOnMats) -> KitMatsPart:
    plan = laid.plan
    return KitMatsPart(
        role=laid.role,
        sort=laid.sort,
        title=laid.title,
        width=plan.mat.width,
        height=plan.mat.height,
        edge=plan.mat.edge,
        gap=plan.mat.gap,
        count=plan.count,
        bound=plan.least,
        proven=plan.proven,
        by_hand=[one.name for one in laid.by_hand],
        mats=[
            KitMatPart(
                file=mat_file(place, laid, number),
                times=times,
                sheet=sheet_size(plan.mat, one),
                placed=[
                    KitNestedPart(
                        piece=laid.piece(piece.name).name,
                        title=laid.piece(piece.name).title,
                        x=_plain(piece.x),
                        y=_plain(piece.y),
                        turned=piece.turned,
                        outline=[(round(x, 3), round(y, 3)) for x, y in shape.exterior.coords[:-1]],
                    )
                    for piece, shape in zip(one.pieces, one.shapes, strict=True)
                ],
            )
            for number, (one, times) in enumerate(plan.mats, 1)
        ],
    )


def _cut(number: int, cut: ClothCut) -> KitCutPart:
    return KitCutPart(
        order=number,
        kind=cut.kind.value,
        ruler=_plain(cut.ruler),
        from_motif=None if cut.from_motif is None else _plain(cut.from_motif),
        layers=cut.layers,
        folded=cut.folded,
        strips=list(cut.strips),
        lines=[[_plain(one) for one in line] for line in cut.lines],
    )


def _placed(one: PlacedPiece) -> KitPlacedPart:
    return KitPlacedPart(
        piece=one.piece,
        title=one.title,
        x=_plain(one.x),
        y=_plain(one.y),
        width=_plain(one.width),
        height=_plain(one.height),
        turned=one.turned,
        strip=one.strip,
        by_template=one.by_template,
    )


def _plain(mm: float) -> float:
    """A length without the noise of reckoning."""
    return round(mm, 6) if abs(mm) > TOLERANCE else 0.0
