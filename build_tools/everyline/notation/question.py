"""What a problem asks, as data: one integral, derivative or limit, with what is assumed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import islice, product

from .build import names
from .tree import Derivative, Inequality, Integral, Limit, Node, Region

#: What is tried for a parameter that is a whole number, and for another one.
WHOLE = tuple(Fraction(n) for n in (2, 3, -2, 5, 1, -3))
BROKEN = tuple(Fraction(n) for n in ("7/5", "-9/5", "17/6", "-1/7", "13/3", "1/3", "-4"))


@dataclass(frozen=True, slots=True)
class Parameter:
    """A letter that stands for a fixed number; `integer` when it is a whole number."""

    name: str
    integer: bool = False


@dataclass(frozen=True, slots=True)
class Given:
    """What is assumed: the parameters and conditions on them (`a > 0`, `a != b`)."""

    parameters: tuple[Parameter, ...] = ()
    conditions: tuple[Inequality, ...] = ()

    @property
    def names(self) -> frozenset[str]:
        return frozenset(p.name for p in self.parameters)

    @property
    def in_words(self) -> tuple[Parameter, ...]:
        """The parameters of which something is said that is no condition: that they are whole, or no more than that they are constant."""
        mentioned = {name for condition in self.conditions for name in names(condition)}
        return tuple(p for p in self.parameters if p.integer or p.name not in mentioned)

    def choices(self) -> Iterator[dict[str, Fraction]]:
        """Values that may be tried for the parameters, all different; whether they meet the conditions is not looked at."""
        for choice in islice(product(*(WHOLE if p.integer else BROKEN for p in self.parameters)), 2500):
            if len(set(choice)) == len(choice):
                yield dict(zip((p.name for p in self.parameters), choice, strict=True))


@dataclass(frozen=True, slots=True)
class Question:
    """An integral, a derivative or a limit to find.

    `domain` restricts it (None: its natural domain); the stated domain is always intersected with the natural one.
    """

    node: Integral | Derivative | Limit
    given: Given = field(default_factory=Given)
    domain: Region | None = None

    @property
    def kind(self) -> str:
        """`indefinite`, `definite` (proper or not), `derivative` or `limit`."""
        match self.node:
            case Integral(lower=None):
                return "indefinite"
            case Integral():
                return "definite"
            case Derivative():
                return "derivative"
        return "limit"

    @property
    def variable(self) -> str:
        return self.node.variable

    @property
    def body(self) -> Node:
        """The integrand, or the function to differentiate or to take the limit of."""
        return self.node.integrand if isinstance(self.node, Integral) else self.node.body
