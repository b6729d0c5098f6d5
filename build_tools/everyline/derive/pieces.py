"""An integral split into pieces that are worked out one by one: improper between its limits, or with bars that allow no shorter way."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise

from ..algebra.answers import answer as last_line
from ..kernel import Equal, IntegralValue, SameDerivative, Setting
from ..notation.build import ONE, TWO, add, call, divide, multiply, negate, subtract, walk
from ..notation.message import say
from ..notation.question import Question
from ..notation.tree import Integral, Interval, Name, Node
from ..techniques import Step
from .route import Line, Route
from .steps import value_claim
from .valued import Valued, proved

#: A piece worked out, with an antiderivative of its integrand.
Solve = Callable[[Question], tuple[Valued, Node] | None]


def apart(question: Question, step: Step, solve: Solve) -> Valued | None:
    """The split, each of its integrals on its own, and their sum; None where a piece was not solved.

    Raises:
        NotWritten: a line is not behind which the kernel stands.
    """
    node = question.node
    assert isinstance(node, Integral)
    assert node.lower is not None
    assert node.upper is not None
    setting = Setting(node.variable, None, question.given)
    lines = [Line("equal", step.result, step.reason, proved(value_claim(node, step.result, setting)))]
    parts = [p for p in walk(step.result) if isinstance(p, Integral)]
    solved: list[tuple[Valued, Node]] = []
    for part in parts:
        made = solve(replace(question, node=part))
        if made is None:
            return None
        solved.append(made)
        lines += led(made[0].lines, part)
    total = add(*(made.value for made, _ in solved))
    certificate = _joined([(part, primitive) for part, (_, primitive) in zip(parts, solved, strict=True)])
    claim = IntegralValue(node.integrand, node.lower, node.upper, total, setting, certificate)
    lines.append(Line("equal", total, say("Add the pieces."), proved(claim), node))
    value = last_line(total)
    if value != total:
        lines.append(Line("equal", value, say("Work out the value."), proved(Equal(total, value, setting))))
    marks = tuple(dict.fromkeys(mark for made, _ in solved for mark in made.marks))
    return Valued(tuple(lines), value, marks, sum(made.cost for made, _ in solved))


def led(lines: tuple[Line, ...], node: Node) -> Iterator[Line]:
    """The lines of an integral of its own: the first one in the chain names it."""
    started = False
    for line in lines:
        in_chain = line.kind == "equal" and (line.left is None or isinstance(line.left, Integral))
        yield replace(line, left=node) if in_chain and not started and line.left is None else line
        started = started or in_chain


def known(question: Question, route: Route) -> Route:
    """An antiderivative that was found above, in one line.

    Raises:
        NotWritten: it is none.
    """
    node = question.node
    assert isinstance(node, Integral)
    assert node.lower is not None
    assert node.upper is not None
    plain = Integral(node.integrand, node.variable)
    setting = Setting(node.variable, Interval(node.lower, node.upper), question.given)
    checked = proved(SameDerivative(plain, route.answer, setting))
    return replace(route, lines=(Line("equal", route.answer, say("The same antiderivative serves here."), checked),))


def _joined(pieces: list[tuple[Integral, Node]]) -> Node:
    """One antiderivative out of those of the pieces, each on its own piece; sgn switches them on and off."""
    primitives = [primitive for _, primitive in pieces]
    if len(set(primitives)) == 1:
        return primitives[0]
    x = Name(pieces[0][0].variable)
    cuts = [call("sgn", subtract(x, part.lower)) for part, _ in pieces[1:] if part.lower is not None]
    switches = pairwise((ONE, *cuts, negate(ONE)))
    return add(*(multiply(F, divide(subtract(on, off), TWO)) for F, (on, off) in zip(primitives, switches, strict=True)))
