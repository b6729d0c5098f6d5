"""What all substitutions share: writing the integrand in the new name and the lines that say so."""

from __future__ import annotations

from fractions import Fraction

from ..algebra.common import in_whole_numbers
from ..algebra.expand import split_constant
from ..algebra.poly import by_degree, linear
from ..algebra.rewrite import cancelled, express
from ..algebra.terms import Exponent, Term, as_node, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ONE, divide, multiply, names, negate, number, power, replace, substitute, subtract
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Name, Node, Sum
from .asking import differentiate, fresh, integral
from .base import Shown, Step


def in_terms_of(question: Question, inside: Node, name: str) -> Node | None:
    """g with integrand dx = g(u) du, u = inside; None where x cannot be got rid of."""
    x = question.variable
    slope = differentiate(inside, x)
    if slope == number(0):
        return None
    quotient = cancelled(tidy(question.body), slope, x)
    found = express(quotient, x, inside, name)
    if found is not None:
        return found
    return _solved_for_x(quotient, x, inside, name)


def _solved_for_x(quotient: Node, variable: str, inside: Node, name: str) -> Node | None:
    """A linear inside solved for x: x = (u - b)/a. (Whole even powers are met by `express`.)"""
    line = linear(inside, variable)
    if line is None:
        return None
    a, b = line
    marked = express(quotient, variable, inside, name)
    if marked is not None:
        return marked
    solved = tidy(divide(subtract(Name(name), b), a))
    return tidy(substitute(quotient, {variable: solved}))


def how_it_fits(question: Question, inside: Node) -> Message:
    """Why an integrand can be written in u = inside: what the derivative is to it, and what else is left of the variable."""
    x, name = question.variable, fresh(question)
    slope = differentiate(inside, x)
    rest = term_of(cancelled(tidy(question.body), slope, x))
    _, factor = split_constant(slope, x)
    if any(_missing(exponent, rest.exponent(base)) for base, exponent in term_of(factor).powers):
        found = express(factor, x, inside, name)
        if found is not None:
            return say("The derivative {slope} does not stand beside it: divide by it, written as {found}.", slope=factor, found=found)
    over = [(b, e) for b, e in rest.powers if any(x in names(replace(p, inside, Name(name))) for p in (b, as_node(e)))]
    left = join(Term(Fraction(1), tuple(over)))
    found = express(left, x, inside, name) if over else None
    if found is None:
        return say("The derivative of {inside} stands beside it, up to a constant factor.", inside=inside)
    return say("The derivative of {inside} stands beside it, and {left}, which is left, is {found}.", inside=inside, left=left, found=found)


def _missing(wanted: Exponent, left: Exponent) -> bool:
    """Whether a factor of the derivative was not there to be divided out, so that it is left with the opposite exponent."""
    if isinstance(wanted, Fraction):
        return isinstance(left, Fraction) and wanted * left < 0
    return left == tidy(negate(wanted))


def substitution_step(question: Question, technique: str, inside: Node, extra_cost: float = 0.0) -> Step | None:
    """The step `∫ f dx = c ∫ g du`, with its lines `let u = …`, `du = …`."""
    x = question.variable
    name = fresh(question)
    found = in_terms_of(question, inside, name)
    if found is None:
        return None
    constant, rest = in_whole_numbers(*split_constant(cancelled(found, ONE, name), name))
    line = by_degree(inside, x, 1)
    simple = line is not None and len(line) == 2
    reason = (
        say("The inside {inside} is linear: everything can be written in it.", inside=inside) if simple else how_it_fits(question, inside)
    )
    through = _before_expanding(question, inside, name, rest)
    slope = differentiate(inside, x)
    before: tuple[Shown, ...] = (
        Shown("let", Name(name), inside, say("Choose the inside as the new variable.")),
        Shown("differential", Name(name), slope, say("Differentiate it.")),
    )
    if line is not None and simple and _needs_x(question, inside, name):
        solved = tidy(divide(subtract(Name(name), line[0]), line[1]))
        before = (*before, Shown("equal", Name(x), solved, say("Solve for {x}, which is still there.", x=Name(x))))
    result = integral(rest, name, None if constant == ONE else constant)
    if through is None:
        return Step(technique, result, reason, ((name, inside),), before, extra_cost=extra_cost)
    last = say("Multiply out.")
    return Step(technique, result, last, ((name, inside),), before, extra_cost=extra_cost, through=((through, reason),))


def _before_expanding(question: Question, inside: Node, name: str, rest: Node) -> Node | None:
    """The integral with each factor written in the new name, where the integrand is a sum only because it was multiplied out."""
    x = question.variable
    if not isinstance(rest, Sum):
        return None
    left = term_of(cancelled(tidy(question.body), differentiate(inside, x), x))
    factors = [f for b, e in left.powers if (f := _solved_for_x(power(b, as_node(e)), x, inside, name)) is not None]
    if len(factors) < 2 or len(factors) < len(left.powers):
        return None
    constant: Node = as_node(left.coefficient)
    whole: Node = ONE
    for factor in factors:
        outer, inner = in_whole_numbers(*split_constant(factor, name))
        constant, whole = multiply(constant, outer), multiply(whole, inner)
    return None if isinstance(whole, Sum) else integral(tidy(whole), name, None if tidy(constant) == ONE else tidy(constant))


def _needs_x(question: Question, inside: Node, name: str) -> bool:
    """Whether the variable stands alone in the integrand beside the inside."""
    return question.variable in names(replace(tidy(question.body), inside, Name(name)))
