"""What an expression tends to: a proposal, never a proof (the kernel proves limits by expansions of its own).

Values are trees: a number, `Infinity()` or its negative; None where the simple rules do not decide.
"""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import ONE, PI, ZERO, E, add, divide, infinite, multiply, names, negate, number, power, rational, substitute
from ..notation.tree import Absolute, Call, Name, Negative, Node, Power, Product, Quotient, Root, Sum
from .clock import watch
from .derivative import derivative
from .growth import joined_logs, leading, one_base, ratios, together
from .numbers import INFINITY, MINUS, is_zero, sign
from .terms import Exponent, Term, as_node, term_of
from .tidy import join, tidy

_HALF_PI = tidy(divide(PI, number(2)))
_FAR = {
    "arctan": (_HALF_PI, negate(_HALF_PI)), "tanh": (ONE, negate(ONE)), "exp": (INFINITY, ZERO), "sinh": (INFINITY, MINUS),
    "cosh": (INFINITY, INFINITY), "ln": (INFINITY, None), "arsinh": (INFINITY, MINUS), "arcosh": (INFINITY, None), "sech": (ZERO, ZERO),
    "arcsec": (_HALF_PI, _HALF_PI), "coth": (ONE, negate(ONE)), "csch": (ZERO, ZERO),
}  # fmt: skip
DEEPEST = 5


def tends(node: Node, variable: str, point: Node, side: int, depth: int = 0) -> Node | None:
    """What the node tends to as the variable tends to the point from a side (1 above, -1 below; at infinity it does not matter)."""
    watch()
    node = tidy(node)
    if variable not in names(node):
        return node
    match node:
        case Name():
            return point
        case Negative(argument=a):
            found = tends(a, variable, point, side, depth)
            return None if found is None else negate(found)
        case Sum(terms=terms):
            return _sum(node, terms, variable, point, side, depth)
        case Product() | Quotient() | Power() | Root():
            return _term(node, variable, point, side, depth)
        case Absolute(argument=a):
            found = tends(a, variable, point, side, depth)
            return None if found is None else INFINITY if infinite(found) else tidy(Absolute(found))
        case Call(function=f, argument=a):
            return _call(f, a, variable, point, side, depth)
    return None


def _sum(node: Node, terms: tuple[Node, ...], variable: str, point: Node, side: int, depth: int) -> Node | None:
    found = [tends(t, variable, point, side, depth) for t in terms]
    if any(f is None for f in found):
        endless = {sign(f) for f in found if f is not None and infinite(f)}
        if len(endless) == 1 and all(f is not None or bounded(t) for f, t in zip(found, terms, strict=True)):
            return INFINITY if endless.pop() > 0 else MINUS  # what only swings does not stop what grows
        return _dominant(node, terms, variable, point, side, depth)
    signs = {sign(f) for f in found if f is not None and infinite(f)}
    if len(signs) == 1:
        return INFINITY if signs.pop() > 0 else MINUS
    if signs:
        return _dominant(node, terms, variable, point, side, depth)
    return tidy(add(*(f for f in found if f is not None)))


def _dominant(node: Node, terms: tuple[Node, ...], variable: str, point: Node, side: int, depth: int) -> Node | None:
    """A sum of opposed infinities: the term that outgrows the others, or logarithms taken together."""
    if depth >= 3:
        return None
    one = together(terms)
    if one is not None:
        return tends(one, variable, point, side, depth + 1)
    logs = joined_logs(terms, variable)
    if logs is not None:
        return tends(logs, variable, point, side, depth + 1)
    for t in terms:
        rest = tidy(add(*(divide(o, t) for o in terms)))
        ratio = tends(rest, variable, point, side, depth + 2)
        if ratio is not None and not infinite(ratio) and sign(ratio):
            whole = tends(t, variable, point, side, depth + 1)
            if whole is not None and infinite(whole):
                return INFINITY if sign(whole) * sign(ratio) > 0 else MINUS
    return None


def _term(node: Node, variable: str, point: Node, side: int, depth: int) -> Node | None:
    if infinite(point):
        lead = leading(node, variable, 1 if point == INFINITY else -1)
        if lead is not None:
            coefficient, degree = lead
            if degree == 0:
                return coefficient
            return ZERO if degree < 0 else {1: INFINITY, -1: MINUS}.get(sign(coefficient))
    term = one_base(term_of(node), variable)
    value: list[Node] = [number(term.coefficient)]
    zeros: list[tuple[Node, Exponent]] = []
    infinities: list[tuple[Node, Exponent]] = []
    total = 1 if term.coefficient > 0 else -1
    for base, exponent in term.powers:
        found = _power(base, exponent, variable, point, side, depth)
        if found is None:
            return _bounded(node, variable, point, side, depth)
        if infinite(found):
            infinities.append((base, exponent))
            total *= sign(found)
        elif is_zero(found):
            zeros.append((base, exponent))
        else:
            value.append(found)
            total *= sign(found) or 1
    if zeros and infinities:
        plain = _without_swings(term, variable, point, side, depth) if infinite(point) and depth < DEEPEST else term
        if plain != term:
            return tends(join(plain), variable, point, side, depth + 1)
        return _hospital(zeros, infinities, term, variable, point, side, depth)
    if infinities:
        return INFINITY if total > 0 else MINUS
    return ZERO if zeros else tidy(multiply(*value))


