"""Formulas from strangers that try to cost time or room, for every reader of the notation."""

from __future__ import annotations

HOSTILE = {
    "tower of powers": "9^{9^{9^9}}",
    "tower written with brackets": "9^(9^(9^(9^9)))",
    "power of a power": "(((9^9999)^9999)^9999)",
    "exponent with many digits": "x^{99999999999}",
    "many digits": "1" * 5_000,
    "factorials": "99999!!!!",
    "deep brackets": "(" * 3_000 + "x" + ")" * 3_000,
    "deep fractions": r"\frac{1}{" * 400 + "x" + "}" * 400,
    "deep functions": r"\sin" * 1_000 + " x",
    "deep roots": r"\sqrt{" * 500 + "x" + "}" * 500,
    "many signs": "-" * 3_000 + "x",
    "many slashes": "x" + "/x" * 2_000,
    "many stacked powers": "x" + "^x" * 2_000,
    "many doubtful places": "1/2x+" * 800 + "x",
    "many bars": "|x" * 1_500,
    "many paired bars": "|x|x" * 400,
    "many functions with bars": r"\ln|x|" * 500,
    "long word": "asin" * 1_000,
    "long word of letters": "x" * 5_000,
    "long text": "x+" * 50_000 + "x",
    "many integrals": r"\int " * 1_000 + "x",
    "many subscripts": "x_1" * 1_000,
    "open braces": "{" * 3_000,
    "commands": r"\left" * 1_000,
    "derivatives": r"\frac{d}{dx}" * 300 + "x",
    "python": "__import__('os').system('true')",
    "python power": "9**9**9**9",
    "sums of large powers": "+".join(["9^9999"] * 500),
}
