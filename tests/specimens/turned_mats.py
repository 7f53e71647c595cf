"""A small mat, turned through a gap, to lay flaps, lines and hardware on one at a time.

100 × 60 mm finished, its middle at the origin: the finished edge lies at x = ±50 and y = ±30, and
the seam line 1 mm outside it. It is trimmed 5 mm outside the seam, and its pieces are cut 10 mm
past it unless a test says otherwise.
"""

from dataclasses import dataclass, replace

from layout_orders import recipe_of

from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.layout.lay_out import lay_out
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import COARSE
from paramgen.sizing import size
from paramgen.vocabulary.kinds import Side
from paramgen.vocabulary.path import Point
from paramgen.vocabulary.project import Held, Project
from paramgen.vocabulary.unit import Unit

MAT = """
format = 1
title = "Mat"
summary = "A mat to set one seed tray on."
sizes.width = {{ means = "finished width", default = "100mm", least = "50mm", most = "300mm" }}
sizes.height = {{ means = "finished height", default = "60mm", least = "40mm", most = "300mm" }}

[fabrics.outer]
kind = "quilting-cotton"

[outlines.finished]
shape = "rectangle"
width = "width"
height = "height"

[outlines.seam]
shape = "outset"
of = "finished"
by = "1"

[outlines.trimmed]
shape = "outset"
of = "seam"
by = "5"

[pieces.work]
title = "work"
fabric = "outer"
around = "seam"
past = "{past}"

[pieces.closing]
title = "closing piece"
fabric = "outer"
around = "seam"
past = "{past}"

[lines.seam]
title = "seam"
role = "seam"
along = "seam"
gaps = [{{ edge = "{gap}", length = "40" }}]

{parts}

[[steps]]
title = "Lay the work"
lay = [{{ piece = "work", side = "front", up = "{work_up}" }}]
say = "Lay it over the middle."

{steps}

[[steps]]
title = "Lay the closing piece"
lay = [{{ piece = "closing", side = "{side}", up = "{closing_up}" }}]
say = "Lay it over the middle, right sides together."

{late}

[[steps]]
title = "Seam"
stitch = ["seam"]
say = "Stitch all round but for the gap."

[[steps]]
title = "Take out"
do = "take out of the hoop"
say = "Take the work out of the hoop."

[[steps]]
title = "Trim"
do = "trim"
mark = ["trimmed"]
say = "Trim it."

[[steps]]
title = "Turn"
do = "turn right side out"
say = "Turn it right side out."

{after}

[finish]
way = "turned"
finished = "finished"
seam = "seam"
between = ["work", "closing"]
pulled_over = [{pulled_over}]
stands_out = [{stands_out}]
folds = [{folds}]
"""

RIBBON = '[fabrics.ribbon]\nkind = "ribbon"\n'

RING = '[outlines.ring]\nshape = "inset"\nof = "finished"\nby = "{}"\n'

TOP_STITCH = """
[[steps]]
title = "Top-stitch"
do = "top-stitch"
mark = ["ring"]
say = "Top-stitch all round."
"""


@dataclass(frozen=True)
class Part:
    """Something laid on the mat or stitched into it: its tables, and its step."""

    tables: str
    step: str


def pocket(name: str, mouth: float = 0.0, *, plies: int = 2, keys: str = "", up: str = "right",
           reaches: float = 10.0) -> Part:  # fmt: skip
    """A pocket caught at both sides and the bottom, its mouth at that y: folded, or one ply.

    One ply has a hem of 8 mm at its mouth.
    """
    high, wide = 31.0 + reaches - mouth, 2 * (51.0 + reaches)
    fold = 'fold = "half"' if plies == 2 else 'fold = "hem", turn = "8"'
    return Part(
        f'[pieces.{name}]\ntitle = "{name}"\nfabric = "outer"\nwidth = "{wide}"\n'
        f'height = "{high}"\nfolds = [{{ {fold}, along = "height" }}]\n{keys}\n',
        f'[[steps]]\ntitle = "Lay {name}"\nlay = [{{ piece = "{name}", side = "SIDE", '
        f'up = "{up}", fold = "top", top = "{mouth}", middle = "0" }}]\nsay = "Lay it there."\n',
    )


def tab(name: str, y: float = 0.0) -> Part:
    """A ribbon 20 mm wide at the right: folded, its raw ends 7 mm past the seam line at x = 51.

    It is 27 mm long: in the hoop its fold lies at x = 51 + 7 - 27 = 31.
    """
    return Part(
        f'[pieces.{name}]\ntitle = "{name}"\nfabric = "ribbon"\nwidth = "27"\nheight = "20"\n'
        'folds = [{ fold = "half", along = "width" }]\ntwo_sided = true\nfrays = false\n',
        f'[[steps]]\ntitle = "Lay {name}"\nlay = [{{ piece = "{name}", side = "SIDE", '
        f'up = "right", fold = "left", left = "31", centre = "{y}" }}]\nsay = "Lay it there."\n',
    )


def stitched(name: str, role: str, *points: Point, keys: str = "") -> Part:
    """A line through these points."""
    way = ", ".join(f'["{x}", "{y}"]' for x, y in points)
    return Part(
        f'[lines.{name}]\ntitle = "{name}"\nrole = "{role}"\npoints = [[{way}]]\n{keys}\n',
        f'[[steps]]\ntitle = "Stitch {name}"\nstitch = ["{name}"]\nsay = "Stitch it."\n',
    )


def sewn_by_hand(*pieces: str) -> str:
    """A step that sews the gap by hand, through these pieces."""
    named = ", ".join(f'"{one}"' for one in pieces)
    return (
        f'[[steps]]\ntitle = "Close the gap"\ndo = "sew by hand"\npieces = [{named}]\n'
        'say = "Sew it."\n'
    )


def mat(
    *parts: Part,
    closing: Side = Side.FRONT,
    pulled_over: tuple[str, ...] = (),
    stands_out: tuple[str, ...] = (),
    folds: str = "",
    past: float = 10.0,
    stitched_in: float = 2.0,
    gap: str = "top",
    late: tuple[Part, ...] = (),
    after: str = TOP_STITCH,
) -> Project:
    """Lay a mat out: the closing piece in front of the work in the hoop, or behind it.

    What is `late` is stitched when the closing piece lies there.
    """
    behind = closing == "back"
    tables = [part.tables for part in (*parts, *late)]
    ribbon = any('fabric = "ribbon"' in one for one in tables)
    ring = any('"ring"' in one for one in (after, *tables))
    text = MAT.format(
        parts="\n".join([RIBBON * ribbon, RING.format(stitched_in) * ring, *tables]),
        steps="\n".join(part.step.replace("SIDE", closing) for part in parts),
        late="\n".join(part.step for part in late),
        side=closing,
        # Right sides together: the work's looks to where the closing piece is laid.
        work_up="wrong" if behind else "right",
        closing_up="right" if behind else "wrong",
        past=past,
        gap=gap,
        after=after,
        pulled_over=", ".join(f'"{one}"' for one in pulled_over),
        stands_out=", ".join(f'"{one}"' for one in stands_out),
        folds=folds,
    )
    return lay_out(size(recipe_of(text, "mat"), {}, unit=Unit.MM), chord_error=COARSE)


def finished(project: Project, *holds: Held, pulled_over: bool = True) -> FinishedThing:
    """Turn a project out, with what it is to hold."""
    return finish(work_through(replace(project, holds=holds)), pulled_over=pulled_over)
