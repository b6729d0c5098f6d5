"""Something at one place: an exponent, an inside, a root. The last resort before nothing is said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from ...notation.build import add, divide, multiply, names, number, power, rational, walk
from ...notation.question import Question
from ...notation.tree import Absolute, Call, Name, Node, Power, Product, Quotient, Root, Sum
from ..answers import exact, rewrites, slope
from ..base import Example, Slip
from ..corruptions import assemble, mutations
from ..linear import correction


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    return mutations(right)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    x = question.variable
    found = correction(question, claimed)
    if found is not None:
        yield found.repaired
    yield from mutations(claimed)
    insides = tuple(dict.fromkeys(inner for inner in _insides(question.body) if inner != Name(x)))

    raised = _exponents(question.body)

    def mend(node: Node) -> Iterator[Node]:
        yield from _undone(node, x)
        if isinstance(node, Name | Sum | Call) and x in names(node):
            yield from (power(node, number(exponent)) for exponent in raised)
        if isinstance(node, Call | Absolute):
            yield from (assemble(node, (inner,)) for inner in insides if inner != node.argument)

    yield from rewrites(claimed, mend)


def _exponents(body: Node) -> tuple[Fraction, ...]:
    """The question's exponents and their neighbours: what a power that was lost is likely to have had."""
    found = (rational(part.exponent) for part in walk(body) if isinstance(part, Power))
    near = (value + step for value in found if value is not None for step in (1, 0, -1))
    return tuple(dict.fromkeys(value for value in near if value not in (0, 1)))


def _insides(body: Node) -> Iterator[Node]:
    for part in walk(body):
        match part:
            case Call(argument=inner) | Root(radicand=inner) | Absolute(argument=inner) | Power(base=inner) | Quotient(bottom=inner):
                yield inner


def _undone(node: Node, x: str) -> Iterator[Node]:
    """What `mutations` would have to start from, where that is not one of its own results."""
    match node:
        case Power(base=base, exponent=exponent):
            value = rational(exponent)
            if value is not None and value > 0:
                yield Root(power(base, number(value)), 2)
            if value == 2:
                yield base
        case Root(radicand=radicand, index=index):
            yield from (Root(radicand, index - 1),) if index > 2 else ()
        case Sum(terms=terms):
            yield add(*(t for t in terms if exact(t) is None))
        case Product(factors=factors):
            if len(factors) == 2:
                yield from (divide(factors[0], factors[1]), divide(factors[1], factors[0]))
        case Name(name=name) if name == x:
            yield power(node, 3)
            yield from (multiply(number(n), node) for n in (3, 4, 5, Fraction(1, 3), Fraction(1, 4)))
            yield from (Root(node), divide(number(1), node))
        case Quotient(top=top) if slope(node, x) is not None:
            yield top
        case Call() | Absolute():
            yield from (Root(node), power(node, 2), divide(number(1), node))


SLIP = Slip(
    id="one-place",
    title="One place is wrong",
    explains="Only {fault} is wrong; the rest stands.",
    hint="Differentiate your answer and see which part does not fit.",
    kinds=("indefinite", "derivative"),
    rank=9,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(r"\int 3 \sec^2(x - 4) \, dx", r"3\tan(x - 4) + C", r"3\tan x + C"),
        Example(r"\frac{d}{dx} \sqrt{x^2 + 3}", r"\frac{x}{\sqrt{x^2 + 3}}", r"\frac{x}{x^2 + 3}"),
    ),
)
