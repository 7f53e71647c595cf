"""What a kind of embellishment is, and what it gives: all that a new one has to know.

To add one: a module with an `EmbellishmentKind`, and its place in `listed_kinds.py`. Its `work` is
a pure function from what is asked and the free ground to `Worked`. All is in millimetres about the
recipe's origin, x right, y down, seen from the front; the frame moves it to where the project lies.

- Steps are those of any project (`vocabulary/project.py`): `stop_to_stitch` and `by_hand` make
  them. Number, stop and colour are given by the frame, which puts them in their place in the order
  of work. What is laid besides (a patch, batting) is a `Layer` of a step, and its `Piece`, and the
  `Fabric` of that where the project has none of that role, stand in `Worked`.
- A line is a path with stitches spaced along it (`StitchKind.RUN`, `TRIPLE`, ...), or needle
  points: with `StitchKind.AS_DRAWN` the needle goes in at every vertex and nowhere else. They are
  at least 0.4 mm apart. One path is one run, tied in and tied off, and the thread is cut after it.
- What does not fit is a `Finding` (`no_room` of `ground_findings.py`), and no step.
"""

from collections.abc import Callable

from shapely.geometry.base import BaseGeometry

from paramgen.embellishment.kind_options import Embellishment, KindOption
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Role, Side
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Fabric, Layer, Line, Piece, Step, Stitch
from paramgen.vocabulary.unit import Unit


@dataclass(frozen=True, kw_only=True)
class FreeGround:
    """A panel, and where on it there is room.

    Parameters
    ----------
    panel : Layer
        As it lies.
    unit : Unit
        The person's, for sentences.
    seen : Polygon or MultiPolygon
        What of the panel is seen in the end, inside the seam: clearances not yet taken off.
    area : Polygon or MultiPolygon
        Where stitching may lie that must not reach the seam: clear of seams, zips, folds, snaps,
        mouths and of what else is stitched there. May be empty.
    runs_out : Polygon or MultiPolygon
        The same, with so much of the allowance as lines may end in where the panel is trimmed:
        outside the seam, inside the panel's raw edge. What lies outside `seam` is cut off or hidden
        in the allowance.
    seam : Polygon
        Inside the seam line.
    ply : float
        Thickness of what is stitched through at most, mm, the panel's own and what lies under it.
    padded : Polygon or MultiPolygon
        Where something may lie under it and is no bulk: inside the seam, clear of folds and zips.
    sews_through : tuple of str
        Titles of what lies under it and is stitched through, besides the stabiliser.
    on_batting : bool
        Whether batting lies under it already.
    """

    panel: Layer
    unit: Unit
    seen: BaseGeometry
    area: BaseGeometry
    runs_out: BaseGeometry
    seam: BaseGeometry
    ply: float
    padded: BaseGeometry
    sews_through: tuple[str, ...] = ()
    on_batting: bool = False

    @property
    def title(self) -> str:
        """What the panel is called, for sentences: `lower outer`."""
        return self.panel.title


@dataclass(frozen=True, kw_only=True)
class Worked:
    """What a kind gives.

    Parameters
    ----------
    steps : tuple of Step
        In order; they come once the panel lies and is held.
    before : tuple of Step
        In order; they come before the panel is laid: what lies under it.
    pieces : tuple of Piece
        To cut besides.
    fabrics : tuple of Fabric
        What those are; left out where the project has one of that role.
    taken : Polygon, MultiPolygon or None
        Where nothing else may be stitched then; None for a kind that fills what is left.
    findings : tuple of Finding
    """

    steps: tuple[Step, ...] = ()
    before: tuple[Step, ...] = ()
    pieces: tuple[Piece, ...] = ()
    fabrics: tuple[Fabric, ...] = ()
    taken: BaseGeometry | None = None
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, kw_only=True)
class EmbellishmentKind:
    """A kind of embellishment.

    Parameters
    ----------
    name : str
        As it is typed.
    means : str
        What it is, in a few words.
    options : tuple of KindOption
        What may be said after the colon, each with a name of its own.
    work : callable
        From what is asked and the free ground to what is stitched.
    fills : bool
        Whether it takes all ground that is left, so that it is worked out after those that do not,
        and goes round them.
    """

    name: str
    means: str
    options: tuple[KindOption, ...]
    work: Callable[[Embellishment, FreeGround], Worked]
    fills: bool = False


def stop_to_stitch(
    title: str, say: str, name: str, paths: tuple[Path, ...], stitch: Stitch, called: str = ""
) -> Step:
    """A stop of the machine with one line of stitching that is meant to be seen.

    Parameters
    ----------
    title, say : str
        As of any step: a few words, and the sentences the person reads.
    name : str
        Of the line, stable: `quilting`.
    paths : tuple of Path
    stitch : Stitch
    called : str
        What findings call the line; the title unless given.
    """
    line = Line(name, called or title[:1].lower() + title[1:], Role.TOP_STITCH, stitch, paths)
    return stop_of_line(title, say, line)


def stop_of_line(title: str, say: str, line: Line) -> Step:
    """A stop of the machine with any one line, such as a placement line or a tack-down."""
    return Step(
        number=0,
        stop=0,
        act=Act.STITCH,
        title=title,
        say=say,
        seen_from=Side.FRONT,
        lines=(line,),
    )


def by_hand(
    act: Act,
    title: str,
    say: str,
    *,
    layers: tuple[Layer, ...] = (),
    tape: tuple[Path, ...] = (),
    taped: tuple[str, ...] = (),
    mark: tuple[Path, ...] = (),
    pieces: tuple[str, ...] = (),
) -> Step:
    """A step done by hand at the machine: something laid, taped, or trimmed in the hoop."""
    return Step(
        number=0,
        stop=None,
        act=act,
        title=title,
        say=say,
        seen_from=Side.FRONT,
        layers=layers,
        tape=tape,
        taped=taped,
        mark=mark,
        pieces=pieces,
    )
