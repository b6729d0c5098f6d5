"""Questions that are almost the same: up to the name of the variable, a shift of it, or a constant factor.

Two questions are alike when they have one skeleton (the form without its constants) and, shifted so that corresponding linear parts
vanish at 0, take proportional values. The values are floats: what is found is for a person to look at, nothing rests on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from ..notation import plain
from ..notation.build import children, rational, walk
from ..notation.message import Message, fill, say
from ..notation.question import Question
from ..notation.tree import Call, Constant, Derivative, Integral, Limit, Name, Negative, Node, Power, Product, Quotient, Root, Sum
from ..slips.compare import parameters
from ..slips.floats import at

#: Where values are taken, on both sides of 0 and near it and far from it.
_POINTS = (0.137, -0.291, 0.453, -0.619, 0.787, 1.311, -1.73, 2.137, -2.61, 3.71)
_LEAST, _DIGITS = 3, 7
#: Of many questions that are all alike each is compared with the first few: pairs stay as many as questions.
_CROWD = 8


@dataclass(frozen=True, slots=True)
class _Print:
    """A question seen from one of its linear parts: the values there, with what they were divided by, and the shift."""

    values: tuple[float | None, ...]
    scale: float
    shift: float


def near_duplicates(questions: Iterable[tuple[str, Question]]) -> tuple[tuple[str, str, Message], ...]:
    """Pairs of paths whose questions are almost the same, each with how they differ, in the order of the book."""
    seen: dict[tuple[object, ...], list[tuple[str, Question, _Print]]] = {}
    found: dict[tuple[str, str], Message] = {}
    for path, question in questions:
        for key, print_ in _prints(question):
            others = seen.setdefault(key, [])
            for other, asked, theirs in others:
                if other != path:
                    why = _difference(asked, theirs, question, print_)
                    pair = (other, path)
                    found[pair] = min(found.get(pair, why), why, key=_length)
            if len(others) < _CROWD:
                others.append((path, question, print_))
    return tuple((first, second, why) for (first, second), why in found.items())


def _length(message: Message) -> int:
    return len(fill(message, plain))


def _difference(first: Question, ours: _Print, second: Question, theirs: _Print) -> Message:
    factor, shift = theirs.scale / ours.scale, theirs.shift - ours.shift
    parts = [
        say("the name of the variable") if first.variable != second.variable else None,
        say("a shift by {amount}", amount=f"{abs(shift):.4g}") if abs(shift) > 1e-9 else None,
        say("the factor {factor}", factor=f"{factor:.4g}") if abs(factor - 1) > 1e-9 else None,
    ]
    match [part for part in parts if part is not None]:
        case []:
            return say("the same question")
        case [one]:
            return say("the same up to {first}", first=one)
        case [one, two]:
            return say("the same up to {first} and {last}", first=one, last=two)
        case [one, two, three]:
            return say("the same up to {first}, {second} and {last}", first=one, second=two, last=three)
    raise AssertionError(parts)


def _prints(question: Question) -> Iterator[tuple[tuple[object, ...], _Print]]:
    x, body = question.variable, question.body
    names = parameters(question)
    form = (question.kind, skeleton(body, x), getattr(question.node, "order", 0), getattr(question.node, "side", ""))
    for shift in _anchors(body, x, names):
        values = [at(body, {**names, x: shift + point}) for point in _POINTS]
        defined = [value for value in values if value is not None]
        scale = next((value for value in defined if abs(value) > 1e-9), None)
        if len(defined) < _LEAST or scale is None:
            continue
        shown = tuple(None if value is None else _short(value / scale) for value in values)
        places = tuple(_short((at(end, names) or 0.0) - shift) if at(end, names) is not None else None for end in _ends(question))
        yield (*form, shown, places), _Print(shown, scale, shift)


def _short(value: float) -> float:
    return float(f"{value:.{_DIGITS - 1}e}") + 0.0 if abs(value) > 1e-9 else 0.0


def _ends(question: Question) -> tuple[Node, ...]:
    match question.node:
        case Integral(lower=lower, upper=upper) if lower is not None and upper is not None:
            return lower, upper
        case Limit(point=point):
            return (point,)
        case Derivative():
            return ()
    return ()


def _anchors(body: Node, x: str, names: Mapping[str, float]) -> tuple[float, ...]:
    """Where the linear parts of a formula vanish (0 for a bare variable); 0 where there is none."""
    found: dict[float, None] = {}
    for node in _linear_parts(body, x):
        start, step = at(node, {**names, x: 0.0}), at(node, {**names, x: 1.0})
        if start is not None and step is not None and step != start:
            found[round(-start / (step - start), 9) + 0.0] = None
    return tuple(found) or (0.0,)


def _linear_parts(node: Node, x: str) -> Iterator[Node]:
    """The largest parts that are linear in the variable."""
    rank = _rank(node, x)
    if rank == 1:
        yield node
    elif rank == 2:
        for part in children(node):
            yield from _linear_parts(part, x)


def _rank(node: Node, x: str) -> int:
    """0 for a constant, 1 for what is linear in the variable, 2 for anything else."""
    match node:
        case Name(name=name):
            return int(name == x)
        case Negative(argument=inner):
            return _rank(inner, x)
        case Sum(terms=terms):
            return max(_rank(term, x) for term in terms)
        case Product(factors=factors):
            return min(2, sum(_rank(factor, x) for factor in factors))
        case Quotient(top=top, bottom=bottom):
            return _rank(top, x) if _rank(bottom, x) == 0 else 2
    return 2 if any(isinstance(part, Name) and part.name == x for part in walk(node)) else 0


def skeleton(node: Node, x: str) -> str:
    """The form of a formula without its constants: linear parts are all alike, factors that do not depend on `x` are dropped."""
    rank = _rank(node, x)
    if rank < 2:
        return "kL"[rank]
    match node:
        case Negative(argument=inner):
            return skeleton(inner, x)
        case Sum(terms=terms):
            high = sorted(skeleton(term, x) for term in terms if _rank(term, x) == 2)
            low = max((_rank(term, x) for term in terms if _rank(term, x) < 2), default=-1)
            return "(" + "+".join([*high, *(["kL"[low]] if low >= 0 else [])]) + ")"
        case Product(factors=factors):
            return "*".join(sorted(skeleton(factor, x) for factor in factors if _rank(factor, x)))
        case Quotient(top=top, bottom=bottom):
            return skeleton(top, x) if not _rank(bottom, x) else f"{skeleton(top, x)}/{skeleton(bottom, x)}"
        case Root(radicand=inner, index=index):
            return f"[{skeleton(inner, x)}]^1/{index}"
        case Power(base=base, exponent=exponent) if _rank(exponent, x) == 0:
            return f"[{skeleton(base, x)}]^{rational(exponent) or 'k'}"
        case Power(base=Constant() | Call() | Name() as base, exponent=exponent) if _rank(base, x) == 0:
            return f"exp({skeleton(exponent, x)})"
        case Call(function=function, argument=inner):
            return f"{function}({skeleton(inner, x)})"
    return f"{type(node).__name__}({','.join(skeleton(part, x) for part in children(node))})"
