"""The formula sheet: what the techniques know by heart, asked of the techniques themselves, each formula proved."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass

from ..kernel import Checked
from ..notation import Context, parse_given, parse_question
from ..notation.build import add, walk
from ..notation.message import sentence
from ..notation.question import Given, Question
from ..notation.tree import ArbitraryConstant, Call, Integral, Node
from ..techniques import catalogue
from ..techniques.forms import integrands
from .keys import judge_tree


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula: what is asked, the answer, and the checker's word on it."""

    question: Question
    answer: Node
    checked: Checked


@dataclass(frozen=True, slots=True)
class Section:
    title: str
    formulas: tuple[Formula, ...]


class Unproved(ValueError):
    """A technique's formula that the checker does not stand behind."""


#: What is asked of which technique, beside the standard forms that `techniques.forms` lists itself: question and what is given.
_POWERS = (
    ("power", r"\int x^n \, dx", "n > 0"),
    ("power", r"\int \frac{1}{x^n} \, dx", "n > 1"),
    ("power", r"\int \frac{1}{x} \, dx", ""),
    ("table", r"\int e^x \, dx", ""),
    ("table", r"\int a^x \, dx", "a > 1"),
)
_QUADRATICS = (
    ("arctangent-form", r"\int \frac{1}{x^2 + a^2} \, dx", "a > 0"),
    ("arcsine-form", r"\int \frac{1}{\sqrt{a^2 - x^2}} \, dx", "a > 0"),
    ("logarithmic-form", r"\int \frac{1}{x^2 - a^2} \, dx", "a > 0"),
    ("logarithmic-form", r"\int \frac{1}{\sqrt{x^2 + a^2}} \, dx", "a > 0"),
    ("logarithmic-form", r"\int \frac{1}{\sqrt{x^2 - a^2}} \, dx", "a > 0"),
)
_DERIVED = ("x^n", "e^x", "a^x", r"\ln|x|", *(rf"\{name} x" for name in ("sin", "cos", "tan", "sec", "csc", "cot", "arcsin", "arctan")))
_LIMITS = (
    r"\lim_{x \to 0} \frac{\sin x}{x}",
    r"\lim_{x \to 0} \frac{1 - \cos x}{x^2}",
    r"\lim_{x \to 0} \frac{e^x - 1}{x}",
    r"\lim_{x \to 0} \frac{\ln(1 + x)}{x}",
)


@functools.cache
def formula_sheet() -> tuple[Section, ...]:
    """Every section, in the order in which a first course meets them. It hangs on no book: once in a run is enough.

    Raises:
        Unproved: the checker does not prove a formula. Then no sheet is made.
    """
    circular = [node for node in integrands("x") if not _hyperbolic(node)]
    hyperbolic = [node for node in integrands("x") if _hyperbolic(node)]
    derived = (("derivative-table", rf"\frac{{d}}{{dx}}\left({text}\right)", _assumed(text)) for text in _DERIVED)
    return (
        Section(sentence("Derivatives"), tuple(_read(derived))),
        Section(sentence("Powers and exponentials"), tuple(_read(_POWERS))),
        Section(sentence("Circular functions"), tuple(_of_table(circular))),
        Section(sentence("Squares below"), tuple(_read(_QUADRATICS))),
        Section(sentence("Hyperbolic functions"), tuple(_of_table(hyperbolic))),
        Section(sentence("Limits"), tuple(_read(("limit-standard", text, "") for text in _LIMITS))),
    )


def _assumed(text: str) -> str:
    return "n > 0" if "n" in text and text.startswith("x") else "a > 1" if text == "a^x" else ""


def _read(rows: Iterable[tuple[str, str, str]]) -> Iterable[Formula]:
    context = Context(log="natural")
    for technique, text, given in rows:
        yield _formula(technique, parse_question(text, parse_given(given, context) if given else Given(), context))


def _of_table(nodes: Iterable[Node]) -> Iterable[Formula]:
    return (_formula("table", Question(Integral(node, "x"))) for node in nodes)


def _formula(technique: str, question: Question) -> Formula:
    step = next(iter(catalogue()[technique].propose(question)), None)
    if step is None:
        raise Unproved(f"{technique} has no formula for {question.node}")
    answer = add(step.result, ArbitraryConstant()) if question.kind == "indefinite" else step.result
    outcome = judge_tree(question, answer)
    if not isinstance(outcome, Checked) or outcome.grade != "proved":
        raise Unproved(f"{technique}: {question.node}")
    return Formula(question, answer, outcome)


def _hyperbolic(node: Node) -> bool:
    return any(isinstance(part, Call) and part.function.endswith("h") for part in walk(node))
