"""Lay the courses of all lines at once: how many stitches where, and what cannot be."""

from collections.abc import Sequence

import numpy as np

from paramgen.stitches.path_ruler import PathRuler, RulerCorners, counted, lay_out
from paramgen.stitches.spacing import (
    HAIR,
    LEAST_STITCH,
    SAFE_STITCH,
    even_stitches_fit,
    fewest_stitches,
    share_out,
    stitch_counts,
)
from paramgen.stitches.stitch_kinds import Course
from paramgen.stitches.unsewable import (
    corners_too_close,
    no_even_stitch,
    no_zigzag,
    zigzag_too_narrow,
)
from paramgen.stitches.zigzag import LEAST_ADVANCE, asides, notches, short_swings
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.path import BoolArray, FloatArray, IntArray, Path
from paramgen.vocabulary.project import Line, Step

#: A closed path may begin at up to this many of its corners, evenly picked.
_STARTS = 4


@dataclass(frozen=True)
class PathToSew:
    """One path to sew, and whose it is.

    Parameters
    ----------
    stop : int
        Which of the stitched steps it belongs to, from 0.
    step : Step
    line : Line
    path : Path
    """

    stop: int
    step: Step
    line: Line
    path: Path


def about(job: PathToSew) -> int:
    """About how many stitches a path takes; at least half as many."""
    stitch, corners = job.line.stitch, len(job.path.corners)
    if stitch.kind is StitchKind.AS_DRAWN:
        return len(job.path.points)
    along = job.path.length / max(stitch.length, LEAST_STITCH) + corners
    over = job.path.length / max(stitch.spacing, LEAST_ADVANCE) + corners
    passes = {StitchKind.DOUBLE: 2 * along, StitchKind.TRIPLE: 3 * along, StitchKind.ZIGZAG: over}
    return round(passes.get(stitch.kind, along + (over if stitch.kind is StitchKind.SEAM else 0.0)))


@dataclass(frozen=True, eq=False)
class CoursesLaid:
    """What is to be sewn, as places along a ruler.

    Parameters
    ----------
    ruler : PathRuler
    jobs : tuple of PathToSew
        Those that can be sewn, in the order given.
    courses : tuple of Course
        One for each job.
    findings : tuple of Finding
        Why the other jobs cannot be sewn.
    """

    ruler: PathRuler
    jobs: tuple[PathToSew, ...]
    courses: tuple[Course, ...]
    findings: tuple[Finding, ...]


