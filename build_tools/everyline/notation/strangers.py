"""What is said of words and signs that have no meaning here."""

from __future__ import annotations

from difflib import get_close_matches

from .errors import NotationError
from .words import FUNCTION_WORDS, GREEK


def unknown(word: str, names: frozenset[str], constants: bool, start: int, end: int | None = None) -> NotationError:
    """The error for a word or, with `end`, for one letter that is not declared."""
    if len(word) == 2 and word[0] == "d" and word[1] in names:
        message = f"This {word} does not belong to an integral."
        return NotationError("differential", message, start, start + 2, "Write the integral sign in front of the integrand.")
    if len(word) > 1 and end is None:
        close = get_close_matches(word, [*FUNCTION_WORDS, *names, "pi", "infinity"], 1)
        if close:
            return NotationError(
                "undeclared", f"The word “{word}” is not known here.", start, start + len(word), f"Did you mean {close[0]}?"
            )
    allowed = names | {"e"} | ({"C"} if constants else set())
    bad = next((i for i, c in enumerate(word) if c not in allowed), 0) if end is None else 0
    letter = word if end is not None else word[bad : bad + 1]
    return NotationError(
        "undeclared", f"“{letter}” is not declared.", start + bad, end if end is not None else start + bad + 1,
        f"If {letter} is a parameter, declare it under “given” (for example: {letter} > 0). Undeclared letters are never multiplied.",
    )  # fmt: skip


def stray(sign: str, start: int) -> NotationError:
    """The error for a character that has no meaning."""
    help = {
        "!": "Factorials are not part of the notation: write the number or the product.", "'": "Write a derivative as d/dx (…).",
        "$": "Dollar signs go round the whole formula only.", "&": "One formula at a time.", "%": "Write a percentage as a fraction.",
    }.get(sign, "")  # fmt: skip
    return NotationError("unknown", f"The character “{sign}” has no meaning here.", start, start + 1, help)


def unknown_command(name: str, start: int, end: int) -> NotationError:
    """The error for a command, by its name without the backslash."""
    help = _INSTEAD.get(name, "")
    if not help:
        close = get_close_matches(name, [*FUNCTION_WORDS, *GREEK, "frac", "infty", "cdot", "int", "lim"], 1)
        help = f"Did you mean \\{close[0]}?" if close else "Write it with the commands of school calculus."
    return NotationError("unknown", f"The command “\\{name}” is not known here.", start, end, help)


_INSTEAD = {
    "binom": "Write what it stands for as a product.",
    "pm": "Write + or -, one formula for each.",
    "mp": "Write + or -, one formula for each.",
}
