"""“Same kind, new numbers”: the other questions of a family as a list, each with its answer and its solution folded."""

from __future__ import annotations

from collections.abc import Iterator

from ..book.data import Examined, Family, Instance, Work
from .addresses import Here
from .badges import badge, weakest
from .box import compact, trial_data
from .find_slip import find_slip
from .finish import finish
from .formulas import annotated, conditions, wide
from .markup import element, fold, scrolling
from .prose import inline
from .solutions import of_instance


def has_others(examined: Examined) -> bool:
    """Whether a problem can be asked with other numbers."""
    return examined.family is not None and len(examined.family.instances) > 1


def others(examined: Examined, here: Here) -> str:
    """A fold with every instance but the one that the page shows; empty where the problem is no family."""
    family = examined.family
    if family is None or not has_others(examined):
        return ""
    dealt = family.instances[1:]
    name = here.tell("{count} more question" if len(dealt) == 1 else "{count} more questions", count=len(dealt))
    title = element("span", name, class_="ev-fold__title")
    items = [_item(made, number, here) for number, made in enumerate(dealt, 2)]
    return fold(
        "family", title, element("p", _proof(family, here), class_="ev-quiet"), element("ol", *items, class_="ev-instances", start=2)
    )


def _item(made: Instance, number: int, here: Here) -> str:
    """A question with its hints and its answer folded; `data-trial` is for the answer box, when the page's script deals the question."""
    where = conditions(made.question, here)
    asked = wide(made.question.node, here.tell("Question {number}", number=number), here) + (
        element("p", where, class_="ev-question__where") if where else ""
    )
    several = len(made.keys) > 1
    shown = "".join(
        scrolling(annotated("", verdict.tree, here), _called(number, form if several else 0, here))
        for form, verdict in enumerate(made.keys, 1)
        if verdict.tree is not None
    )
    hints = (
        _fold(
            f"family-{number}-hint-{place}",
            here.tell("Hint {number}", number=place),
            element("p", inline(text.value, here)),
            kind="ev-hint",
        )
        for place, text in enumerate(made.problem.hints, 1)
    )
    found = badge(weakest(verdict.outcome for verdict in made.keys), here)
    answer = _fold(f"family-{number}", here.tell("Answer"), shown, found, kind="ev-answer")
    trial = None if made.trial is None else compact(trial_data(made.trial, here.tell))
    # What comes only with a script is no part of the page until then: a tenth of the elements, and half of the time to load it.
    folds = (*hints, answer, element("noscript", *_work(made.work, number, here)))
    return element("li", element("div", asked), element("div", *folds), class_="ev-instance", data_trial=trial)


def _work(work: Work | None, number: int, here: Here) -> Iterator[str]:
    """The worked solution, and what a student is asked to do with it."""
    if work is not None:
        before = f"family-{number}-"
        yield of_instance(work, number, f"{before}worked", here)
        yield finish(work, f"{before}worked", here, before)
        yield find_slip(work, here, before)


def _called(number: int, form: int, here: Here) -> str:
    """What an answer is called aloud; `form` is its number where there are several."""
    if form:
        return here.tell("Answer to question {number}, form {form}", number=number, form=form)
    return here.tell("Answer to question {number}", number=number)


def _fold(identity: str, name: str, *content: str, kind: str) -> str:
    return fold(identity, element("span", name, class_="ev-fold__title"), *content, kind=kind)


def _proof(family: Family, here: Here) -> str:
    """What was proved of the family, in a sentence."""
    if family.with_letters is not None:
        return here.tell("The answer was proved with letters in place of the numbers, and once more for each of these questions.")
    return here.tell("The answer was proved for each of these questions.")
