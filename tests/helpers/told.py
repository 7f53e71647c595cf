"""Findings as a person reads them, for tests that look at their words."""

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from paramgen.geometry.outlines import ShapeError
from paramgen.vocabulary.facts import Facts, Mm, Written, facts
from paramgen.vocabulary.findings import CannotMakeError, Finding, Severity
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


@contextmanager
def cannot(match: str) -> Iterator[None]:
    """What is done cannot be made, and one finding says what matches."""
    with pytest.raises(CannotMakeError) as refusal:
        yield
    said_so = [says(one) for one in refusal.value.findings]
    assert any(re.search(match, one) for one in said_so), said_so


@contextmanager
def no_shape(match: str) -> Iterator[None]:
    """What is done makes no shape, and what is said of it matches."""
    with pytest.raises(ShapeError) as refusal:
        yield
    known = facts(why=refusal.value.why)
    text = says(Finding("shape-impossible", Severity.CANNOT, known))
    assert re.search(match, text), text
