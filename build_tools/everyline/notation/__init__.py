"""Maths text to tree and back: one grammar for teachers and students, and the printers."""

from .ask import parse_given, parse_question
from .context import Context
from .errors import NotationError, Reading
from .latex import latex
from .plain import plain
from .read import parse, readings
from .region import parse_domain

__all__ = ["Context", "NotationError", "Reading", "latex", "parse", "parse_domain", "parse_given", "parse_question", "plain", "readings"]
