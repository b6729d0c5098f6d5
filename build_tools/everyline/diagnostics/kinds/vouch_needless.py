"""A person answers for a key that is proved."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ...notation.message import say
from ...source.span import Span
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="vouch-needless",
    severity="warning",
    title="Vouching not needed",
    meaning="The file says that a person answers for the key, but it has been proved (or refuted), so nobody has to.",
    mend="Take `vouched` out.",
    wrong="",
    right="",
)


@dataclass(frozen=True, slots=True)
class NeedlessVouch:
    """`span` is that of the `vouched` field."""

    code: ClassVar[str] = KIND.code
    span: Span


def diagnose(fact: NeedlessVouch) -> Diagnostic:
    return KIND.at(fact.span, say("Nobody has to answer for this key: it has been decided."))
