"""HTML where plain words or Markdown are wanted."""

from __future__ import annotations

from ...notation.message import say
from ...source.faults import RawHtml
from ..diagnostic import Diagnostic
from ..kind import Kind

KIND = Kind(
    code="raw-html",
    severity="error",
    title="HTML in the text",
    meaning=(
        "Problem files are written in Markdown, without HTML: a file may come from anybody, and HTML can run a program "
        "in the reader's browser."
    ),
    mend="Write it in plain words or Markdown; a formula goes between dollar signs.",
    wrong="title: <b>Halves</b>",
    right="title: Halves",
)


def diagnose(fact: RawHtml) -> Diagnostic:
    text = say("The text holds HTML: `{tag}`.", tag=fact.tag)
    return KIND.at(fact.span, say("`{field}` holds HTML: `{tag}`.", field=fact.where, tag=fact.tag) if fact.where else text)
