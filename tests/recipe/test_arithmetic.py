"""Arithmetic in recipes: as in Python, and nothing beyond it."""

import builtins
import contextlib
import math
import warnings

import pytest
import simpleeval
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from paramgen.recipe.arithmetic import MOST_CHARACTERS, MOST_TERMS, FormulaError, read_formula
from paramgen.recipe.formula_work import FUNCTIONS

NAMES = {"width": 108.0, "pockets": 3, "closing": "tab", "rounded": True}
STEPS = {"depth": {1: 54.0, 2: 70.0, 3: 86.0}, "k": 2, **NAMES}

#: What the functions are in Python's own words. A ruler mark is rounded up to from above
#: a millionth of a millimetre on, which whole numbers do not see.
PYTHON = {
    "abs": abs,
    "ceil": math.ceil,
    "cos_deg": lambda angle: math.cos(math.radians(angle)),
    "floor": math.floor,
    "max": max,
    "min": min,
    "round_up": lambda mm, mark: round(math.ceil((mm - 1e-6) / mark) * mark, 9),
    "sin_deg": lambda angle: math.sin(math.radians(angle)),
    "sqrt": math.sqrt,
    "__builtins__": {},
}


# --- As in Python -----------------------------------------------------------------------

numbers = st.one_of(
    st.integers(0, 100).map(str), st.decimals(0, 100, places=2).map(str), st.just("1e2")
)
atoms = numbers | st.sampled_from(["width", "pockets"])


def _tests(sums: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    compared = st.tuples(
        sums, st.sampled_from(["<", "<=", ">", ">=", "==", "!="]), sums
    ) | st.tuples(sums, st.just("<"), sums, st.just("<="), sums)
    texts = st.sampled_from(["closing == 'tab'", "closing != 'tab'", "rounded"])
    simple = compared.map(" ".join) | texts
    return st.one_of(
        simple,
        simple.map(lambda test: f"not ({test})"),
        st.tuples(simple, st.sampled_from(["and", "or"]), simple).map(" ".join),
    )


def _larger(sums: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    one = ["abs({})", "ceil({})", "floor({})", "cos_deg({})", "sin_deg({})", "sqrt(abs({}))"]
    one += ["-{}", "+{}", "-({})"]
    two = ["{} + {}", "{} - {}", "{} * {}", "{} / {}", "{} // {}", "{} % {}", "({}) * ({})"]
    two += ["({}) / ({})", "({}) - ({})", "max({}, {})", "min({}, {}, 7)", "round_up({}, 0.5)"]
    return st.one_of(
        st.builds(str.format, st.sampled_from(two), sums, sums),
        st.builds(str.format, st.sampled_from(one), sums),
        st.builds("({}) ** {}".format, atoms, st.integers(0, 4)),
        st.builds("({} if {} else {})".format, sums, _tests(sums), sums),
    )


sums = st.recursive(atoms, _larger, max_leaves=8).filter(lambda text: len(text) < MOST_CHARACTERS)


@given(sums | _tests(sums))
def test_any_sum_gives_what_python_gives(text: str) -> None:
    assume(len(text) <= MOST_CHARACTERS)  # a longer one is refused, see below
    try:
        expected = eval(text, dict(PYTHON), NAMES)
    except ZeroDivisionError:
        with pytest.raises(FormulaError, match="divides by zero"):
            read_formula(text).value(NAMES)
        return
    found = read_formula(text).value(NAMES)
    assert found == expected
    assert isinstance(found, bool) == isinstance(expected, bool)


@given(st.floats(-9e5, 9e5), st.sampled_from([0.5, 1.0, 3.175, 6.35]))
def test_rounding_up_reaches_the_next_mark(mm: float, mark: float) -> None:
    up = read_formula("round_up(mm, mark)").number({"mm": mm, "mark": mark})
    assert up > mm - 2e-6
    assert up - mark < mm
    assert up / mark == pytest.approx(round(up / mark), abs=1e-6)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("2 * width + 10", 226.0),  # 2 · 108 + 10
        ("width * sin_deg(30)", 54.0),  # sin 30° = 1/2
        ("width * cos_deg(60)", 54.0),  # cos 60° = 1/2
        ("7 // 2 + 7 % 2", 4),  # 3 + 1
        ("2 ** 3 ** 2", 512),  # to the right: 2 ** 9
        ("-2 ** 2", -4),  # the power first
        ("2 ** -1", 0.5),
        ("1 < pockets < 3", False),
        ("width if closing == 'snap' else pockets", 3),
        ("pockets != 3 or 1 / 0 > 1", None),
        ("pockets == 3 or 1 / 0 > 1", True),  # the second is not looked at
        ("max(1, pockets, 2)", 3),
        ("min(2, pockets)", 2),
        ("floor(-1.2)", -2),
        ("ceil(1.2)", 2),
        ("abs(-pockets)", 3),
        ("sqrt(2.25)", 1.5),
        ("(1 +\n 2)", 3),
        ("1/2 in", 12.7),  # 25.4 / 2
        ('4 1/2"', 114.3),  # 4.5 · 25.4
        ("10mm", 10.0),
        ("11.4 cm", 114.0),
        ("0mm", 0.0),
        (12, 12.0),
        (1.5, 1.5),
    ],
)
def test_a_formula_is_worked_out(text: str | float, number: float | None) -> None:
    formula = read_formula(text)
    if number is None:
        with pytest.raises(FormulaError, match="divides by zero"):
            formula.value(NAMES)
    else:
        assert formula.value(NAMES) == pytest.approx(number)


