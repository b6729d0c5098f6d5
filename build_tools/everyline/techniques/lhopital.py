"""l'Hôpital's rule, after its form has been checked; products and powers brought to that form."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ..algebra.growth import ratios, together
from ..algebra.limits import tends
from ..algebra.numbers import infinite, sign
from ..algebra.rewrite import cancelled
from ..algebra.terms import Exponent, Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ZERO, E, call, divide, multiply, names, power
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Limit, Node, Sum
from .asking import differentiate
from .base import Example, Step, Technique
from .limiting import again, at_once, node_of, sides


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    if at_once(node) is not None:
        return
    body, x = tidy(question.body), question.variable
    if isinstance(body, Sum):
        one = together(body.terms)
        if one is None:
            return
        body = tidy(one)
    side = sides(node)[0]
    term = term_of(body)
    step = _exponential(question, term, x)
    if step is not None:
        yield step
        return
    zeros: list[tuple[Node, Exponent]] = []
    infinities: list[tuple[Node, Exponent]] = []
    others: list[tuple[Node, Exponent]] = []
    for base, exponent in term.powers:
        value = tends(join(Term(Fraction(1), ((base, exponent),))), x, node.point, side)
        if value is None:
            return
        (infinities if infinite(value) else zeros if sign(value) == 0 else others).append((base, exponent))
    if not zeros or not infinities:
        return
    rest = join(Term(term.coefficient, tuple(others)))
    for i, (top, bottom) in enumerate(ratios(zeros, infinities)):
        yield from _rule(question, rest, top, bottom, node, side, i)


def _rule(question: Question, rest: Node, top: Node, bottom: Node, node: Limit, side: int, turned: int) -> Iterable[Step]:
    x = question.variable
    a, b = tends(top, x, node.point, side), tends(bottom, x, node.point, side)
    if a is None or b is None or infinite(a) != infinite(b) or (not infinite(a) and (sign(a) or sign(b))):
        return
    upper, lower = differentiate(top, x), differentiate(bottom, x)
    if lower == ZERO:
        return
    form = "∞/∞" if infinite(a) else "0/0"
    if turned:
        reason = say(
            "Written as {quotient} it has the form {form}: differentiate above and below.", quotient=divide(top, bottom), form=form
        )
    else:
        reason = say("The form is {form}: differentiate above and below.", form=form)
    new = tidy(multiply(rest, cancelled(upper, lower, x)))
    yield Step("lhopital", again(question, new), reason, extra_cost=0.7 * turned)


def _exponential(question: Question, term: Term, variable: str) -> Step | None:
    """f^g as e^(g ln f): the limit of the exponent."""
    if len(term.powers) != 1 or isinstance(term.powers[0][1], Fraction) or term.coefficient != 1:
        return None
    base, exponent = term.powers[0]
    if variable not in names(base) or isinstance(exponent, Fraction):
        return None
    inner = again(question, tidy(multiply(exponent, call("ln", base))))
    return Step("lhopital", power(E, inner), say("Write the power as an exponential and take the limit of the exponent."))


TECHNIQUE = Technique(
    id="lhopital",
    title="l'Hôpital's rule",
    cost=3.0,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to \infty} \frac{\ln x}{\sqrt{x}}"),
        Example(r"\lim_{x \to 0} \frac{e^x - 1 - x}{x^2}"),
        Example(r"\lim_{x \to 0^+} x^2\ln x"),
        Example(r"\lim_{x \to \infty} x^{2/x}"),
        Example(r"\lim_{x \to 1} \frac{x + 1}{x + 2}", applies=False),
        Example(r"\lim_{x \to 0} \cos x", applies=False),
    ),
    explains="For 0/0 and ∞/∞ the limit of the quotient is the limit of the quotient of the derivatives, if that exists.",
)
