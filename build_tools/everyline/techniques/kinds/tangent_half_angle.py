"""The tangent of the half angle: any fraction of sines and cosines of one angle becomes a fraction of polynomials."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.poly import linear
from ...algebra.tidy import tidy
from ...notation.build import ONE, TWO, add, call, divide, multiply, power
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Name
from ..asking import constant_and_rest, fresh
from ..base import Example, Shown, Step, Technique
from ..half_angles import half, one_angle, tangent_step, written_in


def propose(question: Question) -> Iterable[Step]:
    _, rest = constant_and_rest(question)
    angle = one_angle(rest, question.variable)
    line = None if angle is None else linear(angle, question.variable)
    if angle is None or line is None:
        return
    u = Name(fresh(question))
    sine, cosine = half(u)
    body = written_in(rest, angle, sine, cosine)
    per_du = divide(TWO, multiply(line[0], add(ONE, power(u, 2))))
    shown = (Shown("equal", sine, call("sin", angle)), Shown("equal", cosine, call("cos", angle)))
    reason = say("Write sine and cosine in the tangent of the half angle.")
    step = tangent_step(question, "tangent-half-angle", tidy(divide(angle, TWO)), body, per_du, shown, reason)
    if step is not None:
        yield step


TECHNIQUE = Technique(
    id="tangent-half-angle",
    title="Tangent of the half angle",
    cost=9.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \frac{1}{5 + 3\sin x} \, dx"),
        Example(r"\int \frac{1}{2 + \cos x} \, dx"),
        Example(r"\int \frac{1}{4\sin 2x + 3\cos 2x} \, dx"),
        Example(r"\int \frac{x}{2 + \cos x} \, dx", applies=False),
        Example(r"\int \sqrt{1 + \sin x} \, dx", applies=False),
    ),
    after=("substitution", "partial-fractions"),
    explains="With u = tan(x/2) sine and cosine are fractions in u, and so is dx/du. The last resort: it always works, and it is long.",
)
