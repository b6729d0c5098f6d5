"""Maths text to tree and back: one grammar for teachers and students, and the printers.

- the tree: `tree`, `build` (making and walking it), `question`, `outline` (as nested lists), `message` (sentences with formulas in them);
- reading: `read` and `ask` are the ways in; `lexer` with `patterns` and `tokens`; `parser`, with a module for what follows each kind
  of sign: `operands`, `powers`, `application`, `calculus`, `digits`; `region` for domains; `words` is the vocabulary, `context` what
  a text may refer to, `limits` how large it may be;
- what is said of a text that cannot be read: `errors`, `strangers`;
- printers: `latex`, `mathml`, `typst`, `plain`, `layout` (a terminal), `speech` with `spoken` (its words); `style` is what they share.
"""

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
