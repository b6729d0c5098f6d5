"""Worked solutions as pages show them: one under another at the equals sign, each line with its reason."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..derive.route import Line, Reconciliation, Route
from ..kernel import Checked
from ..notation import latex, mathml, plain
from ..notation.build import ZERO, names
from ..notation.tree import Name, Node
from ..techniques import catalogue
from .addresses import Here
from .badges import badge, weakest
from .formulas import annotated, formula, sentence
from .markup import element, escape, fold, scrolling, slug

#: From this many characters of plain text on, a line may be wider than a small phone and gets a box that the keyboard can scroll.
_WIDE = 24


class Unchecked(ValueError):
    """A line that nothing vouches for was about to be set. A page shows checked lines only."""


def by_method(technique: str) -> str:
    """How a solution is called: `By substitution`."""
    title = catalogue()[technique].title
    return f"By {title[:1].lower()}{title[1:]}" if title[1:2].islower() else f"By {title}"


def worked(route: Route, identity: str, here: Here) -> str:
    """One worked solution, closed, named after its method."""
    return _solution(by_method(route.method), route.question.node, route.lines, identity, here)


def written_out(lines: Sequence[Line], question: Node, identity: str, here: Here) -> str:
    """A solution that a person wrote in the file."""
    return _solution("As written by the author", question, lines, identity, here)


def _solution(title: str, question: Node, lines: Sequence[Line], identity: str, here: Here) -> str:
    found = weakest(line.checked for line in lines)
    count = sum(line.kind == "equal" for line in lines)
    note = f"{count} {'line' if count == 1 else 'lines'}"
    if isinstance(found, Checked) and found.grade == "proved":
        note += ", every one proved"
    summary = element("span", escape(title), class_="ev-fold__title") + element("span", note, class_="ev-fold__note")
    return fold(identity, summary, line_list(lines, question, identity, title, here), kind="ev-solution")


def checking(lines: Sequence[Line], start: Node, here: Here) -> str:
    """The fold that differentiates the key back into the integrand."""
    title = "Checked by differentiating"
    summary = element("span", title, class_="ev-fold__title")
    return fold("checked", summary, line_list(lines, start, "checked", title, here), kind="ev-checking")


def reconciled(pair: Reconciliation, number: int, here: Here) -> str:
    """The fold that turns one answer into another and names the constant between them."""
    title = "When two answers look different" + (f" ({number})" if number > 1 else "")
    constants = " ".join(_constant(where, value) for where, value in pair.constants)
    opening = element("p", f"Two methods end in {formula(pair.first)} and in {formula(pair.second)}. Both are right. {constants}")
    lines = line_list(pair.lines, pair.first, f"different-{number}", title, here)
    return fold(f"different-{number}", element("span", title, class_="ev-fold__title"), opening, lines, kind="ev-reconciled")


def _constant(where: str, value: Node) -> str:
    """What is between two answers; `where` names the interval when there are several."""
    place = f" where {escape(where)}" if where else ""
    if value == ZERO:
        return f"They are the same function{place}, written in two ways."
    return f"They differ by the constant {formula(value)}{place}, and the constant of integration takes it up."


def line_list(lines: Sequence[Line], opening: Node | None, identity: str, name: str, here: Here) -> str:
    """Lines under each other; `opening` is the expression that the first of them equals, `name` what the whole is called aloud."""
    rows = []
    if opening is not None:
        rows.append(element("li", _row(annotated("", opening), opening, f"{name}: start"), class_="ev-line ev-line--start"))
    variables: dict[str, str] = {}
    for number, line in enumerate(lines, 1):
        if line.kind == "let" and isinstance(line.left, Name):
            variables[line.left.name] = _variable_in(line.shown, "x")
        rows.append(_line(line, variables, f"{identity}-{number}", f"{name}: line {number}", here))
    return element("ol", *rows, class_="ev-lines", role="list")


def _line(line: Line, variables: dict[str, str], identity: str, name: str, here: Here) -> str:
    if line.kind == "equal" and line.checked is None:
        raise Unchecked(plain(line.shown))
    shown = element("div", _row(_set(line, variables), line.shown, name), class_="ev-line__formula")
    doubt = "" if isinstance(line.checked, Checked) and line.checked.grade == "proved" else badge(line.checked, here)
    reason = element("p", sentence(line.reason), doubt, class_="ev-line__reason") if line.reason.text or doubt else ""
    finer = ""
    if line.detail:
        inside = line_list(line.detail, None, f"{identity}-finer", f"{name}, finer", here)
        finer = fold(f"{identity}-finer", "In finer steps", inside, kind="ev-finer")
    kind = "equal" if line.kind == "equal" and line.left is None else "aside"
    return element("li", shown, reason, finer, id=identity, class_=f"ev-line ev-line--{kind}")


def _row(made: str, node: Node, name: str) -> str:
    if len(plain(node)) < _WIDE:
        return element("div", made, class_="ev-wide")
    return scrolling(made, name)


def _set(line: Line, variables: dict[str, str]) -> str:
    """The formula of a line: `= …` under the line before, `u = …`, or `du = … dx`."""
    if line.left is None:
        return annotated("<mo>=</mo>", line.shown, tex="= {}")
    if line.kind == "differential" and isinstance(line.left, Name):
        other = Name(variables.get(line.left.name) or _variable_in(line.shown, "x"))
        before, after = f"{_differential(line.left)}<mo>=</mo>", f'<mspace width="0.17em"/>{_differential(other)}'
        return annotated(before, line.shown, after, rf"d{latex(line.left)} = {{}} \, d{latex(other)}")
    return annotated(f"{_inner(line.left)}<mo>=</mo>", line.shown, tex=f"{latex(line.left)} = {{}}")


def _inner(node: Node) -> str:
    made = mathml(node, True)
    return f"<mrow>{made[made.index('>') + 1 : made.rindex('<')]}</mrow>"


def _differential(name: Name) -> str:
    return f"<mrow><mi>d</mi>{_inner(name)}</mrow>"


def _variable_in(node: Node, default: str) -> str:
    """The name that an expression depends on, when it is one name."""
    found: Iterable[str] = names(node)
    return next(iter(sorted(found)), default)


def identities(routes: Sequence[Route]) -> tuple[str, ...]:
    """An id for each solution that stays the same when others come and go: its method, numbered only when it is repeated."""
    seen: dict[str, int] = {}
    found = []
    for route in routes:
        base = f"by-{slug(route.method)}"
        seen[base] = seen.get(base, 0) + 1
        found.append(base if seen[base] == 1 else f"{base}-{seen[base]}")
    return tuple(found)
