"""What a recipe file may hold, key by key; the one declaration of the recipe language."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Any, Literal, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    StringConstraints,
    Tag,
    model_validator,
)
from pydantic_core import PydanticCustomError

from paramgen.embellishment.kind_options import MOST_ASKED
from paramgen.recipe.arithmetic import Formula
from paramgen.recipe.kind_words import one_of
from paramgen.recipe.terms import (
    DefaultTerm,
    FlapRef,
    FormulaTerm,
    GiftTerm,
    LaidRef,
    LengthTerm,
    LineRef,
    OutlineRef,
    PieceRef,
    PlainText,
    Reference,
    SentenceTerm,
    TruthTerm,
    WorkTerm,
)
from paramgen.vocabulary.findings import Severity
from paramgen.vocabulary.kinds import (
    SPACED,
    Act,
    Along,
    Edge,
    Face,
    FinishWay,
    FoldKind,
    Grain,
    NotionSort,
    Role,
    Side,
    StitchKind,
)

#: More entries in a table than any recipe has; a bound on the work one can ask for.
MOST_ENTRIES = 300

#: Names that formulas use.
KeyName = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]*$", max_length=40)]
#: Names of pieces, lines, outlines, notions and things held.
LabelText = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9-]*$", max_length=40)]
SentenceText = Annotated[str, StringConstraints(min_length=1, max_length=600), PlainText("words")]
#: The fabric of a piece, as it is called under `fabrics`.
FabricName = Annotated[LabelText, PlainText("fabrics")]
EdgeWord = Annotated[Edge, one_of(*Edge)]
SideWord = Annotated[Side, one_of(*Side)]
AlongWord = Annotated[Along, one_of(*Along)]
FormulaPoint = Annotated[list[FormulaTerm], Field(min_length=2, max_length=2)]
Repeat = Annotated[dict[KeyName, FormulaTerm], Field(min_length=1, max_length=1)]


#: Everything a step may do by hand besides laying and taping.
HAND = tuple(act for act in Act if act not in (Act.STITCH, Act.LAY, Act.TAPE))
Hand = Annotated[Act, one_of(*HAND)]
#: What by hand is done to pieces that the step names, and to pieces that it may name.
NAMES_PIECES = (Act.EDGE_STITCH, Act.FUSE, Act.HAND_SEW)
MAY_NAME_PIECES = (Act.FOLD, Act.UNTAPE, Act.BIND)
#: What is done along one edge and not all round.
ALONG_AN_EDGE = (Act.FOLD, Act.TOP_STITCH)
#: What is sewn out of the hoop, and may run straight from point to point.
SEWN_STRAIGHT = (Act.HAND_SEW, Act.EDGE_STITCH, Act.TOP_STITCH)
#: What is done to the work in hand, which may be turned over for it.
MAY_BE_TURNED = (
    Act.TRIM,
    Act.CLIP,
    Act.NOTCH,
    Act.TEAR,
    Act.TURN,
    Act.TOP_STITCH,
    Act.BIND,
)
#: The edges at which a fold can lie that makes a piece smaller that way.
FOLD_EDGES: Mapping[Along, tuple[Edge, Edge]] = MappingProxyType(
    {Along.HEIGHT: (Edge.TOP, Edge.BOTTOM), Along.WIDTH: (Edge.LEFT, Edge.RIGHT)}
)


def _number(raw: Any) -> Any:
    """What is read, but for true and false, which Python takes for 1 and 0."""
    if isinstance(raw, bool):
        raise PydanticCustomError("literal_error", "one of {expected}", {"expected": "1"})
    return raw


FormatNumber = Annotated[Literal[1], BeforeValidator(_number)]


class RecipeTable(BaseModel):
    """A table of a recipe file: nothing unknown in it, nothing changed later."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, defer_build=True)


