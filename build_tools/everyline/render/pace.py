"""A worked solution at the reader's pace: one line at a time on the page, and full screen as on a board. Both need the script; the lines
are there without it."""

from __future__ import annotations

from ..notation.message import sentence
from .addresses import Here
from .markup import element, escape

#: How the buttons of the board are called, by what they do; `numbers` is for families.
_BOARD = {
    "back": sentence("Line back"), "next": sentence("Next line"), "numbers": sentence("New numbers"), "ask": sentence("Ask first"),
    "scheme": sentence("Light or dark"), "close": sentence("Close"),
}  # fmt: skip
_KEYS = sentence("Space or → for the next line, ← for the line before, Esc to close. “Ask first” shows the reason before the line.")
_NUMBERS = sentence("N brings new numbers.")


def pace(here: Here) -> str:
    """The buttons of one worked solution; hidden until the script gives them work."""
    buttons = (
        _button("step", here.tell("One line at a time"), aria_pressed="false"),
        _button("next", here.tell("Next line"), hidden=True),
        _button("board", here.tell("On the board")),
    )
    return element("div", *buttons, class_="ev-pace", hidden=True)


def board(here: Here, *, numbers: bool = False) -> str:
    """The board of a page, closed: large lines, one for each key press, two solutions side by side where there are two.

    `numbers`: the page has the solutions of other numbers, too, and the board goes from one to the next.
    """
    acts = (act for act in _BOARD if numbers or act != "numbers")
    buttons = (_button(act, here.tell(_BOARD[act]), aria_pressed="true" if act == "ask" else None) for act in acts)
    choice = element("select", element("option", here.tell("nothing"), value=""))
    beside = element("label", here.tell("Beside it:"), " ", choice, class_="ev-board__beside", hidden=True)
    keys = here.tell(_KEYS) + (f" {here.tell(_NUMBERS)}" if numbers else "")
    bar = element("div", *buttons, beside, class_="ev-board__bar")
    help_ = element("p", escape(keys), class_="ev-quiet")
    name = here.tell("Lines on the board")
    lines = element("div", class_="ev-board__lines", aria_live="polite", tabindex=0, role="region", aria_label=name)
    return element("dialog", bar, lines, help_, class_="ev-board", aria_label=here.tell("The board"))


def _button(act: str, name: str, **more: str | bool | None) -> str:
    return element("button", name, type="button", class_="md-button ev-button", data_act=act, **more)
