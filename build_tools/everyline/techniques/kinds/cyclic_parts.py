"""Integration by parts that comes back to the integral it began with: solve for it."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.common import over_one
from ...algebra.expand import distribute, split_constant
from ...algebra.terms import as_node, term_of
from ...algebra.tidy import tidy
from ...notation.build import ONE, add, call, divide, multiply, names, number, power, subtract
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Call, Equation, Name, Node, Sum
from ..asking import constant_and_rest, differentiate, integral
from ..base import Example, Step, Technique
from ..simple import simple_antiderivative

_WAVES = {"sin", "cos"}


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    chosen = _wave_factor(rest, question.variable)
    if chosen is not None:
        step = _twice(question, constant, rest, *chosen)
        if step is not None:
            yield step
    yield from _odd_secant(question, constant, rest)


def _wave_factor(rest: Node, variable: str) -> tuple[Node, Node] | None:
    """(u, dv): the sine or cosine and the exponential, or the sine of a logarithm and 1."""
    powers = term_of(rest).powers
    waves = [b for b, e in powers if isinstance(b, Call) and b.function in _WAVES and e == 1]
    if len(waves) != 1:
        return None
    wave = waves[0]
    if len(powers) == 1:
        return (wave, ONE) if (isinstance(wave.argument, Call) and wave.argument.function == "ln") or _has_ln(wave.argument) else None
    others = [(b, e) for b, e in powers if b != wave]
    if len(others) == 1 and others[0][0] == Name(variable) and isinstance(others[0][1], Fraction) and _has_ln(wave.argument):
        return wave, power(others[0][0], as_node(others[0][1]))
    if len(others) == 1 and not isinstance(others[0][1], Fraction):
        return wave, power(others[0][0], as_node(others[0][1]))
    return None


def _has_ln(node: Node) -> bool:
    return any(isinstance(b, Call) and b.function == "ln" for b, _ in term_of(node).powers)


def _twice(question: Question, constant: Node, rest: Node, first: Node, second: Node) -> Step | None:
    x = question.variable
    v1 = simple_antiderivative(second, x)
    if v1 is None:
        return None
    c1, left1 = split_constant(tidy(multiply(v1, differentiate(first, x))), x)
    again = _wave_factor(left1, x)
    if again is None:
        return None
    v2 = simple_antiderivative(again[1], x)
    if v2 is None:
        return None
    c2, left2 = split_constant(tidy(multiply(v2, differentiate(again[0], x))), x)
    if left2 != rest:
        return None
    one = tidy(multiply(first, v1))
    two = tidy(multiply(c1, again[0], v2))
    back = tidy(multiply(c1, c2))
    share = tidy(subtract(ONE, back))
    if share == number(0):
        return None
    outer = constant
    line1 = tidy(subtract(_times(outer, one), integral(left1, x, tidy(multiply(outer, c1)))))
    line2 = tidy(add(_times(outer, one), _negative(_times(outer, two)), integral(rest, x, tidy(multiply(outer, back)))))
    above, below = (over_one(share) or (share, ONE)) if isinstance(share, Sum) else (share, ONE)
    result = tidy(divide(distribute(multiply(below, subtract(one, two))), above))
    result = distribute(_times(outer, result))
    through = (
        (line1, say("Integrate by parts: differentiate {u}, integrate {dv}.", u=first, dv=second)),
        (line2, say("Integrate by parts again, with the same kind of choice.")),
    )
    reason = say("The integral at the beginning has come back: bring it to the left and divide by {share}.", share=share)
    return Step("cyclic-parts", result, reason, through=through)


def _negative(node: Node) -> Node:
    return tidy(multiply(number(-1), node))


def _times(constant: Node, node: Node) -> Node:
    return tidy(multiply(constant, node))


def _odd_secant(question: Question, constant: Node, rest: Node) -> Iterable[Step]:
    """∫ sec^n and ∫ csc^n for odd n: parts with sec², then sec² - 1 for tan²."""
    x = question.variable
    powers = term_of(rest).powers
    if len(powers) != 1:
        return
    base, n = powers[0]
    if not (isinstance(base, Call) and base.function in ("sec", "csc") and isinstance(n, Fraction) and n >= 3 and n % 2 == 1):
        return
    inner, other = base.argument, "tan" if base.function == "sec" else "cot"
    slope = differentiate(inner, x)
    if x in names(slope):
        return
    co = call(other, inner)
    signed = divide(co, slope) if base.function == "sec" else divide(tidy(multiply(number(-1), co)), slope)
    boundary = tidy(multiply(power(base, int(n) - 2), signed))
    mixed = tidy(multiply(power(base, int(n) - 2), power(co, 2)))
    lower = power(base, int(n) - 2)
    k = number(n - 2)
    line1 = tidy(subtract(_times(constant, boundary), integral(mixed, x, tidy(multiply(constant, k)))))
    line2 = tidy(
        add(
            _times(constant, boundary),
            _negative(integral(rest, x, tidy(multiply(constant, k)))),
            integral(lower, x, tidy(multiply(constant, k))),
        )
    )
    share = number(n - 1)
    result = tidy(
        add(tidy(multiply(constant, divide(boundary, share))), integral(lower, x, tidy(multiply(constant, number((n - 2) / (n - 1))))))
    )
    through: tuple[tuple[Node, Message], ...] = (
        (line1, say("Integrate by parts: differentiate {u}, integrate {dv}.", u=lower, dv=power(base, 2))),
        (line2, say("Use {a} and split.", a=_identity(base, co))),
    )
    reason = say("The integral at the beginning has come back: bring it to the left and divide by {share}.", share=share)
    yield Step("cyclic-parts", result, reason, through=through)


def _identity(base: Node, co: Node) -> Node:
    return Equation(power(co, 2), subtract(power(base, 2), ONE))


TECHNIQUE = Technique(
    id="cyclic-parts",
    title="Integration by parts, solved for the integral",
    cost=5.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int e^{2x}\sin 5x \, dx"),
        Example(r"\int \cos(\ln x) \, dx"),
        Example(r"\int \sec^3 x \, dx"),
        Example(r"\int \csc^5 x \, dx"),
        Example(r"\int x\sin x \, dx", applies=False),
        Example(r"\int e^x \, dx", applies=False),
    ),
    after=("parts",),
    explains="Parts used twice gives the first integral back; the equation is solved for it.",
)
