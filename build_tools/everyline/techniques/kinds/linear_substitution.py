"""Substitution with a linear inside: u = ax + b, also where x is left over."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.poly import coefficients, linear, rational_function
from ...notation.build import rational, walk
from ...notation.question import Question
from ...notation.tree import Call, Power, Sum
from ..asking import constant_and_rest, is_rational
from ..base import Example, Step, Technique
from ..forms import linear_form, linear_insides
from ..substituting import substitution_step

#: How many coefficients a polynomial has at most that is sooner multiplied out: x(x + 2)².
SHORT = 4


def propose(question: Question) -> Iterable[Step]:
    _, rest = constant_and_rest(question)
    fraction = rational_function(rest, question.variable)
    if fraction is not None and len(fraction[1]) > 1:
        return  # several factors below: no one of them makes the others simple
    if isinstance(rest, Sum) and is_rational(rest, question.variable):
        return  # term by term
    values = coefficients(rest, question.variable)
    short = 1.0 if values is not None and len(values) <= SHORT else 0.5
    for inner, _ in linear_insides(rest, question.variable):
        step = substitution_step(question, "linear-substitution", inner, 0.0 if linear_form(rest, question.variable) else short)
        if step is not None and not _spoils_another(step):
            yield step


def _spoils_another(step: Step) -> bool:
    """Whether the new name stands stretched inside another function: with u = 3x in e^(3x) and e^(-x) nothing is gained."""
    ((name, _),) = step.bindings
    for part in walk(step.result):
        inside = part.argument if isinstance(part, Call) else part.exponent if isinstance(part, Power) else None
        line = None if inside is None else linear(inside, name)
        if line is not None and rational(line[0]) not in (1, -1):
            return True
    return False


TECHNIQUE = Technique(
    id="linear-substitution",
    title="Substitution with a linear inside",
    cost=2.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int (3x - 8)^5 \, dx"),
        Example(r"\int x\sqrt{x + 6} \, dx"),
        Example(r"\int \frac{x}{x - 4} \, dx"),
        Example(r"\int \sin 7x \, dx"),
        Example(r"\int x\,e^{x^2} \, dx", applies=False),
        Example(r"\int \sin x \, dx", applies=False),
    ),
    after=("table",),
    explains="Write u for the linear inside; dx is du divided by its constant derivative.",
)
