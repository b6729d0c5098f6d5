"""The identities of a first course as rewritings of an integrand that is a product of powers.

Sources: NIST DLMF 4.21 (trigonometric) and 4.35 (hyperbolic). Each rewriting is checked by the kernel before it is used.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..algebra.expand import multiply_out
from ..algebra.terms import term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ONE, TWO, add, call, divide, multiply, power, replace, subtract, walk
from ..notation.message import sentence
from ..notation.tree import Call, Equation, Node
from .asking import depends
from .identities_conjugate import conjugates
from .identities_hyperbolic import hyperbolic
from .rewriting import Rewriting, doubled, halved
from .waves import Waves, waves, whole


def in_product(rest: Node, variable: str) -> Iterator[Rewriting]:
    """Rewritings of an integrand that is a product of powers."""
    found = waves(rest, variable)
    for w in found:
        yield from _squares(w)
        yield from _ratios(w)
        yield from _to_sine_and_cosine(w)
    yield from _products(rest, found)
    yield from _double_angles(rest, variable)
    yield from conjugates(rest, variable)
    yield from hyperbolic(rest, variable)


def _squares(w: Waves) -> Iterator[Rewriting]:
    a, double = w.angle, doubled(w.angle)
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
                yield Rewriting(
                    w.with_rest(w.raised(f, a), w.raised(g, -b - a)), None, sentence("Write the quotients as single functions.")
                )
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
    yield Rewriting(w.with_rest(w.raised("sin", m), w.raised("cos", n)), None, sentence("Write everything in sine and cosine."), extra)
    for f, g in (("sec", "tan"), ("csc", "cot")):
        if w.exponents == {f: 1}:
            both = add(w.of(f), w.of(g))
            top = add(w.raised(f, 2), multiply(w.of(f), w.of(g)))
            yield Rewriting(w.with_rest(divide(top, both)), None, sentence("Multiply above and below by the sum of both functions."), 1.2)
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
        half = halved(c.argument)
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
