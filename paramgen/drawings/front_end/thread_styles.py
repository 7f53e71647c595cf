"""How stitching is drawn: as the line it follows, or, where it is sewn as drawn, as its thread."""

from paramgen.drawings.primitives.items import Style
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.project import Line


def stitched_style(line: Line, *, now: bool = False) -> Style:
    """The style of a stitched line, in the step that stitches it or later."""
    if line.stitch.kind is StitchKind.AS_DRAWN:
        return Style.THREAD_NOW if now else Style.THREAD
    return Style.STITCHED_NOW if now else Style.STITCHED_BEFORE
