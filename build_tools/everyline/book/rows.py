"""One claim or question as a row of JSON: what `everyline prove` and `everyline solve` answer, a row for a row.

Importing this module must not import SymPy: a claim is checked without it.
"""

from __future__ import annotations

import json
import time
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from ..notation import Context, NotationError, parse, parse_domain, parse_given, parse_question, plain
from ..notation.build import without_constant
from ..notation.message import Message, Translate, either, fill, say, together
from ..notation.question import Given, Question
from ..notation.tree import Derivative, Integral, Limit, Node
from .keys import judge, key_context
from .words import outcome_said, sides, verdict

if TYPE_CHECKING:
    from ..derive.route import Derivation, Line, Route

_NO_ROW = "this line is not a JSON object"
_KINDS = ("indefinite", "derivative", "definite", "improper", "limit")
Row = dict[str, Any]


class Unreadable(ValueError):
    """A row that does not say what it must; `why` is for the person who wrote it."""

    def __init__(self, why: Message) -> None:
        super().__init__(fill(why, plain))
        self.why = why


def _text(row: Mapping[str, Any], field: str, default: str | None = None) -> str:
    value = row.get(field, default)
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise Unreadable(say("the field “{field}” is missing" if value is None else "the field “{field}” must be text", field=field))
    return str(value)


def _read(what: str, text: str, context: Context) -> Node:
    try:
        return parse(text, context)
    except NotationError as error:
        raise Unreadable(say("{what}: {why}", what=what, why=explained(error))) from error


def explained(error: NotationError) -> Message:
    """A reading error in one line, for a row that has no place to show a caret."""
    place = say("At character {number}: {message}", message=error.message, number=error.start + 1)
    ways = [reading.write for reading in error.readings]
    help = say("Write {ways}.", ways=either(ways)) if ways else error.help
    return together((place, help)) if help else place


def claimed_question(row: Mapping[str, Any], log: str) -> Question:
    """The question that a `prove` row is about: its `question` in the notation, or its `kind`, `integrand` and the rest.

    Raises:
        Unreadable: a field is missing or cannot be read.
    """
    try:
        question = posed(row, log) if "question" in row else _described(row, log)
        if row.get("domain"):
            context = Context(names=question.given.names | {question.variable}, log=log)
            return replace(question, domain=parse_domain(_text(row, "domain"), question.variable, context))
        return question
    except NotationError as error:
        raise Unreadable(explained(error)) from error


def posed(row: Mapping[str, Any], log: str) -> Question:
    """The `question` of a row, read with the parameters that are `given`.

    Raises:
        NotationError: it cannot be read.
        Unreadable: it is missing.
    """
    given = _given(row, log)
    return parse_question(_text(row, "question"), given, Context(names=given.names, log=log))


def _given(row: Mapping[str, Any], log: str) -> Given:
    return parse_given(_text(row, "given"), Context(log=log)) if row.get("given") else Given()


def _described(row: Mapping[str, Any], log: str) -> Question:
    kind = _text(row, "kind", "indefinite")
    if kind not in _KINDS:
        raise Unreadable(say("“{kind}” is not a kind of claim; known are {kinds}", kind=kind, kinds=", ".join(_KINDS)))
    variable = _text(row, "variable", "x")
    given = _given(row, log)
    body = _read("integrand", _text(row, "integrand"), Context(names=given.names | {variable}, log=log))
    outside = Context(names=given.names, log=log)
    match kind:
        case "indefinite":
            return Question(Integral(body, variable), given)
        case "derivative":
            return Question(Derivative(body, variable, _order(row)), given)
        case "limit":
            side = _text(row, "side", "") if row.get("side") else ""
            if side not in ("", "+", "-"):
                raise Unreadable(say("the field “side” is + or - or left out"))
            return Question(Limit(body, variable, _read("lower", _text(row, "lower"), outside), side), given)
    lower, upper = (_read(end, _text(row, end), outside) for end in ("lower", "upper"))
    return Question(Integral(body, variable, lower, upper), given)


def _order(row: Mapping[str, Any]) -> int:
    order = row.get("order", 1)
    if isinstance(order, bool) or not isinstance(order, int) or not 1 <= order <= 20:
        raise Unreadable(say("the field “order” is a whole number from 1 to 20"))
    return order


