"""What every technique asks of a question: its integrand, fresh names, constants in front."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from ..algebra.cancel import without_fractions
from ..algebra.derivative import derivative
from ..algebra.expand import split_constant
from ..algebra.poly import expand, rational_function
from ..algebra.tidy import tidy
from ..notation.build import ONE, TWO, multiplicands, multiply, names, negate, summands, walk
from ..notation.question import Question
from ..notation.tree import Absolute, Call, Integral, Name, Negative, Node, Power, Product, Quotient, Root, Sum


def integrand(question: Question) -> Node:
    return tidy(question.body)


def constant_and_rest(question: Question) -> tuple[Node, Node]:
    return split_constant(question.body, question.variable)


def integral(node: Node, variable: str, constant: Node | None = None) -> Node:
    """c ∫ node d(variable)."""
    whole = Integral(node, variable)
    return whole if constant is None else tidy(multiply(constant, whole))


def beside(body: Node, slope: Node) -> Node:
    """An integrand and the derivative that stands beside it, not yet taken together; a sign or a fraction in a bracket."""
    broken = isinstance(slope, Negative) or (isinstance(slope, Product) and isinstance(slope.factors[0], Quotient))
    if not broken or body == ONE:
        return multiply(body, slope)
    if isinstance(body, Negative):
        return Negative(beside(body.argument, slope))
    return Product((*multiplicands(body), slope))


def fresh(question: Question, wanted: str = "uvwstzypqr") -> str:
    """A letter that the question does not use; in a question in v one that comes after v, since u may stand for something already."""
    used = names(question.body) | question.given.names | {question.variable}
    start = wanted.find(question.variable) + 1
    return next(letter for letter in wanted[start:] + wanted[:start] if letter not in used)


@lru_cache(maxsize=5_000)
def differentiate(node: Node, variable: str) -> Node:
    """The derivative, written neatly."""
    known = _root_logarithm(node, variable)
    return _one_numerator(without_fractions(tidy(derivative(node, variable)), variable), variable) if known is None else known


def _one_numerator(node: Node, variable: str) -> Node:
    """A fraction of polynomials with its numerator multiplied out where that is a sum of products."""
    if isinstance(node, Negative):
        return negate(_one_numerator(node.argument, variable))
    if not isinstance(node, Quotient) or not isinstance(node.top, Sum | Product):
        return node
    sums = multiplicands(node.top)
    if not any(isinstance(s, Sum) and any(isinstance(p, Sum) for t in s.terms for p in walk(t)) for s in sums):
        return node
    top = expand(node.top, variable)
    return node if top is None else tidy(Quotient(top, node.bottom))


def _root_logarithm(node: Node, variable: str) -> Node | None:
    """ln(g + √(g² + c)) has the derivative g'/√(g² + c): the cancelling is done at once."""
    if not (isinstance(node, Call) and node.function == "ln" and isinstance(node.argument, Sum) and len(node.argument.terms) == 2):
        return None
    roots = [t for t in node.argument.terms if isinstance(t, Root) and t.index == 2]
    if len(roots) != 1:
        return None
    (inner,) = (t for t in node.argument.terms if t is not roots[0])
    slope = tidy(derivative(inner, variable))
    if tidy(derivative(roots[0].radicand, variable)) != tidy(multiply(TWO, inner, slope)):
        return None
    return tidy(Quotient(slope, roots[0]))


@lru_cache(maxsize=5_000)
def is_rational(node: Node, variable: str) -> bool:
    """Whether the node is a fraction of polynomials, or a sum of them: algebra answers those, no choice of u or dv does."""
    terms = summands(node)
    return all(rational_function(t, variable) is not None for t in terms)


def depends(node: Node, variable: str) -> bool:
    return variable in names(node)


def insides(node: Node, variable: str) -> Iterator[Node]:
    """Insides of functions, of powers, of roots and exponents that hold the variable."""
    for part in walk(node):
        inner: Node | None = None
        match part:
            case Call(argument=argument) | Absolute(argument=argument):
                inner = argument
            case Power(base=base, exponent=exponent):
                inner = exponent if depends(exponent, variable) else base
            case Root(radicand=radicand):
                inner = radicand
            case Quotient(bottom=bottom) if isinstance(bottom, Sum):
                inner = bottom
            case Product():
                continue
        if inner is not None and not isinstance(inner, Name) and depends(inner, variable):
            yield inner
