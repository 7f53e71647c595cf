"""What plan.json holds, key by key; the one declaration of its format.

Lengths are millimetres; points are [x, y], x right and y down, the origin at the centre
of the hoop field, seen from the front.
"""

from enum import StrEnum
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, GetJsonSchemaHandler, WithJsonSchema
from pydantic_core import CoreSchema

from paramgen.vocabulary.findings import Severity
from paramgen.vocabulary.kinds import Face, FinishWay, FoldKind, Grain, Side
from paramgen.vocabulary.unit import Unit

#: Raised when a key changes its meaning or goes.
FORMAT: Literal[1] = 1

Millimetres = Annotated[float, Field(description="millimetres")]
PlanPoint = Annotated[
    list[float], Field(min_length=2, max_length=2, description="x, y in millimetres")
]
PlanSize = Annotated[
    list[float], Field(min_length=2, max_length=2, description="width, height in millimetres")
]


def _words_of(kinds: type[StrEnum]) -> WithJsonSchema:
    """Have the schema list the words of some kinds where they stand, for whoever reads it alone."""
    return WithJsonSchema({"enum": [kind.value for kind in kinds], "type": "string"})


class Part(BaseModel):
    """Base of every table of the plan."""

    model_config = ConfigDict(extra="forbid", defer_build=True)

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Give a key that takes the word of a kind a title, as all others have."""
        made = handler(core_schema)
        for name, told in handler.resolve_ref_schema(made)["properties"].items():
            if "enum" in told:
                told.setdefault("title", name.replace("_", " ").title())
        return made


class FigurePart(Part):
    """A size, count or length."""

    name: str
    means: str
    value: float = Field(description="millimetres; a plain number for a count")
    asked: bool = Field(description="given by the person, not the recipe's own")


class ChoicePart(Part):
    """A choice and the option taken."""

    name: str
    means: str
    option: str
    option_means: str


class HoopPart(Part):
    """The hoop, and how the project lies in it."""

    name: str
    width: Millimetres
    height: Millimetres
    margin: Millimetres = Field(description="kept free of stitches inside the field")
    turned: bool = Field(description="the project lies turned by 90° clockwise")


class CopyPart(Part):
    """One of the copies that one hooping gives."""

    turned: bool = Field(description="lies turned by 90° clockwise")
    half_turned: bool = Field(
        description="lies turned by 180° besides, head to tail with the first, which never does"
    )
    origin: PlanPoint = Field(description="where the recipe's origin lies in the hoop")


class ExtentPart(Part):
    """Smallest and largest needle points."""

    left: Millimetres
    top: Millimetres
    right: Millimetres
    bottom: Millimetres


class FoldPart(Part):
    """One fold line on a piece as cut, centred on [0, 0]."""

    order: int
    kind: Annotated[FoldKind, _words_of(FoldKind)]
    start: PlanPoint
    end: PlanPoint
    towards: str


class PiecePart(Part):
    """A piece to cut."""

    name: str
    title: str
    fabric: str
    quantity: int
    cut: PlanSize
    folded: PlanSize
    grain: Annotated[Grain, _words_of(Grain)]
    over: int = Field(description="copies on one of it: more than 1 for one sheet over all copies")
    folds: list[FoldPart]
    outline: list[PlanPoint] = Field(description="as cut, closed, centred on [0, 0]")


class ClothPart(Part):
    """What one of its fabrics looks like, as the person said; it follows no recipe."""

    fabric: str = Field(description="as pieces name it")
    called: str = Field(description="the colour, or the name of the picture's file, as typed")
    colour: str = Field(description="#rrggbb; of a print the middle of its colours")
    repeat: PlanSize | None = Field(description="of one repeat of a print; none for a colour")


class NotionPart(Part):
    """A notion to have ready."""

    name: str
    title: str
    sort: str
    quantity: int
    length: Millimetres | None
    width: Millimetres | None


class SupplyPart(Part):
    """Something to have, in the order in which it is first needed."""

    name: str = Field(description="of the fabric, the notion or the tool; one for each sort")
    sort: Literal[
        "fabric", "interfacing", "notion", "stabiliser", "thread", "needle", "tape", "tool"
    ]
    title: str
    quantity: int | None = Field(description="how many, where it is counted")
    length: Millimetres | None = Field(description="to have; of a sheet its size down")
    width: Millimetres | None = Field(description="of fabric and tape; of a sheet its size across")
    step: int | None = Field(description="first step that needs it; none before the hooping")


class HoldPart(Part):
    """A thing the project is meant to hold."""

    name: str
    title: str
    size: PlanSize
    ease: Millimetres
    thickness: Millimetres = Field(description="of one of them")
    number: int = Field(description="how many the whole project holds at once")
    against: str = Field(description="the piece it lies against")
    face: Annotated[Side, _words_of(Side)] = Field(
        description="of that piece, as it lies in the hoop"
    )


class HemPart(Part):
    """What is turned in along an edge of a piece as it lies."""

    outline: list[PlanPoint] = Field(description="where it lies, along the edge; closed")
    twice: bool = Field(description="turned in twice, its raw edge within it")
    plies: int = Field(description="besides those of the piece where it is not hemmed")


class LayerPart(Part):
    """A piece or notion as laid, in the order of laying."""

    piece: str
    step: int
    side: Annotated[Side, _words_of(Side)] = Field(description="of the hoop")
    up: Annotated[Face, _words_of(Face)] = Field(
        description="the face towards the front of the hoop"
    )
    plies: int
    outline: list[PlanPoint]
    folded_edges: list[list[PlanPoint]]
    slit: list[PlanPoint] | None = Field(description="where a zip opens, from stop to stop")
    two_sided: bool = Field(description="both faces are right sides")
    frays: bool = Field(description="its raw edges fray")
    clear: bool = Field(description="one can see through it")
    right_sides_in: bool = Field(description="folded with its right sides in; else they are out")
    unlined: bool = Field(
        description="who looks into the pocket that it makes may see its wrong side"
    )
    ply: list[Millimetres] = Field(
        min_length=2,
        max_length=2,
        description="least and most thickness of one of its plies, under stitches: an estimate",
    )
    hems: list[HemPart] = Field(description="what is turned in, along each edge that is")
    over_all: bool = Field(description="one sheet over all copies, and not the piece of one")


class LinePart(Part):
    """One unbroken line, as drawn; the needle points are in the stitch files."""

    name: str
    title: str
    role: str
    kind: str = Field(description="kind of stitch")
    longest_stitch: Millimetres
    swing: Millimetres | None = Field(description="whole width of the zigzag")
    outward: bool = Field(
        description="whether the zigzag swings from the line to its left alone, as the points "
        "run: that is the outside; else half its width to either side"
    )
    closed: bool
    points: list[PlanPoint]


class StepPart(Part):
    """One step of the work."""

    number: int
    title: str
    kind: str
    by_hand: bool
    stop: int | None = Field(description="the number the machine shows")
    colour: str | None
    seen_from: Annotated[Side, _words_of(Side)]
    say: str
    lines: list[LinePart]
    mark: list[list[PlanPoint]] = Field(
        description="lines of what is done by hand, to cut or to sew along; a closed one ends "
        "where it begins"
    )
    pieces: list[str] = Field(
        description="what something is done to by hand: sewn to each other, say"
    )
    stitches: int
    length: Millimetres = Field(description="of the stitches sewn")


class PaperPart(Part):
    """What the templates and the fit sheet are printed on, and by a printer how far off."""

    name: str
    width: Millimetres
    height: Millimetres | None = Field(description="none for a roll")
    margin: Millimetres = Field(description="kept free for the printer all round")
    square: list[Millimetres] = Field(
        min_length=2,
        max_length=2,
        description="what the square of 50 mm measured, across and down, printed uncorrected",
    )
    corrected: bool = Field(description="all is drawn larger or smaller, to come out true")


class FilePart(Part):
    """A stitch file."""

    name: str
    format: str
    steps: int
    stitches: int
    sha256: str


class FindingPart(Part):
    """Something found about the project."""

    code: str
    severity: Annotated[Severity, _words_of(Severity)]
    variant: str = Field(description="which of the ways in which that is found; may be empty")
    facts: dict[str, Any] = Field(
        description="what is known of it, by name: a number for a count, else a table that says "
        "what it is: mm, square_mm, degrees, name and title, number and title, word"
    )
    message: str
    remedy: str
    amount: Millimetres | None
    place: list[PlanPoint]
    step: int | None
    piece: str | None


class HollowPart(Part):
    """One hollow of the finished thing, inside the seam line."""

    kind: Literal["outside", "hidden", "closed"]
    area: float = Field(description="of all its spaces together, square millimetres")
    pieces: list[str] = Field(description="the pieces round it")


class ShownPart(Part):
    """A face of a piece that shows in the finished thing."""

    piece: str
    face: Annotated[Side, _words_of(Side)] = Field(description="as it lies in the hoop")
    area: float = Field(description="square millimetres inside the seam line")


class TakesPart(Part):
    """The largest thing of the same shape that goes where one is to be held."""

    thing: str
    against: str
    width: Millimetres
    height: Millimetres


class LayersPart(Part):
    """Thicknesses of fabric along a stitched line, and a needle to suggest."""

    line: str
    step: int
    fewest: int
    most: int
    needle: str = Field(description="metric number / the other, `90/14`")


class FlapPart(Part):
    """What lies between the work and the closing piece and is bound only at the rim."""

    pieces: list[str]
    lies: Literal["work side", "stands out", "closing side"] = Field(
        description="where it comes to lie in the finished thing"
    )
    rim: list[list[PlanPoint]] = Field(description="stretches of the seam line where it is bound")


class RoomPart(Part):
    """The clear room of a place that holds something, between the lines that bind it."""

    thing: str
    against: str
    width: Millimetres
    height: Millimetres
    opens: Literal["zip", "mouth"]
    depth: Millimetres = Field(description="of its bottom; 0 of what lies flat")


class EmbellishmentPart(Part):
    """What is stitched on a panel for its looks."""

    panel: str = Field(description="the piece")
    asked: str = Field(description="as it is typed")
    steps: list[int] = Field(description="numbers of its steps")


class HardwarePart(Part):
    """Where hardware is set in the finished thing."""

    notion: str
    at: PlanPoint = Field(description="open and flat, as it lay in the hoop")
    through: list[str] = Field(description="the pieces pierced, from the face that is seen inward")
    reached_by: Literal["outside", "zip", "mouth", "gap"]
    depth: Millimetres = Field(description="how far in from there its far side is reached")


class ThicknessPart(Part):
    """How thick the closed thing is, least and most: an estimate."""

    empty: list[Millimetres] = Field(min_length=2, max_length=2)
    full: list[Millimetres] = Field(min_length=2, max_length=2)


class ProofPart(Part):
    """What the rehearsal proves of the finished thing."""

    hollows: list[HollowPart] = Field(description="the insides of folds are left out")
    shows: list[ShownPart]
    takes: list[TakesPart]
    layers: list[LayersPart]
    top_stitch_needle: str | None = Field(
        description="for top-stitching once it is turned; none where there is none"
    )
    flaps: list[FlapPart] = Field(description="in order from the work to the closing piece")
    rooms: list[RoomPart]
    hardware: list[HardwarePart]
    thickness: ThicknessPart


class FinishPart(Part):
    """How the project ends, as it lies in the hoop; of several copies, the first."""

    way: Annotated[FinishWay, _words_of(FinishWay)]
    finished: list[PlanPoint] = Field(description="the finished edge")
    seam: list[PlanPoint] = Field(description="the seam line, its gaps left in")
    between: list[str] = Field(description="pieces it is turned out between: work, closing piece")
    pulled_over: list[str]
    stands_out: list[str]
    trimmed: list[PlanPoint] | None = Field(description="the line it is trimmed along; closed")
    folds: list[list[PlanPoint]] = Field(
        description="two points of each line that it is folded along, in order"
    )
    depth: Millimetres = Field(description="how deep it stands; 0 of what lies flat")
    across: list[list[PlanPoint]] = Field(
        description="where each corner is sewn across that makes it deep, over the flat work"
    )


class Plan(Part):
    """The whole of plan.json."""

    format: Literal[1]
    made_by: Literal["paramgen"]
    version: str
    recipe: str
    title: str
    unit: Annotated[Unit, _words_of(Unit)] = Field(
        description="the person's unit; numbers are millimetres"
    )
    finished: PlanSize
    sizes: list[FigurePart]
    counts: list[FigurePart]
    choices: list[ChoicePart]
    lengths: list[FigurePart]
    hoop: HoopPart
    copies: list[CopyPart] = Field(
        min_length=1,
        description="in the order in which the layers and lines of a step are theirs: as many "
        "for each, but for what is one sheet over all",
    )
    extent: ExtentPart
    pieces: list[PiecePart] = Field(description="quantities for all copies")
    notions: list[NotionPart] = Field(description="quantities for all copies")
    embellishments: list[EmbellishmentPart]
    cloths: list[ClothPart] = Field(description="in the drawings; none where nobody said it")
    supplies: list[SupplyPart] = Field(description="for all copies, fabrics and notions too")
    holds: list[HoldPart]
    finish: FinishPart
    layers: list[LayerPart]
    steps: list[StepPart]
    paper: PaperPart | None = Field(description="none where nothing is printed")
    files: list[FilePart]
    findings: list[FindingPart]
    proof: ProofPart
    contents: list[str] = Field(description="every file of the folder, this one too")


def schema() -> dict[str, Any]:
    """JSON schema of plan.json (draft 2020-12)."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **Plan.model_json_schema(),
    }