def _one_of(table: RecipeTable, *keys: str) -> None:
    given = [key for key in keys if getattr(table, key) not in (None, [])]
    if len(given) != 1:
        listed = ", ".join(keys[:-1]) + f" or {keys[-1]}"
        raise ValueError(f"exactly one of {listed} is wanted, not {len(given)}")


def _two_of(table: RecipeTable, *keys: str) -> None:
    given = [key for key in keys if getattr(table, key) is not None]
    if len(given) != 2:
        raise ValueError(f"two of {', '.join(keys)} are wanted, not {len(given)}")


def _is_table_with(*keys: str) -> Discriminator:
    """Tell two forms apart by whether a table has one of the keys."""

    def form(raw: Any) -> str:
        return "table" if isinstance(raw, dict) and any(key in raw for key in keys) else "other"

    return Discriminator(form)


class AskedSize(RecipeTable):
    """A finished size asked of the person."""

    means: SentenceText
    default: DefaultTerm
    least: LengthTerm
    most: LengthTerm
    #: The size of the finished outline that it is; of its own name where it is called so.
    along: AlongWord | None = None

    def goes_along(self, name: str) -> Along | None:
        """The size of the finished outline that it is, as far as that is known."""
        return self.along or next((one for one in Along if one.value == name), None)


class AskedCount(RecipeTable):
    """A whole number asked of the person."""

    means: SentenceText
    default: int
    least: int
    most: int


class Choice(RecipeTable):
    """One of a list of named options."""

    means: SentenceText
    default: str
    options: dict[LabelText, SentenceText] = Field(min_length=2)
    #: Other words for what there is, and what to ask for: `hexagon`, `outline=polygon sides=6`.
    also: dict[LabelText, SentenceText] = Field(default_factory=dict)
    #: Words for what it has not but people ask for, and what is said of anything it has not.
    lacks: list[LabelText] = Field(default_factory=list)
    instead: SentenceText | None = None


class Length(RecipeTable):
    """An allowance or another fixed length; a person may override it."""

    means: SentenceText
    default: DefaultTerm
    least: LengthTerm | None = None
    most: LengthTerm | None = None


class RepeatValues(RecipeTable):
    """A value for each of a number of repeats."""

    repeat: Repeat
    is_: FormulaTerm = Field(alias="is")


class Hold(RecipeTable):
    """A thing the project is meant to hold."""

    title: SentenceText
    width: FormulaTerm
    height: FormulaTerm
    ease: FormulaTerm
    thickness: FormulaTerm | None = None
    number: FormulaTerm | None = None
    opens: bool = False
    against: PieceRef
    face: SideWord = Side.FRONT
    share: FormulaTerm | None = None
    shows: FormulaTerm | None = None
    within: OutlineRef | None = None
    #: Whether it may be folded with the project, as notes are.
    folds: bool = False
    when: FormulaTerm | None = None


class FabricTable(RecipeTable):
    """What a fabric of the project is, as it is sold."""

    kind: LabelText
    interfacing: LabelText | None = None


class FusedTo(RecipeTable):
    """Where a patch of interfacing is fused: the piece, and an outline as that lies in the hoop."""

    piece: PieceRef
    outline: OutlineRef
    when: FormulaTerm | None = None


