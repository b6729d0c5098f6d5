"""What an identity does to an integrand, as data."""

from __future__ import annotations

from dataclasses import dataclass

from ..algebra.tidy import tidy
from ..notation.build import TWO, divide, multiply
from ..notation.tree import Equation, Node


@dataclass(frozen=True, slots=True)
class Rewriting:
    """The integrand anew, the identity that was used (or a sentence), and how far one reaches for it."""

    new: Node
    rule: Equation | None = None
    text: str = ""
    extra: float = 0.0


def doubled(angle: Node) -> Node:
    return tidy(multiply(TWO, angle))


def halved(node: Node) -> Node:
    return tidy(divide(node, TWO))
