"""A formula's tree made into a function once, and what such functions may do.

The tree was found harmless before (`arithmetic.py`). Each part becomes a function of the names,
made of those of the parts below it, so that nothing of the tree is looked at again when the formula
is worked out, thousands of times where sizes are tried.
"""

import ast
import math
import operator
from collections.abc import Callable, Mapping
from math import isfinite
from typing import Any

from paramgen.lengths import round_up

Names = Mapping[str, Any]

#: Works a part of a formula out.
FormulaWork = Callable[[Names], Any]


def _sin_deg(angle: float) -> float:
    return math.sin(math.radians(angle))


def _cos_deg(angle: float) -> float:
    return math.cos(math.radians(angle))


def _sqrt(number: float) -> float:
    if number < 0:
        raise ValueError("a negative number has no square root")
    return math.sqrt(number)


def _power(base: float, exponent: float) -> float:
    """Raise to a power, first as floats: a whole number of a million digits takes long."""
    if isinstance(float(base) ** float(exponent), complex):
        raise ValueError("a negative number has no such power")
    return base**exponent  # type: ignore[no-any-return]


def _of_numbers(act: Callable[..., float]) -> Callable[..., float]:
    """Keep an operation to numbers that are finite; so none grows beyond bounds either."""

    def kept(*sides: Any) -> float:
        if str in map(type, sides):
            raise TypeError("a text can only be compared")
        result = act(*sides)
        if not isfinite(result):
            raise OverflowError
        return result

    return kept


def _of_alike(act: Callable[[Any, Any], bool]) -> Callable[[Any, Any], bool]:
    """Keep a comparison to two numbers or two texts."""

    def kept(left: Any, right: Any) -> bool:
        if isinstance(left, str) != isinstance(right, str):
            raise TypeError("a text is neither more nor less than a number")
        return act(left, right)

    return kept


#: The only things a formula may call.
FUNCTIONS: dict[str, Callable[..., float]] = {
    "abs": _of_numbers(abs),
    "ceil": _of_numbers(math.ceil),
    "cos_deg": _of_numbers(_cos_deg),
    "floor": _of_numbers(math.floor),
    "max": _of_numbers(max),
    "min": _of_numbers(min),
    "round_up": _of_numbers(round_up),
    "sin_deg": _of_numbers(_sin_deg),
    "sqrt": _of_numbers(_sqrt),
}

#: The only signs that may stand in one, but for `and`, `or` and `if`.
OPERATORS: dict[type[ast.AST], Callable[..., Any]] = {
    ast.Add: _of_numbers(operator.add),
    ast.Sub: _of_numbers(operator.sub),
    ast.Mult: _of_numbers(operator.mul),
    ast.Div: _of_numbers(operator.truediv),
    ast.FloorDiv: _of_numbers(operator.floordiv),
    ast.Mod: _of_numbers(operator.mod),
    ast.Pow: _of_numbers(_power),
    ast.USub: _of_numbers(operator.neg),
    ast.UAdd: _of_numbers(operator.pos),
    ast.Not: operator.not_,
    ast.Eq: operator.eq,
    ast.NotEq: operator.ne,
    ast.Lt: _of_alike(operator.lt),
    ast.LtE: _of_alike(operator.le),
    ast.Gt: _of_alike(operator.gt),
    ast.GtE: _of_alike(operator.ge),
}


def work_of(tree: ast.expr) -> FormulaWork:
    """The function that works out a tree in which nothing but arithmetic was found.

    It raises what the operations raise: ZeroDivisionError, OverflowError, TypeError, ValueError;
    KeyError for a repeat that there is not, NameError for a name that there is not.

    Examples
    --------
    >>> work = work_of(ast.parse("2 * depth + 10", mode="eval").body)
    >>> work({"depth": 30}), work({"depth": 2})
    (70, 14)
    """
    match tree:
        case ast.Constant(value):
            return lambda _names: value
        case ast.Name(name):
            return _named(name)
        case ast.Subscript(container, index):
            repeated, turn = work_of(container), work_of(index)
            return lambda names: repeated(names)[turn(names)]
        case ast.UnaryOp(sign, operand):
            act, of = OPERATORS[type(sign)], work_of(operand)
            return lambda names: act(of(names))
        case ast.BinOp(left, sign, right):
            act, one, other = OPERATORS[type(sign)], work_of(left), work_of(right)
            return lambda names: act(one(names), other(names))
        case ast.Call(ast.Name(name), values):
            called, each = FUNCTIONS[name], tuple(map(work_of, values))
            return lambda names: called(*[work(names) for work in each])
        case ast.IfExp(test, body, otherwise):
            asked, yes, no = work_of(test), work_of(body), work_of(otherwise)
            return lambda names: yes(names) if asked(names) else no(names)
        case ast.BoolOp(sign, values):
            return _joined(isinstance(sign, ast.Or), tuple(map(work_of, values)))
        case ast.Compare(left, signs, others):
            acts = (OPERATORS[type(sign)] for sign in signs)
            return _compared(work_of(left), tuple(zip(acts, map(work_of, others), strict=True)))
        case _:
            raise TypeError(f"{type(tree).__name__} is no arithmetic")


def _named(name: str) -> FormulaWork:
    def work(names: Names) -> Any:
        if name not in names:
            raise NameError(name)
        return names[name]

    return work


def _joined(until: bool, each: tuple[FormulaWork, ...]) -> FormulaWork:
    """The first of several that is true, or false, as `or` and `and` take it; else the last."""

    def work(names: Names) -> Any:
        result: Any = None
        for one in each:
            result = one(names)
            if bool(result) is until:
                break
        return result

    return work


def _compared(
    first: FormulaWork, others: tuple[tuple[Callable[..., Any], FormulaWork], ...]
) -> FormulaWork:
    """Whether each of several compares with the next as asked."""

    def work(names: Names) -> Any:
        left, holds = first(names), True
        for act, other in others:
            right = other(names)
            holds = act(left, right)
            if not holds:
                break
            left = right
        return holds

    return work
