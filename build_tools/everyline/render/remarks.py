"""What the checker remarked on an answer that stands, in a reader's words: beside the answer, or where its check is shown."""

from __future__ import annotations

import re

from ..kernel import Checked
from ..notation.build import names, rational, walk
from ..notation.message import sentence
from ..notation.question import Question
from ..notation.tree import Call, Integral, Logarithm, Node, Power, Quotient, Root
from .addresses import Here

#: The checker's remarks (`kernel.claims.Remark`) that belong to the answer itself.
_OF_ANSWER = {
    "removable": sentence("At {place} the formula itself is not defined; there its limit takes its place."),
    "jump": sentence("The formula jumps at {place}: do not use it between limits on both sides of that point."),
}
_SEVERAL = sentence("The question makes sense on several intervals. The answer holds on each; the constant may differ between them.")
_BROKEN = frozenset({"tan", "sec", "csc", "cot", "csch", "coth", "ln", "arcsec", "arccsc", "arcosh", "arcoth", "arsech", "arcsch"})


def of_answer(outcome: object, question: Question, here: Here) -> list[str]:
    """Remarks that stand under an answer. Only an antiderivative has a constant, and only gaps of its integrand separate intervals."""
    found = []
    for remark in _remarks(outcome):
        if remark[0] in _OF_ANSWER:
            found.append(here.tell(_OF_ANSWER[remark[0]], place=here.number(remark[1])))
        elif remark[0] == "several-intervals" and question.kind == "indefinite" and _may_have_gaps(question.node, question.variable):
            found.append(here.tell(_SEVERAL))
    return found


def of_check(outcome: object, question: Question, here: Here) -> list[str]:
    """How far the line was looked along for jumps, where an antiderivative has no end of places for them."""
    if question.kind != "indefinite":
        return []
    return [here.tell("Jumps were looked for on {place}.", place=_rounded(place)) for kind, place in _remarks(outcome) if kind == "window"]


def _remarks(outcome: object) -> list[tuple[str, str]]:
    return [(remark.kind, remark.place) for remark in outcome.remarks] if isinstance(outcome, Checked) else []


def _rounded(place: str) -> str:
    """`-1.04858e+06 … 8` as a person writes it."""
    return re.sub(r"-?\d+(\.\d+)?(e\+?\d+)?", lambda found: f"{float(found[0]):.0f}".replace("-", "−"), place)


def _may_have_gaps(node: Node, variable: str) -> bool:
    """Whether anything in an integrand can be undefined between two places where it is defined. An odd root cannot."""
    for part in walk(node.integrand if isinstance(node, Integral) else node):
        if variable not in names(part):
            continue
        match part:
            case Quotient(bottom=below) if variable in names(below):
                return True
            case Power(exponent=exponent):
                value = rational(exponent)
                if value is None or value < 0 or value.denominator % 2 == 0:
                    return value is not None or variable in names(part.base)
            case Root(index=index) if index % 2 == 0:
                return True
            case Call(function=function) if function in _BROKEN:
                return True
            case Logarithm():
                return True
    return False
