"""The expression tree: immutable, and shaped the way a line is written.

An algebra system re-orders and cancels what it builds; a worked line must stay as the teacher wrote it. So this
tree keeps what the text says: `2(3x)` and `6x` are different trees. Only the printers decide about dots and
parentheses, and only `kernel` says which trees mean the same.

Conventions that every room relies on:

* `Number.value` is never negative; a minus sign is a `Negative`, also inside a `Sum` (`a - b` is
  `Sum((a, Negative(b)))`) and in front of a product (`-2x` is `Negative(Product((2, x)))`).
* One half is `Quotient(Number(1), Number(2))`. A `Number` is a whole number or a decimal as typed: `1.20` is
  `Number(Fraction(6, 5), places=2)`.
* `Sum` and `Product` have at least two entries. Angles are in radians.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

#: Functions of one argument, by the names that the tree uses. `sqrt` is `Root`, `abs` is `Absolute`, `log` with a base is `Logarithm`.
FUNCTIONS: tuple[str, ...] = (
    "sin", "cos", "tan", "sec", "csc", "cot",
    "arcsin", "arccos", "arctan", "arcsec", "arccsc", "arccot",
    "sinh", "cosh", "tanh", "sech", "csch", "coth",
    "arsinh", "arcosh", "artanh", "arsech", "arcsch", "arcoth",
    "exp", "ln", "sgn",
)  # fmt: skip


class Node:
    """Any part of a formula. A tree is looked up far more often than it is built, so its hash is worked out once."""

    __slots__ = ("_hash",)


@dataclass(frozen=True, slots=True)
class Number(Node):
    """A non-negative number; `places` is how many decimal places it was written with (0: a whole number)."""

    value: Fraction
    places: int = 0


@dataclass(frozen=True, slots=True)
class Constant(Node):
    """`pi` or `e`."""

    name: str


@dataclass(frozen=True, slots=True)
class Infinity(Node):
    """Plus infinity; minus infinity is its `Negative`."""


@dataclass(frozen=True, slots=True)
class Name(Node):
    """A variable or a parameter, by its plain name: `x`, `theta`, `x_1`."""

    name: str


@dataclass(frozen=True, slots=True)
class ArbitraryConstant(Node):
    """The constant of integration, by the letter used for it (`C`, `c`, `k`, `K`, `C_1`)."""

    name: str = "C"


@dataclass(frozen=True, slots=True)
class Negative(Node):
    argument: Node


@dataclass(frozen=True, slots=True)
class Sum(Node):
    terms: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Product(Node):
    factors: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Quotient(Node):
    top: Node
    bottom: Node


@dataclass(frozen=True, slots=True)
class Power(Node):
    base: Node
    exponent: Node


@dataclass(frozen=True, slots=True)
class Root(Node):
    """The real root; of an odd index also for negative radicands."""

    radicand: Node
    index: int = 2


@dataclass(frozen=True, slots=True)
class Absolute(Node):
    argument: Node


@dataclass(frozen=True, slots=True)
class Call(Node):
    """A function of `FUNCTIONS` at an argument (radians)."""

    function: str
    argument: Node


@dataclass(frozen=True, slots=True)
class Logarithm(Node):
    """A logarithm to a stated base; the natural one is `Call("ln", …)`."""

    base: Node
    argument: Node


@dataclass(frozen=True, slots=True)
class Integral(Node):
    """∫ integrand d(variable), with both limits or with neither."""

    integrand: Node
    variable: str
    lower: Node | None = None
    upper: Node | None = None


@dataclass(frozen=True, slots=True)
class Derivative(Node):
    """The derivative of `order` ≥ 1 of `body` by `variable`."""

    body: Node
    variable: str
    order: int = 1


@dataclass(frozen=True, slots=True)
class Limit(Node):
    """The limit of `body` as `variable` tends to `point`; `side` is `"+"`, `"-"` or `""` for both."""

    body: Node
    variable: str
    point: Node
    side: str = ""


@dataclass(frozen=True, slots=True)
class Evaluation(Node):
    """`[body]` between limits: the body at `upper` less the body at `lower`."""

    body: Node
    variable: str
    lower: Node
    upper: Node


@dataclass(frozen=True, slots=True)
class Equation(Node):
    left: Node
    right: Node


@dataclass(frozen=True, slots=True)
class Inequality(Node):
    """`left relation right`; relation is one of `<`, `<=`, `>`, `>=`, `!=`."""

    left: Node
    relation: str
    right: Node


@dataclass(frozen=True, slots=True)
class Interval(Node):
    """From `lower` to `upper` (which may be infinite), each end in it or not."""

    lower: Node
    upper: Node
    closed_lower: bool = False
    closed_upper: bool = False


@dataclass(frozen=True, slots=True)
class Union(Node):
    """Two or more intervals, from left to right."""

    parts: tuple[Interval, ...]


@dataclass(frozen=True, slots=True)
class Diverges(Node):
    """The answer “diverges”."""


@dataclass(frozen=True, slots=True)
class DoesNotExist(Node):
    """The answer “does not exist”."""


#: Where a claim is made: one interval or several.
Region = Interval | Union


def _kept(hashed: Callable[[Any], int]) -> Callable[[Any], int]:
    """A hash that is remembered in the node. It is no field, so it is neither compared nor written to another process."""

    def once(node: Any) -> int:
        try:
            return node._hash  # type: ignore[no-any-return]
        except AttributeError:
            object.__setattr__(node, "_hash", hashed(node))
            return node._hash  # type: ignore[no-any-return]

    return once


for _kind in Node.__subclasses__():
    _kind.__hash__ = _kept(_kind.__hash__)  # type: ignore[method-assign, assignment]
