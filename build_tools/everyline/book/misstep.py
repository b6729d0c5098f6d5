"""“Find the slip”: a worked solution with one slip in it. The checker refutes exactly one line; those after it follow from it.

After K. Durkin, B. Rittle-Johnson, "The effectiveness of using incorrect examples to support learning about decimal magnitude",
Learning and Instruction 22(3), 2012: a wrong solution teaches most beside the right one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ..algebra import tidy
from ..derive.route import Line
from ..kernel import Checked, Equal, Refuted, SameDerivative, Setting, check
from ..notation.build import add, contains, multiply, names, substitute, walk, without_constant
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import ArbitraryConstant, Derivative, Evaluation, Integral, Limit, Name, Negative, Node, Product, Quotient
from ..slips.base import Slip
from ..slips.diagnose import fault_of, wrong_answers

#: How many slips are tried, and how long each check may take.
TRIES, SECONDS = 12, 0.5
#: Slips that are made when limits are put in.
_AT_LIMITS = frozenset(("limits-added", "limits-swapped", "lower-limit-ignored"))


@dataclass(frozen=True, slots=True)
class Misstep:
    """A solution that goes wrong: its lines, the number of the wrong one, and `right`, the line that belongs there.

    `says` tells the slip, `refuted` is the checker's word against the wrong line as what follows from the line before it.
    """

    lines: tuple[Line, ...]
    wrong: int
    right: Line
    slip: str
    says: Message
    refuted: Refuted


def misstep(question: Question, lines: Sequence[Line]) -> Misstep | None:
    """The solution with the most telling slip that can be put into it; None where none can, or where there is but one line."""
    if len(lines) < 2 or question.kind not in ("indefinite", "definite"):
        return None
    found = (_made(question, lines, place, slip, wrong) for place, slip, wrong in _slips(question, lines))
    return next((made for made in found if made is not None), None)


def _slips(question: Question, lines: Sequence[Line]) -> Iterator[tuple[int, Slip, Node]]:
    """Wrong versions of the first line in which the integral is gone, the most telling first."""
    before: Node = question.node
    for place, line in enumerate(lines):
        if line.kind != "equal" or (line.left is not None and not contains(line.left, Integral)):
            continue
        if line.left is not None:
            return
        if not contains(line.shown, (Integral, Evaluation, Limit, Derivative)):
            for slip, wrong in _wrong(question, before, line.shown)[:TRIES]:
                yield place, slip, wrong
            return
        before = line.shown


def _wrong(question: Question, before: Node, right: Node) -> list[tuple[Slip, Node]]:
    if question.kind == "definite":
        if not isinstance(before, Evaluation):
            return []
        ways = wrong_answers(question, right, antiderivative=before.body)
        return [(slip, wrong) for slip, wrong in ways if slip.id in _AT_LIMITS and not contains(wrong, Evaluation)]
    asked = _asked(question, before)
    if asked is None:
        return []
    ways = wrong_answers(asked, right)
    return [(slip, wrong) for slip, wrong in ways if slip.rank < 9 and _likely(wrong, right)]


def _likely(wrong: Node, right: Node) -> bool:
    """Whether a wrong line looks as a hand would write it: with a constant if the right one has one, and no fraction in a fraction."""
    if contains(wrong, ArbitraryConstant) != contains(right, ArbitraryConstant):
        return False
    fractions = (part for part in walk(wrong) if isinstance(part, Quotient))
    return not any(isinstance(inside, Quotient) for part in fractions for inside in (*walk(part.top), *walk(part.bottom)))


def _asked(question: Question, before: Node) -> Question | None:
    """The integral that a line is the answer to, a factor in front of it taken inside; None where it is not the only term."""
    factors: list[Node] = []
    node = before
    while isinstance(node, Negative | Product):
        if isinstance(node, Negative):
            factors, node = [*factors, node], node.argument
            continue
        whole = [factor for factor in node.factors if isinstance(factor, Integral)]
        if len(whole) != 1:
            return None
        factors, node = [*factors, *(factor for factor in node.factors if factor is not whole[0])], whole[0]
    if isinstance(node, Integral):
        inside = node.integrand
        for factor in reversed(factors):
            inside = Negative(inside) if isinstance(factor, Negative) else multiply(factor, inside)
        return Question(Integral(inside, node.variable), question.given, question.domain if node.variable == question.variable else None)
    only_x = all(part.variable == question.variable for part in walk(before) if isinstance(part, Integral))
    return question if only_x else None


def _made(question: Question, lines: Sequence[Line], place: int, slip: Slip, wrong: Node) -> Misstep | None:
    """The solution with a wrong line at a place, and what follows from it; None where the checker does not say just that."""
    meanings: dict[str, Node] = {}
    for line in lines[:place]:
        if line.kind == "let" and isinstance(line.left, Name):
            meanings[line.left.name] = substitute(line.shown, meanings)
    setting = Setting(question.variable, question.domain, question.given, tuple(meanings.items()))
    before = next((line.shown for line in reversed(lines[:place]) if line.kind == "equal" and line.left is None), question.node)
    verdict = _judged(question, before, wrong, setting)
    if not isinstance(verdict, Refuted):
        return None
    rest = _followed(question, lines[place:], wrong, meanings, setting)
    if rest is None:
        return None
    kept = tuple(replace(line, detail=()) for line in lines[:place])
    bad = replace(lines[place], shown=wrong, checked=None, detail=())
    says = say(slip.explains, fault=fault_of(question, wrong, lines[place].shown)) if "{fault}" in slip.explains else Message(slip.explains)
    return Misstep((*kept, bad, *rest), place, replace(lines[place], detail=()), slip.id, says, verdict)


def _judged(question: Question, before: Node, after: Node, setting: Setting) -> object:
    claim = SameDerivative(before, after, setting) if question.kind == "indefinite" else Equal(before, after, setting)
    return check(claim, seconds=SECONDS)


def _followed(
    question: Question, lines: Sequence[Line], wrong: Node, meanings: Mapping[str, Node], setting: Setting
) -> tuple[Line, ...] | None:
    """The lines after the wrong one, done to it as they were done to the right one; None where a line does not follow."""
    now, made = wrong, []
    for before, line in pairwise(lines):
        if line.kind != "equal" or line.left is not None:
            return None
        put_back = bool(names(before.shown) & meanings.keys() - names(line.shown))
        after = tidy(substitute(now, meanings)) if put_back else tidy(now)
        if contains(line.shown, ArbitraryConstant) and not contains(after, ArbitraryConstant):
            after = add(after, *(part for part in walk(line.shown) if isinstance(part, ArbitraryConstant)))
        if after == now:
            continue
        verdict = _judged(question, now, after, setting)
        if not isinstance(verdict, Checked):
            return None
        made.append(replace(line, shown=after, checked=verdict, detail=()))
        now = after
    if question.kind == "indefinite" and names(without_constant(now)) & meanings.keys():
        return None
    return tuple(made)