def test_a_repeated_value_is_taken_by_its_index() -> None:
    assert read_formula("depth[k] - depth[k - 1]").number(STEPS) == 16.0  # 70 - 54
    with pytest.raises(FormulaError) as refusal:
        read_formula("depth[k + 2]").number(STEPS)
    assert str(refusal.value) == "`depth[k + 2]` has no value for repeat 4"


def test_a_formula_knows_what_it_takes_its_values_from() -> None:
    formula = read_formula("max(depth[k], 2 * width) if closing == 'tab' else 'none' != shape")
    assert formula.names == {"depth", "k", "width", "closing", "shape"}
    assert formula.indexed == {"depth"}
    assert set(formula.compared) == {("closing", "tab"), ("shape", "none")}


def test_a_number_or_a_yes_or_no_is_insisted_on() -> None:
    with pytest.raises(FormulaError, match=r"`closing` gives 'tab' where a number is wanted"):
        read_formula("closing").number(NAMES)
    with pytest.raises(FormulaError, match=r"`1 < 2` gives True where a number is wanted"):
        read_formula("1 < 2").number(NAMES)
    with pytest.raises(FormulaError, match=r"`width` gives 108.0 where a yes or no is wanted"):
        read_formula("width").truth(NAMES)
    assert read_formula("1 < 2").truth(NAMES) is True


def test_a_number_larger_than_any_project_is_refused() -> None:
    assert read_formula("-10**6").number({}) == -1e6
    for text, shown in (("10**6 + 1", "1e+06"), ("-1e300", "-1e+300")):
        with pytest.raises(FormulaError) as refusal:
            read_formula(text).number({})
        assert str(refusal.value) == f"`{text}` gives {shown}, more than any project needs"


# --- Nothing beyond ---------------------------------------------------------------------

