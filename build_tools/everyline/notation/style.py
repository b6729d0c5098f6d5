"""What the printers share: which brackets are needed, and how numbers and products are laid out."""

from __future__ import annotations

from .build import multiplicands, names
from .context import USUAL_VARIABLES
from .tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Derivative,
    Equation,
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

#: Functions whose power is set on their name: sin² x.
RAISED = frozenset(
    f"{a}{b}{c}" for b in ("sin", "cos", "tan", "sec", "csc", "cot") for a, c in (("", ""), ("arc", ""), ("", "h"), ("ar", "h"))
) | {"ln"}


def decimal_text(number: Number) -> str:
    """A number as it was typed: `1.20` keeps its places."""
    if not number.places:
        return str(number.value.numerator)
    digits = str(int(number.value * 10**number.places)).zfill(number.places + 1)
    return f"{digits[: -number.places]}.{digits[-number.places :]}"


def quick_derivative(node: Derivative) -> Name | None:
    """The letter of a derivative that is set as du/dx, or None."""
    return node.body if isinstance(node.body, Name) and node.body.name != node.variable else None


def is_open(node: Node) -> bool:
    """A node that reaches to the right as far as it can, or holds a comparison."""
    if isinstance(node, Derivative):
        return quick_derivative(node) is None
    return isinstance(node, Limit | Equation | Inequality | Interval | Union)


def needs_brackets_in_sum(node: Node, last: bool) -> bool:
    if isinstance(node, Negative):
        return True
    return isinstance(node, Sum | Equation | Inequality | Interval | Union) or (not last and isinstance(node, Limit))


def needs_brackets_before_differential(node: Node) -> bool:
    """A sum before `dx`; a sign alone needs none there."""
    return needs_brackets_in_sum(node, True) and not isinstance(node, Negative)


def needs_brackets_in_product(node: Node, last: bool) -> bool:
    return isinstance(node, Sum | Negative | Product) or is_open(node) or (isinstance(node, Integral) and not last)


def is_bare_in_limit(node: Node) -> bool:
    """What a limit is taken of without brackets: anything but sums, signs and products that begin with a bracket."""
    if isinstance(node, Product):
        return not needs_brackets_in_product(node.factors[0], False) and is_bare_in_limit(node.factors[0])
    return is_atom(node) or isinstance(node, Quotient | Call | Power | Root | Logarithm)


def is_atom(node: Node) -> bool:
    """What can carry a power without brackets."""
    return isinstance(node, Name | Constant | ArbitraryConstant | Number | Infinity | Absolute)


def raised_function(node: Node) -> Call | None:
    """The function of a power that is written on its name, or None."""
    if not (isinstance(node, Power) and isinstance(node.base, Call) and node.base.function in RAISED):
        return None
    exponent = node.exponent
    whole = isinstance(exponent, Number) and not exponent.places and exponent.value >= 2
    return node.base if whole else None


def function_of(node: Node) -> Node | None:
    """The argument of a function that is written with its name in front, also when raised to a power."""
    node = raised_function(node) or node
    return node.argument if isinstance(node, Call | Logarithm) else None


def simple_argument(node: Node) -> bool:
    """Whether a function's argument can go without brackets: `x`, `2x`, `ax`, `\\frac{x}{2}`, `\\sqrt{x}`."""
    if isinstance(node, Name | Constant | ArbitraryConstant | Infinity | Root):
        return True
    if isinstance(node, Number):
        return not node.places
    if isinstance(node, Quotient):
        return True
    if not isinstance(node, Product):
        return False
    *front, last = node.factors
    letters = [f for f in front if isinstance(f, Name)]
    plain_front = all(isinstance(f, Name | Constant) or (i == 0 and isinstance(f, Number)) for i, f in enumerate(front))
    return (
        plain_front
        and isinstance(last, Name | Constant)
        and not any(usual(name.name) for name in letters)
        and node.factors[-1] != node.factors[0]
    )


def usual(name: str) -> bool:
    return name.partition("_")[0] in USUAL_VARIABLES


def certain(argument: Node) -> bool:
    """Whether a bare argument is seen to have ended: it holds a variable."""
    return any(usual(name) for name in names(argument))


def starts_with_digit(node: Node) -> bool:
    while True:
        match node:
            case Number():
                return True
            case Product(factors=(first, *_)):
                node = first
            case Power(base=base) if raised_function(node) is None:
                node = base
            case _:
                return False


def is_mixed(before: Node, after: Node) -> bool:
    """A whole number before a fraction of numbers would read as a mixed number."""
    number = before.exponent if isinstance(before, Power) else before
    return isinstance(number, Number) and isinstance(after, Quotient) and isinstance(after.top, Number) and isinstance(after.bottom, Number)


def slashed(node: Node) -> Quotient | None:
    """A fraction that is set with a slash when it is a whole exponent: `x^{3/2}`, `e^{-x/2}`."""
    inner = node.argument if isinstance(node, Negative) else node
    if not isinstance(inner, Quotient):
        return None
    top = multiplicands(inner.top)
    fine_top = all(_is_small(f) for f in top) and not any(starts_with_digit(f) for f in top[1:])
    return inner if fine_top and isinstance(inner.bottom, Number | Name | Constant) else None


def _is_small(node: Node) -> bool:
    if isinstance(node, Power):
        return isinstance(node.base, Name) and isinstance(node.exponent, Number)
    return isinstance(node, Number | Name | Constant)
