"""Worked solutions for a terminal, set in two dimensions as they are written on a board."""

from __future__ import annotations

import re
import textwrap

from ..book.words import agreeing
from ..derive.route import Attempt, Derivation, Line, Route
from ..notation import ENGLISH, plain, speech, spoken
from ..notation.build import ONE
from ..notation.layout import Layout, before_differential, layout, letters, row
from ..notation.message import Translate, fill
from ..notation.spoken import marked
from ..notation.tree import Diverges, DoesNotExist, Name, Node
from ..techniques import catalogue

#: Where the reasons begin: beside the formulas, or no further right than this.
_REASONS = 44


def worked(found: Derivation, *, everything: bool = False, width: int = 100, tell: Translate = str) -> str:
    """The worked solution that a teacher would choose, or why there is none.

    `everything`: all of them, what stands between their answers, and what does not help. `width` is that of the terminal, in
    characters. `tell` says a sentence in the reader's language.
    """
    if not found.routes:
        return fill(found.missing, inline, tell) if found.missing else tell("No method was found.")
    routes = found.routes if everything else found.routes[:1]
    parts = [_route(route, number, width, tell) for number, route in enumerate(routes, 1)]
    if everything:
        parts += [_attempts([attempt for attempt in found.attempts if not attempt.works], width, tell)] if found.attempts else []
    elif len(found.routes) > 1:
        more = len(found.routes) - 1
        parts.append(tell("1 more way: --all shows it." if more == 1 else "{count} more ways: --all shows them.").format(count=more))
    return marked("\n\n".join(part for part in parts if part), tell(ENGLISH.decimal))


def inline(node: Node) -> str:
    """A formula in a sentence: laid out where that takes one row, else in plain text with the letters and signs of mathematics."""
    laid = layout(node)
    return str(laid) if len(laid.rows) == 1 else re.sub(r"[a-z]+", lambda word: letters(word[0]), plain(node))


def _route(route: Route, number: int, width: int, tell: Translate) -> str:
    title = tell(catalogue()[route.method].title)
    rows = [(_formula(line, tell), fill(line.reason, inline, tell) + _grade(line, tell)) for line in route.lines]
    column = min(_REASONS, max(formula.width for formula, _ in rows) + 3)
    body = [_beside(formula, reason, column, width) for formula, reason in [(layout(route.question.node), ""), *rows]]
    return "\n\n".join([tell("Method {number}: {title}").format(number=number, title=title), *body])


def _beside(formula: Layout, reason: str, column: int, width: int) -> str:
    """A formula with its reason to the right of its line of writing, or under it where the formula reaches too far."""
    said = textwrap.wrap(reason, max(24, width - column - 2))
    rows = [f"  {text}" for text in formula.rows]
    if formula.width + 3 > column:
        return "\n".join([*map(str.rstrip, rows), *(" " * (column + 2) + line for line in said)])
    for place, line in enumerate(said):
        at = formula.base + place
        rows += [""] * (at + 1 - len(rows))
        rows[at] = rows[at].ljust(column + 2) + line
    return "\n".join(map(str.rstrip, rows))


def _formula(line: Line, tell: Translate) -> Layout:
    if line.kind == "differential" and line.left is not None:
        factor: list[Layout | str] = [] if line.shown == ONE else [before_differential(line.shown), " "]
        return row("    d", layout(line.left), " = ", *factor, "d", layout(Name(line.variable)))
    if line.left is not None:
        return row("    ", layout(line.left), " = ", _shown(line.shown, tell))
    return row("= ", _shown(line.shown, tell))


def _shown(node: Node, tell: Translate) -> Layout | str:
    """A formula, or the words that are an answer of their own."""
    if isinstance(node, Diverges | DoesNotExist):
        return speech(node, spoken(tell))
    return layout(node)


def _grade(line: Line, tell: Translate) -> str:
    if line.checked is None or line.checked.grade == "proved":
        return ""
    return f"  [{fill(agreeing(line.checked), plain, tell)}, {tell('not proved')}]"


def _attempts(attempts: list[Attempt], width: int, tell: Translate) -> str:
    """What does not help here, and why."""
    if not attempts:
        return ""
    reasons = (fill(attempt.reason, inline, tell) for attempt in attempts)
    said = [textwrap.fill(reason, width, initial_indent="  - ", subsequent_indent="    ") for reason in reasons]
    return "\n".join([tell("What does not help here"), *said])
