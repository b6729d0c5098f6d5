"""Contrasts: what two questions share, where their solutions part, and why the method of the one does not do for the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from ..algebra.poly import coefficients
from ..derive import Attempt, Budget, Line, Route, derive
from ..derive.attempts import attempt, attempts
from ..derive.reconcile import reconcile, same_answer
from ..derive.refusing import meant
from ..diagnostics import Diagnostic, diagnose
from ..diagnostics.kind import Fact
from ..diagnostics.kinds.contrast_method_fails import MethodFails
from ..diagnostics.kinds.contrast_same_method import SameMethod
from ..diagnostics.kinds.contrast_works_too import WorksToo
from ..kernel import Checked, Equal, Setting, check
from ..notation.build import names
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Derivative, Integral, Power, Quotient, Sum
from ..source.contrasts import TWO_METHODS, Contrast
from ..source.span import Text
from ..techniques import catalogue
from .data import Examined, Failure, MadeContrast, Side
from .surface import alike, apart, moving, shared_parts

#: Methods that are one to a student: a contrast must not rest on the difference.
_FAMILIES = ({"linear-inside", "linear-substitution"}, {"parts", "cyclic-parts"}, {"expansion", "splitting", "simplify"}, {"sum", "power"})
_SUBSTITUTIONS = frozenset({"substitution", "linear-substitution", "linear-inside", "rationalising"})
_SECONDS = 5.0


@dataclass(frozen=True, slots=True)
class ContrastJob:
    """One contrast with its problems, as they were examined, in the order of the file."""

    contrast: Contrast
    examined: tuple[Examined, ...]


@dataclass(frozen=True, slots=True)
class Compared:
    """A contrast, or what is wrong with it (`made` is None where nothing can be shown)."""

    made: MadeContrast | None
    diagnostics: tuple[Diagnostic, ...] = ()


def compare(job: ContrastJob) -> Compared:
    """Everything that a contrast's page shows. Every line of it is checked, and its claim holds: else there is a diagnostic."""
    contrast = job.contrast
    if any(not e.sound or e.question is None for e in job.examined):
        return Compared(None)  # the faults of the problem itself are reported
    sides, facts = _two_methods(contrast, job.examined[0]) if contrast.kind == TWO_METHODS else _sides(contrast, job.examined)
    facts += _repeated(contrast, sides) if not facts else []
    failures: tuple[Failure, ...] = ()
    if not facts and contrast.kind != TWO_METHODS:
        failures, facts = _failures(contrast, sides)
    if facts:
        return Compared(None, tuple(diagnose(fact) for fact in facts))
    questions = [side.question for side in sides]
    rows = aligned([side.route.lines for side in sides])
    parting = next((n for n, row in enumerate(rows) if not _same_move(row)), len(rows))
    first = sides[0]
    pairs = (reconcile(first.question, side.route.answer, first.route.answer) for side in sides[1:]) if contrast.kind == TWO_METHODS else ()
    between = tuple(pair for pair in pairs if pair is not None)
    same = contrast.kind == TWO_METHODS and all(same_answer(side.route.answer, first.route.answer) for side in sides)
    shared = alike(questions) if contrast.kind != TWO_METHODS else ()
    differs = apart(questions) if contrast.kind != TWO_METHODS else None
    return Compared(MadeContrast(contrast, sides, shared, differs, rows, parting, failures, between, same))


def same_method(first: str, second: str) -> bool:
    """Whether two technique ids are one method to a student."""
    return first == second or any(first in family and second in family for family in _FAMILIES)


