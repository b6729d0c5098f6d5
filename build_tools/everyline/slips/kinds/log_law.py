"""2 ln u - ln v = ln u + ln v, ln(a + b) = ln a + ln b: a law of logarithms that does not exist."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from ...notation.build import add, multiply, negate, summands, within_bars
from ...notation.question import Question
from ...notation.tree import Call, Negative, Node, Sum
from ..answers import coefficient, constants, one_or_all, scale, term, terms
from ..base import Example, Slip
from ..linear import correction


def _is_logarithm(node: Node) -> bool:
    return isinstance(node, Call) and node.function == "ln"


def _split_up(node: Node) -> Iterable[Node]:
    if isinstance(node, Call) and node.function == "ln":
        inside = within_bars(node.argument)
        if isinstance(inside, Sum):
            parts = (part.argument if isinstance(part, Negative) else part for part in inside.terms)
            signs = (isinstance(part, Negative) for part in inside.terms)
            logs = (Call("ln", part) for part in parts)
            yield add(*(negate(log) if minus else log for log, minus in zip(logs, signs, strict=True)))


def leads_to(question: Question, right: Node) -> Iterable[Node]:
    yield from one_or_all(right, _split_up)
    yield from _coefficients_lost(right, question.variable)


def _coefficients_lost(right: Node, x: str) -> Iterator[Node]:
    """Several logarithms with their coefficients, signs or both dropped; or one of them moved into its logarithm as a factor."""
    parts = [part.tree for part in terms(right, x)]
    rest = constants(right, x)
    split = [coefficient(part, x) for part in parts]
    logs = [place for place, (_, _, core) in enumerate(split) if _is_logarithm(core)]
    if len(logs) < 2:
        return
    for changed in (logs, *([place] for place in logs)):
        for ratio_of in (lambda r: Fraction(1), lambda r: r / abs(r), abs):
            new = list(parts)
            for place in changed:
                ratio, constant, core = split[place]
                new[place] = term(ratio_of(ratio), constant, core)
            yield add(*new, *rest)


def repairs(question: Question, claimed: Node) -> Iterable[Node]:
    x = question.variable
    found = correction(question, claimed)
    if found is not None:
        cores = [coefficient(part.tree, x)[2] for part in found.terms]
        if sum(map(_is_logarithm, cores)) > 1 and all(_is_logarithm(cores[place]) for place in found.wrong):
            yield found.repaired
    yield from _gathered(claimed, x)


def _gathered(claimed: Node, x: str) -> Iterator[Node]:
    """Logarithms with one coefficient gathered into the logarithm of the sum of their insides."""
    whole = summands(claimed)
    groups: dict[Fraction, list[Node]] = {}
    for part in whole:
        ratio, core = _as_logarithm(part, x)
        if core is not None:
            groups.setdefault(ratio, []).append(part)
    for ratio, members in groups.items():
        if len(members) > 1:
            insides = [_as_logarithm(part, x)[1] for part in members]
            gathered = Call("ln", add(*(inside for inside in insides if inside is not None)))
            yield add(*(part for part in whole if part not in members), scale(gathered, ratio, x))


def _as_logarithm(node: Node, x: str) -> tuple[Fraction, Node | None]:
    ratio, constant, core = coefficient(node, x)
    found = multiply(constant, core)
    if not isinstance(found, Call) or found.function != "ln":
        return ratio, None
    return ratio, within_bars(found.argument)


SLIP = Slip(
    id="log-law",
    title="A law of logarithms that does not exist",
    explains="Logarithms were combined or taken apart wrongly: a factor in front becomes a power inside, and a sum inside stays as it is.",
    hint="Which laws of logarithms are there? Try yours with numbers.",
    kinds=("indefinite",),
    rank=2,
    leads_to=leads_to,
    repairs=repairs,
    examples=(
        Example(
            r"\int \frac{x + 11}{(x - 1)(x + 3)} \, dx",
            r"3\ln|x - 1| - 2\ln|x + 3| + C",
            r"\ln|x - 1| - \ln|x + 3| + C",
        ),
        Example(r"\int \frac{2x}{x^2 + 7} \, dx", r"\ln(x^2 + 7) + C", r"\ln(x^2) + \ln 7 + C"),
    ),
)
