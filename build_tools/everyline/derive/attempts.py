"""Tempting substitutions and what comes of them: du, what is left over, why it helps or does not."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..algebra.poly import linear
from ..algebra.terms import Term, term_of
from ..algebra.tidy import join, tidy
from ..kernel import Checked, Equal, Refuted, Setting
from ..notation.build import PI, ZERO, add, divide, multiply, names, number, rebuild, replace, substitute, subtract, walk
from ..notation.message import Message, say, sentence
from ..notation.question import Question
from ..notation.tree import Call, Derivative, Integral, Name, Node
from ..techniques import Step
from ..techniques.asking import constant_and_rest, fresh, insides, integral
from ..techniques.forms import linear_form, standard
from ..techniques.kinds.substitution import candidates
from ..techniques.substituting import Change, change
from .budget import judged
from .route import Attempt, Line
from .steps import step_claim

MOST = 4
SECONDS = 0.5
#: Where a function takes the same value again: at ±(its angle) plus so many π.
_REFLECTED = {
    "sin": (-1, 1), "csc": (-1, 1), "cos": (-1, 0), "sec": (-1, 0), "tan": (1, 1), "cot": (1, 1), "cosh": (-1, 0), "sech": (-1, 0),
}  # fmt: skip
_FAILS = sentence(
    "The derivative of {inside} is {slope}; {left} is left over, which is not a constant: alone this substitution does not help."
)


def substituted(lines: tuple[Line, ...]) -> frozenset[Node]:
    """The insides that a worked solution integrates in; the factors that it names for parts, by the same letters, are not among them."""
    named: dict[str, Node] = {}
    found: set[Node] = set()
    for line in lines:
        if line.kind == "let" and isinstance(line.left, Name):
            named[line.left.name] = line.shown
        letters = {part.variable for part in walk(line.shown) if isinstance(part, Integral)}
        found.update(inside for name, inside in named.items() if name in letters)
    return frozenset(found)


def attempts(question: Question, used: frozenset[Node]) -> tuple[Attempt, ...]:
    """What a student may try on an integral, apart from the insides that the worked solutions use."""
    if question.kind != "indefinite":
        return ()
    x, rest = question.variable, constant_and_rest(question)[1]
    if standard(rest, x) is not None or linear_form(rest, x) is not None:
        return ()  # nobody substitutes in what is known by heart
    found: list[Attempt] = []
    for inside in dict.fromkeys(_tempting(question)):
        if inside in used or len(found) == MOST:
            continue
        made = attempt(question, inside)
        # What is left over in two letters at once tells a reader nothing.
        if made is not None and (made.left_over is None or fresh(question) not in names(made.left_over)):
            found.append(made)
    return tuple(found)


def _tempting(question: Question) -> Iterator[Node]:
    """Every inside, then every factor."""
    x, body = question.variable, tidy(question.body)
    yield from (inside for inside in insides(body, x) if linear(inside, x) is None)
    powers = term_of(body).powers
    factors = [join(Term(Fraction(1), ((base, abs(e) if isinstance(e, Fraction) else e),))) for base, e in powers]
    yield from (inside for inside, reach in candidates(question) if reach < 2 and (isinstance(inside, Call) or inside in factors))
    yield from (factor for factor in factors if isinstance(factor, Call) and x in names(factor))


def attempt(question: Question, inside: Node) -> Attempt | None:
    """What comes of one inside as the new variable; None where it does not depend on the variable, or nothing is certain."""
    name = fresh(question)
    made = change(question, inside, name)
    if made is None:
        return None
    found = made.written(made.quotient)
    if found is not None:
        reason = _works(inside, found, name)
        claim = step_claim(question, Step("substitution", integral(found, name), reason, ((name, inside),)))
        holds = claim is not None and isinstance(judged(claim, SECONDS), Checked)
        return Attempt("substitution", inside, made.slope, None, True, reason) if holds else None
    left = _left_over(made)
    if left is None or not _varies(question, inside, left):
        return None
    return Attempt("substitution", inside, made.slope, left, False, _fails(inside, made.slope, left))


def _left_over(made: Change) -> Node | None:
    """The factors of integrand/du in which the variable stays."""
    x = made.variable
    term = term_of(replace(made.quotient, tidy(made.inside), Name(made.name)))
    stuck = tuple((b, e) for b, e in term.powers if x in names(b) or (isinstance(e, Node) and x in names(e)))
    return join(Term(Fraction(1), stuck)) if stuck else None


def _varies(question: Question, inside: Node, left: Node) -> bool:
    """Whether it is certain that what is left over is not a constant, nor the inside written in another way.

    sin 2x / cos x is 2 sin x in disguise: it does not change when x is reflected so that sin x stays. sin x does, where cos x stays.
    """
    x, setting = question.variable, Setting(question.variable, question.domain, question.given)
    whole = substitute(left, {fresh(question): inside})
    claims = [Equal(Derivative(whole, x), ZERO, setting)]
    line = linear(inside.argument, x) if isinstance(inside, Call) and inside.function in _REFLECTED else None
    if line is not None and isinstance(inside, Call) and x not in names(_without_functions(whole)):
        sign, shift = _REFLECTED[inside.function]
        angle = add(multiply(number(sign), inside.argument), multiply(number(shift), PI))
        there = tidy(divide(subtract(angle, line[1]), line[0]))
        claims.append(Equal(substitute(whole, {x: there}), whole, setting))
    return all(isinstance(judged(claim, SECONDS), Refuted) for claim in claims)


def _without_functions(node: Node) -> Node:
    """An expression with a number for every function in it: what is left of a variable stands outside of them."""
    return ZERO if isinstance(node, Call) else rebuild(node, _without_functions)


def _works(inside: Node, found: Node, name: str) -> Message:
    return say("With {name} = {inside} everything can be written in {name}: {found} remains.", name=Name(name), inside=inside, found=found)


def _fails(inside: Node, slope: Node, left: Node) -> Message:
    return say(_FAILS, inside=inside, slope=slope, left=left)
