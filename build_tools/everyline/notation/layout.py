"""Formulas in two dimensions for a terminal: fractions one above the other, powers raised, brackets as tall as what they hold."""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce, singledispatch

from .build import names, number
from .latex import bare, between
from .plain import plain
from .style import (
    is_atom,
    is_bare_in_limit,
    needs_brackets_before_differential,
    needs_brackets_in_product,
    needs_brackets_in_sum,
    quick_derivative,
    raised_function,
    slashed,
)  # fmt: skip
from .tree import (
    Absolute,
    Call,
    Derivative,
    Equation,
    Evaluation,
    Inequality,
    Integral,
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
)  # fmt: skip
from .words import GREEK

_RAISED = dict(zip("0123456789-n", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻ⁿ", strict=True))
_SIGNS = {"<": "<", ">": ">", "<=": "≤", ">=": "≥", "!=": "≠"}
#: Brackets for one row, and the top, middle and bottom of tall ones.
_BRACKETS = {"(": "(⎛⎜⎝", ")": ")⎞⎟⎠", "[": "[⎡⎢⎣", "]": "]⎤⎥⎦", "|": "||||", "∫": "∫⌠⎮⌡"}


@dataclass(frozen=True, slots=True)
class Layout:
    """Rows of text, all of one width, and which of them is the line of writing."""

    rows: tuple[str, ...]
    base: int = 0

    @property
    def width(self) -> int:
        return len(self.rows[0])

    @property
    def below(self) -> int:
        return len(self.rows) - 1 - self.base

    def __add__(self, other: Layout | str) -> Layout:
        """Side by side on one line of writing."""
        right = Layout((other,)) if isinstance(other, str) else other
        up, down = max(self.base, right.base), max(self.below, right.below)
        rows = (a + b for a, b in zip(self._spread(up, down), right._spread(up, down), strict=True))
        return Layout(tuple(rows), up)

    def _spread(self, up: int, down: int) -> list[str]:
        blank = " " * self.width
        return [blank] * (up - self.base) + list(self.rows) + [blank] * (down - self.below)

    def padded(self, width: int) -> tuple[str, ...]:
        return tuple(row.center(width) for row in self.rows)

    def __str__(self) -> str:
        return "\n".join(row.rstrip() for row in self.rows)


def row(*parts: Layout | str) -> Layout:
    """Parts side by side."""
    return reduce(lambda left, right: left + right, parts, Layout(("",)))


def stacked(top: Layout, middle: str, bottom: Layout) -> Layout:
    """One above the other with a rule of the sign `middle` between, which is the line of writing."""
    width = max(top.width, bottom.width) + 2
    return Layout((*top.padded(width), middle * width, *bottom.padded(width)), len(top.rows))


def raised(base: Layout, power: Layout) -> Layout:
    """A power at the upper right of its base."""
    blank = " " * power.width
    above = tuple(" " * base.width + text for text in power.rows)
    return Layout((*above, *(text + blank for text in base.rows)), base.base + len(power.rows))


def lowered(base: Layout, index: Layout) -> Layout:
    """An index at the lower right of its base."""
    blank = " " * index.width
    under = tuple(" " * base.width + text for text in index.rows)
    return Layout((*(text + blank for text in base.rows), *under), base.base)


def _bracket(sign: str, like: Layout) -> Layout:
    one, top, middle, bottom = tuple(_BRACKETS[sign])
    tall = len(like.rows)
    return Layout((one,)) if tall == 1 else Layout((top, *(middle,) * (tall - 2), bottom), like.base)


def fenced(inside: Layout, opening: str = "(", closing: str = ")") -> Layout:
    """What stands in brackets as tall as it is."""
    return _bracket(opening, inside) + inside + _bracket(closing, inside)


@singledispatch
def layout(node: Node) -> Layout:
    """A tree laid out in two dimensions; what has only one (numbers, letters, intervals) is as in plain text."""
    return Layout((letters(plain(node)),))


def letters(text: str) -> str:
    """A name as it is written: Greek letters and the sign for infinity where they are meant."""
    return {"pi": "π", "infinity": "∞", "sqrt": "√", **GREEK}.get(text, text.replace("infinity", "∞"))


def _inside(node: Node, brackets: bool) -> Layout:
    return fenced(layout(node)) if brackets else layout(node)


def before_differential(node: Node) -> Layout:
    return _inside(node, needs_brackets_before_differential(node))


@layout.register
def _(node: Negative) -> Layout:
    return row("-", _inside(node.argument, needs_brackets_in_sum(node.argument, True)))


@layout.register
def _(node: Sum) -> Layout:
    end = len(node.terms) - 1
    parts: list[Layout | str] = []
    for place, term in enumerate(node.terms):
        negative = isinstance(term, Negative)
        inner = term.argument if isinstance(term, Negative) else term
        parts += [("-" if place == 0 else " - ") if negative else "" if place == 0 else " + "]
        parts += [_inside(inner, needs_brackets_in_sum(inner, place == end))]
    return row(*parts)


@layout.register
def _(node: Product) -> Layout:
    end = len(node.factors) - 1
    made = _inside(node.factors[0], needs_brackets_in_product(node.factors[0], False))
    for place in range(1, end + 1):
        before, here = node.factors[place - 1], node.factors[place]
        part = _inside(here, needs_brackets_in_product(here, place == end))
        made = row(made, _between(before, here, made, part), part)
    return made


def _between(before: Node, after: Node, left: Layout, right: Layout) -> str:
    """The sign or space between two factors: as in print, and a space where letters of a word or two rules would touch."""
    if between(before, after).startswith(r"\cdot"):
        return "·"
    words = left.rows[left.base][-1:].isalpha() and right.rows[right.base][:1].isalpha()
    return " " if (words and (_spelt(before) or _spelt(after))) or (left.base and right.base) else ""


def _spelt(node: Node) -> bool:
    """Whether a word is printed for it, rather than a letter."""
    return not isinstance(node, Name | Number | Power) or raised_function(node) is not None


@layout.register
def _(node: Quotient) -> Layout:
    return stacked(layout(node.top), "─", layout(node.bottom))


@layout.register
def _(node: Power) -> Layout:
    function = raised_function(node)
    if function is not None:
        return _call(_power(Layout((function.function,)), node.exponent), function.argument, bare(node))
    base = layout(node.base) if is_atom(node.base) else fenced(layout(node.base))
    return _power(base, node.exponent)


def _power(base: Layout, exponent: Node) -> Layout:
    text = plain(exponent)
    if len(base.rows) == 1 and all(sign in _RAISED for sign in text):
        return row(base, "".join(_RAISED[sign] for sign in text))
    return raised(base, _small(exponent))


def _small(exponent: Node) -> Layout:
    quotient = slashed(exponent)
    if quotient is None:
        return layout(exponent)
    return row("-" if isinstance(exponent, Negative) else "", layout(quotient.top), "/", layout(quotient.bottom))


@layout.register
def _(node: Root) -> Layout:
    inside = layout(node.radicand)
    sign = "√" if node.index == 2 else "".join(_RAISED[digit] for digit in str(node.index)) + "√"
    left = [" " * (len(sign) - 1) + "│"] * (len(inside.rows) - 1) + [sign]
    rows = (edge + text for edge, text in zip(left, inside.rows, strict=True))
    return Layout((" " * len(sign) + "_" * inside.width, *rows), inside.base + 1)


@layout.register
def _(node: Absolute) -> Layout:
    return fenced(layout(node.argument), "|", "|")


def _call(name: Layout, argument: Node, without_brackets: bool) -> Layout:
    inside = layout(argument)
    return row(name, "" if isinstance(argument, Absolute) else " ", inside) if without_brackets else row(name, fenced(inside))


@layout.register
def _(node: Call) -> Layout:
    return _call(Layout((node.function,)), node.argument, bare(node))


@layout.register
def _(node: Logarithm) -> Layout:
    return _call(lowered(Layout(("log",)), layout(node.base)), node.argument, bare(node))


@layout.register
def _(node: Integral) -> Layout:
    body = before_differential(node.integrand)
    sign = _bracket("∫", body)
    if node.lower is not None and node.upper is not None:
        sign = _with_limits(sign, _small(node.lower), _small(node.upper))
    return row(sign, " ", body, f" d{letters(node.variable)}")


def _with_limits(sign: Layout, lower: Layout, upper: Layout) -> Layout:
    """Limits at the upper and the lower end of a sign, outside its rows."""
    width = max(lower.width, upper.width)
    rows = [sign.width * " " + text.ljust(width) for text in upper.rows]
    rows += [text + " " * width for text in sign.rows]
    rows += [sign.width * " " + text.ljust(width) for text in lower.rows]
    return Layout(tuple(rows), len(upper.rows) + sign.base)


@layout.register
def _(node: Derivative) -> Layout:
    up = _power(Layout(("d",)), number(node.order)) if node.order > 1 else Layout(("d",))
    variable = row("d", letters(node.variable))
    below = _power(variable, number(node.order)) if node.order > 1 else variable
    function = quick_derivative(node)
    if function is not None:
        return stacked(row(up, layout(function)), "─", below)
    return row(stacked(up, "─", below), fenced(layout(node.body), "[", "]"))


@layout.register
def _(node: Limit) -> Layout:
    under = row(letters(node.variable), " → ", _small(node.point), node.side and {"+": "⁺", "-": "⁻"}[node.side])
    width = max(3, under.width)
    sign = Layout(("lim".center(width), *under.padded(width)), 0)
    return row(sign, " ", _inside(node.body, not is_bare_in_limit(node.body)))


@layout.register
def _(node: Evaluation) -> Layout:
    head = "" if names(node.body) == {node.variable} else f"{letters(node.variable)} = "
    body = fenced(layout(node.body), "[", "]")
    return _with_limits(body, row(head, _small(node.lower)), _small(node.upper))


@layout.register
def _(node: Equation) -> Layout:
    return row(layout(node.left), " = ", layout(node.right))


@layout.register
def _(node: Inequality) -> Layout:
    return row(layout(node.left), f" {_SIGNS[node.relation]} ", layout(node.right))