REFUSED = [
    ("", "a formula is wanted, this is empty"),
    (" \n", "a formula is wanted, this is empty"),
    ("width +", "`width +` is not arithmetic"),
    ("width height", "`width height` is not arithmetic"),
    ("3 potatoes", "`3 potatoes` is not arithmetic"),
    ("width = 3", "`width = 3` is not arithmetic: to compare, write two signs, `width == 3`"),
    ("x := 1", "`x := 1` is not arithmetic"),
    ("1; 2", "`1; 2` is not arithmetic"),
    ("import os", "`import os` is not arithmetic"),
    ("1\0", "`1\0` is not arithmetic"),
    ("\ud800", "`\ud800` is not arithmetic"),
    ("(x := 1)", "`(x := 1)` holds more than arithmetic (an assignment)"),
    ("width.real", "`width.real` holds more than arithmetic (a dot after a name)"),
    ("(1).__class__", "`(1).__class__` holds more than arithmetic (a dot after a name)"),
    ("lambda: 1", "`lambda: 1` holds more than arithmetic (a function)"),
    ("[k for k in depth]", "`[k for k in depth]` holds more than arithmetic (a loop)"),
    (
        "max(1, (k for k in x))",
        "`max(1, (k for k in x))` holds more than arithmetic (a loop)",
    ),
    ("{k: 1 for k in depth}", "`{k: 1 for k in depth}` holds more than arithmetic (a loop)"),
    ("{k for k in depth}", "`{k for k in depth}` holds more than arithmetic (a loop)"),
    ("f'{width}'", "`f'{width}'` holds more than arithmetic (a text to fill in)"),
    ("depth[1:2]", "`depth[1:2]` holds more than arithmetic (a range in [ ])"),
    ("max(1, *depth)", "`max(1, *depth)` holds more than arithmetic (a star)"),
    ("[1, 2]", "`[1, 2]` holds more than arithmetic (a list)"),
    ("(1, 2)", "`(1, 2)` holds more than arithmetic (a list)"),
    ("{1: 2}", "`{1: 2}` holds more than arithmetic (a list)"),
    ("{1, 2}", "`{1, 2}` holds more than arithmetic (a list)"),
    ("1 << 9", "`1 << 9` holds more than arithmetic (`<<`)"),
    ("1 | 2", "`1 | 2` holds more than arithmetic (`|`)"),
    ("1 ^ 2", "`1 ^ 2` holds more than arithmetic (`^`, a power is `**`)"),
    ("~1", "`~1` holds more than arithmetic (`~`)"),
    ("1 @ 2", "`1 @ 2` holds more than arithmetic (`@`)"),
    ("1 in depth", "`1 in depth` holds more than arithmetic (`in`)"),
    ("closing is 'tab'", "`closing is 'tab'` holds more than arithmetic (`is`)"),
    ("depth[k][1]", "`depth[k][1]` has [ ] after something that is not a name"),
    ("max(1, 2)[0]", "`max(1, 2)[0]` has [ ] after something that is not a name"),
    ("None", "`None` holds None, which is no number"),
    ("1j", "`1j` holds 1j, which is no number"),
    ("...", "`...` holds Ellipsis, which is no number"),
    ("b'a'", "`b'a'` holds b'a', which is no number"),
    ("1e999", "`1e999` holds a number that is not finite"),
    ("9" * 310, f"`{'9' * 310}` holds a number that is not finite"),
    ("'a' * 10**9", "`'a' * 10**9` reckons with a text; a text can only be compared"),
    ("10**9 * 'a'", "`10**9 * 'a'` reckons with a text; a text can only be compared"),
    ("'%s' % 1", "`'%s' % 1` reckons with a text; a text can only be compared"),
    ("-'a'", "`-'a'` reckons with a text; a text can only be compared"),
    ("max", "`max` has `max` without the ( ) that follow it"),
    ("max + 1", "`max + 1` has `max` without the ( ) that follow it"),
    ("sqrt()", "`sqrt()` gives too few values to sqrt; it takes 1"),
    ("sqrt(1, 2)", "`sqrt(1, 2)` gives too many values to sqrt; it takes 1"),
    ("max(3)", "`max(3)` gives too few values to max; it takes at least 2"),
    ("round_up(3)", "`round_up(3)` gives too few values to round_up; it takes 2"),
    ("max(1, 2, key=3)", "`max(1, 2, key=3)` gives a function named values; it takes none"),
    (math.inf, "`inf` is not a finite number"),
    (math.nan, "`nan` is not a finite number"),
    (10**400, "`a number of more than 60 digits` is not a finite number"),
]


