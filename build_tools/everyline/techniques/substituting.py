"""What all substitutions share: writing the integrand in the new name and the lines that say so."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..algebra.cancel import cancelled, proportion, without_fractions
from ..algebra.common import in_whole_numbers, taken_out, without_content
from ..algebra.expand import split_constant
from ..algebra.poly import by_degree, coefficients, linear
from ..algebra.rewrite import express
from ..algebra.terms import Exponent, Term, as_node, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import ONE, call, divide, multiply, names, negate, number, power, replace, substitute, subtract, walk
from ..notation.message import Message, say, sentence
from ..notation.question import Question
from ..notation.tree import Call, Name, Node, Sum
from .asking import differentiate, fresh, integral
from .base import Shown, Step

NOT_BESIDE = sentence("The derivative {slope} does not stand beside it: divide by it, written as {found}.")


@dataclass(frozen=True, slots=True)
class Change:
    """A new name for an inside: the integrand is `quotient` times `slope`, the derivative of the inside."""

    variable: str
    inside: Node
    name: str
    slope: Node
    quotient: Node

    def written(self, node: Node) -> Node | None:
        """A node in the new name; a linear inside is solved for x where nothing else helps. None where x cannot be got rid of."""
        found = express(node, self.variable, self.inside, self.name)
        line = linear(self.inside, self.variable) if found is None else None
        if line is None:
            return found
        a, b = line
        return tidy(substitute(node, {self.variable: tidy(divide(subtract(Name(self.name), b), a))}))


def change(question: Question, inside: Node, name: str) -> Change | None:
    """The new name for an inside; None where that does not depend on the variable."""
    slope = differentiate(inside, question.variable)
    if slope == number(0):
        return None
    slope = _single(slope, question.body)
    return Change(question.variable, inside, name, slope, _over(tidy(question.body), slope, question.variable))


def _over(body: Node, slope: Node, variable: str) -> Node:
    """body / slope, cancelled, also what the terms of a sum share: (sin² t - 2 sin t) cos t over 3 sin² t cos t - 6 sin t cos t is 1/3."""
    found = taken_out(slope) if isinstance(slope, Sum) and coefficients(slope, variable) is None else None
    if found is None:
        return cancelled(body, slope, variable)
    front, bracket = found
    above = Term(term_of(body).coefficient)
    for base, exponent in term_of(body).powers:
        own = taken_out(base) if isinstance(base, Sum) and isinstance(exponent, Fraction) and exponent.denominator == 1 else None
        alike = own is not None and isinstance(own[1], Sum) and isinstance(bracket, Sum) and proportion(own[1], bracket) is not None
        if own is not None and alike and isinstance(exponent, Fraction):
            above = above.times(term_of(own[0]).raised(exponent)).times(Term(Fraction(1), ((own[1], exponent),)))
        else:
            above = above.times(Term(Fraction(1), ((base, exponent),)))
    return cancelled(join(above), join(term_of(front).times(Term(Fraction(1), ((bracket, Fraction(1)),)))), variable)


def _single(slope: Node, body: Node) -> Node:
    """The slope with tan for sin/cos, or cot for cos/sin, where the integrand is written so."""
    term = term_of(slope)
    for part in walk(body):
        if isinstance(part, Call) and part.function in ("tan", "cot"):
            sine, cosine = call("sin", part.argument), call("cos", part.argument)
            above, below = (sine, cosine) if part.function == "tan" else (cosine, sine)
            if term.exponent(above) == 1 and term.exponent(below) == -1:
                return join(term.without(above, below).times(term_of(part)))
    return slope


def _how_it_fits(made: Change) -> Message:
    """Why an integrand can be written in u = inside: what the derivative is to it, and what else is left of the variable."""
    x, inside, name = made.variable, made.inside, made.name
    rest = term_of(made.quotient)
    _, factor = split_constant(made.slope, x)
    if any(_missing(exponent, rest.exponent(base)) for base, exponent in term_of(factor).powers):
        found = express(factor, x, inside, name)
        if found is not None:
            return say(NOT_BESIDE, slope=factor, found=found)
    over = [(b, e) for b, e in rest.powers if any(x in names(replace(p, inside, Name(name))) for p in (b, as_node(e)))]
    left = join(Term(Fraction(1), tuple(over)))
    found = express(left, x, inside, name) if over else None
    if found is None and rest.coefficient == 1 and all(x in names(b) or name in names(b) for b, _ in rest.powers):
        return say("The derivative of {inside} stands beside it.", inside=inside)
    if found is None:
        return say("The derivative of {inside} stands beside it, up to a constant factor.", inside=inside)
    known = without_fractions(found, name)
    return say("The derivative of {inside} stands beside it, and {left}, which is left, is {found}.", inside=inside, left=left, found=known)


def _missing(wanted: Exponent, left: Exponent) -> bool:
    """Whether a factor of the derivative was not there to be divided out, so that it is left with the opposite exponent."""
    if isinstance(wanted, Fraction):
        return isinstance(left, Fraction) and wanted * left < 0
    return left == tidy(negate(wanted))


def substitution_step(question: Question, technique: str, inside: Node, extra_cost: float = 0.0) -> Step | None:
    """The step `∫ f dx = c ∫ g du`, with its lines `let u = …`, `du = …`."""
    x, name = question.variable, fresh(question)
    made = change(question, inside, name)
    found = None if made is None else made.written(made.quotient)
    if made is None or found is None:
        return None
    neat = without_fractions(cancelled(found, ONE, name), name)
    constant, rest = without_content(*in_whole_numbers(*split_constant(neat, name)))
    line = by_degree(inside, x, 1)
    simple = line is not None and len(line) == 2
    reason = say("The inside {inside} is linear: everything can be written in it.", inside=inside) if simple else _how_it_fits(made)
    through = _before_expanding(made, rest)
    before: tuple[Shown, ...] = (
        Shown("let", Name(name), inside, say("Choose the inside as the new variable.")),
        Shown("differential", Name(name), made.slope, say("Differentiate it.")),
    )
    if line is not None and simple and _needs_x(question, inside, name):
        solved = tidy(divide(subtract(Name(name), line[0]), line[1]))
        before = (*before, Shown("equal", Name(x), solved, say("Solve for {x}, which is still there.", x=Name(x))))
    result = integral(rest, name, None if constant == ONE else constant)
    if through is None:
        return Step(technique, result, reason, ((name, inside),), before, extra_cost=extra_cost)
    last = say("Multiply out.")
    return Step(technique, result, last, ((name, inside),), before, extra_cost=extra_cost, through=((through, reason),))


def _before_expanding(made: Change, rest: Node) -> Node | None:
    """The integral with each factor written in the new name, where the integrand is a sum only because it was multiplied out."""
    if not isinstance(rest, Sum):
        return None
    left = term_of(made.quotient)
    factors = [f for b, e in left.powers if (f := made.written(power(b, as_node(e)))) is not None]
    if len(factors) < 2 or len(factors) < len(left.powers):
        return None
    constant: Node = as_node(left.coefficient)
    whole: Node = ONE
    for factor in factors:
        outer, inner = in_whole_numbers(*split_constant(factor, made.name))
        constant, whole = multiply(constant, outer), multiply(whole, inner)
    return None if isinstance(whole, Sum) else integral(tidy(whole), made.name, None if tidy(constant) == ONE else tidy(constant))


def _needs_x(question: Question, inside: Node, name: str) -> bool:
    """Whether the variable stands alone in the integrand beside the inside."""
    return question.variable in names(replace(tidy(question.body), inside, Name(name)))
