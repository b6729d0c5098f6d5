"""Standard limits, u tending to zero: sin u / u, (1 - cos u)/u², (eᵘ - 1)/u, ln(1 + u)/u; each factor is brought to that form first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from ...algebra.limits import DEEPEST, tends
from ...algebra.terms import Exponent, Term, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import ONE, ZERO, E, add, call, infinite, multiply, names, negate, number, power, rational, subtract
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Call, Limit, Name, Node, Product, Quotient, Sum
from ..base import Example, Shown, Step, Technique
from ..limiting import again, at_once, node_of, sides

_LIKE_THEIR_ARGUMENT = {"sin", "tan", "arcsin", "arctan", "sinh", "tanh", "arsinh"}


@dataclass(frozen=True, slots=True)
class _Like:
    """A factor that behaves like sign·limit·u^order at zero, with u = slope·x^degree."""

    factor: Node
    u: Node
    slope: Fraction
    degree: int
    order: int = 1
    limit: Fraction = Fraction(1)
    sign: int = 1

    @property
    def form(self) -> tuple[Node, Node]:
        """Above and below in the standard form."""
        top = self.factor
        if self.sign < 0 and isinstance(top, Sum):
            top = add(*(negate(t) for t in top.terms[::-1]))
        return top, power(self.u, self.order)


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    sense = 1 if node.point == ZERO else -1 if infinite(node.point) else 0  # the power of x that tends to zero
    if not sense or at_once(node) is not None:
        return
    read = _read(term_of(question.body), node)
    if read is None:
        return
    known, left, rest = read
    coefficient, degree = left.coefficient, left.exponent(Name(node.variable))
    if not isinstance(degree, Fraction) or degree * sense < 0 or coefficient == 0:
        return
    rest_value = tends(rest, node.variable, node.point, sides(node)[0], DEEPEST)
    if rest_value is None or infinite(rest_value):
        return
    forms = [_written(like, exponent) for like, exponent in known]
    powers = [join(Term(Fraction(1), ((Name(node.variable), degree),)))] if degree else []
    shown = multiply(number(coefficient), *powers, *forms, rest)
    values = [number(coefficient), *(ZERO for _ in powers), *(number(like.limit ** int(e)) for like, e in known), rest_value]
    several = [v for v, f in zip(values, (number(coefficient), *powers, *forms, rest), strict=True) if f != ONE]
    through = ((again(question, shown), say("Bring each factor to the form of a standard limit.")),)
    like, exponent = known[0]
    once = Fraction(1 if exponent > 0 else -1)
    form, value = _written(like, once), number(like.limit ** int(once))
    if len(known) > 1:
        reason = say("Each factor has a known limit: {form} tends to {value}.", form=form, value=value)
    else:
        reason = say("As {u} tends to 0, {form} tends to {value}.", u=like.u, form=form, value=value)
    # it is in the form as it was asked (far out x sin(1/x) is not)
    stands = shown == form and (question.body == form or (sense > 0 and tidy(question.body) == tidy(form)))
    detail = tuple(_details(node, known))
    yield Step("limit-standard", _product(several), reason, through=() if stands else through, detail=detail)


def _product(factors: list[Node]) -> Node:
    """The values side by side, not multiplied out: 3 · 1."""
    return factors[0] if len(factors) == 1 else Product(tuple(factors))


def _written(like: _Like, exponent: Fraction) -> Node:
    top, bottom = like.form
    turned = Quotient(bottom, top) if exponent < 0 else Quotient(top, bottom)
    return power(turned, number(abs(exponent)))


def _read(term: Term, node: Limit) -> tuple[list[tuple[_Like, Fraction]], Term, Node] | None:
    """The factors with a standard limit, what is left of number and power of x beside their forms, and the other factors."""
    x = Name(node.variable)
    known: list[tuple[_Like, Fraction]] = []
    left, others = Term(term.coefficient), Term(Fraction(1))
    for base, exponent in term.powers:
        like = _like(base, node.variable, node.point)
        if base == x and isinstance(exponent, Fraction):
            left = left.times(Term(Fraction(1), ((x, exponent),)))
        elif like is None:
            others = others.times(Term(Fraction(1), ((base, exponent),)))
        elif not isinstance(exponent, Fraction) or exponent.denominator != 1:
            return None
        else:
            known.append((like, exponent))
            size = Fraction(like.sign) * like.slope**like.order
            left = left.times(Term(size ** int(exponent), ((x, like.degree * like.order * exponent),)))
    return (known, left, join(others)) if known else None


def _like(base: Node, variable: str, point: Node) -> _Like | None:
    if isinstance(base, Call) and base.function in _LIKE_THEIR_ARGUMENT:
        return _of(base, base.argument, variable, point)
    if isinstance(base, Call) and base.function == "ln" and isinstance(base.argument, Sum):
        return _of(base, tidy(subtract(base.argument, ONE)), variable, point)
    if not isinstance(base, Sum) or len(base.terms) != 2:
        return None
    moving = [t for t in base.terms if variable in names(t)]
    constant = next((rational(t) for t in base.terms if t not in moving), None)
    term = term_of(moving[0])
    if len(moving) != 1 or constant is None or term.coefficient != -constant or abs(constant) != 1 or len(term.powers) != 1:
        return None
    inner, exponent = term.powers[0]
    if inner == E and not isinstance(exponent, Fraction):
        return _of(base, exponent, variable, point, sign=int(term.coefficient))
    if isinstance(inner, Call) and inner.function == "cos" and exponent == 1:
        return _of(base, inner.argument, variable, point, order=2, limit=Fraction(1, 2), sign=-int(term.coefficient))
    return None


def _of(factor: Node, u: Node, variable: str, point: Node, order: int = 1, limit: Fraction = Fraction(1), sign: int = 1) -> _Like | None:
    """The form with u where that is a multiple of a whole power of the variable that tends to zero."""
    term = term_of(u)
    exponent: Exponent = term.exponent(Name(variable))
    if len(term.powers) != 1 or not isinstance(exponent, Fraction) or exponent.denominator != 1:
        return None
    if exponent == 0 or (exponent > 0) != (point == ZERO):
        return None
    return _Like(factor, u, term.coefficient, int(exponent), order, limit, sign)


def _details(node: Limit, known: list[tuple[_Like, Fraction]]) -> Iterable[Shown]:
    """Where the limits of (1 - cos u)/u² and tan u/u come from: sin u/u."""
    for like, _ in known:
        sine = call("sin", like.u)
        if like.order == 2:
            limit = Limit(Quotient(*like.form), node.variable, node.point, node.side)
            reason = say("Multiply above and below by {factor}.", factor=add(ONE, call("cos", like.u)))
            squared = multiply(power(Quotient(sine, like.u), 2), Quotient(ONE, add(ONE, call("cos", like.u))))
        elif isinstance(like.factor, Call) and like.factor.function == "tan":
            limit = Limit(Quotient(*like.form), node.variable, node.point, node.side)
            reason = say("The tangent is the sine over the cosine.")
            squared = multiply(Quotient(sine, like.u), Quotient(ONE, call("cos", like.u)))
        else:
            continue
        yield Shown("equal", limit, Limit(squared, node.variable, node.point, node.side), reason)


TECHNIQUE = Technique(
    id="limit-standard",
    title="Standard limits",
    cost=2.0,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 0} \frac{\sin 4x}{x}"),
        Example(r"\lim_{x \to 0} \frac{1 - \cos x}{x^2}"),
        Example(r"\lim_{x \to 0} \frac{e^{3x} - 1}{x}"),
        Example(r"\lim_{x \to 0} \frac{\sin(x^2)}{x}"),
        Example(r"\lim_{x \to \infty} x\sin\frac{3}{x}"),
        Example(r"\lim_{x \to 0} \frac{\tan 2x}{x\cos x}"),
        Example(r"\lim_{x \to 1} \frac{x^2 - 1}{x - 1}", applies=False),
        Example(r"\lim_{x \to 0} \frac{\cos x}{x + 1}", applies=False),
        Example(r"\lim_{x \to 0} \frac{\sin x}{x^2}", applies=False),
    ),
    explains="sin u / u tends to 1 as u tends to 0, and its relatives.",
)
