"""The identities of a first course as rewritings of an integrand.

Sources: NIST DLMF 4.21 (trigonometric) and 4.35 (hyperbolic). Each rewriting is checked by the kernel before it is used.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..algebra.expand import multiply_out
from ..algebra.terms import Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ONE, TWO, add, call, divide, multiply, negate, number, power, rational, replace, root, subtract, walk
from ..notation.tree import Call, Equation, Node, Sum
from .asking import depends
from .waves import Waves, waves, whole


@dataclass(frozen=True, slots=True)
class Rewriting:
    """The integrand anew, the identity that was used (or a sentence), and how far one reaches for it."""

    new: Node
    rule: Equation | None = None
    text: str = ""
    extra: float = 0.0


def _double(angle: Node) -> Node:
    return tidy(multiply(TWO, angle))


def _half(node: Node) -> Node:
    return tidy(divide(node, TWO))


def in_product(rest: Node, variable: str) -> Iterator[Rewriting]:
    """Rewritings of an integrand that is a product of powers."""
    found = waves(rest, variable)
    for w in found:
        yield from _squares(w)
        yield from _ratios(w)
        yield from _to_sine_and_cosine(w)
    yield from _products(rest, found)
    yield from _double_angles(rest, variable)
    yield from _conjugates(rest, variable)
    yield from _hyperbolic(rest, variable)


def _squares(w: Waves) -> Iterator[Rewriting]:
    a, double = w.angle, _double(w.angle)
    sine, cosine = w.get("sin"), w.get("cos")
    if w.exponents == {"sin": 2}:
        half = divide(subtract(ONE, call("cos", double)), TWO)
        yield Rewriting(multiply_out(w.with_rest(half)), Equation(w.raised("sin", 2), half))
    if w.exponents == {"cos": 2}:
        half = divide(add(ONE, call("cos", double)), TWO)
        yield Rewriting(multiply_out(w.with_rest(half)), Equation(w.raised("cos", 2), half))
    for f, g in (("tan", "sec"), ("cot", "csc")):
        if w.exponents == {f: 2}:
            other = subtract(w.raised(g, 2), ONE)
            yield Rewriting(multiply_out(w.with_rest(other)), Equation(w.raised(f, 2), other))
    if w.only("sin", "cos") and sine == cosine and whole(sine) and 0 < sine <= 2:
        both = multiply(call("sin", a), call("cos", a))
        half = tidy(divide(call("sin", double), TWO))
        yield Rewriting(w.with_rest(power(half, int(sine))), Equation(both, half))


def _ratios(w: Waves) -> Iterator[Rewriting]:
    m, n = w.get("sin"), w.get("cos")
    if not w.only("sin", "cos") or not (whole(m) and whole(n)):
        return
    if m == n == -2:
        yield Rewriting(w.with_rest(add(w.raised("sec", 2), w.raised("csc", 2))), _pythagoras(w), extra=0.3)
    if m == n == -1:
        yield Rewriting(multiply_out(w.with_rest(add(w.of("tan"), w.of("cot")))), _pythagoras(w), extra=0.3)
    for a, b, f, g in ((m, n, "tan", "sec"), (n, m, "cot", "csc")):
        if b < 0 and a >= 0:
            if a <= -b:
                yield Rewriting(w.with_rest(w.raised(f, a), w.raised(g, -b - a)), None, "Write the quotients as single functions.")
            if a % 2 == 0 and a >= 2:
                other = "cos" if f == "tan" else "sin"
                square = subtract(ONE, w.raised(other, 2))
                new = multiply_out(w.with_rest(power(square, int(a) // 2), w.raised(other, b)))
                yield Rewriting(new, _pythagoras(w), extra=0.4)


def _pythagoras(w: Waves) -> Equation:
    return Equation(add(w.raised("sin", 2), w.raised("cos", 2)), ONE)


def _to_sine_and_cosine(w: Waves) -> Iterator[Rewriting]:
    t, k, s, c = (w.get(f) for f in ("tan", "cot", "sec", "csc"))
    if not (t or k or s or c):
        return
    m, n = w.get("sin") + t - k - c, w.get("cos") - t + k - s
    pure = not (w.get("sin") or w.get("cos"))
    extra = 0.0 if (pure and len(w.exponents) == 1 and (t == 1 or k == 1)) or not pure else 1.5
    yield Rewriting(w.with_rest(w.raised("sin", m), w.raised("cos", n)), None, "Write everything in sine and cosine.", extra)
    for f, g in (("sec", "tan"), ("csc", "cot")):
        if w.exponents == {f: 1}:
            both = add(w.of(f), w.of(g))
            top = add(w.raised(f, 2), multiply(w.of(f), w.of(g)))
            yield Rewriting(w.with_rest(divide(top, both)), None, "Multiply above and below by the sum of both functions.", 1.2)
            co = "cos" if f == "sec" else "sin"
            new = divide(w.of(co), subtract(ONE, w.raised("sin" if co == "cos" else "cos", 2)))
            yield Rewriting(w.with_rest(new), _pythagoras(w), extra=2.5)


def _products(rest: Node, found: list[Waves]) -> Iterator[Rewriting]:
    """sin a cos b and its like as half a sum."""
    singles = [(f, w.angle) for w in found for f, e in w.exponents.items() if f in ("sin", "cos") and e == 1]
    if len(singles) != 2 or singles[0][1] == singles[1][1] or any(len(w.exponents) != 1 for w in found):
        return
    (f, a), (g, b) = sorted(singles, key=lambda s: s[0], reverse=True)
    plus, minus = tidy(add(a, b)), tidy(subtract(a, b))
    if f == "sin" and g == "cos":
        inner = add(call("sin", plus), call("sin", minus))
    elif f == "sin":
        inner = subtract(call("cos", minus), call("cos", plus))
    else:
        inner = add(call("cos", minus), call("cos", plus))
    both = multiply(call(f, a), call(g, b))
    left = term_of(rest).without(call(f, a), call(g, b))
    yield Rewriting(multiply_out(multiply(join(left), divide(tidy(inner), TWO))), Equation(both, tidy(divide(inner, TWO))))


def _double_angles(rest: Node, variable: str) -> Iterator[Rewriting]:
    """sin 2a and cos 2a written in a, where functions of a stand beside them."""
    calls = [p for p in dict.fromkeys(walk(rest)) if isinstance(p, Call) and depends(p, variable)]
    angles = {c.argument for c in calls}
    for c in calls:
        half = _half(c.argument)
        if half not in angles or c.function not in ("sin", "cos"):
            continue
        sine, cosine = call("sin", half), call("cos", half)
        if c.function == "sin":
            wider = [tidy(multiply(TWO, sine, cosine))]
        else:
            wider = [
                subtract(multiply(TWO, power(cosine, 2)), ONE),
                subtract(ONE, multiply(TWO, power(sine, 2))),
                subtract(power(cosine, 2), power(sine, 2)),
            ]
        for w in wider:
            replaced_ = tidy(replace(rest, c, w))
            yield Rewriting(replaced_, Equation(c, w), extra=0.2)


def _conjugates(rest: Node, variable: str) -> Iterator[Rewriting]:
    """1/(1 ± sin), 1/(1 ± cos): the conjugate factor; cos²/(1 - sin) cancels."""
    term = term_of(rest)
    for base, exponent in term.powers:
        if not isinstance(base, Sum) or len(base.terms) != 2 or not isinstance(exponent, Fraction):
            continue
        constants = [t for t in base.terms if rational(t) is not None]
        if len(constants) != 1:
            continue
        wave_term = term_of(next(t for t in base.terms if rational(t) is None))
        c = rational(constants[0])
        if c is None or len(wave_term.powers) != 1 or abs(wave_term.coefficient) != abs(c):
            continue
        wave, e = wave_term.powers[0]
        if not isinstance(wave, Call) or e != 1 or wave.function not in ("sin", "cos", "sec"):
            continue
        yield from _conjugate(term.without(base), c, wave_term.coefficient, wave, exponent, variable)


def _conjugate(left: Term, c: Fraction, k: Fraction, wave: Call, exponent: Fraction, variable: str) -> Iterator[Rewriting]:
    angle, other = wave.argument, {"sin": "cos", "cos": "sin", "sec": "tan"}[wave.function]
    conjugate = add(number(c), multiply(number(-k), wave))
    if wave.function == "sec":
        if exponent == -1:
            sign = k / c
            inner = add(ONE, multiply(number(sign), call("cos", angle)))
            inner = add(call("cos", angle), number(sign))
            yield Rewriting(
                multiply(join(left), divide(call("cos", angle), multiply(number(c), inner))),
                None,
                "Multiply above and below by the cosine.",
            )
        return
    if exponent == -1:
        square = power(call(other, angle), 2)
        co = left.exponent(call(other, angle))
        rule = Equation(subtract(ONE, power(wave, 2)), square)
        new = multiply(join(left), conjugate, divide(ONE, multiply(number(c * c), square)))
        if isinstance(co, Fraction) and co >= 2:
            yield Rewriting(tidy(new), rule)
        else:
            yield Rewriting(multiply_out(_single(tidy(multiply_out(new)))), None, "Multiply above and below by the conjugate.", 0.3)
    if exponent == Fraction(1, 2) and k < 0 < c and wave.function == "cos":
        half = call("sin", _half(angle))
        rule = Equation(add(ONE, negate(wave)), multiply(TWO, power(half, 2)))
        yield Rewriting(tidy(multiply(join(left), root(number(2 * c)), half)), rule, extra=0.5)


def _single(node: Node) -> Node:
    """Quotients of sine and cosine in each term as single functions."""
    if not isinstance(node, Sum):
        return node
    return tidy(add(*(_one(t) for t in node.terms)))


def _one(node: Node) -> Node:
    term = term_of(node)
    for f, g, t, s in (("sin", "cos", "tan", "sec"), ("cos", "sin", "cot", "csc")):
        for base, exponent in term.powers:
            if isinstance(base, Call) and base.function == g and isinstance(exponent, Fraction) and exponent < 0 and whole(exponent):
                a = base.argument
                m = term.exponent(call(f, a))
                if isinstance(m, Fraction) and whole(m) and 0 <= m <= -exponent:
                    rest = term.without(base, call(f, a))
                    return tidy(multiply(join(rest), power(call(t, a), int(m)), power(call(s, a), int(-exponent - m))))
    return node


def _hyperbolic(rest: Node, variable: str) -> Iterator[Rewriting]:
    term = term_of(rest)
    for base, exponent in term.powers:
        if not isinstance(base, Call) or not isinstance(exponent, Fraction) or not whole(exponent):
            continue
        a, left = base.argument, join(term.without(base))
        if base.function in ("sinh", "cosh") and exponent == 2:
            sign = ONE if base.function == "cosh" else negate(ONE)
            half = divide(add(call("cosh", _double(a)), sign), TWO)
            yield Rewriting(multiply_out(multiply(left, half)), Equation(power(base, 2), half))
        if base.function in ("sinh", "cosh") and exponent % 2 == 1 and exponent >= 3:
            other = call("cosh" if base.function == "sinh" else "sinh", a)
            square = subtract(power(other, 2), ONE) if base.function == "sinh" else add(power(other, 2), ONE)
            yield Rewriting(multiply(left, power(square, int(exponent - 1) // 2), base), Equation(power(base, 2), square))
        if base.function in ("tanh", "coth") and exponent >= 2:
            other = call("sech" if base.function == "tanh" else "csch", a)
            square = subtract(ONE, power(other, 2)) if base.function == "tanh" else add(ONE, power(other, 2))
            yield Rewriting(multiply_out(multiply(left, power(base, int(exponent) - 2), square)), Equation(power(base, 2), square))
        if base.function in ("tanh", "coth") and exponent == 1:
            f, g = ("sinh", "cosh") if base.function == "tanh" else ("cosh", "sinh")
            yield Rewriting(multiply(left, divide(call(f, a), call(g, a))), Equation(base, divide(call(f, a), call(g, a))))
        if (
            base.function in ("sech", "csch")
            or (base.function in ("cosh", "sinh") and exponent < 0)
            or (base.function in ("sinh", "cosh") and len(term.powers) > 1)
        ):
            yield from _exponentials(term, base, exponent)
        if base.function in ("cosh", "sinh") and exponent < 0:
            single = call({"cosh": "sech", "sinh": "csch"}[base.function], a)
            yield Rewriting(multiply(left, power(single, int(-exponent))), Equation(single, divide(ONE, base)))


def _exponentials(term: Term, base: Call, exponent: Fraction) -> Iterator[Rewriting]:
    from ..notation.build import E

    a = base.argument
    grow, fall = power(E, a), tidy(power(E, negate(a)))
    pair = add(grow, fall) if base.function in ("cosh", "sech") else subtract(grow, fall)
    value = divide(pair, TWO) if base.function in ("cosh", "sinh") else divide(TWO, pair)
    left = join(term.without(base))
    yield Rewriting(multiply_out(multiply(left, power(value, number(exponent)))), Equation(base, value), extra=1.5)


def in_sum(rest: Node, variable: str) -> Iterator[Rewriting]:
    """Sums inside the integrand that an identity makes into one function."""
    for part in dict.fromkeys(walk(rest)):
        if isinstance(part, Sum) and depends(part, variable):
            for new, rule in _merged(part):
                yield Rewriting(replace(rest, part, new), rule)
            for base in [p for p in dict.fromkeys(walk(part)) if isinstance(p, Call) and p.function in ("sin", "cos")]:
                other = call("cos" if base.function == "sin" else "sin", base.argument)
                square = power(base, 2)
                if other in walk(part) and base in term_of(rest).without(part).powers_of_bases() and square in walk(part):
                    new = tidy(replace(part, square, subtract(ONE, power(other, 2))))
                    yield Rewriting(replace(rest, part, new), Equation(square, subtract(ONE, power(other, 2))))


def _merged(node: Sum) -> Iterator[tuple[Node, Equation]]:
    terms = {term_of(t).powers: term_of(t).coefficient for t in node.terms}
    squares = {p[0][0]: c for p, c in terms.items() if len(p) == 1 and p[0][1] == 2 and isinstance(p[0][0], Call)}
    fourths = {p[0][0]: c for p, c in terms.items() if len(p) == 1 and p[0][1] == 4 and isinstance(p[0][0], Call)}
    constant = terms.get((), Fraction(0))
    for base, c in squares.items():
        assert isinstance(base, Call)
        a = base.argument
        other = {"sin": "cos", "cos": "sin"}.get(base.function)
        partner = call(other, a) if other else None
        square = power(base, 2)
        if partner is not None and partner in squares and base.function == "cos" and len(terms) == 2:
            if squares[partner] == -c:
                double = call("cos", _double(a))
                yield multiply(number(c), double), Equation(subtract(square, power(partner, 2)), double)
            elif squares[partner] == c:
                yield number(c), Equation(add(power(partner, 2), square), ONE)
        elif partner is not None and partner in squares and base.function == "cos" and squares[partner] == c:
            others = [t for t in node.terms if term_of(t).powers not in (((base, Fraction(2)),), ((partner, Fraction(2)),))]
            yield tidy(add(number(c), *others)), Equation(add(power(partner, 2), square), ONE)
        if len(terms) != 2 or not constant:
            continue
        if partner is not None and constant == -c:
            yield multiply(number(constant), power(partner, 2)), Equation(subtract(ONE, square), power(partner, 2))
        if partner is not None and c == -2 * constant:
            sign = 1 if base.function == "sin" else -1
            double = call("cos", _double(a))
            yield multiply(number(constant * sign), double), Equation(call("cos", _double(a)), _cosine_of_double(base))
        for f, g in (("tan", "sec"), ("cot", "csc"), ("sinh", "cosh")):
            if base.function == f and constant == c:
                yield multiply(number(c), power(call(g, a), 2)), Equation(add(ONE, square), power(call(g, a), 2))
            if base.function == g and constant == -c:
                yield multiply(number(c), power(call(f, a), 2)), Equation(subtract(square, ONE), power(call(f, a), 2))
    for base, c in fourths.items():
        assert isinstance(base, Call)
        sine = Call("sin", base.argument)
        if base.function == "cos" and fourths.get(sine) == -c and len(terms) == 2:
            double = call("cos", _double(base.argument))
            yield multiply(number(c), double), Equation(subtract(power(base, 2), power(sine, 2)), double)


def _cosine_of_double(base: Call) -> Node:
    square = multiply(TWO, power(base, 2))
    return subtract(ONE, square) if base.function == "sin" else subtract(square, ONE)