class NotionTable(RecipeTable):
    """A notion to have ready."""

    title: SentenceTerm
    sort: Annotated[NotionSort, one_of(*NotionSort)]
    quantity: FormulaTerm | None = None
    length: FormulaTerm | None = None
    width: FormulaTerm | None = None
    coil: FormulaTerm | None = None
    halves: Annotated[list[FormulaPoint], Field(min_length=2, max_length=2)] | None = None
    at: list[FormulaPoint] = []
    hangs: list[FormulaPoint] = []
    over_edge: Annotated[list[FormulaPoint], Field(min_length=4, max_length=4)] | None = None
    fused_to: list[FusedTo] = []
    through: list[Annotated[list[FlapRef], Field(min_length=1)]] = []
    clearance: FormulaTerm | None = None
    once: bool = False
    needed: Hand | None = None
    when: FormulaTerm | None = None

    @model_validator(mode="after")
    def _through_each(self) -> Self:
        places = len(self.halves or []) + len(self.at)
        if self.through and len(self.through) != places:
            raise ValueError(
                f"a list of what is pierced (through) is wanted for each place: places {places}, "
                f"lists {len(self.through)}"
            )
        if self.fused_to and self.needed != Act.FUSE:
            raise ValueError(
                f"only what is fused says where (fused_to): it is needed to `{Act.FUSE}` (needed)"
            )
        if self.over_edge and self.needed not in (Act.TOP_STITCH, Act.HAND_SEW):
            raise ValueError(
                f"a tape over an edge (over_edge) is sewn on: it is needed to `{Act.TOP_STITCH}` "
                f"or to `{Act.HAND_SEW}` (needed)"
            )
        return self


class FoldTable(RecipeTable):
    """One fold of a piece, as it follows from the one before."""

    fold: Annotated[FoldKind, one_of(*FoldKind)]
    along: AlongWord
    turn: FormulaTerm | None = None
    edge: EdgeWord | None = None
    take: FormulaTerm | None = None
    right_side: Literal["out", "in"] = "out"
    when: FormulaTerm | None = None

    @model_validator(mode="after")
    def _hem_turn(self) -> Self:
        if (self.fold is FoldKind.HEM) != (self.turn is not None):
            raise ValueError("a hem, and nothing else, says how much it turns in (turn)")
        if self.edge and self.fold is not FoldKind.HEM:
            raise ValueError("a hem, and nothing else, says at which edge it lies (edge)")
        if self.edge and self.edge not in FOLD_EDGES[self.along]:
            one, other = FOLD_EDGES[self.along]
            raise ValueError(f"a hem along the {self.along} lies at {one} or {other} (edge)")
        return self


class PieceTable(RecipeTable):
    """A piece to cut: its size as it lies folded in the hoop, and its folds."""

    title: SentenceTerm
    fabric: FabricName
    quantity: FormulaTerm | None = None
    width: FormulaTerm | None = None
    height: FormulaTerm | None = None
    outline: OutlineRef | None = None
    around: OutlineRef | None = None
    past: FormulaTerm | None = None
    folds: list[FoldTable] = []
    grain: Annotated[Grain, one_of(*Grain)] = Grain.ANY
    two_sided: bool = False
    frays: bool = True
    clear: bool = False
    edge_stitched: FormulaTerm | None = None
    unlined: TruthTerm | None = None
    one_sheet: bool | None = None
    repeat: Repeat | None = None
    when: FormulaTerm | None = None

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        _one_of(self, "width", "outline", "around")
        if (self.width is None) != (self.height is None):
            raise ValueError("width and height go together")
        if (self.around is None) != (self.past is None):
            raise ValueError("around and past go together")
        if self.folds and self.width is None:
            raise ValueError("only a piece with width and height can have folds")
        if self.one_sheet and (self.folds or self.outline):
            raise ValueError(
                "only a piece without folds, and not cut to an outline, can be one sheet over all "
                "copies (one_sheet)"
            )
        return self


class ArcTo(RecipeTable):
    """An arc of a path, through one point to another."""

    through: list[FormulaTerm] = Field(min_length=2, max_length=2)
    to: list[FormulaTerm] = Field(min_length=2, max_length=2)


PointOrArc = Annotated[
    Annotated[ArcTo, Tag("table")] | Annotated[FormulaPoint, Tag("other")],
    _is_table_with("through", "to"),
]


class Outline(RecipeTable):
    """Base of all outlines: repeated, or only when something holds."""

    repeat: Repeat | None = None
    when: FormulaTerm | None = None


