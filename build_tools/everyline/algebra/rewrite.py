"""Writing an expression in terms of an inside: x³√(x²+2) in u = x² + 2."""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import E, add, multiply, names, number, power, rational, rebuild, substitute, subtract
from ..notation.tree import Name, Negative, Node, Power, Product, Quotient, Root, Sum
from .poly import Coefficients, coefficients, in_powers, polynomial
from .terms import Exponent, Term, as_node, term_of
from .tidy import tidy


def express(node: Node, variable: str, inside: Node, name: str) -> Node | None:
    """The node in `name` = `inside`, or None where the variable cannot be got rid of. Tidy in, tidy out."""
    u = Name(name)
    base = coefficients(inside, variable)
    inner = term_of(inside)
    found = _express(tidy(node), variable, tidy(inside), inner, base if base and len(base) > 1 else None, u)
    if found is None:
        found = _in_root(node, variable, inner, u) if base is None else None
    if found is None:
        found = _in_moving_part(node, variable, tidy(inside), u) if base is None else None
    return None if found is None else tidy(found)


def _in_moving_part(node: Node, variable: str, inside: Node, u: Name) -> Node | None:
    """A node in u = f + c, written in f first: √x is u - 1 where u = 1 + √x."""
    terms = inside.terms if isinstance(inside, Sum) and len(inside.terms) == 2 else ()
    moving = [t for t in terms if variable in names(t)]
    if len(moving) != 1:
        return None
    (constant,) = (t for t in terms if t not in moving)
    found = express(node, variable, moving[0], u.name)
    return None if found is None else substitute(found, {u.name: subtract(u, constant)})


def _in_root(node: Node, variable: str, inner: Term, u: Name) -> Node | None:
    """A node in u, the root of a sum, written in that sum first: x² is 4 - u² where u = √(4 - x²)."""
    if inner.coefficient != 1 or len(inner.powers) != 1 or not isinstance(inner.powers[0][0], Sum):
        return None
    radicand, exponent = inner.powers[0]
    if not isinstance(exponent, Fraction) or exponent.numerator != 1 or exponent.denominator == 1:
        return None
    found = express(node, variable, radicand, u.name)
    return None if found is None else _raised(found, u, exponent.denominator)


def _raised(node: Node, u: Name, times: int) -> Node:
    """The node with u^times for u, roots of u among them."""
    if node == u:
        return power(u, times)
    if isinstance(node, Root) and node.radicand == u:
        return power(u, number(Fraction(times, node.index)))
    if isinstance(node, Power) and node.base == u and (exponent := rational(node.exponent)) is not None:
        return power(u, number(times * exponent))
    return rebuild(node, lambda part: _raised(part, u, times))


def _express(node: Node, variable: str, inside: Node, inner: Term, base: Coefficients | None, u: Name) -> Node | None:
    if variable not in names(node):
        return node
    if node == inside:
        return u
    if base is not None:
        values = coefficients(node, variable)
        if values is not None:
            digits = in_powers(values, base)
            return None if digits is None else polynomial(digits, u)
    elif isinstance(node, Sum):
        scaled = _multiple(node, inside, u)
        if scaled is not None:
            return scaled
    if isinstance(node, Negative | Product | Quotient | Power | Root):
        return _term(term_of(node), variable, inside, inner, base, u)
    if isinstance(node, Name):
        times, rest = _power_of(term_of(node), inner, variable)
        return power(u, number(times)) if times and not rest.powers else None
    failed = False

    def change(part: Node) -> Node:
        nonlocal failed
        if failed:
            return part
        changed = _express(part, variable, inside, inner, base, u)
        failed = failed or changed is None
        return part if changed is None else changed

    result = rebuild(node, change)
    return None if failed else result


