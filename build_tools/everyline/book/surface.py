"""What two formulas have in common at first sight, and where they differ: the reason why one is taken for the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..algebra import tidy
from ..algebra.poly import by_degree
from ..notation.build import children, names, size, walk
from ..notation.message import Message, say, sentence
from ..notation.question import Question
from ..notation.tree import Absolute, Call, Constant, Integral, Logarithm, Negative, Node, Number, Power, Product, Quotient, Root, Sum

_FUNCTIONS = {
    "sin": sentence("a sine"), "cos": sentence("a cosine"), "tan": sentence("a tangent"), "sec": sentence("a secant"),
    "csc": sentence("a cosecant"), "cot": sentence("a cotangent"), "ln": sentence("a logarithm"), "arcsin": sentence("an arcsine"),
    "arccos": sentence("an arccosine"), "arctan": sentence("an arctangent"),
}  # fmt: skip
#: Parts that are named one by one: no more than this many.
MOST_PARTS = 2


def moving(node: Node, variable: str) -> Iterator[Node]:
    """Every part of a formula that depends on the variable, from the outside in."""
    if variable in names(node):
        yield node
        for part in children(node):
            yield from moving(part, variable)


def shared_parts(questions: Sequence[Question]) -> tuple[Node, ...]:
    """The largest parts that stand in all integrands letter for letter, more than the variable alone."""
    first, *others = questions
    seen = [set(map(tidy, moving(q.body, q.variable))) for q in others]
    found: list[Node] = []
    for part in moving(first.body, first.variable):
        telling = not isinstance(part, Negative) and any(
            isinstance(inner, Sum | Call | Root) or _exponential(inner) for inner in walk(part)
        )
        if telling and all(tidy(part) in there for there in seen) and not any(part in list(moving(f, first.variable)) for f in found):
            found.append(part)
    return tuple(sorted(found, key=size, reverse=True)[:MOST_PARTS])


def _exponential(node: Node) -> bool:
    return isinstance(node, Power) and bool(names(node.exponent))


def traits(question: Question) -> dict[str, Message]:
    """What strikes the eye in one question, by a key that two questions can share."""
    body, x = question.body, question.variable
    body = body.argument if isinstance(body, Negative) else body
    found: dict[str, Message] = {}
    match body:
        case Quotient(top=top, bottom=bottom) if x in names(bottom):
            found["fraction"] = say("a fraction")
            if x not in names(top):
                found["number above"] = say("a number above the line")
            found |= _below(bottom, x)
        case Product(factors=factors) if sum(x in names(f) for f in factors) > 1:
            found["product"] = say("a product")
        case Sum():
            found["sum"] = say("a sum")
        case Power(base=Sum()):
            found["bracket"] = say("a power of a bracket")
    for part in moving(body, x):
        if isinstance(part, Call) and part.function in _FUNCTIONS:
            found[part.function] = say(_FUNCTIONS[part.function])
        if isinstance(part, Power) and isinstance(part.base, Constant | Number) and x in names(part.exponent):
            found["exponential"] = say("an exponential")
        if isinstance(part, Root):
            found["root"] = say("a root")
        if isinstance(part, Logarithm):
            found["ln"] = say("a logarithm")
        if isinstance(part, Absolute):
            found["bars"] = say("an absolute value")
    if isinstance(question.node, Integral) and question.node.lower is not None:
        found["limits"] = say("limits")
    return found


def _below(bottom: Node, x: str) -> dict[str, Message]:
    inner = bottom
    found: dict[str, Message] = {}
    if isinstance(inner, Root):
        found["root below"] = say("a root below the line")
        inner = inner.radicand
    if isinstance(inner, Sum):
        line = by_degree(inner, x)
        if line is not None and len(line) == 3:
            found["quadratic"] = say("a quadratic below the line") if inner is bottom else say("a quadratic under a root")
    if isinstance(inner, Product) and sum(x in names(f) for f in inner.factors) > 1:
        found["product below"] = say("a product below the line")
    return found


def alike(questions: Sequence[Question]) -> tuple[Message, ...]:
    """What all questions share, most striking first: equal parts, then the same kinds of thing."""
    two = len(questions) == 2
    parts = [say("Both hold {part}.", part=p) if two else say("All hold {part}.", part=p) for p in shared_parts(questions)]
    every = [traits(question) for question in questions]
    common = [key for key in every[0] if all(key in other for other in every[1:])]
    if "root below" in common and "root" in common:
        common.remove("root")
    if common == ["fraction"]:
        parts.append(say("Both are fractions." if two else "All are fractions."))
    elif common:
        listed = _listed([every[0][key] for key in common])
        parts.append(say("Both have {things}." if two else "All have {things}.", things=listed))
    return tuple(parts)


def _listed(things: Sequence[Message]) -> Message:
    """`a`, `a and b`, `a, b and c`."""
    *before, last = things
    if not before:
        return last
    front = before[0]
    for each in before[1:]:
        front = say("{first}, {second}", first=front, second=each)
    return say("{first} and {last}", first=front, last=last)


def apart(questions: Sequence[Question]) -> Message | None:
    """Where two fractions or two products with an equal part differ; None where there is no such single place."""
    if len(questions) != 2:
        return None
    one, two = (question.body for question in questions)
    if isinstance(one, Quotient) and isinstance(two, Quotient):
        if tidy(one.bottom) == tidy(two.bottom):
            return say("Only what stands above the line differs: {one} here, {two} there.", one=one.top, two=two.top)
        if tidy(one.top) == tidy(two.top):
            return say("Only what stands below the line differs: {one} here, {two} there.", one=one.bottom, two=two.bottom)
    return None
