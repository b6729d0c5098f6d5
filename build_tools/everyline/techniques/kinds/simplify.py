"""Algebra before any rule: laws of logarithms and powers, roots taken together, functions of inverse functions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from ...algebra.expand import multiply_out
from ...algebra.growth import together
from ...algebra.poly import coefficients, linear
from ...algebra.terms import Term, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import ONE, E, add, call, divide, multiply, negate, number, power, replace, root, subtract, walk, within_bars
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Name, Node, Number, Power, Quotient, Root, Sum
from ..asking import constant_and_rest, depends, integral
from ..base import Example, Step, Technique
from ..squares import with_bars


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    seen = {rest}
    for new, reason in _rewritings(rest, question.variable):
        neat = tidy(new)
        if neat in seen:
            continue
        seen.add(neat)
        yield Step("simplify", integral(neat, question.variable, constant if constant != ONE else None), reason)


def _rewritings(rest: Node, variable: str) -> Iterator[tuple[Node, Message]]:
    for part in dict.fromkeys(walk(rest)):
        if not isinstance(part, Call) or not depends(part, variable):
            continue
        if part.function == "ln":
            for wider in _logarithm(part):
                yield replace(rest, part, wider), say("Use a law of logarithms.")
        if isinstance(part.argument, Call):
            plain = _of_inverse(part.function, part.argument)
            if plain is not None:
                yield replace(rest, part, plain), say("A right triangle gives this function of an inverse function.")
    yield from _one_exponential(rest, variable)
    yield from _one_base(rest, variable)
    yield from _roots(rest)
    yield from _radicals(rest, variable)
    yield from _negative_exponents(rest, variable)


def _logarithm(node: Call) -> Iterator[Node]:
    inner = within_bars(node.argument)
    term = term_of(inner)
    moving = len(term.powers)
    if moving == 1 and term.coefficient == 1:
        base, e = term.powers[0]
        if isinstance(e, Fraction) and e != 1:
            even = e.denominator == 1 and e % 2 == 0
            yield tidy(multiply(number(e), call("ln", Absolute(base) if even or isinstance(node.argument, Absolute) else base)))
    elif moving and (moving > 1 or term.coefficient > 0):
        yield add(call("ln", number(abs(term.coefficient))), *(_one(b, e, node) for b, e in term.powers))
        yield add(call("ln", number(abs(term.coefficient))), *(_one(b, e, node, False) for b, e in term.powers))


def _one(base: Node, exponent: Fraction | Node, node: Call, absolute: bool = True) -> Node:
    front = number(exponent) if isinstance(exponent, Fraction) else exponent
    return tidy(multiply(front, call("ln", Absolute(base) if absolute else base)))


def _of_inverse(function: str, inverse: Call) -> Node | None:
    t = inverse.argument
    below = root(subtract(ONE, power(t, 2)))
    above = root(add(ONE, power(t, 2)))
    return {
        ("cos", "arcsin"): below, ("sin", "arccos"): below, ("tan", "arcsin"): divide(t, below), ("tan", "arccos"): divide(below, t),
        ("sin", "arctan"): divide(t, above), ("cos", "arctan"): divide(ONE, above), ("sec", "arctan"): above,
        ("sin", "arcsin"): t, ("cos", "arccos"): t, ("tan", "arctan"): t,
    }.get((function, inverse.function))  # fmt: skip


def _one_exponential(rest: Node, variable: str) -> Iterator[tuple[Node, Message]]:
    """Exponentials of several bases as one: 3ˣ e⁻ˣ is (3/e)ˣ."""
    term = term_of(rest)
    x = Name(variable)
    several = [(b, e) for b, e in term.powers if not isinstance(e, Fraction) and not depends(b, variable)]
    if len(several) < 2:
        return
    slopes = [tidy(divide(e, x)) for _, e in several if not isinstance(e, Fraction)]
    if any(depends(s, variable) for s in slopes):
        return
    base = tidy(multiply(*(power(b, s) for (b, _), s in zip(several, slopes, strict=True))))
    yield multiply(join(term.without(*(b for b, _ in several))), Power(base, x)), say("Take the powers together.")


def _one_base(rest: Node, variable: str) -> Iterator[tuple[Node, Message]]:
    """4ˣ as 2^(2x) where 2ˣ stands beside it."""
    found = [p for p in dict.fromkeys(walk(rest)) if isinstance(p, Power) and isinstance(p.base, Number) and depends(p.exponent, variable)]
    bases = sorted({p.base.value for p in found if isinstance(p.base, Number)})
    for part in found:
        assert isinstance(part.base, Number)
        for small in bases:
            times = next((k for k in range(2, 7) if small > 1 and small**k == part.base.value), None)
            if times is not None:
                new = Power(number(small), tidy(multiply(number(times), part.exponent)))
                yield replace(rest, part, new), say("Write {power} as {new}.", power=part, new=new)


def _roots(rest: Node) -> Iterator[tuple[Node, Message]]:
    """√a·√b as √(ab), a product of two different sums."""
    term = term_of(rest)
    halves = [(b, e) for b, e in term.powers if isinstance(e, Fraction) and e.denominator == 2 and abs(e) == Fraction(1, 2)]
    for sign in (Fraction(1, 2), Fraction(-1, 2)):
        same = [b for b, e in halves if e == sign]
        if len(same) == 2:
            both = multiply_out(multiply(*same))
            yield multiply(join(term.without(*same)), power(both, number(sign))), say("Take the roots together.")


def _radicals(rest: Node, variable: str) -> Iterator[tuple[Node, Message]]:
    """Roots of perfect squares as absolute values, roots out of a denominator, fractions out of one."""
    barred = with_bars(rest)
    if barred != rest:
        yield barred, say("The root of a square is the absolute value.")
    term = term_of(rest)
    for base, e in term.powers:
        if isinstance(base, Quotient) and isinstance(e, Fraction) and abs(e) == Fraction(1, 2) and isinstance(base.top, Sum):
            top, bottom = (base.top, base.bottom) if e > 0 else (base.bottom, base.top)
            if linear(top, variable) is not None and linear(bottom, variable) is not None:
                below = multiply_out(multiply(top, bottom), variable)
                yield (
                    multiply(join(term.without(base)), top, power(below, number(Fraction(-1, 2)))),
                    say("Multiply above and below by {other}.", other=root(top)),
                )
        if not isinstance(base, Sum) or not isinstance(e, Fraction) or e.denominator != 1 or e > 0:
            continue
        left = join(term.without(base))
        other = _conjugate(base, variable)
        if other is not None:
            below = multiply_out(multiply(base, other), variable)
            top = multiply_out(power(other, int(-e)), variable)
            yield multiply(left, top, power(below, int(e))), say("Multiply above and below by {other}.", other=other)
        one = together(base.terms)
        if one is not None and isinstance(one, Quotient):
            yield multiply(left, power(divide(tidy(one.top), one.bottom), number(e))), say("Clear the fractions in the denominator.")


def _conjugate(node: Sum, variable: str) -> Node | None:
    """a - b for a + b, where a or b is a square root and both squares are free of roots."""
    if len(node.terms) != 2:
        return None
    a, b = node.terms
    if not any(any(isinstance(p, Root) and p.index == 2 for p in walk(t)) for t in (a, b)):
        return None
    if any(coefficients(tidy(power(t, 2)), variable) is None for t in (a, b)):
        return None
    return tidy(subtract(a, b))


def _negative_exponents(rest: Node, variable: str) -> Iterator[tuple[Node, Message]]:
    """A denominator with e^(-kx): above and below times e^(kx)."""
    term = term_of(rest)
    for base, e in term.powers:
        if not isinstance(base, Sum) or not isinstance(e, Fraction) or e.denominator != 1 or e > 0:
            continue
        for t in base.terms:
            powers = term_of(t).powers
            if len(powers) == 1 and powers[0][0] == E and not isinstance(powers[0][1], Fraction):
                line = linear(powers[0][1], variable)
                slope = None if line is None else term_of(line[0])
                if slope is not None and not slope.powers and slope.coefficient < 0:
                    factor = power(E, tidy(negate(powers[0][1])))
                    new_base = tidy(add(*(multiply(s, factor) for s in base.terms)))
                    lifted = term.without(base).times(Term(Fraction(1), ((E, tidy(multiply(number(-e), negate(powers[0][1])))),)))
                    yield multiply(join(lifted), power(new_base, number(e))), say("Multiply above and below by {factor}.", factor=factor)
                    break


TECHNIQUE = Technique(
    id="simplify",
    title="Algebra first",
    cost=1.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \ln(x^5) \, dx"),
        Example(r"\int \cos(\arcsin x) \, dx"),
        Example(r"\int \sqrt{2 - x}\sqrt{2 + x} \, dx"),
        Example(r"\int \frac{1}{e^x + 3e^{-x}} \, dx"),
        Example(r"\int \frac{1}{\sqrt{x^2}} \, dx"),
        Example(r"\int \frac{1}{\sqrt{x + 1} + \sqrt{x}} \, dx"),
        Example(r"\int \ln x \, dx", applies=False),
        Example(r"\int x^2 + 1 \, dx", applies=False),
    ),
    explains="A law of algebra makes the integrand one that a rule fits.",
)
