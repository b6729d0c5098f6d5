"""A problem that needs what was not taught."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="needs-untaught",
    severity="warning",
    title="Not taught yet",
    meaning="The question cannot be worked with the techniques that this chapter and those before it introduce.",
    mend="Move the problem to a later chapter, or name the technique in `needs`.",
    wrong="",
    right="needs: [parts]",
)


@dataclass(frozen=True, slots=True)
class NeedsUntaught:
    """`techniques` are those missing and `chapter` the folder of the problem."""

    code: ClassVar[str] = KIND.code
    span: Span
    techniques: tuple[str, ...]
    chapter: str = ""


def diagnose(fact: NeedsUntaught) -> Diagnostic:
    said = say("This question needs what has not been taught yet: {names}.", names=", ".join(f"`{name}`" for name in fact.techniques))
    mend = say("Move the problem to a later chapter, or add a line `needs: [{names}]`.", names=", ".join(fact.techniques))
    return KIND.at(fact.span, said, help=mend)
