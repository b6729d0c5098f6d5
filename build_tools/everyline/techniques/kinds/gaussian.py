"""The Gaussian integral: e^(-u²) over the whole line is √π, over half of it √π/2 (NIST DLMF, Eq. 4.10.11, with c = 1)."""

from __future__ import annotations

from collections.abc import Iterator

from ...algebra.terms import as_node, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import PI, TWO, ZERO, E, divide, infinite, multiply, names, negate, power, root, substitute, subtract
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Integral, Name, Node
from ..asking import fresh
from ..base import Example, Shown, Step, Technique
from ..quadratics import completed, quadratic, root_of, sign
from .changed_limits import new_limit


def propose(question: Question) -> Iterator[Step]:
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None:
        return
    x, term = node.variable, term_of(tidy(node.integrand))
    exponent, front = as_node(term.exponent(E)), join(term.without(E))
    found = None if x in names(front) else quadratic(exponent, x)
    if found is None or sign(found[0], question.given) >= 0:
        return
    a, b, _ = found
    middle = tidy(negate(divide(b, multiply(TWO, a))))
    ends = [end if infinite(end) else tidy(subtract(end, middle)) for end in (node.lower, node.upper)]
    if ends[0] == ends[1] or not all(infinite(end) or end == ZERO for end in ends):
        return
    slope = root_of(tidy(negate(a)), question)
    inside = tidy(multiply(slope, subtract(Name(x), middle)))
    front = tidy(divide(multiply(front, power(E, tidy(substitute(exponent, {x: middle})))), slope))
    yield _step(question, exponent, inside, slope, front, [node.lower, node.upper], ends)


def _step(question: Question, exponent: Node, inside: Node, slope: Node, front: Node, limits: list[Node], ends: list[Node]) -> Step:
    x = question.variable
    u = x if inside == Name(x) else fresh(question)
    bell = Integral(power(E, negate(power(Name(u), TWO))), u, *ends)
    known = root(PI) if all(map(infinite, ends)) else divide(root(PI), TWO)
    reason = say("{integrand} has no elementary antiderivative, but this integral of it is known, the Gaussian integral: {known}.",
                 integrand=bell.integrand, known=known)  # fmt: skip
    value = tidy(multiply(front, known))
    if u == x:
        return Step("gaussian", value, reason)
    square = completed(exponent, x)
    before = [] if square in (None, exponent) else [Shown("equal", exponent, square, say("Complete the square."))]
    before += [Shown("let", Name(u), inside, say("The exponent is to be {exponent}.", exponent=negate(power(Name(u), TWO)))),
               Shown("differential", Name(u), slope, say("Differentiate it."))]  # fmt: skip
    before += [new_limit(u, inside, x, end, to, side) for end, to, side in zip(limits, ends, "+-", strict=True)]
    through = (tidy(multiply(front, bell)), say("Everything is written in {name}, the limits too.", name=Name(u)))
    return Step("gaussian", value, reason, ((u, inside),), tuple(before), through=(through,))


TECHNIQUE = Technique(
    id="gaussian",
    title="Gaussian integral",
    cost=6.0,
    kinds=("definite",),
    propose=propose,
    examples=(
        Example(r"\int_{-\infty}^\infty e^{-x^2} \, dx"),
        Example(r"\int_0^\infty 3e^{-x^2/2} \, dx"),
        Example(r"\int_{-\infty}^\infty e^{6x - x^2} \, dx"),
        Example(r"\int_{-\infty}^2 e^{-(x - 2)^2} \, dx"),
        Example(r"\int_0^1 e^{-x^2} \, dx", applies=False),
        Example(r"\int_0^\infty x\,e^{-x^2} \, dx", applies=False),
        Example(r"\int_0^\infty e^{x^2} \, dx", applies=False),
    ),
    after=("substitution",),
    explains="The area under the bell curve is known, although no formula for an antiderivative exists.",
)
