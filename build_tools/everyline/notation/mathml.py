"""MathML as a textbook sets it: for MathML Core, without a script and with a spoken text on every formula."""

from __future__ import annotations

import re
from functools import singledispatch
from html import escape

from .build import names
from .latex import bare, between
from .speech import speech
from .spoken import ENGLISH, Spoken, marked
from .style import (
    decimal_text,
    function_of,
    is_atom,
    is_bare_in_limit,
    needs_brackets_before_differential,
    needs_brackets_in_product,
    needs_brackets_in_sum,
    quick_derivative,
    raised_function,
    simple_argument,
    slashed,
)  # fmt: skip
from .tree import (
    Absolute,
    ArbitraryConstant,
    Call,
    Constant,
    Derivative,
    Diverges,
    DoesNotExist,
    Equation,
    Evaluation,
    Inequality,
    Infinity,
    Integral,
    Interval,
    Limit,
    Logarithm,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Union,
)  # fmt: skip
from .words import GREEK

APPLY = "<mo>\u2061</mo>"
TIMES = "<mo>\u2062</mo>"
DOT = "<mo>⋅</mo>"
THIN = '<mspace width="0.17em"/>'
_TALL = ("<mfrac", "<msqrt", "<mroot", "<munder", "<msubsup", "largeop")
MINUS = '<mo form="prefix">−</mo>'
_DECIMAL = re.compile(r"(?<=<mn>)\d+\.\d+(?=</mn>)")
_RELATIONS = {"<": "&lt;", ">": "&gt;", "<=": "≤", ">=": "≥", "!=": "≠"}


def mathml(node: Node, display: bool = False, said: Spoken = ENGLISH) -> str:
    """A whole `<math>` element; with `display` it is set on a line of its own. Its `alttext` is what `speech` says in the words `said`."""
    block = ' display="block"' if display else ""
    return f'<math{block} alttext="{escape(speech(node, said), quote=True)}">{worded(_set(node), said)}</math>'


def worded(made: str, said: Spoken) -> str:
    """MathML with its numbers, and an answer in words, as a language has them."""
    for word, other in ((ENGLISH.diverges, said.diverges), (ENGLISH.does_not_exist, said.does_not_exist)):
        made = made.replace(f"<mtext>{word}</mtext>", f"<mtext>{escape(other)}</mtext>")
    return _DECIMAL.sub(lambda number: marked(number[0], said.decimal), made)


def row(*parts: str) -> str:
    return f"<mrow>{''.join(parts)}</mrow>"


def fence(inside: str, opening: str = "(", closing: str = ")") -> str:
    """Brackets that grow where what is between them is taller than a line. (Chromium leaves a gap beside each bracket that may grow.)"""
    grows = "true" if any(mark in inside for mark in _TALL) else "false"
    left = f'<mo fence="true" form="prefix" stretchy="{grows}">{opening}</mo>'
    return row(left, inside, f'<mo fence="true" form="postfix" stretchy="{grows}">{closing}</mo>')


@singledispatch
def _set(node: Node) -> str:
    raise TypeError(f"not part of a formula: {type(node).__name__}")


@_set.register
def _(node: Number) -> str:
    return f"<mn>{decimal_text(node)}</mn>"


@_set.register
def _(node: Constant) -> str:
    return f"<mi>{'π' if node.name == 'pi' else node.name}</mi>"


@_set.register
def _(node: Infinity) -> str:
    return "<mi>∞</mi>"


@_set.register(Name)
@_set.register(ArbitraryConstant)
def _(node: Name | ArbitraryConstant) -> str:
    return letter(node.name)


def letter(name: str) -> str:
    base, _, subscript = name.partition("_")
    made = f"<mi>{GREEK.get(base, base)}</mi>"
    if not subscript:
        return made
    below = f"<mn>{subscript}</mn>" if subscript.isdigit() else f"<mi>{escape(subscript)}</mi>"
    return f"<msub>{made}{below}</msub>"


def before_differential(node: Node) -> str:
    return fence(_set(node)) if needs_brackets_before_differential(node) else _set(node)


@_set.register
def _(node: Negative) -> str:
    return row(MINUS, _term(node.argument, True))


def _term(node: Node, last: bool) -> str:
    return fence(_set(node)) if needs_brackets_in_sum(node, last) else _set(node)


@_set.register
def _(node: Sum) -> str:
    parts: list[str] = []
    end = len(node.terms) - 1
    for place, term in enumerate(node.terms):
        inner = term.argument if isinstance(term, Negative) else term
        if isinstance(term, Negative):
            parts.append(MINUS if place == 0 else "<mo>−</mo>")
        elif place:
            parts.append("<mo>+</mo>")
        parts.append(_term(inner, place == end))
    return row(*parts)


@_set.register
def _(node: Product) -> str:
    end = len(node.factors) - 1
    parts = [_factor(node.factors[0], False)]
    for place in range(1, end + 1):
        before, here = node.factors[place - 1], node.factors[place]
        sign = between(before, here)
        spaced = sign == r"\," or function_of(here) is not None or (function_of(before) is not None and bare(before))
        parts.append(DOT if "cdot" in sign else TIMES + (THIN if spaced else ""))
        parts.append(_factor(here, place == end))
    return row(*parts)


