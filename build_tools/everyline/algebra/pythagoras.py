"""Two terms that an identity makes one: sin² + cos² = 1 and its relatives; products that a reciprocal makes shorter.

Sources: NIST DLMF 4.14 (definitions), 4.21.12-14 and 4.35.11-13 (Pythagorean identities).
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from ..notation.build import ONE, add, call, divide, multiply, names, negate, number, power, subtract
from ..notation.tree import Call, Equation, Negative, Node, Power, Product, Quotient, Sum
from .terms import Term, term_of
from .tidy import join, tidy

#: f² + s·g² = h², where an empty name is the number one.
_SQUARES = (
    ("sin", 1, "cos", ""), ("", 1, "tan", "sec"), ("", 1, "cot", "csc"), ("", 1, "sinh", "cosh"),
    ("sech", 1, "tanh", ""), ("csch", 1, "", "coth"),
)  # fmt: skip
#: f·g = h with the same inside.
_PRODUCTS = (("cos", "sec", ""), ("sin", "csc", ""), ("tan", "cot", ""), ("cos", "tan", "sin"), ("sin", "cot", "cos"),
             ("sin", "sec", "tan"), ("cos", "csc", "cot"))  # fmt: skip
_QUOTIENTS = (("sin", "cos", "tan"), ("cos", "sin", "cot"), ("sinh", "cosh", "tanh"), ("tan", "sec", "sin"))


def shorter(node: Sum) -> Iterator[tuple[Node, Equation]]:
    """The sum with two of its terms made one, and the identity that does it."""
    terms = [term_of(t) for t in node.terms]
    for i, j in combinations(range(len(terms)), 2):
        for first, second in ((i, j), (j, i)):
            found = _one(terms[first], terms[second])
            if found is None:
                continue
            new, rule = found
            kept: list[Node] = [t for n, t in enumerate(node.terms) if n not in (i, j)]
            kept.insert(min(i, len(kept)), new)
            yield tidy(add(*kept)), rule


def _one(a: Term, b: Term) -> tuple[Node, Equation] | None:
    """a + b as one term where a = r·F and b = ±r·G."""
    ratio = a.over(b)
    angles = {base.argument for base, _ in ratio.powers if isinstance(base, Call)}
    if len(angles) != 1 or abs(ratio.coefficient) != 1 or len(ratio.powers) > 2:
        return None
    (angle,) = angles
    if not names(angle):
        return None
    for f, g, h, s in _arrangements():
        wanted = Term(Fraction(s)).times(_square(f, angle)).over(_square(g, angle))
        if dict(ratio.powers) == dict(wanted.powers) and ratio.coefficient == s:
            rest = a.over(_square(f, angle))
            if any(isinstance(e, Fraction) and e < 0 for _, e in rest.powers):
                return None
            left, right = join(_square(f, angle)), join(_square(g, angle))
            rule = Equation(add(left, right if s > 0 else negate(right)), join(_square(h, angle)))
            return join(rest.times(_square(h, angle))), rule
    return None


def _arrangements() -> Iterator[tuple[str, str, str, int]]:
    """(f, g, h, s) with f² + s·g² = h², the three ways to write each identity."""
    for f, _, g, h in _SQUARES:
        yield f, g, h, 1
        yield h, f, g, -1
        yield h, g, f, -1


def _square(function: str, angle: Node) -> Term:
    return term_of(power(call(function, angle), 2)) if function else Term(Fraction(1))


def reciprocals(node: Node) -> Iterator[tuple[Node, Equation]]:
    """cos · sec as 1, sin over cos as tan, and their relatives, in a product or fraction."""
    term = term_of(node)
    calls = [(b, e) for b, e in term.powers if isinstance(b, Call) and isinstance(e, Fraction)]
    for (a, m), (b, n) in ((p, q) for p in calls for q in calls if p[0] != q[0] and p[0].argument == q[0].argument):
        rest = term.without(a, b)
        for f, g, h in _PRODUCTS:
            if (a.function, b.function) == (f, g) and m > 0 and n > 0:
                k = min(m, n)
                made = Term(Fraction(1), tuple((c, e) for c, e in ((a, m - k), (b, n - k)) if e)).times(_raised(h, a.argument, k))
                yield join(rest.times(made)), Equation(multiply(a, b), _value(h, a.argument))
        for f, g, h in _QUOTIENTS:
            if (a.function, b.function) == (f, g) and m == -n and m > 0:
                yield join(rest.times(_raised(h, a.argument, m))), Equation(divide(a, b), _value(h, a.argument))


def conjugates(node: Quotient) -> Iterator[tuple[Node, Equation]]:
    """1 ± cos over sin²: the square written as (1 - cos)(1 + cos), and the same with sine and cosine exchanged."""
    below = term_of(node.bottom)
    for base, _ in term_of(node.top).powers:
        waves = [t.argument if isinstance(t, Negative) else t for t in base.terms] if isinstance(base, Sum) and len(base.terms) == 2 else []
        for wave in waves:
            if not (isinstance(wave, Call) and wave.function in ("sin", "cos") and ONE in waves):
                continue
            square = Power(call("cos" if wave.function == "sin" else "sin", wave.argument), number(2))
            if below.exponent(square.base) == 2:
                pair = Product((subtract(ONE, wave), add(ONE, wave)))
                yield divide(node.top, multiply(join(below.without(square.base)), pair)), Equation(square, pair)


def _value(function: str, angle: Node) -> Node:
    return call(function, angle) if function else ONE


def _raised(function: str, angle: Node, exponent: Fraction) -> Term:
    return Term(Fraction(1), ((call(function, angle), exponent),)) if function else Term(Fraction(1))
