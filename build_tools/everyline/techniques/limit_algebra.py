"""Algebra in a limit: cancel, bring together, multiply by the conjugate, divide by the highest power."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from ..algebra.expand import multiply_out
from ..algebra.growth import together
from ..algebra.numbers import infinite
from ..algebra.poly import coefficients, factored
from ..algebra.rewrite import cancelled
from ..algebra.terms import Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import add, divide, multiply, negate, power
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Name, Node, Root, Sum
from .base import Example, Step, Technique
from .limiting import again, node_of


def propose(question: Question) -> Iterable[Step]:
    body, x = tidy(question.body), question.variable
    seen = {body}
    for new, reason in _rewritings(body, x, infinite(node_of(question).point)):
        if new not in seen:
            seen.add(new)
            yield Step("limit-algebra", again(question, new), reason)


def _rewritings(body: Node, variable: str, far: bool) -> Iterator[tuple[Node, Message]]:
    term = term_of(body)
    above = join(Term(term.coefficient, tuple((b, e) for b, e in term.powers if not (isinstance(e, Fraction) and e < 0))))
    below = join(Term(Fraction(1), tuple((b, -e) for b, e in term.powers if isinstance(e, Fraction) and e < 0)))
    top = _factored(above, variable)
    yield cancelled(top, below, variable), say("Factor and cancel.")
    if isinstance(body, Sum):
        one = together(body.terms)
        if one is not None:
            yield tidy(one), say("Bring the fractions together.")
    if isinstance(above, Sum) and len(above.terms) > 1 and any(together((t,)) for t in above.terms):
        one = together(above.terms)
        if one is not None:
            yield tidy(divide(one, below)), say("Bring the fractions together.")
    for part in (above, below):
        other = _conjugate(part)
        if other is not None:
            product = multiply_out(multiply(part, other), variable)
            if part is above:
                yield (
                    cancelled(product, tidy(multiply(below, other)), variable),
                    say("Multiply above and below by the conjugate {other}.", other=other),
                )
            else:
                yield (
                    cancelled(tidy(multiply(above, other)), product, variable),
                    say("Multiply above and below by the conjugate {other}.", other=other),
                )
    if far:
        yield from _highest(above, below, variable)


def _factored(node: Node, variable: str) -> Node:
    values = coefficients(node, variable)
    return node if values is None or len(values) < 3 else factored(values, Name(variable))


def _conjugate(node: Node) -> Node | None:
    if not isinstance(node, Sum) or len(node.terms) != 2:
        return None
    if not any(isinstance(t, Root) or isinstance(getattr(t, "argument", None), Root) for t in node.terms):
        return None
    return add(node.terms[0], negate(node.terms[1]))


def _highest(above: Node, below: Node, variable: str) -> Iterator[tuple[Node, Message]]:
    a, b = coefficients(above, variable), coefficients(below, variable)
    if not a or not b or len(b) < 2:
        return
    highest = power(Name(variable), len(b) - 1)
    tops = above.terms if isinstance(above, Sum) else (above,)
    bottoms = below.terms if isinstance(below, Sum) else (below,)
    if len(bottoms) < 2 and len(tops) < 2:
        return
    new = divide(add(*(tidy(divide(t, highest)) for t in tops)), add(*(tidy(divide(t, highest)) for t in bottoms)))
    yield new, say("Divide above and below by {highest}.", highest=highest)


TECHNIQUE = Technique(
    id="limit-algebra",
    title="Algebra first",
    cost=1.5,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 5} \frac{x^2 - 25}{x - 5}"),
        Example(r"\lim_{x \to 16} \frac{x - 16}{\sqrt{x} - 4}"),
        Example(r"\lim_{x \to \infty} \frac{3x^2 + 1}{x^2 - x}"),
        Example(r"\lim_{x \to 0} \frac{\sin x}{x}", applies=False),
    ),
    explains="The factor that makes the form indeterminate is cancelled.",
)
