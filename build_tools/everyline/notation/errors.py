"""What is said when a text is not a formula, or is more than one."""

from __future__ import annotations

from dataclasses import dataclass

from .message import Message, fill
from .tree import Node


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to understand a text, and how to write it so that nothing else can be meant."""

    tree: Node
    latex: str
    plain: str

    @property
    def write(self) -> str:
        return self.plain


class NotationError(ValueError):
    """A text that cannot be read, or not in one way only.

    `code` is stable (`ambiguous`, `undeclared`, `unclosed`, `limit`, …); `message` says what is wrong in a teacher's words
    and `help` how to mend it, both as sentences of the catalogue (`str(error)` is the first in English); `start` and `end` are
    code-point offsets into the text; `readings` are the meanings that an ambiguous text can have.
    """

    def __init__(
        self, code: str, message: Message, start: int, end: int, help: Message | None = None, readings: tuple[Reading, ...] = ()
    ) -> None:
        super().__init__(fill(message, str))
        self.code = code
        self.message = message
        self.start = start
        self.end = max(end, start)
        self.help = help
        self.readings = readings

    def __reduce__(self) -> tuple[object, ...]:
        return NotationError, (self.code, self.message, self.start, self.end, self.help, self.readings)

    def shifted(self, by: int) -> NotationError:
        """The same error for a text that begins `by` code points into a longer one."""
        return NotationError(self.code, self.message, self.start + by, self.end + by, self.help, self.readings)
