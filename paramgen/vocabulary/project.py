"""The sized project: everything a drawing, a stitch file or a paper reads.

All coordinates are millimetres in the hoop, x right, y down, origin at the centre of
the hoop field, seen from the front (the side the needle enters).
"""

from collections.abc import Collection
from itertools import combinations

from paramgen.vocabulary.facts import Name, StepName
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import (
    Act,
    Along,
    Face,
    FinishWay,
    FoldKind,
    Grain,
    NotionSort,
    Role,
    Side,
    StitchKind,
)
from paramgen.vocabulary.material import Material
from paramgen.vocabulary.path import Path, Point
from paramgen.vocabulary.unit import Unit


@dataclass(frozen=True)
class Stitch:
    """How a line is sewn.

    Parameters
    ----------
    kind : StitchKind
        A seam is a straight run out and a narrow zigzag over it on the way back.
    length : float
        Longest stitch along the line, mm.
    swing : float
        Whole width of the zigzag, mm; 0 where there is none.
    spacing : float
        Advance of the zigzag along the line from one side to the other, mm.
    outward : bool
        Whether it swings from the line to the left of the path alone; else half its width
        to either side.
    """

    kind: StitchKind
    length: float
    swing: float = 0.0
    spacing: float = 0.0
    outward: bool = False

    @property
    def aside(self) -> float:
        """Farthest a needle point lies beside the line, mm.

        Examples
        --------
        >>> Stitch(StitchKind.ZIGZAG, 2.0, swing=3.0).aside
        1.5
        >>> Stitch(StitchKind.ZIGZAG, 2.0, swing=3.0, outward=True).aside
        3.0
        >>> Stitch(StitchKind.RUN, 2.5).aside
        0.0
        """
        return self.swing if self.outward else self.swing / 2


@dataclass(frozen=True)
class Line:
    """A stitched line: one or more paths, what the gaps have left of an outline.

    Parameters
    ----------
    name : str
        As in the recipe, `pocket-tack[2]` where it is repeated.
    title : str
        For the person.
    role : Role
    stitch : Stitch
    paths : tuple of Path
        In the order the recipe gives them; the stitching may take another. The outside is
        at the left of each, if the stitch swings outward.
    """

    name: str
    title: str
    role: Role
    stitch: Stitch
    paths: tuple[Path, ...]

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("line", self.name, self.title)


