"""Why a calculation stops without a value. Each is an answer of its own; none is ever a proof."""

from __future__ import annotations


class NotSupported(Exception):
    """A part of a tree that the checker has no rule for; the text says which."""


class Budget(Exception):
    """The claim is too large for the limits of the checker, or its time is over."""


class Undefined(Exception):
    """The expression surely has no real value: everywhere in the box, at entry `args[0]` if it is a program that is run."""


class Unsure(Exception):
    """A guard may be zero somewhere in the box, or a sign is not known; nothing can be said yet."""
