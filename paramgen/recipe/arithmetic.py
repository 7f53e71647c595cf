"""Arithmetic in recipes: it can compute, and do nothing else."""

import ast
import math
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import simpleeval

from paramgen.findings import InputError
from paramgen.lengths import parse_length, round_up

#: Longer or deeper formulas are refused unread: the time to work one out stays bounded.
MOST_CHARACTERS = 400
MOST_TERMS = 150

Value = float | str | bool
Names = Mapping[str, Any]


def _sin_deg(angle: float) -> float:
    return math.sin(math.radians(angle))


def _cos_deg(angle: float) -> float:
    return math.cos(math.radians(angle))


#: The only things a formula may call.
FUNCTIONS: dict[str, Callable[..., float]] = {
    "abs": abs,
    "ceil": math.ceil,
    "cos_deg": _cos_deg,
    "floor": math.floor,
    "max": max,
    "min": min,
    "round_up": round_up,
    "sin_deg": _sin_deg,
    "sqrt": math.sqrt,
}

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
    ast.Add,
    ast.Sub,
    ast.Mult,
    ast.Div,
    ast.FloorDiv,
    ast.Mod,
    ast.Pow,
    ast.USub,
    ast.UAdd,
    ast.Not,
    ast.And,
    ast.Or,
    ast.Eq,
    ast.NotEq,
    ast.Lt,
    ast.LtE,
    ast.Gt,
    ast.GtE,
)


class FormulaError(ValueError):
    """A formula cannot be read or worked out; the text says why."""


@dataclass(frozen=True)
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
    """

    text: str
    names: frozenset[str]
    indexed: frozenset[str] = frozenset()
    compared: tuple[tuple[str, str], ...] = ()
    tree: ast.expr = field(compare=False, repr=False, default_factory=lambda: ast.Constant(0))

    def value(self, names: Names) -> Value:
        """Work it out.

        Raises
        ------
        FormulaError
            If it divides by zero, has no finite value, or mixes numbers with text.
        """
        if isinstance(self.tree, ast.Constant):
            return self.tree.value  # type: ignore[return-value]
        evaluator = _evaluator()
        evaluator.names = names
        try:
            result = evaluator.eval(self.text, previously_parsed=self.tree)
        except ZeroDivisionError:
            raise FormulaError(f"`{self.text}` divides by zero") from None
        except (
            simpleeval.InvalidExpression,
            ArithmeticError,
            TypeError,
            ValueError,
            KeyError,
            RecursionError,
        ) as problem:
            raise FormulaError(f"`{self.text}` cannot be worked out: {problem}") from None
        if isinstance(result, complex) or (
            isinstance(result, int | float) and not math.isfinite(result)
        ):
            raise FormulaError(f"`{self.text}` has no finite value")
        return result  # type: ignore[no-any-return]

    def number(self, names: Names) -> float:
        """Work it out to a number.

        Raises
        ------
        FormulaError
            As `value`, and if the result is a text or true or false.
        """
        result = self.value(names)
        if isinstance(result, str | bool):
            raise FormulaError(f"`{self.text}` gives {result!r} where a number is wanted")
        return float(result)

    def truth(self, names: Names) -> bool:
        """Work it out to true or false."""
        result = self.value(names)
        if not isinstance(result, bool):
            raise FormulaError(f"`{self.text}` gives {result!r} where a yes or no is wanted")
        return result


_kept = threading.local()


def _evaluator() -> simpleeval.SimpleEval:
    """One evaluator a thread: making one anew for each formula would take most of the time."""
    if not hasattr(_kept, "evaluator"):
        operators = {
            kind: act
            for kind, act in simpleeval.DEFAULT_OPERATORS.items()
            if issubclass(kind, _ALLOWED)
        }
        _kept.evaluator = simpleeval.SimpleEval(operators=operators, functions=FUNCTIONS)
    return _kept.evaluator


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
        return _constant(str(text), float(text))
    if len(text) > MOST_CHARACTERS:
        raise FormulaError(f"a formula may have {MOST_CHARACTERS} characters, this has {len(text)}")
    if text.rstrip().endswith(("mm", "cm", "in", '"')):
        try:
            return _constant(text, parse_length(text, zero=True))
        except InputError:
            pass  # a name may end so too
    try:
        tree = ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        raise FormulaError(f"`{text}` is not arithmetic") from None
    return _checked(text, tree)


def _constant(text: str, number: float) -> Formula:
    if not math.isfinite(number):
        raise FormulaError(f"`{text}` is not a finite number")
    return Formula(text, frozenset(), tree=ast.Constant(number))


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
    return Formula(text, frozenset(names), frozenset(indexed), tuple(compared), tree)


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
    if isinstance(node, ast.Subscript) and not isinstance(node.value, ast.Name):
        return "has [ ] after something that is not a name"
    if isinstance(node, ast.Constant) and not isinstance(node.value, int | float | str):
        return f"holds {node.value!r}, which is no number"
    if isinstance(node, ast.BinOp | ast.UnaryOp) and any(
        isinstance(side, ast.Constant) and isinstance(side.value, str)
        for side in ast.iter_child_nodes(node)
    ):
        return "reckons with a text; a text can only be compared"
    return ""


def _plain(node: ast.AST) -> str:
    words = {
        "Attribute": "a dot after a name",
        "Lambda": "a function",
        "ListComp": "a loop",
        "GeneratorExp": "a loop",
        "JoinedStr": "a text to fill in",
        "NamedExpr": "an assignment",
        "Slice": "a range in [ ]",
    }
    return words.get(type(node).__name__, type(node).__name__)
