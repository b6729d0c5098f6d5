"""Why a limit has its value: what grows, what vanishes, what stays, in one sentence."""

from __future__ import annotations

from fractions import Fraction

from ..algebra.expand import split_constant
from ..algebra.growth import leading
from ..algebra.limits import DEEPEST, bounded, tends
from ..algebra.numbers import INFINITY, number_of, sign
from ..algebra.terms import Exponent, Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ONE, ZERO, add, contains, divide, infinite, names, negate, number, replace, substitute, walk
from ..notation.message import Message, say
from ..notation.tree import Call, Limit, Name, Negative, Node, Quotient, Sum
from .brackets import plain_at

Powers = list[tuple[Node, Exponent]]


def why(limit: Limit, value: Node) -> Message:
    """The sentence for a limit from one side (or at infinity) with its value."""
    body, x = tidy(limit.body), limit.variable
    if isinstance(body, Negative):
        return why(Limit(body.argument, x, limit.point, limit.side), tidy(Negative(value)))
    if not infinite(limit.point) and plain_at(body, x, limit.point):
        return say("The function is continuous there: put the point in.")
    small = _vanishing_inside(body, limit) if infinite(limit.point) and not infinite(value) else None
    if small is not None:
        return small
    constant, rest = split_constant(body, x)
    if constant != ONE and rest not in (body, ONE):
        turned = infinite(value) and sign(constant) < 0
        plain = negate(value) if turned else value if infinite(value) else tidy(divide(value, constant))
        return why(Limit(rest, x, limit.point, limit.side), plain)
    match body:
        case Call(argument=inner):
            found = _of_call(body, inner, limit, value)
        case Sum():
            found = _of_sum(body, limit)
        case _:
            found = _of_product(body, limit, value)
    return found or say("Compare what grows with what stays.")


def _at(node: Node, limit: Limit, depth: int = 0) -> Node | None:
    return tends(node, limit.variable, limit.point, -1 if limit.side == "-" else 1, depth)


def _of_call(body: Call, inner: Node, limit: Limit, value: Node) -> Message | None:
    inside = _at(inner, limit)
    if inside is None:
        return None
    if infinite(inside) and not infinite(value):
        return say("{function} levels off at {value}.", function=body, value=value)
    if infinite(value):
        return _endless(body, inner, inside, limit)
    return say("The inside {inside} tends to {value}, and the function outside is continuous.", inside=inner, value=inside)


def _endless(body: Call, inner: Node, inside: Node, limit: Limit) -> Message | None:
    """A function that grows without bound where its inside does not: a logarithm at 0, a tangent at π/2."""
    below = {"tan": "cos", "sec": "cos", "cot": "sin", "csc": "sin"}.get(body.function)
    if below is not None:
        return _near_zero(Call(below, inner), limit)
    if body.function == "ln" and not infinite(inside):
        return say("The logarithm falls without bound as {inside} tends to 0.", inside=inner)
    return say("The inside {inside} grows without bound.", inside=inner)


def _of_sum(body: Sum, limit: Limit) -> Message | None:
    moving = [t for t in body.terms if limit.variable in names(t)]
    swings = next((t for t in moving if bounded(t) and _at(t, limit) is None), None)
    grows = next((t for t in moving if infinite(_at(t, limit))), None)
    if swings is not None and grows is not None:
        return say("{term} grows without bound, and {wave} stays between two numbers.", term=grows, wave=swings)
    return vanishing(moving, limit) or (why(Limit(moving[0], limit.variable, limit.point, limit.side), found)
                                         if len(moving) == 1 and (found := _at(moving[0], limit)) is not None else None)  # fmt: skip


def vanishing(terms: list[Node], limit: Limit, depth: int = DEEPEST) -> Message | None:
    """What is said where all the terms tend to zero."""
    plain = list(dict.fromkeys(t.argument if isinstance(t, Negative) else t for t in terms))
    if not plain or any(_at(t, limit, depth) != ZERO for t in plain):
        return None
    if len(plain) == 1:
        return say("{term} tends to 0.", term=plain[0])
    if len(plain) == 2:
        return say("{first} and {second} tend to 0.", first=plain[0], second=plain[1])
    return say("{first}, {second} and their like tend to 0.", first=plain[0], second=plain[1])


def _vanishing_inside(body: Node, limit: Limit) -> Message | None:
    """What vanishes in the sums of an expression that has the variable nowhere else: (3 + 2/x)/√(1 - 1/x²)."""
    sums = [p for p in walk(body) if isinstance(p, Sum)]
    small = [t for s in sums for t in s.terms if limit.variable in names(t) and not contains(t, Sum)]
    frozen = body
    for term in small:
        frozen = replace(frozen, term, ONE)
    return None if limit.variable in names(frozen) else vanishing(list(dict.fromkeys(small)), limit)


