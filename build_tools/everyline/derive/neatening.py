"""An antiderivative as a teacher leaves it: constants joined to C, logarithms and roots in their plain form, terms collected.

Each change is a line of its own with its reason; the writer has every one of them checked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from ..algebra.common import content, over_one
from ..algebra.expand import distribute, multiply_out
from ..algebra.poly import coefficients, polynomial
from ..algebra.terms import Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import E, add, contains, divide, multiply, names, number, power, rebuild, size, summands, walk, within_bars
from ..notation.message import Message, say
from ..notation.tree import Absolute, Call, Name, Negative, Node, Number, Root, Sum
from .finishing import TAKE_OUT, Way, finished

Change = Callable[[Node, str, Node], tuple[Node, Message] | None]

#: To what part of its size a line of a finish must bring an answer to be worth writing, and several of them; and the largest looked at.
WORTH, MORE, LARGEST = 0.8, 0.6, 70


def neatened(answer: Node, variable: str, constant: Node) -> Iterator[tuple[Node, Message]]:
    """The lines from an antiderivative to the form in which it is left; `constant` is the C that stands behind it."""
    here = answer
    for change in (_roots_multiplied_out, _logarithms, _one_denominator, _content, _constants):
        found = change(here, variable, constant)
        if found is not None and found[0] != here:
            here = found[0]
            yield found
    if size(here) <= LARGEST:
        yield from _collected(here, variable)


def _collected(node: Node, variable: str) -> Way:
    """Terms that fall together: the exponential that all share taken out, or the lines of a finish that shorten an answer much."""
    common = _exponential(node, variable)
    if common is not None:
        return (common,)
    way = finished(node, variable)
    if not way or size(way[-1][0]) > (WORTH if len(way) == 1 else MORE) * size(node) or way[-1][1].text == TAKE_OUT:
        return ()
    return tuple((tidy(shown) if isinstance(shown, Negative) else shown, reason) for shown, reason in way)


def _exponential(node: Node, variable: str) -> tuple[Node, Message] | None:
    """Polynomials times one exponential as one product: -(x² + 1)e⁻ˣ - 2x e⁻ˣ - 2e⁻ˣ as -(x² + 2x + 3)e⁻ˣ."""
    terms = [term_of(t) for t in summands(node)]
    exponents = {t.exponent(E) for t in terms}
    (exponent,) = exponents if len(exponents) == 1 else (Fraction(0),)
    bracket = any(isinstance(b, Sum) for t in terms for b, _ in t.powers)
    if isinstance(exponent, Fraction) or len(terms) < (2 if bracket else 3):
        return None
    values = coefficients(add(*(join(t.without(E)) for t in terms)), variable)
    if values is None:
        return None
    front = -content(values) if values[-1] < 0 else content(values)
    factor = power(E, exponent)
    made = tidy(multiply(number(front), polynomial([v / front for v in values], Name(variable)), factor))
    return made, say("Take out {factor} and collect like terms.", factor=factor)


def _roots_multiplied_out(node: Node, variable: str, constant: Node) -> tuple[Node, Message] | None:
    """√((x + 2)² + 9) as √(x² + 4x + 13), and the like in a logarithm."""
    squares: dict[Node, Node] = {
        part: out for part in walk(node) if isinstance(part, Sum) and (out := _out_of_square(part, variable)) is not None
    }
    if not squares:
        return None
    first = next(iter(squares))
    return tidy(_swapped(node, squares)), say("{square} is {sum}.", square=first, sum=squares[first])


def _out_of_square(node: Sum, variable: str) -> Node | None:
    """x² + 4x + 13 for (x + 2)² + 9: a multiple of the square of a line and a number, multiplied out."""
    squares = [t for t in node.terms if any(isinstance(b, Sum) and e == 2 for b, e in term_of(t).powers)]
    if len(squares) != 1 or len(node.terms) != 2 or all(variable in names(t) for t in node.terms):
        return None
    values = coefficients(node, variable)
    return polynomial(values, Name(variable)) if values is not None and len(values) == 3 else None


def _swapped(node: Node, swaps: dict[Node, Node]) -> Node:
    return swaps[node] if node in swaps else rebuild(node, lambda part: _swapped(part, swaps))


def _of_logarithms(node: Node, change: Callable[[Term, Call], Node | None]) -> Node:
    """The sum with some of its multiples of a logarithm changed: `change` is given the factor and the logarithm."""
    made: list[Node] = []
    for t in summands(node):
        term = term_of(t)
        logs = [b for b, e in term.powers if isinstance(b, Call) and b.function == "ln" and e == 1]
        found = change(term.without(logs[0]), logs[0]) if len(logs) == 1 else None
        made.append(t if found is None else found)
    return tidy(add(*made))


def _inside(log: Call) -> Node:
    return within_bars(log.argument)


def _like(log: Call, inside: Node) -> Node:
    return tidy(Call("ln", Absolute(inside) if isinstance(log.argument, Absolute) else inside))


def _logarithms(node: Node, variable: str, constant: Node) -> tuple[Node, Message] | None:
    """2 ln|√x| as ln|x|."""

    def change(front: Term, log: Call) -> Node | None:
        powers = term_of(_inside(log))
        if powers.coefficient != 1 or len(powers.powers) != 1:
            return None
        base, exponent = powers.powers[0]
        if not isinstance(exponent, Fraction) or exponent == 1:
            return None
        whole = isinstance(log.argument, Absolute) and exponent.denominator == 1
        return tidy(multiply(join(front), number(exponent), Call("ln", Absolute(base) if whole else base)))

    return _of_logarithms(node, change), say("Use a law of logarithms.")


def _one_denominator(node: Node, variable: str, constant: Node) -> tuple[Node, Message] | None:
    """ln|1/x + √(1 - x²)/x| as ln|(1 + √(1 - x²))/x|."""

    def change(front: Term, log: Call) -> Node | None:
        inside = _inside(log)
        one = over_one(inside) if isinstance(inside, Sum) else None
        if one is None or variable not in names(one[1]):
            return None
        return tidy(multiply(join(front), _like(log, divide(*one))))

    return _of_logarithms(node, change), say("Bring the terms over one denominator.")


def _content(node: Node, variable: str, constant: Node) -> tuple[Node, Message] | None:
    """ln|x/3 + √(x² - 9)/3| as ln|x + √(x² - 9)|: the logarithm of the number is a constant."""
    gone: list[Node] = []

    def change(front: Term, log: Call) -> Node | None:
        inside = _inside(log)
        shared = _shared(inside, variable)
        if shared is None or any(variable in names(b) for b, _ in front.powers):
            return None
        gone.append(join(shared))
        whole = [join(term_of(t).over(shared)) for t in summands(inside)]
        rest = tidy(add(*sorted(whole, key=lambda t: contains(t, Root))))
        return tidy(multiply(join(front), _like(log, rest)))

    made = _of_logarithms(node, change)
    if not gone:
        return None
    return made, say("The logarithm of the factor {factor} is a constant: it joins {constant}.", factor=gone[0], constant=constant)


def _shared(inside: Node, variable: str) -> Term | None:
    """The constant factor, a fraction or a root, that all terms share; None where there is none to speak of."""
    terms = [term_of(t) for t in summands(inside)]
    if len(terms) < 2:
        return None
    roots = set(terms[0].powers).intersection(*(set(t.powers) for t in terms[1:]))
    fixed = tuple((b, e) for b, e in terms[0].powers if (b, e) in roots and isinstance(b, Number))
    below = all(t.coefficient.denominator > 1 for t in terms)
    return Term(content(t.coefficient for t in terms), fixed) if fixed or below else None


def _constants(node: Node, variable: str, constant: Node) -> tuple[Node, Message] | None:
    """-2(x + 3)/3 as -2x/3: a number among the terms is part of C."""
    bare = [t for t in summands(node) if variable not in names(t)]
    moving = [t for t in summands(node) if t not in bare]
    loose = [_spread(t, variable) for t in moving]
    for alike in _alike(moving, variable):
        first = moving.index(alike[0])
        loose = [[] if t in alike else parts for t, parts in zip(moving, loose, strict=True)]
        loose[first] = [multiply_out(add(*alike), variable)]
    parts = [p for some in loose for part in some for p in summands(part)]
    left = [p for p in parts if variable in names(p)]
    if not left or (len(left) == len(parts) and not bare) or not (bare or loose != [[t] for t in moving]):
        return None
    made = tidy(add(*left))
    if loose == [[t] for t in moving]:
        return made, say("The constant joins {constant}.", constant=constant)
    return made, say("Multiply out; the constant joins {constant}.", constant=constant)


def _alike(terms: list[Node], variable: str) -> Iterator[list[Node]]:
    """Terms that come to less when they are multiplied out together: polynomials, and multiples of a sum beside those of its square."""
    known = [t for t in terms if (values := coefficients(t, variable)) is not None and len(values) <= 3]
    if len(known) > 1 and any(isinstance(p, Sum) for t in known for p in walk(t)):
        yield known
    groups: dict[Node, list[Node]] = {}
    for t in terms:
        powers = term_of(t).powers
        if len(powers) == 1 and isinstance(powers[0][0], Sum) and powers[0][1] in (1, 2) and t not in known:
            groups.setdefault(powers[0][0], []).append(t)
    yield from (group for group in groups.values() if len(group) > 1)


def _spread(term: Node, variable: str) -> list[Node]:
    """A multiple of a sum with a constant term as its terms, anything else as it is."""
    parts = term_of(term)
    sums = [b for b, e in parts.powers if isinstance(b, Sum) and e == 1 and variable in names(b)]
    if len(sums) != 1 or any(variable in names(b) for b, _ in parts.without(*sums).powers):
        return [term]
    if all(variable in names(t) for t in sums[0].terms):
        return [term]
    return [distribute(term)]
