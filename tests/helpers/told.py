"""Findings as a person reads them, for tests that look at their words."""

from paramgen.vocabulary.facts import Facts, Mm, Written, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said


def says(finding: Finding, unit: Unit = Unit.MM) -> str:
    """What is wrong."""
    return said(finding, unit)[0]


def mends(finding: Finding, unit: Unit = Unit.MM) -> str:
    """What would mend it; empty if nothing is known to."""
    return said(finding, unit)[1]


def words(*parts: str | Mm, remedy: str = "") -> Facts:
    """Facts of a finding that says just that, as a recipe's own condition does."""
    return facts(says=Written(parts), remedy=Written((remedy,)) if remedy else None)


def reason(*parts: str | Mm) -> Finding:
    """A finding that says just that."""
    return Finding("recipe-condition", Severity.CANNOT, words(*parts))