class Rectangle(Outline):
    """A rectangle by any two of its horizontal and any two of its vertical measures."""

    shape: Literal["rectangle"]
    left: FormulaTerm | None = None
    right: FormulaTerm | None = None
    width: FormulaTerm | None = None
    middle: FormulaTerm | None = None
    top: FormulaTerm | None = None
    bottom: FormulaTerm | None = None
    height: FormulaTerm | None = None
    centre: FormulaTerm | None = None
    rounded: FormulaTerm | None = None
    cut: FormulaTerm | None = None

    @model_validator(mode="after")
    def _measures(self) -> Self:
        if self.width is None or any((self.left, self.right, self.middle)):
            _two_of(self, "left", "right", "width", "middle")
        if self.height is None or any((self.top, self.bottom, self.centre)):
            _two_of(self, "top", "bottom", "height", "centre")
        return self


class Oval(Outline):
    """An ellipse."""

    shape: Literal["oval"]
    width: FormulaTerm
    height: FormulaTerm
    at: FormulaPoint | None = None


class RegularPolygon(Outline):
    """A regular polygon, flat side at the bottom."""

    shape: Literal["regular polygon"]
    sides: FormulaTerm
    across: FormulaTerm
    at: FormulaPoint | None = None


class FreePolygon(Outline):
    """A polygon by its corners."""

    shape: Literal["polygon"]
    points: list[FormulaPoint] = Field(min_length=3)


class FreePath(Outline):
    """A closed path of straight parts and arcs."""

    shape: Literal["path"]
    start: FormulaPoint
    then: list[PointOrArc] = Field(min_length=2)


class Offset(Outline):
    """An outline a length inside or outside another."""

    shape: Literal["inset", "outset"]
    of: OutlineRef
    by: FormulaTerm
    outer_corners: Literal["sharp", "round"] = "sharp"


class WithinOutline(Outline):
    """The part of one outline within another."""

    shape: Literal["within"]
    of: OutlineRef
    inside: OutlineRef


class CornersOut(Outline):
    """An outline less a square at both corners of one of its edges."""

    shape: Literal["corners cut out"]
    of: OutlineRef
    edge: EdgeWord
    by: FormulaTerm


OutlineTable = Annotated[
    Rectangle
    | Oval
    | RegularPolygon
    | FreePolygon
    | FreePath
    | Offset
    | WithinOutline
    | CornersOut,
    Field(discriminator="shape"),
]
#: One outline, or several of which the first whose `when` holds is taken.
Outlines = Annotated[
    list[OutlineTable],
    Field(min_length=1),
    BeforeValidator(
        lambda raw: raw if isinstance(raw, list) else [raw],
        json_schema_input_type=OutlineTable | Annotated[list[OutlineTable], Field(min_length=1)],
    ),
]


class EdgeGap(RecipeTable):
    """A gap on a named straight edge: all of it, from corner to corner, or a length."""

    edge: EdgeWord
    centre: FormulaTerm | None = None
    length: FormulaTerm | None = None

    @model_validator(mode="after")
    def _somewhere(self) -> Self:
        if self.centre is not None and self.length is None:
            raise ValueError("a gap that lies somewhere on its edge has a length")
        return self


class FlatGap(RecipeTable):
    """A gap on the straightest run there is."""

    on: Literal["flattest"]
    length: FormulaTerm
    clear: FormulaTerm | None = None


GapTable = Annotated[
    Annotated[EdgeGap, Tag("table")] | Annotated[FlatGap, Tag("other")], _is_table_with("edge")
]


class RunAlong(RecipeTable):
    """A run along one edge of an outline, less a length at either end."""

    of: OutlineRef
    edge: EdgeWord
    less: FormulaTerm | None = None


