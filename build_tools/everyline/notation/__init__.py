"""Maths text to tree and back: one grammar for teachers and students, and the printers."""

from .ask import parse_given, parse_question
from .context import Context
from .errors import NotationError, Reading
from .latex import latex
from .mathml import mathml
from .outline import outline
from .plain import calculator_form, plain
from .read import parse, readings
from .region import parse_domain
from .speech import speech, words
from .spoken import ENGLISH, Spoken, spoken

__all__ = [
    "ENGLISH", "Context", "NotationError", "Reading", "Spoken", "calculator_form", "latex", "mathml", "outline", "parse",
    "parse_domain", "parse_given", "parse_question", "plain", "readings", "speech", "spoken", "words",
]  # fmt: skip
