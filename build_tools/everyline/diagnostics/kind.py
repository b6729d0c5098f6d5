"""A kind of diagnostic: its stable code and its explanation. One module of `kinds/` for each; adding one edits no other file."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import dataclass
from typing import Protocol

from ..notation.message import Message
from ..source.span import Span
from .diagnostic import Diagnostic, Label, Replacement


@dataclass(frozen=True, slots=True)
class Kind:
    """What a code stands for: the text of its page in the manual, sentences of the catalogue.

    `meaning` says what is wrong and why it matters, `mend` what to do, `wrong` and `right` are a piece of a file before and after.
    """

    code: str
    severity: str
    title: str
    meaning: str
    mend: str
    wrong: str = ""
    right: str = ""

    def at(
        self,
        span: Span,
        headline: Message,
        *,
        notes: tuple[Message | None, ...] = (),
        help: Message | None = None,
        more: tuple[Label, ...] = (),
        severity: str = "",
        replacement: Replacement | None = None,
    ) -> Diagnostic:
        """A diagnostic of this kind at `span`. Without a `help` of its own the kind's `mend` is given."""
        kept = tuple(note for note in notes if note is not None)
        labels = (Label(span), *more)
        return Diagnostic(self.code, severity or self.severity, headline, labels, kept, help or Message(self.mend), replacement)


class Fact(Protocol):
    """Anything that knows its code; its type is known to the module of that code."""

    @property
    def code(self) -> str: ...


def diagnose(fact: Fact) -> Diagnostic:
    """Put a fact into words. Raises LookupError when no module explains its code."""
    made: Diagnostic = _module(fact.code).diagnose(fact)
    return made


def kind(code: str) -> Kind:
    """The explanation of a code. Raises LookupError when there is no such code."""
    found: Kind = _module(code).KIND
    return found


def codes() -> tuple[str, ...]:
    """All codes, in order of the alphabet."""
    from . import kinds

    return tuple(sorted(module.name.replace("_", "-") for module in pkgutil.iter_modules(kinds.__path__)))


def _module(code: str):  # type: ignore[no-untyped-def]
    if code not in codes():
        raise LookupError(f"no diagnostic has the code {code!r}")
    return importlib.import_module(f"{__package__}.kinds.{code.replace('-', '_')}")
