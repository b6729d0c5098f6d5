"""Plain text: as one types it, or with every operator written so that any calculator program can evaluate it."""

from __future__ import annotations

from fractions import Fraction

from .build import ONE, names, rebuild
from .style import (
    decimal_text,
    is_atom,
    needs_brackets_before_differential,
    needs_brackets_in_product,
    needs_brackets_in_sum,
    quick_derivative,
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


def plain(node: Node, every_operator: bool = False) -> str:
    """The plain text of a tree; reading it again gives the tree.

    With `every_operator` no `*` is left out and only common functions are used: roots of other indices become powers, logarithms
    to a base become quotients (reading gives `calculator_form(node)`).
    """
    return _Printer(every_operator).text(calculator_form(node) if every_operator else node)


def before_differential(node: Node) -> str:
    """A factor as it stands before `dx`."""
    return _Printer(full=False).before_differential(node)


def calculator_form(node: Node) -> Node:
    """The same value without what calculator programs lack: `x^(1/3)` for a cube root, `ln(x)/ln(2)` for a logarithm to base 2."""
    node = rebuild(node, calculator_form)
    match node:
        case Root(radicand=radicand, index=index) if index != 2:
            return Power(radicand, Quotient(ONE, Number(Fraction(index))))
        case Logarithm(base=base, argument=argument):
            return Quotient(Call("ln", argument), Call("ln", base))
    return node


class _Printer:
    """One way of writing; `full` writes every operator."""

    def __init__(self, full: bool) -> None:
        self.full = full

    def text(self, node: Node) -> str:
        write = getattr(self, f"_{type(node).__name__.lower()}", None)
        if write is None:
            raise TypeError(f"not part of a formula: {type(node).__name__}")
        return str(write(node))

    def fenced(self, node: Node) -> str:
        return f"({self.text(node)})"

    def _number(self, node: Number) -> str:
        return decimal_text(node)

    def _constant(self, node: Constant) -> str:
        return node.name

    def _infinity(self, node: Infinity) -> str:
        return "infinity"

    def _name(self, node: Name) -> str:
        base, _, subscript = node.name.partition("_")
        return node.name if len(subscript) <= 1 or subscript.isdigit() else f"{base}_{{{subscript}}}"

    def _arbitraryconstant(self, node: ArbitraryConstant) -> str:
        return node.name

    def _negative(self, node: Negative) -> str:
        return "-" + self.term(node.argument, True)

    def term(self, node: Node, last: bool) -> str:
        return self.fenced(node) if needs_brackets_in_sum(node, last) else self.text(node)

    def _sum(self, node: Sum) -> str:
        text = ""
        end = len(node.terms) - 1
        for place, term in enumerate(node.terms):
            negative = isinstance(term, Negative)
            inner = term.argument if isinstance(term, Negative) else term
            text += ("-" if negative else "") if place == 0 else " - " if negative else " + "
            text += self.term(inner, place == end)
        return text

    def _product(self, node: Product) -> str:
        last = len(node.factors) - 1
        text = self.factor(node.factors[0], False, first=True)
        for place in range(1, last + 1):
            before, here = node.factors[place - 1], node.factors[place]
            right = self.factor(here, place == last)
            text += ("" if self._touch(before, here, right) else "*") + right
        return text

    def factor(self, node: Node, last: bool, first: bool = False) -> str:
        quotient = isinstance(node, Quotient) and not first
        return self.fenced(node) if quotient or needs_brackets_in_product(node, last) else self.text(node)

    def _touch(self, before: Node, after: Node, right: str) -> bool:
        """Whether the asterisk can be left out: after a number, before a letter, a function or a bracketed sum."""
        if self.full or not isinstance(before, Number) or right.startswith(("e", "E", "int", "lim", "d/", "d^")):
            return False
        return right[0].isalpha() or isinstance(after, Sum)

    def _quotient(self, node: Quotient) -> str:
        top = node.top
        inner = isinstance(top, Negative | Sum | Derivative | Limit | Integral) or needs_brackets_in_sum(top, False)
        above = self.fenced(top) if inner else self.text(top)
        simple = is_atom(node.bottom) or isinstance(node.bottom, Power | Call | Root | Logarithm)
        return f"{above}/{self.text(node.bottom) if simple else self.fenced(node.bottom)}"

    def _power(self, node: Power) -> str:
        base = self.text(node.base) if is_atom(node.base) or isinstance(node.base, Call | Root) else self.fenced(node.base)
        exponent = node.exponent
        single = isinstance(exponent, Number | Name | Constant | ArbitraryConstant | Infinity) and exponent != ONE
        return f"{base}^{self.text(exponent) if single else self.fenced(exponent)}"

    def _root(self, node: Root) -> str:
        return ("sqrt" if node.index == 2 else f"sqrt[{node.index}]") + self.fenced(node.radicand)

    def _absolute(self, node: Absolute) -> str:
        return f"abs({self.text(node.argument)})" if self.full or "|" in self.text(node.argument) else f"|{self.text(node.argument)}|"

    def _call(self, node: Call) -> str:
        return node.function + self.fenced(node.argument)

    def _logarithm(self, node: Logarithm) -> str:
        base = self.text(node.base)
        simple = isinstance(node.base, Name | Constant | Number) and "_" not in base and "." not in base
        return f"log_{base if simple else self.fenced(node.base)}{self.fenced(node.argument)}"

    def _integral(self, node: Integral) -> str:
        limits = "" if node.lower is None or node.upper is None else f"_{self.script(node.lower)}^{self.script(node.upper)}"
        return f"int{limits} {self.before_differential(node.integrand)} d{self._name(Name(node.variable))}"

    def before_differential(self, node: Node) -> str:
        return self.fenced(node) if needs_brackets_before_differential(node) else self.text(node)

    def script(self, node: Node) -> str:
        simple = isinstance(node, Infinity | Name | Constant) or (isinstance(node, Number) and not node.places)
        return self.text(node) if simple else self.fenced(node)

    def _derivative(self, node: Derivative) -> str:
        up = "" if node.order == 1 else f"^{node.order}"
        function = quick_derivative(node)
        if function is not None:
            return f"d{up}{self._name(function)}/d{self._name(Name(node.variable))}{up}"
        return f"d{up}/d{self._name(Name(node.variable))}{up} {self.fenced(node.body)}"

    def _limit(self, node: Limit) -> str:
        point = self.text(node.point) if is_atom(node.point) or not node.side else self.fenced(node.point)
        side = f"^{node.side}" if node.side else ""
        return f"lim_({self._name(Name(node.variable))} -> {point}{side}) {self.fenced(node.body)}"

    def _evaluation(self, node: Evaluation) -> str:
        lower = self.script(node.lower)
        if names(node.body) != {node.variable}:
            lower = f"({self._name(Name(node.variable))} = {self.text(node.lower)})"
        return f"[{self.text(node.body)}]_{lower}^{self.script(node.upper)}"

    def _equation(self, node: Equation) -> str:
        return f"{self.text(node.left)} = {self.text(node.right)}"

    def _inequality(self, node: Inequality) -> str:
        return f"{self.text(node.left)} {node.relation} {self.text(node.right)}"

    def _interval(self, node: Interval) -> str:
        opening, closing = "[" if node.closed_lower else "(", "]" if node.closed_upper else ")"
        return f"{opening}{self.text(node.lower)}, {self.text(node.upper)}{closing}"

    def _union(self, node: Union) -> str:
        return " or ".join(self.text(part) for part in node.parts)

    def _diverges(self, node: Diverges) -> str:
        return "diverges"

    def _doesnotexist(self, node: DoesNotExist) -> str:
        return "does not exist"
