"""What makes two worked solutions different: the method, never the wording."""

from __future__ import annotations

from .attempts import substituted
from .route import Route, formulas
from .search import Plan

#: Methods that differ in how much is written down, and in nothing else.
ALIKE = {"cyclic-parts": "parts", "linear-substitution": "linear-inside"}
#: Moves that do not make a method of their own beside another one.
MINOR = frozenset({
    "linear-inside", "linear-substitution", "splitting", "expansion", "simplify", "completing-square", "numerator-split", "division",
    "arctangent-form", "arcsine-form", "identity", "change-of-base",
})  # fmt: skip
#: Names for putting a new letter in the place of an inside: which inside it is makes the method.
SUBSTITUTING = frozenset({"substitution", "linear-substitution", "linear-inside", "rationalising"})

#: A new letter for something that is not a line.
LETTERS = frozenset({"substitution", "rationalising"})


def different(plans: list[Plan]) -> list[Plan]:
    """The cheapest plan of every method, cheapest first."""
    kept: dict[tuple[str, ...], Plan] = {}
    for plan in sorted(plans, key=lambda p: p.cost):
        method = _essence(plan)
        if not any(_takes_more_letters(method, other) for other in kept):
            kept.setdefault(method, plan)
    return list(kept.values())


def _takes_more_letters(method: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether a method is another one with more new letters: x² as u and then √(u + 1) as v, where x² + 1 as u would have done."""
    ours, theirs = set(method), set(other)
    return ours - LETTERS == theirs - LETTERS and bool(theirs & LETTERS) and theirs < ours


def signature(plan: Plan) -> tuple[str, ...]:
    """What makes a method: its naming techniques in order, repetitions counted once."""
    return tuple(dict.fromkeys(plan.methods))


def _essence(plan: Plan) -> tuple[str, ...]:
    """What two plans must differ in to be different methods: the small moves on the way do not count beside a great one."""
    methods = _named(signature(plan))
    great = tuple(m for m in methods if m not in MINOR)
    return great or methods[:1]


def _named(methods: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(ALIKE.get(m, m) for m in methods))


def alike(one: Route, other: Route) -> bool:
    """Whether two solutions are the same method in other words: the same lines for other reasons, the same inside under another name of
    the substitution, or the same small moves in another order."""
    if formulas(one) == formulas(other):
        return True
    ours, theirs = set(_named(one.techniques)), set(_named(other.techniques))
    insides = substituted(one.lines)
    if insides and insides == substituted(other.lines) and ours - SUBSTITUTING == theirs - SUBSTITUTING:
        return True
    return ours == theirs and ours <= MINOR
