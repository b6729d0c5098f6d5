"""The tangent as new variable, where the integrand has period π: fractions of the squares of sine and cosine."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.expand import split_constant
from ...algebra.poly import linear
from ...algebra.terms import term_of
from ...algebra.tidy import tidy
from ...notation.build import ONE, add, call, divide, multiply, number, power, walk
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Name, Node, Sum
from ..asking import constant_and_rest, fresh
from ..base import Example, Shown, Step, Technique
from ..forms import standard
from ..half_angles import one_angle, tangent_step, written_in


def propose(question: Question) -> Iterable[Step]:
    _, rest = constant_and_rest(question)
    angle = one_angle(rest, question.variable)
    line = None if angle is None else linear(angle, question.variable)
    if angle is None or line is None or not any(isinstance(b, Sum) for b, _ in term_of(rest).powers):
        return
    if isinstance(rest, Sum) and all(standard(split_constant(t, question.variable)[1], question.variable) is not None for t in rest.terms):
        return  # term by term
    u = Name(fresh(question))
    square = add(ONE, power(u, 2))
    co = Name("cosine")  # a letter of its own: even powers of it alone can be written in the tangent
    body = _squares(tidy(written_in(rest, angle, multiply(u, co), co)), co, divide(ONE, square))
    if body is None:
        return
    per_du = divide(ONE, multiply(line[0], square))
    shown = (
        Shown("equal", divide(power(u, 2), square), power(call("sin", angle), 2)),
        Shown("equal", divide(ONE, square), power(call("cos", angle), 2)),
    )
    reason = say("Write the squares of sine and cosine in the tangent.")
    step = tangent_step(question, "tangent-substitution", angle, body, per_du, shown, reason)
    if step is not None:
        yield step


def _squares(node: Node, letter: Name, square: Node) -> Node | None:
    """The node with the letter's square put in, where every term holds it in even powers alone."""
    if letter not in walk(node):
        return node
    if isinstance(node, Sum):
        parts = [_squares(t, letter, square) for t in node.terms]
        kept = [p for p in parts if p is not None]
        return add(*kept) if len(kept) == len(parts) else None
    term = term_of(node)
    if term.powers == ((node, Fraction(1)),):
        return None  # the letter stands inside a function
    factors: list[Node] = [number(term.coefficient)]
    for base, e in term.powers:
        if not isinstance(e, Fraction) or e.denominator != 1 or (base == letter and e % 2):
            return None
        inner = square if base == letter else _squares(base, letter, square)
        if inner is None:
            return None
        factors.append(power(inner, int(e) // 2 if base == letter else int(e)))
    return multiply(*factors)


TECHNIQUE = Technique(
    id="tangent-substitution",
    title="Tangent as the new variable",
    cost=6.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{2}{1 + \cos^2 x} \, dx"),
        Example(r"\int \frac{1}{3\sin^2 x + \cos^2 x} \, dx"),
        Example(r"\int \frac{1}{2 + \cos x} \, dx", applies=False),
        Example(r"\int \tan^2 x \, dx", applies=False),
    ),
    after=("substitution",),
    explains="Where sine and cosine come in squares alone, u = tan x leaves a fraction in u.",
)
