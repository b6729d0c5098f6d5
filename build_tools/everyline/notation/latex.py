"""LaTeX as a textbook sets it; reading it again gives the same tree."""

from __future__ import annotations

import re
from functools import singledispatch

from .build import names, rational
from .style import (
    certain,
    decimal_text,
    function_of,
    is_atom,
    is_bare_in_limit,
    is_mixed,
    needs_brackets_before_differential,
    needs_brackets_in_product,
    needs_brackets_in_sum,
    quick_derivative,
    raised_function,
    simple_argument,
    slashed,
    starts_with_digit,
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
from .words import FUNCTION_WORDS, GREEK, LATEX_FUNCTIONS

_RELATIONS = {"<": "<", ">": ">", "<=": r"\le", ">=": r"\ge", "!=": r"\ne"}
_WORDS = (*FUNCTION_WORDS, *GREEK, "pi", "int", "lim", "oo", "inf", "or", "and")


@singledispatch
def latex(node: Node) -> str:
    """The LaTeX of a tree, without mathematics signs round it."""
    raise TypeError(f"not part of a formula: {type(node).__name__}")


@latex.register
def _(node: Number) -> str:
    return decimal_text(node)


@latex.register
def _(node: Constant) -> str:
    return r"\pi" if node.name == "pi" else node.name


@latex.register
def _(node: Infinity) -> str:
    return r"\infty"


@latex.register(Name)
@latex.register(ArbitraryConstant)
def _(node: Name | ArbitraryConstant) -> str:
    return letter(node.name)


def letter(name: str) -> str:
    base, _, subscript = name.partition("_")
    base = f"\\{base}" if base in GREEK else base
    return f"{base}_{{{subscript}}}" if subscript else base


def fenced(node: Node, opening: str = "(", closing: str = ")") -> str:
    """Brackets, made to grow where what is inside is tall."""
    inside = latex(node)
    tall = any(command in inside for command in (r"\frac", r"\int", r"\lim", r"\left", r"\sqrt"))
    return rf"\left{opening}{inside}\right{closing}" if tall else f"{opening}{inside}{closing}"


def before_differential(node: Node) -> str:
    return fenced(node) if needs_brackets_before_differential(node) else latex(node)


@latex.register
def _(node: Negative) -> str:
    return "-" + _term(node.argument, last=True)


def _term(node: Node, last: bool) -> str:
    return fenced(node) if needs_brackets_in_sum(node, last) else latex(node)


@latex.register
def _(node: Sum) -> str:
    parts: list[str] = []
    end = len(node.terms) - 1
    for place, term in enumerate(node.terms):
        negative = isinstance(term, Negative)
        inner = term.argument if isinstance(term, Negative) else term
        sign = ("-" if negative else "") if place == 0 else " - " if negative else " + "
        parts.append(sign + _term(inner, last=place == end))
    return "".join(parts)


@latex.register
def _(node: Product) -> str:
    end = len(node.factors) - 1
    text = _factor(node.factors[0], None, node.factors[1])
    for place in range(1, end + 1):
        before, here = node.factors[place - 1], node.factors[place]
        after = node.factors[place + 1] if place < end else None
        text = _joined(text, between(before, here), _factor(here, before, after))
    return text


def _factor(node: Node, before: Node | None, after: Node | None) -> str:
    return fenced(node) if needs_brackets_in_product(node, after is None) else latex(node)


def between(before: Node, after: Node) -> str:
    """The sign or space between two factors."""
    bracketed = needs_brackets_in_product(after, False) and not isinstance(after, Integral)
    if not bracketed and starts_with_digit(after):
        return r"\cdot "
    if isinstance(before, Quotient) and isinstance(after, Quotient) and rational(before) is not None and rational(after) is not None:
        return r"\cdot "
    if is_mixed(before, after) or Name("d") in (before, after):
        return r"\cdot "
    argument = function_of(before)
    if argument is None or not bare(before):
        return ""
    if isinstance(argument, Absolute):
        return r"\cdot " if isinstance(after, Absolute) else ""
    if function_of(after) is not None:
        return "" if names(argument) else r"\cdot "
    if not certain(argument):
        return r"\cdot "
    return "" if bracketed or isinstance(after, Absolute | Root | Quotient | Integral) else r"\,"


def _joined(left: str, between: str, right: str) -> str:
    if between:
        return left + between + right
    run = re.search(r"(?<![A-Za-z\\])[A-Za-z]+$", left)
    ahead = re.match(r"[A-Za-z]+", right)
    if not ahead:
        return left + right
    if re.search(r"\\[A-Za-z]+$", left):
        return f"{left} {right}"
    word = (run[0] if run else "") + ahead[0]
    risky = any(known in word for known in _WORDS) or "d" in word or len(word) > 24
    return f"{left} {right}" if run and risky else left + right


@latex.register
def _(node: Quotient) -> str:
    return rf"\frac{{{latex(node.top)}}}{{{latex(node.bottom)}}}"


@latex.register
def _(node: Power) -> str:
    function = raised_function(node)
    if function is not None:
        return _call(function_name(function.function) + f"^{{{latex(node.exponent)}}}", function.argument)
    base = latex(node.base) if is_atom(node.base) else fenced(node.base)
    return f"{base}^{{{exponent(node.exponent)}}}"


def exponent(node: Node) -> str:
    quotient = slashed(node)
    if quotient is None:
        return latex(node)
    return ("-" if isinstance(node, Negative) else "") + f"{latex(quotient.top)}/{latex(quotient.bottom)}"


@latex.register
def _(node: Root) -> str:
    index = "" if node.index == 2 else f"[{node.index}]"
    return rf"\sqrt{index}{{{latex(node.radicand)}}}"


@latex.register
def _(node: Absolute) -> str:
    return rf"\left|{latex(node.argument)}\right|"


def function_name(function: str) -> str:
    return f"\\{function}" if function in LATEX_FUNCTIONS else rf"\operatorname{{{function}}}"


def bare(node: Node) -> bool:
    """Whether a function is printed without round brackets about its argument."""
    inner = raised_function(node) or node
    if isinstance(inner, Call):
        if inner.function == "exp":
            return False
        return simple_argument(inner.argument) or (inner.function == "ln" and isinstance(inner.argument, Absolute))
    return isinstance(inner, Logarithm) and simple_argument(inner.argument)


def _call(name: str, argument: Node, with_bars: bool = True) -> str:
    if with_bars and isinstance(argument, Absolute):
        inside = latex(argument.argument)
        tall = r"\frac" in inside or r"\left" in inside or "|" in inside or "^" in inside
        return rf"{name}\left|{inside}\right|" if tall else f"{name}|{inside}|"
    if not simple_argument(argument):
        return name + fenced(argument)
    inside = latex(argument)
    return name + inside if inside.startswith("\\") else f"{name} {inside}"


@latex.register
def _(node: Call) -> str:
    if node.function == "exp":
        return r"\exp" + fenced(node.argument)
    return _call(function_name(node.function), node.argument, node.function == "ln")


@latex.register
def _(node: Logarithm) -> str:
    return _call(rf"\log_{{{latex(node.base)}}}", node.argument, False)


@latex.register
def _(node: Integral) -> str:
    limits = "" if node.lower is None or node.upper is None else f"_{{{exponent(node.lower)}}}^{{{exponent(node.upper)}}}"
    return rf"\int{limits} {before_differential(node.integrand)}\,d{letter(node.variable)}"


@latex.register
def _(node: Derivative) -> str:
    up = "" if node.order == 1 else f"^{{{node.order}}}"
    variable = letter(node.variable)
    function = quick_derivative(node)
    if function is not None:
        return rf"\frac{{d{up}{letter(function.name)}}}{{d{variable}{up}}}"
    return rf"\frac{{d{up}}}{{d{variable}{up}}}{fenced(node.body, '[', ']')}"


@latex.register
def _(node: Limit) -> str:
    side = f"^{{{node.side}}}" if node.side else ""
    point = fenced(node.point) if side and not is_atom(node.point) else exponent(node.point)
    body = latex(node.body) if is_bare_in_limit(node.body) else fenced(node.body)
    return rf"\lim_{{{letter(node.variable)} \to {point}{side}}} {body}"


@latex.register
def _(node: Evaluation) -> str:
    head = "" if names(node.body) == {node.variable} else f"{letter(node.variable)} = "
    return rf"\left[{latex(node.body)}\right]_{{{head}{exponent(node.lower)}}}^{{{exponent(node.upper)}}}"


@latex.register
def _(node: Equation) -> str:
    return f"{latex(node.left)} = {latex(node.right)}"


@latex.register
def _(node: Inequality) -> str:
    return f"{latex(node.left)} {_RELATIONS[node.relation]} {latex(node.right)}"


@latex.register
def _(node: Interval) -> str:
    opening, closing = "[" if node.closed_lower else "(", "]" if node.closed_upper else ")"
    return rf"\left{opening}{latex(node.lower)}, {latex(node.upper)}\right{closing}"


@latex.register
def _(node: Union) -> str:
    return r" \cup ".join(latex(part) for part in node.parts)


@latex.register
def _(node: Diverges) -> str:
    return r"\text{diverges}"


@latex.register
def _(node: DoesNotExist) -> str:
    return r"\text{does not exist}"
