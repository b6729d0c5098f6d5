"""A worked solution at the reader's pace: one line at a time on the page, and full screen as on a board. Both need the script; the lines
are there without it."""

from __future__ import annotations

from .markup import element, escape

#: How the buttons of the board are called, by what they do.
_BOARD = (("back", "Line back"), ("next", "Next line"), ("ask", "Ask first"), ("scheme", "Light or dark"), ("close", "Close"))


def pace() -> str:
    """The buttons of one worked solution; hidden until the script gives them work."""
    buttons = (
        _button("step", "One line at a time", aria_pressed="false"),
        _button("next", "Next line", hidden=True),
        _button("board", "On the board"),
    )
    return element("div", *buttons, class_="ev-pace", hidden=True)


def board() -> str:
    """The board of a page, closed: large lines, one for each key press, two solutions side by side where there are two."""
    buttons = (_button(act, name, aria_pressed="true" if act == "ask" else None) for act, name in _BOARD)
    beside = element(
        "label", "Beside it: ", element("select", element("option", "nothing", value="")), class_="ev-board__beside", hidden=True
    )
    keys = "Space or → for the next line, ← for the line before, Esc to close. “Ask first” shows the reason before the line."
    bar = element("div", *buttons, beside, class_="ev-board__bar")
    help_ = element("p", escape(keys), class_="ev-quiet")
    lines = element("div", class_="ev-board__lines", aria_live="polite", tabindex=0, role="region", aria_label="Lines on the board")
    return element("dialog", bar, lines, help_, class_="ev-board", aria_label="The board")


def _button(act: str, name: str, **more: str | bool | None) -> str:
    return element("button", name, type="button", class_="md-button ev-button", data_act=act, **more)
