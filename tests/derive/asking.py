"""Questions and answers as the tests of the deriver write them."""

from __future__ import annotations

from everyline.derive import Budget, Derivation, derive
from everyline.notation import Context, parse, parse_domain, parse_given, parse_question, plain
from everyline.notation.question import Given, Question
from everyline.notation.tree import Node


def ask(text: str, domain: str | None = None, given: str = "") -> Question:
    known = parse_given(given, Context()) if given else Given()
    question = parse_question(text, known, Context(names=known.names))
    if domain is None:
        return question
    return Question(question.node, question.given, parse_domain(domain, question.variable, Context(names=frozenset({question.variable}))))


def solve(text: str, **options: object) -> Derivation:
    domain, given = options.pop("domain", None), str(options.pop("given", ""))
    return derive(ask(text, domain, given), budget=Budget(seconds=10), **options)  # type: ignore[arg-type]


def tree(text: str, variable: str = "x") -> Node:
    return parse(text, Context(names=frozenset({variable})))


def written(derivation: Derivation) -> str:
    """Everything that a reader would see of the worked solutions, as text."""
    lines = []
    for route in derivation.routes:
        lines.append(" ".join(route.techniques))
        lines += [f"{line.kind} {plain(line.left) if line.left else ''} = {plain(line.shown)} ; {line.reason.text}" for line in route.lines]
    return "\n".join(lines)
