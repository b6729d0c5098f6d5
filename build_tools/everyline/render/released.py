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


def not_yet(examined: Examined) -> str:
    """From when on the answer is to be had; empty where it is there."""
    if examined.withheld is None:
        return ""
    if not examined.withheld:
        return element("p", "This edition comes without answers.", class_="ev-withheld")
    said = f"The answer, the hints and the worked solutions will be here from {day(examined.withheld)}."
    return element("p", escape(said), class_="ev-withheld")
