"""Mistakes made in published answers (`wrong.jsonl`: a right row with one named mistake in it): is the named slip found?

The rows that come of tables.jsonl (NIST DLMF chapter 4, Abramowitz & Stegun 3.3 and 4, OpenStax Calculus appendix A) are in
`tests/reference/wrong_tables.jsonl`; the rest is read from ../shared/reference and skipped where that is absent.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from everyline.kernel import Checked
from everyline.notation import Context, parse, parse_domain
from everyline.notation.question import Question
from everyline.notation.tree import Derivative, Integral, Limit
from everyline.slips import Diagnosis, diagnose

TABLES = Path(__file__).parents[1] / "reference" / "wrong_tables.jsonl"
SHARED = Path(__file__).parents[3] / "shared" / "reference" / "wrong.jsonl"

#: The slips that a named mistake may be told as. Several where the row's own words fit several: a lost 1/3 before an arcsine of
#: 3x/4 is both a lost inner derivative and a lost constant of the arcsine; the sign of a last term is one of integration by parts
#: or of a cosine's antiderivative where the question is of that kind.
MISTAKES: dict[str, set[str]] = {
    "lost constant factor from the inner derivative": {"inner-derivative-lost", "inverse-trig-constant", "constant-lost"},
    "constant factor lost in the substitution du = k dx": {"constant-lost", "inner-derivative-lost"},
    "sign lost: inner derivative of e^(-x) is -1": {"inner-derivative-lost"},
    "multiplied by the inner derivative instead of divided": {"inner-derivative-multiplied"},
    "sign of the sine/cosine antiderivative": {"sine-cosine-sign"},
    "power not raised": {"power-not-raised"},
    "power raised but not divided": {"power-not-divided"},
    "power rule applied to a function without its inner derivative": {"power-rule-without-inner"},
    "treated as a power substitution": {"power-rule-without-inner"},
    "last term dropped": {"term-dropped", "parts-remainder-lost"},
    "integration by parts: forgot the remaining integral": {"parts-remainder-lost"},
    "missing absolute value on a negative domain": {"absolute-value-missing"},
    "wrong log law: coefficients and signs ignored when combining logarithms": {"log-law"},
    "wrong log law: ln(a+b) taken as ln a + ln b": {"log-law"},
    "arctangent rule: factor 1/a forgotten": {"inverse-trig-constant"},
    "arctangent rule: factor 1/b forgotten": {"inverse-trig-constant"},
    "arcsine rule: spurious factor 1/a": {"inverse-trig-constant"},
    "inverse trigonometric argument not scaled by a": {"inverse-trig-argument"},
    "sign slip in integration by parts: added the remaining integral instead of subtracting": {"parts-sign"},
    "sign slip on the last term": {"term-sign", "parts-sign", "sine-cosine-sign"},
    "arithmetic slip in a coefficient": {"coefficient", "number-slip"},
    "chain rule: inner derivative forgotten": {"chain-inner-forgotten"},
    "chain rule: differentiated the outer power only": {"chain-inner-forgotten"},
    "product differentiated factor by factor": {"product-rule-missing"},
    "forgot the product's other term": {"product-term-forgotten", "term-dropped"},
    "quotient rule with the terms in the wrong order": {"quotient-rule-order"},
    "sign of the derivative of a co-function": {"cofunction-sign"},
    "sign slip on one term of the derivative": {"term-sign", "cofunction-sign"},
    "power rule applied to an exponential": {"exponential-by-power-rule"},
    "inverse function read as reciprocal": {"inverse-as-reciprocal"},
    "swapped limits (sign of the value)": {"limits-swapped"},
    "limits not changed after substitution": {"limits-not-changed"},
    "value at the lower limit not subtracted": {"lower-limit-ignored"},
    "added F(a) instead of subtracting it": {"limits-added"},
    "interior singularity ignored: FTC applied across it": {"pole-ignored"},
    "arithmetic slip": {"number-slip"},
    "0/0 or oo/oo read as 0": {"indeterminate-read-as-zero"},
    "0/0 read as 0": {"indeterminate-read-as-zero"},
    "1^oo read as 1": {"power-of-one"},
    "limit read as 1 (form 0*oo or 0/0 taken as 1)": {"indeterminate-read-as-one"},
    "ratio of leading terms inverted": {"ratio-inverted"},
    "sign slip in the limit": {"limit-sign"},
}

#: The list of the issue on the kernel, in the words of the rows.
LISTED = frozenset(
    mistake
    for mistake, slips in MISTAKES.items()
    if slips
    & {
        "inner-derivative-lost", "constant-lost", "inner-derivative-multiplied", "sine-cosine-sign", "power-not-raised",
        "power-not-divided", "power-divided-twice", "product-factor-by-factor", "quotient-part-by-part", "term-dropped",
        "parts-remainder-lost", "reciprocal-by-power-rule", "absolute-value-missing", "log-law", "inverse-trig-constant",
        "inverse-trig-argument",
        "limits-not-changed", "limits-swapped", "parts-sign", "coefficient", "number-slip",
    }
)  # fmt: skip

#: Antiderivatives of the definite rows' integrands (ours, proved by the tests below), which the book has from its worked solutions.
ANTIDERIVATIVES: dict[str, str] = {
    "(1/(x - 5))": "ln|x - 5|",
    "(x + 1)*exp(x**2 + 2*x + 1)": "(1/2) exp(x^2 + 2x + 1)",
    "2*x*(1 - x**2)**4": "-((1 - x^2)^5)/5",
    "(3 - x)": "3x - x^2/2",
    "sqrt(1 - x**2)": "(x sqrt(1 - x^2) + arcsin(x))/2",
    "sinh(x)": "cosh(x)",
    "x**3*sin(x)": "-x^3 cos(x) + 3x^2 sin(x) + 6x cos(x) - 6 sin(x)",
    "x*exp(x**2)": "exp(x^2)/2",
    "sqrt(9 - x**2)": "x sqrt(9 - x^2)/2 + (9/2) arcsin(x/3)",
    "x**2*sin(x)": "-x^2 cos(x) + 2x sin(x) + 2 cos(x)",
    "x*exp(-2*x)": "-(x/2) exp(-2x) - exp(-2x)/4",
    "(1/(x + x**2))": "ln|x/(x + 1)|",
    "1/x**2": "-1/x",
    "sqrt(x**2 + 2*x + 1)/x": "-x - ln|x|",
    "x*exp(-x)": "-(x + 1) exp(-x)",
    "(1/(t**4 - 1))": "(1/4) ln|(t - 1)/(t + 1)| - arctan(t)/2",
    "tan(x)**8*sec(x)**4": "(tan(x)^9)/9 + (tan(x)^11)/11",
    "x*sqrt(x - 2)": "(2/5)(x - 2)^(5/2) + (4/3)(x - 2)^(3/2)",
}


def read_rows(path: Path) -> list[dict[str, Any]]:
    if not path.exists():
        return []
    with path.open(encoding="utf-8") as lines:
        return [json.loads(line) for line in lines]


@cache
def rows() -> tuple[dict[str, Any], ...]:
    known = {row["id"]: row for row in (*read_rows(TABLES), *read_rows(SHARED))}
    return tuple(known.values())


SPELLINGS = (
    ("**", "^"), ("Abs(", "abs("), ("log(", "ln("), ("asin(", "arcsin("), ("acos(", "arccos("), ("atan(", "arctan("), ("/E", "/e"),
    ("(1 - E)/2", "(1 - e)/2"), ("(1 - E)*exp(-2)/2", "((1 - e)*exp(-2))/2"), ("-oo", "-infinity"), ("oo", "infinity"),
)  # fmt: skip


def written(text: str) -> str:
    """A row's spelling in the book's notation."""
    for theirs, ours in SPELLINGS:
        text = text.replace(theirs, ours)
    return text


def question_of(row: dict[str, Any]) -> Question:
    x = row["variable"]
    context = Context(names=frozenset((x,)), log="natural")
    body = parse(written(row["integrand"]), context)
    if row["kind"] == "derivative":
        return Question(Derivative(body, x))
    if row["kind"] == "limit":
        return Question(Limit(body, x, parse(written(row["lower"]), context), {"both": ""}.get(row.get("side", ""), row.get("side", ""))))
    if row["kind"] in ("definite", "improper"):
        return Question(Integral(body, x, *(parse(written(row[end]), context) for end in ("lower", "upper"))))
    domain = parse_domain(written(row["domain"]).replace(" U ", " or "), x, context)
    return Question(Integral(body, x), domain=domain)


def diagnosed(row: dict[str, Any], *, with_right: bool, seconds: float = 2.0) -> Diagnosis | None:
    question = question_of(row)
    context = Context(log="natural").of(question)
    right = parse(written(row["right_answer"]), context, answer=True) if with_right else None
    source = ANTIDERIVATIVES.get(row["integrand"]) if row["kind"] in ("definite", "improper") else None
    antiderivative = parse(source, context) if source else None
    claimed = parse(written(row["wrong_answer"]), context, answer=True)
    return diagnose(question, claimed, right=right, antiderivative=antiderivative, seconds=seconds)


def told(row: dict[str, Any], *, with_right: bool) -> str:
    found = diagnosed(row, with_right=with_right)
    return found.slip if found is not None else ""


def named(kinds: set[str]) -> list[Any]:
    return [pytest.param(row, id=f"{row['id']}: {row['mistake']}") for row in rows() if row["kind"] in kinds and row["mistake"] in MISTAKES]


def share(chosen: list[dict[str, Any]], *, with_right: bool) -> float:
    return sum(told(row, with_right=with_right) in MISTAKES[row["mistake"]] for row in chosen) / len(chosen)


@pytest.mark.parametrize("row", named({"indefinite", "derivative", "definite", "improper", "limit"}))
def test_a_diagnosis_is_never_offered_without_a_checked_answer(row: dict[str, Any]) -> None:
    found = diagnosed(row, with_right=False)
    assert found is None or isinstance(found.checked, Checked)


@pytest.mark.skipif(not SHARED.exists(), reason="the shared reference rows are not here; only the rows of the tables are tried")
@pytest.mark.parametrize("with_right", [False, True], ids=["from the wrong answer alone", "with a right answer known"])
def test_at_least_seven_in_ten_listed_mistakes_get_their_diagnosis(with_right: bool) -> None:
    listed = [row for row in rows() if row["mistake"] in LISTED]
    assert share(listed, with_right=with_right) >= 0.7