@dataclass(frozen=True)
class Crease:
    """One fold line on a piece as cut.

    Parameters
    ----------
    order : int
        From 1, the order of folding.
    kind : FoldKind
    start, end : Point
        On the piece as cut, centred on the origin, mm.
    towards : str
        Which way the moving part goes: `right sides out` or `right sides in`.
    """

    order: int
    kind: FoldKind
    start: Point
    end: Point
    towards: str


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A piece of fabric to cut.

    Parameters
    ----------
    name : str
        As in the recipe, `pocket[2]` where it is repeated.
    title : str
        For the person.
    fabric : str
        The fabric's part in the project: outer, lining, batting ...
    quantity : int
        How many to cut.
    cut, folded : tuple of float
        Width and height flat as cut, and folded and pressed, mm.
    outline : Path
        As cut, centred on the origin, mm; closed.
    creases : tuple of Crease
        In the order of folding.
    grain : Grain
        `width` or `height`: the size the lengthwise grain runs along; `bias`; `any`.
    edge_stitched : float or None
        Stitched so far inside its edges on a sewing machine before the hooping, folded as it
        is laid, mm; None if it is not.
    one_sheet : bool or None
        Whether the recipe wants one sheet of it over all copies in a hooping; None where it
        says nothing.
    over : int
        How many copies lie on one of it: 1 unless it is such a sheet.
    """

    name: str
    title: str
    fabric: str
    quantity: int
    cut: tuple[float, float]
    folded: tuple[float, float]
    outline: Path
    creases: tuple[Crease, ...]
    grain: Grain
    edge_stitched: float | None = None
    one_sheet: bool | None = None
    over: int = 1

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("piece", self.name, self.title)


@dataclass(frozen=True)
class Fabric:
    """What one of the project's fabrics is.

    Parameters
    ----------
    role : str
        As pieces name it: outer, lining ...
    material : Material
    interfacing : Material or None
        Fused to its pieces.
    """

    role: str
    material: Material
    interfacing: Material | None

    @property
    def ply(self) -> tuple[float, float]:
        """Least and most thickness of one layer, pressed and under stitches, mm.

        Examples
        --------
        >>> linen, web = (
        ...     Material(name="", title="", sort="", ply=ply, ask_for="", wash=False, source="")
        ...     for ply in ((0.25, 0.5), (0.125, 0.25))
        ... )
        >>> Fabric("outer", linen, web).ply  # 0.25 + 0.125 and 0.5 + 0.25
        (0.375, 0.75)
        >>> Fabric("outer", linen, None).ply
        (0.25, 0.5)
        """
        least, most = self.material.ply
        if self.interfacing is None:
            return least, most
        return least + self.interfacing.ply[0], most + self.interfacing.ply[1]


@dataclass(frozen=True)
class FusedPatch:
    """Where a patch of interfacing is fused.

    Parameters
    ----------
    piece : str
        Name of the piece that it is fused to.
    outline : Path
        As it comes to lie in the hoop.
    """

    piece: str
    outline: Path


@dataclass(frozen=True, kw_only=True)
class Notion:
    """Anything to have ready that is not fabric.

    Parameters
    ----------
    name, title : str
    sort : NotionSort
    quantity : int
    length, width : float or None
        Least length and width to have, mm, where it has them. For a zip the width is
        that of the closed tape.
    coil : float or None
        Width of a zip's coil, mm.
    halves : tuple of Point
        Where the two halves of a snap go, on the finished thing laid flat; may be empty.
    at : tuple of Point
        Where other hardware goes.
    through : tuple of tuple of str
        The pieces that it pierces at each of `halves` and then of `at`; empty if the recipe
        does not say.
    hangs : tuple of Point
        Where it hangs in a fold of the finished thing, or at its edge: a ring that a strap is
        drawn through.
    over_edge : tuple of Point
        Where a tape lies on both faces of the finished thing once it is folded over an edge and
        sewn on: both ends of its fold and, going on round, of its open edges. It runs on past both
        ends. Empty if it is none.
    fused_to : tuple of FusedPatch
        Where patches of interfacing are fused, if it is such.
    clearance : float
        Kept free of stitches round it, mm.
    once : bool
        Whether one hooping needs it once, however many copies lie in it: the stabiliser, or the
        tape of a string of flags.
    needed : Act
        What the first step does that needs it, if it is not laid.
    """

    name: str
    title: str
    sort: NotionSort
    quantity: int
    length: float | None
    width: float | None
    coil: float | None
    halves: tuple[Point, ...] = ()
    at: tuple[Point, ...] = ()
    hangs: tuple[Point, ...] = ()
    over_edge: tuple[Point, ...] = ()
    fused_to: tuple[FusedPatch, ...] = ()
    clearance: float = 0.0
    once: bool = False
    through: tuple[tuple[str, ...], ...] = ()
    needed: Act = Act.FASTEN

    @property
    def fills_hoop(self) -> bool:
        """Whether its size follows from the hoop: the stabiliser's."""
        return self.once and self.length is None

    @property
    def short_title(self) -> str:
        """What it is, without how large or for what: its title up to the first comma."""
        return self.title.partition(",")[0]

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("notion", self.name, self.title)


