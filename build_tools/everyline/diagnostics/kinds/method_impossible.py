"""A method that does not lead to the answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import Message, say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="method-impossible",
    severity="error",
    title="Method does not work here",
    meaning="The file asks for a worked solution by a method (or a substitution) that does not work for this question.",
    mend="Ask for another method, or leave it out: the best two are then found.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class MethodImpossible:
    """`method` as the file names it, or its substitution; `reason` is what happens when it is tried."""

    code: ClassVar[str] = KIND.code
    span: Span
    method: str
    reason: Message | None = None
    substitution: bool = False


def diagnose(fact: MethodImpossible) -> Diagnostic:
    if not fact.substitution:
        said = say("The method `{method}` does not work for this question.", method=fact.method)
        return KIND.at(fact.span, said, notes=(fact.reason,))
    said = say("The substitution `{u}` does not work for this question.", u=fact.method)
    mend = say("Ask for another substitution, or leave the line out: the best methods are then found.")
    return KIND.at(fact.span, said, notes=(fact.reason,), help=mend)
