"""The words in which formulas are said aloud: a table for each language, handed in as data. English is here, the others are catalogues."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from functools import cache

from .message import Translate, sentence


@dataclass(frozen=True, slots=True)
class Spoken:
    """Words and templates with `{named}` places. A list is parted by commas; every language has as many parts in it as English."""

    #: How a number with decimals is written, on a page too.
    decimal: str = sentence("{whole}.{places}")
    infinity: str = sentence("infinity")
    index: str = sentence("{letter} sub {index}")
    plus: str = sentence("plus")
    minus: str = sentence("minus")
    times: str = sentence("times")
    brackets: str = sentence("open bracket {inside} close bracket")
    #: From two to ten: what 1 and what several of these parts are called.
    part: str = sentence("half, third, quarter, fifth, sixth, seventh, eighth, ninth, tenth")
    parts: str = sentence("halves, thirds, quarters, fifths, sixths, sevenths, eighths, ninths, tenths")
    one: str = sentence("one {part}")
    over: str = sentence("{top} over {bottom}")
    fraction: str = sentence("the fraction {top} over {bottom}, end fraction")
    squared: str = sentence("squared")
    cubed: str = sentence("cubed")
    raised: str = sentence("to the {exponent}")
    power: str = sentence("to the power {exponent}")
    power_end: str = sentence("end power")
    root: str = sentence("the square root of {inside}")
    cube_root: str = sentence("the cube root of {inside}")
    nth_root: str = sentence("the {ordinal} root of {inside}")
    root_end: str = sentence("end root")
    absolute: str = sentence("the absolute value of {inside}")
    absolute_end: str = sentence("end absolute value")
    #: From two to ten, then any other.
    ordinals: str = sentence("second, third, fourth, fifth, sixth, seventh, eighth, ninth, tenth")
    nth: str = sentence("{number}th")
    #: In the order of `FAMILY`.
    circular: str = sentence("sine, cosine, tangent, secant, cosecant, cotangent")
    inverse: str = sentence("inverse sine, inverse cosine, inverse tangent, inverse secant, inverse cosecant, inverse cotangent")
    hyperbolic: str = sentence(
        "hyperbolic sine, hyperbolic cosine, hyperbolic tangent, hyperbolic secant, hyperbolic cosecant, hyperbolic cotangent"
    )
    inverse_hyperbolic: str = sentence(
        "inverse hyperbolic sine, inverse hyperbolic cosine, inverse hyperbolic tangent, "
        "inverse hyperbolic secant, inverse hyperbolic cosecant, inverse hyperbolic cotangent"
    )
    exp: str = sentence("the exponential")
    ln: str = sentence("the natural logarithm")
    sgn: str = sentence("the sign")
    log: str = sentence("the logarithm to base {base}")
    applied: str = sentence("{function} of {argument}")
    integral: str = sentence("the integral of {integrand} with respect to {variable}")
    definite: str = sentence("the integral from {lower} to {upper} of {integrand} with respect to {variable}")
    derivative: str = sentence("the derivative with respect to {variable} of {body}")
    nth_derivative: str = sentence("the {ordinal} derivative with respect to {variable} of {body}")
    limit: str = sentence("the limit as {variable} tends to {point} of {body}")
    right: str = sentence("{point} from the right")
    left: str = sentence("{point} from the left")
    evaluated: str = sentence("{body} evaluated from {variable} equals {lower} to {upper}")
    equals: str = sentence("equals")
    less: str = sentence("is less than")
    greater: str = sentence("is greater than")
    at_most: str = sentence("is at most")
    at_least: str = sentence("is at least")
    unequal: str = sentence("is not equal to")
    diverges: str = sentence("diverges")
    does_not_exist: str = sentence("does not exist")
    # Said of a book's own formulas only, never of what a student types.
    interval: str = sentence("the interval from {lower} to {upper}")
    interval_closed: str = sentence("ends included")
    interval_open: str = sentence("ends excluded")
    interval_first: str = sentence("ends the first included")
    interval_last: str = sentence("ends the last included")
    either: str = sentence("or")
    # The shorter words of titles and of the search.
    brief_log: str = sentence("log to base {base}")
    brief_integral: str = sentence("the integral of {integrand}")
    brief_definite: str = sentence("the integral from {lower} to {upper} of {integrand}")
    brief_derivative: str = sentence("the derivative of {body}")
    brief_nth_derivative: str = sentence("the {ordinal} derivative of {body}")
    brief_limit: str = sentence("the limit of {body} as {variable} tends to {point}")


ENGLISH = Spoken()
_DECIMALS = re.compile(r"(\d+)\.(\d+)")
#: The order of the lists of functions.
FAMILY = ("sin", "cos", "tan", "sec", "csc", "cot")


def spoken(translate: Translate) -> Spoken:
    """The table in the language that `translate` speaks."""
    return Spoken(**{field.name: translate(getattr(ENGLISH, field.name)) for field in fields(Spoken)})


def marked(text: str, decimal: str, comma: str = ",") -> str:
    """What was printed, with numbers as `decimal` has them; `comma` is how one inside a number is written where this goes."""
    return _DECIMALS.sub(lambda number: decimal.format(whole=number[1], places=number[2]).replace(",", comma), text)


@cache
def function_names(said: Spoken) -> dict[str, str]:
    """What each function of the tree is called."""
    rows = {"{}": said.circular, "arc{}": said.inverse, "{}h": said.hyperbolic, "ar{}h": said.inverse_hyperbolic}
    named = {form.format(name): word for form, row in rows.items() for name, word in zip(FAMILY, listed(row), strict=True)}
    return named | {"exp": said.exp, "ln": said.ln, "sgn": said.sgn}


def listed(row: str) -> tuple[str, ...]:
    """The parts of a list."""
    return tuple(row.split(", "))
