"""Algebra in a limit: cancel, bring together, multiply by the conjugate, divide by the highest power. What cancels is seen first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...algebra.common import cancelled_alike, over_one
from ...algebra.expand import divided_out, multiply_out
from ...algebra.growth import joined_logs
from ...algebra.limits import sign_near
from ...algebra.poly import coefficients, factored
from ...algebra.pythagoras import reciprocals
from ...algebra.tidy import tidy
from ...notation.build import (
    ONE,
    TWO,
    ZERO,
    call,
    contains,
    divide,
    infinite,
    multiply,
    names,
    negate,
    replace,
    size,
    subtract,
    summands,
    walk,
)
from ...notation.message import Message, say
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Limit, Name, Negative, Node, Product, Quotient, Sum
from ..base import Example, Shown, Step, Technique
from ..far import beside_swings, divided, outgrown, taken_out_far
from ..limit_conjugates import CANCEL, Rewriting, conjugates, halves
from ..limit_reasons import vanishing, why
from ..limiting import again, at_once, both, left_open, node_of, sides


def propose(question: Question) -> Iterable[Step]:
    node = node_of(question)
    body, x = tidy(question.body), question.variable
    far = infinite(node.point)
    if at_once(node) is not None and not (far and isinstance(body, Quotient)) and not barred(body, node):
        return
    seen = {body}
    found = _at_infinity(body, x, node.point) if far else cancelling(body, x, node.point)
    for r in (*_absolutes(body, question), *_identities(body), *found, *_one_bar(body, x), *conjugates(body, x)):
        if r.new not in seen:
            seen.add(r.new)
            through = tuple((again(question, passage), reason) for passage, reason in r.through)
            yield Step("limit-algebra", left_open(question, r.new), r.reason, through=through)
    if far:
        yield from _outgrown(question, body)
        yield from _swings(question, body)


def _taken_out(above: Node, below: Node, x: str, point: Node) -> Iterator[Rewriting]:
    """With letters for numbers: x - a taken out above and below, and cancelled."""
    upper, lower = divided_out(above, x, point), divided_out(below, x, point)
    if upper is None or lower is None or not names(above) | names(point) > {x}:
        return
    factor = tidy(subtract(Name(x), point))
    through = _multiplied_out(above, multiply_out(above), below)
    through.append((divide(multiply(upper, factor), multiply(lower, factor)), _factoring(False, lower == ONE)))
    yield Rewriting(tidy(divide(upper, lower)), say(CANCEL, factor=factor), tuple(through))


def cancelling(body: Node, x: str, point: Node) -> Iterator[Rewriting]:
    """Both polynomials in factors, and what they share cancelled."""
    above, below = halves(body)
    top, bottom = _factored(above, x), _factored(below, x)
    if below == ONE:
        return
    if top is None or bottom is None:
        yield from _taken_out(above, below, x, point)
        return
    found = cancelled_alike(Quotient(top, bottom))
    if found is None:
        return
    out = multiply_out(above, x)
    through = _multiplied_out(above, out, below) if out != top else []
    if (top, bottom) != (above, below) and (top, bottom) != (out, below):
        through.append((divide(top, bottom), _factoring(top in (above, out), bottom == below)))
    yield Rewriting(found[0], say(CANCEL, factor=found[1]), tuple(through))


def _multiplied_out(above: Node, out: Node, below: Node) -> list[tuple[Node, Message]]:
    """The line with what stands above multiplied out, where there is a bracket in it."""
    if out == above or not any(isinstance(p, Sum) for t in summands(above) for p in walk(t) if p is not above):
        return []
    return [(Quotient(out, below), say("Multiply out and collect like terms."))]


def _factoring(above: bool, below: bool) -> Message:
    """What is factored, where what stands above or below is a product already."""
    if below:
        return say("Factor above the bar.")
    return say("Factor below the bar.") if above else say("Factor above and below.")


def _factored(node: Node, variable: str) -> Node | None:
    values = coefficients(node, variable)
    return None if values is None else node if len(values) < 2 else tidy(factored(values, Name(variable)))


def _one_bar(body: Node, x: str) -> Iterator[Rewriting]:
    """Fractions over one denominator, in the whole or above the bar; denominators in factors first."""
    above, below = halves(body)
    for part, rest in ((body, ONE), (above, below)):
        if not isinstance(part, Sum) or contains(part, Call) or (part is not body and below == ONE):
            continue
        apart = Sum(tuple(_denominator_factored(t, x) for t in part.terms))
        one = over_one(apart)
        if one is None:
            continue
        through = ((divide(apart, rest), say("Factor the denominators.")),) if tidy(apart) != part else ()
        raw, reason = divide(multiply_out(one[0], x), multiply(one[1], rest)), say("Bring the terms over one denominator.")
        gone = cancelled_alike(raw.argument if isinstance(raw, Negative) else raw)
        if gone is None:
            yield Rewriting(raw, reason, through)
        else:
            new = negate(gone[0]) if isinstance(raw, Negative) else gone[0]
            yield Rewriting(new, say(CANCEL, factor=gone[1]), (*through, (raw, reason)))


def _denominator_factored(node: Node, x: str) -> Node:
    above, below = halves(node)
    values = coefficients(below, x)
    return node if values is None or len(values) < 3 or not isinstance(below, Sum) else divide(above, factored(values, Name(x)))


def _at_infinity(body: Node, x: str, point: Node) -> Iterator[Rewriting]:
    for new, reason in (*divided(*halves(body), x, point), *taken_out_far(body, x)):
        yield Rewriting(new, reason)
    logs = joined_logs(body.terms, x) if isinstance(body, Sum) else None
    if logs is not None:
        one = tidy(logs)
        for bars in [p for p in walk(one) if isinstance(p, Absolute)] if not contains(body, Absolute) else ():
            one = replace(one, bars, bars.argument)  # the insides are positive where the logarithms are
        yield Rewriting(one, say("Use a law of logarithms."))


def _identities(body: Node) -> Iterator[Rewriting]:
    """tan x cos x as sin x."""
    for new, rule in reciprocals(body) if isinstance(body, Product | Quotient) else ():
        yield Rewriting(new, say("Use {identity}.", identity=rule))
    plain = body
    for part in dict.fromkeys(p for p in walk(body) if isinstance(p, Call)):
        a = part.argument
        sine, cosine = call("sin", a), call("cos", a)
        ways = {"tan": divide(sine, cosine), "cot": divide(cosine, sine), "sec": divide(ONE, cosine), "csc": divide(ONE, sine)}
        half = tidy(divide(a, TWO))
        if part.function in ways:
            plain = replace(plain, part, ways[part.function])
        elif part.function == "sin" and any(isinstance(p, Call) and p.argument == half for p in walk(body)):
            plain = replace(plain, part, multiply(TWO, call("sin", half), call("cos", half)))
    short = tidy(plain)
    if short != body and size(short) <= size(body):
        yield Rewriting(short, say("Cancel what stands above and below."), ((plain, say("Write everything in sine and cosine.")),))
    one = over_one(plain) if isinstance(plain, Sum) and plain != body else None
    if one is not None:
        written = (plain, say("Write everything in sine and cosine."))
        yield Rewriting(divide(*one), say("Bring the terms over one denominator."), (written,))


def _outgrown(question: Question, body: Node) -> Iterator[Step]:
    """A sum of opposed infinities, where one term outgrows the others."""
    node = node_of(question)
    found = outgrown(body, question.variable, node.point)
    if found is None:
        return
    term, others, product = found
    value = at_once(again(question, term))
    if value is not None:
        before = tuple(Shown("equal", again(question, o), ZERO, why(again(question, o), ZERO)) for o in others)
        through = ((again(question, product), say("Take out {term}, which outgrows the rest.", term=term)),)
        reason = say("{term} tends to {large}, and the rest to {value}.", term=term, large=value, value=ONE)
        yield Step("limit-algebra", value, reason, before=before, through=through)


def _swings(question: Question, body: Node) -> Iterator[Step]:
    """(x + cos x)/(x - sin x): divided by x, what swings goes to zero."""
    node, x = node_of(question), question.variable
    found = beside_swings(*halves(body), x, node.point)
    value = None if found is None else both(again(question, found[0]))
    if found is None or value is None or value == ZERO:  # what goes to zero is squeezed
        return
    new, highest = found
    moving = [t for part in (new.top, new.bottom) for t in summands(part) if x in names(t)] if isinstance(new, Quotient) else []
    reason = vanishing(moving, again(question, new), 0)
    if reason is not None:
        through = ((again(question, new), say("Divide above and below by {highest}.", highest=highest)),)
        yield Step("limit-algebra", value, reason, through=through)


def barred(body: Node, node: Limit) -> bool:
    """Whether bars hide a sign in a limit from one side, where it grows without bound: 1/x - 1/|x|."""
    value = both(node) if node.side and contains(body, Absolute) else None
    return value is not None and bool(infinite(value))


def _absolutes(body: Node, question: Question) -> Iterator[Rewriting]:
    """|x| as x or -x, where the limit is from one side."""
    node = node_of(question)
    if len(sides(node)) > 1:
        return
    for bars in dict.fromkeys(p for p in walk(body) if isinstance(p, Absolute)):
        near = sign_near(bars.argument, node.variable, node.point, sides(node)[0])
        if near:
            plain = bars.argument if near > 0 else tidy(negate(bars.argument))
            new = tidy(replace(body, bars, plain))
            yield Rewriting(new, say("On this side {bars} = {plain}.", bars=bars, plain=plain))


TECHNIQUE = Technique(
    id="limit-algebra",
    title="Algebra first",
    cost=1.5,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to 5} \frac{x^2 - 25}{x - 5}"),
        Example(r"\lim_{x \to 16} \frac{x - 16}{\sqrt{x} - 4}"),
        Example(r"\lim_{x \to \infty} \frac{3x^2 + 1}{x^2 - x}"),
        Example(r"\lim_{x \to -\infty} \frac{4x}{\sqrt{x^2 - 1}}"),
        Example(r"\lim_{x \to \infty} \frac{2e^x + 1}{e^x - 3}"),
        Example(r"\lim_{x \to 0^-} \frac{|x|}{x}"),
        Example(r"\lim_{x \to 0} \frac{\sin x}{x}", applies=False),
        Example(r"\lim_{x \to 2} (x^2 - 3x)", applies=False),
    ),
    explains="The factor that makes the form indeterminate is cancelled.",
)
