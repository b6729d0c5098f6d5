"""What a problem asks, as data: one integral, derivative or limit, with what is assumed."""

from __future__ import annotations

from dataclasses import dataclass, field

from .tree import Derivative, Inequality, Integral, Limit, Node, Region


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
