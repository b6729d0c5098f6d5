"""Answers in different forms: each key brought together with what the first worked solution ends in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ..derive.reconcile import reconcile
from ..derive.route import Derivation
from ..kernel import Checked
from ..notation.build import without_constant
from ..notation.question import Question
from .data import KeyVerdict


def with_keys(question: Question, keys: Iterable[KeyVerdict], found: Derivation) -> Derivation:
    """The derivation with a reconciliation for every right key that looks different from all answers that it has already."""
    if not found.routes or question.kind != "indefinite":
        return found
    pairs, known = list(found.reconciliations), {without_constant(route.answer) for route in found.routes}
    for key in keys:
        if key.tree is None or not isinstance(key.outcome, Checked) or without_constant(key.tree) in known:
            continue
        known.add(without_constant(key.tree))
        joined = reconcile(question, key.tree, found.routes[0].answer)
        pairs += [] if joined is None else [joined]
    return replace(found, reconciliations=tuple(pairs))
