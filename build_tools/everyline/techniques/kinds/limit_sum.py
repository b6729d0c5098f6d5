"""The limit of a sum, term by term, where every term has a limit; a fraction with a sum above and one thing below is split first."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ...algebra.terms import Term, term_of
from ...algebra.tidy import join, tidy
from ...notation.build import add, contains, infinite, negate
from ...notation.message import say
from ...notation.question import Question
from ...notation.tree import DoesNotExist, Limit, Negative, Node, Sum
from ..base import Example, Step, Technique
from ..limiting import again, at_once, both, left_open, node_of


def propose(question: Question) -> Iterable[Step]:
    if at_once(node_of(question)) is not None:
        return
    body = tidy(question.body)
    apart = body if isinstance(body, Sum) else _split(body)
    if apart is None or not all(_finite(again(question, t)) for t in apart.terms):
        return
    through = ((again(question, apart), say("Divide each term above by what stands below.")),) if apart is not body else ()
    result = add(*(_placed(question, t) for t in apart.terms))
    yield Step("limit-sum", result, say("Take the limit of each term."), through=through)


def _split(body: Node) -> Sum | None:
    """(a + b)/c as a/c + b/c, where c is no sum."""
    term = term_of(body)
    sums = [b for b, e in term.powers if isinstance(b, Sum) and e == 1]
    rest = term.without(*sums)
    if len(sums) != 1 or contains(join(rest), Sum) or not any(isinstance(e, Fraction) and e < 0 for _, e in rest.powers):
        return None
    (inside,) = sums
    assert isinstance(inside, Sum)
    found = tidy(add(*(join(rest.times(Term(t.coefficient, t.powers))) for t in map(term_of, inside.terms))))
    return found if isinstance(found, Sum) else None


def _finite(limit: Limit) -> bool:
    value = both(limit)
    return value is not None and not infinite(value) and not isinstance(value, DoesNotExist)


def _placed(question: Question, term: Node) -> Node:
    """The limit of a term, its sign in front."""
    inner = term.argument if isinstance(term, Negative) else term
    limit = left_open(question, inner)
    return negate(limit) if isinstance(term, Negative) else limit


TECHNIQUE = Technique(
    id="limit-sum",
    title="Limit of each term",
    cost=1.6,
    kinds=("limit",),
    propose=propose,
    examples=(
        Example(r"\lim_{x \to \infty} \frac{x + \sin x}{x}"),
        Example(r"\lim_{x \to 0} (\frac{\sin x}{x} + 3x)"),
        Example(r"\lim_{x \to 0} (x^2 + 3)", applies=False),
        Example(r"\lim_{x \to 0} \frac{e^x - 1 - x}{x^2}", applies=False),
    ),
    explains="If every term has a limit, the limit of the sum is the sum of the limits.",
)
