"""The file of sentences: it has one for all that can be found, and none that is not."""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from told import mends, says

from paramgen.vocabulary.facts import (
    Clause,
    Clauses,
    Mm,
    MmByMm,
    Name,
    NamesInTurn,
    StepName,
    facts,
)
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english
from paramgen.wording.sentence_template import fields, template

PACKAGE = Path(__file__).resolve().parents[1] / "paramgen"
TREES = {
    file.relative_to(PACKAGE).as_posix(): ast.parse(file.read_text("utf-8"))
    for file in sorted(PACKAGE.rglob("*.py"))
}
WORDS = english()
#: What stands for a part that is filled in when the program runs.
FILLED = "\0"


def calls(tree: ast.AST, name: str) -> Iterator[ast.Call]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == name:
            yield node


def argument(call: ast.Call, place: int, name: str) -> ast.expr | None:
    if len(call.args) > place:
        return call.args[place]
    return next((one.value for one in call.keywords if one.arg == name), None)


def texts(node: ast.AST | None) -> Iterator[str]:
    """Texts that may come of an expression; what is filled in stands as `FILLED`."""
    match node:
        case ast.Constant(value=str(text)):
            yield text
        case ast.JoinedStr(values=parts):
            yield "".join(
                str(part.value) if isinstance(part, ast.Constant) else FILLED for part in parts
            )
        case ast.IfExp(body=one, orelse=other):
            yield from (*texts(one), *texts(other))


#: Every text of the program, to look for what is chosen far from where it is used.
TEXTS = frozenset(
    text for tree in TREES.values() for node in ast.walk(tree) for text in texts(node)
)


@cache
def patterns(among: frozenset[str]) -> re.Pattern[str]:
    """What texts come to that look like a code and are filled in."""
    filled = sorted(one for one in among if re.fullmatch(rf"[a-z-]*-{FILLED}", one))
    return re.compile("|".join(one.replace(FILLED, ".+") for one in filled) or "$.")


def matched(key: str, among: frozenset[str]) -> bool:
    """Whether a key is one of some texts, whatever is filled in."""
    return key in among or bool(patterns(among).fullmatch(key))


CONSTANTS = {
    target.id: str(node.value.value)
    for tree in TREES.values()
    for node in ast.walk(tree)
    if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
    for target in node.targets
    if isinstance(target, ast.Name)
}


def codes_in(tree: ast.AST) -> set[str]:
    """Codes of findings as a module makes them; of one that is chosen elsewhere all texts."""
    found: set[str] = set()
    for call in calls(tree, "Finding"):
        code = argument(call, 0, "code")
        if isinstance(code, ast.Name):
            every = {text for node in ast.walk(tree) for text in texts(node)}
            found |= {CONSTANTS[code.id]} if code.id in CONSTANTS else every & set(WORDS.findings)
        else:
            found |= set(texts(code))
    return found


@cache
def codes() -> frozenset[str]:
    """Codes of findings as the program makes them."""
    return frozenset(code for tree in TREES.values() for code in codes_in(tree))


def of_code(key: str) -> str:
    return key.partition(".")[0]


def variant_of(key: str) -> str:
    return key.partition(".")[2]


def test_every_code_has_a_sentence() -> None:
    said = {of_code(key) for key, entry in WORDS.findings.items() if "says" in entry}
    plain = {code for code in codes() if FILLED not in code}
    assert len(plain) > 80
    assert sorted(plain - said) == []
    filled = {code for code in codes() if FILLED in code}
    assert all(any(matched(key, frozenset({code})) for key in said) for code in filled)


def test_every_sentence_is_of_a_code_and_a_variant_of_the_program() -> None:
    assert [key for key in WORDS.findings if not matched(of_code(key), codes())] == []
    variants = {variant_of(key) for key in WORDS.findings} - {""}
    assert sorted(variants - TEXTS) == []


def test_every_variant_named_beside_its_code_has_a_sentence() -> None:
    lacking = []
    for tree in TREES.values():
        for call in calls(tree, "Finding"):
            code = "".join(texts(argument(call, 0, "code")))
            for variant in texts(argument(call, 3, "variant")) if code in WORDS.findings else ():
                key = f"{code}.{variant}" if variant else code
                if FILLED not in key and key not in WORDS.findings:
                    lacking.append(key)
    assert lacking == []


def test_every_clause_and_every_word_of_a_closed_set_is_there_and_used() -> None:
    used = {
        text
        for tree in TREES.values()
        for call in calls(tree, "Clause")
        for text in texts(argument(call, 0, "key"))
    }
    assert sorted(key for key in used if FILLED not in key and key not in WORDS.clauses) == []
    assert [key for key in WORDS.clauses if not matched(key, TEXTS)] == []
    words = {
        (str(group.value), word)
        for tree in TREES.values()
        for call in calls(tree, "Term")
        for group in [argument(call, 0, "group")]
        if isinstance(group, ast.Constant)
        for word in texts(argument(call, 1, "word"))
    }
    assert sorted(one for one in words if one[1] not in WORDS.terms[one[0]]) == []
    groups = {
        call.args[0].value
        for tree in TREES.values()
        for call in calls(tree, "Term")
        if call.args and isinstance(call.args[0], ast.Constant)
    }
    assert set(WORDS.terms) == groups


