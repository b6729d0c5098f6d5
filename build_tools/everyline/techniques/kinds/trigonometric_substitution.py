"""Trigonometric substitution: a sine, a tangent or a secant for the letter under the root, with the triangle's relations."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from dataclasses import replace as replaced
from fractions import Fraction

from ...algebra.expand import split_constant
from ...algebra.poly import rational_function
from ...algebra.terms import as_node, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import (
    ONE,
    PI,
    TWO,
    call,
    divide,
    multiply,
    names,
    negate,
    number,
    power,
    rational,
    rebuild,
    replace,
    root,
    substitute,
    subtract,
    walk,
)
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import Call, Interval, Name, Node, Power, Quotient, Root, Sum
from ..asking import beside, constant_and_rest, differentiate, integral
from ..base import Example, Shown, Step, Technique
from ..quadratics import Centred, centred, root_of, sign


@dataclass(frozen=True, slots=True)
class Triangle:
    """ℓ = a·function(θ); `side` is what the root of the sum becomes, `angle` is θ in ℓ."""

    function: str
    other: str
    lower: Node
    upper: Node


_QUARTER = tidy(divide(PI, TWO))
_TRIANGLES = {
    (-1, 1): Triangle("sin", "cos", negate(_QUARTER), _QUARTER),
    (1, 1): Triangle("tan", "sec", negate(_QUARTER), _QUARTER),
    (1, -1): Triangle("sec", "tan", number(0), _QUARTER),
}


def propose(question: Question) -> Iterable[Step]:
    constant, rest = constant_and_rest(question)
    for base, exponent in _bases(rest, question.variable).items():
        half = exponent.denominator == 2
        form = centred(base, question.variable)
        if form is None:
            continue
        signs = (sign(form.leading, question.given), sign(form.constant, question.given))
        if signs not in _TRIANGLES or (not half and signs != (1, 1)):
            continue
        step = _step(question, constant, rest, base, form, _TRIANGLES[signs])
        if step is not None:
            yield replaced(step, extra_cost=1.5) if _adds(rest, base) else step


def _adds(rest: Node, base: Node) -> bool:
    """Whether a sum stands above: split, its terms are known forms."""
    return any(isinstance(b, Sum) and b != base and isinstance(e, Fraction) and e > 0 for b, e in term_of(rest).powers)


def _bases(rest: Node, variable: str) -> dict[Node, Fraction]:
    """Sums under a square root anywhere, or in the denominator as a square or higher power, with that exponent."""
    found: dict[Node, Fraction] = {}
    for part in walk(rest):
        if isinstance(part, Root) and part.index == 2 and variable in names(part.radicand):
            found.setdefault(part.radicand, Fraction(1, 2))
    fraction = rational_function(rest, variable)
    if fraction is not None and len(fraction[1]) > 1:
        return {}  # partial fractions first
    for base, exponent in term_of(rest).powers:
        if isinstance(exponent, Fraction) and (exponent.denominator == 2 or exponent <= -2):
            found.setdefault(base, exponent)
    return found


def _step(question: Question, constant: Node, rest: Node, base: Node, form: Centred, triangle: Triangle) -> Step | None:
    x = question.variable
    letter = "theta" if "theta" not in names(question.body) and x != "theta" else "phi"
    theta = Name(letter)
    leading = form.leading if triangle.function != "sin" else negate(form.leading)
    size = form.constant if triangle.function != "sec" else negate(form.constant)
    a = root_of(tidy(divide(size, leading)), question)
    side = root_of(size, question)
    line = tidy(multiply(a, call(triangle.function, theta)))
    shift = tidy(subtract(form.line, multiply(form.slope, Name(x))))
    solved = tidy(divide(subtract(line, shift), form.slope))
    legs = tidy(multiply(side, call(triangle.other, theta)))
    angle, back = _back(form, a, side, theta, triangle, base)
    new = _replaced(rest, base, legs, x, solved, form, line, angle, theta)
    slope = differentiate(solved, letter)
    put_in = integral(beside(new, slope), letter, constant if constant != ONE else None)
    outer, inner = split_constant(_ratio_free(tidy(multiply(constant, new, slope))), letter)
    rooted = any(isinstance(part, Root) or (isinstance(part, Power) and isinstance(part.exponent, Quotient)) for part in walk(rest))
    relation = (
        Shown("equal", root(base), legs, say("The identity takes the root away."))
        if rooted
        else Shown("equal", base, tidy(power(legs, 2)), say("The identity makes one square of the sum."))
    )
    called = (
        say("The form under the root calls for this substitution.") if rooted else say("The sum of squares calls for this substitution.")
    )
    before = (
        Shown("let", Name(x), solved, called),
        Shown("differential", Name(x), slope, say("Differentiate it.")),
        relation,
    )
    region = Interval(triangle.lower, triangle.upper)
    result = integral(inner, letter, outer if outer != ONE else None)
    through = ((put_in, say("Write everything in the angle.")),)
    bound = ((letter, angle),)
    return Step("trigonometric-substitution", result, say("Simplify."), bound, before, back=back, region=region, through=through)


def _replaced(
    rest: Node, base: Node, legs: Node, x: str, solved: Node, form: Centred, line: Node, angle: Node, theta: Node
) -> Node:  # fmt: skip
    """The integrand in the angle: an inverse function that is the angle itself, then the roots, then the letter."""
    new = _powers(replace(rest, angle, theta), base, legs)
    if form.line != Name(x):
        new = replace(new, form.line, line)
    return tidy(substitute(new, {x: solved}))


def _powers(node: Node, base: Node, legs: Node) -> Node:
    """Every power of the base as a power of its root."""
    if node == base:
        return power(legs, 2)
    if isinstance(node, Root) and node.radicand == base and node.index == 2:
        return legs
    if isinstance(node, Power) and node.base == base and (e := rational(node.exponent)) is not None and (2 * e).denominator == 1:
        return power(legs, number(2 * e))
    return rebuild(node, lambda part: _powers(part, base, legs))


def _ratio_free(node: Node) -> Node:
    """Quotients of powers of one angle's functions brought to as few functions as possible: cos/cos² is 1/cos, tan²/sec is sin²/cos."""
    term = term_of(node)
    waves = [(b, e) for b, e in term.powers if isinstance(b, Call) and isinstance(e, Fraction)]
    exponents = {b.function: e for b, e in waves}
    if not exponents or any(f not in ("sin", "cos", "tan", "sec") for f in exponents):
        return node
    angle = waves[0][0].argument
    t, s = exponents.get("tan", Fraction(0)), exponents.get("sec", Fraction(0))
    if t >= 0 and s >= 0:
        m, n = exponents.get("sin", Fraction(0)), exponents.get("cos", Fraction(0))
        if n < 0 <= m <= -n and m.denominator == n.denominator == 1 and not (t or s):
            rest = term.without(call("sin", angle), call("cos", angle))
            return tidy(multiply(join(rest), power(call("tan", angle), as_node(m)), power(call("sec", angle), as_node(-n - m))))
        if m == -2 and n == 0 and not (t or s):
            return tidy(multiply(join(term.without(call("sin", angle))), power(call("csc", angle), 2)))
        return node
    rest = term.without(*(call(f, angle) for f in exponents))
    m = exponents.get("sin", Fraction(0)) + t
    n = exponents.get("cos", Fraction(0)) - t - s
    return tidy(multiply(join(rest), power(call("sin", angle), as_node(m)), power(call("cos", angle), as_node(n))))


