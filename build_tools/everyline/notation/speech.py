"""What a screen reader should say, and the shorter words of a formula for titles and the search."""

from __future__ import annotations

from .question import Question
from .spoken import ENGLISH, Spoken, function_names, listed, marked
from .style import decimal_text, needs_brackets_in_product, needs_brackets_in_sum, raised_function
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

_RELATIONS = {"<": "less", ">": "greater", "<=": "at_most", ">=": "at_least", "!=": "unequal"}


def speech(node: Node, said: Spoken = ENGLISH) -> str:
    """A formula as it is read aloud in the words `said`, with its ends said where the ear needs them."""
    return _Speaker(said, brief=False).say(node)


def words(question: Question | Node, said: Spoken = ENGLISH) -> str:
    """Plain words of a question for titles and for the search: “Integral of x over x plus 3”."""
    text = _Speaker(said, brief=True).say(question.node if isinstance(question, Question) else question)
    text = text.removeprefix("the ")
    return text[:1].upper() + text[1:]


class _Speaker:
    """One way of speaking; `brief` leaves out the ends of fractions, powers and roots and uses the short names of functions."""

    def __init__(self, said: Spoken, *, brief: bool) -> None:
        self.said, self.brief = said, brief

    def say(self, node: Node) -> str:
        method = getattr(self, f"_{type(node).__name__.lower()}", None)
        if method is None:
            raise TypeError(f"not part of a formula: {type(node).__name__}")
        return str(method(node))

    def ended(self, text: str, inner: Node, end: str) -> str:
        """The words and, when the inside is long, where it ends."""
        return text if self.brief or _short(inner) else f"{text}, {end}"

    def grouped(self, node: Node) -> str:
        return self.say(node) if self.brief else self.said.brackets.format(inside=self.say(node))

    def _number(self, node: Number) -> str:
        return marked(decimal_text(node), self.said.decimal)

    def _constant(self, node: Constant) -> str:
        return node.name

    def _infinity(self, node: Infinity) -> str:
        return self.said.infinity

    def _name(self, node: Name | ArbitraryConstant) -> str:
        return self.letter(node.name)

    _arbitraryconstant = _name

    def letter(self, name: str) -> str:
        base, _, index = name.partition("_")
        return self.said.index.format(letter=base, index=index) if index else base

    def _negative(self, node: Negative) -> str:
        return f"{self.said.minus} {self.term(node.argument, True)}"

    def term(self, node: Node, last: bool) -> str:
        return self.grouped(node) if needs_brackets_in_sum(node, last) else self.say(node)

    def _sum(self, node: Sum) -> str:
        text, minus = "", self.said.minus
        for place, term in enumerate(node.terms):
            negative = isinstance(term, Negative)
            text += f" {minus if negative else self.said.plus} " if place else f"{minus} " if negative else ""
            text += self.term(term.argument if isinstance(term, Negative) else term, place == len(node.terms) - 1)
        return text

    def _product(self, node: Product) -> str:
        end = len(node.factors) - 1
        text = self.factor(node.factors[0], False)
        for place in range(1, end + 1):
            before, here = node.factors[place - 1], node.factors[place]
            coefficient = isinstance(before, Number | Name) and isinstance(here.base if isinstance(here, Power) else here, Name | Constant)
            exponential = isinstance(here, Power) and isinstance(here.base, Constant)
            text += " " if coefficient and not exponential else f" {self.said.times} "
            text += self.factor(here, place == end)
        return text

    def factor(self, node: Node, last: bool) -> str:
        return self.grouped(node) if needs_brackets_in_product(node, last) else self.say(node)

    def _quotient(self, node: Quotient) -> str:
        top, bottom = node.top, node.bottom
        if isinstance(top, Number) and isinstance(bottom, Number) and not top.places and not bottom.places:
            part, count = int(bottom.value), int(top.value)
            if 2 <= part <= 10 and 1 <= count <= 20:
                one = count == 1
                name = listed(self.said.part if one else self.said.parts)[part - 2]
                return self.said.one.format(part=name) if one else f"{count} {name}"
        short = self.brief or (_short(top) and _short(bottom))
        return (self.said.over if short else self.said.fraction).format(top=self.say(top), bottom=self.say(bottom))

    def _power(self, node: Power) -> str:
        exponent = node.exponent
        function = raised_function(node)
        if function is not None:
            return self.applied(f"{self.function(function.function)} {self.raised(exponent)}", function.argument)
        base = self.say(node.base) if _short(node.base) else self.grouped(node.base)
        return f"{base} {self.raised(exponent)}"

    def raised(self, exponent: Node) -> str:
        if isinstance(exponent, Number) and exponent.value in (2, 3) and not exponent.places:
            return self.said.squared if exponent.value == 2 else self.said.cubed
        plain = isinstance(exponent.argument if isinstance(exponent, Negative) else exponent, Name)
        plain = plain or (self.brief and not isinstance(exponent, Number))
        form = self.said.raised if plain else self.said.power
        return self.ended(form.format(exponent=self.say(exponent)), exponent, self.said.power_end)

    def _root(self, node: Root) -> str:
        form = {2: self.said.root, 3: self.said.cube_root}.get(node.index, self.said.nth_root)
        text = form.format(ordinal=self.ordinal(node.index), inside=self.say(node.radicand))
        return self.ended(text, node.radicand, self.said.root_end)

    def ordinal(self, number: int) -> str:
        known = listed(self.said.ordinals)
        return known[number - 2] if 2 <= number <= len(known) + 1 else self.said.nth.format(number=number)

    def _absolute(self, node: Absolute) -> str:
        return self.ended(self.said.absolute.format(inside=self.say(node.argument)), node.argument, self.said.absolute_end)

    def function(self, name: str) -> str:
        return name if self.brief else function_names(self.said)[name]

    def applied(self, name: str, argument: Node) -> str:
        if self.brief:
            return f"{name} {self.say(argument)}"
        inside = self.say(argument) if _short(argument) or isinstance(argument, Absolute) else self.grouped(argument)
        return self.said.applied.format(function=name, argument=inside)

    def _call(self, node: Call) -> str:
        return self.applied(self.function(node.function), node.argument)

    def _logarithm(self, node: Logarithm) -> str:
        return self.applied((self.said.brief_log if self.brief else self.said.log).format(base=self.say(node.base)), node.argument)

    def _integral(self, node: Integral) -> str:
        said, inside, variable = self.said, self.say(node.integrand), self.letter(node.variable)
        if node.lower is None or node.upper is None:
            return (said.brief_integral if self.brief else said.integral).format(integrand=inside, variable=variable)
        form = said.brief_definite if self.brief else said.definite
        return form.format(lower=self.say(node.lower), upper=self.say(node.upper), integrand=inside, variable=variable)

    def _derivative(self, node: Derivative) -> str:
        said = self.said
        once = said.brief_derivative if self.brief else said.derivative
        often = said.brief_nth_derivative if self.brief else said.nth_derivative
        form = once if node.order == 1 else often
        return form.format(ordinal=self.ordinal(node.order), variable=self.letter(node.variable), body=self.say(node.body))

    def _limit(self, node: Limit) -> str:
        side = {"+": self.said.right, "-": self.said.left, "": "{point}"}[node.side]
        form = self.said.brief_limit if self.brief else self.said.limit
        return form.format(body=self.say(node.body), variable=self.letter(node.variable), point=side.format(point=self.say(node.point)))

    def _evaluation(self, node: Evaluation) -> str:
        ends = {"variable": self.letter(node.variable), "lower": self.say(node.lower), "upper": self.say(node.upper)}
        return self.said.evaluated.format(body=self.grouped(node.body), **ends)

    def _equation(self, node: Equation) -> str:
        return f"{self.say(node.left)} {self.said.equals} {self.say(node.right)}"

    def _inequality(self, node: Inequality) -> str:
        return f"{self.say(node.left)} {getattr(self.said, _RELATIONS[node.relation])} {self.say(node.right)}"

    def _interval(self, node: Interval) -> str:
        said = self.said
        ends = {
            (True, True): said.interval_closed,
            (False, False): said.interval_open,
            (True, False): said.interval_first,
            (False, True): said.interval_last,
        }
        text = said.interval.format(lower=self.say(node.lower), upper=self.say(node.upper))
        return text if self.brief else f"{text}, {ends[node.closed_lower, node.closed_upper]}"

    def _union(self, node: Union) -> str:
        return f" {self.said.either} ".join(self.say(part) for part in node.parts)

    def _diverges(self, node: Diverges) -> str:
        return self.said.diverges

    def _doesnotexist(self, node: DoesNotExist) -> str:
        return self.said.does_not_exist


def _short(node: Node) -> bool:
    """Whether the ear needs no mark at its end."""
    match node:
        case Number() | Name() | Constant() | ArbitraryConstant() | Infinity():
            return True
        case Negative(argument=inner):
            return _short(inner)
        case Product(factors=(Number() | Name() | Constant(), Name() | Constant())):
            return True
        case Quotient(top=Number(), bottom=Number()):
            return True
    return False
