"""What cannot be sewn."""

from paramgen.stitches.spacing import LEAST_STITCH, SAFE_STITCH
from paramgen.stitches.zigzag import LEAST_ADVANCE
from paramgen.vocabulary.facts import Mm, Position, Term, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Line, Step

#: Stitches so long, mm, can always be shared out equally along what is straight: two
#: where one would be too long are both still long enough.
_SURE_LENGTH = 2 * SAFE_STITCH


def corners_too_close(
    step: Step, line: Line, span: float, fewest: int, ends: tuple[Point, Point], *, whole: bool
) -> Finding:
    """Find that there is no room for a stitch between two corners, or on a whole path.

    Parameters
    ----------
    span : float
        Length of path there is, mm.
    fewest : int
        Stitches that must lie on it.
    ends : pair of Point
        The two corners, mm.
    whole : bool
        Whether the path has no other corners.
    """
    need = fewest * SAFE_STITCH
    return Finding(
        code="path-too-short" if whole else "corners-too-close",
        severity=Severity.CANNOT,
        facts=facts(
            line=line.called,
            **_ends(ends),
            span=Mm(span),
            stitches=fewest,
            least=Mm(LEAST_STITCH),
            needs=Mm(need),
        ),
        amount=need - span,
        place=ends,
        step=step.number,
    )


def no_even_stitch(step: Step, line: Line, span: float, ends: tuple[Point, Point]) -> Finding:
    """Find that no number of equal stitches keeps both limits between two corners."""
    length = line.stitch.length
    return Finding(
        code="no-even-stitches",
        severity=Severity.CANNOT,
        facts=facts(
            line=line.called,
            length=Mm(length),
            least=Mm(LEAST_STITCH),
            **_ends(ends),
            span=Mm(span),
            needs=Mm(max(_SURE_LENGTH, length + 0.2)),
        ),
        variant="too-short" if length < LEAST_STITCH else "",
        amount=max(0.0, _SURE_LENGTH - length) or None,
        place=ends,
        step=step.number,
    )


def no_zigzag(step: Step, line: Line) -> Finding:
    """Find that a zigzag has no width, or that it does not advance."""
    stitch = line.stitch
    return Finding(
        code="zigzag-without-swing",
        severity=Severity.CANNOT,
        facts=facts(
            line=line.called,
            kind=Term("stitch", stitch.kind.value),
            advance=Mm(LEAST_ADVANCE),
            swing=Mm(stitch.swing),
            spacing=Mm(stitch.spacing),
        ),
        step=step.number,
    )


def zigzag_too_narrow(step: Step, line: Line, ends: tuple[Point, Point]) -> Finding:
    """Find that stitches of a zigzag come out too short, after the first of two corners."""
    swing = line.stitch.swing
    # So wide it has no short stitches but in the tightest curves: those from a corner on the
    # line to a side go half of it, or all of it if that is the one side.
    safe = SAFE_STITCH if line.stitch.outward else 2 * SAFE_STITCH
    return Finding(
        code="zigzag-too-narrow",
        severity=Severity.CANNOT,
        facts=facts(
            line=line.called,
            swing=Mm(swing),
            spacing=Mm(line.stitch.spacing),
            least=Mm(LEAST_STITCH),
            **_ends(ends),
            safe=Mm(safe),
        ),
        variant="" if swing < safe else "in-a-curve",
        amount=max(0.0, safe - swing) or None,
        place=ends,
        step=step.number,
    )


def _ends(ends: tuple[Point, Point]) -> dict[str, Position]:
    return {"start": Position(*ends[0]), "end": Position(*ends[1])}