def test_every_field_of_a_sentence_is_a_fact_that_its_room_gives() -> None:
    given: dict[str, set[str]] = defaultdict(set)
    raised: dict[str, set[str]] = defaultdict(set)
    for room, tree in TREES.items():
        for call in calls(tree, "facts"):
            given[room] |= {one.arg for one in call.keywords if one.arg}
            for one in call.keywords:
                if one.arg is None:  # both ends of a path
                    given[room] |= {"start", "end"}
        own = frozenset(codes_in(tree))
        for key in WORDS.findings:
            if matched(of_code(key), own):
                raised[of_code(key)].add(room)
    lacking = []
    for key, entry in WORDS.findings.items():
        known = set().union(*(given[room] for room in raised[of_code(key)]))
        for part in ("says", "mend"):
            lacking += [
                f"{key}: {field.name}"
                for field, needed in fields(template(entry.get(part, "")))
                if needed and field.name not in known
            ]
    assert lacking == [], "give these `facts` where it is found, or do without them in english.toml"


def test_every_field_of_what_makes_no_shape_is_given_with_it() -> None:
    raised = [call for tree in TREES.values() for call in calls(tree, "ShapeError")]
    assert len(raised) > 30
    lacking = []
    for call in raised:
        given = {one.arg for one in call.keywords}
        for key in texts(call.args[0]):
            wanted = {one.name for one, needed in fields(template(WORDS.clauses[key])) if needed}
            lacking += [f"{key}: {one}" for one in wanted ^ given]
    assert lacking == []


KNOWN = facts(
    thing=Name("thing", "a", "reading glasses"),
    size=MmByMm(150.0, 50.0),
    piece=Name("piece", "p", "pocket"),
    ease=Mm(2.0),
    largest=MmByMm(149.96, 50.0),
    lacks=Mm(0.04),
)


def test_a_verb_goes_by_what_does_it() -> None:
    glasses = Finding("does-not-fit", Severity.CANNOT, KNOWN)
    assert says(glasses).startswith("the reading glasses, 150 × 50 mm, do not go into")
    for title in ("glass", "canvas", "pair of glasses", "seed packet"):
        known = tuple(
            (name, Name("thing", "a", title) if name == "thing" else fact) for name, fact in KNOWN
        )
        assert " does not go into" in says(Finding("does-not-fit", Severity.CANNOT, known))


def test_lengths_and_sizes_that_differ_read_different() -> None:
    glasses = Finding("does-not-fit", Severity.CANNOT, KNOWN)
    assert "150 × 50 mm" in says(glasses)
    assert "149.96 × 50 mm" in says(glasses)
    known = facts(has=Mm(39.96), needs=Mm(40.0), lacks=Mm(0.04))
    short = Finding("gap-short", Severity.CANNOT, known)
    assert "is 39.96 mm" in says(short)
    assert "needs 40 mm" in says(short)


@pytest.mark.parametrize(
    ("unit", "word"), [(Unit.MM, "zip"), (Unit.INCH, "zipper")], ids=["mm", "in"]
)
def test_words_are_those_of_who_measures_so(unit: Unit, word: str) -> None:
    known = facts(line=Name("line", "s", "seam"), has=Mm(1.0), needs=Mm(5.0), longer=Mm(8.0))
    finding = Finding("needle-meets-stop", Severity.CANNOT, known)
    assert f"from a stop of the {word};" in says(finding, unit)
    assert mends(finding, unit).startswith(f"Use a {word} at least ")


def test_a_persons_own_names_stay_as_they_are() -> None:
    known = facts(thing=Name("thing", "a", "zip folder"), piece=Name("piece", "p", "zip pocket"))
    finding = Finding("sewn-shut", Severity.CANNOT, known, "pocket")
    assert (
        says(finding, Unit.INCH) == "the zip folder cannot go in: the zipper pocket does not open"
    )


def test_the_same_finding_is_about_the_same_whatever_its_numbers() -> None:
    def short(has: float, step: StepName) -> Finding:
        return Finding("gap-short", Severity.CANNOT, facts(has=Mm(has), step=step))

    seam, trim = StepName(3, "Seam"), StepName(4, "Trim")
    assert short(3.0, seam).about == short(4.0, seam).about
    assert short(3.0, seam).about != short(3.0, trim).about
    assert len({short(3.0, seam), short(3.0, seam), short(4.0, seam)}) == 2


def test_several_are_joined_and_counted_as_the_language_does() -> None:
    def stuck(*titles: str) -> str:
        names = NamesInTurn(tuple(Name("piece", title, title) for title in titles))
        known = facts(notion=Name("notion", "s", "snap"), pieces=names)
        return says(Finding("hardware-pierces", Severity.CANNOT, known))

    assert stuck("tab") == "the snap is to go through the tab, which does not lie there"
    assert stuck("tab", "lining").endswith("through the tab and the lining, which do not lie there")


def test_what_is_called_by_a_number_has_no_article() -> None:
    known = facts(piece=Name("piece", "pocket[1]", "pocket 1"))
    loose = Finding("loose", Severity.CANNOT, known)
    assert says(loose) == "nothing holds pocket 1 once the tape is off"
    assert mends(loose) == "Stitch a tack-down on pocket 1."


def test_the_largest_that_fits_still_fits_in_another_unit() -> None:
    # 95 mm is 3.74 in: 3 3/4 in would be too large, 3 11/16 in is not.
    ways = Clauses(
        (Clause("largest-alone", facts(size=Name("size", "width", "width"), value=Mm(95.0))),)
    )
    finding = Finding(
        "hoop-exceeded",
        Severity.CANNOT,
        facts(
            needs=MmByMm(145.0, 145.0),
            hoop=Name("hoop", "100x100", "100x100"),
            field=MmByMm(100.0, 100.0),
            sides=Clauses(()),
            ways=ways,
        ),
    )
    assert mends(finding, Unit.MM).endswith("the largest width that fits is 95 mm.")
    assert mends(finding, Unit.INCH).endswith("the largest width that fits is 3 11/16 in.")
