"""A value that YAML reads otherwise than it looks."""

from __future__ import annotations

from ...notation.message import Message, say
from ...source.faults import YamlTrap
from ...source.traps import TRAPS, in_single_quotes
from ..diagnostic import Diagnostic, Replacement
from ..kind import Kind

KIND = Kind(
    code="value-needs-quotes",
    severity="error",
    title="Value that needs quotes",
    meaning=(
        "Front matter is YAML, and YAML gives some characters a meaning of its own: a `|`, `>`, `*`, `&`, `!`, `{` or "
        "`[` at the start, a colon followed by a space, a `#` after a space, a backslash between double quotes. The "
        "value would not be read as it is written."
    ),
    mend="Put the value in single quotes.",
    wrong="key: |x| + C",
    right="key: '|x| + C'",
)


_ITEMS = {"hints", "key", "methods", "needs", "introduces"}


def _mend(fact: YamlTrap) -> tuple[Message, str]:
    """What to do, and the value as it has to be written where that is sure."""
    if fact.kind == "brackets" and fact.name in _ITEMS:
        said = say("Put each item of the list in single quotes, or write the items one below the other, each after a dash and a space.")
        return said, ""
    if fact.kind == "open-list":
        return say("Close the list with a `]`; if it is not meant to be a list, put the value in single quotes."), ""
    if fact.kind in {"after-quote", "open-quote"}:
        return say("Put the whole value in single quotes, and write a single quote inside it twice."), ""
    whole = fact.kind == "double-quote" and len(fact.raw) > 1 and fact.raw.endswith('"')
    quoted = in_single_quotes(fact.raw[1:-1] if whole else fact.raw)
    if fact.kind == "hash":
        return say("Put it in single quotes: {value} (If the `#` begins a remark, leave a space after it.)", value=quoted), ""
    return say("Put it in single quotes: {value}", value=quoted), quoted


def diagnose(fact: YamlTrap) -> Diagnostic:
    mend, quoted = _mend(fact)
    said = say("The value of `{name}` is not read as it is written.", name=fact.name)
    why = say("In front matter {why}.", why=Message(TRAPS[fact.kind]))
    return KIND.at(fact.span, said, notes=(why,), help=mend, replacement=Replacement(fact.span, quoted) if quoted else None)
