"""The search: a plan is a step and a plan for each question that the step leaves open; the cheapest plans come first.

Iterative deepening by cost over an and-or graph with a memo of questions: deterministic, and a cheap plan is never missed
because a dear branch was entered first. Every step is checked by the kernel before it is used.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from heapq import heappop, heappush

from ..algebra.clock import Stopped, until, watch
from ..algebra.expand import split_constant
from ..algebra.order import text
from ..kernel import Checked
from ..notation.build import size, summands
from ..notation.question import Question
from ..notation.tree import Derivative, Integral, Limit, Node
from ..techniques import Step, Technique
from ..techniques.forms import linear_form, standard
from .budget import Meter, judged
from .steps import step_claim

#: Techniques that every method uses and that do not name one.
SILENT = frozenset({"limit-value", "sum", "power", "table", "derivative-table", "derivative-sum"})
DEPTH = 14
#: The most that a step may cost less than its technique does.
REBATE = 0.5
#: The limits of cost under which a question is looked at, one after the other.
LADDER = (2.0, 4.5, 8.0, 12.0, 17.0, 23.0, 30.0)


@dataclass(frozen=True, slots=True)
class Plan:
    """A step and the plans for its open parts, from left to right."""

    question: Question
    step: Step
    parts: tuple[Plan, ...]
    cost: float

    @property
    def methods(self) -> tuple[str, ...]:
        """The naming techniques in the order in which they are used."""
        own = () if self.step.technique in SILENT else (self.step.technique,)
        return own + tuple(m for part in self.parts for m in part.methods)

    @property
    def used(self) -> frozenset[str]:
        """Every technique of the plan, the silent ones too."""
        return frozenset((self.step.technique,)).union(*(part.used for part in self.parts))


def open_parts(node: Node) -> Iterator[Integral | Derivative | Limit]:
    """The questions that a tree leaves open, from left to right (not those inside others)."""
    stack = [node]
    while stack:
        current = stack.pop()
        if isinstance(current, Integral | Derivative | Limit):
            yield current
            continue
        from ..notation.build import children

        stack.extend(reversed(children(current)))


class Proposals:
    """The steps for one question in the order of their cost, worked out as far as someone has looked."""

    def __init__(self, question: Question, techniques: tuple[Technique, ...]) -> None:
        self.question = question
        self.waiting = [t for t in techniques if question.kind in t.kinds][::-1]
        self.ready: list[tuple[float, int, Step]] = []
        self.done: list[tuple[float, Step]] = []
        self.seen: set[tuple[str, Node, tuple[tuple[str, Node], ...]]] = set()
        self.met = 0

    def in_order(self) -> Iterator[tuple[float, Step]]:
        place = 0
        while place < len(self.done) or self._next():
            yield self.done[place]
            place += 1

    def _next(self) -> bool:
        """Whether one more step was found."""
        while True:
            while self.waiting and (not self.ready or self.waiting[-1].cost - REBATE <= self.ready[0][0]):
                self._ask(self.waiting[-1])
                self.waiting.pop()
            if not self.ready:
                return False
            cost, _, step = heappop(self.ready)
            key = (step.technique, step.result, step.bindings)
            if key not in self.seen:
                self.seen.add(key)
                self.done.append((cost, step))
                return True

    def _ask(self, technique: Technique) -> None:
        watch()
        for step in technique.propose(self.question):
            heappush(self.ready, (technique.cost + step.extra_cost, self.met, step))
            self.met += 1


class Search:
    """One search for one question: its memo, its meter and the techniques it may use."""

    def __init__(self, techniques: tuple[Technique, ...], meter: Meter) -> None:
        self.techniques = techniques
        self.meter = meter
        self.best: dict[tuple[Node, object], tuple[float, Plan | None]] = {}
        self.steps: dict[tuple[Node, object], Proposals] = {}
        self.least: dict[tuple[Node, object], float] = {}
        self.verdicts: dict[tuple[Node, Step], bool] = {}

    # -- steps --------------------------------------------------------------------------------------------------

    def proposals(self, question: Question) -> Iterator[tuple[float, Step]]:
        """Every step that some technique proposes, cheapest first; ties in the order of the catalogue.

        Techniques are asked as late as the order allows: a question that a table answers never meets the dear ones.
        """
        key = (question.node, question.domain)
        if key not in self.steps:
            self.steps[key] = Proposals(question, self.techniques)
        yield from self.steps[key].in_order()

    def holds(self, question: Question, step: Step) -> bool:
        """Whether the kernel stands behind the step."""
        key = (question.node, step)
        if key not in self.verdicts:
            claim = step_claim(question, step)
            self.verdicts[key] = claim is not None and isinstance(judged(claim, 1.0), Checked)
        return self.verdicts[key]

    def floor(self, question: Question) -> float:
        """A cost that no plan for the question can go below, without looking at it closely."""
        key = (question.node, question.domain)
        known = self.best.get(key)
        if known is not None:
            return known[1].cost if known[1] is not None else known[0] + 0.1
        if key not in self.least:
            self.least[key] = least_cost(question)
        return self.least[key]

    # -- plans --------------------------------------------------------------------------------------------------

    def plan(self, question: Question, most: float, above: frozenset[str] = frozenset(), depth: int = 0) -> Plan | None:
        """The cheapest plan of cost at most `most`, or None. `above` are the questions this one came from.

        Looked for under the rising limits of a fixed ladder, so that an easy question among hard ones is answered easily and
        what is known of a question serves all that meet it.
        """
        mark = text(question.body)
        if depth > DEPTH or mark in above or size(question.body) > 160:
            return None
        for limit in (*(rung for rung in LADDER if rung < most), most):
            known = self.best.get((question.node, question.domain))
            if known is None or (known[1] is None and known[0] < limit):
                known = self.explored(question, limit, above | {mark}, depth)
            if known[1] is not None:
                return known[1] if known[1].cost <= most else None
        return None

    def explored(self, question: Question, limit: float, above: frozenset[str], depth: int) -> tuple[float, Plan | None]:
        """What there is within the limit, remembered for every later asking."""
        key = (question.node, question.domain)
        if key not in self.best:
            self.meter.open()
        best: Plan | None = None
        for cost, step in self.proposals(question):
            if cost > limit or (best is not None and cost >= best.cost):
                break
            found = self.follow(question, step, cost, limit if best is None else best.cost - 1e-9, above, depth)
            if found is not None and (best is None or found.cost < best.cost):
                best = found
        self.best[key] = (limit, best)
        return limit, best

    def follow(self, question: Question, step: Step, cost: float, most: float, above: frozenset[str], depth: int) -> Plan | None:
        """The plan that begins with this step, if its open parts can be done for what is left."""
        opened = questions(question, step)
        left = most - cost
        if left < 0 or any(text(q.body) in above and q.variable == question.variable for q in opened):
            return None
        done: list[Plan] = []
        floors = [self.floor(q) for q in opened]
        reserve = sum(floors)
        if reserve > left:
            return None
        for q, least in zip(opened, floors, strict=True):
            reserve -= least
            part = self.plan(q, left - reserve, above, depth + 1)
            if part is None:
                return None
            left -= part.cost
            done.append(part)
        if not self.holds(question, step):
            return None
        return Plan(question, step, tuple(done), cost + sum(p.cost for p in done))


def least_cost(question: Question) -> float:
    """Standard forms are cheap, a sum needs all its terms, anything else needs a method and then a form."""
    if not isinstance(question.node, Integral):
        return 0.5
    body = question.node.integrand
    terms = summands(body)
    total = 0.5 if len(terms) > 1 else 0.0
    for term in terms:
        _, rest = split_constant(term, question.variable)
        if standard(rest, question.variable) is not None:
            total += 1.0
        else:
            total += 1.6 if linear_form(rest, question.variable) is not None else 2.0
    return min(total, 2.7) if len(terms) > 1 else total


def questions(question: Question, step: Step) -> list[Question]:
    """The questions that the step leaves open. A part in the question's own variable keeps its domain."""
    found = []
    for node in open_parts(step.result):
        domain = question.domain if node.variable == question.variable else step.region
        found.append(replace(question, node=node, domain=domain))
    return found


def cheapest(search: Search, question: Question, limits: tuple[float, ...]) -> Plan | None:
    """The cheapest plan, looked for under rising limits; None when the last fails or the budget is spent."""
    with suppress(Stopped), until(search.meter.search_by):
        for limit in limits:
            found = search.plan(question, limit)
            if found is not None:
                return found
    return None