class LineTable(RecipeTable):
    """A line to stitch."""

    title: SentenceTerm
    role: Annotated[Role, one_of(*Role)]
    along: OutlineRef | None = None
    run: list[RunAlong] = []
    points: list[Annotated[list[PointOrArc], Field(min_length=2)]] = []
    stitch: Annotated[StitchKind, one_of(*SPACED)] | None = None
    length: FormulaTerm | None = None
    swing: FormulaTerm | None = None
    swing_to: Literal["outside", "both sides"] | None = None
    spacing: FormulaTerm | None = None
    gaps: list[GapTable] = []
    within: list[OutlineRef] = []
    clear_of: list[OutlineRef] = []
    repeat: Repeat | None = None
    when: FormulaTerm | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        _one_of(self, "along", "run", "points")
        if self.gaps and self.along is None:
            raise ValueError("gaps are for a line along an outline")
        return self


class LayTable(RecipeTable):
    """How a piece or a notion is laid: where, which side up, where its fold or hem lies.

    A notion lies with its length along the width unless `along` says otherwise.
    """

    piece: LaidRef
    side: SideWord
    up: Annotated[Face, one_of(*Face)]
    fold: EdgeWord | None = None
    along: AlongWord = Along.WIDTH
    left: FormulaTerm | None = None
    right: FormulaTerm | None = None
    middle: FormulaTerm | None = None
    top: FormulaTerm | None = None
    bottom: FormulaTerm | None = None
    centre: FormulaTerm | None = None


class TapeOn(RecipeTable):
    """Strips of tape on a laid piece: at the edges named, over places, or at all but its folds."""

    piece: LaidRef
    at: list[EdgeWord] | None = None
    over: list[FormulaPoint] = []


class StraightMark(RecipeTable):
    """What is sewn straight from point to point, such as the cross in a box."""

    points: list[FormulaPoint] = Field(min_length=2)


_StraightOrAround = Annotated[
    Annotated[StraightMark, Tag("table")] | Annotated[OutlineRef, Tag("other")],
    _is_table_with("points"),
]
#: What is drawn for work done by hand: an outline, one straight edge of one, or straight lines.
MarkTable = Annotated[
    Annotated[RunAlong, Tag("table")] | Annotated[_StraightOrAround, Tag("other")],
    _is_table_with("of"),
]


class StepTable(RecipeTable):
    """One step: stitched, laid, taped or otherwise done by hand."""

    title: SentenceTerm
    say: SentenceTerm | None = None
    #: What is done once for all copies together, said last.
    say_once: SentenceTerm | None = None
    stitch: list[LineRef] = []
    lay: list[LayTable] = []
    tape: list[TapeOn] = []
    do: Hand | None = None
    pieces: list[FlapRef] = []
    mark: list[MarkTable] = []
    seen: SideWord | None = None
    #: Layers under the needle besides those that lie there.
    more_layers: FormulaTerm | None = None
    when: FormulaTerm | None = None

    @model_validator(mode="after")
    def _one_act(self) -> Self:
        given = [key for key in ("stitch", "lay", "tape", "do") if getattr(self, key)]
        if len(given) > 1:
            raise ValueError(
                f"{', '.join(given[:-1])} and {given[-1]} stand in one step: make a step of each"
            )
        _one_of(self, "stitch", "lay", "tape", "do")
        if self.say is None and self.say_once is None:
            raise ValueError("the key `say` is missing")
        if self.say_once and self.do is None:
            raise ValueError("what is done once for all copies (say_once) is by hand (do)")
        if self.do not in MAY_NAME_PIECES and (self.do in NAMES_PIECES) != bool(self.pieces):
            acts = ", ".join(NAMES_PIECES[:-1]) + f" or {NAMES_PIECES[-1]}"
            may = ", ".join(MAY_NAME_PIECES[:-1]) + f" or {MAY_NAME_PIECES[-1]}"
            raise ValueError(
                f"a step to {acts} names the pieces it is done to (pieces), one to {may} may, and "
                "no other does"
            )
        if self.do not in ALONG_AN_EDGE and any(isinstance(one, RunAlong) for one in self.mark):
            acts = " or ".join(ALONG_AN_EDGE)
            raise ValueError(f"one edge alone is marked (mark) for a step to {acts}")
        if self.do not in SEWN_STRAIGHT and any(isinstance(one, StraightMark) for one in self.mark):
            acts = " or ".join(SEWN_STRAIGHT)
            raise ValueError(f"a line from point to point is marked (mark) for a step to {acts}")
        if self.seen and self.do not in MAY_BE_TURNED:
            acts = ", ".join(MAY_BE_TURNED[:-1]) + f" or {MAY_BE_TURNED[-1]}"
            raise ValueError(f"the side that it is seen from (seen) is for a step to {acts}")
        if self.more_layers and self.do != Act.TOP_STITCH:
            raise ValueError(
                f"layers besides those that lie there (more_layers) are for a step to "
                f"{Act.TOP_STITCH}"
            )
        return self