def lay_courses(jobs: Sequence[PathToSew]) -> CoursesLaid:
    """Space the stitches of every path.

    Parameters
    ----------
    jobs : sequence of PathToSew
        At least one.
    """
    drawn = [job.line.stitch.kind is StitchKind.AS_DRAWN for job in jobs]
    ruler, corners = lay_out([job.path for job in jobs], drawn)
    spacing = _space(ruler, corners, jobs)
    findings, bad = _refusals(ruler, corners, jobs, spacing)
    out, over, aside = spacing.out.tolist(), spacing.over.tolist(), spacing.aside.tolist()
    out_heads, over_heads = spacing.out_heads.tolist(), spacing.over_heads.tolist()
    ends = np.flatnonzero(corners.last).tolist()
    kept, courses, first = [], [], 0
    for index, (job, last) in enumerate(zip(jobs, ends, strict=True)):
        if index not in bad:
            here = slice(out_heads[first], out_heads[last] + 1)
            there = slice(over_heads[first], over_heads[last] + 1)
            starts = range(first, last, -(-(last - first) // _STARTS))
            kept.append(job)
            courses.append(
                Course(
                    kind=job.line.stitch.kind,
                    closed=job.path.closed,
                    out=out[here],
                    over=over[there],
                    aside=aside[there],
                    starts=tuple(
                        (out_heads[at] - here.start, over_heads[at] - there.start) for at in starts
                    ),
                )
            )
        first = last + 1
    return CoursesLaid(ruler, tuple(kept), tuple(courses), tuple(findings))


@dataclass(frozen=True, eq=False, kw_only=True)
class _Asked:
    """How it is to be sewn after each corner."""

    length: FloatArray
    swing: FloatArray
    advance: FloatArray
    run: BoolArray
    double: BoolArray
    zigzag: BoolArray
    outward: BoolArray

    @property
    def swings(self) -> BoolArray:
        """Whether a zigzag has the swing and the advance it needs."""
        return self.zigzag & (self.swing > 0) & (self.advance >= LEAST_ADVANCE - HAIR)


@dataclass(frozen=True, eq=False, kw_only=True)
class _Spacing:
    """Needle places of all jobs, and after which corners they break a limit."""

    out: FloatArray
    out_heads: IntArray
    over: FloatArray
    over_heads: IntArray
    aside: FloatArray
    fewest: IntArray
    uneven: BoolArray
    unswung: BoolArray
    narrow: BoolArray


def _asked(corners: RulerCorners, jobs: Sequence[PathToSew]) -> _Asked:
    stitches = [job.line.stitch for job in jobs]
    kinds = [stitch.kind for stitch in stitches]
    return _Asked(
        length=np.array(
            [np.inf if one.kind is StitchKind.AS_DRAWN else one.length for one in stitches]
        )[corners.path],
        swing=np.array([stitch.swing for stitch in stitches])[corners.path],
        advance=np.array([stitch.spacing for stitch in stitches])[corners.path],
        run=np.array([kind is not StitchKind.ZIGZAG for kind in kinds])[corners.path],
        double=np.array([kind is StitchKind.DOUBLE for kind in kinds])[corners.path],
        zigzag=np.array([kind in (StitchKind.ZIGZAG, StitchKind.SEAM) for kind in kinds])[
            corners.path
        ],
        outward=np.array([stitch.outward for stitch in stitches])[corners.path],
    )


def _space(ruler: PathRuler, corners: RulerCorners, jobs: Sequence[PathToSew]) -> _Spacing:
    asked = _asked(corners, jobs)
    fewest = fewest_stitches(ruler, corners)
    longest = np.where(asked.run, asked.length, np.inf)
    counts, fits = stitch_counts(ruler, corners, longest, fewest)
    parts = np.maximum(counts, 1)
    out, out_heads = share_out(
        corners.reading,
        corners.span / parts,
        np.ones(len(parts)),
        np.where(asked.run, parts - 1, 0),
    )

    beside = asked.double & ~corners.last
    beside[beside] = even_stitches_fit(
        ruler,
        corners.reading[beside],
        corners.span[beside],
        parts[beside],
        asked.length[beside],
        middles=True,
    )
    advance = np.where(asked.swings, asked.advance, np.inf)
    crossings = np.maximum(np.ceil(corners.span / advance - HAIR), fewest).astype(np.intp)
    # Outward the corners are inner points: it comes back to the line as often as it leaves.
    crossings += np.where(asked.outward, crossings % 2, 0)
    between = np.where(asked.zigzag, crossings - asked.outward, parts - ~beside)
    between[corners.last | ~(asked.zigzag | asked.double)] = 0
    over, over_heads = share_out(
        corners.reading,
        corners.span / np.where(asked.zigzag, crossings, parts),
        np.where((asked.zigzag & ~asked.outward) | beside, 0.5, 1.0),
        between,
    )
    steep = notches(ruler, corners, np.array([job.path.closed for job in jobs]))
    swing = np.where(asked.swings, asked.swing, 0.0)
    aside = asides(corners, between, swing, asked.outward, steep)
    unswung = asked.zigzag & ~asked.swings
    _, corner = counted(between + 1)
    short = short_swings(ruler, over, aside, asked.advance[corner])
    narrow = np.zeros(len(between), dtype=bool)
    narrow[corner[:-1][short & asked.swings[corner[:-1]]]] = True
    narrow &= ~corners.last
    return _Spacing(
        out=out,
        out_heads=out_heads,
        over=over,
        over_heads=over_heads,
        aside=aside,
        fewest=fewest,
        uneven=~fits,
        unswung=unswung,
        narrow=narrow,
    )


def _refusals(
    ruler: PathRuler, corners: RulerCorners, jobs: Sequence[PathToSew], spacing: _Spacing
) -> tuple[list[Finding], set[int]]:
    """Say what cannot be sewn, line by line, and which jobs that leaves out."""
    findings, bad = [], set()
    for at in np.flatnonzero(spacing.uneven | spacing.unswung | spacing.narrow).tolist():
        index = int(corners.path[at])
        job, span = jobs[index], float(corners.span[at])
        first, last = ruler.at(corners.reading[at : at + 2] if span else corners.reading[[at, at]])
        ends = ((float(first[0]), float(first[1])), (float(last[0]), float(last[1])))
        fewest = int(spacing.fewest[at])
        if spacing.unswung[at]:
            if index not in bad:
                findings.append(no_zigzag(job.step, job.line))
        elif spacing.uneven[at] and span < fewest * SAFE_STITCH:
            whole = len(np.flatnonzero(corners.path == index)) == 2
            findings.append(corners_too_close(job.step, job.line, span, fewest, ends, whole=whole))
        elif spacing.uneven[at]:
            findings.append(no_even_stitch(job.step, job.line, span, ends))
        else:
            findings.append(zigzag_too_narrow(job.step, job.line, ends))
        bad.add(index)
    return findings, bad
