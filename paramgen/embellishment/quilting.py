"""Quilting: rows over the whole of a panel, so far apart, whatever its size.

Rows run out into the allowance wherever the panel is trimmed, where one leads on to the next
unseen; they are tied off before any other edge. Echoes and stippling keep within the seam.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

from paramgen.embellishment.embellishment_kind import (
    EmbellishmentKind,
    FreeGround,
    Worked,
    stop_to_stitch,
)
from paramgen.embellishment.ground_findings import batting_would_show, no_room
from paramgen.embellishment.kind_options import Embellishment, MeasureOption, WordOption
from paramgen.embellishment.quilted_batting import batting_under
from paramgen.embellishment.quilting_echo import echoes
from paramgen.embellishment.quilting_rows import joined_rows, rows
from paramgen.embellishment.quilting_stippling import stipple
from paramgen.embellishment.quilting_takes_up import takes_up
from paramgen.lengths import show_both
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.path import Path
from paramgen.vocabulary.project import Stitch

PATTERN = WordOption(
    name="pattern",
    words=MappingProxyType(
        {
            "parallel": "rows that run one way",
            "crossed": "rows that cross at right angles",
            "diamond": "rows that cross at 60°, in diamonds",
            "echo": "lines that follow the outline, each inside the one before",
            "stippling": "one line that wanders and never crosses itself",
        }
    ),
    also=MappingProxyType(
        {
            "lines": "parallel",
            "rows": "parallel",
            "straight": "parallel",
            "grid": "crossed",
            "cross": "crossed",
            "crosshatch": "crossed",
            "diamonds": "diamond",
            "echoes": "echo",
            "stipple": "stippling",
            "meander": "stippling",
        }
    ),
)
DIRECTION = WordOption(
    name="direction",
    words=MappingProxyType(
        {
            "upright": "from top to bottom",
            "level": "from side to side",
            "diagonal": "at 45°, rising to the right",
        }
    ),
    also=MappingProxyType(
        {"vertical": "upright", "horizontal": "level", "bias": "diagonal", "slanted": "diagonal"}
    ),
)
PADDING = WordOption(
    name="padding",
    words=MappingProxyType(
        {"no batting": "nothing but what lies there", "batting": "a layer of batting under it"}
    ),
    also=MappingProxyType(
        {"without batting": "no batting", "with batting": "batting", "padded": "batting"}
    ),
)
SPACING = MeasureOption(
    name="spacing",
    means="from row to row",
    default=20.0,
    least=4.0,
    most=150.0,
    bare=True,
)
STITCH = MeasureOption(name="stitch", means="length of a stitch", default=None, least=1.5, most=5.0)
#: A little longer than a seam's, as it is to be seen; in the turns of stippling no longer than
#: shows them round, mm (common practice, no source).
STITCH_OF_ROWS, STITCH_OF_STIPPLING = 2.8, 1.8

#: Of rows from level, degrees clockwise as seen: those of each direction.
_ANGLES: Mapping[str, float] = MappingProxyType({"upright": 90.0, "level": 0.0, "diagonal": -45.0})


def quilting(asked: Embellishment, ground: FreeGround) -> Worked:
    """Quilt all of the ground."""
    spacing = asked.measure(SPACING)
    assert spacing is not None
    paths = _PATTERNS[asked.word(PATTERN)](asked, ground, spacing)
    if not paths:
        return Worked(findings=(no_room(asked, ground, what="a row of quilting"),))
    usual = STITCH_OF_STIPPLING if asked.word(PATTERN) == "stippling" else STITCH_OF_ROWS
    stitch = Stitch(StitchKind.RUN, asked.measure(STITCH) or usual)
    step = stop_to_stitch(
        f"Quilt the {ground.title}",
        _say(asked, ground, spacing),
        "quilting",
        paths,
        stitch,
        called=f"quilting of the {ground.title}",
    )
    batting = Worked()
    if asked.word(PADDING) == "batting" and not ground.on_batting:
        if ground.panel.plies > 1 and not ground.sews_through:
            return Worked(findings=(batting_would_show(asked, ground),))
        batting = batting_under(ground)
    thick = ground.ply + sum(fabric.ply[1] for fabric in batting.fabrics)
    said = takes_up(ground, spacing, thick)
    return replace(batting, steps=(step,), findings=(said,) if said else ())


def _parallel(asked: Embellishment, ground: FreeGround, spacing: float) -> tuple[Path, ...]:
    return _rows(ground, [_ANGLES[asked.word(DIRECTION)]], spacing)


def _crossed(asked: Embellishment, ground: FreeGround, spacing: float) -> tuple[Path, ...]:
    angle = _ANGLES[asked.word(DIRECTION)]
    return _rows(ground, [angle, angle + 90.0], spacing)


def _diamond(asked: Embellishment, ground: FreeGround, spacing: float) -> tuple[Path, ...]:
    angle = _ANGLES[asked.word(DIRECTION)]
    return _rows(ground, [angle - 30.0, angle + 30.0], spacing)


def _echo(asked: Embellishment, ground: FreeGround, spacing: float) -> tuple[Path, ...]:
    del asked
    return echoes(ground.area, spacing)


def _stippling(asked: Embellishment, ground: FreeGround, spacing: float) -> tuple[Path, ...]:
    del asked
    return stipple(ground.area, spacing)


def _rows(ground: FreeGround, angles: list[float], spacing: float) -> tuple[Path, ...]:
    within = ground.runs_out & ground.seam
    return tuple(
        run
        for angle in angles
        for run in joined_rows(
            rows(ground.runs_out, within, angle, spacing), ground.runs_out, ground.seam, spacing
        )
    )


_PATTERNS: Mapping[str, Callable[[Embellishment, FreeGround, float], tuple[Path, ...]]] = (
    MappingProxyType(
        {
            "parallel": _parallel,
            "crossed": _crossed,
            "diamond": _diamond,
            "echo": _echo,
            "stippling": _stippling,
        }
    )
)


def _say(asked: Embellishment, ground: FreeGround, spacing: float) -> str:
    pattern = asked.word(PATTERN)
    how = PATTERN.words[pattern]
    also = ""
    if ground.sews_through:
        also = f" It goes through the {' and the '.join(ground.sews_through)} as well."
    return (
        f"Stitch the quilting over the {ground.title}: {how}, {show_both(spacing, ground.unit)} "
        f"apart. Smooth the {ground.title} from its middle outwards first, and watch that it does "
        f"not creep in front of the foot.{also}"
    )


QUILTING = EmbellishmentKind(
    name="quilting",
    means="rows of stitching over the whole panel, evenly apart",
    options=(PATTERN, DIRECTION, PADDING, SPACING, STITCH),
    work=quilting,
    fills=True,
)
