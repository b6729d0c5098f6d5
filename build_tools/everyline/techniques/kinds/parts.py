"""Integration by parts: one factor becomes simpler when it is differentiated, the other can be integrated."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from ...algebra.cancel import cancelled
from ...algebra.expand import common_factor, split_constant
from ...algebra.poly import coefficients, linear
from ...algebra.terms import Term, as_node, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import ONE, contains, multiply, names, power, size, subtract, walk
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Name, Node, Sum
from ..asking import constant_and_rest, depends, differentiate, integral, is_rational
from ..base import Example, Shown, Step, Technique
from ..cancelling import fitted
from ..forms import standard
from ..simple import simple_antiderivative

_LOGARITHMIC = {"ln"}
_INVERSE = {"arcsin", "arccos", "arctan", "arcsec", "arccsc", "arccot", "arsinh", "arcosh", "artanh"}
_WAVES = {"sin", "cos", "sinh", "cosh"}
PAIRS = (("u", "v"), ("p", "q"), ("r", "s"))


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    x = question.variable
    if is_rational(rest, x):
        return  # fractions of polynomials are split, not done by parts
    if _of_one_kind(rest, x):
        return  # multiplied out it is a sum that is known
    if contains(rest, Absolute) and not _logarithm_in(rest):
        return  # a kink is met by looking at its two sides
    seen: set[Node] = set()
    for first, second, extra in choices(rest, x):
        if first in seen:
            continue
        seen.add(first)
        v = simple_antiderivative(second, x)
        if v is not None:
            dearer = 3.0 if _logarithm_in(v) else 0.0  # a logarithm integrated once more seldom helps
            yield parts_step(question, "parts", constant, first, second, v, extra + dearer)


def _logarithm_in(node: Node) -> bool:
    return any(isinstance(part, Call) and part.function == "ln" for part in walk(node))


def _of_one_kind(node: Node, variable: str) -> bool:
    """Whether a product comes to powers of the variable alone, or to exponentials alone, once it is multiplied out."""
    kinds = {_kind(base, exponent, variable) for term in _multiplied(node) for base, exponent in term.powers}
    return kinds <= {"power", ""} or kinds <= {"exponential", ""}


def _multiplied(node: Node) -> Iterator[Term]:
    """The terms that a product of sums is made of."""
    term = term_of(node)
    sums = [b for b, e in term.powers if isinstance(b, Sum) and isinstance(e, Fraction) and e.denominator == 1 and e > 0]
    yield term.without(*sums)
    for base in sums:
        for inner in base.terms:
            yield from _multiplied(inner)


def _kind(base: Node, exponent: Fraction | Node, variable: str) -> str:
    if isinstance(exponent, Fraction):
        return "" if not depends(base, variable) else "power" if base == Name(variable) else "other"
    return "exponential" if not depends(base, variable) and linear(exponent, variable) is not None else "other"


def parts_step(question: Question, technique: str, constant: Node, first: Node, second: Node, v: Node, extra: float) -> Step:
    """`c∫ u dv = c u v - c∫ v du` with its four little lines."""
    x = question.variable
    used = names(question.body) | question.given.names | {x}
    a, b = next(pair for pair in PAIRS if not used & set(pair))
    slope = differentiate(first, x)
    if isinstance(slope, Sum) and coefficients(slope, x) is None:
        slope = common_factor(slope)
    integrated, better = say("Integrate it."), fitted(first, v, x)
    if better is not None:
        v, inside = better
        integrated = say("Integrate it, with the constant that lets {inside} cancel.", inside=inside)
    before = (
        Shown("let", Name(a), first, _why(first, slope, x)),
        Shown("differential", Name(b), tidy(second), say("This factor can be integrated.")),
        Shown("differential", Name(a), slope, say("Differentiate it.")),
        Shown("let", Name(b), v, integrated),
    )
    factor, left = split_constant(cancelled(tidy(multiply(v, common_factor(slope))), ONE, x), x)
    rest = integral(left, x, tidy(multiply(constant, factor)))
    result = tidy(subtract(tidy(multiply(constant, first, v)), rest))
    reason = say("Integrate by parts: the product less the integral of the other product.")
    return Step(technique, result, reason, ((a, first), (b, v)), before, extra_cost=extra)


def _why(first: Node, slope: Node, variable: str) -> Message:
    """Why a factor is differentiated: what comes of it is of a simpler kind, or at least there is a way to go on."""
    powers = term_of(first).powers
    known = len(powers) == 1 and isinstance(powers[0][0], Call) and powers[0][0].function in _LOGARITHMIC | _INVERSE
    if known or coefficients(first, variable) is not None or size(slope) < size(first):
        return say("This factor becomes simpler when it is differentiated.")
    return say("This factor is the one to differentiate.")


def choices(rest: Node, variable: str) -> Iterator[tuple[Node, Node, float]]:
    """(u, dv, extra cost) in the order in which a teacher tries them: logarithm, inverse function, polynomial, anything else."""
    term = term_of(rest)
    powers = term.powers
    for base, exponent in powers:
        if isinstance(base, Call) and base.function in _LOGARITHMIC | _INVERSE and isinstance(exponent, Fraction) and 0 < exponent <= 4:
            yield power(base, as_node(exponent)), join(term.without(base)), 0.0 if exponent == 1 else 0.3
    grown = tuple(
        (b, e) for b, e in powers if coefficients(b, variable) is not None and isinstance(e, Fraction) and e > 0 and e.denominator == 1
    )
    if grown and len(grown) < len(powers):
        polynomial = join(Term(Fraction(1), grown))
        rest_term = term.without(*(b for b, _ in grown))
        algebraic = all(isinstance(e, Fraction) and linear(b, variable) is not None for b, e in rest_term.powers)
        extra = 2.0 if algebraic else 0.0  # x√(x + 1): a new letter for the line is shorter
        yield polynomial, join(rest_term), extra + 0.2 * sum(float(e) for _, e in grown if isinstance(e, Fraction))
        x = Name(variable)
        degree = dict(grown).get(x)
        if isinstance(degree, Fraction) and degree > 1:
            for k in (1, int(degree) - 1):
                if 0 < k < degree:
                    yield tidy(power(x, int(degree) - k)), join(term.times(Term(Fraction(1), ((x, k - degree),)))), 1.5
    for base, exponent in powers:
        if len(powers) > 1 and isinstance(exponent, Fraction) and exponent < 0 and linear(base, variable) is not None:
            yield join(term.without(base)), power(base, as_node(exponent)), 2.5
    if all((isinstance(base, Call) and base.function in _WAVES) or not isinstance(exponent, Fraction) for base, exponent in powers):
        return  # formulas for products serve better
    for base, exponent in powers:
        if len(powers) > 1 and isinstance(base, Call | Sum) and isinstance(exponent, Fraction) and exponent > 0 and depends(base, variable):
            yield power(base, as_node(exponent)), join(term.without(base)), 3.0
    if len(powers) == 1 and isinstance(powers[0][1], Fraction) and not isinstance(rest, Sum) and standard(rest, variable) is None:
        yield rest, ONE, 3.5 if powers[0][1].denominator == 1 else 6.0  # a root calls for its own substitution first


TECHNIQUE = Technique(
    id="parts",
    title="Integration by parts",
    cost=4.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int x\cos 4x \, dx"),
        Example(r"\int x^3\ln x \, dx"),
        Example(r"\int \arctan x \, dx"),
        Example(r"\int x^2 e^{-x} \, dx"),
        Example(r"\int x \, dx", applies=False),
        Example(r"\int \sin x \, dx", applies=False),
    ),
    after=("table",),
    explains="One factor is differentiated, the other integrated: ∫ u dv = uv - ∫ v du.",
)
