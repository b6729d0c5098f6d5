"""Integrals between limits: an antiderivative by any method, then its values at the limits (one-sided limits where an end needs it)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ..algebra.limits import infinite, sign, tends
from ..algebra.tidy import tidy
from ..kernel import Checked, Equal, IntegralValue, Setting
from ..notation.build import add, negate, substitute, subtract, without_constant
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import (
    Absolute,
    Call,
    Diverges,
    Evaluation,
    Integral,
    Interval,
    Limit,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)
from ..techniques import symmetry
from .budget import judged
from .route import Derivation, Line, Route

Finder = Callable[[Question], Derivation]


def definite(question: Question, find: Finder, most: int) -> Derivation:
    """The worked solutions of an integral between limits: those of the indefinite integral, each evaluated."""
    node = question.node
    assert isinstance(node, Integral)
    assert node.lower is not None
    assert node.upper is not None
    found = find(Question(Integral(node.integrand, node.variable), question.given, between(node)))
    symmetric = _odd(question, node, found)
    first = () if symmetric is None else (symmetric,)
    routes = [*first, *(r for r in (_evaluated(question, node, route) for route in found.routes) if r is not None)][:most]
    if routes:
        return Derivation(question, tuple(routes), missing=found.missing)
    missing = found.missing or say("An antiderivative was found, but its values at the limits could not be decided.")
    return Derivation(question, (), missing=missing)


def between(node: Integral) -> Interval | None:
    assert node.lower is not None
    assert node.upper is not None
    difference = tidy(subtract(node.upper, node.lower)) if not (infinite(node.lower) or infinite(node.upper)) else None
    if difference is not None and sign(difference) < 0:
        return Interval(node.upper, node.lower)
    return Interval(node.lower, node.upper)


def _evaluated(question: Question, node: Integral, route: Route) -> Route | None:
    """The lines of the antiderivative, the brackets, the values."""
    x, low, high = node.variable, node.lower, node.upper
    assert low is not None
    assert high is not None
    primitive = without_constant(route.answer)
    turned = not (infinite(low) or infinite(high)) and sign(tidy(subtract(high, low))) < 0
    at_high = tends(primitive, x, high, 1 if turned else -1)
    at_low = tends(primitive, x, low, -1 if turned else 1)
    value = _difference(at_high, at_low) if at_high is not None and at_low is not None else None
    setting = Setting(x, None, question.given)
    verdict = judged(IntegralValue(node.integrand, low, high, value, setting, primitive), 3.0) if value is not None else None
    if value is None or not isinstance(verdict, Checked):
        return _diverging(question, node, route, primitive)
    proper = _plain_at(primitive, x, low) and _plain_at(primitive, x, high)
    bracket = Evaluation(primitive, x, low, high)
    if proper:
        middle = subtract(substitute(primitive, {x: high}), substitute(primitive, {x: low}))
        reason = say("Put in the limits.")
    else:
        middle = _limits(primitive, x, low, high)
        reason = say("An end where the antiderivative is not defined is approached: take limits there.")
    checks = _checks(IntegralValue(node.integrand, low, high, value, setting, primitive), bracket if proper else middle, middle)
    if isinstance(value, Diverges):  # there is no number that the lines before could be equal to
        checks = (verdict, verdict, verdict)
    if checks is None:
        return None
    lines = [*_first(route, node), Line("equal", bracket, say("Use the antiderivative between the limits."), checks[0], node)]
    if middle != value and low != high:
        lines.append(Line("equal", middle, reason, checks[1]))
    lines.append(Line("equal", value, say("Work out the values."), checks[2]))
    return replace(route, question=question, lines=tuple(lines), answer=value, cost=route.cost + 1)


def _checks(claim: IntegralValue, bracket: Node, middle: Node) -> tuple[Checked, Checked, Checked] | None:
    """What the checker says of each line: integral = bracket, bracket = values at the limits, these = the answer. None unless all stand.

    The bracket at an end where nothing can be put in means the limits there, so `bracket` and `middle` are then the same.
    """
    opened = judged(replace(claim, value=bracket), 3.0)
    put_in = opened if bracket == middle else judged(Equal(bracket, middle, claim.setting), 3.0)
    worked_out = judged(Equal(middle, claim.value, claim.setting), 3.0)
    if isinstance(opened, Checked) and isinstance(put_in, Checked) and isinstance(worked_out, Checked):
        return opened, put_in, worked_out
    return None


def _diverging(question: Question, node: Integral, route: Route, primitive: Node) -> Route | None:
    """An antiderivative without a finite limit at an end, or at a pole between the limits."""
    assert node.lower is not None
    assert node.upper is not None
    setting = Setting(node.variable, None, question.given)
    verdict = judged(IntegralValue(node.integrand, node.lower, node.upper, Diverges(), setting, primitive), 3.0)
    if not isinstance(verdict, Checked):
        return None
    reason = say(
        "The antiderivative {F} has no finite limit at an end or at a place between the limits: the integral diverges.", F=primitive
    )
    lines = (*_first(route, node), Line("equal", Diverges(), reason, verdict, node))
    return replace(route, question=question, lines=lines, answer=Diverges(), cost=route.cost + 1)


def _first(route: Route, node: Integral) -> list[Line]:
    """The lines of the antiderivative, as a chain that begins with the integral without limits."""
    lines = []
    started = False
    for line in route.lines:
        if line.kind == "equal" and line.left is None and not started:
            lines.append(replace(line, left=Integral(node.integrand, node.variable)))
            started = True
        else:
            lines.append(line)
    return lines


def _limits(primitive: Node, x: str, low: Node, high: Node) -> Node:
    upper = Limit(primitive, x, high, "" if infinite(high) else "-")
    lower = Limit(primitive, x, low, "" if infinite(low) else "+")
    top = substitute(primitive, {x: high}) if _plain_at(primitive, x, high) else upper
    bottom = substitute(primitive, {x: low}) if _plain_at(primitive, x, low) else lower
    return add(top, negate(bottom)) if not isinstance(bottom, Sum) else subtract(top, bottom)


def _plain_at(primitive: Node, x: str, point: Node) -> bool:
    """Whether the antiderivative can simply be put in at the point."""
    if infinite(point):
        return False
    try:
        return _defined(substitute(primitive, {x: point}))
    except ZeroDivisionError:
        return False


def _defined(node: Node) -> bool:
    match node:
        case Quotient(top=a, bottom=b):
            return _defined(a) and _defined(b) and sign(tidy(b)) != 0
        case Power(base=b, exponent=e):
            return _defined(b) and _defined(e) and (sign(tidy(b)) != 0 or sign(tidy(e)) > 0)
        case Call(function="ln", argument=a):
            return _defined(a) and sign(tidy(a)) > 0
        case Call(function="tan" | "sec", argument=a):
            return _defined(a) and sign(tidy(Call("cos", a))) != 0
        case Call(function="cot" | "csc" | "csch" | "coth", argument=a):
            return _defined(a) and sign(tidy(Call("sin" if not node.function.endswith("h") else "sinh", a))) != 0
        case Call(argument=a) | Absolute(argument=a) | Root(radicand=a):
            return _defined(a)
        case Sum(terms=ts):
            return all(_defined(t) for t in ts)
        case Product(factors=fs):
            return all(_defined(f) for f in fs)
        case Number():
            return True
    inner = getattr(node, "argument", None)
    return _defined(inner) if inner is not None else not infinite(node)


def _difference(high: Node, low: Node) -> Node | None:
    if infinite(high) and infinite(low):
        return None if high == low else high
    if infinite(high):
        return Diverges()
    if infinite(low):
        return Diverges()
    return tidy(subtract(high, low))


def _odd(question: Question, node: Integral, found: Derivation) -> Route | None:
    """The route by symmetry: one step from the integral to zero, proved where an antiderivative is known."""
    assert node.lower is not None
    assert node.upper is not None
    primitive = without_constant(found.routes[0].answer) if found.routes else None
    for step in symmetry.TECHNIQUE.propose(question):
        setting = Setting(node.variable, None, question.given)
        verdict = judged(IntegralValue(node.integrand, node.lower, node.upper, step.result, setting, primitive), 3.0)
        if isinstance(verdict, Checked):
            lines = (Line("equal", step.result, step.reason, verdict),)
            return Route(question, (step.technique,), lines, step.result, symmetry.TECHNIQUE.cost)
    return None
