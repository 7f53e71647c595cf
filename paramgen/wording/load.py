"""The file of sentences of a language."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import field
from functools import lru_cache
from pathlib import Path
from typing import Any

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit


@dataclass(frozen=True, eq=False, kw_only=True)
class Wording:
    """All sentences of a language.

    Parameters
    ----------
    findings : mapping
        By code, or code and variant with a dot between: what `says` it and what would `mend` it.
    clauses : mapping
        Parts of sentences, by key.
    terms : mapping
        Words of closed sets, by group and word.
    severities : mapping
        How bad a finding is, by the value of its severity.
    habits : mapping of unit to mapping
        Words that are others for who measures in that unit.
    forms : mapping
        How a step is named, how the last of several is joined.
    singular_ends : tuple of str
        What the last word of a title ends in that is one thing although it ends in s.
    """

    findings: Mapping[str, Mapping[str, str]]
    clauses: Mapping[str, str]
    terms: Mapping[str, Mapping[str, str]]
    severities: Mapping[str, str]
    habits: Mapping[str, Mapping[str, str]]
    forms: Mapping[str, str]
    singular_ends: tuple[str, ...]
    _patterns: dict[str, re.Pattern[str]] = field(default_factory=dict)

    def sentence(self, code: str, variant: str, part: str) -> str:
        """The sentence for a finding; one for all variants where the variant has none."""
        own = self.findings.get(f"{code}.{variant}", {}) if variant else {}
        return own.get(part, self.findings.get(code, {}).get(part, ""))

    def as_used(self, text: str, unit: Unit) -> str:
        """A text in the words of who measures in a unit; names, as in recipes, stay.

        >>> english().as_used("Zips: open the zip of zip-pouch.", Unit.INCH)
        'Zippers: open the zipper of zip-pouch.'
        """
        words = self.habits.get(unit.value)
        if not words:
            return text
        if unit.value not in self._patterns:
            either = "|".join(map(re.escape, words))
            self._patterns[unit.value] = re.compile(
                rf"{_NO_NAME_BEFORE}({either}){_NO_NAME_AFTER}", re.IGNORECASE
            )
        pattern = self._patterns[unit.value]
        return pattern.sub(lambda found: _cased(words[found[0].lower()], found[0]), text)


#: What a word stands in that is part of a name, a path or a command.
_NO_NAME_BEFORE, _NO_NAME_AFTER = r"(?<![\w`=/.-])", r"(?![\w`=/-]|\.\w)"


def _cased(word: str, like: str) -> str:
    return word[:1].upper() + word[1:] if like[:1].isupper() else word


@lru_cache(maxsize=4)
def wording(language: str) -> Wording:
    """The sentences of a language: those of the file with its name.

    Parameters
    ----------
    language : str
        `english`, or the name of any other file of sentences that lies beside it.
    """
    text = (Path(__file__).parent / f"{language}.toml").read_text(encoding="utf-8")
    data: dict[str, Any] = tomllib.loads(text)
    return Wording(
        findings=_flat(data["findings"]),
        clauses=data["clauses"],
        terms=data["terms"],
        severities=data["severities"],
        habits=data["habits"],
        forms=data["forms"],
        singular_ends=tuple(data["one_though_it_ends_in"]["s"]),
    )


def english() -> Wording:
    """The sentences that come with the program."""
    return wording("english")


def _flat(findings: Mapping[str, Mapping[str, Any]]) -> dict[str, dict[str, str]]:
    """Findings and their variants, each under one name."""
    found: dict[str, dict[str, str]] = {}
    for code, entry in findings.items():
        found[code] = {key: text for key, text in entry.items() if isinstance(text, str)}
        for variant, own in entry.items():
            if not isinstance(own, str):
                found[f"{code}.{variant}"] = dict(own)
    return found
