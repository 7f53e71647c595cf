"""What is known of a finding, as plain data for plan.json: numbers in millimetres, and names."""

from dataclasses import asdict
from typing import Any

from paramgen.vocabulary.facts import (
    Clause,
    Clauses,
    Degrees,
    Fact,
    Mm,
    MmByMm,
    Name,
    NamesInTurn,
    Position,
    SquareMm,
    StepName,
    Term,
    Written,
)

#: Numbers are written to so many decimals.
DECIMALS = 4


def fact_part(fact: Fact) -> Any:
    """A fact as plain data.

    >>> fact_part(Mm(12.5)), fact_part(3), fact_part(StepName(4, "Seam"))
    ({'mm': 12.5}, 3, {'number': 4, 'title': 'Seam'})
    """
    match fact:
        case NamesInTurn(each=each) | Clauses(each=each):
            return [fact_part(one) for one in each]
        case Clause(key=key, facts=known):
            return {"say": key, "facts": {name: fact_part(one) for name, one in known}}
        case Written(parts=parts):
            return [_part(part) for part in parts]
        case Name() | StepName():
            return asdict(fact)
        case Term(group=group, word=word):
            return {"kind": group, "word": word}
        case int():
            return fact
        case _:
            return _measure(fact)


def _measure(fact: Mm | MmByMm | SquareMm | Degrees | Position) -> dict[str, Any]:
    match fact:
        case Mm(value=value):
            return {"mm": rounded(value)}
        case MmByMm(width=width, height=height):
            return {"mm": [rounded(width), rounded(height)]}
        case SquareMm(value=value):
            return {"square_mm": rounded(value)}
        case Degrees(value=value):
            return {"degrees": rounded(value)}
        case Position(x=x, y=y):
            return {"at": [rounded(x), rounded(y)]}


def _part(part: str | Mm | float | Name) -> Any:
    if isinstance(part, str):
        return part
    return rounded(part) if isinstance(part, int | float) else fact_part(part)


def rounded(value: float) -> float:
    """A number as it stands in plan.json."""
    return round(float(value), DECIMALS) + 0.0  # no -0