def _two_methods(contrast: Contrast, examined: Examined) -> tuple[tuple[Side, ...], list[Fact]]:
    """The one problem by each of its methods; without any named, by the first two of its solutions."""
    named, problem = contrast.methods, contrast.problems[0]
    if named:
        found = [(text, _route(examined, text.value)) for text in named]
        facts: list[Fact] = [MethodFails(text.span, problem.value, _title(text.value)) for text, route in found if route is None]
        return tuple(_side(examined, route) for _, route in found if route is not None), facts
    routes = examined.derivation.routes if examined.derivation else ()
    if not routes:
        return (), [MethodFails(problem.span, problem.value)]
    other = next((route for route in routes[1:] if not same_method(route.method, routes[0].method)), None)
    if other is None:
        return (), [SameMethod(problem.span, problem.value, _title(routes[0].method))]
    return (_side(examined, routes[0]), _side(examined, other)), []


def _sides(contrast: Contrast, examined: Sequence[Examined]) -> tuple[tuple[Side, ...], list[Fact]]:
    """Each problem by the method that is named for it, or by its own first solution."""
    found: list[Side] = []
    facts: list[Fact] = []
    for number, each in enumerate(examined):
        named = contrast.methods[number] if contrast.methods else None
        routes = each.derivation.routes if each.derivation else ()
        route = _route(each, named.value) if named else (routes[0] if routes else None)
        if route is None:
            at: Text = named or contrast.problems[number]
            facts.append(MethodFails(at.span, contrast.problems[number].value, _title(named.value) if named else ""))
        else:
            found.append(_side(each, route))
    return tuple(found), facts


def _side(examined: Examined, route: Route) -> Side:
    assert examined.question is not None
    return Side(examined.problem.path, examined.question, route)


def _route(examined: Examined, method: str) -> Route | None:
    """A worked solution by a method: one of the problem's own, or one that is found now."""
    question, derivation = examined.question, examined.derivation
    assert question is not None
    wanted = meant(method)
    own = next((route for route in (derivation.routes if derivation else ()) if route.method in wanted), None)
    if own is not None:
        return own
    found = derive(question, methods=(method,), budget=Budget(seconds=_SECONDS), most=1)
    return found.routes[0] if found.routes else None


def _repeated(contrast: Contrast, sides: Sequence[Side]) -> list[Fact]:
    """A side that is worked like one before it."""
    for number, side in enumerate(sides):
        if any(same_method(side.route.method, other.route.method) for other in sides[:number]):
            texts = contrast.methods or contrast.problems
            at = texts[min(number, len(texts) - 1)]
            name = contrast.problems[min(number, len(contrast.problems) - 1)].value
            return [SameMethod(at.span, name, _title(side.route.method))]
    return []


def _failures(contrast: Contrast, sides: Sequence[Side]) -> tuple[tuple[Failure, ...], list[Fact]]:
    """The first method fails on every other problem, which is the contrast's claim; the others' may fail on the first."""
    found: list[Failure] = []
    facts: list[Fact] = []
    tempting = sides[0]
    for text, side in zip(contrast.problems[1:], sides[1:], strict=True):
        if begins(side.question, tempting.route.method):
            facts.append(WorksToo(text.span, text.value, _title(tempting.route.method)))
        else:
            found.append(why_not(tempting, side) or _not_found(tempting, side))
    back = (why_not(side, tempting) for side in sides[1:] if not begins(tempting.question, side.route.method))
    return (*found, *(failure for failure in back if failure is not None)), facts


def _not_found(side: Side, other: Side) -> Failure:
    reason = say("No solution of {question} that begins in this way was found.", question=other.question.node)
    return Failure(side.route.method, other.path, reason)


def begins(question: Question, method: str) -> bool:
    """Whether some worked solution of the question is by this method, that is, begins with it."""
    found = derive(question, budget=Budget(seconds=_SECONDS), most=8)
    return any(same_method(route.method, method) for route in found.routes)


def why_not(side: Side, other: Side) -> Failure | None:
    """What becomes of one side's method on the question of another: a substitution with what is left over, a form that is not there.

    None where nothing can be said but that no solution was found.
    """
    method = side.route.method
    if method in _SUBSTITUTIONS:
        tried = _tried(side, other.question)
        if tried is not None:
            return Failure(method, other.path, tried.reason, tried)
    said = wrong_form(method, other.question)
    return None if said is None else Failure(method, other.path, said)


