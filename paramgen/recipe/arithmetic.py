"""Arithmetic in recipes: it can compute, and do nothing else.

A formula is read with Python's own reader, and never run as Python. Every kind of node but a listed
few is refused, and length, terms and the size of powers are bounded: a recipe may come from a
stranger. What is left is worked out by `formula_work.py`.
"""

import ast
import math
import re
from dataclasses import field
from functools import cached_property, lru_cache

from paramgen.lengths import as_typed, parse_length
from paramgen.recipe.formula_work import FUNCTIONS, OPERATORS, FormulaWork, Names, work_of
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.frozen_data import dataclass

#: Longer or deeper formulas are refused unread: the time to work one out stays bounded.
MOST_CHARACTERS = 400
MOST_TERMS = 150

#: Nothing in a project is larger, in mm or pieces; shapes can be worked out up to here.
MOST_NUMBER = 1e6

#: What Python reads with a warning: `2if wide else 3`, `4inn`, and a backslash in a
#: text.
_DOUBTFUL = re.compile(r"\\|(?<![\w.])[\d.][\w.]*(?:and|else|for|if|in|is|not|or)")

#: A length with its unit, as it may stand among other terms.
_WITH_UNIT = re.compile(
    r"(?<![\w.])(?:\d+(?:\.\d+)?(?:[ -]\d+/\d+|/\d+)?|\.\d+)\s*"
    r"(?:mm|cm|m|inches|inch|in|\")(?!\w)"
)

Value = float | str | bool

#: Least and most values a function takes, where it is not one.
_TAKES = {"max": (2, MOST_TERMS), "min": (2, MOST_TERMS), "round_up": (2, 2)}

_ALLOWED = (
    ast.Expression,
    ast.BinOp,
    ast.UnaryOp,
    ast.BoolOp,
    ast.Compare,
    ast.IfExp,
    ast.Call,
    ast.Name,
    ast.Load,
    ast.Constant,
    ast.Subscript,
    ast.And,
    ast.Or,
    *OPERATORS,
)


class FormulaError(ValueError):
    """A formula cannot be read or worked out; the text says why."""


@dataclass(frozen=True, kw_only=True)
class Formula:
    """One formula of a recipe, read and found harmless.

    Parameters
    ----------
    text : str
        As written.
    names : frozenset of str
        What it takes its values from.
    indexed : frozenset of str
        Those of them that are followed by an index in brackets.
    compared : tuple of (name, text)
        Names compared with a text, to check the text against the options of a choice.
    terms : int
        How many terms it has: how long it takes to work out.
    """

    text: str
    names: frozenset[str]
    indexed: frozenset[str] = frozenset()
    compared: tuple[tuple[str, str], ...] = ()
    tree: ast.expr = field(compare=False, repr=False, default_factory=lambda: ast.Constant(0))
    terms: int = field(default=1, compare=False, repr=False)

    def value(self, names: Names) -> Value:
        """Work it out.

        Raises
        ------
        FormulaError
            If it divides by zero, has no finite value, or mixes numbers with text.
        """
        try:
            return self._work(names)  # type: ignore[no-any-return]
        except ZeroDivisionError:
            raise FormulaError(f"`{self.text}` divides by zero") from None
        except OverflowError:
            raise FormulaError(f"`{self.text}` has no finite value") from None
        except KeyError as index:
            raise FormulaError(f"`{self.text}` has no value for repeat {index}") from None
        except NameError as name:
            why = f"'{name}' is not defined for expression '{self.text}'"
            raise FormulaError(f"`{self.text}` cannot be worked out: {why}") from None
        except (TypeError, ValueError) as problem:
            raise FormulaError(f"`{self.text}` cannot be worked out: {problem}") from None

    @cached_property
    def _work(self) -> FormulaWork:
        return work_of(self.tree)

    def number(self, names: Names) -> float:
        """Work it out to a number.

        Raises
        ------
        FormulaError
            As `value`, and if the result is a text, true or false, or over `MOST_NUMBER`.
        """
        result = self.value(names)
        if type(result) is float and abs(result) <= MOST_NUMBER:
            return result
        if isinstance(result, str | bool):
            raise FormulaError(f"`{self.text}` gives {result!r} where a number is wanted")
        if abs(result) > MOST_NUMBER:
            raise FormulaError(f"`{self.text}` gives {result:g}, more than any project needs")
        return float(result)

    def truth(self, names: Names) -> bool:
        """Work it out to true or false."""
        result = self.value(names)
        if not isinstance(result, bool):
            raise FormulaError(f"`{self.text}` gives {result!r} where a yes or no is wanted")
        return result


def read_formula(text: str | float) -> Formula:
    """Read a formula: ordinary arithmetic as in Python, or one length with its unit.

    Raises
    ------
    FormulaError
        If it is anything else, or too long.

    Examples
    --------
    >>> read_formula("2 * depth + 10").number({"depth": 30})
    70.0
    >>> read_formula("1/2 in").number({})
    12.7
    """
    if isinstance(text, int | float):
        return _constant(as_typed(text).strip("`"), text)
    return _read(text)


# A part's formulas are read where it is checked on its own, and again in the whole.
@lru_cache(maxsize=1024)
def _read(text: str) -> Formula:
    if not text.strip():
        raise FormulaError("a formula is wanted, this is empty")
    if len(text) > MOST_CHARACTERS:
        raise FormulaError(f"a formula may have {MOST_CHARACTERS} characters, this has {len(text)}")
    if text.rstrip().endswith(("mm", "cm", "in", '"')):
        try:
            return _constant(text, parse_length(text, zero=True))
        except InputError:
            pass  # a name may end so too
    tree = _parsed(text)
    if tree is None:
        raise FormulaError(_no_arithmetic(text))
    return _checked(text, tree)


