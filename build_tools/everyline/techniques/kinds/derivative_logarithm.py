"""The logarithm of a product, a quotient or a power taken apart before it is differentiated."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.expand import split_constant
from ...algebra.terms import as_node, term_of
from ...algebra.tidy import tidy
from ...notation.build import E, add, call, multiply, number, power, within_bars
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Derivative, Node
from ..asking import depends
from ..base import Example, Step, Technique


def propose(question: Question) -> Iterable[Step]:
    constant, rest = split_constant(question.body, question.variable)
    parts = apart(rest, question.variable)
    if parts:
        result = tidy(multiply(constant, Derivative(add(*parts), question.variable)))
        yield Step("derivative-logarithm", result, say("Use a law of logarithms."))


def apart(node: Node, variable: str) -> list[Node]:
    """2 ln|x| and -ln|x - 1| for ln(x²/(x - 1)), without what is constant; nothing where a logarithm does not come apart."""
    if not isinstance(node, Call) or node.function != "ln":
        return []
    inside = within_bars(node.argument)
    parts: list[Node] = []
    for base, exponent in term_of(inside).powers:
        if isinstance(exponent, Fraction) and depends(base, variable):
            parts.append(tidy(multiply(number(exponent), call("ln", Absolute(base)))))
        elif base == E and not isinstance(exponent, Fraction):
            parts.append(exponent)
        elif depends(power(base, as_node(exponent)), variable):
            return []
    return [] if len(parts) == 1 and isinstance(parts[0], Call) else parts


TECHNIQUE = Technique(
    id="derivative-logarithm",
    title="Laws of logarithms first",
    cost=1.0,
    kinds=("derivative",),
    propose=propose,
    examples=(
        Example(r"\frac{d}{dx}\ln\frac{x + 1}{x - 1}"),
        Example(r"\frac{d}{dx}\ln\sqrt{x^2 + 9}"),
        Example(r"\frac{d}{dx}\ln(x^2 + 9)", applies=False),
        Example(r"\frac{d}{dx}\ln x", applies=False),
    ),
    explains="ln(fg) = ln f + ln g and ln fⁿ = n ln f: each part is then differentiated by itself.",
)
