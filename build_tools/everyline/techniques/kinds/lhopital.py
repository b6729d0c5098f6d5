"""l'Hôpital's rule, after its form has been checked; products and powers brought to that form."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.cancel import cancelled
from ...algebra.common import flat
from ...algebra.expand import split_constant
from ...algebra.growth import ratios, together
from ...algebra.limits import tends
from ...algebra.numbers import sign
from ...algebra.terms import Exponent, Term, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import ONE, ZERO, E, call, contains, divide, infinite, multiply, names, number, power, rational, size, walk
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Limit, Node, Power, Quotient, Sum
from ..asking import differentiate
from ..base import Example, Step, Technique
from ..brackets import plain_at
from ..limiting import again, at_once, left_open, node_of, sides

#: How much longer the new quotient may be where the old one had to be made first: what grows that way leads nowhere.
MORE = 12


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    body, x = tidy(question.body), question.variable
    raised = _exponential(question, term_of(body), x)
    if raised is not None and (infinite(node.point) or not plain_at(body, x, node.point)):
        yield raised
        return
    if at_once(node) is not None or (contains(body, Absolute) and not infinite(node.point)):
        return  # at a point the bars are taken away first
    if isinstance(body, Sum):
        one = together(body.terms)
        if one is None:
            return
        body = tidy(one)
    side = sides(node)[0]
    term = term_of(body)
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
        steps = list(_rule(question, rest, top, bottom, node, side, i))
        yield from steps
        if steps and isinstance(question.body, Quotient):
            return  # it was a quotient as it stood


def _rule(question: Question, rest: Node, top: Node, bottom: Node, node: Limit, side: int, turned: int) -> Iterable[Step]:
    x = question.variable
    a, b = tends(top, x, node.point, side), tends(bottom, x, node.point, side)
    if a is None or b is None or bool(infinite(a)) != bool(infinite(b)) or (not infinite(a) and (sign(a) or sign(b))):
        return
    upper, lower = differentiate(top, x), differentiate(bottom, x)
    if lower == ZERO:
        return
    front = rational(rest)
    if front is not None:  # a number in front belongs to the quotient
        above, below = number(front.numerator), number(front.denominator)
        top, bottom, rest = multiply(above, top), multiply(below, bottom), ONE
        upper, lower = tidy(multiply(above, upper)), tidy(multiply(below, lower))
    said = say("The form is {form}: differentiate above and below.", form="∞/∞" if infinite(a) else "0/0")
    short = tidy(multiply(rest, cancelled(upper, lower, x)))
    new = min(tidy(multiply(rest, divide(upper, lower))), short, flat(short), key=size)
    raw = multiply(rest, Quotient(upper, lower))
    through: list[tuple[Node, Message]] = []
    stood = isinstance(question.body, Quotient) and split_constant(question.body.bottom, x)[1] == split_constant(bottom, x)[1]
    buried = isinstance(bottom, Quotient) and any(isinstance(p, Call) or _exponential_in(p, x) for p in walk(bottom))
    if not stood and (buried or size(new) > size(question.body) + MORE):
        return  # nobody puts a logarithm or a sine into the denominator of a denominator
    if not stood:
        through.append((again(question, multiply(rest, divide(top, bottom))), say("Write it as a quotient.")))
    if names(lower) and _nested(upper, lower, new):
        through.append((again(question, raw), said))
        yield Step("lhopital", left_open(question, new), say("Simplify."), extra_cost=0.7 * turned, through=tuple(through))
    else:
        shown = raw if tidy(raw) == new and x in names(lower) and x in names(new) else new
        yield Step("lhopital", left_open(question, shown), said, extra_cost=0.7 * turned, through=tuple(through))


def _exponential_in(node: Node, variable: str) -> bool:
    return isinstance(node, Power) and variable in names(node.exponent)


def _nested(upper: Node, lower: Node, new: Node) -> bool:
    """Whether the quotient of the derivatives is worth a line before it is simplified: fractions in it, or something that cancels."""
    fractions = any(isinstance(p, Quotient) for part in (upper, lower) for p in walk(part))
    return not names(new) or tidy(divide(upper, lower)) != new or fractions


def _exponential(question: Question, term: Term, variable: str) -> Step | None:
    """f^g as e^(g ln f): the limit of the exponent."""
    if len(term.powers) != 1 or isinstance(term.powers[0][1], Fraction) or term.coefficient != 1:
        return None
    base, exponent = term.powers[0]
    if variable not in names(base) or isinstance(exponent, Fraction):
        return None
    inner = left_open(question, tidy(multiply(exponent, call("ln", base))))
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
