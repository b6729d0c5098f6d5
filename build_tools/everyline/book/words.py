"""What the checker found, in the words that a teacher reads."""

from __future__ import annotations

from fractions import Fraction

from ..kernel import Checked, Refuted, Undecided
from ..notation import plain
from ..notation.message import Message, fill, say, sentence
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


def point(value: Fraction | None) -> str:
    """A sample point for reading: exact when short, else rounded to six figures."""
    if value is None:
        return ""
    return str(value) if len(str(value)) <= 8 else f"{float(value):.6g}"


def digits(count: int, points: int) -> str:
    """What was found of something that agrees everywhere it was tried but is not proved."""
    return f"agrees to {count} digits at {points} point{'' if points == 1 else 's'}"


def region(domain: Interval | Union) -> str:
    """A domain as plain text, `(0, ∞)`."""
    return plain(domain).replace("infinity", "∞")


def undecided(outcome: Undecided) -> Message:
    """Why something could not be decided."""
    what = Message(_SHOWN_UNDECIDED.get(outcome.reason, sentence("could not be decided")))
    return say("{what} ({detail})", what=what, detail=outcome.detail) if outcome.detail else what


def outcome_text(outcome: Checked | Refuted | Undecided, sides: tuple[str, str] = ("the question asks for", "the key gives")) -> str:
    """One sentence for a verdict. `sides` name the two things that differ, left first."""
    match outcome:
        case Checked(grade="proved"):
            return "proved"
        case Checked():
            return digits(outcome.digits, outcome.points)
        case Undecided():
            return fill(undecided(outcome), plain)
    return _refuted_text(outcome, sides)


def _refuted_text(outcome: Refuted, sides: tuple[str, str]) -> str:
    where = f"x = {point(outcome.witness)}" if outcome.witness is not None else outcome.place
    variable = getattr(getattr(outcome.claim, "setting", None), "variable", "x")
    where = where.replace("x = ", f"{variable} = ", 1) if outcome.witness is not None else where
    match outcome.reason:
        case "undefined":
            return f"wrong at {where}: not defined there, although the question is"
        case "needs-absolute-value":
            return f"wrong at {where}: the logarithm is not defined there; ln|…| is needed"
        case "jump":
            return f"wrong: it jumps at {where}, so it cannot be used between limits"
        case "pole":
            return f"wrong: the integrand is unbounded at {where}"
        case "diverges":
            return f"wrong: the integral diverges ({where})" if where else "wrong: the integral diverges"
    if outcome.left and not outcome.right:
        return f"wrong: {outcome.left}"
    if outcome.left or outcome.right:
        left, right = sides
        return (
            f"wrong at {where}: {left} {outcome.left}, {right} {outcome.right}"
            if where
            else f"wrong: {left} {outcome.left}, {right} {outcome.right}"
        )
    return f"wrong at {where}" if where else "wrong"


def sides(kind: str) -> tuple[str, str]:
    """What the two compared numbers are, for each kind of question."""
    return {
        "indefinite": ("the integrand is", "the derivative of the key is"),
        "derivative": ("the derivative is", "the key gives"),
        "definite": ("the integral is", "the key says"),
        "limit": ("the limit is", "the key says"),
    }[kind]


def short(node: Node) -> str:
    """A formula for an error message: plain text, cut when very long."""
    text = plain(node)
    return text if len(text) <= 200 else text[:197] + "…"
