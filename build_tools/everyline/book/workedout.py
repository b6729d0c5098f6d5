"""The worked solutions of a problem: by the methods taught so far or asked for, with what stands in the way of them."""

from __future__ import annotations

from dataclasses import replace

from ..derive import Budget, derive, untaught
from ..derive.route import Derivation
from ..diagnostics import Diagnostic, diagnose
from ..diagnostics.from_notation import from_notation
from ..diagnostics.kinds.method_impossible import MethodImpossible
from ..diagnostics.kinds.needs_untaught import NeedsUntaught
from ..diagnostics.kinds.solution_missing import NoSolution
from ..notation import Context, NotationError, parse
from ..notation.message import Message
from ..notation.question import Question
from ..notation.tree import Equation, Name, Node
from ..source.problem import Conventions, Problem
from ..source.span import Text


def worked_out(
    question: Question, problem: Problem, conventions: Conventions, taught: frozenset[str] | None, seconds: float
) -> tuple[Derivation, list[Diagnostic]]:
    """The worked solutions, within what has been taught (None: everything) and what the file allows besides."""
    faults: list[Diagnostic] = []
    u = None
    if problem.u is not None:
        try:
            u = _substitution(problem.u, question, conventions)
        except NotationError as error:
            faults.append(diagnose(from_notation(problem.u, error, "u")))
    allowed = None if taught is None else taught | {text.value for text in problem.needs}
    budget = Budget(seconds=seconds)
    found = derive(question, allowed=allowed, methods=tuple(text.value for text in problem.methods), u=u, budget=budget)
    for asked, reason in found.refused:
        place = problem.u if asked == "u" else next((text for text in problem.methods if text.value == asked), None)
        assert place is not None
        found, fault = _refused(found, (asked, reason, place), problem, allowed, u, budget)
        faults.append(fault)
    if found.routes or found.refused or problem.blocks:  # what a person wrote out needs no other solution
        return found, faults
    if allowed is not None:
        wider = derive(question, budget=budget, most=1)
        missing = untaught(wider.routes[0], allowed) if wider.routes else ()
        if missing:
            return wider, [*faults, diagnose(NeedsUntaught(problem.question.span, missing, problem.chapter))]
    return found, [*faults, diagnose(NoSolution(problem.question.span, found.missing))]


def _substitution(text: Text, question: Question, conventions: Conventions) -> Node:
    """What the file wants to be called u.

    Raises:
        NotationError: it cannot be read.
    """
    context = Context(log=conventions.log, decimal=conventions.decimal).of(question)
    wanted = parse(text.value, context.declare("u"))
    # `u: u = x + 3` says it in full
    return wanted.right if isinstance(wanted, Equation) and wanted.left == Name("u") else wanted


def _refused(
    found: Derivation, wish: tuple[str, Message, Text], problem: Problem, allowed: frozenset[str] | None, u: Node | None, budget: Budget
) -> tuple[Derivation, Diagnostic]:
    """What is said of a method or a substitution that gave nothing: what it needs that was not taught, or why it does not work."""
    asked, reason, place = wish
    if allowed is not None:
        wider = derive(found.question, methods=() if asked == "u" else (asked,), u=u, budget=budget, most=1)
        missing = untaught(wider.routes[0], allowed) if wider.routes else ()
        if missing:
            found = replace(found, routes=(*found.routes, wider.routes[0]))
            return found, diagnose(NeedsUntaught(place.span, missing, problem.chapter))
    return found, diagnose(MethodImpossible(place.span, place.value, reason, asked == "u"))
