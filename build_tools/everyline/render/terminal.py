"""Worked solutions for a terminal, set in two dimensions as they are written on a board."""

from __future__ import annotations

import re
import textwrap

from ..book.words import agreeing
from ..derive.route import Attempt, Derivation, Line, Reconciliation, Route
from ..notation import ENGLISH, plain, speech, spoken
from ..notation.build import ONE, add
from ..notation.layout import Layout, before_differential, layout, letters, row
from ..notation.message import Translate, fill
from ..notation.spoken import marked
from ..notation.tree import Diverges, DoesNotExist, Integral, Name, Negative, Node, Sum
from ..techniques import catalogue

#: Where the reasons begin: beside the formulas, or no further right than this.
_REASONS = 44
#: The room that reasons have at least.
_LEAST = 28


def worked(found: Derivation, *, most: int = 1, everything: bool = False, width: int = 100, tell: Translate = str) -> str:
    """The worked solutions that a teacher would choose first, at most so many, or why there is none; and why a method gives none.

    `everything`: all of them, what stands between their answers, and what does not help. `width` is that of the terminal, in
    characters. `tell` says a sentence in the reader's language.
    """
    refused = [textwrap.fill(f"{asked}: {fill(reason, inline, tell)}", width) for asked, reason in found.refused]
    if not found.routes:
        why = fill(found.missing, inline, tell) if found.missing else tell("No method was found.")
        return marked("\n".join(refused or [textwrap.fill(why, width)]), tell(ENGLISH.decimal))
    routes = found.routes if everything else found.routes[:most]
    parts = [_route(route, number, width, tell) for number, route in enumerate(routes, 1)]
    more = len(found.routes) - len(routes)
    if everything:
        parts += [_reconciled(pair, width, tell) for pair in found.reconciliations]
        parts += [_attempts([attempt for attempt in found.attempts if not attempt.works], width, tell)]
    elif more:
        parts.append(tell("1 more way: --all shows it." if more == 1 else "{count} more ways: --all shows them.").format(count=more))
    return marked("\n\n".join(part for part in (*parts, *refused) if part), tell(ENGLISH.decimal))


def inline(node: Node) -> str:
    """A formula in a sentence: laid out where that takes one row, else in plain text with the letters and signs of mathematics."""
    laid = layout(node)
    return str(laid) if len(laid.rows) == 1 else re.sub(r"[a-z]+", lambda word: letters(word[0]), plain(node))


def _route(route: Route, number: int, width: int, tell: Translate) -> str:
    title = tell(catalogue()[route.method].title)
    rows = [_row(line, width, tell) for line in route.lines]
    asked = [layout(route.question.node)]
    return "\n\n".join([tell("Method {number}: {title}").format(number=number, title=title), *_set([(asked, ""), *rows], width)])


def _reconciled(pair: Reconciliation, width: int, tell: Translate) -> str:
    """The algebra from one answer to the other and the constant between them."""
    complete = bool(pair.lines) and pair.lines[0].left is not None
    opening = [] if complete else [(_broken("", pair.first, width), "")]
    rows = [_row(line, width, tell) for line in pair.lines]
    return "\n\n".join([tell("When two answers look different"), *_set([*opening, *rows], width)])


#: The rows of one line of writing, several where it is wider than the terminal, and the reason beside it.
_Row = tuple[list[Layout], str]


def _row(line: Line, width: int, tell: Translate) -> _Row:
    return _formula(line, width, tell), fill(line.reason, inline, tell) + _grade(line, tell)


def _set(rows: list[_Row], width: int) -> list[str]:
    """Formulas with their reasons in one column."""
    column = min(_REASONS, width - _LEAST, max(part.width for parts, _ in rows for part in parts) + 3)
    return ["\n".join(_beside(part, reason if part is parts[-1] else "", column, width) for part in parts) for parts, reason in rows]


def _beside(formula: Layout, reason: str, column: int, width: int) -> str:
    """A formula with its reason to the right of its line of writing, or under it where the formula reaches too far."""
    said = textwrap.wrap(reason, width - column - 2)
    rows = [f"  {text}" for text in formula.rows]
    if formula.width + 3 > column:
        return "\n".join([*map(str.rstrip, rows), *(" " * (column + 2) + line for line in said)])
    for place, line in enumerate(said):
        at = formula.base + place
        rows += [""] * (at + 1 - len(rows))
        rows[at] = rows[at].ljust(column + 2) + line
    return "\n".join(map(str.rstrip, rows))


def _formula(line: Line, width: int, tell: Translate) -> list[Layout]:
    if line.forms is not None:
        left, right = map(_differential, line.forms)
        return [row("    ", left, " = ", right)]
    if isinstance(line.shown, Diverges | DoesNotExist):
        return [row("= " if line.left is None else "    ", _of(line.left), speech(line.shown, spoken(tell)))]
    whole = row("    ", _of(line.left), layout(line.shown)) if line.left is not None else row("= ", layout(line.shown))
    if whole.width + 2 <= width:
        return [whole]
    return [
        *([] if line.left is None else _broken("    ", line.left, width)),
        *_broken("= " if line.left is None else "    = ", line.shown, width),
    ]


def _differential(form: Integral) -> Layout:
    factor: list[Layout | str] = [] if form.integrand == ONE else [before_differential(form.integrand), " "]
    return row(*factor, "d", layout(Name(form.variable)))


def _of(left: Node | None) -> Layout | str:
    return "" if left is None else row(layout(left), " = ")


def _broken(lead: str, node: Node, width: int) -> list[Layout]:
    """A formula; a sum that is wider than the terminal is broken before a sign."""
    whole = row(lead, layout(node))
    if whole.width + 2 <= width or not isinstance(node, Sum):
        return [whole]
    made: list[Layout] = []
    waiting = list(node.terms)
    while waiting:
        count = len(waiting)
        while count > 1 and _continued(lead, waiting[:count], bool(made)).width + 2 > width:
            count -= 1
        made.append(_continued(lead, waiting[:count], bool(made)))
        waiting = waiting[count:]
    return made


def _continued(lead: str, terms: list[Node], again: bool) -> Layout:
    """Some terms of a sum, after others in the line above: these begin with their sign."""
    made = layout(add(*terms))
    if not again:
        return row(lead, made)
    blank = " " * len(lead)
    if not isinstance(terms[0], Negative):
        return row(blank, "+ ", made)
    return row(blank, "- ", Layout(tuple(text[1:] for text in made.rows), made.base))


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
