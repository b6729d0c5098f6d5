"""What a page says of answers that it does not have yet."""

from __future__ import annotations

import datetime

from ..book.data import Examined
from .markup import element, escape

_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")


def day(text: str) -> str:
    """`2027-03-01` as `1 March 2027`."""
    date = datetime.date.fromisoformat(text)
    return f"{date.day} {_MONTHS[date.month - 1]} {date.year}"


def not_yet(examined: Examined, number: int = 0) -> str:
    """From when on the answer is to be had, with a field to note one's own until then; empty where it is there.

    Of several on a page each has its `number`.
    """
    if examined.withheld is None:
        return ""
    if not examined.withheld:
        return element("p", "This edition comes without answers.", class_="ev-withheld")
    said = f"The answer, the hints and the worked solutions will be here from {day(examined.withheld)}."
    return element("p", escape(said), class_="ev-withheld") + _note(examined, f"-{number}" if number else "")


def _note(examined: Examined, place: str) -> str:
    field = element(
        "input",
        id=f"note-answer{place}",
        class_="ev-box__field",
        type="text",
        autocomplete="off",
        autocapitalize="none",
        spellcheck="false",
    )
    return element(
        "form",
        element("label", "Your answer", for_=f"note-answer{place}"),
        element("div", field, element("button", "Note it", type="submit", class_="md-button md-button--primary"), class_="ev-box__row"),
        element("p", role="status"),
        class_="ev-note",
        data_problem=examined.problem.path,
        data_said="Answer noted, in this browser only. On the day it will wait in the box of this problem’s page.",
    )