@pytest.mark.parametrize(("text", "message"), REFUSED)
def test_what_is_no_arithmetic_is_refused_before_it_is_worked_out(
    text: str | float, message: str
) -> None:
    with pytest.raises(FormulaError) as refusal:
        read_formula(text)
    assert str(refusal.value) == message


@pytest.mark.parametrize("text", ["2if 1else 3", "1.5or 2", "0xfor 1", r"closing == '\d'"])
def test_what_python_reads_with_a_warning_is_refused_without_one(text: str) -> None:
    with warnings.catch_warnings(record=True) as warned:
        warnings.simplefilter("always")
        with pytest.raises(FormulaError) as refusal:
            read_formula(text)
    assert str(refusal.value) == f"`{text}` is not arithmetic"
    assert not warned


def test_only_the_listed_functions_can_be_called() -> None:
    listed = "abs, ceil, cos_deg, floor, max, min, round_up, sin_deg, sqrt"
    others = {*dir(builtins), *simpleeval.DEFAULT_FUNCTIONS, "width", "math"} - set(FUNCTIONS)
    for name in sorted(others - {"None", "True", "False", "__debug__"}):
        with pytest.raises(FormulaError) as refusal:
            read_formula(f"{name}(1)")
        assert str(refusal.value) == f"`{name}(1)` calls {name}; it may call {listed}"
    for text in ("(1)(2)", "abs(1)(2)", "depth[k](1)", "'a'(1)"):
        with pytest.raises(FormulaError, match="calls that"):
            read_formula(text)


def test_no_name_means_anything_but_those_given() -> None:
    for name in sorted({*dir(builtins), *simpleeval.DEFAULT_FUNCTIONS, "math", "ast"}):
        if name in ("None", "True", "False", "__debug__", *FUNCTIONS):
            continue
        with pytest.raises(FormulaError, match=f"'{name}' is not defined"):
            read_formula(name).value(NAMES)


@settings(max_examples=40)
@given(sums, st.from_regex(r"[A-Za-z_]\w{0,12}", fullmatch=True).filter(str.isidentifier))
def test_nothing_has_parts_to_be_reached(text: str, part: str) -> None:
    for reached in (f"width.{part}", f"({text}).{part}", f"({text}).{part}()"):
        with pytest.raises(FormulaError):
            read_formula(reached)


# --- Bounded ----------------------------------------------------------------------------

ENDLESS = [
    "9**9**9",
    "9**9**9**9",
    "10**400",
    "7**3999999",
    "2**1024",
    "(2**1000)**1000",
    "9**99999 % 7",
    "floor(1e300)**9",
    "floor(1e300) * floor(1e300)",
    "9.0**999",
    "1e308 * 10",
    "1e308 * 10 - 1e308 * 10",
    "-1e308 - 1e308",
]


@pytest.mark.parametrize("text", ENDLESS)
def test_what_has_no_finite_value_is_not_worked_out(text: str) -> None:
    with pytest.raises(FormulaError) as refusal:
        read_formula(text).value(NAMES)
    assert str(refusal.value) == f"`{text}` has no finite value"


@pytest.mark.parametrize(
    ("text", "number"), [("1**9**20", 1), ("(-1)**(2 * 9**20 + 1)", -1), ("0**9**20", 0)]
)
def test_a_power_that_does_not_grow_is_worked_out(text: str, number: int) -> None:
    assert read_formula(text).value({}) == number