class StepGroup(RecipeTable):
    """Steps done again for each repeat."""

    repeat: Repeat
    steps: list[StepTable] = Field(min_length=1)
    when: FormulaTerm | None = None


StepOrGroup = Annotated[
    Annotated[StepGroup, Tag("table")] | Annotated[StepTable, Tag("other")],
    _is_table_with("repeat", "steps"),
]
ValueTable = Annotated[
    Annotated[RepeatValues, Tag("table")] | Annotated[FormulaTerm, Tag("other")],
    _is_table_with("repeat", "is"),
]


class Condition(RecipeTable):
    """Something that must hold, and what to say if it does not."""

    require: FormulaTerm
    say: SentenceTerm
    remedy: SentenceTerm | None = None
    severity: Annotated[Severity, one_of(*Severity)] = Severity.CANNOT
    when: FormulaTerm | None = None


class EmbellishmentTable(RecipeTable):
    """Stitching for its looks on a panel, as a person would ask for it."""

    on: PieceRef
    work: WorkTerm
    when: FormulaTerm | None = None


class FinishFold(RecipeTable):
    """A fold of the finished thing: the part with the first half of a snap goes over."""

    across: AlongWord
    at: FormulaTerm
    when: FormulaTerm | None = None


class WallWhen(RecipeTable):
    """One of the pieces that it is turned out between, where the choices have it so."""

    piece: PieceRef
    when: FormulaTerm


class FlapWhen(RecipeTable):
    """A piece that is pulled over or stands out, where the choices have it so."""

    piece: FlapRef
    when: FormulaTerm


WhichWall = Annotated[
    Annotated[WallWhen, Tag("table")] | Annotated[PieceRef, Tag("other")],
    _is_table_with("piece", "when"),
]
WhichFlap = Annotated[
    Annotated[FlapWhen, Tag("table")] | Annotated[FlapRef, Tag("other")],
    _is_table_with("piece", "when"),
]


class FinishTable(RecipeTable):
    """How the project ends, and the outlines that say how large it is."""

    way: Annotated[FinishWay, one_of(*FinishWay)]
    finished: OutlineRef
    seam: OutlineRef
    #: What of the finished outline its size is told by; all of it unless said.
    measured: OutlineRef | None = None
    between: list[WhichWall] = Field(default=[], max_length=MOST_ENTRIES)
    pulled_over: list[WhichFlap] = []
    stands_out: list[WhichFlap] = []
    #: The one of the two that is outside when it is folded, or else in front; the work unless said.
    outside: PieceRef | None = None
    #: What its raw edge is bound with, and how far that lies on each face.
    binding: PieceRef | None = None
    covers: FormulaTerm | None = None
    folds: list[FinishFold] = []
    #: How deep it stands, and the edge whose corners are cut out of both outlines for that.
    depth: FormulaTerm | None = None
    boxed: EdgeWord | None = None
    most_layers: FormulaTerm | None = None
    when: FormulaTerm | None = None
    section: Annotated[list[FormulaPoint], Field(min_length=2, max_length=2)] | None = None

    @model_validator(mode="after")
    def _between_two(self) -> Self:
        refs = [piece_of(one) for one in self.between]
        names = {(ref.name, ref.index.text if ref.index else "") for ref in refs}
        if self.way is FinishWay.TURNED and len(names) < 2:
            raise ValueError("a turned project lies between two different pieces (between)")
        if self.way is not FinishWay.TURNED and (self.pulled_over or self.stands_out):
            raise ValueError("only of what is turned is anything pulled over or stands out")
        if (self.depth is None) != (self.boxed is None):
            raise ValueError("depth and the edge whose corners make it (boxed) go together")
        given = [key for key in ("binding", "covers") if getattr(self, key) is not None]
        if len(given) != (2 if self.way is FinishWay.BOUND else 0):
            raise ValueError(
                "what is bound, and nothing else, says with which piece and how far that lies on "
                "each face (binding, covers)"
            )
        if self.outside is not None and self.outside.name not in {name for name, _ in names}:
            raise ValueError("what is outside is one of those that it lies between (between)")
        return self


