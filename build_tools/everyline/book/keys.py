"""Judging one key: read it (in every reading that its text allows), then ask the kernel."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..kernel import Checked, IntegralValue, Refuted, SameDerivative, check, question_claim
from ..kernel.claims import Verdict
from ..notation import Context, NotationError, parse
from ..notation.build import contains, names, rebuild, walk
from ..notation.question import Question
from ..notation.tree import Absolute, ArbitraryConstant, Call, Node


@dataclass(frozen=True, slots=True)
class Judged:
    """A key as it was read and what it is worth. `read_as` (LaTeX) is set when one of several readings was taken."""

    tree: Node
    outcome: Verdict
    read_as: str = ""

    @property
    def lacks_constant(self) -> bool:
        return not contains(self.tree, ArbitraryConstant)


def key_context(question: Question, log: str, decimal: str) -> Context:
    """The names that a key may use: the question's variable and its parameters."""
    return Context(names=question.given.names | {question.variable}, log=log, decimal=decimal)


def judge_tree(question: Question, tree: Node, *, seconds: float = 10.0) -> Verdict:
    """The kernel's word on a key that was read.

    The value of an integral needs an antiderivative for a proof: the deriver is asked for one, and only then imported.
    """
    claim = question_claim(question, tree)
    outcome = _in_bars(check(claim, seconds=seconds), seconds)
    if not isinstance(claim, IntegralValue) or isinstance(outcome, Refuted) or (isinstance(outcome, Checked) and outcome.grade == "proved"):
        return outcome
    from ..derive import Budget, certificate

    found = certificate(claim, budget=Budget(seconds=min(seconds / 4, 2.0)))
    return check(replace(claim, certificate=found), seconds=seconds) if found else outcome


def _in_bars(outcome: Verdict, seconds: float) -> Verdict:
    """What is said of a key that has no value where it should: it may be right with |…| in its logarithms."""
    claim = outcome.claim
    if not isinstance(outcome, Refuted) or outcome.reason != "undefined" or not isinstance(claim, SameDerivative):
        return outcome
    mended = replace(claim, right=with_bars(claim.right))
    right = mended != claim and isinstance(check(mended, seconds=seconds), Checked)
    return replace(outcome, reason="needs-absolute-value") if right else outcome


def with_bars(node: Node) -> Node:
    """A tree with |…| in every logarithm that has none."""
    node = rebuild(node, with_bars)
    if isinstance(node, Call) and node.function == "ln" and not isinstance(node.argument, Absolute):
        return Call("ln", Absolute(node.argument))
    return node


def left_over(question: Question, answer: Node) -> str:
    """The letter that the value of an integral or a limit may not have: the variable, or a constant of integration. Empty for none."""
    if question.kind not in ("definite", "limit"):
        return ""
    if question.variable in names(answer) - names(question.node):
        return question.variable
    return next((part.name for part in walk(answer) if isinstance(part, ArbitraryConstant)), "")


def judge(question: Question, text: str, context: Context, *, seconds: float = 10.0) -> Judged:
    """Read and check a key.

    A text with two readings is taken in the one that is proved, if exactly one is; otherwise the ambiguity stays an error.

    Raises:
        NotationError: the text cannot be read, or has several readings of which not exactly one is right.
    """
    try:
        tree = parse(text, context, answer=True)
    except NotationError as error:
        if not error.readings:
            raise
        judged = [Judged(way.tree, judge_tree(question, way.tree, seconds=seconds), way.latex) for way in error.readings]
        right = [j for j in judged if isinstance(j.outcome, Checked)]
        if len(right) != 1:
            raise
        return right[0]
    return Judged(tree, judge_tree(question, tree, seconds=seconds))