def _back(form: Centred, a: Node, side: Node, theta: Name, triangle: Triangle, base: Node) -> tuple[Node, tuple[tuple[Node, Node], ...]]:
    """θ in terms of ℓ, and the functions of θ read off the triangle."""
    ratio = tidy(divide(form.line, a))
    leg = tidy(divide(root(base), side))
    if triangle.function == "sin":
        angle = call("arcsin", ratio)
        sine, cosine = ratio, leg
    elif triangle.function == "tan":
        angle = call("arctan", ratio)
        sine, cosine = tidy(divide(ratio, leg)), tidy(divide(ONE, leg))
    else:
        angle = multiply(call("sgn", form.line), call("arcsec", ratio))
        sine, cosine = tidy(divide(leg, ratio)), tidy(divide(ONE, ratio))
    tangent = ratio if triangle.function == "tan" else leg if triangle.function == "sec" else tidy(divide(sine, cosine))
    s, c = call("sin", theta), call("cos", theta)
    double = tidy(multiply(TWO, theta))
    fourfold = tidy(multiply(number(4), theta))
    values: list[tuple[Node, Node]] = [
        (call("sin", fourfold), tidy(multiply(number(4), s, c, subtract(ONE, multiply(TWO, power(s, 2)))))),
        (call("cos", double), subtract(ONE, multiply(TWO, power(s, 2)))),
        (call("sin", double), multiply(TWO, s, c)),
        (call("tan", theta), tangent),
        (call("cot", theta), tidy(divide(ONE, tangent))),
        (call("sec", theta), tidy(divide(ONE, cosine))),
        (call("csc", theta), tidy(divide(ONE, sine))),
        (s, sine),
        (c, cosine),
    ]
    if triangle.function == "sec":
        values.append((theta, call("arctan", leg)))
    return angle, tuple(values)


TECHNIQUE = Technique(
    id="trigonometric-substitution",
    title="Trigonometric substitution",
    cost=5.0,
    kinds=("indefinite",),
    propose=propose,
    examples=(
        Example(r"\int \sqrt{25 - x^2} \, dx"),
        Example(r"\int \frac{1}{x^2\sqrt{x^2 + 9}} \, dx"),
        Example(r"\int \frac{\sqrt{x^2 - 49}}{x} \, dx"),
        Example(r"\int \frac{1}{(x^2 + 4)^2} \, dx"),
        Example(r"\int \sqrt{x + 1} \, dx", applies=False),
        Example(r"\int x^2 \, dx", applies=False),
    ),
    after=("identity", "substitution"),
    explains="x = a sin θ, a tan θ or a sec θ takes the root away; a right triangle gives the way back.",
)