def _last_for_all_else(finishes: list[FinishTable]) -> list[FinishTable]:
    """Check that one of several ways to end is left whatever is asked for."""
    if any(one.when is None for one in finishes[:-1]) or finishes[-1].when is not None:
        raise ValueError("each says when it is taken (when) but the last, which is for all else")
    return finishes


#: How it ends; of several the first whose `when` holds.
Finishes = Annotated[
    list[FinishTable],
    Field(min_length=1, max_length=MOST_ENTRIES),
    BeforeValidator(
        lambda raw: raw if isinstance(raw, list) else [raw],
        json_schema_input_type=FinishTable | Annotated[list[FinishTable], Field(min_length=1)],
    ),
    AfterValidator(_last_for_all_else),
]


def piece_of(one: WallWhen | FlapWhen | Reference) -> Reference:
    """The piece that an entry of a list under `finish` names."""
    return one if isinstance(one, Reference) else one.piece


def condition_of(one: WallWhen | FlapWhen | Reference) -> Formula | None:
    """What must hold for such an entry to count; None if it always does."""
    return None if isinstance(one, Reference) else one.when


#: What a part can need: numbers, by what they are made of; names of what is made; words.
OF_NUMBERS = ("length", "count", "choice", "value")
OF_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "piece": "pieces",
        "notion": "notions",
        "outline": "outlines",
        "line": "lines",
        "fabric": "fabrics",
    }
)
#: Of these a part can need one for each of a number of repeats.
CAN_REPEAT = ("value", "piece", "outline", "line")
NeedName = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_-]*$", max_length=40)]


class NeedTable(RecipeTable):
    """What a part must be given by who uses it, unless it says what it is otherwise."""

    kind: Literal[
        "length",
        "count",
        "choice",
        "value",
        "piece",
        "notion",
        "outline",
        "line",
        "fabric",
        "one of",
        "words",
    ]
    means: SentenceText
    options: list[LabelText] = []
    default: GiftTerm | None = None
    #: How many of it are needed, where it is one for each.
    repeat: Repeat | None = None

    @model_validator(mode="after")
    def _of_its_kind(self) -> Self:
        if (self.kind in ("choice", "one of")) != bool(self.options):
            raise ValueError("a choice and one of several, and nothing else, have options")
        if self.default is not None and self.kind in ("choice", *OF_NAMES):
            raise ValueError("what is the name of something cannot be left out (default)")
        if self.kind == "words" and not isinstance(self.default, str | None):
            raise ValueError("words are a text in quotes")
        if self.kind == "one of" and self.default not in (None, *self.options):
            raise ValueError("the default is none of the options")
        if self.repeat is not None and self.kind not in CAN_REPEAT:
            raise ValueError(f"one for each (repeat) is wanted of a {', '.join(CAN_REPEAT)} alone")
        if self.repeat is not None and self.default is not None:
            raise ValueError("what is the name of something repeated cannot be left out (default)")
        return self


class PartStep(StepTable):
    """A step of a part, by its name there."""

    name: LabelText


