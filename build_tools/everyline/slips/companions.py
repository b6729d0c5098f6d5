"""What may have been lost from an answer: functions that stand beside those that are there, tried as c·g against what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..algebra.derivative import NotSupported, derivative
from ..notation.build import ONE, add, call, multiplicands, multiply, names, power, root, subtract, walk, without_constant
from ..notation.question import Question
from ..notation.tree import Absolute, Call, Name, Node, Power, Quotient, Root
from .answers import coefficient, scale, terms
from .compare import Values, samples
from .corruptions import add_one
from .floats import at
from .integrals import antiderivative

MAX_GUESSES = 160


def completed(question: Question, claimed: Node) -> Iterator[Node]:
    """The answer with one more term c·g, for every likely g that makes up for what its derivative (or it itself) lacks."""
    x = question.variable
    derived = question.kind == "derivative"
    try:
        goal = derivative(question.body, x) if derived else question.body
        missing = subtract(goal, claimed if derived else derivative(claimed, x))
    except NotSupported:
        return
    points = [values for window in samples(question) for values in window]
    known = [(values, value) for values in points if (value := at(missing, values)) is not None and _is_clear(value, at(goal, values))]
    if _ratio(claimed if derived else _slope(claimed, x), known) is not None:
        return  # the whole answer is off by a factor: it lacks no term
    for guess in _guesses(question, claimed, goal):
        factor = _ratio(guess if derived else _slope(guess, x), known)
        if factor is not None:
            yield add(claimed, scale(guess, factor, x))


def _is_clear(value: float, goal: float | None) -> bool:
    """Whether what is missing is more than what rounding may have left of the rest."""
    return goal is None or abs(value) > 1e-6 * abs(goal)


def _slope(guess: Node, x: str) -> Node | None:
    try:
        return derivative(guess, x)
    except NotSupported:
        return None


def _ratio(slope: Node | None, known: list[tuple[Values, float]]) -> Fraction | None:
    """The constant c with missing = c·slope at all the points where both are defined, as a simple fraction."""
    ratios: list[float] = []
    for values, value in known:
        below = None if slope is None else at(slope, values)
        if below is None:
            continue
        if abs(below) < 1e-12:
            if abs(value) > 1e-9:
                return None
            continue
        ratios.append(value / below)
        if abs(ratios[-1] - ratios[0]) > 1e-7 * abs(ratios[0]) + 1e-9:
            return None
    if len(ratios) < 3:
        return None
    near = Fraction(ratios[0]).limit_denominator(720)
    return near if near and abs(float(near) - ratios[0]) < 1e-8 * (1 + abs(ratios[0])) else None


def _guesses(question: Question, claimed: Node, goal: Node) -> Iterator[Node]:
    x = question.variable
    whole = coefficient(without_constant(claimed), x)[2]
    present = [coefficient(part.tree, x)[2] for part in terms(claimed, x)]
    seen: dict[Node, None] = dict.fromkeys(present)
    for guess in _all_guesses(question, claimed, goal):
        _, _, core = coefficient(guess, x)
        if x in names(core) and core not in seen and core != whole:
            seen[core] = None
            yield core
        if len(seen) >= MAX_GUESSES + len(present):
            return


def _all_guesses(question: Question, claimed: Node, goal: Node) -> Iterator[Node]:
    x = question.variable
    yield from (part.tree for part in terms(goal, x))
    for part in terms(question.body, x):
        found = antiderivative(part.tree, x)
        if found is not None:
            yield from (inner.tree for inner in terms(found, x))
    subtrees = tuple(dict.fromkeys(part for node in (without_constant(claimed), question.body) for part in walk(node) if x in names(part)))
    for tree in subtrees:
        yield tree
        yield from _beside(tree, x)
    variable = Name(x)
    calls = [part for part in subtrees if isinstance(part, Call | Root) or (isinstance(part, Power) and x in names(part.exponent))]
    yield from (power(variable, n) for n in range(1, 7))
    for function in calls:
        partner = _partner(function)
        for n in range(4):
            yield multiply(power(variable, n), function)
            if partner is not None:
                yield multiply(power(variable, n), partner)


#: Functions that turn into each other under differentiation.
_PARTNERS = {"sin": "cos", "cos": "sin", "sinh": "cosh", "cosh": "sinh", "tan": "sec", "sec": "tan", "cot": "csc", "csc": "cot"}


def _partner(node: Node) -> Node | None:
    return Call(_PARTNERS[node.function], node.argument) if isinstance(node, Call) and node.function in _PARTNERS else None


def _beside(node: Node, x: str) -> Iterator[Node]:
    """What parts and substitutions leave beside a function: ln(1 + u²) beside arctan u, √(1 - u²) beside arcsin u, and such."""
    match node:
        case Call(function="arctan" | "arccot", argument=u):
            yield call("ln", add(ONE, power(u, 2)))
            yield u
        case Call(function="arcsin" | "arccos", argument=u):
            yield root(subtract(ONE, power(u, 2)))
            yield call("ln", Absolute(add(Name(x), root(subtract(power(Name(x), 2), ONE)))))
        case Call(function="ln", argument=Quotient(top=top, bottom=bottom)):
            yield call("ln", Absolute(multiply(top, bottom)))
        case Call(function="ln", argument=u):
            yield multiply(u, node)
        case Call(function="sin" | "cos" as name, argument=u):
            yield from (call("ln", Absolute(node)), power(call(_PARTNERS[name], u), 2))
        case Root(radicand=u, index=2):
            yield from (power(node, 3), call("ln", add(Name(x), node)), multiply(Name(x), node))
        case Power(base=base, exponent=exponent) if x in names(base) and x not in names(exponent):
            yield from (power(base, add_one(exponent, step)) for step in (1, -1, 2, -2))
        case Quotient(bottom=bottom) if x in names(bottom):
            for factor in multiplicands(bottom):
                yield from (call("ln", Absolute(factor)), call("arctan", factor))
