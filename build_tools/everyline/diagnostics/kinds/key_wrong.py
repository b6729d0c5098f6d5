"""A key that is wrong."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, figure, say, sentence
from ...source.span import Span
from ..diagnostic import Diagnostic, Replacement
from ..kind import Kind

KIND = Kind(
    code="key-wrong",
    severity="error",
    title="Wrong key",
    meaning=(
        "The key is not an answer to the question. For an integral, its derivative is not the integrand; the point "
        "given shows it, and anybody can check it with a calculator."
    ),
    mend="Work the question again and compare it with the key, term by term.",
    wrong="question: \\int 6x^2 \\, dx\nkey: 3x^3 + C",
    right="question: \\int 6x^2 \\, dx\nkey: 2x^3 + C",
)


@dataclass(frozen=True, slots=True)
class WrongKey:
    """A refuted key. All but `span` is text to be shown.

    `kind` is that of the question (`indefinite`, `derivative`, `definite`, `limit`); `wanted` the integrand, the function or the
    right value, `got` what the key gives instead (for an integral: its derivative); at `witness` these are `wanted_there` and
    `got_there`. `slip` is a sentence that explains the mistake and `repaired` the key that passed the check.
    """

    code: ClassVar[str] = KIND.code
    span: Span
    kind: str
    wanted: str
    got: str = ""
    variable: str = "x"
    witness: str = ""
    wanted_there: str = ""
    got_there: str = ""
    slip: Message | None = None
    repaired: str = ""


#: For each kind of question: what is wrong, the two that differ, and what they are where they differ.
_WORDS = {
    "indefinite": (
        sentence("This key is wrong: its derivative is not the integrand."),
        sentence("The key differentiates to {got}; the integrand is {wanted}."),
        sentence("the integrand is {wanted}, the key's derivative is {got}"),
    ),
    "derivative": (
        sentence("This key is wrong: it is not the derivative of the function."),
        sentence("The key is {got}; the derivative is {wanted}."),
        sentence("the derivative is {wanted}, the key is {got}"),
    ),
    "definite": (
        sentence("This key is wrong: it is not the value of the integral."),
        sentence("The key is {got}; the integral is {wanted}."),
        sentence("the integral is {wanted}, the key is {got}"),
    ),
    "limit": (
        sentence("This key is wrong: it is not the limit."),
        sentence("The key is {got}; the limit is {wanted}."),
        sentence("the limit is {wanted}, the key is {got}"),
    ),
}


def _point(fact: WrongKey, differs: str) -> Message | None:
    values = say(differs, wanted=figure(fact.wanted_there), got=figure(fact.got_there)) if fact.wanted_there and fact.got_there else None
    if not fact.witness:
        return None if values is None else say("In numbers: {values}.", values=values)
    place = f"{fact.variable} = {fact.witness}"
    return say("Wrong at {place}.", place=place) if values is None else say("Wrong at {place}: there {values}.", place=place, values=values)


def diagnose(fact: WrongKey) -> Diagnostic:
    headline, differs, there = _WORDS[fact.kind]
    both = say(differs, wanted=fact.wanted, got=fact.got) if fact.wanted and fact.got else None
    notes = (both, _point(fact, there), fact.slip)
    if not fact.repaired:
        return KIND.at(fact.span, Message(headline), notes=notes)
    mended = Replacement(fact.span, fact.repaired)
    return KIND.at(fact.span, Message(headline), notes=notes, help=say("This key would be right:"), replacement=mended)
