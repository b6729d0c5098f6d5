"""What the checker says against a key, or with a key, as facts with places. The checker's own objects are only looked at."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

from ..notation.message import Message
from ..source.span import Text
from .kinds.integral_diverges import DivergentQuestion
from .kinds.key_absolute_value import NeedsAbsoluteValue
from .kinds.key_jumps import JumpingKey
from .kinds.key_removable import RemovableKey
from .kinds.key_undefined import UndefinedKey
from .kinds.key_window import WindowedKey
from .kinds.key_wrong import WrongKey

Against = WrongKey | UndefinedKey | NeedsAbsoluteValue | JumpingKey | DivergentQuestion
Beside = JumpingKey | RemovableKey | WindowedKey


class Refusal(Protocol):
    """A refuted claim: see `kernel.claims.Refuted`."""

    @property
    def reason(self) -> str: ...
    @property
    def witness(self) -> Fraction | None: ...
    @property
    def place(self) -> str: ...
    @property
    def left(self) -> str: ...
    @property
    def right(self) -> str: ...


class Aside(Protocol):
    """A remark beside a claim that stands: see `kernel.claims.Remark`."""

    @property
    def kind(self) -> str: ...
    @property
    def place(self) -> str: ...


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked and what the key gives, as text.

    `wanted` is the integrand (indefinite), the right derivative, value or limit; `got` the derivative of the key (indefinite) or
    the key. Where one of them is empty the two are not set side by side.
    """

    kind: str
    variable: str
    wanted: str = ""
    got: str = ""


def from_refuted(key: Text, outcome: Refusal, asked: Asked, *, slip: Message | None = None, repaired: str = "") -> Against:
    """The fact for a refuted key. `slip` explains the mistake in a sentence; `repaired` is a key that passed the check."""
    witness = "" if outcome.witness is None else str(outcome.witness)
    place = outcome.place or witness
    match outcome.reason:
        case "needs-absolute-value":
            return NeedsAbsoluteValue(key.span, place, repaired, asked.variable)
        case "undefined":
            return UndefinedKey(key.span, place, asked.variable)
        case "jump":
            return JumpingKey(key.span, place, asked.variable, between_limits=True)
        case "pole" | "diverges":
            return DivergentQuestion(key.span, place, asked.variable)
    return WrongKey(
        key.span,
        asked.kind,
        asked.wanted,
        asked.got,
        asked.variable,
        witness,
        outcome.left,
        outcome.right,
        slip,
        repaired,
    )


def from_remarks(key: Text, remarks: Iterable[Aside], variable: str) -> tuple[Beside, ...]:
    """The facts to be said of a key that stands. That there are several intervals is no fault and is not said here."""
    found: list[Beside] = []
    for remark in remarks:
        match remark.kind:
            case "jump":
                found.append(JumpingKey(key.span, remark.place, variable))
            case "removable":
                found.append(RemovableKey(key.span, remark.place, variable))
            case "window":
                found.append(WindowedKey(key.span, remark.place))
    return tuple(found)
