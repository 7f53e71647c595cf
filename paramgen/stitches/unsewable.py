"""What cannot be sewn, said to the person."""

from paramgen.stitches.spacing import LEAST_STITCH, SAFE_STITCH
from paramgen.stitches.zigzag import LEAST_ADVANCE
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
    stitches = f"{fewest} stitches" if fewest > 1 else "a stitch"
    if whole:
        what, mend = f"a path at {_place(ends[0])}", "Make the path"
    else:
        what = f"the path between two corners, {_place(ends[0])} and {_place(ends[1])},"
        mend = "Move the corners apart to"
    return Finding(
        code="path-too-short" if whole else "corners-too-close",
        severity=Severity.CANNOT,
        message=(
            f"{line.title}: {what} is {span:.2f} mm long, too short for {stitches}; on the "
            f"0.1 mm grid of stitch files none may be under {LEAST_STITCH} mm."
        ),
        remedy=f"{mend} at least {need:.1f} mm, or leave it out.",
        amount=need - span,
        place=ends,
        step=step.number,
    )


def no_even_stitch(step: Step, line: Line, span: float, ends: tuple[Point, Point]) -> Finding:
    """Find that no number of equal stitches keeps both limits between two corners."""
    length = line.stitch.length
    if length < LEAST_STITCH:
        why = f"a stitch length of {length:g} mm is under the least of {LEAST_STITCH} mm."
    else:
        why = (
            f"{span:.1f} mm from {_place(ends[0])} to {_place(ends[1])} cannot be shared out into "
            f"equal stitches between {LEAST_STITCH} mm and {length:g} mm on the 0.1 mm grid of "
            f"stitch files."
        )
    return Finding(
        code="no-even-stitches",
        severity=Severity.CANNOT,
        message=f"{line.title}: {why}",
        remedy=f"Set a stitch length of {max(_SURE_LENGTH, length + 0.2):.1f} mm or more.",
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
        message=(
            f"{line.title}: the zigzag of a {stitch.kind} must be wider than 0 and advance by "
            f"{LEAST_ADVANCE} mm or more; its swing is {stitch.swing:g} mm and its spacing "
            f"{stitch.spacing:g} mm."
        ),
        remedy="Set both, or take a kind of stitch without a zigzag.",
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
        message=(
            f"{line.title}: a zigzag {swing:g} mm wide that advances {line.stitch.spacing:g} mm "
            f"has stitches under {LEAST_STITCH} mm after {_place(ends[0])}."
        ),
        remedy=(
            f"Set a swing of {safe:.1f} mm or more."
            if swing < safe
            else "Make the curve there wider, or set another swing or spacing."
        ),
        amount=max(0.0, safe - swing) or None,
        place=ends,
        step=step.number,
    )


def _place(point: Point) -> str:
    return f"x {point[0]:.1f} mm, y {point[1]:.1f} mm"
