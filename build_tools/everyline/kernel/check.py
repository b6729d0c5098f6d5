"""The only way in: a claim, and what can be said of it."""

from __future__ import annotations

from fractions import Fraction
from time import process_time
from typing import Any

from flint import ctx

from ..arithmetic.balls import value
from ..arithmetic.program import Program
from ..arithmetic.stops import Budget, NotSupported, Undefined, Unsure
from ..notation.build import number
from ..notation.question import Given
from .claims import Checked, Claim, Equal, IntegralValue, Undecided, Verdict, stands
from .integrals import EqualCheck, IntegralCheck, has_values
from .ladder import PRECISION, Ladder
from .values import Values

#: What stops a check, and the reason that is given; all else that is raised is a mistake in the checker.
NAMED: dict[type[Exception], str] = {
    NotSupported: "not-supported", Budget: "budget", Unsure: "budget", Undefined: "nowhere-defined",
    MemoryError: "memory", RecursionError: "depth", OverflowError: "range",
}  # fmt: skip


def check(claim: Claim, *, seconds: float = 2.0) -> Verdict:
    """Decide a claim within `seconds` of the processor. Never raises for a claim made of valid trees; what is too much is `Undecided`."""
    saved, deadline = ctx.prec, process_time() + seconds
    try:
        ctx.prec = PRECISION
        return _decide(claim, deadline)
    except Exception as stop:
        # Whatever goes wrong inside can only cost a verdict, never make one.
        reason, said = NAMED.get(type(stop), "fault"), stop.args[0] if stop.args else ""
        detail = f"{type(stop).__name__}: {said}" if reason == "fault" else said if isinstance(said, str) else ""
        return Undecided(claim, reason, detail)
    finally:
        ctx.prec = saved


def _decide(claim: Claim, deadline: float) -> Verdict:
    """Every admissible choice of the parameters that is tried must stand; it is proved for symbols as well if the exact field says so."""
    outcomes: list[Checked] = []
    tried = samples(claim.setting.given)
    for values in tried:
        outcome = judge(claim, values, deadline).climb()
        if not isinstance(outcome, Checked) or not values:
            return outcome
        outcomes.append(outcome)
    if not outcomes:
        return Undecided(claim, "nowhere-defined", "no admissible parameters were found")
    proved = all(o.grade == "proved" for o in outcomes) and all(judge(claim, v, deadline).holds_for_symbols() for v in tried)
    weakest = min(outcomes, key=lambda outcome: (outcome.grade == "proved", outcome.digits))
    return stands(claim, "proved" if proved else "enclosed", weakest.digits, weakest.points, weakest.remarks)


def judge(claim: Claim, values: dict[str, Fraction], deadline: float) -> Ladder | Values:
    """Who decides a claim for one choice of the parameters."""
    valued = isinstance(claim, Equal) and (has_values(claim.left) or has_values(claim.right))
    kind: Any = IntegralCheck if isinstance(claim, IntegralValue) else EqualCheck if valued else Ladder
    return kind(claim, values, deadline)  # type: ignore[no-any-return]


def samples(given: Given) -> list[dict[str, Fraction]]:
    """Up to five admissible choices of the parameters, spread over all, so that signs and orders of size are met in many ways."""
    found = [values for values in given.choices() if _admissible(given, values)]
    return [found[k * len(found) * 618 // 1000 % len(found)] for k in range(min(5, len(found)))]


def _admissible(given: Given, values: dict[str, Fraction]) -> bool:
    for condition in given.conditions:
        program = Program("", {name: number(chosen) for name, chosen in values.items()})
        a, b = (value(program, program.add(side), {}) for side in (condition.left, condition.right))
        if not {"<": a < b, "<=": a <= b, ">": a > b, ">=": a >= b, "!=": a != b}[condition.relation]:
            return False
    return True
