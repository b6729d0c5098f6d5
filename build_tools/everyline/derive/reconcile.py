"""Two answers that look different: the algebra from one to the other and the constant between them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress

from ..algebra.expand import multiply_out
from ..algebra.numbers import INFINITY, MINUS
from ..algebra.order import text
from ..algebra.tidy import tidy
from ..kernel import Checked, Equal, Setting
from ..notation.build import ZERO, add, negate, replace, size, summands, walk, without_constant
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Inequality, Integral, Interval, Name, Node
from ..techniques import catalogue
from .between import SECONDS, Found, between
from .budget import judged
from .route import Line, Reconciliation

#: How many expressions are looked at on the way, and how many lines it may have.
MOST, LONGEST = 40, 3

Way = tuple[tuple[Node, Message], ...]


def reconcile(question: Question, first: Node, second: Node) -> Reconciliation | None:
    """From one antiderivative to the other, line by line; None where they are the same or no constant was found."""
    a, b = without_constant(first), without_constant(second)
    if question.kind != "indefinite" or same_answer(a, b):
        return None
    found = between(question, a, b)
    if not found:
        return None
    constants = tuple((_where(region, question.variable), value) for region, value, _ in found)
    ((region, constant, verdict), *more) = found
    if more or region is not None:
        return Reconciliation(first, second, tuple(_apart(question, a, b, found)), constants, verdict)
    lines = _lines(question, a, b, constant, verdict)
    if len(lines) == 1:  # what can be worked out may stand on the other side
        back = _lines(question, b, a, tidy(negate(constant)), verdict)
        if len(back) > 1:
            return Reconciliation(second, first, back, ((None, tidy(negate(constant))),), verdict)
    return Reconciliation(first, second, lines, constants, verdict)


def _where(region: Interval | None, x: str) -> Inequality | None:
    if region is None:
        return None
    if region.lower == MINUS:
        return Inequality(Name(x), "<", region.upper)
    above = Inequality(region.lower, "<", Name(x))
    return Inequality(Name(x), ">", region.lower) if region.upper == INFINITY else Inequality(above, "<", region.upper)


def same_answer(a: Node, b: Node) -> bool:
    """Whether two answers differ at most in the order of their terms."""
    ours, theirs = (sorted(text(tidy(term)) for term in summands(tidy(tree))) for tree in (a, b))
    return ours == theirs


def _difference(constant: Node, where: Inequality | None = None) -> Message:
    if where is not None and constant == ZERO:
        return say("The two answers are equal where {where}.", where=where)
    if where is not None:
        return say("The two answers differ by the constant {constant} where {where}.", constant=constant, where=where)
    if constant == ZERO:
        return say("The two answers are equal.")
    return say("The two answers differ by the constant {constant}.", constant=constant)


def _apart(question: Question, a: Node, b: Node, found: Iterable[Found]) -> Iterator[Line]:
    """A line for each interval."""
    for region, constant, verdict in found:
        yield Line("equal", add(b, constant), _difference(constant, _where(region, question.variable)), verdict, a)


def _lines(question: Question, a: Node, b: Node, constant: Node, last: Checked) -> tuple[Line, ...]:
    """From a, by algebra where a way is found, to b and the constant."""
    lines: list[Line] = []
    setting = Setting(question.variable, question.domain, question.given)
    before, goal = a, add(b, constant)
    for shown, reason in _way(question, a, goal):
        verdict = judged(Equal(before, shown, setting), SECONDS)
        if not isinstance(verdict, Checked):
            return (Line("equal", goal, _difference(constant), last, a),)
        lines.append(Line("equal", shown, reason, verdict, None if lines else a))
        before = shown
    if same_answer(before, goal) and lines:
        goal_line = Line("equal", goal, _difference(constant), last)
        return (*lines, goal_line) if constant != ZERO and before != goal else tuple(lines)
    return (*lines, Line("equal", goal, _difference(constant), last, None if lines else a))


def _way(question: Question, a: Node, goal: Node) -> Way:
    """The shortest way from one expression to the other; where none is found, the brackets multiplied out if that says more."""
    x = question.variable
    aims = {_key(goal), _key(multiply_out(goal, x))}
    seen = {_key(a)}
    level: list[tuple[Node, Way]] = [(a, ())]
    for _ in range(LONGEST):
        following: list[tuple[Node, Way]] = []
        for here, way in level:
            for new, reason in _rewritings(here, question):
                if _key(new) in seen or len(seen) > MOST or size(new) > 3 * size(a) + 12:
                    continue
                seen.add(_key(new))
                longer = (*way, (new, reason))
                if _key(new) in aims:
                    return longer
                following.append((new, longer))
        level = following
    out = multiply_out(a, x)
    return ((out, say("Multiply out.")),) if out != a and size(out) < 3 * size(a) and not same_answer(out, a) else ()


def _key(node: Node) -> tuple[str, ...]:
    return tuple(sorted(text(tidy(term)) for term in summands(tidy(node))))


def _rewritings(node: Node, question: Question) -> Iterator[tuple[Node, Message]]:
    """What a line may turn into: its brackets multiplied out, an identity or a law of logarithms used in one of its terms."""
    x = question.variable
    with suppress(ZeroDivisionError):
        yield multiply_out(node, x), say("Multiply out.")
    terms = summands(node)
    for place, term in enumerate(terms):
        asked = Question(Integral(term, x), question.given)
        for technique in ("identity", "simplify", "splitting", "division"):
            for step in catalogue()[technique].propose(asked):
                if not step.bindings:
                    yield tidy(add(*terms[:place], _integrands(step.result), *terms[place + 1 :])), step.reason


def _integrands(node: Node) -> Node:
    """An expression without its integral signs: what a rewriting of an integrand makes of it."""
    for part in [part for part in walk(node) if isinstance(part, Integral)]:
        node = replace(node, part, part.integrand)
    return node