@dataclass(frozen=True)
class Hem:
    """What is turned in along an edge of a piece as it lies.

    Parameters
    ----------
    outline : Path
        Where it lies, along the edge; closed.
    fold : (Point, Point)
        Its edge, along which it is turned in: that of the piece, or of an outer third inside it.
    twice : bool
        Whether it is turned in twice, so that its raw edge lies within it.
    times : int
        How often it lies on itself, as the piece is folded the other way as well.
    takes : int
        Layers that are turned in together, as the piece was folded the same way before.
    """

    outline: Path
    fold: tuple[Point, Point]
    twice: bool
    times: int = 1
    takes: int = 1

    @property
    def in_line(self) -> int:
        """Layers that are turned in where the piece is not folded the other way."""
        return self.takes * (2 if self.twice else 1)

    @property
    def plies(self) -> int:
        """Layers that are turned in."""
        return self.in_line * self.times

    @property
    def upright(self) -> bool:
        """Whether its edge runs from top to bottom."""
        return self.fold[0][0] == self.fold[1][0]

    def in_corner(self, other: "Hem") -> int:
        """Layers besides those of both where another hem lies across this one.

        The one that is turned in later takes the other along: of two that are turned in once, a
        piece of one layer has 1 + 1 + 1 + 1 there, of two turned in twice 1 + 2 + 2 + 4.
        """
        return 0 if self.upright is other.upright else self.in_line * other.in_line


