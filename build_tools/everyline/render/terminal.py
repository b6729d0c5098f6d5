"""Worked solutions for a terminal, set in two dimensions as they are written on a board."""

from __future__ import annotations

import textwrap

from ..derive.route import Attempt, Derivation, Line, Route
from ..notation import plain
from ..notation.build import ONE
from ..notation.layout import Layout, before_differential, layout, row
from ..notation.message import fill
from ..notation.tree import Name, Node
from ..techniques import catalogue

#: Where the reasons begin: beside the formulas, or no further right than this.
_REASONS = 44


def worked(found: Derivation, *, everything: bool = False, width: int = 100) -> str:
    """The worked solution that a teacher would choose, or why there is none.

    `everything`: all of them, what stands between their answers, and what does not help. `width` is that of the terminal, in
    characters.
    """
    if not found.routes:
        return fill(found.missing, inline) if found.missing else "No method was found."
    routes = found.routes if everything else found.routes[:1]
    parts = [_route(route, number, width) for number, route in enumerate(routes, 1)]
    if everything:
        parts += [_attempts([attempt for attempt in found.attempts if not attempt.works], width)] if found.attempts else []
    elif len(found.routes) > 1:
        more = len(found.routes) - 1
        parts.append(f"{more} more {'way' if more == 1 else 'ways'}: --all shows {'it' if more == 1 else 'them'}.")
    return "\n\n".join(part for part in parts if part)


def inline(node: Node) -> str:
    """A formula in a sentence: laid out where that takes one row, else in plain text."""
    laid = layout(node)
    return str(laid) if len(laid.rows) == 1 else plain(node)


def _route(route: Route, number: int, width: int) -> str:
    title = catalogue()[route.method].title
    rows = [(_formula(line), fill(line.reason, inline) + _grade(line)) for line in route.lines]
    column = min(_REASONS, max(formula.width for formula, _ in rows) + 3)
    body = [_beside(formula, reason, column, width) for formula, reason in [(layout(route.question.node), ""), *rows]]
    return "\n\n".join([f"Method {number}: {title}", *body])


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


def _formula(line: Line) -> Layout:
    if line.kind == "differential" and line.left is not None:
        factor: list[Layout | str] = [] if line.shown == ONE else [before_differential(line.shown), " "]
        return row("    d", layout(line.left), " = ", *factor, "d", layout(Name(line.variable)))
    if line.left is not None:
        return row("    ", layout(line.left), " = ", layout(line.shown))
    return row("= ", layout(line.shown))


def _grade(line: Line) -> str:
    if line.checked is None or line.checked.grade == "proved":
        return ""
    return f"  [agrees to {line.checked.digits} digits at {line.checked.points} points, not proved]"


def _attempts(attempts: list[Attempt], width: int) -> str:
    """What does not help here, and why."""
    if not attempts:
        return ""
    said = [textwrap.fill(fill(attempt.reason, inline), width, initial_indent="  - ", subsequent_indent="    ") for attempt in attempts]
    return "\n".join(["What does not help here", *said])
