"""Corruptions of a right key: many, all different from it by more than a constant, in a fixed order."""

from __future__ import annotations

import pytest

from everyline.notation.build import ONE, PI, TWO, add, call, divide, multiply, negate, number, power, root
from everyline.notation.tree import Absolute, ArbitraryConstant, Diverges, Infinity, Name, Node
from everyline.slips.corruptions import corruptions, differs

X, A, T, C = Name("x"), Name("a"), Name("t"), ArbitraryConstant()
LN = call("ln", Absolute(X))

KEYS: dict[str, Node] = {
    "x": X,
    "x^2/2 + C": add(divide(power(X, 2), TWO), C),
    "ln|x| + C": add(LN, C),
    "e^x + C": add(call("exp", X), C),
    "tan x": call("tan", X),
    "arcsin(x/3)": call("arcsin", divide(X, number(3))),
    "-cos(2t)/2 + C": add(negate(divide(call("cos", multiply(TWO, T)), TWO)), C),
    "(ax + 1)^4/(4a) + C": add(divide(power(add(multiply(A, X), ONE), 4), multiply(number(4), A)), C),
    "x sqrt(1 - x^2)": multiply(X, root(add(ONE, negate(power(X, 2))))),
    "pi/4": divide(PI, number(4)),
    "2 - ln 2": add(TWO, negate(call("ln", TWO))),
    "diverges": Diverges(),
    "infinity": Infinity(),
    "3": number(3),
}


@pytest.mark.parametrize("name", KEYS)
def test_at_least_ten_different_corruptions_of_every_key(name: str) -> None:
    found = corruptions(KEYS[name])
    assert len(found) >= 10
    assert len(set(found)) == len(found)
    assert KEYS[name] not in found


@pytest.mark.parametrize(
    ("key", "same"),
    [
        (LN, call("ln", Absolute(multiply(TWO, X)))),
        (LN, call("ln", Absolute(negate(X)))),
        (power(call("sin", X), 2), negate(power(call("cos", X), 2))),
        (power(call("tan", X), 2), power(call("sec", X), 2)),
        (call("cos", X), call("cos", negate(X))),
        (add(X, ONE), X),
    ],
)
def test_a_change_that_only_moves_the_constant_is_no_corruption(key: Node, same: Node) -> None:
    assert not differs(key, same, "x", [])
    assert same not in corruptions(key)


def test_a_parameter_is_not_taken_for_the_variable() -> None:
    key = multiply(A, power(X, 2))
    assert add(key, A) not in corruptions(key, "x")
    assert negate(key) in corruptions(key, "x")
