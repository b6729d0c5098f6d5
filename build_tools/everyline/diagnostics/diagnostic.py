"""A diagnostic is data first and prose later: one shape, several renderers, each in the language of the book."""

from __future__ import annotations

from dataclasses import dataclass

from ..notation import plain
from ..notation.message import Message, Translate, fill
from ..source.span import Span


@dataclass(frozen=True, slots=True)
class Label:
    """A place and what is to be said of it."""

    span: Span
    text: Message | None = None


@dataclass(frozen=True, slots=True)
class Replacement:
    """A mend: put `text` in place of `span`. A formula has passed the kernel; a word is the nearest that is allowed.

    Where the span is a value between quotes, `text` is the value: it has to be written as those quotes ask.
    """

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One fault. `code` is stable; `severity` is `error`, `warning` or `notice`; `labels[0]` is where it is.

    `headline` says what is wrong in a teacher's words; `notes` say more (the failing point); `help` says how to mend it.
    """

    code: str
    severity: str
    headline: Message
    labels: tuple[Label, ...]
    notes: tuple[Message, ...] = ()
    help: Message | None = None
    replacement: Replacement | None = None


def told(message: Message | None, tell: Translate = str) -> str:
    """What a diagnostic says, in the language that `tell` speaks; a formula in it as one types it."""
    return "" if message is None else fill(message, plain, tell)
