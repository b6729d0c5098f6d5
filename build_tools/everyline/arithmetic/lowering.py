"""Functions that are written with others: what is left are exp, ln, sin, cos, arctan, sgn, roots and whole powers."""

from __future__ import annotations

from collections.abc import Callable

from ..notation.build import ONE, PI, TWO, add, divide, multiply, negate, subtract
from ..notation.tree import Call, Node, Power, Root

#: Each function of `u` as a tree of simpler ones.
LOWERED: dict[str, Callable[[Node], Node]] = {
    "tan": lambda u: divide(Call("sin", u), Call("cos", u)),
    "sec": lambda u: divide(ONE, Call("cos", u)),
    "csc": lambda u: divide(ONE, Call("sin", u)),
    "cot": lambda u: divide(Call("cos", u), Call("sin", u)),
    # Half angles: real and exact on the closed interval, ends included (from DLMF 4.21.8).
    "arcsin": lambda u: multiply(TWO, Call("arctan", divide(u, add(ONE, Root(subtract(ONE, Power(u, TWO))))))),
    "arccos": lambda u: subtract(divide(PI, TWO), Call("arcsin", u)),
    "arcsec": lambda u: Call("arccos", divide(ONE, u)),
    "arccsc": lambda u: Call("arcsin", divide(ONE, u)),
    "arccot": lambda u: subtract(divide(PI, TWO), Call("arctan", u)),
    "sinh": lambda u: divide(subtract(Call("exp", u), Call("exp", negate(u))), TWO),
    "cosh": lambda u: divide(add(Call("exp", u), Call("exp", negate(u))), TWO),
    "tanh": lambda u: divide(Call("sinh", u), Call("cosh", u)),
    "sech": lambda u: divide(ONE, Call("cosh", u)),
    "csch": lambda u: divide(ONE, Call("sinh", u)),
    "coth": lambda u: divide(Call("cosh", u), Call("sinh", u)),
    "arsinh": lambda u: Call("ln", add(u, Root(add(ONE, Power(u, TWO))))),
    "arcosh": lambda u: Call("ln", add(u, Root(subtract(Power(u, TWO), ONE)))),
    "artanh": lambda u: divide(Call("ln", divide(add(ONE, u), subtract(ONE, u))), TWO),
    "arsech": lambda u: Call("arcosh", divide(ONE, u)),
    "arcsch": lambda u: Call("arsinh", divide(ONE, u)),
    "arcoth": lambda u: Call("artanh", divide(ONE, u)),
}
