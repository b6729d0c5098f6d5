"""Why what was asked for cannot be done: a method by its name, a substitution, or any worked solution at all."""

from __future__ import annotations

from contextlib import suppress

from ..algebra.clock import Stopped
from ..notation.build import names
from ..notation.message import Message, say, sentence
from ..notation.question import Question
from ..notation.tree import Name, Node
from ..techniques import Step, Technique, catalogue
from .attempts import attempt
from .search import Search

#: What a book may call a method, and the techniques that are meant by it, the first found taken.
MEANT = {"substitution": ("substitution", "linear-substitution", "rationalising"), "table": ("table", "linear-inside")}

_OUT_OF_TIME = sentence("No worked solution was found within the time allowed.")
_OF_KIND = {
    "indefinite": sentence("This is a method for integrals without limits."),
    "definite": sentence("This is a method for integrals between limits."),
    "derivative": sentence("This is a method for derivatives."),
    "limit": sentence("This is a method for limits."),
}


def meant(method: str) -> tuple[str, ...]:
    """The techniques that are meant by a method's name."""
    return MEANT.get(method, (method,))


def refused(search: Search, question: Question, method: str, u: Node | None = None) -> Message:
    """Why a wanted method cannot be used: it says so itself, it does not fit, or what it leaves cannot be done."""
    known = catalogue().get(method)
    if known is None:
        return say("There is no method {method}.", method=method)
    if question.kind not in known.kinds:
        return Message(_OF_KIND[known.kinds[0]])
    own = known.refuses(question) if known.refuses is not None else None
    if own is not None:
        return own
    if search.meter.spent:
        return say(_OUT_OF_TIME)
    if u is not None:
        return say("Together with the substitution {u} it does not lead to an answer here.", u=u)
    try:
        step = _first_step(search, question, method)
    except Stopped:
        return say(_OUT_OF_TIME)
    if step is None:
        return say("Its form is not here. {form}", form=Message(known.explains))
    return say("It leads to {result}, and the methods allowed do not lead on from there.", result=step.result)


def _first_step(search: Search, question: Question, method: str) -> Step | None:
    """The first step of the method that the kernel stands behind."""
    wanted: list[Technique] = [catalogue()[name] for name in meant(method)]
    steps = (step for technique in wanted if question.kind in technique.kinds for step in technique.propose(question))
    return next((step for step in steps if question.kind == "definite" or search.holds(question, step)), None)


def substitution_refused(question: Question, u: Node) -> Message:
    """Why a wanted substitution does not lead to an answer: what its derivative is, and what is left over."""
    if question.kind not in ("indefinite", "definite"):
        return say("A substitution can be asked for in an integral only.")
    if question.variable not in names(u):
        return say("A substitution names an expression in {x}; {u} has no {x}.", x=Name(question.variable), u=u)
    made = None
    with suppress(Stopped):
        made = attempt(question, u)
    if made is None:
        return say("The substitution {u} does not lead to an answer here.", u=u)
    return made.reason if not made.works else say("{what} The methods allowed do not lead on from there.", what=made.reason)


def unsolved(search: Search, question: Question) -> Message:
    """Why there is no worked solution at all."""
    if search.meter.spent:
        return say(_OUT_OF_TIME)
    if next(search.proposals(question), None) is None:
        return say("None of the methods allowed here applies.")
    return say("The methods allowed here do not lead to an answer.")
