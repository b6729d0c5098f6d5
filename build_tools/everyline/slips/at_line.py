"""What the slips make of one line of a worked solution: of the part of it that was worked out there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

from ..algebra import tidy
from ..algebra.derivative import NotSupported, derivative
from ..algebra.limits import tends
from ..notation.build import ONE, ZERO, add, children, contains, divide, infinite, multiply, names, number, subtract, walk, without_constant
from ..notation.build import replace as put
from ..notation.question import Question
from ..notation.tree import ArbitraryConstant, Derivative, Evaluation, Integral, Limit, Negative, Node, Product, Quotient, Sum
from .aligned import changed
from .answers import coefficient
from .base import Slip
from .diagnose import fault_of, wrong_answers
from .discovery import all_slips
from .twisted import one_step

#: What can be left to be done on a line.
OPEN = (Integral, Derivative, Limit, Evaluation)
#: Slips of the pen, which are made in any line; those made when limits are put in; and those of integration by parts.
ALGEBRA = ("term-sign", "coefficient", "term-dropped", "number-slip")
#: Slips that are told of a whole answer, or of a substitution, and so of no part of a line.
WHOLE = ("overall-sign", "constant-lost", "one-place", *ALGEBRA)
AT_LIMITS = ("limits-added", "limits-swapped", "lower-limit-ignored")
BY_PARTS = ("parts-sign", "parts-remainder-lost")
#: Slips that are told of forms such as 0/0 and of nothing else.
INDETERMINATE = ("indeterminate-read-as-one", "indeterminate-read-as-zero", "power-of-one")


@dataclass(frozen=True, slots=True)
class BadLine:
    """A line as a slip makes it, and the part of it that is at fault."""

    slip: Slip
    shown: Node
    fault: Node


def bad_lines(question: Question, before: Node, after: Node, meanings: Mapping[str, Node]) -> Iterator[BadLine]:
    """The wrong versions of the line that follows `before`, for every slip that can be made there; they only guess.

    `meanings` are the letters of substitutions that are in use.
    """
    constants = [part for part in walk(after) if isinstance(part, ArbitraryConstant)]
    part, result, rebuilt = changed(before, without_constant(after))
    seen = {after}
    for slip, wrong, fault in _guesses(question, part, result, meanings):
        with suppress(ZeroDivisionError):
            shown = add(_set(rebuilt(wrong)), *constants)
            if shown not in seen and _by_hand(shown, after):
                seen.add(shown)
                yield BadLine(slip, shown, fault)


def _set(node: Node) -> Node:
    """A line set neatly where something is left to do on it, or where it would read like 2 · 1/x."""
    clumsy = any(isinstance(part, Product) and any(isinstance(f, Quotient) and f.top == ONE for f in part.factors) for part in walk(node))
    return tidy(node) if clumsy or contains(node, (Derivative, Integral)) else node


Guess = tuple[Slip, Node, Node]


def _guesses(question: Question, part: Node, result: Node, meanings: Mapping[str, Node]) -> Iterator[Guess]:
    """Slips of the rule that is used here, then those of the pen."""
    if contains(part, Derivative):
        yield from _of_derivatives(question, part, result)
    elif contains(part, Limit):
        yield from _of_limits(question, part, result)
    elif contains(part, Evaluation) and not contains(result, Evaluation):
        yield from _at_limits(question, part, result)
    elif contains(part, Integral):
        yield from _of_integrals(question, part, result, meanings)
    asked = Question(Integral(part, _variable(question, result, meanings)), question.given)
    for slip in _named(ALGEBRA):
        for wrong in slip.leads_to(asked, result):
            if wrong != ZERO:
                yield slip, wrong, _differing(wrong, result)


def _differing(wrong: Node, right: Node) -> Node:
    """The smallest part of a wrong line that the right one has otherwise; of a sum its term."""
    ours, theirs = children(wrong), children(right)
    if type(wrong) is not type(right) or len(ours) != len(theirs):
        return wrong
    different = [(a, b) for a, b in zip(ours, theirs, strict=True) if a != b]
    if len(different) != 1 or not (isinstance(wrong, Sum) or children(different[0][0])):
        return wrong
    return _differing(*different[0])


def _named(wanted: tuple[str, ...]) -> tuple[Slip, ...]:
    return tuple(slip for slip in all_slips() if slip.id in wanted)


def _variable(question: Question, node: Node, meanings: Mapping[str, Node]) -> str:
    """The letter that a line is written in."""
    return next((name for name in reversed(tuple(meanings)) if name in names(node)), question.variable)


def _by_hand(wrong: Node, right: Node) -> bool:
    """Whether a line looks as a hand would write it: no fraction in a fraction that the right line does not have."""
    return _stacked(wrong) <= _stacked(right)


def _stacked(node: Node) -> int:
    fractions = (part for part in walk(node) if isinstance(part, Quotient))
    return sum(isinstance(inside, Quotient) for part in fractions for inside in (*walk(part.top), *walk(part.bottom)))


# -- integrals ------------------------------------------------------------------------------------------------------


def _of_integrals(question: Question, part: Node, result: Node, meanings: Mapping[str, Node]) -> Iterator[Guess]:
    if isinstance(part, Integral) and part.lower is not None:
        yield from _between(question, part, result, meanings)
        return
    asked = _asked(question, part)
    if asked is None:
        return
    if not contains(result, Integral):
        ways = [(slip, wrong) for slip, wrong in wrong_answers(asked, result) if slip.id not in WHOLE]
    else:
        ways = [(slip, wrong) for slip in _named(BY_PARTS) for wrong in slip.leads_to(asked, result)]
        ways += _constant_lost(result, meanings)
    yield from ((slip, wrong, fault_of(asked, wrong, result)) for slip, wrong in ways)


def _constant_lost(result: Node, meanings: Mapping[str, Node]) -> Iterator[tuple[Slip, Node]]:
    """An integral in a new letter with dx replaced by du, the number of du = k dx forgotten."""
    whole = next((inner for inner in walk(result) if isinstance(inner, Integral) and inner.variable in meanings), None)
    if whole is None:
        return
    inside = meanings[whole.variable]
    x = next(iter(sorted(names(inside))), "")
    with suppress(NotSupported):
        lost = coefficient(derivative(inside, x), x)[0]
        if abs(lost) not in (0, 1) or (lost == -1 and result != whole):
            wrong = tidy(multiply(number(abs(lost)), whole))
            yield from ((slip, tidy(put(result, whole, wrong))) for slip in _named(("constant-lost",)))


def _asked(question: Question, part: Node) -> Question | None:
    """The integral that a part of a line is the answer to, a factor in front of it taken inside; None where it is not the only term."""
    factors: list[Node] = []
    node = part
    while isinstance(node, Negative | Product):
        if isinstance(node, Negative):
            factors, node = [*factors, node], node.argument
            continue
        whole = [factor for factor in node.factors if isinstance(factor, Integral)]
        if len(whole) != 1:
            return None
        factors, node = [*factors, *(factor for factor in node.factors if factor is not whole[0])], whole[0]
    if isinstance(node, Integral):
        inside = node.integrand
        for factor in reversed(factors):
            inside = Negative(inside) if isinstance(factor, Negative) else multiply(factor, inside)
        return Question(Integral(inside, node.variable), question.given, question.domain if node.variable == question.variable else None)
    return None


def _between(question: Question, part: Integral, result: Node, meanings: Mapping[str, Node]) -> Iterator[Guess]:
    """An integral between limits: a slip in its antiderivative, or the old limits for a new letter."""
    inside = next((inner for inner in walk(result) if isinstance(inner, Evaluation | Integral)), None)
    if isinstance(inside, Integral) and inside.variable != part.variable and inside.upper is not None:
        old = replace(inside, lower=part.lower, upper=part.upper)
        yield from ((slip, put(result, inside, old), old) for slip in _named(("limits-not-changed",)))
        yield from ((slip, wrong, wrong) for slip, wrong in _constant_lost(result, meanings))
    if isinstance(inside, Evaluation) and result in (inside, Limit(inside, *_end(result))):
        asked = Question(Integral(part.integrand, part.variable), question.given)
        for slip, wrong in wrong_answers(asked, inside.body):
            if slip.id not in WHOLE:
                yield slip, put(result, inside, replace(inside, body=wrong)), fault_of(asked, wrong, inside.body)


def _end(node: Node) -> tuple[str, Node, str]:
    return (node.variable, node.point, node.side) if isinstance(node, Limit) else ("", ZERO, "")


def _at_limits(question: Question, part: Node, result: Node) -> Iterator[Guess]:
    """A bracket that is opened the wrong way."""
    if not isinstance(part, Evaluation):
        return
    asked = Question(Integral(derivative(part.body, part.variable), part.variable, part.lower, part.upper), question.given)
    for slip, wrong in wrong_answers(asked, result, antiderivative=part.body):
        if slip.id in AT_LIMITS and not contains(wrong, Evaluation):
            yield slip, wrong, wrong


# -- derivatives and limits -----------------------------------------------------------------------------------------


def _of_derivatives(question: Question, part: Node, result: Node) -> Iterator[Guess]:
    """One derivative taken wrongly, those that are taken with it rightly."""
    taken = [inner for inner in walk(part) if isinstance(inner, Derivative) and inner not in walk(result)]
    step_by_step = contains(result, Derivative) and any(inner not in walk(part) for inner in walk(result) if isinstance(inner, Derivative))
    for node in taken:
        if node.order != 1 or contains(node.body, Derivative):
            continue
        with suppress(NotSupported, KeyError):
            others = {other: derivative(other.body, other.variable) for other in taken if other != node and not step_by_step}
            for slip, wrong in _derived(Question(node, question.given), step_by_step):
                whole = put(part, node, wrong)
                for other, right in others.items():
                    whole = put(whole, other, right)
                yield slip, whole, wrong


def _derived(asked: Question, step_by_step: bool) -> Iterator[tuple[Slip, Node]]:
    """The derivative as the slips have it: all of it, or one rule's step."""
    if not step_by_step:
        right = tidy(derivative(asked.body, asked.variable))
        yield from ((slip, wrong) for slip, wrong in wrong_answers(asked, right) if slip.id not in WHOLE)
        return
    for slip in all_slips():
        for rules in slip.rules:
            yield slip, one_step(asked.body, asked.variable, rules)