@dataclass(frozen=True, kw_only=True)
class Layer:
    """A piece or notion as it lies in the hoop.

    Parameters
    ----------
    piece : str
        Name of the piece or notion.
    title : str
    fabric : str
        Fabric role, or the notion's sort.
    side : str
        `front` or `back` of the hoop.
    up : str
        `right` or `wrong`: the face towards the front of the hoop. A piece folded with
        right sides out shows `right` on both faces.
    outline : Path
        As it lies, folded; closed.
    folded_edges : tuple of (Point, Point)
        Edges of the outline that are folds.
    plies : int
        Layers of fabric.
    two_sided, frays, clear, faceless : bool
        Whether both faces are right sides, raw edges fray, one can see through, neither face is a
        right side.
    right_sides_in : bool
        Whether it was folded with its right sides in; they are out otherwise.
    unlined : bool
        Whether its wrong side may be seen by who looks into the pocket that it makes.
    ply : (float, float)
        Least and most thickness of one of its plies, pressed and under stitches, mm.
    hems : tuple of Hem
        What is turned in along each edge that is, but for a piece folded in half.
    slit : (Point, Point) or None
        Where a zip opens, from stop to stop; None for anything else.
    shares : tuple of Path
        Of one sheet over all copies: what each copy's piece would be if it lay alone, in the
        order of the copies. Empty for the piece of one copy.
    cut_back : Path or None
        Of a patch on a panel: what it is cut back to in the hoop; its raw edge then lies under
        satin, and it is part of the panel's face. Closed.
    """

    piece: str
    title: str
    fabric: str
    side: Side
    up: Face
    outline: Path
    folded_edges: tuple[tuple[Point, Point], ...]
    plies: int
    slit: tuple[Point, Point] | None = None
    two_sided: bool = False
    frays: bool = True
    clear: bool = False
    faceless: bool = False
    right_sides_in: bool = False
    unlined: bool = False
    ply: tuple[float, float] = (0.0, 0.0)
    hems: tuple[Hem, ...] = ()
    shares: tuple[Path, ...] = ()
    cut_back: Path | None = None

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("piece", self.piece, self.title)

    @property
    def most_plies(self) -> int:
        """Layers of fabric where most of it is turned in."""
        along = [hem.plies for hem in self.hems]
        corners = [
            one.plies + other.plies + one.in_corner(other)
            for one, other in combinations(self.hems, 2)
            if one.upright is not other.upright
        ]
        return self.plies + max([*along, *corners], default=0)


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of the work.

    Parameters
    ----------
    number : int
        Place in the whole order, from 1.
    stop : int or None
        The number the machine shows, from 1; None if done by hand.
    act : Act
    title : str
        A few words.
    say : str
        The sentences the person reads.
    once : str
        With what `say` ends, of what is done once, however many copies there are; may be empty.
    seen_from : str
        `front` or `back`: the side of the hoop the person is looking at.
    colour : str or None
        `#rrggbb` of the stop; tells steps apart and says nothing about thread.
    lines : tuple of Line
        What is stitched; empty if done by hand.
    layers : tuple of Layer
        What is laid in this step.
    tape : tuple of Path
        Outlines of the strips of tape put on in this step; closed.
    mark : tuple of Path
        Lines to draw for what is done by hand (a line to trim along, clips); may be empty.
    taped : tuple of str
        The pieces that the strips of tape hold.
    pieces : tuple of str
        The pieces that something is done to by hand: folded, edge-stitched, sewn to each other;
        or whose tape alone comes off.
    over_all : bool
        Whether what is laid and taped in it is one sheet over all copies, and not so many for
        each.
    tape_alone : tuple of Path
        In such a step: the first copy's tape if it lay alone.
    more_layers : int
        Layers under the needle of a sewing machine besides those of the work as it lies flat: of
        a tape, or of what has been folded or lapped since.
    """

    number: int
    stop: int | None
    act: Act
    title: str
    say: str
    seen_from: Side
    colour: str | None = None
    lines: tuple[Line, ...] = ()
    layers: tuple[Layer, ...] = ()
    tape: tuple[Path, ...] = ()
    mark: tuple[Path, ...] = ()
    taped: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    over_all: bool = False
    tape_alone: tuple[Path, ...] = ()
    more_layers: int = 0
    once: str = ""

    def takes_tape_off(self, names: Collection[str]) -> bool:
        """Whether the tape that another step put on to hold some pieces comes off in this one.

        Examples
        --------
        >>> untape = Step(
        ...     number=1, stop=None, act=Act.UNTAPE, title="", say="", seen_from=Side.FRONT,
        ...     pieces=("pocket", "flap"),
        ... )
        >>> untape.takes_tape_off(["pocket"]), untape.takes_tape_off(["pocket", "loop"])
        (True, False)

        One that names no piece takes all tape off, and so does taking the work out of the hoop:

        >>> from dataclasses import replace
        >>> replace(untape, pieces=()).takes_tape_off(["loop"])
        True
        >>> replace(untape, act=Act.UNHOOP).takes_tape_off(["loop"])
        True
        >>> replace(untape, act=Act.STITCH).takes_tape_off(["pocket"])
        False
        """
        if self.act is Act.UNTAPE:
            return not self.pieces or set(names) <= set(self.pieces)
        return self.act is Act.UNHOOP

    @property
    def called(self) -> StepName:
        """What findings call it."""
        return StepName(self.number, self.title)


@dataclass(frozen=True)
class Figure:
    """A number of the project as the person knows it.

    Parameters
    ----------
    name : str
        As typed on the command line.
    means : str
        What it is.
    value : float
        Millimetres for a length; a plain number for a count.
    asked : bool
        Whether the person gave it, or it is the recipe's own.
    along : Along or None
        The size of the finished outline that it is, as far as that is known.
    """

    name: str
    means: str
    value: float
    asked: bool
    along: Along | None = None


@dataclass(frozen=True, kw_only=True)
class Held:
    """A thing the project is meant to hold.

    Parameters
    ----------
    name, title : str
    size : (width, height)
        mm, as it lies in the project.
    ease : float
        Room it needs beyond its size, mm, both ways.
    against : str
        The piece it lies against.
    face : str
        `front` or `back`: which face of that piece, as it lies in the hoop.
    share : float
        Least part of it that must be held, 0 to 1.
    shows : float
        Least that must show to be gripped, mm.
    within : Path or None
        What it must not reach out of when it is in.
    thickness : float
        Of one of them, mm; 0 where it does not count.
    number : int
        How many the whole project is to hold at once: one in each place for it.
    opens : bool
        Whether it is a book that is put in opened: one cover in each place for it, so that its
        thickness lies between them at the spine.
    asked : int
        How many a person asked for, in all places together; 0 where they did not say. What is
        then in one place is a pile, and its thickness that of the pile.
    folds : bool
        Whether it may be folded with the project, where it lies across a fold.
    """

    name: str
    title: str
    size: tuple[float, float]
    ease: float
    against: str
    face: Side = Side.FRONT
    share: float = 1.0
    shows: float = 0.0
    within: Path | None = None
    thickness: float = 0.0
    number: int = 1
    asked: int = 0
    folds: bool = False
    opens: bool = False

    @property
    def called(self) -> Name:
        """What findings call it."""
        return Name("thing", self.name, self.title)

    @property
    def thickness_in_place(self) -> float:
        """How thick it is in one place for it, mm; a cover of a book takes none of its room."""
        return 0.0 if self.opens else self.thickness


#: Two ends and the corner between them.
Bend = tuple[Point, Point, Point]


@dataclass(frozen=True)
class Boxed:
    """Corners that are sewn across, so that what is flat stands on a bottom of its own.

    Each corner lies between the boxed edge and the edge beside it. Opened and laid seam on seam it
    is a point of two layers; the seam across it is as long as the thing is deep.

    Parameters
    ----------
    depth : float
        mm.
    seams : tuple of Bend
        For each corner where it is sewn across, on the flat work: from the seam line along the
        boxed edge, over the corner of the square that is taken out of it, to that beside it.
    folds : tuple of Bend
        The same on the finished edge: where the bottom and the sides turn up.
    """

    depth: float
    seams: tuple[Bend, ...]
    folds: tuple[Bend, ...]


@dataclass(frozen=True, kw_only=True)
class Finish:
    """How the project ends.

    Parameters
    ----------
    way : str
        `turned`, `raw edge` or `bound`.
    between : tuple of str
        The pieces between which the outside lies until it is turned: that of the work, and then
        the closing piece, or the several whose folds leave an opening; empty if it is not turned.
    trimmed : Path or None
        The line it is trimmed along.
    folds : tuple of (Point, Point)
        Two points of each line the finished thing is folded along, in order.
    most_layers : int
        Most layers under the needle.
    section : (Point, Point) or None
        The line a section through the layers is drawn along.
    finished : Path or None
        The finished edge.
    pulled_over, stands_out : tuple of str
        The pieces between the two that are pulled over to the closing piece's side when it is
        turned, and those that stand out past its edge; all else stays on the side of the work.
    outside : str
        The one of `between` whose right side is outside when it is folded, or else in front: the
        first unless said.
    boxed : Boxed or None
        The corners that make it deep.
    binding : str
        The piece that its raw edge is bound with; empty if it is not.
    covers : float
        How far from the edge that lies on each face, mm.

    Examples
    --------
    A cover that is turned out between the folds of its two fronts:

    >>> cover = Finish(
    ...     way=FinishWay.TURNED, between=("back", "upper", "lower"), trimmed=None, folds=(),
    ...     most_layers=16, section=None,
    ... )
    >>> cover.work, cover.closing
    ('back', ('upper', 'lower'))
    """

    way: FinishWay
    between: tuple[str, ...]
    trimmed: Path | None
    folds: tuple[tuple[Point, Point], ...]
    most_layers: int
    section: tuple[Point, Point] | None
    finished: Path | None = None
    pulled_over: tuple[str, ...] = ()
    stands_out: tuple[str, ...] = ()
    outside: str = ""
    boxed: Boxed | None = None
    binding: str = ""
    covers: float = 0.0

    @property
    def work(self) -> str:
        """The piece of the work, if it is turned."""
        return self.between[0]

    @property
    def closing(self) -> tuple[str, ...]:
        """The closing piece, or those that close it together."""
        return self.between[1:]


@dataclass(frozen=True)
class Placement:
    """Where one copy of a project lies in the hoop.

    Parameters
    ----------
    turned : bool
        Whether it lies turned by 90° clockwise, its top at the right.
    move : (dx, dy)
        Where the recipe's origin lies, mm: by how much it is moved after any turn.
    half : bool
        Whether it lies half-turned besides, by 180°: head to tail with those that do not. The
        first copy never does.
    """

    turned: bool = False
    move: Point = (0.0, 0.0)
    half: bool = False


@dataclass(frozen=True)
class PanelWork:
    """What is stitched on a panel for its looks.

    Parameters
    ----------
    piece : str
        The panel.
    asked : str
        As it is typed: `quilting:diagonal,20mm`.
    steps : tuple of int
        The numbers of its steps.
    findings : tuple of Finding
        What is found about it, where the project lies about its origin.
    """

    piece: str
    asked: str
    steps: tuple[int, ...]
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Project:
    """A recipe worked out for one set of sizes, as it lies in the hoop.

    Where several copies lie in one hooping, the lines, layers, tape and marks of a step are
    those of the first copy, then those of the second, and so on: as many for each. Where a
    step lays or tapes one sheet over all copies, its layers and tape are the sheet's. Pieces
    and notions are as many as all of them need. What is said of the finished thing (its
    size, seam, folds, what it holds) is said of the first.

    Parameters
    ----------
    recipe : str
        Name of the recipe.
    title, summary : str
        The title is the person's own, if there is one.
    unit : Unit
        The person's unit, for whoever shows it.
    finished : tuple of float
        Finished width and height, mm, the project's own way round.
    sizes, counts, lengths : tuple of Figure
    choices : tuple of (name, means, option, what the option means)
    pieces : tuple of Piece
    notions : tuple of Notion
    holds : tuple of Held
    steps : tuple of Step
    seam : Path
        The outline that closes the project, without its gaps.
    turned : bool
        Whether it lies turned by 90° clockwise in the hoop; of several copies, all of them.
    findings : tuple of Finding
        What the recipe's own conditions say.
    finish : Finish
    fabrics : tuple of Fabric
        What each fabric is that the pieces name.
    placed : tuple of Placement
        One for each copy in the hooping.
    varied : tuple of (name, text)
        The choices and counts that are not those of the recipe.
    kind : str
        The recipe's own title.
    own_held : tuple of str
        What the things that it holds are called, where a person has named them.
    embellishments : tuple of PanelWork
        What is stitched on its panels for their looks.

    Examples
    --------
    A project of two copies, of which little is known:

    >>> from dataclasses import replace
    >>> import numpy as np
    >>> trim = Step(
    ...     number=7, stop=None, act=Act.TRIM, title="Trim", say="", seen_from=Side.FRONT
    ... )
    >>> tag = Project(
    ...     recipe="tag", title="Bean tag", kind="Plant tag", summary="", unit=Unit.MM,
    ...     finished=(40.0, 90.0), sizes=(), counts=(), lengths=(), choices=(), pieces=(),
    ...     notions=(), holds=(), seam=Path(np.zeros((0, 2)), True), turned=False, findings=(),
    ...     steps=(trim,), placed=(Placement(), Placement(move=(50.0, 0.0))),
    ... )
    >>> tag.copies, tag.own_title, replace(tag, title="Plant tag").own_title
    (2, 'Bean tag', '')
    >>> tag.step_called(7)
    StepName(number=7, title='Trim')

    What nothing is known of goes by its name; without fabrics any needle will do; a step by
    hand has no lines:

    >>> tag.titled("loop")
    Name(kind='piece', name='loop', title='loop')
    >>> tag.lines, tag.trims, tag.least_needle
    ((), frozenset(), '')

    With a notion, a line sewn in two steps, and fabrics:

    >>> ribbon = Notion(
    ...     name="loop", title="Hanging loop", sort=NotionSort.RIBBON, quantity=2,
    ...     length=None, width=None, coil=None,
    ... )
    >>> replace(tag, notions=(ribbon,)).titled("loop").title
    'Hanging loop'
    >>> edge = Line("edge", "Edge", Role.SEAM, Stitch(StitchKind.SEAM, 2.0), ())
    >>> twice = (replace(trim, lines=(edge,)), trim, replace(trim, lines=(edge,)))
    >>> [line.name for line in replace(tag, steps=twice).lines]
    ['edge', 'edge']

    >>> cotton, ribbon = (
    ...     Material(
    ...         name="", title="", sort=sort, ply=(0.2, 0.3), ask_for="", wash=False, source="",
    ...         needle=needle,
    ...     )
    ...     for sort, needle in (("fabric", "80/12"), ("trim", "100/16"))
    ... )
    >>> sewn = replace(tag, fabrics=(Fabric("outer", cotton, None), Fabric("loop", ribbon, None)))
    >>> sewn.trims, sewn.least_needle  # 100 is more than 80
    (frozenset({'loop'}), '100/16')
    """

    recipe: str
    title: str
    summary: str
    unit: Unit
    finished: tuple[float, float]
    sizes: tuple[Figure, ...]
    counts: tuple[Figure, ...]
    lengths: tuple[Figure, ...]
    choices: tuple[tuple[str, str, str, str], ...]
    pieces: tuple[Piece, ...]
    notions: tuple[Notion, ...]
    holds: tuple[Held, ...]
    steps: tuple[Step, ...]
    seam: Path
    turned: bool
    findings: tuple[Finding, ...]
    finish: Finish = Finish(
        way=FinishWay.TURNED, between=(), trimmed=None, folds=(), most_layers=0, section=None
    )
    placed: tuple[Placement, ...] = (Placement(),)
    fabrics: tuple[Fabric, ...] = ()
    varied: tuple[tuple[str, str], ...] = ()
    kind: str = ""
    own_held: tuple[str, ...] = ()
    embellishments: tuple[PanelWork, ...] = ()

    def fused(self, piece: Piece) -> bool:
        """Whether interfacing is fused to a piece: its fabric has one, and a step fuses it.

        Where no step does, or it may be a patch that one fuses, every piece of that fabric is.
        """
        interfaced = {one.role for one in self.fabrics if one.interfacing is not None}
        steps = [step for step in self.steps if step.act is Act.FUSE]
        patch = any(notion.needed is Act.FUSE for notion in self.notions)
        named = not steps or patch or any(piece.name in step.pieces for step in steps)
        return piece.fabric in interfaced and named

    @property
    def depth(self) -> float:
        """How deep it stands, mm; 0 of what lies flat."""
        return self.finish.boxed.depth if self.finish.boxed else 0.0

    @property
    def own_title(self) -> str:
        """The title that a person gave it; empty if it has the recipe's."""
        return self.title if self.kind and self.title != self.kind else ""

    @property
    def copies(self) -> int:
        """How many one hooping gives."""
        return len(self.placed)

    @property
    def trims(self) -> frozenset[str]:
        """Its fabrics that are no cloth: ribbon and the like, bought by their length."""
        return frozenset(one.role for one in self.fabrics if one.material.sort == "trim")

    @property
    def faceless(self) -> frozenset[str]:
        """Its fabrics of which neither face is a right side: batting and the like."""
        known = {one.role for one in self.fabrics if one.material.faceless}
        laid = {one.fabric for step in self.steps for one in step.layers if one.faceless}
        return frozenset(known | laid)

    @property
    def least_needle(self) -> str:
        """The finest needle that goes through all its fabrics, `90/14`; empty if any does."""
        sizes = [one.material.needle for one in self.fabrics if one.material.needle]
        return max(sizes, key=lambda size: int(size.partition("/")[0]), default="")

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every stitched line, in the order of the steps."""
        return tuple(line for step in self.steps for line in step.lines)

    def step_called(self, number: int) -> StepName:
        """What findings call the step with a number."""
        return next(step.called for step in self.steps if step.number == number)

    def titled(self, name: str) -> Name:
        """What findings call a piece or a notion."""
        pieces, notions = (one.called for one in self.pieces), (one.called for one in self.notions)
        every = (*pieces, *notions)
        return next((one for one in every if one.name == name), Name("piece", name, name))
