"""A value written as a person types it."""

from collections.abc import Iterator

from paramgen.lengths import INCH, TOLERANCE, parse_length, show
from paramgen.vocabulary.unit import Unit


def typed(value: float | str, unit: Unit) -> str:
    """A value as it is typed and read back without loss."""
    if isinstance(value, str):
        return value
    shown: list[str] = [show(value, unit), *(_finer_inches(value) if unit is Unit.INCH else ())]
    for text in shown:
        if abs(parse_length(text, zero=True) - value) <= TOLERANCE:
            return text.replace(" mm", "mm").replace(" in", "in")
    return f"{value:.4f}".rstrip("0").rstrip(".") + "mm"


def _finer_inches(value: float) -> Iterator[str]:
    """Inches as on a ruler of finer marks, and in decimals."""
    yield from (show(value, Unit.INCH, denominator=marks) for marks in (32, 64))
    yield from (f"{value / INCH:.{places}f} in" for places in range(1, 5))
