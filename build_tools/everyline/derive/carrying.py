"""The lines of an antiderivative between limits: with the limits left where they are, where lines only rewrite; else without them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..kernel import Checked, Equal, Setting
from ..notation.build import ONE, names, summands, walk
from ..notation.build import replace as put
from ..notation.question import Question
from ..notation.tree import Integral, Node
from .budget import judged
from .route import Line, Route

SECONDS = 3.0


def with_limits(question: Question, node: Integral, route: Route) -> list[Line]:
    """The lines that only rewrite the integrand, with the limits left where they are; empty where a line does more than that."""
    *rewritten, _ = route.lines
    made: list[Line] = []
    before: Node = node
    plain = Integral(node.integrand, node.variable)
    for line in rewritten:
        terms = summands(line.shown)
        if line.kind != "equal" or line.left is not None or not all(_plain_integral(term, plain.variable) for term in terms):
            return []
        shown = line.shown
        for inner in [piece for piece in walk(shown) if isinstance(piece, Integral)]:
            limited = replace(inner, lower=node.lower, upper=node.upper)
            shown = limited if shown == inner else put(shown, inner, limited)
        verdict = judged(Equal(before, shown, Setting(node.variable, None, question.given)), SECONDS)
        if not isinstance(verdict, Checked) or verdict.grade != "proved":
            return []
        made.append(replace(line, shown=shown, checked=verdict))
        before = shown
    return made


def _plain_integral(term: Node, variable: str) -> bool:
    """Whether a term is one integral in the variable itself, with a number in front."""
    found = [piece for piece in walk(term) if isinstance(piece, Integral)]
    return (
        len(found) == 1 and found[0].variable == variable and variable not in names(put(term, found[0], ONE) if term != found[0] else ONE)
    )


def first_lines(route: Route, node: Integral) -> Iterator[Line]:
    """The lines of an antiderivative, as a chain that begins with the integral without limits."""
    started = False
    for line in route.lines:
        if line.kind == "equal" and line.left is None and not started:
            yield replace(line, left=Integral(node.integrand, node.variable))
            started = True
        else:
            yield line
