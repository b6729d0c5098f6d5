"""Worked solutions as pages show them: one under another at the equals sign, each line with its reason."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from ..book.data import Work
from ..book.trying import written
from ..derive.route import Derivation, Line, Reconciliation, Route
from ..kernel import Checked
from ..notation import Spoken, latex, mathml, plain, speech
from ..notation.build import ONE, ZERO, without_constant
from ..notation.latex import before_differential as latex_before
from ..notation.mathml import before_differential as mathml_before
from ..notation.message import Translate
from ..notation.question import Question
from ..notation.tree import Derivative, Inequality, Integral, Name, Node
from ..techniques import catalogue
from .addresses import Here
from .badges import badge, weakest
from .box import mark
from .formulas import WIDE, annotated, formula, row, sentence
from .markup import element, escape, fold, scrolling, slug
from .pace import pace


class Unchecked(ValueError):
    """A line that nothing vouches for was about to be set. A page shows checked lines only."""


def method(technique: str, tell: Translate = str) -> str:
    """How a solution is called: by its method's title, in the language that `tell` speaks."""
    return tell(catalogue()[technique].title)


def worked(routes: Sequence[Route], here: Here, film: Sequence[str] = (), level: int = 2) -> list[str]:
    """Worked solutions, each closed and named after its method, with an id that stays when others come and go.

    `film` are the ways to where a film comes to each line of the first one, `level` is the problem's (see `_finer`).
    """
    made: list[str] = []
    for route, identity in zip(routes, identities(routes), strict=True):
        again = identity.removeprefix(f"by-{slug(route.method)}").strip("-")
        title = _way(method(route.method, here.tell), again, here)
        named = Named(identity, title, () if made else tuple(film), level)
        made.append(_solution(route.question, route.lines, named, here))
    return made


def _way(title: str, again: int | str, here: Here) -> str:
    """A solution's title; from the second of the same title on with its number (`""`: it is the first)."""
    return here.tell("{method}, way {number}", method=title, number=again) if again else title


def identities(routes: Sequence[Route]) -> list[str]:
    """The id of each worked solution on its page: its method's name, numbered from the second of the same name on."""
    seen: Counter[str] = Counter()
    made = []
    for route in routes:
        seen[route.method] += 1
        again = seen[route.method]
        made.append(f"by-{slug(route.method)}" + (f"-{again}" if again > 1 else ""))
    return made


def written_out(lines: Sequence[Line], question: Question, number: int, here: Here, film: Sequence[str] = ()) -> str:
    """A solution that a person wrote in the file."""
    title = _way(here.tell("As the author writes it"), number if number > 1 else "", here)
    return _solution(question, lines, Named(f"author-{number}", title, tuple(film)), here)


def of_instance(work: Work, number: int, identity: str, here: Here) -> str:
    """The solution of a family's question with other numbers."""
    name = method(work.method, here.tell) if work.method else here.tell("As the author writes it")
    title = here.tell("{method}, question {number}", method=name, number=number)
    return _solution(work.question, work.lines, Named(identity, title), here)


def _solution(question: Question, lines: Sequence[Line], named: Named, here: Here) -> str:
    found = weakest(line.checked for line in lines)
    equal = [line for line in lines if line.kind == "equal"]
    # Where an integral was given a name, every line begins with it.
    count = sum(line.left is None for line in equal) or len(equal)
    note = here.tell("{count} line" if count == 1 else "{count} lines", count=count)
    if isinstance(found, Checked) and found.grade == "proved":
        note = here.tell("{count} line, proved" if count == 1 else "{count} lines, every one proved", count=count)
    summary = element("span", escape(named.title), class_="ev-fold__title") + element("span", note, class_="ev-fold__note")
    return fold(named.identity, summary, pace(here), line_list(lines, question.node, named, here), kind="ev-solution")


def checking(lines: Sequence[Line], start: Node, here: Here, remarks: Sequence[str] = ()) -> str:
    """The fold that differentiates the key back into the integrand; `remarks` stand under it."""
    title = here.tell("Checked by differentiating")
    summary = element("span", title, class_="ev-fold__title")
    said = (element("p", escape(remark), class_="ev-quiet") for remark in remarks)
    return fold("checked", summary, line_list(lines, start, Named("checked", title), here), *said, kind="ev-checking")


def brought_together(found: Derivation, here: Here) -> list[str]:
    """A fold for each two answers that look different."""
    ends = {without_constant(route.answer) for route in found.routes}
    pairs = enumerate(found.reconciliations, 1)
    return [reconciled(pair, n, {without_constant(pair.first), without_constant(pair.second)} <= ends, here) for n, pair in pairs]


def reconciled(pair: Reconciliation, number: int, methods: bool, here: Here) -> str:
    """The fold that turns one answer into another and names the constant between them; `methods`: both come of worked solutions."""
    title = here.tell("When two answers look different") + (f" ({number})" if number > 1 else "")
    constants = " ".join(constant(where, value, here) for where, value in pair.constants)
    first = _row(annotated("", pair.first, here), here.tell("{title}: one answer", title=title), pair.first)
    second = _row(annotated("", pair.second, here), here.tell("{title}: other answer", title=title), pair.second)
    right = element("p", here.tell("Both are right."), " ", constants)
    start = here.tell("Two methods end in") if methods else here.tell("One answer is")
    go_on = here.tell("and in") if methods else here.tell("and another is")
    opening = element("p", start) + first + element("p", go_on) + second + right
    complete = bool(pair.lines) and pair.lines[0].left is not None
    lines = line_list(pair.lines, None if complete else pair.first, Named(f"different-{number}", title), here)
    summary = element("span", title, class_="ev-fold__title")
    forms = " ".join(str(mark(written(answer))) for answer in (pair.first, pair.second))
    return fold(f"different-{number}", summary, opening, lines, kind="ev-reconciled", data_forms=forms)