def _power(base: Node, exponent: Exponent, variable: str, point: Node, side: int, depth: int) -> Node | None:
    below = tends(base, variable, point, side, depth)
    if below is None:
        return None
    if isinstance(exponent, Fraction):
        if infinite(below):
            if exponent < 0:
                return ZERO
            return INFINITY if below == INFINITY or exponent.numerator % 2 == 0 else MINUS
        if is_zero(below):
            if exponent > 0:
                return ZERO
            near = sign_near(base, variable, point, side)
            return None if near == 0 else INFINITY if near > 0 or exponent.numerator % 2 == 0 else MINUS
        return tidy(power(below, number(exponent)))
    raised = tends(exponent, variable, point, side, depth)
    if raised is None:
        return None
    plain = not infinite(below) and not is_zero(below) and not infinite(raised)
    if plain:
        return tidy(power(below, raised))
    if variable not in names(base) and infinite(raised):
        bigger = sign(tidy(add(below, negate(ONE))))
        return None if bigger == 0 else INFINITY if bigger * sign(raised) > 0 else ZERO
    found = tends(tidy(multiply(as_node(exponent), Call("ln", base))), variable, point, side, depth + 1)
    return None if found is None else INFINITY if found == INFINITY else ZERO if found == MINUS else tidy(power(E, found))


def sign_near(base: Node, variable: str, point: Node, side: int) -> int:
    """The sign of something that tends to zero, close to the point."""
    step = Fraction(side, 10**7)
    near = number(10**7) if point == INFINITY else number(-(10**7)) if point == MINUS else tidy(add(point, number(step)))
    return sign(substitute(base, {variable: near}))


def bounded(node: Node) -> bool:
    """Whether it stays between two numbers wherever it is defined, as far as that is plain to see."""
    match node:
        case Call(function="sin" | "cos" | "arctan" | "tanh" | "sgn" | "sech"):
            return True
        case Negative(argument=a) | Absolute(argument=a):
            return bounded(a)
        case Sum(terms=parts) | Product(factors=parts):
            return all(map(bounded, parts))
        case Power(base=base, exponent=e):
            whole = rational(e)
            return (whole is not None and whole > 0 and bounded(base)) or (base == E and bounded(e))
        case Quotient(top=a, bottom=b):
            return not names(b) and bounded(a)
        case Root(radicand=a):
            return bounded(a)
    return not names(node)


def swinging(term: Term, variable: str, point: Node, side: int, depth: int = 0) -> tuple[Node, ...]:
    """The factors of a term that are bounded and have no limit."""
    found = [(b, e) for b, e in term.powers if variable in names(b) | names(as_node(e)) and bounded(join(Term(Fraction(1), ((b, e),))))]
    return tuple(b for b, e in found if _power(b, e, variable, point, side, depth) is None)


def _bounded(node: Node, variable: str, point: Node, side: int, depth: int) -> Node | None:
    """Something that tends to zero times factors that only swing."""
    term = term_of(node)
    if depth >= DEEPEST:
        return None
    waves = swinging(term, variable, point, side, depth + 1)
    rest = tends(join(term.without(*waves)), variable, point, side, depth + 1) if waves else None
    return ZERO if rest is not None and is_zero(rest) else None


def _without_swings(term: Term, variable: str, point: Node, side: int, depth: int) -> Term:
    """Each sum of what grows and what only swings as what grows: x² + cos x is as good as x² far out."""
    plain = Term(term.coefficient)
    for base, exponent in term.powers:
        parts = base.terms if isinstance(base, Sum) else ()
        grows = [t for t in parts if not bounded(t)]
        alone = parts and len(grows) < len(parts) and infinite(tends(add(*grows), variable, point, side, depth + 1) or ZERO)
        plain = plain.times(Term(Fraction(1), ((add(*grows) if alone else base, exponent),)))
    return plain


def _hospital(
    zeros: list[tuple[Node, Exponent]],
    infinities: list[tuple[Node, Exponent]],
    term: Term,
    variable: str,
    point: Node,
    side: int,
    depth: int,
) -> Node | None:
    if depth >= DEEPEST:
        return None
    involved = {b for b, _ in (*zeros, *infinities)}
    rest = term.without(*involved)
    outer = tends(join(rest), variable, point, side, depth)
    if outer is None or infinite(outer) or is_zero(outer):
        return None
    for top, bottom in ratios(zeros, infinities):
        upper, lower = tidy(derivative(top, variable)), tidy(derivative(bottom, variable))
        if lower == ZERO:
            continue
        from .cancel import cancelled

        found = tends(cancelled(upper, lower, variable), variable, point, side, depth + 1)
        if found is not None:
            if infinite(found):
                return INFINITY if sign(found) * sign(outer) > 0 else MINUS
            return tidy(multiply(outer, found))
    return None


def _call(function: str, argument: Node, variable: str, point: Node, side: int, depth: int) -> Node | None:
    inner = tends(argument, variable, point, side, depth)
    if inner is None:
        return None
    if infinite(inner):
        ends = _FAR.get(function)
        return None if ends is None else ends[0] if inner == INFINITY else ends[1]
    if is_zero(inner) and function == "ln":
        return MINUS
    if is_zero(inner) and function in ("cot", "csc", "coth", "csch"):
        near = sign_near(argument, variable, point, side)
        return INFINITY if near > 0 else MINUS if near < 0 else None
    if function in ("tan", "sec"):
        cosine = tidy(Call("cos", inner))
        if is_zero(cosine):
            near = sign_near(Call(function, argument), variable, point, side)
            return INFINITY if near > 0 else MINUS if near < 0 else None
    if function in ("cot", "csc") and is_zero(tidy(Call("sin", inner))):
        near = sign_near(Call(function, argument), variable, point, side)
        return INFINITY if near > 0 else MINUS if near < 0 else None
    return tidy(Call(function, inner))
