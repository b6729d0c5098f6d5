"""A key that is wrong."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

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
    slip: str = ""
    repaired: str = ""


_WORDS = {
    "indefinite": (
        "This key is wrong: its derivative is not the integrand.",
        "The key differentiates to {got}; the integrand is {wanted}.",
        "the integrand",
        "the key's derivative",
    ),
    "derivative": (
        "This key is wrong: it is not the derivative of the function.",
        "The key is {got}; the derivative is {wanted}.",
        "the derivative",
        "the key",
    ),
    "definite": (
        "This key is wrong: it is not the value of the integral.",
        "The key is {got}; the integral is {wanted}.",
        "the integral",
        "the key",
    ),
    "limit": ("This key is wrong: it is not the limit.", "The key is {got}; the limit is {wanted}.", "the limit", "the key"),
}


def _point(fact: WrongKey, wanted: str, got: str) -> str:
    if not fact.witness:
        return f"{wanted[0].upper()}{wanted[1:]} is {fact.wanted_there}, {got} is {fact.got_there}." if fact.got_there else ""
    there = f": there {wanted} is {fact.wanted_there}, {got} is {fact.got_there}" if fact.wanted_there and fact.got_there else ""
    return f"Wrong at {fact.variable} = {fact.witness}{there}."


def diagnose(fact: WrongKey) -> Diagnostic:
    headline, differs, wanted, got = _WORDS[fact.kind]
    notes = (
        differs.format(wanted=fact.wanted, got=fact.got) if fact.got else "",
        _point(fact, wanted, got),
        fact.slip,
    )
    if not fact.repaired:
        return KIND.at(fact.span, headline, notes=notes)
    return KIND.at(fact.span, headline, notes=notes, help="This key would be right:", replacement=Replacement(fact.span, fact.repaired))
