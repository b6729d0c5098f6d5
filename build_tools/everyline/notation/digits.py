"""Numbers as they are typed: decimals are exact, and a sign that may set off thousands is asked about."""

from __future__ import annotations

from fractions import Fraction

from .context import Context
from .errors import NotationError
from .message import say
from .tree import Number

MAX_DIGITS = 60


def read_number(text: str, context: Context, start: int) -> tuple[Number, ...]:
    """The numbers that some digits can mean: one, or two where a sign may set off thousands or decimals."""
    digits = text.replace("{,}", ",").replace("{.}", ".")
    if len(digits) > MAX_DIGITS:
        raise NotationError(
            "limit",
            say("This number has too many digits."),
            start,
            start + len(text),
            say("At most {count} digits can be read.", count=MAX_DIGITS),
        )
    if digits.isdigit():
        return (Number(Fraction(int(digits))),)
    whole, _, decimals = digits.replace(",", ".").partition(".")
    if "." in decimals:
        raise NotationError(
            "number", say("This number cannot be read."), start, start + len(text), say("Write the digits without marks between thousands.")
        )
    decimal = Number(Fraction(int(whole + decimals), 10 ** len(decimals)), len(decimals))
    usual = "," if context.decimal == "comma" else "."
    if usual not in digits and len(decimals) == 3 and 1 <= len(whole) <= 3 and whole[0] != "0":
        return Number(Fraction(int(whole + decimals))), decimal
    return (decimal,)
