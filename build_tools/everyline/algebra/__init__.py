"""Algebra on our tree, as a teacher does it: tidy, expand, factor, divide, split. Untrusted: the kernel checks what comes of it."""

from .expand import distribute, multiply_out
from .signs import positive
from .terms import Term, term_of
from .tidy import join, tidy

__all__ = ["Term", "distribute", "join", "multiply_out", "positive", "term_of", "tidy"]
