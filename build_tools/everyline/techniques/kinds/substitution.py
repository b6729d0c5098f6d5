"""Substitution: an inside whose derivative stands beside it, up to a constant."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from math import gcd

from ...algebra.poly import linear
from ...algebra.terms import Term, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import ONE, names, number, power, size, walk
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Constant, Integral, Name, Node, Power, Product, Quotient, Root, Sum
from ..asking import depends, insides, integrand
from ..base import Example, Step, Technique
from ..substituting import NOT_BESIDE, substitution_step

MOST = 8
#: How far off a new letter is for what already is the antiderivative: whoever sees that needs no letter.
GUESSED = 6.0
#: How much dearer a sum is whose derivative must be divided by: 1 + eˣ, where eˣ alone would do.
DIVIDED = 1.5


def candidates(question: Question) -> Iterator[tuple[Node, float]]:
    """Insides worth trying, with how far a teacher reaches for them: insides first, then whole functions; powers of other insides last."""
    body, x = integrand(question), question.variable
    seen: set[Node] = set()
    listed: list[tuple[float, int, Node]] = []
    for inner in insides(body, x):
        if inner not in seen and linear(inner, x) is None:
            seen.add(inner)
            listed.append((0.3 if isinstance(inner, Quotient) else _reach(inner, x), len(listed), inner))
    for part in walk(body):
        whole = isinstance(part, Call) or (isinstance(part, Power) and (_exponential(part, x) or depends(part.base, x)))
        if (whole or isinstance(part, Root | Sum)) and part not in seen and part != body and depends(part, x) and linear(part, x) is None:
            seen.add(part)
            further = 0.4 if isinstance(part, Sum | Call) else 0.8
            listed.append((0.6 if _beside(part, body) else _reach(part, x) + further, len(listed), part))
    for inner in _hidden(body, x):
        if inner not in seen:
            seen.add(inner)
            listed.append((4.0 if isinstance(inner, Quotient) else 0.6, len(listed), inner))
    for reach, _, inner in sorted(listed)[:MOST]:
        yield inner, reach


def _beside(part: Node, body: Node) -> bool:
    """Whether a root of the variable is met together with what its derivative has below: √x with 1/√x beside it."""
    return (
        isinstance(part, Root) and isinstance(part.radicand, Name) and term_of(body).exponent(part.radicand) == Fraction(1, part.index) - 1
    )


def _hidden(body: Node, variable: str) -> Iterator[Node]:
    """Insides that do not stand there as such: x³ where x² dx meets x⁶, x sin x where its square stands in a sum."""
    x = Name(variable)
    term = term_of(body)
    exponent = term.exponent(x)
    if len(term.powers) > 1 and isinstance(exponent, Fraction) and exponent not in (-1, 0):
        yield tidy(power(x, number(exponent + 1)))
    for part in walk(body):
        if isinstance(part, Sum):
            for t in part.terms:
                term = term_of(t)
                exponents = [e for _, e in term.powers if isinstance(e, Fraction) and e.denominator == 1]
                if len(exponents) == len(term.powers) > 1:
                    shared = gcd(*(int(e) for e in exponents))
                    if shared and depends(t, variable) and linear(t, variable) is None:
                        yield join(Term(Fraction(1), tuple((b, e / shared) for b, e in term.powers if isinstance(e, Fraction))))


def _exponential(node: Node, variable: str) -> bool:
    return isinstance(node, Power) and depends(node.exponent, variable) and not depends(node.base, variable)


def _reach(inner: Node, variable: str) -> float:
    """A power, root or reciprocal as u is an unnatural choice where its own inside would do."""
    match inner:
        case Root():
            return 2.5
        case Quotient():
            return 4.0
        case Power(base=base, exponent=exponent):
            if isinstance(base, Constant) and depends(exponent, variable):
                return 0.3 if linear(exponent, variable) is not None else 2.5
            return 0.2 if isinstance(base, Name) else 2.5
        case Product():
            return 0.8
        case Absolute():
            return 4.0
        case Call(function="sec" | "csc", argument=Name()):
            return 0.7  # its derivative is two functions: the tangent's, where both fit, is one
        case Call(argument=argument):
            return 0.2 if isinstance(argument, Name) or linear(argument, variable) else 1.8
    return 0.0 if size(inner) < 14 else 0.3


def propose(question: Question) -> Iterable[Step]:
    for inner, reach in candidates(question):
        step = substitution_step(question, "substitution", inner, reach)
        if step is None:
            continue
        if any(isinstance(part, Integral) and part.integrand == ONE for part in walk(step.result)):
            yield replace(step, extra_cost=reach + GUESSED)
        elif isinstance(inner, Sum) and NOT_BESIDE in (step.reason.text, *(reason.text for _, reason in step.through)):
            yield replace(step, extra_cost=reach + DIVIDED)
        elif not (isinstance(inner, Quotient) and _nested(step)):
            yield step


def _nested(step: Step) -> bool:
    """Whether the new letter stands below a bar inside a function or a sum: with u = 1/x in ln(x + 1) nothing is gained."""
    ((name, _),) = step.bindings
    kept = [part for part in walk(step.result) if isinstance(part, Call | Sum)]
    return any(isinstance(p, Quotient) and name in names(p.bottom) for part in kept for p in walk(part))


TECHNIQUE = Technique(
    id="substitution",
    title="Substitution",
    cost=3.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int x^2\cos(x^3) \, dx"),
        Example(r"\int \frac{(\ln x)^4}{x} \, dx"),
        Example(r"\int \frac{e^x}{e^x + 7} \, dx"),
        Example(r"\int x^3\sqrt{x^2 + 5} \, dx"),
        Example(r"\int \cos(x^2) \, dx", applies=False),
        Example(r"\int x\,e^x \, dx", applies=False),
    ),
    after=("table",),
    explains="Name an inside u; where the rest is a constant multiple of its derivative, the integral is one in u alone.",
)
