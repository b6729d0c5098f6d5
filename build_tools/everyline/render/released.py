"""What a page says of answers that it does not have yet."""

from __future__ import annotations

from ..book.data import Examined
from .addresses import Here
from .markup import element, escape


def not_yet(examined: Examined, here: Here, number: int = 0) -> str:
    """From when on the answer is to be had, with a field to note one's own until then; empty where it is there.

    Of several on a page each has its `number`.
    """
    if examined.withheld is None:
        return ""
    if not examined.withheld:
        return element("p", here.tell("This edition comes without answers."), class_="ev-withheld")
    said = here.tell("The answer, the hints and the worked solutions will be here from {day}.", day=here.day(examined.withheld))
    return element("p", escape(said), class_="ev-withheld") + _note(examined, f"-{number}" if number else "", here)


def _note(examined: Examined, place: str, here: Here) -> str:
    field = element(
        "input",
        id=f"note-answer{place}",
        class_="ev-box__field",
        type="text",
        autocomplete="off",
        autocapitalize="none",
        spellcheck="false",
    )
    button = element("button", here.tell("Note it"), type="submit", class_="md-button md-button--primary")
    return element(
        "form",
        element("label", here.tell("Your answer"), for_=f"note-answer{place}"),
        element("div", field, button, class_="ev-box__row"),
        element("p", role="status"),
        class_="ev-note",
        data_problem=examined.problem.path,
        data_said=here.tell("Answer noted, in this browser only. On the day it will wait in the box of this problem’s page."),
    )
