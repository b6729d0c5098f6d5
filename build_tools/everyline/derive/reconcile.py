"""Two answers that look different: the algebra from one to the other and the constant between them."""

from __future__ import annotations

from fractions import Fraction

from ..algebra.expand import multiply_out
from ..algebra.numbers import number_of
from ..algebra.order import text
from ..algebra.tidy import tidy
from ..kernel import Checked, Equal, Setting
from ..notation.build import PI, ZERO, add, divide, number, size, substitute, subtract, without_constant
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Infinity, Interval, Negative, Node, Region
from .budget import judged
from .route import Line, Reconciliation

_PLACES = (
    ZERO,
    number(1),
    tidy(divide(PI, number(4))),
    number(2),
    tidy(divide(PI, number(2))),
    number(-1),
    number(Fraction(1, 2)),
    number(5),
    number(-5),
)


def reconcile(question: Question, first: Node, second: Node) -> Reconciliation | None:
    """From one antiderivative to the other, line by line; None where they are the same or no constant was found."""
    a, b = without_constant(first), without_constant(second)
    if question.kind != "indefinite" or text(tidy(a)) == text(tidy(b)):
        return None
    whole = _between(question, a, b, question.domain)
    if whole is not None:
        constant, verdict = whole
        return Reconciliation(first, second, _lines(question, a, b, constant, verdict), (("", constant),), verdict)
    if question.domain is not None:
        return None
    halves = [(name, _between(question, a, b, region)) for name, region in _halves(question.variable)]
    found = [(name, h) for name, h in halves if h is not None]
    if len(found) != 2:
        return None
    return Reconciliation(first, second, (), tuple((name, h[0]) for name, h in found), found[0][1][1])


def _halves(variable: str) -> tuple[tuple[str, Region], ...]:
    left, right = Interval(Negative(Infinity()), ZERO), Interval(ZERO, Infinity())
    return (f"{variable} < 0", left), (f"{variable} > 0", right)


def _between(question: Question, a: Node, b: Node, region: Region | None) -> tuple[Node, Checked] | None:
    """The constant a - b on a region, with the kernel's word that a = b + constant there."""
    setting = Setting(question.variable, region, question.given)
    plain = tidy(subtract(multiply_out(a, question.variable), multiply_out(b, question.variable)))
    values = [plain] if question.variable not in _names(plain) else []
    for place in _PLACES:
        try:
            value = tidy(substitute(subtract(a, b), {question.variable: place}))
        except ZeroDivisionError:
            continue
        ball = number_of(value) if not question.given.parameters else None
        if ball is not None and ball.is_finite():
            values.append(ZERO if ball.contains(0) and ball.rad() < 1e-20 else value)
            break
    for value in values:
        verdict = judged(Equal(a, tidy(add(b, value)), setting), 2.0)
        if isinstance(verdict, Checked):
            return value, verdict
    return None


def _names(node: Node) -> frozenset[str]:
    from ..notation.build import names

    return names(node)


def _lines(question: Question, a: Node, b: Node, constant: Node, last: Checked) -> tuple[Line, ...]:
    """a, multiplied out where that says more, and then b and the constant."""
    lines: list[Line] = []
    setting = Setting(question.variable, question.domain, question.given)
    out = multiply_out(a, question.variable)
    left: Node | None = a
    if out != a and text(out) != text(tidy(add(b, constant))) and size(out) < 3 * size(a):
        verdict = judged(Equal(a, out, setting), 2.0)
        if isinstance(verdict, Checked):
            lines.append(Line("equal", out, say("Multiply out."), verdict, left))
            left = None
    reason = (
        say("The two answers differ by the constant {constant}.", constant=constant)
        if constant != ZERO
        else say("The two answers are equal.")
    )
    lines.append(Line("equal", add(b, constant), reason, last, left))
    return tuple(lines)