def constant(where: Inequality | None, value: Node, here: Here) -> str:
    """What is between two answers; `where` is the interval when there are several."""
    place, shown = "" if where is None else formula(where, here), formula(value, here)
    match value == ZERO, where is not None:
        case True, True:
            return here.tell("They are the same function where {place}, written in two ways.", place=place)
        case True, False:
            return here.tell("They are the same function, written in two ways.")
        case False, True:
            return here.tell(
                "They differ by the constant {constant} where {place}, and the constant of integration takes it up.",
                constant=shown,
                place=place,
            )
    return here.tell("They differ by the constant {constant}, and the constant of integration takes it up.", constant=shown)


@dataclass(frozen=True, slots=True)
class Named:
    """A group of lines: its id, what it is called aloud, the way to each in a film, and the level of the problem."""

    identity: str
    title: str
    film: tuple[str, ...] = ()
    level: int = 2


def line_list(lines: Sequence[Line | None], opening: Node | None, group: Named, here: Here) -> str:
    """Lines under each other; `opening` is the expression that the first of them equals. None is a gap, where solutions stand aligned."""
    rows = []
    if opening is not None:
        made = _row(annotated("", opening, here), here.tell("{title}: start", title=group.title), opening)
        rows.append(element("li", made, class_="ev-line ev-line--start"))
    for number, line in enumerate(lines, 1):
        if line is None:
            rows.append(element("li", class_="ev-line ev-line--gap", aria_hidden="true"))
            continue
        film = group.film[number - 1 : number]
        title = here.tell("{title}: line {number}", title=group.title, number=number)
        rows.append(_line(line, Named(f"{group.identity}-line-{number}", title, film, group.level), here))
    return element("ol", *rows, class_="ev-lines", role="list")


def _line(line: Line, place: Named, here: Here) -> str:
    if line.kind == "equal" and line.checked is None:
        raise Unchecked(plain(line.shown))
    shown = element("div", _row(line_formula(line, here), place.title, line.shown, line.left), class_="ev-line__formula")
    doubt = "" if isinstance(line.checked, Checked) and line.checked.grade == "proved" else badge(line.checked, here)
    said = (sentence(line.reason, here) if line.reason.text else "", doubt, *place.film)
    reason = element("p", *said, class_="ev-line__reason") if any(said) else ""
    kind = "equal" if line.kind == "equal" and line.left is None else "aside"
    return element("li", shown, reason, _finer(line, place, here), id=place.identity, class_=f"ev-line ev-line--{kind}")


def _finer(line: Line, place: Named, here: Here) -> str:
    """The fold with a line's finer steps: open at level 1; at level 3 none for standard forms that are put in one by one."""
    # A finer line that says no more than the line itself would be a fold opened for nothing.
    detail = tuple(finer for finer in line.detail if finer.shown != without_constant(line.shown))
    if not detail or (place.level == 3 and all(isinstance(finer.left, Integral | Derivative) for finer in detail)):
        return ""
    inside = Named(f"{place.identity}-finer", here.tell("{title}, finer", title=place.title))
    steps = line_list(detail, None, inside, here)
    return fold(inside.identity, here.tell("In finer steps"), steps, kind="ev-finer", open=place.level == 1)


def _row(made: str, name: str, *parts: Node | None) -> str:
    if sum(len(plain(part)) for part in parts if part is not None) < WIDE:
        return element("div", made, class_="ev-wide")
    return scrolling(made, name)


def line_formula(line: Line, here: Here) -> str:
    """The formula of a line: `= …` under the line before, `u = …`, or `du = … dx`."""
    if line.left is None:
        return annotated("<mo>=</mo>", line.shown, here, tex="= {}", spoken=f"{here.said.equals} {{}}")
    if line.forms is not None:
        return _differentials(*line.forms, here.said)
    before = f"{_inner(line.left)}<mo>=</mo>"
    spoken = f"{speech(line.left, here.said)} {here.said.equals} {{}}"
    return annotated(before, line.shown, here, tex=f"{latex(line.left)} = {{}}", spoken=spoken)


def _differentials(left: Integral, right: Integral, said: Spoken) -> str:
    """`du = 2x dx`; a factor of one is not written."""
    sides = [(form.integrand, Name(form.variable)) for form in (left, right)]
    return row(
        "<mo>=</mo>".join(f"{_times(f)}{_differential(x)}" for f, x in sides),
        " = ".join(f"{_times_tex(f)}d{latex(x)}" for f, x in sides),
        f" {said.equals} ".join(f"{_times_spoken(f, said)}d {speech(x, said)}" for f, x in sides),
        said,
    )


def _times(factor: Node) -> str:
    return "" if factor == ONE else f'<mrow>{mathml_before(factor)}</mrow><mspace width="0.17em"/>'


def _times_tex(factor: Node) -> str:
    return "" if factor == ONE else rf"{latex_before(factor)} \, "


def _times_spoken(factor: Node, said: Spoken) -> str:
    return "" if factor == ONE else f"{speech(factor, said)} "


def _inner(node: Node) -> str:
    made = mathml(node, True)
    return f"<mrow>{made[made.index('>') + 1 : made.rindex('<')]}</mrow>"


def _differential(name: Name) -> str:
    return f"<mrow><mi>d</mi>{_inner(name)}</mrow>"