class PartStepGroup(StepGroup):
    """Steps of a part that are done again for each repeat, by one name."""

    name: LabelText


PartStepOrGroup = Annotated[
    Annotated[PartStepGroup, Tag("table")] | Annotated[PartStep, Tag("other")],
    _is_table_with("repeat", "steps"),
]


class PartFile(RecipeTable):
    """A whole file of a part, which recipes use."""

    format: FormatNumber
    title: SentenceText
    summary: SentenceText
    needs: dict[NeedName, NeedTable] = Field(default={}, max_length=MOST_ENTRIES)
    gives: list[NeedName] = Field(default=[], max_length=MOST_ENTRIES)
    lengths: dict[KeyName, Length] = Field(default={}, max_length=MOST_ENTRIES)
    values: dict[KeyName, ValueTable] = Field(default={}, max_length=MOST_ENTRIES)
    notions: dict[LabelText, NotionTable] = Field(default={}, max_length=MOST_ENTRIES)
    fabrics: dict[LabelText, FabricTable] = Field(default={}, max_length=MOST_ENTRIES)
    pieces: dict[LabelText, PieceTable] = Field(default={}, max_length=MOST_ENTRIES)
    outlines: dict[LabelText, Outlines] = Field(default={}, max_length=MOST_ENTRIES)
    lines: dict[LabelText, LineTable] = Field(default={}, max_length=MOST_ENTRIES)
    steps: list[PartStepOrGroup] = Field(default=[], max_length=MOST_ENTRIES)
    conditions: list[Condition] = Field(default=[], max_length=MOST_ENTRIES)


class UseTable(RecipeTable):
    """A part that a recipe uses, and what it is given."""

    part: LabelText
    with_: dict[NeedName, GiftTerm] = Field(default={}, alias="with", max_length=MOST_ENTRIES)
    prefix: LabelText | None = None


class StepsOfUse(RecipeTable):
    """Steps of a part, in a recipe's own: all, or those named."""

    use: LabelText
    steps: list[LabelText] = Field(default=[], max_length=MOST_ENTRIES)


#: A recipe uses no more parts than these.
MOST_USES = 30


class RecipeFile(RecipeTable):
    """A whole recipe file, the steps of its parts put in their places."""

    format: FormatNumber
    title: SentenceText
    summary: SentenceText
    ruler_mark: LengthTerm | None = None
    uses: dict[LabelText, UseTable] = Field(default={}, max_length=MOST_USES)
    sizes: dict[KeyName, AskedSize] = Field(min_length=1, max_length=MOST_ENTRIES)
    counts: dict[KeyName, AskedCount] = Field(default={}, max_length=MOST_ENTRIES)
    choices: dict[KeyName, Choice] = Field(default={}, max_length=MOST_ENTRIES)
    lengths: dict[KeyName, Length] = Field(default={}, max_length=MOST_ENTRIES)
    values: dict[KeyName, ValueTable] = Field(default={}, max_length=MOST_ENTRIES)
    holds: dict[LabelText, Hold] = Field(default={}, max_length=MOST_ENTRIES)
    notions: dict[LabelText, NotionTable] = Field(default={}, max_length=MOST_ENTRIES)
    fabrics: dict[LabelText, FabricTable] = Field(default={}, max_length=MOST_ENTRIES)
    pieces: dict[LabelText, PieceTable] = Field(min_length=1, max_length=MOST_ENTRIES)
    outlines: dict[LabelText, Outlines] = Field(max_length=MOST_ENTRIES)
    lines: dict[LabelText, LineTable] = Field(min_length=1, max_length=MOST_ENTRIES)
    steps: list[StepOrGroup] = Field(min_length=1, max_length=MOST_ENTRIES)
    embellishments: list[EmbellishmentTable] = Field(default=[], max_length=MOST_ASKED)
    conditions: list[Condition] = Field(default=[], max_length=MOST_ENTRIES)
    finish: Finishes
