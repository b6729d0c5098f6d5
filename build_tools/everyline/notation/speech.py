"""What a screen reader should say, and the shorter words of a formula for titles and the search."""

from __future__ import annotations

from .question import Question
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

_TRIG = {"sin": "sine", "cos": "cosine", "tan": "tangent", "sec": "secant", "csc": "cosecant", "cot": "cotangent"}
FUNCTION_NAMES: dict[str, str] = (
    _TRIG
    | {f"arc{short}": f"inverse {long}" for short, long in _TRIG.items()}
    | {f"{short}h": f"hyperbolic {long}" for short, long in _TRIG.items()}
    | {f"ar{short}h": f"inverse hyperbolic {long}" for short, long in _TRIG.items()}
    | {"exp": "exponential", "ln": "natural logarithm", "sgn": "sign"}
)
_RELATIONS = {"<": "is less than", ">": "is greater than", "<=": "is at most", ">=": "is at least", "!=": "is not equal to"}
_PARTS = {2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth", 7: "seventh", 8: "eighth", 9: "ninth", 10: "tenth"}
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def speech(node: Node) -> str:
    """A formula as it is read aloud, with its ends said where the ear needs them."""
    return _Speaker(brief=False).say(node)


def words(question: Question | Node) -> str:
    """Plain words of a question for titles and for the search: “Integral of x over x plus 3”."""
    said = _Speaker(brief=True).say(question.node if isinstance(question, Question) else question)
    said = said.removeprefix("the ")
    return said[:1].upper() + said[1:]


class _Speaker:
    """One way of speaking; `brief` leaves out the ends of fractions, powers and roots and uses the short names of functions."""

    def __init__(self, *, brief: bool) -> None:
        self.brief = brief

    def say(self, node: Node) -> str:
        method = getattr(self, f"_{type(node).__name__.lower()}", None)
        if method is None:
            raise TypeError(f"not part of a formula: {type(node).__name__}")
        return str(method(node))

    def ended(self, said: str, inner: Node, end: str) -> str:
        """The words and, when the inside is long, where it ends."""
        return said if self.brief or _short(inner) else f"{said}, end {end}"

    def grouped(self, node: Node) -> str:
        return self.say(node) if self.brief else f"open bracket {self.say(node)} close bracket"

    def _number(self, node: Number) -> str:
        return decimal_text(node)

    def _constant(self, node: Constant) -> str:
        return node.name

    def _infinity(self, node: Infinity) -> str:
        return "infinity"

    def _name(self, node: Name | ArbitraryConstant) -> str:
        base, _, subscript = node.name.partition("_")
        return f"{base} sub {subscript}" if subscript else base

    _arbitraryconstant = _name

    def _negative(self, node: Negative) -> str:
        return "minus " + self.term(node.argument, True)

    def term(self, node: Node, last: bool) -> str:
        return self.grouped(node) if needs_brackets_in_sum(node, last) else self.say(node)

    def _sum(self, node: Sum) -> str:
        said = ""
        for place, term in enumerate(node.terms):
            negative = isinstance(term, Negative)
            said += (" minus " if negative else " plus ") if place else "minus " if negative else ""
            said += self.term(term.argument if isinstance(term, Negative) else term, place == len(node.terms) - 1)
        return said

    def _product(self, node: Product) -> str:
        end = len(node.factors) - 1
        said = self.factor(node.factors[0], False)
        for place in range(1, end + 1):
            before, here = node.factors[place - 1], node.factors[place]
            coefficient = isinstance(before, Number | Name) and isinstance(here.base if isinstance(here, Power) else here, Name | Constant)
            exponential = isinstance(here, Power) and isinstance(here.base, Constant)
            said += " " if coefficient and not exponential else " times "
            said += self.factor(here, place == end)
        return said

    def factor(self, node: Node, last: bool) -> str:
        return self.grouped(node) if needs_brackets_in_product(node, last) else self.say(node)

    def _quotient(self, node: Quotient) -> str:
        top, bottom = node.top, node.bottom
        if isinstance(top, Number) and isinstance(bottom, Number) and not top.places and not bottom.places:
            part, count = _PARTS.get(int(bottom.value)), int(top.value)
            if part and 1 <= count <= 20:
                plural = ("halves" if part == "half" else f"{part}s") if count > 1 else part
                return f"{'one' if count == 1 else count} {plural}"
        if self.brief or (_short(top) and _short(bottom)):
            return f"{self.say(top)} over {self.say(bottom)}"
        return f"the fraction {self.say(top)} over {self.say(bottom)}, end fraction"

    def _power(self, node: Power) -> str:
        exponent = node.exponent
        function = raised_function(node)
        if function is not None:
            name = self.function(function.function)
            return self.applied(f"{name}{self.raised(exponent)}", function.argument)
        base = self.say(node.base) if _short(node.base) else self.grouped(node.base)
        return base + self.raised(exponent)

    def raised(self, exponent: Node) -> str:
        if isinstance(exponent, Number) and exponent.value in (2, 3) and not exponent.places:
            return " squared" if exponent.value == 2 else " cubed"
        power = (
            "to the"
            if isinstance(exponent, Name) or (isinstance(exponent, Negative) and isinstance(exponent.argument, Name))
            else "to the power"
        )
        power = "to the" if self.brief and not isinstance(exponent, Number) else power
        return self.ended(f" {power} {self.say(exponent)}", exponent, "power")

    def _root(self, node: Root) -> str:
        name = {2: "square root", 3: "cube root"}.get(node.index) or f"{_ordinal(node.index)} root"
        return self.ended(f"the {name} of {self.say(node.radicand)}", node.radicand, "root")

    def _absolute(self, node: Absolute) -> str:
        return self.ended(f"the absolute value of {self.say(node.argument)}", node.argument, "absolute value")

    def function(self, name: str) -> str:
        return name if self.brief else f"the {FUNCTION_NAMES[name]}" if name in ("exp", "ln", "sgn") else FUNCTION_NAMES[name]

    def applied(self, name: str, argument: Node) -> str:
        link = " " if self.brief else " of "
        inside = self.say(argument)
        return (
            name
            + link
            + (inside if self.brief or _short(argument) or isinstance(argument, Absolute) else f"open bracket {inside} close bracket")
        )

    def _call(self, node: Call) -> str:
        return self.applied(self.function(node.function), node.argument)

    def _logarithm(self, node: Logarithm) -> str:
        return self.applied(f"{'log' if self.brief else 'the logarithm'} to base {self.say(node.base)}", node.argument)

    def _integral(self, node: Integral) -> str:
        limits = f" from {self.say(node.lower)} to {self.say(node.upper)}" if node.lower is not None and node.upper is not None else ""
        end = "" if self.brief else f" with respect to {self._name(Name(node.variable))}"
        return f"the integral{limits} of {self.say(node.integrand)}{end}"

    def _derivative(self, node: Derivative) -> str:
        order = "" if node.order == 1 else f"{_ordinal(node.order)} "
        by = "" if self.brief else f" with respect to {self._name(Name(node.variable))}"
        return f"the {order}derivative{by} of {self.say(node.body)}"

    def _limit(self, node: Limit) -> str:
        side = {"+": " from the right", "-": " from the left", "": ""}[node.side]
        body, point = self.say(node.body), self.say(node.point)
        if self.brief:
            return f"the limit of {body} as {self._name(Name(node.variable))} tends to {point}{side}"
        return f"the limit as {self._name(Name(node.variable))} tends to {point}{side} of {body}"

    def _evaluation(self, node: Evaluation) -> str:
        at = f"{self._name(Name(node.variable))} equals {self.say(node.lower)} to {self.say(node.upper)}"
        return f"{self.grouped(node.body)} evaluated from {at}"

    def _equation(self, node: Equation) -> str:
        return f"{self.say(node.left)} equals {self.say(node.right)}"

    def _inequality(self, node: Inequality) -> str:
        return f"{self.say(node.left)} {_RELATIONS[node.relation]} {self.say(node.right)}"

    def _interval(self, node: Interval) -> str:
        ends = {
            (True, True): "included",
            (False, False): "excluded",
            (True, False): "the first included",
            (False, True): "the last included",
        }
        said = f"the interval from {self.say(node.lower)} to {self.say(node.upper)}"
        return said if self.brief else f"{said}, ends {ends[node.closed_lower, node.closed_upper]}"

    def _union(self, node: Union) -> str:
        return " or ".join(self.say(part) for part in node.parts)

    def _diverges(self, node: Diverges) -> str:
        return "diverges"

    def _doesnotexist(self, node: DoesNotExist) -> str:
        return "does not exist"


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


def _ordinal(number: int) -> str:
    return _ORDINALS[number - 1] if number <= len(_ORDINALS) else f"{number}th"
