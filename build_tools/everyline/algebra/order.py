"""In which order factors and terms are written, and a text of each tree to sort and compare by."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from ..notation.build import children, contains
from ..notation.tree import Absolute, Call, Constant, Name, Node, Number, Sum

_TRIG = ("sin", "cos", "csc", "cot", "tan", "sec")
_WITH_FUNCTIONS = (Call,)


@lru_cache(maxsize=20_000)
def text(node: Node) -> str:
    """A text that is the same for equal trees: a key for sorting."""
    match node:
        case Name(name=name) | Constant(name=name):
            return name
        case Number(value=value):
            return str(value)
        case Call(function=function, argument=argument):
            return f"{function}({text(argument)})"
    extra = "".join(str(getattr(node, f)) for f in ("variable", "index", "side", "order") if hasattr(node, f))
    return f"{type(node).__name__}{extra}({','.join(text(c) for c in children(node))})"


def factor_rank(base: Node, exponent: Fraction | Node) -> tuple[int, int, str]:
    """Where a factor stands in a product: numbers, constants, letters, sums, roots, exponentials, logarithms, trigonometric functions."""
    whole = isinstance(exponent, Fraction) and exponent.denominator == 1
    match base:
        case Number() if isinstance(exponent, Fraction):
            return (0, 0, text(base))
        case Constant() if isinstance(exponent, Fraction):
            return (1, 0, text(base))
        case Name() if isinstance(exponent, Fraction):
            return (2, 0, base.name)
        case Absolute():
            return (4, 0, text(base))
        case Sum() if isinstance(exponent, Fraction):
            if contains(base, _WITH_FUNCTIONS) or any(not isinstance(getattr(n, "exponent", base), Number | Sum) for n in base.terms):
                return (9 if whole else 5, 0, text(base))
            return (3 if whole else 5, 0, text(base))
        case Call(function=function):
            if function not in _TRIG:
                return (7, 0, text(base))
            if function in ("sec", "csc") and exponent == 1:
                return (8, _TRIG.index(function) - 2, text(base))
            return (8, _TRIG.index(function), text(base))
    return (5 if isinstance(exponent, Fraction) else 6, 0, text(base))
