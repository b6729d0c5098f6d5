"""What the notation says about a text it cannot read, as facts with places."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from ..notation.message import Message
from ..source.span import Text
from .kinds.formula_ambiguous import AmbiguousFormula
from .kinds.formula_unreadable import BadFormula
from .kinds.name_undeclared import UndeclaredName


class Reading(Protocol):
    """One meaning of an ambiguous text; `write` is how to write it clearly."""

    @property
    def write(self) -> str: ...


class Unreadable(Protocol):
    """An error of the notation: see `notation.errors.NotationError`. Offsets are code points into the text."""

    code: str
    message: Message
    start: int
    end: int
    help: Message | None

    @property
    def readings(self) -> Sequence[Reading]: ...


def from_notation(text: Text, error: Unreadable, field: str = "") -> BadFormula | AmbiguousFormula | UndeclaredName:
    """The fact for an error in `text`, the value of `field`, placed where the error is."""
    span = text.part(error.start, error.end)
    if error.readings:
        return AmbiguousFormula(span, field, error.message, tuple(reading.write for reading in error.readings), error.help)
    fact = UndeclaredName if error.code == "undeclared" else BadFormula
    return fact(span, field, error.message, error.help)
