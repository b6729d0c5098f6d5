"""Tempting substitutions and what comes of them: du, what is left over, why it helps or does not."""

from __future__ import annotations

from fractions import Fraction

from ..algebra.poly import linear
from ..algebra.rewrite import cancelled
from ..algebra.terms import Term, term_of
from ..algebra.tidy import join, tidy
from ..notation.build import names, number, replace
from ..notation.message import Message, say
from ..notation.question import Question
from ..notation.tree import Call, Name, Node
from ..techniques.asking import constant_and_rest, differentiate, fresh, insides
from ..techniques.forms import power_form
from ..techniques.substituting import in_terms_of
from ..techniques.substitution import candidates
from .route import Attempt

MOST = 4


def attempts(question: Question, used: frozenset[Node]) -> tuple[Attempt, ...]:
    """What a student may try on an integral, apart from the insides that the worked solutions use."""
    if question.kind != "indefinite":
        return ()
    x = question.variable
    body = tidy(question.body)
    if power_form(constant_and_rest(question)[1], x) is not None:
        return ()  # nobody substitutes in a single power
    tempting = [i for i in insides(body, x) if linear(i, x) is None]
    factors = [join(Term(Fraction(1), ((base, abs(e) if isinstance(e, Fraction) else e),))) for base, e in term_of(body).powers]
    tempting += [c for c, reach in candidates(question) if reach < 2 and (isinstance(c, Call) or c in factors)]
    found: list[Attempt] = []
    for inside in dict.fromkeys(tempting):
        if inside in used or len(found) == MOST:
            continue
        made = attempt(question, inside)
        # What is left over in two letters at once tells a reader nothing.
        if made is not None and (made.left_over is None or fresh(question) not in names(made.left_over)):
            found.append(made)
    return tuple(found)


def attempt(question: Question, inside: Node) -> Attempt | None:
    """What comes of one inside as the new variable; None where it does not depend on the variable, or nothing can be said."""
    x = question.variable
    slope = differentiate(inside, x)
    if slope == number(0):
        return None
    name = fresh(question)
    found = in_terms_of(question, inside, name)
    if found is not None:
        return Attempt("substitution", inside, slope, None, True, _works(inside, slope, found, name))
    left = _left_over(question, inside, slope, name)
    if left is None:
        return None
    return Attempt("substitution", inside, slope, left, False, _fails(inside, slope, left))


def _left_over(question: Question, inside: Node, slope: Node, name: str) -> Node | None:
    """The factors of integrand/du in which the variable stays."""
    x = question.variable
    marked = replace(cancelled(tidy(question.body), slope, x), tidy(inside), Name(name))
    term = term_of(marked)
    stuck = tuple((b, e) for b, e in term.powers if x in names(b) or (isinstance(e, Node) and x in names(e)))
    return join(Term(term.coefficient * 0 + 1, stuck)) if stuck else None


def _works(inside: Node, slope: Node, found: Node, name: str) -> Message:
    return say("With {name} = {inside} everything can be written in {name}: {found} remains.", name=Name(name), inside=inside, found=found)


def _fails(inside: Node, slope: Node, left: Node) -> Message:
    return say("The derivative of {inside} is {slope}; {left} is left over, which is not a constant, so this substitution does not help.",
               inside=inside, slope=slope, left=left)  # fmt: skip
