"""Powers of trigonometric functions: keep one factor for du, write the others in the other function; halve where both are even."""

from __future__ import annotations

from collections.abc import Iterable

from ...algebra.expand import multiply_out
from ...algebra.tidy import tidy
from ...notation.build import ONE, TWO, add, call, divide, multiply, power, subtract
from ...notation.message import say, sentence
from ...notation.question import Question
from ...notation.tree import Node
from ..asking import constant_and_rest, integral
from ..base import Example, Step, Technique
from ..waves import Waves, waves, whole


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    outer = constant if constant != ONE else None
    x = question.variable
    for w in waves(rest, x):
        if w.rest.powers:
            continue
        if w.only("sin", "cos"):
            yield from _sine_cosine(x, outer, w)
        elif w.only("tan", "sec"):
            yield from _tangent_secant(x, outer, w, "tan", "sec")
        elif w.only("cot", "csc"):
            yield from _tangent_secant(x, outer, w, "cot", "csc")


def _step(variable: str, outer: Node | None, new: Node, text: str, extra: float = 0.0) -> Step:
    return Step("trigonometric-powers", integral(new, variable, outer), say(text), extra_cost=extra)


def _sine_cosine(variable: str, outer: Node | None, w: Waves) -> Iterable[Step]:
    m, n = w.get("sin"), w.get("cos")
    for f, g, a in (("sin", "cos", m), ("cos", "sin", n)):
        if whole(a) and a % 2 == 1 and a >= 3:
            square = subtract(ONE, w.raised(g, 2))
            new = multiply(power(square, int(a - 1) // 2), w.raised(g, w.get(g)), w.of(f))
            yield _step(variable, outer, tidy(new), _ODD[f])
    if whole(m) and whole(n) and m % 2 == 0 and n % 2 == 0 and m >= 0 and n >= 0 and 2 <= m + n <= 12:
        double = call("cos", tidy(multiply(TWO, w.angle)))
        sines = power(divide(subtract(ONE, double), TWO), int(m) // 2)
        cosines = power(divide(add(ONE, double), TWO), int(n) // 2)
        text = _EVEN if m and n else _EVEN_ALONE
        out = integral(multiply_out(multiply(sines, cosines)), variable, outer)
        if m + n == 2:
            yield Step("trigonometric-powers", out, say(text), extra_cost=0.5)
        else:
            put_in = integral(multiply(sines, cosines), variable, outer)
            yield Step("trigonometric-powers", out, say("Multiply out."), extra_cost=0.5, through=((put_in, say(text)),))


_EVEN = sentence("Both powers are even: halve them with the double angle.")
_EVEN_ALONE = sentence("The power is even: halve it with the double angle.")
_ODD = {
    "sin": sentence("The power of the sine is odd: keep one sine and write the others in the cosine."),
    "cos": sentence("The power of the cosine is odd: keep one cosine and write the others in the sine."),
}
_EVEN_SECANT = {
    "sec": sentence("The power of the secant is even: keep a square of it and write the others in the tangent."),
    "csc": sentence("The power of the cosecant is even: keep a square of it and write the others in the cotangent."),
}
_ODD_TANGENT = {
    "tan": sentence("The power of the tangent is odd: keep sec · tan and write the others in the secant."),
    "cot": sentence("The power of the cotangent is odd: keep csc · cot and write the others in the cosecant."),
}
_SQUARE = {
    "tan": sentence("Write a square of the tangent as the square of the secant less one."),
    "cot": sentence("Write a square of the cotangent as the square of the cosecant less one."),
}
_ALL_SECANT = {
    "sec": sentence("The tangent's power is even and the secant's odd: write everything in the secant."),
    "csc": sentence("The cotangent's power is even and the cosecant's odd: write everything in the cosecant."),
}


def _tangent_secant(variable: str, outer: Node | None, w: Waves, t: str, s: str) -> Iterable[Step]:
    m, n = w.get(t), w.get(s)
    if whole(n) and n % 2 == 0 and n >= 4:
        new = multiply(w.raised(t, m), power(add(ONE, w.raised(t, 2)), int(n - 2) // 2), w.raised(s, 2))
        yield _step(variable, outer, tidy(new), _EVEN_SECANT[s])
    if whole(m) and m % 2 == 1 and m >= 3 and n != 0:
        square = subtract(w.raised(s, 2), ONE)
        new = multiply(power(square, int(m - 1) // 2), w.raised(s, n - 1), w.of(s), w.of(t))
        yield _step(variable, outer, tidy(new), _ODD_TANGENT[t])
    if n == 0 and whole(m) and m >= 3:
        new = tidy(subtract(multiply(w.raised(t, m - 2), w.raised(s, 2)), w.raised(t, m - 2)))
        yield _step(variable, outer, new, _SQUARE[t])
    if whole(m) and whole(n) and m % 2 == 0 and m >= 2 and n % 2 == 1 and n >= 1:
        new = multiply_out(multiply(power(subtract(w.raised(s, 2), ONE), int(m) // 2), w.raised(s, n)))
        yield _step(variable, outer, new, _ALL_SECANT[s], 1.0)


TECHNIQUE = Technique(
    id="trigonometric-powers",
    title="Powers of trigonometric functions",
    cost=2.5,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \sin^5 x \, dx"),
        Example(r"\int \sin^2 x\cos^3 x \, dx"),
        Example(r"\int \cos^4 x \, dx"),
        Example(r"\int \tan^5 x \, dx"),
        Example(r"\int \sec^6 x \, dx"),
        Example(r"\int \tan^3 x\sec^5 x \, dx"),
        Example(r"\int \sin x\cos 3x \, dx", applies=False),
        Example(r"\int x\sin^3 x \, dx", applies=False),
    ),
    after=("identity", "substitution"),
    explains="One factor is kept for the differential, the others are written in the other function.",
)
