"""From a wrong answer to the slip behind it: offered only if the repaired answer passes the kernel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from time import process_time

from ..kernel import Certificate, Checked, Claim, IntegralValue, check, question_claim
from ..notation.build import children, substitute, subtract
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Diverges, DoesNotExist, Evaluation, Infinity, Integral, Limit, Node
from .answers import Term, terms
from .base import Slip
from .compare import looks_right, same
from .discovery import all_slips
from .estimate import likely_values
from .floats import at
from .linear import correction
from .twisted import right_derivative


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """A slip that explains a wrong answer. `fault` is the part of the claimed tree to mark, `checked` the kernel's word on `repaired`."""

    slip: str
    title: str
    message: Message
    hint: str
    repaired: Node
    fault: Node
    checked: Checked


def diagnose(
    question: Question,
    claimed: Node,
    *,
    right: Node | None = None,
    antiderivative: Node | None = None,
    certificate: Certificate | None = None,
    seconds: float = 0.5,
) -> Diagnosis | None:
    """The most telling slip that explains a wrong answer, within about `seconds`; None if none does.

    `right` is a right answer, where one is known; `antiderivative` (of a definite integral's integrand) lets the slips made at
    the limits and in the antiderivative be told apart; `certificate` is what lets the kernel prove a value or a limit
    (default: the antiderivative).
    Never raises for trees of valid notation.
    """
    search = _Search(
        question, claimed, right, antiderivative, antiderivative if certificate is None else certificate, process_time() + seconds
    )
    slips = [slip for slip in all_slips() if question.kind in slip.kinds]
    answers = search.right_answers()
    for place, slip in enumerate(slips):
        found = search.led_to(slip, answers)
        if found is not None:
            return search.told(slip, found)
        found = search.repaired_by(slip)
        if found is not None:
            telling = (better for better in slips[:place] if search.led_to(better, (found,)))
            return search.told(next(telling, slip), found)
        if process_time() > search.deadline:
            return None
    return search.told_of_the_antiderivative(answers)


def wrong_answers(question: Question, right: Node, *, antiderivative: Node | None = None) -> tuple[tuple[Slip, Node], ...]:
    """The wrong answers that the slips lead to from a right one, the most telling slip first; none that looks right again.

    For a definite integral with an `antiderivative` also those that come of a slip in it, as `Evaluation`s.
    """
    found: dict[Node, Slip] = {}
    for slip in all_slips():
        if question.kind in slip.kinds:
            for wrong in _led_to(slip, question, right, antiderivative):
                if not same(question, wrong, right):
                    found.setdefault(wrong, slip)
    if antiderivative is not None and question.kind == "definite":
        for slip, wrong in _in_the_antiderivative(question, antiderivative):
            if not same(question, wrong, right):
                found.setdefault(wrong, slip)
    return tuple((slip, wrong) for wrong, slip in found.items())


def _led_to(slip: Slip, question: Question, right: Node, antiderivative: Node | None) -> Iterator[Node]:
    yield from slip.leads_to(question, right)
    node = question.node
    if antiderivative is not None and isinstance(node, Integral) and node.lower is not None and node.upper is not None:
        yield from slip.leads_to(question, Evaluation(antiderivative, node.variable, node.lower, node.upper))


def _in_the_antiderivative(question: Question, antiderivative: Node) -> Iterator[tuple[Slip, Node]]:
    """What the slips of indefinite integrals do to a value."""
    node = question.node
    if not isinstance(node, Integral) or node.lower is None or node.upper is None:
        return
    inner = Question(Integral(node.integrand, node.variable), question.given, question.domain)
    for slip in all_slips():
        if "indefinite" in slip.kinds:
            for wrong in slip.leads_to(inner, antiderivative):
                yield slip, Evaluation(wrong, node.variable, node.lower, node.upper)


