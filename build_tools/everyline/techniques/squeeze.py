"""Squeeze: something that tends to zero times a sine or cosine that only swings."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ..algebra.limits import tends
from ..algebra.numbers import infinite, sign
from ..algebra.signs import nonnegative
from ..algebra.terms import term_of
from ..algebra.tidy import join
from ..notation.build import ZERO
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Absolute, Call
from .base import Example, Shown, Step, Technique
from .limiting import again, node_of, sides


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    x, side = question.variable, sides(node)[0]
    term = term_of(question.body)
    waves = [
        b
        for b, e in term.powers
        if isinstance(b, Call) and b.function in ("sin", "cos") and isinstance(e, Fraction) and e > 0
        and tends(b, x, node.point, side) is None
    ]  # fmt: skip
    if not waves:
        return
    rest = join(term.without(*waves))
    value = tends(rest, x, node.point, side)
    if value is not None and not infinite(value) and sign(value) == 0:
        bound = rest if nonnegative(rest) else Absolute(rest)
        limit = Shown("equal", again(question, bound), ZERO, say("The bound tends to zero."))
        reason = say("{wave} stays between -1 and 1, so the size is at most {bound}: squeezed to zero.", wave=waves[0], bound=bound)
        yield Step("squeeze", ZERO, reason, before=(limit,))


TECHNIQUE = Technique(
    id="squeeze",
    title="Squeeze",
    cost=2.0,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 0} x^2\cos\frac{1}{x}"),
        Example(r"\lim_{x \to \infty} \frac{\sin x}{x}"),
        Example(r"\lim_{x \to 0} \frac{\sin x}{x}", applies=False),
        Example(r"\lim_{x \to 0} x\cos x", applies=False),
    ),
    explains="Between -g and g with g tending to zero, everything tends to zero.",
)