def _tried(side: Side, question: Question) -> Attempt | None:
    """The substitution that one would try after the first question: its own inside, else a part that both have, else the likeliest."""
    bare = replace(question, node=Integral(question.body, question.variable))
    own = [line.shown for line in side.route.lines if line.kind == "let"]
    there = set(moving(bare.body, bare.variable))
    named = [part for part in (*own, *shared_parts((side.question, question))) if part in there]
    found = [made for part in named if (made := attempt(bare, part)) is not None] + list(attempts(bare, frozenset()))
    return next((made for made in found if not made.works and made.left_over is not None and _right(made, bare)), None)


def _right(made: Attempt, question: Question) -> bool:
    """The derivative that an attempt speaks of is checked like every line."""
    setting = Setting(question.variable, question.domain, question.given)
    return isinstance(check(Equal(Derivative(made.tried, question.variable), made.derivative, setting)), Checked)


def wrong_form(method: str, question: Question) -> Message | None:
    """What a method's form asks for and an integrand does not have, where that can be seen for certain; else None."""
    body, x = question.body, question.variable
    if method not in ("arctangent-form", "arcsine-form", "partial-fractions", "division", "splitting"):
        return None
    if not isinstance(body, Quotient) or x not in names(body.bottom):
        return say("{method} needs a fraction, and this integrand is none.", method=Message(_title(method)))
    if method in ("arctangent-form", "arcsine-form") and x in names(body.top):
        return say("This form has a number above the line; here {top} stands there.", top=body.top)
    top, bottom = coefficients(body.top, x), coefficients(body.bottom, x)
    if method == "division" and top is not None and bottom is not None and len(top) < len(bottom):
        return say("There is nothing to divide: the numerator {top} is of lower degree than the denominator.", top=body.top)
    if method == "splitting" and isinstance(body.bottom, Sum | Power):
        return say("Below the line stands {bottom}, a sum: a fraction can be split above the line only.", bottom=body.bottom)
    if bottom is None or len(bottom) != 3:
        return None
    c, b, a = bottom
    if method == "partial-fractions" and b * b < 4 * a * c:
        return say("The denominator {bottom} is never zero, so it has no factors to split it by.", bottom=body.bottom)
    if method == "arctangent-form" and b * b >= 4 * a * c:
        return say("The denominator {bottom} has zeros, so it is no square plus a positive number.", bottom=body.bottom)
    return None


def _title(technique: str) -> str:
    known = catalogue().get(technique)
    return known.title if known else technique


def aligned(columns: Sequence[Sequence[Line]]) -> tuple[tuple[Line | None, ...], ...]:
    """Solutions side by side: lines that make the same move stand in one row, what is between them is filled up from above."""
    rows: list[list[Line | None]] = [[line] for line in columns[0]]
    for column in columns[1:]:
        rows = _beside(rows, column)
    return tuple(map(tuple, rows))


def _beside(rows: list[list[Line | None]], column: Sequence[Line]) -> list[list[Line | None]]:
    width = len(rows[0]) if rows else 1
    left = [_move(next(line for line in row if line is not None)) for row in rows]
    right = [_move(line) for line in column]
    made: list[list[Line | None]] = []
    for _, a, b, c, d in SequenceMatcher(None, left, right, autojunk=False).get_opcodes():
        for offset in range(max(b - a, d - c)):
            kept = rows[a + offset] if a + offset < b else [None] * width
            made.append([*kept, column[c + offset] if c + offset < d else None])
    return made


def _move(line: Line) -> tuple[str, bool, str]:
    """What a line does, whatever it does it to: its kind and the sentence of its reason."""
    return line.kind, line.left is None, line.reason.text


def _same_move(row: Sequence[Line | None]) -> bool:
    moves = {None if line is None else _move(line) for line in row}
    return len(moves) == 1
