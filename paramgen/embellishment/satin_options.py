"""What may be asked of satin, whatever it is stitched for."""

from paramgen.embellishment.kind_options import MeasureOption
from paramgen.embellishment.satin_column import LEAST_SPACING, MOST_SPACING, PULL, SPACING

DENSITY = MeasureOption(
    name="density",
    means="of satin, from row to row",
    default=SPACING,
    least=LEAST_SPACING,
    most=MOST_SPACING,
)
PULLED = MeasureOption(
    name="pull",
    means="so much wider satin is stitched than it comes out, as stitches draw the cloth together",
    default=PULL,
    least=0.0,
    most=1.0,
)
