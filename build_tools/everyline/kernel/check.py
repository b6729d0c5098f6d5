"""The only way in: a claim, and what can be said of it."""

from __future__ import annotations

from fractions import Fraction
from itertools import islice, product
from time import monotonic

from flint import ctx

from ..arithmetic.balls import ball, run
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported
from ..notation.build import number
from ..notation.question import Given, Question
from ..notation.tree import Derivative, Integral, Limit, Node
from .claims import (
    Checked,
    Claim,
    DerivativeOf,
    Equal,
    IntegralValue,
    LimitValue,
    Refuted,
    SameDerivative,
    Setting,
    Undecided,
    Verdict,
    seal,
)
from .integrals import IntegralCheck
from .ladder import PRECISION, Ladder
from .values import EqualCheck, LimitCheck, has_values


def check(claim: Claim, *, seconds: float = 2.0) -> Verdict:
    """Decide a claim within about `seconds`. Never raises for a claim made of valid trees; what is too much is `Undecided`."""
    saved, deadline = ctx.prec, monotonic() + seconds
    try:
        ctx.prec = PRECISION
        return _decide(claim, deadline)
    except NotSupported as stop:
        return Undecided(claim, "not-supported", str(stop))
    except Budget as stop:
        return Undecided(claim, "budget", str(stop))
    except Exception as stop:
        # Whatever else goes wrong inside can only cost a verdict, never make one.
        return Undecided(claim, "budget", type(stop).__name__)
    finally:
        ctx.prec = saved


def _decide(claim: Claim, deadline: float) -> Verdict:
    if isinstance(claim, IntegralValue | LimitValue) or (isinstance(claim, Equal) and any(map(has_values, (claim.left, claim.right)))):
        return decide_value(claim, deadline)
    choices = samples(claim.setting.given)
    outcomes: list[Checked] = []
    for values in choices:
        outcome = Ladder(claim, {name: number(value) for name, value in values.items()}, deadline).climb()
        if not isinstance(outcome, Checked) or not values:
            return outcome
        outcomes.append(outcome)
    if not outcomes:
        return Undecided(claim, "nowhere-defined", "no admissible parameters were found")
    # Every instance stands. It is proved for symbols as well if the exact field says so at the points of the instances.
    symbolic = Ladder(claim, {}, deadline)
    proved = all(o.grade == "proved" for o in outcomes) and all(
        symbolic.proves({k: ball(v) for k, v in values.items()}) for values in choices
    )
    last = outcomes[-1]
    return seal(claim, "proved" if proved else "enclosed", last.digits, last.points, last.remarks, last.pieces)


def decide_value(claim: Equal | IntegralValue | LimitValue, deadline: float) -> Verdict:
    """Every admissible choice of the parameters that is tried must give the claimed value."""
    kind = LimitCheck if isinstance(claim, LimitValue) else IntegralCheck if isinstance(claim, IntegralValue) else EqualCheck
    outcomes = []
    for values in samples(claim.setting.given):
        outcomes.append(kind(claim, {name: number(value) for name, value in values.items()}, deadline).outcome())
        if outcomes[-1] is None:
            return Undecided(claim, "needs-certificate")
        if isinstance(outcomes[-1], Refuted):
            return outcomes[-1]
    if not outcomes:
        return Undecided(claim, "nowhere-defined", "no admissible parameters were found")
    proved = all(o is True for o in outcomes) and not claim.setting.given.parameters
    digits = min((o for o in outcomes if o is not True), default=0)
    return seal(claim, "proved" if proved else "enclosed", 0 if proved else digits, len(outcomes), (), 1)


def samples(given: Given) -> list[dict[str, Fraction]]:
    """Up to five admissible choices of the parameters."""
    whole = [Fraction(n) for n in (2, 3, -2, 5, 1, -3)]
    broken = [Fraction(n) for n in ("7/5", "-9/5", "17/6", "-1/7", "13/3", "1/3", "-4")]
    choices = product(*(whole if p.integer else broken for p in given.parameters))
    named = (dict(zip((p.name for p in given.parameters), c, strict=True)) for c in islice(choices, 2500))
    found = [values for values in named if len(set(values.values())) == len(values) and _admissible(given, values)]
    # Spread over all of them, so that signs and orders of size are met in many ways.
    return [found[k * len(found) * 618 // 1000 % len(found)] for k in range(min(5, len(found)))]


def _admissible(given: Given, values: dict[str, Fraction]) -> bool:
    program = Program("", {name: number(value) for name, value in values.items()})
    for condition in given.conditions:
        left, right = program.add(condition.left), program.add(condition.right)
        balls = run(program, program.order(left, right), {}, strict=False)
        a, b = balls[left], balls[right]
        if not {"<": a < b, "<=": a <= b, ">": a > b, ">=": a >= b, "!=": a != b}[condition.relation]:
            return False
    return True


def question_claim(question: Question, key: Node) -> Claim:
    """The claim that a key answers a question."""
    setting = Setting(question.variable, question.domain, question.given)
    match question.node:
        case Integral(body, _, Node() as lower, Node() as upper):
            return IntegralValue(body, lower, upper, key, setting)
        case Limit(body, _, point, side):
            return LimitValue(body, point, side, key, setting)
        case Derivative(body, _, order):
            return DerivativeOf(body, order, key, setting)
    return SameDerivative(question.node, key, setting)
