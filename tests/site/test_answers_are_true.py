"""The acceptance set of answers (`answers.json`), written from the grammar alone: each row says the truth.

A row's `means` is what a person reads in its text, written for mpmath; nothing of everyline reads or computes it. The set is run through
the box of the page elsewhere.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import flint
import mpmath
import pytest
from mpmath import mp

from everyline.arithmetic.balls import value as ball_value
from everyline.arithmetic.program import Program
from everyline.notation import Context, parse_given, parse_question
from everyline.notation.question import Given
from everyline.slips import all_slips

PROBLEMS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "answers.json").read_text(encoding="utf-8"))
CONTENT = Path(__file__).parents[2] / "content"


class NoValue(ValueError):
    """No real value here."""


def _real(value: Any) -> Any:
    if isinstance(value, mpmath.mpc) or mp.isnan(value) or mp.isinf(value):
        raise NoValue
    return value


def power(base: Any, exponent: Any) -> Any:
    """The real power; of an odd root also below zero."""
    exact = Fraction(str(exponent)).limit_denominator(1000) if abs(exponent) < 1e6 else Fraction(1, 2)
    rational = abs(exact - Fraction(str(exponent))) < Fraction(1, 10**15)
    if base < 0 and rational and exact.denominator % 2:
        return (-1) ** exact.numerator * mp.power(-base, exponent)
    return _real(mp.power(base, exponent))


def _checked(name: str) -> Callable[[Any], Any]:
    plain: Callable[[Any], Any] = getattr(mpmath, name)
    return lambda u: _real(plain(u))


NAMES = ("sin", "cos", "tan", "sec", "csc", "cot", "asin", "acos", "atan", "ln", "exp")
MATH: dict[str, Any] = {
    name: _checked(name) for name in ("sin", "cos", "tan", "sec", "csc", "cot", "asin", "acos", "atan", "ln", "exp")
} | {
    "pi": mp.pi,
    "e": mp.e,
    "abs": abs,
    "power": power,
    "sqrt": lambda u: power(u, mp.mpf(1) / 2),
    "root": lambda u, n: power(u, mp.mpf(1) / n),
    "arccot": lambda u: mp.pi / 2 - mp.atan(u),
}


def function(text: str) -> Callable[[Any], Any]:
    code = compile(text, "row", "eval")

    def at(x: Any) -> Any:
        try:
            return _real(mp.mpf(eval(code, {"__builtins__": {}}, MATH | {"x": x, "t": x})))
        except (ZeroDivisionError, TypeError) as nothing:
            raise NoValue from nothing

    return at


def agreement(problem: dict[str, Any], means: str) -> list[bool | None]:
    """For each point: right, wrong, or None where the answer has no value."""
    answer = function(means)
    if problem["kind"] == "definite":
        return [mp.almosteq(answer(mp.mpf(0)), function(problem["value"])(mp.mpf(0)), mp.mpf(10) ** -25)]
    wanted = function(problem["derivative" if problem["kind"] == "derivative" else "integrand"])
    found: list[bool | None] = []
    for point in map(mp.mpf, problem["points"]):
        try:
            here = answer(point) if problem["kind"] == "derivative" else mp.diff(answer, point, h=mp.mpf(10) ** -20)
        except NoValue:
            found.append(None)
            continue
        found.append(abs(here - wanted(point)) < mp.mpf(10) ** -12 * (1 + abs(here)))
    return found


ROWS = [(problem, row) for problem in PROBLEMS for row in problem["answers"]]
READABLE = [pair for pair in ROWS if "means" in pair[1]]


@pytest.mark.parametrize("expect", ["right", "wrong", "part-of-domain"])
def test_each_row_says_the_truth(expect: str) -> None:
    for problem, row in READABLE:
        said = row["expect"].split("-no-")[0].replace("slip", "wrong").partition(":")[0]
        if said != expect:
            continue
        with mp.workdps(60):
            found = agreement(problem, row["means"])
        if expect == "right":
            assert all(found), (problem["problem"], row)
        elif expect == "wrong":
            assert False in found, (problem["problem"], row)
        else:
            assert True in found, (problem["problem"], row)
            assert None in found, (problem["problem"], row)
            assert False not in found, (problem["problem"], row)


def test_the_set_is_large_and_holds_every_kind_of_answer() -> None:
    assert len(PROBLEMS) >= 40
    assert len(ROWS) >= 400
    assert len({(problem["problem"], row["text"]) for problem, row in ROWS}) == len(ROWS)
    kinds = Counter(row["expect"].partition(":")[0] for _, row in ROWS)
    assert set(kinds) == {
        "right", "right-no-constant", "wrong", "slip", "unreadable", "ambiguous", "other-variable", "part-of-domain"
    }  # fmt: skip
    assert {row["expect"].partition(":")[2] for _, row in ROWS} - {""} <= {slip.id for slip in all_slips()}


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda p: p["problem"])
def test_the_book_asks_what_the_set_answers(problem: dict[str, Any]) -> None:
    text = (CONTENT / f"{problem['problem']}.md").read_text(encoding="utf-8")
    fields = dict(line.partition(":")[::2] for line in text.split("---")[1].splitlines() if ":" in line)
    context = Context(log="natural")
    given = parse_given(fields["given"], context) if "given" in fields else Given()
    question = parse_question(fields["question"].strip().strip("'"), given, context)
    assert question.kind == problem["kind"]
    if problem["kind"] == "indefinite":
        program = Program(question.variable)
        goal = program.add(question.body)
        for point in problem["points"]:
            found = ball_value(program, goal, {question.variable: flint.arb(point)})
            assert abs(float(found) - float(function(problem["integrand"])(mp.mpf(point)))) < 1e-9
