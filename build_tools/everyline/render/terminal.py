"""Worked solutions for a terminal, set the way they are written on a board."""

from __future__ import annotations

from ..derive.route import Derivation, Line, Route
from ..notation import plain
from ..notation.message import fill
from ..techniques import catalogue


def worked(found: Derivation) -> str:
    """Every worked solution of a question, or why there is none."""
    if not found.routes:
        return fill(found.missing, plain) if found.missing else "No method was found."
    return "\n\n".join(_route(route, number) for number, route in enumerate(found.routes, 1))


def _route(route: Route, number: int) -> str:
    title = catalogue()[route.method].title
    rows = [(_formula(line, route.question.variable), fill(line.reason, plain), _grade(line)) for line in route.lines]
    width = min(60, max(len(formula) for formula, _, _ in rows))
    body = [f"  {formula:<{width}}  {reason}{grade}".rstrip() for formula, reason, grade in rows]
    return "\n".join([f"Method {number}: {title}", f"  {plain(route.question.node)}", *body])


def _formula(line: Line, variable: str) -> str:
    if line.kind == "differential" and line.left is not None:
        return f"    d{plain(line.left)} = {plain(line.shown)} d{variable}"
    if line.left is not None:
        return f"    {plain(line.left)} = {plain(line.shown)}"
    return f"= {plain(line.shown)}"


def _grade(line: Line) -> str:
    if line.checked is None or line.checked.grade == "proved":
        return ""
    return f"  [agrees to {line.checked.digits} digits at {line.checked.points} points, not proved]"
