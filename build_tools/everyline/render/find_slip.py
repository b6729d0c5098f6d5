"""“Find the slip”: a worked solution with one wrong line. Each line says whether it is the one, when it is asked; no script is needed."""

from __future__ import annotations

from ..book.data import Work
from ..book.misstep import Misstep
from ..book.words import point
from ..derive.route import Line
from ..kernel import SameDerivative
from ..notation import message, plain
from ..notation.question import Question
from .addresses import Here
from .formulas import annotated, sentence
from .markup import element, escape, fold
from .solutions import Unchecked, line_formula

NAME = "find-the-slip"
_INTRODUCTION = message.sentence(
    "One line of this solution is wrong, and what comes after it follows from it. Which line is the first wrong one?"
)


def find_slip(work: Work | None, here: Here, before: str = "") -> str:
    """The fold; empty where no slip could be put into the solution. `before` begins its id."""
    if work is None or work.misstep is None:
        return ""
    step, question, name = work.misstep, work.question, f"{before}{NAME}"
    rows = (_row(step, number, question, name, here) for number in range(len(step.lines)))
    opening = element("li", element("div", annotated("", question.node, here), class_="ev-wide"), class_="ev-line ev-line--start")
    summary = element("span", here.tell("Find the slip"), class_="ev-fold__title")
    summary += element("span", here.tell("one line is wrong"), class_="ev-fold__note")
    lines = element("ol", opening, *rows, class_="ev-lines", role="list")
    return fold(name, summary, element("p", here.tell(_INTRODUCTION)), lines, kind="ev-hunt")


def _row(step: Misstep, number: int, question: Question, name: str, here: Here) -> str:
    line = step.lines[number]
    if line.kind == "equal" and line.checked is None and number != step.wrong:
        raise Unchecked(plain(line.shown))
    shown = element("div", _formula(line, here), class_="ev-line__formula")
    reason = element("p", sentence(line.reason, here), class_="ev-line__reason") if line.reason.text else ""
    said = element("div", _said(step, number, question, here), class_="ev-fold__body")
    asked = element("summary", here.tell("Is it this line?"))
    ask = element("details", asked, said, id=f"{name}-{number + 1}", name=name, class_="ev-fold ev-finer")
    kind = "equal" if line.kind == "equal" and line.left is None else "aside"
    return element("li", shown, reason, ask, class_=f"ev-line ev-line--{kind}")


def _formula(line: Line, here: Here) -> str:
    return element("div", line_formula(line, here), class_="ev-wide", tabindex=0, role="group", aria_label=here.tell("A line"))


def _said(step: Misstep, number: int, question: Question, here: Here) -> str:
    """What a line says when it is asked."""
    if number < step.wrong:
        return element("p", here.tell("No: this line is right."))
    if number > step.wrong:
        return element("p", here.tell("No: this follows from the line before. What is wrong began earlier."))
    right = element("p", here.tell("The right line:")) + _formula(step.right, here)
    return element("p", here.tell("Yes."), " ", sentence(step.says, here)) + _shown_wrong(step, question, here) + right


def _short(number: str) -> str:
    """A number of the checker for reading: five figures are enough to see that two are different."""
    try:
        value = float(number)
    except ValueError:
        return number.replace("-", "−")
    return "0" if abs(value) < 1e-12 else f"{value:.5g}".replace("-", "−")


def _shown_wrong(step: Misstep, question: Question, here: Here) -> str:
    """Where the checker found both sides different."""
    found = step.refuted
    if found.witness is None or not found.right:
        return ""
    before, now = (element("span", escape(here.number(_short(number)))) for number in (found.left, found.right))
    place = f"{escape(question.variable)} = {escape(here.number(point(found.witness)).replace('-', '−'))}"
    if isinstance(found.claim, SameDerivative):
        said = here.tell("Differentiated, at {place} the line before gives {before}, this one {now}.", place=place, before=before, now=now)
    elif question.kind == "derivative":
        said = here.tell("At {place} the line before is {before}, this one {now}.", place=place, before=before, now=now)
    else:
        said = here.tell("The line before is {before}, this one {now}.", before=before, now=now)
    return element("p", said, class_="ev-quiet")
