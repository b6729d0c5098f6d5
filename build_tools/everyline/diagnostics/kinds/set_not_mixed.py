"""A mixed set in which neighbours begin alike."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="set-not-mixed",
    severity="error",
    title="Not mixed",
    meaning="In a mixed set no two neighbours may begin their preferred solution with the same technique: the student would not have to "
    "choose a method any more.",
    mend="Change the order or the choice of problems, or write `kind: plain`.",
    wrong="problems: [parts/by-the-tide, parts/a-letter-more]",
    right="problems: [parts/by-the-tide, substitution/log-in-a-wave]",
)


@dataclass(frozen=True, slots=True)
class NotMixed:
    """`kind` is `neighbours` (two of them begin with the technique `name`), `too-many` (more than half do, so that no order keeps
    them apart) or `unworked` (the problem `name` has no worked solution, so that nobody can say how it begins)."""

    code: ClassVar[str] = KIND.code
    span: Span
    kind: str
    name: str


def diagnose(fact: NotMixed) -> Diagnostic:
    if fact.kind == "unworked":
        said = say("`{name}` has no worked solution, so that it cannot be told how it begins.", name=fact.name)
        return KIND.at(fact.span, said, help=say("Take another problem, or write `kind: plain`."))
    if fact.kind == "too-many":
        said = say("More than half of the problems that fit begin with `{name}`. No order keeps them apart.", name=fact.name)
        return KIND.at(fact.span, said, help=say("Pick from more chapters, levels or techniques, or ask for fewer."))
    return KIND.at(fact.span, say("This problem begins with `{name}`, as the one before it does.", name=fact.name))
