"""Writing an expression in terms of an inside: x³√(x²+2) in u = x² + 2."""

from __future__ import annotations

from fractions import Fraction

from ..notation.build import E, add, multiply, names, number, power, rational, rebuild
from ..notation.tree import Name, Negative, Node, Power, Product, Quotient, Root, Sum
from .poly import Coefficients, coefficients, factors, in_powers, polynomial, product, quotient_remainder
from .terms import Exponent, Term, as_node, term_of
from .tidy import join, tidy


def express(node: Node, variable: str, inside: Node, name: str) -> Node | None:
    """The node in `name` = `inside`, or None where the variable cannot be got rid of. Tidy in, tidy out."""
    u = Name(name)
    base = coefficients(inside, variable)
    inner = term_of(inside)
    found = _express(tidy(node), variable, tidy(inside), inner, base if base and len(base) > 1 else None, u)
    return None if found is None else tidy(found)


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


def cancelled(top: Node, bottom: Node, variable: str) -> Node:
    """top / bottom with common polynomial factors and contents cancelled."""
    upper_term = term_of(top)
    quotient = upper_term.over(alike(_primitive(term_of(bottom), variable), upper_term))
    upper: list[tuple[Node, Fraction, Coefficients]] = []
    lower: list[tuple[Node, Fraction, Coefficients]] = []
    others: list[tuple[Node, Exponent]] = []
    for base, exponent in quotient.powers:
        values = coefficients(base, variable)
        if values is not None and len(values) > 1 and isinstance(exponent, Fraction) and exponent.denominator == 1:
            (upper if exponent > 0 else lower).append((base, exponent, values))
        else:
            others.append((base, exponent))
    if not upper or not lower:
        return join(quotient)
    above: Coefficients = (Fraction(1),)
    for _, e, v in upper:
        for _ in range(int(e)):
            above = product(above, v)
    kept, coefficient, changed = others, quotient.coefficient, False
    for base, e, values in lower:
        content, parts = factors(values)
        rest, left = _divided_out(above, [(factor, int(-e) * times) for factor, times in parts], variable)
        changed, above = changed or rest != above, rest
        if changed:
            kept += left
            coefficient *= content ** int(e)
        else:
            kept.append((base, e))
    if not changed:
        return join(quotient)
    return tidy(multiply(join(Term(coefficient, tuple(kept))), polynomial(above, Name(variable))))


def _divided_out(
    above: Coefficients, below: list[tuple[Coefficients, int]], variable: str
) -> tuple[Coefficients, list[tuple[Node, Exponent]]]:
    """A polynomial divided by each factor below as often as it goes into it; and the powers that are left below."""
    left: list[tuple[Node, Exponent]] = []
    for factor, times in below:
        remaining = times
        while remaining and len(above) >= len(factor):
            divided, rest = quotient_remainder(above, factor)
            if rest:
                break
            above, remaining = divided, remaining - 1
        if remaining:
            left.append((polynomial(factor, Name(variable)), Fraction(-remaining)))
    return above, left


def _primitive(term: Term, variable: str) -> Term:
    """A term with the contents of its polynomial factors in the coefficient."""
    result = Term(term.coefficient)
    for base, exponent in term.powers:
        values = coefficients(base, variable)
        if (
            isinstance(base, Sum)
            and values is not None
            and isinstance(exponent, Fraction)
            and exponent.denominator == 1
            and len(values) > 1
        ):
            content, _ = factors(values)
            scaled = polynomial(tuple(v / content for v in values), Name(variable))
            result = result.times(Term(content ** int(exponent), ((scaled, exponent),)))
        else:
            result = result.times(Term(Fraction(1), ((base, exponent),)))
    return result


def alike(term: Term, other: Term) -> Term:
    """A term whose sums are written like proportional sums of another term: `cos x - sin x` as `-(sin x - cos x)`."""
    result = Term(term.coefficient)
    sums = [b for b, _ in other.powers if isinstance(b, Sum)]
    for base, exponent in term.powers:
        ratio = next(((s, r) for s in sums if isinstance(base, Sum) and (r := proportion(base, s)) is not None), None)
        if ratio is not None and isinstance(exponent, Fraction) and exponent.denominator == 1:
            result = result.times(Term(ratio[1] ** int(exponent), ((ratio[0], exponent),)))
        else:
            result = result.times(Term(Fraction(1), ((base, exponent),)))
    return result


def proportion(a: Sum, b: Sum) -> Fraction | None:
    """r where a = r·b, read off term by term."""
    mine = {frozenset(t.powers): t.coefficient for t in map(term_of, a.terms)}
    theirs = {frozenset(t.powers): t.coefficient for t in map(term_of, b.terms)}
    if mine.keys() != theirs.keys():
        return None
    ratios = {mine[k] / theirs[k] for k in mine}
    return ratios.pop() if len(ratios) == 1 else None
