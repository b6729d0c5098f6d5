"""The values of a program as balls, which surely hold the true value; and rigorous quadrature."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from flint import acb, arb, fmpq

from ..notation.build import names
from .program import Program
from .stops import NotSupported, Undefined, Unsure
from .tape import GUARDS, Op

Values = list[Any]
Point = Mapping[str, Any]
#: What counts as a narrow ball, beside its value; how closely integrals are enclosed if they can be.
NARROW, CLOSE = arb(2) ** -20, arb(2) ** -80


def run(program: Program, order: list[int], point: Point, strict: bool = True) -> Values:
    """The balls of the entries in `order` where each variable is a ball.

    `strict`: every entry is analytic on the whole box. Else it is only continuous where it is defined: a radicand may
    touch zero. Raises `Undefined`, its argument the entry that failed, or `Unsure`.
    """
    ops = program.ops
    values: Values = [None] * len(ops)
    for entry in order:
        op = ops[entry]
        kind = op[0]
        if kind == "mul":  # these two are most of what there is, and need no rule to be looked up
            values[entry] = values[op[1]] * values[op[2]]
        elif kind == "add":
            values[entry] = values[op[1]] + values[op[2]]
        else:
            if kind in GUARDS and not (u := values[op[GUARDS[kind]]]) > 0:
                if (u < 0 and (kind == "ln" or (kind == "root" and op[3] % 2 == 0))) or (u == 0 and kind in ("ln", "div")):
                    raise Undefined(entry)
                if not u < 0 and ((strict and not program.still[entry]) or kind in ("ln", "div") or u.is_nan()):
                    raise Unsure
            values[entry] = RULES[kind](values, op, point)
    return values


def value(program: Program, entry: int, point: Point) -> Any:
    """The ball of one entry, not strict."""
    return run(program, program.order(entry), point, strict=False)[entry]


def known(program: Program, entry: int, point: Point) -> Any:
    """The same, not a number where it has no value or none is known: that compares as false with everything."""
    try:
        return value(program, entry, point)
    except (Undefined, Unsure):
        return arb("nan")


def ball(value: Fraction | int) -> Any:
    """A rational number as a ball."""
    return arb(fmpq(value.numerator, value.denominator))


def monotone(function: Callable[[Any], Any], here: Any) -> Any:
    """An increasing function on a ball: through its ends when it is wide, for arithmetic in the middle widens too much."""
    if here.rad() <= here.abs_lower() * NARROW:
        return function(here)
    return function(here.lower()).union(function(here.upper()))


def whole_power(here: Any, exponent: int) -> Any:
    if here.rad() <= here.abs_lower() * NARROW:
        return here**exponent
    if exponent % 2:
        return monotone(lambda u: u**exponent, here)
    return (here.abs_lower() ** exponent).union(here.abs_upper() ** exponent)


def _root(v: Values, op: Op, point: Point) -> Any:
    _, i, p, q = op

    def positive(w: Any) -> Any:
        return monotone(lambda u: u if u.is_zero() else u.root(q) ** p, w)  # Arb has no q-th root of 0 for q > 2

    if v[i] > 0:
        return positive(v[i])
    if v[i] < 0:
        return positive(-v[i]) * (-1) ** p
    right = positive(v[i].nonnegative_part().upper()).union(arb(0))
    return right if q % 2 == 0 else right.union(positive((-v[i]).nonnegative_part().upper()) * (-1) ** p)


def _name(v: Values, op: Op, point: Point) -> Any:
    if op[1] not in point:
        raise NotSupported("a limit or a name that has no value here")
    return point[op[1]]


def _integral(v: Values, op: Op, point: Point) -> Any:
    """An integral between finite limits by rigorous quadrature (Arb's `acb.integral`); the ball may be not finite."""
    if names(op[3]) - {op[4]}:
        raise NotSupported("an integral with other names in its integrand")
    program = Program(op[4])
    goal = program.add(op[3])
    order = program.order(goal)

    def integrand(z: Any, analytic: bool) -> Any:
        values: Values = [None] * len(program.ops)
        for entry in order:
            op = program.ops[entry]
            rule = COMPLEX.get(op[0])
            values[entry] = rule(values, op, analytic) if rule else RULES[op[0]](values, op, {program.variable: z})
        return acb(values[goal])

    return acb.integral(integrand, acb(v[op[1]]), acb(v[op[2]]), rel_tol=CLOSE, abs_tol=CLOSE, eval_limit=4000).real


#: The value of each operation on real balls, from the values so far. A primitive has no value of its own: only its slope counts.
RULES: dict[str, Callable[[Values, Op, Point], Any]] = {
    "num": lambda v, op, p: arb(op[1]),
    "pi": lambda v, op, p: arb.pi(),
    "var": _name,
    "limit": _name,
    "add": lambda v, op, p: v[op[1]] + v[op[2]],
    "mul": lambda v, op, p: v[op[1]] * v[op[2]],
    "div": lambda v, op, p: v[op[1]] / v[op[2]],
    "pow": lambda v, op, p: whole_power(v[op[1]], op[2]),
    "root": _root,
    "abs": lambda v, op, p: abs(v[op[1]]),
    "sgn": lambda v, op, p: v[op[1]].sgn(),
    "exp": lambda v, op, p: monotone(arb.exp, v[op[1]]),
    "ln": lambda v, op, p: monotone(arb.log, v[op[1]]),
    "sin": lambda v, op, p: v[op[1]].sin(),
    "cos": lambda v, op, p: v[op[1]].cos(),
    "arctan": lambda v, op, p: monotone(arb.atan, v[op[1]]),
    "integral": _integral,
    "primitive": lambda v, op, p: arb(0),
}


def _complex_root(v: Values, op: Op, analytic: bool) -> Any:
    u, p, q = acb(v[op[1]]), op[2], op[3]
    if q % 2 and u.real < 0:
        return (-u).pow(acb(fmpq(p, q)), analytic) * (-1) ** p
    return u.sqrt(analytic) ** p if q == 2 else u.pow(acb(fmpq(p, q)), analytic)


def _complex_arctan(v: Values, op: Op, analytic: bool) -> Any:
    u = acb(v[op[1]])
    cut = analytic and not abs(u.imag) < 1 and u.real.contains(0)
    return acb("nan") if cut else u.atan()


#: What differs on complex balls, for quadrature: not finite where `analytic` is asked and the operation may not be so.
COMPLEX: dict[str, Callable[[Values, Op, bool], Any]] = {
    "pow": lambda v, op, a: v[op[1]] ** op[2],
    "root": _complex_root,
    "abs": lambda v, op, a: acb(v[op[1]]).real_abs(a),
    "sgn": lambda v, op, a: acb(v[op[1]]).real_sgn(a),
    "exp": lambda v, op, a: v[op[1]].exp(),
    "ln": lambda v, op, a: acb(v[op[1]]).log(a),
    "arctan": _complex_arctan,
}
