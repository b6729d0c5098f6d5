"""A tree as nested lists: the form in which the shared table of examples says what a text means."""

from __future__ import annotations

from .style import decimal_text
from .tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Derivative,
    Equation,
    Evaluation,
    Inequality,
    Infinity,
    Integral,
    Interval,
    Limit,
    Logarithm,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Union,
)  # fmt: skip

Outline = str | list["Outline"]


def outline(node: Node) -> Outline:
    """Numbers and letters as text, everything else as `[what, part, part, …]`: `x^2 - 1` is `["+", ["^", "x", "2"], ["-", "1"]]`.

    Numbers are written as typed (`1.20`); functions, `sqrt` and `abs` go by their names; the arbitrary constant is `["C", letter]`.
    """
    match node:
        case Number():
            return decimal_text(node)
        case Constant(name=name) | Name(name=name):
            return name
        case Infinity():
            return "infinity"
        case ArbitraryConstant(name=name):
            return ["C", name]
        case Negative(argument=inner):
            return ["-", outline(inner)]
        case Sum(terms=parts):
            return ["+", *map(outline, parts)]
        case Product(factors=parts):
            return ["*", *map(outline, parts)]
        case Quotient(top=a, bottom=b):
            return ["/", outline(a), outline(b)]
        case Power(base=a, exponent=b):
            return ["^", outline(a), outline(b)]
        case Root(radicand=inner, index=index):
            return ["sqrt", outline(inner)] if index == 2 else ["root", str(index), outline(inner)]
        case Absolute(argument=inner):
            return ["abs", outline(inner)]
        case Call(function=function, argument=inner):
            return [function, outline(inner)]
        case Logarithm(base=base, argument=inner):
            return ["log", outline(base), outline(inner)]
        case Equation(left=a, right=b):
            return ["=", outline(a), outline(b)]
        case Inequality(left=a, relation=relation, right=b):
            return [relation, outline(a), outline(b)]
    return _calculus(node)


def _calculus(node: Node) -> Outline:
    match node:
        case Integral(integrand=inner, variable=x, lower=a, upper=b):
            return ["integral", outline(inner), x] + ([] if a is None or b is None else [outline(a), outline(b)])
        case Derivative(body=inner, variable=x, order=order):
            return ["derivative", outline(inner), x, str(order)]
        case Limit(body=inner, variable=x, point=point, side=side):
            return ["limit", outline(inner), x, outline(point), side]
        case Evaluation(body=inner, variable=x, lower=a, upper=b):
            return ["between", outline(inner), x, outline(a), outline(b)]
        case Interval(lower=a, upper=b, closed_lower=left, closed_upper=right):
            return ["interval", "[" if left else "(", outline(a), outline(b), "]" if right else ")"]
        case Union(parts=parts):
            return ["union", *map(outline, parts)]
    return [type(node).__name__.lower()]