def _term(term: Term, variable: str, inside: Node, inner: Term, base: Coefficients | None, u: Name) -> Node | None:
    """Factor by factor; the inside itself may be a power (e^x, x^(1/2)) or a product of several factors."""
    term = _exponents_apart(term, inner)
    times, rest = _power_of(term, inner, variable)
    parts: list[Node] = [power(u, number(times))] if times else []
    above: list[Node] = []
    below: list[Node] = []
    for factor, exponent in rest.powers:
        whole = isinstance(exponent, Fraction) and exponent.denominator == 1
        if base is not None and whole and coefficients(factor, variable) is not None and factor != inside:
            up = isinstance(exponent, Fraction) and exponent > 0
            (above if up else below).append(power(factor, as_node(exponent if up else _opposite(exponent))))
            continue
        changed = _factor(factor, exponent, variable, inside, inner, base, u)
        if changed is None:
            return None
        parts.append(changed)
    for group, sign in ((above, 1), (below, -1)):
        if group:
            values = coefficients(multiply(*group), variable)
            digits = None if values is None or base is None else in_powers(values, base)
            if digits is None:
                return None
            parts.append(power(polynomial(digits, u), sign))
    return multiply(number(rest.coefficient), *parts)


def _opposite(exponent: Exponent) -> Exponent:
    return -exponent if isinstance(exponent, Fraction) else exponent


def _factor(
    factor: Node, exponent: Exponent, variable: str, inside: Node, inner: Term, base: Coefficients | None, u: Name
) -> Node | None:  # fmt: skip
    below = _express(factor, variable, inside, inner, base, u)
    if below is None:
        return None
    if isinstance(exponent, Fraction):
        return power(below, number(exponent))
    raised = _express(exponent, variable, inside, inner, base, u)
    return None if raised is None else Power(below, raised)


def _exponents_apart(term: Term, inner: Term) -> Term:
    """e^(2x + eˣ) as e^(2x)·e^(eˣ) where the inside is a power of e: the second exponential is kept as a power of another base's tree."""
    if len(inner.powers) != 1 or inner.powers[0][0] != E:
        return term
    exponent, unit = term.exponent(E), inner.powers[0][1]
    if not isinstance(exponent, Sum) or isinstance(unit, Fraction):
        return term
    fitting = [t for t in exponent.terms if rational(tidy(Quotient(t, unit))) is not None]
    others = [t for t in exponent.terms if t not in fitting]
    if not fitting or not others:
        return term
    rest = term.without(E)
    return Term(rest.coefficient, (*rest.powers, (E, tidy(add(*fitting))), (Power(E, add(*others)), Fraction(1))))


def _power_of(term: Term, inner: Term, variable: str) -> tuple[Fraction, Term]:
    """How often the inside (one power or a product of powers) goes into a term, where only such powers can be: (k, what is left)."""
    if not inner.powers or (len(inner.powers) == 1 and inner.powers[0][1] == 1):
        return Fraction(0), term
    have = dict(term.powers)
    ratio: Fraction | None = None
    for base, exponent in inner.powers:
        found = _ratio(have.get(base), exponent)
        if found is None or (ratio is not None and found != ratio):
            return Fraction(0), term
        ratio = found
    if ratio is None or (ratio.denominator != 1 and not _one_to_one(inner)):
        return Fraction(0), term
    left = term.without(*(b for b, _ in inner.powers))
    if inner.coefficient != 1:  # (-1/x)^k: its sign and size go to what is left
        if ratio.denominator != 1:
            return Fraction(0), term
        left = Term(left.coefficient / inner.coefficient ** int(ratio), left.powers)
    return ratio, left


def _ratio(whole: Exponent | None, part: Exponent) -> Fraction | None:
    if whole is None:
        return None
    if isinstance(whole, Fraction) and isinstance(part, Fraction):
        return whole / part
    if isinstance(whole, Fraction) or isinstance(part, Fraction):
        return None
    return rational(tidy(Quotient(whole, part)))


def _one_to_one(inner: Term) -> bool:
    return len(inner.powers) == 1 and inner.powers[0][0] == E


def _multiple(node: Sum, inside: Node, u: Name) -> Node | None:
    """c·inside + d, read off term by term."""
    if not isinstance(inside, Sum):
        return None
    mine = {term_of(t).powers: term_of(t).coefficient for t in node.terms}
    theirs = {term_of(t).powers: term_of(t).coefficient for t in inside.terms}
    constant = mine.pop((), Fraction(0))
    shift = theirs.pop((), Fraction(0))
    if set(mine) != set(theirs) or not theirs:
        return None
    ratios = {mine[k] / theirs[k] for k in mine}
    if len(ratios) != 1:
        return None
    ratio = ratios.pop()
    return tidy(add(multiply(number(ratio), u), number(constant - ratio * shift)))
