"""The mathematics of a printed sheet, for the Typst compiler: names and brackets in words, so that no sign is taken for markup."""

from __future__ import annotations

from functools import singledispatch

from .build import names
from .latex import bare, between
from .style import (
    decimal_text,
    is_atom,
    is_bare_in_limit,
    needs_brackets_before_differential,
    needs_brackets_in_product,
    needs_brackets_in_sum,
    quick_derivative,
    raised_function,
    simple_argument,
    slashed,
)
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

#: Functions that Typst knows by name; the others are set as upright words.
_KNOWN = frozenset((
    "sin", "cos", "tan", "sec", "csc", "cot", "arcsin", "arccos", "arctan", "sinh", "cosh", "tanh", "sech", "csch", "coth", "exp", "ln",
))  # fmt: skip
_RELATIONS = {"<": "lt", ">": "gt", "<=": "lt.eq", ">=": "gt.eq", "!=": "eq.not"}
#: What `between` says in LaTeX, in Typst's words.
_BETWEEN = {"": "", r"\cdot ": "dot.op", r"\,": "thin"}


@singledispatch
def typst(node: Node) -> str:
    """A tree as Typst mathematics, without dollars round it. Pieces are always apart, so that nothing is read as a call by chance."""
    raise TypeError(f"not part of a formula: {type(node).__name__}")


@typst.register
def _(node: Number) -> str:
    return decimal_text(node)


@typst.register
def _(node: Constant) -> str:
    return "pi" if node.name == "pi" else node.name


@typst.register
def _(node: Infinity) -> str:
    return "infinity"


@typst.register(Name)
@typst.register(ArbitraryConstant)
def _(node: Name | ArbitraryConstant) -> str:
    return letter(node.name)


def letter(name: str) -> str:
    base, _, subscript = name.partition("_")
    base = GREEK.get(base, base)
    return f'{base}_("{subscript}")' if subscript else base


def fenced(node: Node, opening: str = "paren.l", closing: str = "paren.r") -> str:
    """Brackets that grow with what is inside."""
    return f"lr({opening} {typst(node)} {closing})"


def before_differential(node: Node) -> str:
    return fenced(node) if needs_brackets_before_differential(node) else typst(node)


@typst.register
def _(node: Negative) -> str:
    return f"- {_term(node.argument, last=True)}"


def _term(node: Node, last: bool) -> str:
    return fenced(node) if needs_brackets_in_sum(node, last) else typst(node)


@typst.register
def _(node: Sum) -> str:
    parts: list[str] = []
    end = len(node.terms) - 1
    for place, term in enumerate(node.terms):
        inner = term.argument if isinstance(term, Negative) else term
        sign = "- " if isinstance(term, Negative) else "+ " if place else ""
        parts.append(sign + _term(inner, last=place == end))
    return " ".join(parts)


@typst.register
def _(node: Product) -> str:
    end = len(node.factors) - 1
    parts = [_factor(node.factors[0], last=False)]
    for place in range(1, end + 1):
        sign = _BETWEEN[between(node.factors[place - 1], node.factors[place])]
        parts += [sign] if sign else []
        parts.append(_factor(node.factors[place], last=place == end))
    return " ".join(parts)


def _factor(node: Node, last: bool) -> str:
    return fenced(node) if needs_brackets_in_product(node, last) else typst(node)


@typst.register
def _(node: Quotient) -> str:
    return f"frac({typst(node.top)}, {typst(node.bottom)})"


@typst.register
def _(node: Power) -> str:
    function = raised_function(node)
    if function is not None:
        return _call(f"{function_name(function.function)}^({typst(node.exponent)})", function.argument)
    base = typst(node.base) if is_atom(node.base) else fenced(node.base)
    return f"{base}^({exponent(node.exponent)})"


def exponent(node: Node) -> str:
    quotient = slashed(node)
    if quotient is None:
        return typst(node)
    return ("- " if isinstance(node, Negative) else "") + rf"{typst(quotient.top)} \/ {typst(quotient.bottom)}"


@typst.register
def _(node: Root) -> str:
    return f"sqrt({typst(node.radicand)})" if node.index == 2 else f"root({node.index}, {typst(node.radicand)})"


@typst.register
def _(node: Absolute) -> str:
    return f"abs({typst(node.argument)})"


def function_name(function: str) -> str:
    return function if function in _KNOWN else f'op("{function}")'


def _call(name: str, argument: Node, with_bars: bool = True) -> str:
    if with_bars and isinstance(argument, Absolute):
        return f"{name} {typst(argument)}"
    return f"{name} {typst(argument) if simple_argument(argument) else fenced(argument)}"


@typst.register
def _(node: Call) -> str:
    if not bare(node):
        return f"{function_name(node.function)} {fenced(node.argument)}"
    return _call(function_name(node.function), node.argument, node.function == "ln")


@typst.register
def _(node: Logarithm) -> str:
    return _call(f"log_({typst(node.base)})", node.argument, False)


@typst.register
def _(node: Integral) -> str:
    limits = "" if node.lower is None or node.upper is None else f"_({exponent(node.lower)})^({exponent(node.upper)})"
    return f"integral{limits} {before_differential(node.integrand)} thin d {letter(node.variable)}"


@typst.register
def _(node: Derivative) -> str:
    up = "" if node.order == 1 else f"^({node.order})"
    variable = letter(node.variable)
    function = quick_derivative(node)
    if function is not None:
        return f"frac(d{up} {letter(function.name)}, d {variable}{up})"
    return f"frac(d{up}, d {variable}{up}) {fenced(node.body, 'bracket.l', 'bracket.r')}"


@typst.register
def _(node: Limit) -> str:
    point = fenced(node.point) if node.side and not is_atom(node.point) else exponent(node.point)
    side = f"^({node.side})" if node.side else ""
    body = typst(node.body) if is_bare_in_limit(node.body) else fenced(node.body)
    return f"lim_({letter(node.variable)} arrow.r {point}{side}) {body}"


@typst.register
def _(node: Evaluation) -> str:
    head = "" if names(node.body) == {node.variable} else f"{letter(node.variable)} = "
    return f"{fenced(node.body, 'bracket.l', 'bracket.r')}_({head}{exponent(node.lower)})^({exponent(node.upper)})"


@typst.register
def _(node: Equation) -> str:
    return f"{typst(node.left)} = {typst(node.right)}"


@typst.register
def _(node: Inequality) -> str:
    return f"{typst(node.left)} {_RELATIONS[node.relation]} {typst(node.right)}"


@typst.register
def _(node: Interval) -> str:
    opening = "bracket.l" if node.closed_lower else "paren.l"
    closing = "bracket.r" if node.closed_upper else "paren.r"
    return f'lr({opening} {typst(node.lower)} "," thin {typst(node.upper)} {closing})'


@typst.register
def _(node: Union) -> str:
    return " union ".join(typst(part) for part in node.parts)


@typst.register
def _(node: Diverges) -> str:
    return '"diverges"'


@typst.register
def _(node: DoesNotExist) -> str:
    return '"does not exist"'
