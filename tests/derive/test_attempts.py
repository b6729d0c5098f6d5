"""What does not help here, and why: of every tempting inside or factor its derivative, and what is left over; never a false word.

The corpus is common practice; that a thing left over is no constant, and not the inside in disguise, is checked by mpmath.
"""

from __future__ import annotations

import functools

import mpmath
import numeric
import pytest
from asking import ask, solve

from everyline.derive.attempts import attempt
from everyline.notation import plain
from everyline.notation.build import names, substitute, walk
from everyline.notation.message import fill
from everyline.notation.tree import Call

CORPUS = [
    r"\int x^2\sin x \, dx", r"\int x^3e^x \, dx", r"\int x\ln x \, dx", r"\int \ln^2 x \, dx", r"\int e^x\sin x \, dx",
    r"\int x\sinh x \, dx", r"\int \sin^2 x\cos x \, dx", r"\int \sin^2 x\cos^3 x \, dx", r"\int \sec^3 x \, dx", r"\int \tan^2 x \, dx",
    r"\int \frac{\sin 2x}{1+\sin^2 x} \, dx", r"\int \frac{1}{x^2+4x+13} \, dx", r"\int \frac{x^3}{\sqrt{x^2+1}} \, dx",
    r"\int \frac{3x+4}{x^3-2x-4} \, dx", r"\int (\sin^3 x-3\sin^2 x)^3(\sin^2 x-2\sin x)\cos x \, dx", r"\int xe^{-x^2} \, dx",
    r"\int \frac{1}{\sin 3x-\cos 3x} \, dx", r"\int e^{2x}\cos(e^x) \, dx", r"\int x\cos^2 x \, dx", r"\int \cot^2 x \, dx",
    r"\int \frac{1}{1+\sin x} \, dx", r"\int \cosh^2 x \, dx", r"\int x^2(x^3+5)^9 \, dx", r"\int \cos(\ln x) \, dx",
]  # fmt: skip

#: Where a function takes the same value at two places that are not the same.
TWICE = {
    "sin": lambda x: mpmath.pi - x,
    "cos": lambda x: -x,
    "sec": lambda x: -x,
    "tan": lambda x: x + mpmath.pi,
    "cot": lambda x: x + mpmath.pi,
}


solved = functools.cache(solve)


@pytest.mark.parametrize("text", CORPUS)
def test_what_is_left_over_is_no_constant_and_not_the_inside_in_disguise(text: str) -> None:
    for made in solved(text).attempts:
        if made.works or made.left_over is None:
            continue
        left = substitute(made.left_over, {"u": made.tried})
        points = [mpmath.mpf(p) / 10 for p in (7, 11, 13)]
        values = [numeric.value(left, {"x": p}) for p in points]
        assert not mpmath.almosteq(values[0], values[1], rel_eps=1e-9) or not mpmath.almosteq(values[1], values[2], rel_eps=1e-9)
        tried = made.tried
        if isinstance(tried, Call) and plain(tried.argument) == "x" and tried.function in TWICE:
            # what depends on the function alone takes the same value at both places, and a turn later
            there = [numeric.value(left, {"x": place}) for place in (TWICE[tried.function](points[0]), points[0] + 2 * mpmath.pi)]
            assert not all(mpmath.almosteq(value, values[0], rel_eps=1e-9) for value in there), fill(made.reason, plain)


@pytest.mark.parametrize("text", CORPUS)
def test_the_derivative_is_the_derivative_and_no_inside_of_a_solution_is_among_the_attempts(text: str) -> None:
    found = solved(text)
    chosen = {line.shown for route in found.routes for line in route.lines if line.kind == "let"}
    for made in found.attempts:
        slope = mpmath.diff(lambda t, tried=made.tried: numeric.value(tried, {"x": t}), mpmath.mpf("0.7"))
        assert mpmath.almosteq(numeric.value(made.derivative, {"x": mpmath.mpf("0.7")}), slope, rel_eps=1e-9)
        integrates_in_it = {line.shown for route in found.routes for line in route.lines if line.left in walk(line.shown)}
        assert made.tried not in chosen - integrates_in_it or not made.works


#: (question, what is tried, what is said); common practice, no source
SAID = [
    (r"\int x^2\sin x \, dx", "sin(x)", "The derivative of sin(x) is cos(x); x^2/cos(x) is left over"),
    (r"\int x\cosh x \, dx", "cosh(x)", "The derivative of cosh(x) is sinh(x); x/sinh(x) is left over"),
    (r"\int x\ln x \, dx", "ln(x)", "The derivative of ln(x) is 1/x; x^2 is left over"),
    (r"\int \arcsin x \, dx", "arcsin(x)", "sqrt(1 - x^2) is left over"),
    (r"\int x^3e^x \, dx", "e^x", "The derivative of e^x is e^x; x^3 is left over"),
    (r"\int \sin^2 x\cos x \, dx", "cos(x)", "The derivative of cos(x) is -sin(x); sin(x) is left over, which is not a constant"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "tried", "said"), SAID)
def test_every_factor_is_tried_also_one_that_parts_differentiates(text: str, tried: str, said: str) -> None:
    (made,) = (made for made in solve(text).attempts if plain(made.tried) == tried)
    assert said in fill(made.reason, plain)


@pytest.mark.parametrize(
    ("text", "tried", "left"),
    [
        (r"\int_0^{\pi/2} \sin^3 x\cos^2 x \, dx", "sin(x)", "cos(x)"),
        (r"\int_0^\infty e^{-x^2} \, dx", "-x^2", "1/x"),
        (r"\int_0^1 \sin x^2 \, dx", "x^2", "1/x"),
    ],
)
def test_limits_do_not_make_an_inside_help(text: str, tried: str, left: str) -> None:
    """What does not help in the integrand does not help between limits; common practice, no source."""
    (made,) = (made for made in solve(text).attempts if plain(made.tried) == tried)
    assert not made.works
    assert made.left_over is not None
    assert plain(made.left_over) == left


@pytest.mark.parametrize("text", [r"\int \sec^2 x \, dx", r"\int 3x^2 \, dx", r"\int \sin 3x \, dx", r"\int \frac{1}{2x+7} \, dx"])
def test_nobody_tries_anything_on_what_is_known_by_heart(text: str) -> None:
    assert solve(text).attempts == ()


@pytest.mark.parametrize(("text", "inside"), [(r"\int \frac{\sin 2x}{1+\sin^2 x} \, dx", "sin x"), (r"\int \tan^2 x \, dx", "tan x")])
def test_nothing_is_said_against_an_inside_that_helps_after_an_identity(text: str, inside: str) -> None:
    """sin 2x / cos x is 2 sin x, and 1/sec² x is 1/(1 + tan² x): nothing but the inside is left over."""
    from asking import tree

    assert attempt(ask(text), tree(inside)) is None


def test_what_the_terms_of_a_derivative_share_is_cancelled() -> None:
    """The derivative of sin³ x - 3 sin² x is 3 cos x (sin² x - 2 sin x): one substitution does it."""
    route = solve(r"\int (\sin^3 x-3\sin^2 x)^3(\sin^2 x-2\sin x)\cos x \, dx").routes[0]
    assert [plain(line.shown) for line in route.lines if line.kind == "let"] == ["sin(x)^3 - 3sin(x)^2"]
    assert not names(route.answer) - {"x"}
