"""“Same kind, new numbers”: the other questions of a family as a list, each with its answer folded."""

from __future__ import annotations

from ..book.data import Examined, Family, Instance
from .addresses import Here
from .badges import badge, weakest
from .formulas import annotated, conditions, wide
from .markup import element, fold, scrolling


def others(examined: Examined, here: Here) -> str:
    """A fold with every instance but the one that the page shows; empty where the problem is no family."""
    family = examined.family
    if family is None or len(family.instances) < 2:
        return ""
    dealt = family.instances[1:]
    title = element("span", f"{len(dealt)} more questions", class_="ev-fold__title")
    items = [element("li", _question(made, number, here), class_="ev-instance") for number, made in enumerate(dealt, 2)]
    return fold("family", title, element("p", _proof(family), class_="ev-quiet"), element("ol", *items, class_="ev-instances", start=2))


def _question(made: Instance, number: int, here: Here) -> str:
    where = conditions(made.question)
    asked = wide(made.question.node, f"Question {number}") + (element("p", where, class_="ev-quiet") if where else "")
    several = len(made.keys) > 1
    shown = "".join(
        scrolling(annotated("", verdict.tree), f"Answer to question {number}" + (f", form {form}" if several else ""))
        for form, verdict in enumerate(made.keys, 1)
        if verdict.tree is not None
    )
    found = badge(weakest(verdict.outcome for verdict in made.keys), here)
    return asked + fold(f"family-{number}", element("span", "Answer", class_="ev-fold__title"), shown, found, kind="ev-answer")


def _proof(family: Family) -> str:
    """What was proved of the family, in a sentence."""
    if family.with_letters is not None:
        return "The answer was proved with letters in place of the numbers, and once more for each of these questions."
    return "The answer was proved for each of these questions."