def prove(row: Mapping[str, Any], *, log: str = "ask", seconds: float = 10.0, tell: Translate = str) -> Row:
    """The verdict on one claim, with the reason in words: `{"id", "verdict", "why", "ms"}`. Never raises for a bad row."""
    start = time.perf_counter()
    try:
        question = claimed_question(row, log)
        judged = judge(question, _text(row, "answer"), key_context(question, log, "point"), seconds=seconds)
        found, why = verdict(judged.outcome), outcome_said(judged.outcome, sides(question.kind))
        if judged.read_as:
            why = say("{what}; read as {formula}", what=why, formula=judged.tree)
    except Unreadable as error:
        found, why = "unreadable", error.why
    except NotationError as error:
        found, why = "unreadable", say("answer: {why}", why=explained(error))
    return {"id": row.get("id"), "verdict": found, "why": fill(why, plain, tell), "ms": _since(start)}


def solve(row: Mapping[str, Any], *, log: str = "ask", seconds: float = 10.0) -> Row:
    """The worked solutions of one question: `{"id", "routes", "ms"}`, with `why` when there is none. Never raises for a bad row.

    `answer` leaves out the constant of integration, so that another program can evaluate it.
    """
    start = time.perf_counter()
    answer: Row = {"id": row.get("id"), "routes": []}
    try:
        found = derived(row, log, seconds)
        answer["routes"] = [_route(route) for route in found.routes]
        if found.refused:
            answer["why"] = " ".join(f"{asked}: {fill(reason, plain)}" for asked, reason in found.refused)
        elif found.missing:
            answer["why"] = fill(found.missing, plain)
    except Unreadable as error:
        answer["why"] = str(error)
    except NotationError as error:
        answer["why"] = f"question: {fill(explained(error), plain)}"
    return answer | {"ms": _since(start)}


def derived(row: Mapping[str, Any], log: str, seconds: float) -> Derivation:
    """All worked solutions of the `question` of a row, or those by its `methods` (a list, or names with commas) and with its `u`.

    The deriver is imported only here: it takes long to load.

    Raises:
        NotationError: the question cannot be read.
        Unreadable: something else cannot.
    """
    from ..derive import Budget, derive

    question = posed(row, log)
    context = Context(names=question.given.names | {question.variable}, log=log)
    u = _read("u", _text(row, "u"), context) if row.get("u") else None
    return derive(question, methods=wanted_methods(row), u=u, budget=Budget(seconds=seconds))


def wanted_methods(row: Mapping[str, Any]) -> tuple[str, ...]:
    """The ids of the techniques that a row wants.

    Raises:
        Unreadable: one that does not exist.
    """
    from ..source.fields import nearest
    from ..techniques import catalogue

    said = row.get("methods") or ()
    names = said.split(",") if isinstance(said, str) else said
    if not isinstance(names, list | tuple) or not all(isinstance(name, str) for name in names):
        raise Unreadable(say("the field “methods” is a list of names"))
    methods = tuple(name.strip() for name in names if name.strip())
    for name in methods:
        if name not in catalogue():
            meant = nearest(name, catalogue())
            unknown = say("There is no method `{name}`.", name=name)
            raise Unreadable(together((unknown, say("Did you mean `{name}`?", name=meant))) if meant else unknown)
    return methods


def _route(route: Route) -> Row:
    lines = [
        {"text": _line(line), "reason": fill(line.reason, plain), "verdict": line.checked.grade if line.checked else ""}
        for line in route.lines
    ]
    return {"method": route.method, "answer": plain(without_constant(route.answer), every_operator=True), "lines": lines}


def _line(line: Line) -> str:
    return plain(line.shown) if line.left is None else f"{plain(line.left)} = {plain(line.shown)}"


def _since(start: float) -> float:
    return round((time.perf_counter() - start) * 1000, 3)


def prove_line(line: str, *, log: str = "ask", seconds: float = 10.0) -> Row:
    """`prove` for one line of JSON text."""
    row = _row(line)
    return prove(row, log=log, seconds=seconds) if row is not None else {"id": None, "verdict": "unreadable", "why": _NO_ROW, "ms": 0.0}


def solve_line(line: str, *, log: str = "ask", seconds: float = 10.0) -> Row:
    """`solve` for one line of JSON text."""
    row = _row(line)
    return solve(row, log=log, seconds=seconds) if row is not None else {"id": None, "routes": [], "why": _NO_ROW, "ms": 0.0}


def _row(line: str) -> Row | None:
    try:
        row = json.loads(line)
    except (ValueError, RecursionError):
        return None
    return row if isinstance(row, dict) else None
