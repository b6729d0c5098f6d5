"""What is said of words and signs that have no meaning here."""

from __future__ import annotations

from difflib import get_close_matches

from .errors import NotationError
from .message import say, sentence
from .words import FUNCTION_WORDS, GREEK

_DECLARE = sentence(
    "If {letter} is a parameter, declare it under “given” (for example: {letter} > 0). Undeclared letters are never multiplied."
)


def unknown(word: str, names: frozenset[str], constants: bool, start: int, end: int | None = None) -> NotationError:
    """The error for a word or, with `end`, for one letter that is not declared."""
    if len(word) == 2 and word[0] == "d" and word[1] in names:
        message = say("This {word} does not belong to an integral.", word=word)
        return NotationError("differential", message, start, start + 2, say("Write the integral sign in front of the integrand."))
    if len(word) > 1 and end is None:
        # No letter is meant by a longer word: `ax` is an a that nobody declared, not a misspelt x.
        close = get_close_matches(word, [*FUNCTION_WORDS, *(name for name in names if len(name) > 1), "pi", "infinity"], 1)
        if close:
            message, help = say("The word “{word}” is not known here.", word=word), say("Did you mean {word}?", word=close[0])
            return NotationError("undeclared", message, start, start + len(word), help)
    allowed = names | {"e"} | ({"C"} if constants else set())
    bad = next((i for i, c in enumerate(word) if c not in allowed), 0) if end is None else 0
    letter = word if end is not None else word[bad : bad + 1]
    help = say(_DECLARE, letter=letter)
    stop = end if end is not None else start + bad + 1
    return NotationError("undeclared", say("“{letter}” is not declared.", letter=letter), start + bad, stop, help)


def stray(sign: str, start: int) -> NotationError:
    """The error for a character that has no meaning."""
    help = {
        "!": say("Factorials are not part of the notation: write the number or the product."),
        "'": say("Write a derivative as d/dx (…)."),
        "$": say("Dollar signs go round the whole formula only."),
        "&": say("One formula at a time."),
        "%": say("Write a percentage as a fraction."),
    }.get(sign)
    return NotationError("unknown", say("The character “{sign}” has no meaning here.", sign=sign), start, start + 1, help)


def unknown_command(name: str, start: int, end: int) -> NotationError:
    """The error for a command, by its name without the backslash."""
    help = _INSTEAD.get(name)
    if help is None:
        close = get_close_matches(name, [*FUNCTION_WORDS, *GREEK, "frac", "infty", "cdot", "int", "lim"], 1)
        meant = say("Did you mean {word}?", word=f"\\{close[0]}") if close else None
        help = meant or say("Write it with the commands of school calculus.")
    return NotationError("unknown", say(r"The command “\{name}” is not known here.", name=name), start, end, help)


_INSTEAD = {
    "binom": say("Write what it stands for as a product."),
    "pm": say("Write + or -, one formula for each."),
    "mp": say("Write + or -, one formula for each."),
}