@dataclass(frozen=True, slots=True)
class _Search:
    question: Question
    claimed: Node
    right: Node | None
    antiderivative: Node | None
    certificate: Certificate | None
    deadline: float

    def checked(self, answer: Node) -> Checked | None:
        """The kernel's word, if it is a good one."""
        left = self.deadline - process_time()
        if left <= 0:
            return None
        outcome = check(claim_of(self.question, answer, self.certificate), seconds=left)
        return outcome if isinstance(outcome, Checked) else None

    def right_answers(self) -> tuple[tuple[Node, Checked], ...]:
        """What is known to be right before any slip is asked: the answer linearly corrected, the derivative, the given one."""
        question = self.question
        linear = correction(question, self.claimed)
        known: list[Node | None] = [None if linear is None else linear.repaired, right_derivative(question), self.right]
        if self.right is None:
            known += [self.difference()] if question.kind == "definite" else []
            known += likely_values(question.node) if isinstance(question.node, Limit) else ()
        found = ((answer, self.checked(answer)) for answer in known if answer is not None)
        return tuple((answer, checked) for answer, checked in found if checked is not None)

    def difference(self) -> Node | None:
        """F(b) - F(a), where the antiderivative is known and the limits are finite."""
        node, whole = self.question.node, self.antiderivative
        if whole is None or not isinstance(node, Integral) or node.lower is None or node.upper is None:
            return None
        found = subtract(*(substitute(whole, {node.variable: end}) for end in (node.upper, node.lower)))
        return found if at(found, {}) is not None else None

    def led_to(self, slip: Slip, answers: tuple[tuple[Node, Checked], ...]) -> tuple[Node, Checked] | None:
        for answer, checked in answers:
            for wrong in _led_to(slip, self.question, answer, self.antiderivative):
                if same(self.question, wrong, self.claimed):
                    return answer, checked
                if process_time() > self.deadline:
                    return None
        return None

    def repaired_by(self, slip: Slip) -> tuple[Node, Checked] | None:
        for answer in slip.repairs(self.question, self.claimed):
            if process_time() > self.deadline:
                return None
            if answer != self.claimed and self.may_be_right(answer):
                checked = self.checked(answer)
                if checked is not None:
                    return answer, checked
        return None

    def may_be_right(self, answer: Node) -> bool:
        if self.question.kind in ("definite", "limit"):
            return self.right is None or answer == self.right or same(self.question, answer, self.right)
        return looks_right(self.question, answer)

    def told(self, slip: Slip, found: tuple[Node, Checked]) -> Diagnosis:
        answer, checked = found
        fault = fault_of(self.question, self.claimed, answer)
        message = say(slip.explains, fault=fault) if "{fault}" in slip.explains else Message(slip.explains)
        return Diagnosis(slip.id, slip.title, message, slip.hint, answer, fault, checked)

    def told_of_the_antiderivative(self, answers: tuple[tuple[Node, Checked], ...]) -> Diagnosis | None:
        if self.antiderivative is None or not answers:
            return None
        for slip, wrong in _in_the_antiderivative(self.question, self.antiderivative):
            if same(self.question, wrong, self.claimed):
                return self.told(slip, answers[0])
            if process_time() > self.deadline:
                return None
        return None


def claim_of(question: Question, answer: Node, certificate: Certificate | None = None) -> Claim:
    """What an answer to a question claims, with what lets the kernel prove a value."""
    claim = question_claim(question, answer)
    return replace(claim, certificate=certificate) if isinstance(claim, IntegralValue) else claim


def fault_of(question: Question, claimed: Node, repaired: Node) -> Node:
    """The smallest part of the claimed answer that the repaired one does not have."""
    if isinstance(claimed, Infinity | Diverges | DoesNotExist) or question.kind in ("definite", "limit"):
        return _narrowed(claimed, repaired)
    x = question.variable
    ours, theirs = list(terms(claimed, x)), list(terms(repaired, x))
    wrong = [term for term in ours if not _taken(question, term, theirs)]
    if len(wrong) != 1:
        return _narrowed(claimed, repaired)
    return _narrowed(wrong[0].place, theirs[0].tree) if len(theirs) == 1 else wrong[0].place


def _taken(question: Question, term: Term, others: list[Term]) -> bool:
    """Whether one of the other terms is this one; it is then taken away."""
    for place, other in enumerate(others):
        if same(question, term.tree, other.tree):
            del others[place]
            return True
    return False


def _narrowed(claimed: Node, repaired: Node) -> Node:
    """Into the one part where two trees of one shape differ, as long as there is one that is more than a number."""
    ours, theirs = children(claimed), children(repaired)
    if type(claimed) is not type(repaired) or len(ours) != len(theirs):
        return claimed
    different = [(a, b) for a, b in zip(ours, theirs, strict=True) if a != b]
    if len(different) != 1 or not children(different[0][0]):
        return claimed
    return _narrowed(*different[0])
