"""∫ u dv = uv + ∫ v du: the sign in integration by parts."""

from __future__ import annotations

from collections.abc import Iterable

from ...notation.build import add, names, negate
from ...notation.question import Question
from ...notation.tree import Call, Name, Node, Power
from ..answers import coefficient, constants, terms
from ..base import Example, Slip
from ..integrals import x_factors
from .inverse_trig_constant import INVERSE

_ALONE = (*INVERSE, "ln", "arsinh", "arcosh", "artanh", "arsech", "arcsch", "arcoth")


def by_parts(body: Node, x: str) -> bool:
    """Whether an integrand is one that a course does by parts: x or its powers times a function, or a logarithm or inverse function."""
    _, _, core = coefficient(body, x)
    base = core.base if isinstance(core, Power) else core
    if isinstance(base, Call) and base.function in _ALONE:
        return True
    factors = x_factors(core, x)
    plain = [factor for factor in factors if _is_power_of(factor, x)]
    calls = [factor for factor in factors if not _is_power_of(factor, x)]
    return bool(calls) and (bool(plain) or (len(calls) == 2 and any(_is_exponential(c, x) for c in calls)))


def _is_power_of(node: Node, x: str) -> bool:
    return node == Name(x) or (isinstance(node, Power) and node.base == Name(x) and x not in names(node.exponent))


def _is_exponential(node: Node, x: str) -> bool:
    return isinstance(node, Power) and x in names(node.exponent)


def change(question: Question, answer: Node) -> Iterable[Node]:
    """The sign of all that comes after uv turned, wherever uv ends."""
    x = question.variable
    if not by_parts(question.body, x):
        return
    parts = [part.tree for part in terms(answer, x)]
    rest = constants(answer, x)
    for end in range(1, len(parts)):
        yield add(*parts[:end], *(negate(part) for part in parts[end:]), *rest)
        yield add(*(negate(part) for part in parts[:end]), *parts[end:], *rest)
    for place in range(1, len(parts) - 1):
        yield add(*parts[:place], negate(parts[place]), *parts[place + 1 :], *rest)


SLIP = Slip(
    id="parts-sign",
    title="The sign in integration by parts",
    explains="The remaining integral was added instead of subtracted: ∫ u dv is uv minus ∫ v du.",
    hint="Where does the minus in integration by parts come from? Think of the product rule.",
    kinds=("indefinite",),
    rank=2,
    leads_to=change,
    repairs=change,
    examples=(
        Example(r"\int x \cos 2x \, dx", r"\frac{x}{2} \sin 2x + \frac{\cos 2x}{4} + C", r"\frac{x}{2} \sin 2x - \frac{\cos 2x}{4} + C"),
        Example(r"\int x^4 \ln x \, dx", r"\frac{x^5}{5} \ln x - \frac{x^5}{25} + C", r"\frac{x^5}{5} \ln x + \frac{x^5}{25} + C"),
    ),
)