@pytest.mark.parametrize("text", ["1 / 0", "1 // 0", "1 % 0", "0.0 / 0", "0 ** -1", "1 / (3 - 3)"])
def test_a_division_by_zero_is_named(text: str) -> None:
    with pytest.raises(FormulaError) as refusal:
        read_formula(text).value({})
    assert str(refusal.value) == f"`{text}` divides by zero"


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("sqrt(-1)", "a negative number has no square root"),
        ("(-8) ** 0.5", "a negative number has no such power"),
        ("closing * 3", "a text can only be compared"),
        ("closing + closing", "a text can only be compared"),
        ("closing % 3", "a text can only be compared"),
        ("max(closing, 'z')", "a text can only be compared"),
        ("1 < closing", "a text is neither more nor less than a number"),
        ("'a' >= width", "a text is neither more nor less than a number"),
        ("('a' if rounded else 'b') * 10**9", "a text can only be compared"),
    ],
)
def test_what_cannot_be_worked_out_says_why(text: str, reason: str) -> None:
    with pytest.raises(FormulaError) as refusal:
        read_formula(text).value(NAMES)
    assert str(refusal.value) == f"`{text}` cannot be worked out: {reason}"


def test_a_formula_may_not_be_long() -> None:
    longest = "1 + " * 99 + "1234"
    assert len(longest) == MOST_CHARACTERS
    with pytest.raises(FormulaError, match=f"has more than {MOST_TERMS} terms"):
        read_formula(longest)
    with pytest.raises(FormulaError) as refusal:
        read_formula(longest + "0")
    assert str(refusal.value) == "a formula may have 400 characters, this has 401"
    with pytest.raises(FormulaError, match="may have 400 characters, this has 1000000"):
        read_formula("(" * 1_000_000)


def test_a_formula_may_not_be_deep() -> None:
    # A sum of n ones holds n ones, n - 1 sums of two and n - 1 signs: 3n - 2 terms.
    assert read_formula("+".join(["1"] * 50)).value({}) == 50  # 148 terms
    for text in ("+".join(["1"] * 51), "-" * 160 + "1", "abs(" * 75 + "1" + ")" * 75):
        with pytest.raises(FormulaError, match=f"has more than {MOST_TERMS} terms"):
            read_formula(text)
    assert read_formula("-" * 74 + "1").value({}) == 1  # 2 · 74 + 1 = 149 terms
    assert read_formula("abs(" * 48 + "-2" + ")" * 48).value({}) == 2  # 3 · 48 + 3


SIGNS = "0123456789.,+-*/%()[]{}<>=!&|^~@:;'\"\\ \n\tabdefinorstwhx_"
BITS = ["width", "closing", "depth", "k", "max", "sqrt", "'a'", "9", "99", "1e308", "0", ".5"]
BITS += ["**", "//", "==", ":=", " if ", " else ", " and ", " not ", " in ", "lambda:", "f'{k}'"]
odd = st.one_of(
    st.text(),
    st.text(SIGNS),
    st.lists(st.sampled_from([*BITS, *SIGNS]), max_size=30).map("".join),
    st.builds(
        lambda deep, left, right: left * deep + "1" + right * deep,
        st.integers(1, 250),
        st.sampled_from("([{-~"),
        st.sampled_from(")]}+ "),
    ),
)


@settings(max_examples=200)
@given(odd)
def test_any_text_at_all_is_read_or_refused(text: str) -> None:
    value: object = "refused"
    with warnings.catch_warnings(record=True) as warned:
        warnings.simplefilter("always")
        with contextlib.suppress(FormulaError):
            value = read_formula(text).value(STEPS)
    assert not warned
    assert not isinstance(value, int | float) or math.isfinite(value)
    assert isinstance(value, int | float | str | dict)


@pytest.mark.parametrize("text", ["4inn", "2width", "10 * 4inn", "1.5foo"])
def test_a_number_with_letters_behind_it_is_no_arithmetic_and_warns_nobody(text: str) -> None:
    with warnings.catch_warnings(record=True) as warned:
        warnings.simplefilter("always")
        with pytest.raises(FormulaError):
            read_formula(text)
    assert not warned