def _parsed(text: str) -> ast.expr | None:
    if _DOUBTFUL.search(text):
        return None
    try:
        return ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        return None


#: `=` that is no part of another sign.
_ONE_SIGN = re.compile(r"(?<![=<>!:])=(?!=)")


def _no_arithmetic(text: str) -> str:
    compared = _ONE_SIGN.sub("==", text)
    if compared != text and _parsed(compared) is not None:
        return f"`{text}` is not arithmetic: to compare, write two signs, `{compared.strip()}`"
    plain = without_units(text)
    if plain is None:
        return f"`{text}` is not arithmetic"
    return (
        f"`{text}` has a length with its unit inside arithmetic, where a plain number is "
        f"millimetres: write `{plain}`, or give the length a name under lengths"
    )


def without_units(text: str) -> str | None:
    """Arithmetic with its lengths in millimetres; None if it has none with a unit, or is none.

    Examples
    --------
    >>> without_units("depth + 1/2 in"), without_units("2 * 7mm"), without_units("depth + 7")
    ('depth + 12.7', '2 * 7', None)
    """
    plain = _WITH_UNIT.sub(_in_mm, text)
    units = plain == text or _WITH_UNIT.search(plain)
    return None if units or _parsed(plain) is None else plain


def _in_mm(length: re.Match[str]) -> str:
    try:
        return f"{parse_length(length[0], zero=True):.10g}"
    except InputError:
        return length[0]


def _constant(text: str, number: float) -> Formula:
    if not _is_finite(number):
        raise FormulaError(f"`{text}` is not a finite number")
    return Formula(text=text, names=frozenset(), tree=ast.Constant(float(number)))


def _is_finite(number: float) -> bool:
    try:
        return math.isfinite(number)
    except OverflowError:  # a whole number too large for a float
        return False


def _checked(text: str, tree: ast.expr) -> Formula:
    nodes = list(ast.walk(tree))
    if len(nodes) > MOST_TERMS:
        raise FormulaError(f"`{text}` has more than {MOST_TERMS} terms")
    called: set[int] = set()
    indexed: set[str] = set()
    compared: list[tuple[str, str]] = []
    for node in nodes:
        fault = _harm(node)
        if fault:
            raise FormulaError(f"`{text}` {fault}")
        if isinstance(node, ast.Call):
            called.add(id(node.func))
        elif isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name):
            indexed.add(node.value.id)
        elif isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            texts = [s.value for s in sides if isinstance(s, ast.Constant)]
            named = [s.id for s in sides if isinstance(s, ast.Name)]
            compared += [(n, t) for n in named for t in texts if isinstance(t, str)]
    names = {n.id for n in nodes if isinstance(n, ast.Name) and id(n) not in called}
    for name in sorted(names & set(FUNCTIONS)):
        raise FormulaError(f"`{text}` has `{name}` without the ( ) that follow it")
    return Formula(
        text=text,
        names=frozenset(names),
        indexed=frozenset(indexed),
        compared=tuple(compared),
        tree=tree,
        terms=len(nodes),
    )


def _harm(node: ast.AST) -> str:
    """Say what a part of a formula does beyond arithmetic; empty if nothing."""
    if not isinstance(node, _ALLOWED):
        return f"holds more than arithmetic ({_plain(node)})"
    if isinstance(node, ast.Call):
        if not isinstance(node.func, ast.Name) or node.func.id not in FUNCTIONS:
            wanted = node.func.id if isinstance(node.func, ast.Name) else "that"
            return f"calls {wanted}; it may call {', '.join(FUNCTIONS)}"
        if node.keywords:
            return "gives a function named values; it takes none"
        least, most = _TAKES.get(node.func.id, (1, 1))
        if not least <= len(node.args) <= most:
            wanted = f"{least}" if least == most else f"at least {least}"
            much = "few" if len(node.args) < least else "many"
            return f"gives too {much} values to {node.func.id}; it takes {wanted}"
    if isinstance(node, ast.Subscript) and not isinstance(node.value, ast.Name):
        return "has [ ] after something that is not a name"
    if isinstance(node, ast.Constant) and not isinstance(node.value, str):
        if not isinstance(node.value, int | float):
            return f"holds {node.value!r}, which is no number"
        if not _is_finite(node.value):
            return "holds a number that is not finite"
    if isinstance(node, ast.BinOp | ast.UnaryOp) and any(
        isinstance(side, ast.Constant) and isinstance(side.value, str)
        for side in ast.iter_child_nodes(node)
    ):
        return "reckons with a text; a text can only be compared"
    return ""


def _plain(node: ast.AST) -> str:
    """What a person would call a part of Python that is not arithmetic."""
    return _PLAIN.get(type(node).__name__, type(node).__name__)


_PLAIN = {
    "Attribute": "a dot after a name",
    "Lambda": "a function",
    "Starred": "a star",
    "JoinedStr": "a text to fill in",
    "NamedExpr": "an assignment",
    "Slice": "a range in [ ]",
    **dict.fromkeys(("ListComp", "SetComp", "DictComp", "GeneratorExp"), "a loop"),
    **dict.fromkeys(("List", "Tuple", "Set", "Dict"), "a list"),
    "LShift": "`<<`",
    "RShift": "`>>`",
    "BitAnd": "`&`",
    "BitOr": "`|`",
    "BitXor": "`^`, a power is `**`",
    "Invert": "`~`",
    "MatMult": "`@`",
    "In": "`in`",
    "NotIn": "`not in`",
    "Is": "`is`",
    "IsNot": "`is not`",
}
