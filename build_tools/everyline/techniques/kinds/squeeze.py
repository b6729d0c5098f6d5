"""Squeeze: something that tends to zero times something that only swings, such as sin(1/x), 2 - cos x or e^(sin x)."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.limits import swinging, tends
from ...algebra.numbers import sign
from ...algebra.signs import nonnegative
from ...algebra.terms import Term, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import ONE, PI, TWO, ZERO, E, add, divide, infinite, multiply, negate, number, rational, summands
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Negative, Node, Power, Product, Quotient, Sum
from ..base import Example, Shown, Step, Technique
from ..limiting import again, node_of, sides


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    x, side = question.variable, sides(node)[0]
    term = term_of(question.body)
    waves = swinging(term, x, node.point, side)
    if not waves:
        return
    rest = join(term.without(*waves))
    value = tends(rest, x, node.point, side)
    wave = join(Term(Fraction(1), tuple((b, e) for b, e in term.powers if b in waves)))
    bounds = between(wave)
    if bounds is None or value is None or infinite(value) or sign(value):
        return
    low, high = bounds
    bound = rest if nonnegative(rest) else Absolute(rest)
    bound = tidy(multiply(high, bound)) if high != ONE else bound
    limit = Shown("equal", again(question, bound), ZERO, say("The bound tends to zero."))
    reason = say("{wave} stays between {low} and {high}, so the size is at most {bound}: squeezed to zero.",
                 wave=wave, low=low, high=high, bound=bound)  # fmt: skip
    yield Step("squeeze", ZERO, reason, before=(limit,))


def between(node: Node) -> tuple[Node, Node] | None:
    """Two numbers between which a swinging expression stays, the upper one not the smaller in size; None where that is not plain."""
    found = _range(node)
    if found is None or sign(tidy(add(*found))) >= 0:
        return found
    return found[0], tidy(negate(found[0]))


def _range(node: Node) -> tuple[Node, Node] | None:
    if rational(node) is not None:
        return node, node
    match node:
        case Call(function="sin" | "cos" | "tanh" | "sgn"):
            return number(-1), ONE
        case Call(function="arctan"):
            half = divide(PI, TWO)
            return negate(half), half
        case Power(base=Call(function="sin" | "cos"), exponent=e) if (share := rational(e)) is not None and share > 0:
            return (ZERO if share.denominator == 1 and share % 2 == 0 else number(-1)), ONE
        case Power(base=base, exponent=Call(function="sin" | "cos")) if base == E:
            return divide(ONE, E), E
        case Negative(argument=inner):
            found = _range(inner)
            return None if found is None else (tidy(negate(found[1])), tidy(negate(found[0])))
        case Sum():
            ends = [_range(t) for t in summands(node)]
            kept = [e for e in ends if e is not None]
            return (tidy(add(*(e[0] for e in kept))), tidy(add(*(e[1] for e in kept)))) if len(kept) == len(ends) else None
        case Product() | Quotient():
            return _of_product(term_of(node))
    return None


def _of_product(term: Term) -> tuple[Node, Node] | None:
    """A number times waves, each of which stays between -1 and 1; or a number times one other."""
    found = [_range(join(Term(Fraction(1), (power,)))) for power in term.powers]
    if len(found) > 1:
        found = [(number(-1), ONE)] if all(f is not None and f[1] == ONE for f in found) else [None]
    if len(found) != 1 or found[0] is None:
        return None
    ends = [tidy(multiply(number(term.coefficient), end)) for end in found[0]]
    return (ends[0], ends[1]) if term.coefficient > 0 else (ends[1], ends[0])


TECHNIQUE = Technique(
    id="squeeze",
    title="Squeeze",
    cost=2.0,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 0} x^2\cos\frac{1}{x}"),
        Example(r"\lim_{x \to \infty} \frac{\sin x}{x}"),
        Example(r"\lim_{x \to \infty} \frac{2 - \cos x}{x + 3}"),
        Example(r"\lim_{x \to \infty} e^{-x}\cos^2 x"),
        Example(r"\lim_{x \to 0} \frac{\sin x}{x}", applies=False),
        Example(r"\lim_{x \to 0} x\cos x", applies=False),
    ),
    explains="Between -g and g with g tending to zero, everything tends to zero.",
)
