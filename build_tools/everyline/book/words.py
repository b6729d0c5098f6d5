"""What the checker found, in the words that a teacher reads."""

from __future__ import annotations

from fractions import Fraction

from ..kernel import Checked, Refuted, Undecided
from ..kernel.claims import Verdict
from ..notation import plain
from ..notation.message import Message, figure, say, sentence, verbatim
from ..notation.tree import Interval, Node, Union

_SHOWN_UNDECIDED = {
    "budget": sentence("could not be decided within the time and size limits"),
    "memory": sentence("could not be decided within the memory that there is"),
    "depth": sentence("could not be decided: it is nested too deeply"),
    "range": sentence("could not be decided: a number in it is too large"),
    "needs-certificate": sentence("could not be decided: no proof of this value was found"),
    "fault": sentence("could not be decided: a mistake in the checker itself, please report it"),
    "nowhere-defined": sentence("could not be decided: nothing is defined on this domain"),
    "not-supported": sentence("could not be decided: this kind of question is not checked yet"),
}
#: What the checker says at its limits. It knows no catalogue, so its words are listed for one here.
DETAILS = frozenset((
    sentence("too many pieces to look at"), sentence("an integral without limits inside an expression"),
    sentence("a function of a logarithm that tends to infinity"), sentence("an exponential of an exponential that grows"),
    sentence("the expansion says nothing"), sentence("too many multiples of an angle"), sentence("the normal form grows too large"),
    sentence("too many operations"), sentence("an exponent is too large"), sentence("a limit or a name that has no value here"),
    sentence("an integral with other names in its integrand"), sentence("too many independent functions"),
    sentence("a power is too large"), sentence("an integer is too large to factor"),
    sentence("an integral whose integrand depends on what it is differentiated by"), sentence("too few digits can be compared"),
    sentence("no admissible parameters were found"),
))  # fmt: skip


def point(value: Fraction | None) -> str:
    """A sample point for reading: exact when short, else rounded to six figures."""
    if value is None:
        return ""
    return str(value) if len(str(value)) <= 8 else f"{float(value):.6g}"


def region(domain: Interval | Union) -> str:
    """A domain as plain text, `(0, ∞)`."""
    return plain(domain).replace("infinity", "∞")


def undecided(outcome: Undecided) -> Message:
    """Why something could not be decided."""
    what = Message(_SHOWN_UNDECIDED.get(outcome.reason, sentence("could not be decided")))
    more = detail(outcome)
    return what if more is None else say("{what} ({detail})", what=what, detail=more)


def detail(outcome: Undecided) -> Message | None:
    """What the checker says besides. Where it names a form of its own, that is no word for a person."""
    return Message(outcome.detail) if outcome.detail in DETAILS else None


def stopped(what: str) -> Message:
    """Why work was ended before it was done: see `workers.Overrun`."""
    return {"time": say("it ran out of time"), "memory": say("it ran out of memory")}.get(what, say("the checker stopped"))


def agreeing(found: Checked) -> Message:
    """What was found of something that agrees everywhere it was tried but is not proved: a function at points, or one value."""
    if found.digits == 0:  # proved for each choice of the letters alone
        return say("right for all the values of its letters that were tried")
    if found.points == 1:
        return say("agrees to {digits} digits", digits=found.digits)
    return say("agrees to {digits} digits at {points} points", digits=found.digits, points=found.points)


def outcome_said(
    outcome: Verdict,
    sides: tuple[str, str] = (sentence("the question asks for"), sentence("the key gives")),
) -> Message:
    """One sentence for a verdict. `sides` name the two things that differ, left first."""
    match outcome:
        case Checked(grade="proved"):
            return say("proved")
        case Checked():
            return agreeing(outcome)
        case Undecided():
            return undecided(outcome)
    where, what = differing(outcome, sides)
    if what is None:
        return say("wrong at {where}", where=figure(where)) if where else say("wrong")
    return say("wrong at {where}: {what}", where=figure(where), what=what) if where else say("wrong: {what}", what=what)


def verdict(outcome: Verdict) -> str:
    """`proved` or `enclosed` for what stands, else `refuted` or `undecided`."""
    match outcome:
        case Checked(grade=grade):
            return grade
        case Refuted():
            return "refuted"
    return "undecided"


def differing(outcome: Refuted, sides: tuple[str, str]) -> tuple[str, Message | None]:
    """Where something is wrong (empty: the sentence says it, or nobody knows) and what is wrong there."""
    where = outcome.place
    if outcome.witness is not None:
        where = f"{getattr(getattr(outcome.claim, 'setting', None), 'variable', 'x')} = {point(outcome.witness)}"
    match outcome.reason:
        case "undefined":
            return where, say("not defined there, although the question is")
        case "needs-absolute-value":
            return where, say("the logarithm is not defined there; ln|…| is needed")
        case "jump":
            return "", say("it jumps at {where}, so it cannot be used between limits", where=figure(where))
        case "pole":
            return "", say("the integrand is unbounded at {where}", where=figure(where))
        case "diverges":
            return "", say("the integral diverges ({where})", where=figure(where)) if where else say("the integral diverges")
    if outcome.left and not outcome.right:
        gap = outcome.left.removeprefix("off by ")
        return "", say("off by {gap}", gap=figure(gap)) if gap != outcome.left else verbatim(outcome.left)
    if outcome.left or outcome.right:
        left, right = (Message(side) for side in sides)
        return where, say(
            "{left} {first}, {right} {second}", left=left, first=figure(outcome.left), right=right, second=figure(outcome.right)
        )
    return where, None


def sides(kind: str) -> tuple[str, str]:
    """What the two compared numbers are, for each kind of question."""
    return {
        "indefinite": (sentence("the integrand is"), sentence("the derivative of the key is")),
        "derivative": (sentence("the derivative is"), sentence("the key gives")),
        "definite": (sentence("the integral is"), sentence("the key says")),
        "limit": (sentence("the limit is"), sentence("the key says")),
    }[kind]


def short(node: Node) -> str:
    """A formula for an error message: plain text, cut when very long."""
    text = plain(node)
    return text if len(text) <= 200 else text[:197] + "…"