def _of_product(body: Node, limit: Limit, value: Node) -> Message | None:
    term = term_of(body)
    zeros, large, waves = _sorted(term, limit)
    if waves and zeros:
        return say("{wave} stays between -1 and 1, and the factor beside it tends to 0.", wave=waves[0])
    if zeros and large:
        return _race(zeros, large, limit)
    if isinstance(body, Quotient):
        return _of_quotient(body, limit, value)
    if len(term.powers) == 1 and _exponential(term.powers[0], limit.variable):
        exponent = term.powers[0][1]
        found = None if isinstance(exponent, Fraction) else _at(exponent, limit)
        return None if found is None else say("The exponent tends to {value}.", value=found)
    if len(term.powers) == 1 and value == ZERO and not isinstance(term.powers[0][1], Fraction) and sign(term.powers[0][1]) < 0:
        return say("The exponent {exponent} is negative: the power tends to 0.", exponent=term.powers[0][1])
    if large and infinite(value) and len(term.powers) > len(large):
        rest = _at(join(term.without(*(b for b, _ in large))), limit)
        grows = join(Term(Fraction(1), tuple(large)))
        return None if rest is None else say("{term} tends to {large}, and the rest to {value}.",
                                             term=grows, large=_at(grows, limit) or value, value=rest)  # fmt: skip
    if large and infinite(value):
        plain = join(Term(Fraction(1), term.powers))
        up = sign(value) * term.coefficient > 0
        return say("{term} grows without bound.", term=plain) if up else say("{term} falls without bound.", term=plain)
    return None


def _sorted(term: Term, limit: Limit) -> tuple[Powers, Powers, list[Node]]:
    """The factors that tend to zero, those that grow without bound, and the sines and cosines that only swing."""
    zeros: Powers = []
    large: Powers = []
    waves: list[Node] = []
    for base, exponent in term.powers:
        value = _at(join(Term(Fraction(1), ((base, exponent),))), limit)
        if value is None:
            waves += [base] if isinstance(base, Call) and base.function in ("sin", "cos") else []
        elif infinite(value):
            large.append((base, exponent))
        elif sign(value) == 0:
            zeros.append((base, exponent))
    return zeros, large, waves


def _race(zeros: Powers, large: Powers, limit: Limit) -> Message | None:
    """Zero times infinity: the exponential before the power, the power before the logarithm."""
    x = limit.variable
    every = [*zeros, *large]
    if any(_exponential(p, x) for p in zeros) != any(_exponential(p, x) for p in large):
        return say("The exponential outgrows every power.")
    if any(isinstance(b, Call) and b.function == "ln" for b, _ in every) and not any(_exponential(p, x) for p in every):
        return say("Every power outgrows the logarithm.")
    if all(_exponential(p, x) for p in every):
        return say("Of two exponentials the one with the larger base wins.")
    if infinite(limit.point) and all(leading(b, x, 1 if limit.point == INFINITY else -1) for b, _ in every):
        return say("Divide above and below by the highest power of {x}.", x=Name(x))
    return None


def _exponential(power: tuple[Node, Exponent], variable: str) -> bool:
    base, exponent = power
    return not isinstance(exponent, Fraction) and variable in names(exponent) and variable not in names(base)


def _of_quotient(body: Quotient, limit: Limit, value: Node) -> Message | None:
    top, bottom = _at(body.top, limit), _at(body.bottom, limit)
    if top is None or bottom is None:
        return None
    if infinite(bottom):
        return say("The denominator {bottom} grows without bound.", bottom=body.bottom)
    if sign(bottom) == 0 and infinite(value):
        return _near_zero(body.bottom, limit, None if limit.variable not in names(body.top) else top)
    return say("Above it tends to {top}, below to {bottom}.", top=top, bottom=bottom)


def _near_zero(bottom: Node, limit: Limit, top: Node | None = None) -> Message | None:
    """What stands below tends to zero: which sign it has on the way, and what stands above where that moves too."""
    step = number(Fraction(-1 if limit.side == "-" else 1, 10**7))
    beside = number_of(substitute(bottom, {limit.variable: tidy(add(limit.point, step))}))
    if beside is None:
        return None
    if top is not None and beside > 0:
        return say("Above it tends to {top}; below, {bottom} is positive and tends to 0.", top=top, bottom=bottom)
    if top is not None:
        return say("Above it tends to {top}; below, {bottom} is negative and tends to 0.", top=top, bottom=bottom)
    if beside > 0:
        return say("The denominator {bottom} is positive there and tends to 0.", bottom=bottom)
    return say("The denominator {bottom} is negative there and tends to 0.", bottom=bottom)
