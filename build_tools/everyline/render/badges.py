"""What the checker found, as a small badge that links to the page which explains its words."""

from __future__ import annotations

from collections.abc import Iterable

from ..book.data import Outcome, Vouched
from ..book.words import agreeing
from ..kernel import Checked, Undecided
from ..notation import plain
from ..notation.message import fill
from .addresses import Here
from .markup import element, escape

#: The page that explains the words on badges.
EXPLAINED = "checked.md"


def badge(outcome: Outcome | None, here: Here) -> str:
    """One verdict in the reader's words; empty when there is none."""
    match outcome:
        case None:
            return ""
        case Checked(grade="proved"):
            return _badge("proved", here.tell("proved"), "proved", here)
        case Checked():
            return _badge("close", fill(agreeing(outcome), plain, here.tell), "agrees", here)
        case Vouched():
            return _badge("close", here.tell("vouched for by {name}", name=outcome.name), "undecided", here)
        case Undecided():
            return _badge("close", here.tell("could not be decided"), "undecided", here)
    return _badge("wrong", here.tell("wrong"), "wrong", here)


def _badge(kind: str, text: str, place: str, here: Here) -> str:
    return element("a", escape(text), href=here.link(EXPLAINED, place), class_=f"ev-badge ev-badge--{kind}")


def weakest(outcomes: Iterable[Outcome | None]) -> Outcome | None:
    """The verdict of several things together: the one that says least. None where nothing was checked."""
    found = [outcome for outcome in outcomes if outcome is not None]
    return max(found, key=_doubt, default=None)


def _doubt(outcome: Outcome) -> tuple[int, int]:
    match outcome:
        case Checked(grade="proved"):
            return (0, 0)
        case Checked():
            return (1, -outcome.digits)
        case Vouched():
            return (2, 0)
        case Undecided():
            return (3, 0)
    return (4, 0)
