"""What comes after a wrong line: what came after the right one, done to what stands there; each line proved from the one before."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace

from ..algebra import tidy
from ..algebra.clock import Stopped
from ..derive import Budget, derive
from ..derive.putting import put
from ..derive.route import Line
from ..derive.search import open_parts
from ..kernel import Checked, Equal, IntegralValue, SameDerivative, Setting, check
from ..notation.build import add, contains, multiply, names, number, substitute, subtract, walk, without_constant
from ..notation.build import replace as put_in
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import ArbitraryConstant, Call, Derivative, DoesNotExist, Evaluation, Integral, Limit, Name, Node, Sum
from ..slips.answers import coefficient
from ..techniques.brackets import less
from ..techniques.limiting import settled

#: How long each check may take, and how far an integral is searched for; counted in questions, so that every run finds the same.
SECONDS, _BUDGET = 0.5, Budget(nodes=25)
_OPEN = (Integral, Derivative, Limit, Evaluation)


class Unlike(Exception):
    """Nothing follows from a wrong line that a hand would write."""


@dataclass(frozen=True, slots=True)
class After:
    """A wrong line in its solution: the right one in its place, the lines behind it, and where it is claimed.

    `primitive` says whether lines are equal up to a constant; `constant` is that of the solution.
    """

    question: Question
    right: Node
    wrong: Node
    rest: tuple[Line, ...]
    setting: Setting
    primitive: bool
    constant: tuple[Node, ...]


def carried(after: After) -> tuple[Line, ...] | None:
    """The lines that follow from the wrong one; None where there are none to be had."""
    for way in (_alike, _anew):
        with suppress(Unlike, ZeroDivisionError, Stopped):
            return tuple(way(after))
    return None


def between(line: Line) -> bool:
    """Whether a line begins again with the integral between limits, after its antiderivative was found without them."""
    return isinstance(line.left, Integral) and line.left.lower is not None and isinstance(line.shown, Evaluation)


# -- the old lines, with what is wrong carried along -------------------------------------------------------------------


def _alike(after: After) -> Iterator[Line]:
    """A factor that is wrong stays in front of what follows, a term that is wrong stays beside it."""
    factor = _ratio(after)
    beside = None if factor is not None else tidy(subtract(without_constant(after.wrong), without_constant(after.right)))
    if beside is not None and contains(beside, _OPEN):
        raise Unlike
    now = after.wrong
    for line in after.rest:
        if line.kind != "equal" or (line.left is not None and not between(line)):
            yield line
        elif between(line):
            made = _bracketed(after, line, now)
            after, now = replace(after, primitive=False), made.shown
            yield made
        else:
            constants = [part for part in walk(line.shown) if isinstance(part, ArbitraryConstant)]
            shown = add(_with(after, without_constant(line.shown), factor, beside), *constants)
            if _terms(shown) > max(_terms(line.shown), _terms(after.wrong)):
                raise Unlike  # what is wrong would stand there apart, as no hand writes it
            if shown != now:
                yield replace(line, shown=shown, checked=_follows(after, now, shown), detail=())
            now = shown


def _terms(node: Node) -> int:
    return len(node.terms) if isinstance(node, Sum) else 1


def _bracketed(after: After, line: Line, now: Node) -> Line:
    assert isinstance(line.shown, Evaluation)
    shown = replace(line.shown, body=without_constant(now))
    return replace(line, shown=shown, checked=_proved(SameDerivative(now, without_constant(now), after.setting)), detail=())


def _with(after: After, right: Node, factor: Node | None, beside: Node | None) -> Node:
    """A right line with the factor or the term that is wrong."""
    if factor is not None:
        return tidy(multiply(factor, right))
    assert beside is not None
    for name, inside in reversed(after.setting.bindings):
        if name in names(beside) and name not in names(right):
            beside = substitute(beside, {name: inside})
    return tidy(add(right, beside))


def _ratio(after: After) -> Node | None:
    """The number by which the wrong line is the right one multiplied, if there is one."""
    inside = next((part for part in walk(after.right) if isinstance(part, Integral | Evaluation)), None)
    letters = [name for name, _ in reversed(after.setting.bindings) if name in names(after.right)]
    x = inside.variable if inside is not None else next(iter(letters), after.question.variable)
    (ours, c, core), (theirs, d, other) = (coefficient(without_constant(line), x) for line in (after.wrong, after.right))
    return number(ours / theirs) if (core, c) == (other, d) and theirs and ours else None


# -- new lines ---------------------------------------------------------------------------------------------------------


def _anew(after: After) -> list[Line]:
    """What a wrong line leaves open is worked out as any question is; then limits are put in, and letters back."""
    lines: list[Line] = []
    now = after.wrong
    while (part := next(open_parts(now), None)) is not None and not (isinstance(part, Limit) and contains(part.body, Evaluation)):
        made = list(_worked(after, part, now))
        lines += made
        now = made[-1].shown
    for line in after.rest:
        if between(line):
            lines.append(_bracketed(after, line, now))
            after, now = replace(after, primitive=False), lines[-1].shown
    for shown, reason in _closing(after, now):
        if shown != now:
            lines.append(Line("equal", shown, reason, _follows(after, now, shown)))
            now = shown
    if after.primitive and not contains(now, ArbitraryConstant):
        if not lines:
            raise Unlike
        return list(_with_constant(after, lines))
    return lines


def _with_constant(after: After, lines: list[Line]) -> Iterator[Line]:
    """The lines with the constant on each in which no integral is left, as a right solution has it."""
    before = after.wrong
    for line in lines:
        if line.kind != "equal" or line.left is not None or contains(line.shown, Integral):
            yield line
        else:
            whole = add(line.shown, *after.constant)
            yield replace(line, shown=whole, checked=_follows(after, before, whole))
        before = line.shown if line.kind == "equal" and line.left is None else before


def _worked(after: After, part: Integral | Derivative | Limit, now: Node) -> Iterator[Line]:
    """The lines that answer one open part, each in the expression in which it stands."""
    found = derive(Question(part, after.question.given), budget=_BUDGET, most=1)
    if not found.routes:
        raise Unlike
    used, whole = names(now) | {after.question.variable}, now
    for line in found.routes[0].lines:
        if line.kind == "equal" and line.left is None:
            shown = put(whole, part, without_constant(line.shown))
            yield Line("equal", shown, line.reason, _follows(after, now, shown))
            now = shown
            continue
        if not isinstance(line.left, Name) or line.left.name in used or line.kind == "form":
            raise Unlike
        if line.kind == "let":
            others = tuple(each for each in after.setting.bindings if each[0] != line.left.name)
            after = replace(after, setting=replace(after.setting, bindings=(*others, (line.left.name, line.shown))))
        yield replace(line, detail=())


def _closing(after: After, now: Node) -> Iterator[tuple[Node, Message]]:
    """Brackets opened, values worked out, letters put back."""
    brackets = [part for part in walk(now) if isinstance(part, Evaluation)]
    for each in brackets:
        ends = (substitute(each.body, {each.variable: end}) for end in (each.upper, each.lower))
        now = put_in(now, each, less(*ends))
    if brackets:
        yield now, say("Put in the limits.")
    if contains(now, Limit):
        value = settled(now)
        if value is None or isinstance(value, DoesNotExist):
            raise Unlike
        now = value
        yield now, say("Work out the values.")
    for name, inside in reversed(after.setting.bindings):
        if name in names(now) and name != after.question.variable:
            if any(isinstance(part, Call) and part.function.startswith("ar") for part in walk(inside)):
                raise Unlike  # a triangle would have to be drawn for it
            now = tidy(substitute(now, {name: inside}))
            yield now, say("Put {name} = {inside} back.", name=Name(name), inside=inside)
    now = add(tidy(without_constant(now)), *(part for part in walk(now) if isinstance(part, ArbitraryConstant)))
    yield now, say("Tidy up.") if after.question.kind in ("indefinite", "derivative") else say("Work out the values.")


# -- the kernel's word -------------------------------------------------------------------------------------------------


def _follows(after: After, before: Node, shown: Node) -> Checked:
    """That a line follows from the one before."""
    if after.primitive:
        return _proved(SameDerivative(before, shown, after.setting))
    if isinstance(before, Limit) and not contains(before, Evaluation):
        value = settled(shown)
        if value is None:
            raise Unlike
        return _proved(Equal(before, value, replace(after.setting, variable=before.variable)))
    if isinstance(before, Integral) and before.lower is not None and before.upper is not None and not contains(shown, Integral):
        bracket = next((part.body for part in walk(shown) if isinstance(part, Evaluation)), None)
        setting = replace(after.setting, variable=before.variable)
        return _proved(IntegralValue(before.integrand, before.lower, before.upper, shown, setting, bracket))
    return _proved(Equal(before, shown, after.setting))


def _proved(claim: Equal | SameDerivative | IntegralValue) -> Checked:
    verdict = check(claim, seconds=SECONDS)
    if not isinstance(verdict, Checked):
        raise Unlike
    return verdict