def _of_limits(question: Question, part: Node, result: Node) -> Iterator[Guess]:
    """A limit got wrong: its value, or a derivative in l'Hôpital's rule."""
    if not isinstance(part, Limit):
        return
    asked = Question(part, question.given)
    if isinstance(result, Limit):
        yield from _of_hospital(part, result, question)
    elif not contains(result, Limit):
        open_form = _is_indeterminate(part)
        for slip, wrong in wrong_answers(asked, result):
            if slip.id not in ALGEBRA and (open_form or slip.id not in INDETERMINATE):
                yield slip, wrong, wrong


def _is_indeterminate(limit: Limit) -> bool:
    """Whether top and bottom both tend to nothing, or both grow without bound."""
    if not isinstance(limit.body, Quotient):
        return False
    side = -1 if limit.side == "-" else 1
    ends = [tends(node, limit.variable, limit.point, side) for node in (limit.body.top, limit.body.bottom)]
    return ends == [ZERO, ZERO] or all(end is not None and infinite(end) for end in ends)


def _of_hospital(part: Limit, result: Limit, question: Question) -> Iterator[Guess]:
    """Top and bottom differentiated, one of them wrongly."""
    if not isinstance(part.body, Quotient):
        return
    x, sides = part.variable, (part.body.top, part.body.bottom)
    with suppress(NotSupported, KeyError, ZeroDivisionError):
        right = tuple(tidy(derivative(side, x)) for side in sides)
        if tidy(subtract(divide(*right), result.body)) != ZERO:
            return
        for place, side in enumerate(sides):
            for slip, wrong in _derived(Question(Derivative(side, x), question.given), step_by_step=False):
                pair = (wrong, right[1]) if place == 0 else (right[0], wrong)
                yield slip, replace(result, body=tidy(divide(*pair))), wrong
