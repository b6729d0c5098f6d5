"""everyline: a practice book for calculus whose every line is checked.

The names below are the public surface; everything else may change. They are loaded when they are used, so that checking a key
loads neither a site generator nor a search for solutions.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .book.assembly import build, read_and_build
    from .book.data import Book, Examined
    from .derive.derive import derive as solve
    from .derive.route import Derivation, Route
    from .diagnostics.diagnostic import Diagnostic
    from .kernel.check import check
    from .kernel.claims import Checked, Equal, IntegralValue, Refuted, SameDerivative, Setting, Undecided
    from .notation.ask import parse_given, parse_question
    from .notation.context import Context
    from .notation.errors import NotationError
    from .notation.latex import latex
    from .notation.mathml import mathml
    from .notation.plain import plain
    from .notation.question import Given, Question
    from .notation.read import parse
    from .notation.speech import speech
    from .render.site import Site, site
    from .source.load import Sources, load

#: Where each name lives: the module, and the name there if it is another.
_HOMES = {
    "Book": "book.data", "Checked": "kernel.claims", "Context": "notation.context", "Derivation": "derive.route",
    "Diagnostic": "diagnostics.diagnostic", "Equal": "kernel.claims", "Examined": "book.data",
    "Given": "notation.question", "IntegralValue": "kernel.claims", "NotationError": "notation.errors",
    "Question": "notation.question", "Refuted": "kernel.claims", "Route": "derive.route", "SameDerivative": "kernel.claims",
    "Setting": "kernel.claims", "Site": "render.site", "Sources": "source.load", "Undecided": "kernel.claims",
    "build": "book.assembly", "check": "kernel.check", "latex": "notation.latex", "load": "source.load", "mathml": "notation.mathml",
    "parse": "notation.read", "parse_given": "notation.ask", "parse_question": "notation.ask", "plain": "notation.plain",
    "read_and_build": "book.assembly", "site": "render.site", "solve": "derive.derive:derive", "speech": "notation.speech",
}  # fmt: skip

__all__ = [
    "Book", "Checked", "Context", "Derivation", "Diagnostic", "Equal", "Examined", "Given", "IntegralValue",
    "NotationError", "Question", "Refuted", "Route", "SameDerivative", "Setting", "Site", "Sources", "Undecided",
    "build", "check", "latex", "load", "mathml", "parse", "parse_given", "parse_question", "plain", "read_and_build", "site",
    "solve", "speech",
]  # fmt: skip


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, _, inner = _HOMES[name].partition(":")
    return getattr(importlib.import_module(f".{module}", __name__), inner or name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