def _factor(node: Node, last: bool) -> str:
    return fence(_set(node)) if needs_brackets_in_product(node, last) else _set(node)


@_set.register
def _(node: Quotient) -> str:
    return f"<mfrac>{_set(node.top)}{_set(node.bottom)}</mfrac>"


@_set.register
def _(node: Power) -> str:
    function = raised_function(node)
    if function is not None:
        return _applied(f"<msup><mi>{function.function}</mi>{_set(node.exponent)}</msup>", function)
    base = _set(node.base) if is_atom(node.base) else fence(_set(node.base))
    return f"<msup>{base}{_exponent(node.exponent)}</msup>"


def _exponent(node: Node) -> str:
    quotient = slashed(node)
    if quotient is None:
        return _set(node)
    sign = MINUS if isinstance(node, Negative) else ""
    return row(sign, _set(quotient.top), "<mo>/</mo>", _set(quotient.bottom))


@_set.register
def _(node: Root) -> str:
    if node.index == 2:
        return f"<msqrt>{_set(node.radicand)}</msqrt>"
    return f"<mroot>{_set(node.radicand)}<mn>{node.index}</mn></mroot>"


@_set.register
def _(node: Absolute) -> str:
    return fence(_set(node.argument), "|", "|")


@_set.register
def _(node: Call) -> str:
    return _applied(f"<mi>{node.function}</mi>", node)


@_set.register
def _(node: Logarithm) -> str:
    return _applied(f"<msub><mi>log</mi>{_set(node.base)}</msub>", node)


def _applied(name: str, node: Call | Logarithm) -> str:
    """A function at its argument; a thin space stands where no bracket does."""
    argument = node.argument
    exponential = isinstance(node, Call) and node.function == "exp"
    if isinstance(node, Call) and node.function == "ln" and isinstance(argument, Absolute):
        return row(name, APPLY, _set(argument))
    if exponential or not simple_argument(argument):
        return row(name, APPLY, fence(_set(argument)))
    return row(name, APPLY, THIN, _set(argument))


@_set.register
def _(node: Integral) -> str:
    sign = '<mo largeop="true">∫</mo>'
    if node.lower is not None and node.upper is not None:
        sign = f"<msubsup>{sign}{_exponent(node.lower)}{_exponent(node.upper)}</msubsup>"
    return row(sign, before_differential(node.integrand), THIN, row("<mi>d</mi>", letter(node.variable)))


@_set.register
def _(node: Derivative) -> str:
    d = "<mi>d</mi>"
    up = f"<msup>{d}<mn>{node.order}</mn></msup>" if node.order > 1 else d
    of_name = quick_derivative(node) is not None
    above = row(up, _set(node.body)) if of_name else up
    below = f"<msup>{letter(node.variable)}<mn>{node.order}</mn></msup>" if node.order > 1 else letter(node.variable)
    fraction = f"<mfrac>{above}{row(d, below)}</mfrac>"
    return fraction if of_name else row(fraction, fence(_set(node.body), "[", "]"))


@_set.register
def _(node: Limit) -> str:
    point = _exponent(node.point)
    if node.side:
        base = point if is_atom(node.point) else fence(_set(node.point))
        point = f"<msup>{base}<mo>{'−' if node.side == '-' else '+'}</mo></msup>"
    below = row(letter(node.variable), '<mo stretchy="false">→</mo>', point)
    body = _set(node.body) if is_bare_in_limit(node.body) else fence(_set(node.body))
    return row(f'<munder><mo movablelimits="false">lim</mo>{below}</munder>', THIN, body)


@_set.register
def _(node: Evaluation) -> str:
    lower = _exponent(node.lower)
    if names(node.body) != {node.variable}:
        lower = row(letter(node.variable), "<mo>=</mo>", lower)
    return f"<msubsup>{fence(_set(node.body), '[', ']')}{lower}{_exponent(node.upper)}</msubsup>"


@_set.register
def _(node: Equation) -> str:
    return row(_set(node.left), "<mo>=</mo>", _set(node.right))


@_set.register
def _(node: Inequality) -> str:
    return row(_set(node.left), f"<mo>{_RELATIONS[node.relation]}</mo>", _set(node.right))


@_set.register
def _(node: Interval) -> str:
    inside = row(_set(node.lower), "<mo>,</mo>", _set(node.upper))
    return fence(inside, "[" if node.closed_lower else "(", "]" if node.closed_upper else ")")


@_set.register
def _(node: Union) -> str:
    return row("<mo>∪</mo>".join(_set(part) for part in node.parts))


@_set.register
def _(node: Diverges) -> str:
    return f"<mtext>{ENGLISH.diverges}</mtext>"


@_set.register
def _(node: DoesNotExist) -> str:
    return f"<mtext>{ENGLISH.does_not_exist}</mtext>"
