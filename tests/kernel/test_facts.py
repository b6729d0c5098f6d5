"""Every fact of the trade in `tests/reference/facts.jsonl` (each row names its source) as claims that the checker must decide so."""

from __future__ import annotations

import pytest
from published import OWN, rows

from everyline.book.rows import prove
from everyline.kernel import Checked, Equal, Refuted, SameDerivative, Setting, check
from everyline.notation import Context, parse
from everyline.notation.tree import Node

CONTEXT = Context(names=frozenset("xutv"), log="natural")


def tree(text: str) -> Node:
    return parse(text, CONTEXT, answer=True)


def word(outcome: object) -> str:
    return outcome.grade if isinstance(outcome, Checked) else "refuted" if isinstance(outcome, Refuted) else "undecided"


def key(f: str, answer: str, domain: str | None = None) -> str:
    """What is said of an antiderivative."""
    return str(prove({"kind": "indefinite", "integrand": f, "answer": answer, "domain": domain}, log="natural")["verdict"])


def slope(f: str, answer: str) -> str:
    """What is said of a derivative."""
    return str(prove({"kind": "derivative", "integrand": f, "answer": answer}, log="natural")["verdict"])


def value(f: str, lower: str, upper: str, answer: str) -> str:
    """What is said of an integral between limits, with the certificate that the deriver finds."""
    return str(prove({"kind": "definite", "integrand": f, "lower": lower, "upper": upper, "answer": answer}, log="natural")["verdict"])


def limit(f: str, point: str, answer: str, side: str = "") -> str:
    return str(prove({"kind": "limit", "integrand": f, "lower": point, "side": side, "answer": answer}, log="natural")["verdict"])


def line(left: str, right: str, **names: str) -> str:
    """What is said of a line between numbers or functions; `names` are bound, as u = x^2 is."""
    return word(check(Equal(tree(left), tree(right), setting(names))))


def step(left: str, right: str, **names: str) -> str:
    """What is said of a line with indefinite integrals in it."""
    return word(check(SameDerivative(tree(left), tree(right), setting(names))))


def setting(names: dict[str, str]) -> Setting:
    return Setting("x", bindings=tuple((name, tree(text)) for name, text in names.items()))


ZERO_TO_ONE = r"\int_0^1 "
#: For each fact what is said of some claims, and what must be: what the fact says, and what is often believed instead.
FACTS: dict[str, list[tuple[str, str]]] = {
    "fact-01": [(key("x^4", "x^5/5+17"), "proved"), (step("x^5/5", "x^5/5-pi"), "proved"), (step("x^5/5", "x^5/5+x"), "refuted")],
    "fact-02": [(key("1/x", "ln|x|+3*sgn(x)"), "proved"), (key("1/x^2", "-1/x+sgn(x)"), "proved")],
    "fact-03": [(key("1/x", "ln|x|+C"), "proved"), (key("x^(-1)", "x^0/0"), "refuted"), (key("1/x", "ln(x)"), "refuted")],
    "fact-04": [(key("x*cos(x)", "x*sin(x)+cos(x)"), "proved"), (key("x*cos(x)", "x*sin(x)-cos(x)"), "refuted")],
    "fact-05": [
        (step(r"\int 3e^x-5x \, dx", r"3\int e^x \, dx-5\int x \, dx"), "proved"),
        (step(r"\int 3e^x-5x \, dx", r"3\int e^x \, dx-\int x \, dx"), "refuted"),
    ],
    "fact-06": [(step(r"\int x*e^x \, dx", r"\int x \, dx*e^x"), "undecided"), (key("x*e^x", "x^2/2*e^x"), "refuted")],
    "fact-07": [(slope("x^3*sin(x)", "3x^2*sin(x)+x^3*cos(x)"), "proved"), (slope("x^3*sin(x)", "3x^2*cos(x)"), "refuted")],
    "fact-08": [
        (slope("x/sin(x)", "(sin(x)-x*cos(x))/sin(x)^2"), "proved"),
        (slope("x/sin(x)", "(x*cos(x)-sin(x))/sin(x)^2"), "refuted"),
        (slope("x/sin(x)", "(sin(x)-x*cos(x))/sin(x)"), "refuted"),
    ],
    "fact-09": [(slope("sin(7x)", "7cos(7x)"), "proved"), (slope("sin(7x)", "cos(7x)"), "refuted")],
    "fact-10": [(slope("x^2/(x+1)", "2x/1"), "refuted"), (slope("x^2/(x+1)", "(x^2+2x)/(x+1)^2"), "proved")],
    "fact-11": [
        (slope("cos(x)", "-sin(x)"), "proved"),
        (slope("cot(x)", "-csc(x)^2"), "proved"),
        (slope("csc(x)", "-csc(x)*cot(x)"), "proved"),
        (slope("csc(x)", "csc(x)*cot(x)"), "refuted"),
    ],
    "fact-12": [(slope("3^x", "3^x*ln(3)"), "proved"), (slope("3^x", "x*3^(x-1)"), "refuted")],
    "fact-13": [
        (step(r"\int x*cos(x) \, dx", r"x*sin(x)-\int sin(x) \, dx"), "proved"),
        (step(r"\int x*cos(x) \, dx", r"x*sin(x)+\int sin(x) \, dx"), "refuted"),
    ],
    "fact-14": [(step(r"\int ln(x+3) \, dx", r"(x+3)*ln(x+3)-\int 1 \, dx"), "proved")],
    "fact-15": [
        (line(r"\int_1^2 2x*e^(x^2) \, dx", r"\int_1^4 e^u \, du", u="x^2"), "proved"),
        (line(r"\int_1^2 2x*e^(x^2) \, dx", r"\int_1^2 e^u \, du", u="x^2"), "refuted"),
    ],
    "fact-16": [
        (step(r"\int 2x*cos(x^2) \, dx", r"\int cos(u) \, du", u="x^2"), "proved"),
        (key("2x*cos(x^2)", "sin(x^2)"), "proved"),
        (key("2x*cos(x^2)", "sin(u)"), "unreadable"),
    ],
    "fact-17": [(value("x/(1-x^2)", "0", "2", "-ln(3)/2"), "refuted"), (value("x/(1-x^2)", "0", "2", "diverges"), "proved")],
    "fact-18": [(line(r"\int_1^3 x^2 \, dx", r"\Big[\frac{x^3}{3}\Big]_1^3"), "proved"), (value("x^2", "1", "3", "26/3"), "proved")],
    "fact-19": [
        (line(r"\frac{d}{dx} \int_1^x t^2 \, dt", "x^2"), "proved"),
        (line(r"\frac{d}{dx} \int_1^{x^2} t^2 \, dt", "2x^5"), "proved"),
        (line(r"\frac{d}{dx} \int_1^{x^2} t^2 \, dt", "x^4"), "refuted"),
        (line(r"\frac{d}{dx} \int_x^1 t^2 \, dt", "x^2"), "refuted"),
    ],
    "fact-20": [
        (line(r"\int_0^{2*pi} \frac{1}{2+cos(x)} \, dx", r"\Big[\frac{2}{sqrt(3)}*arctan(tan(x/2)/sqrt(3))\Big]_0^{2*pi}"), "refuted"),
        (value("1/(2+cos(x))", "0", "2pi", "2pi/sqrt(3)"), "proved"),
        (value("1/(2+cos(x))", "0", "2pi", "0"), "refuted"),
    ],
    "fact-21": [(value("x^2", "3", "1", "-26/3"), "proved"), (value("x^2", "3", "1", "26/3"), "refuted")],
    "fact-22": [
        (line(r"\int_0^4 e^x \, dx", r"\int_0^1 e^x \, dx+\int_1^4 e^x \, dx"), "proved"),
        (line(r"\int_0^4 e^x \, dx", r"\int_0^1 e^x \, dx+\int_2^4 e^x \, dx"), "refuted"),
    ],
    "fact-23": [(line(r"\Big[\frac{x^3}{3}\Big]_1^3", r"\Big[\frac{x^3}{3}+5\Big]_1^3"), "proved")],
    "fact-24": [(value("1/x^2", "-1", "1", "-2"), "refuted")],
    "fact-25": [(value("x^3*cos(x)", "-2", "2", "0"), "proved"), (value("x^3*sin(x)", "-2", "2", "0"), "refuted")],
    "fact-26": [(value("e^(-x)", "0", "infinity", "1"), "proved"), (value("1/sqrt(x)", "0", "1", "2"), "proved")],
    "fact-27": [(value("x/(1+x^2)", "-infinity", "infinity", "0"), "refuted"), (value("x", "-infinity", "infinity", "diverges"), "proved")],
    "fact-28": [(value("1/x", "-1", "1", "0"), "refuted"), (value("1/x", "-1", "1", "diverges"), "proved")],
    "fact-29": [
        (value("x^(-11/10)", "1", "infinity", "10"), "proved"),
        (value("x^(-9/10)", "1", "infinity", "diverges"), "proved"),
        (value("x^(-9/10)", "0", "1", "10"), "proved"),
        (value("x^(-11/10)", "0", "1", "diverges"), "proved"),
        (value("1/x", "0", "1", "diverges"), "proved"),
    ],
    "fact-30": [
        (value("e^(-x^2)/(1+x)", "0", "infinity", "diverges"), "refuted"),
        (value("1/(x+sqrt(x))", "1", "infinity", "diverges"), "proved"),
    ],
    "fact-31": [
        (line(r"\lim_{x \to 0} \frac{e^x-1}{x}", r"\lim_{x \to 0} \frac{e^x}{1}"), "proved"),
        (line(r"\lim_{x \to 0} \frac{x+2}{x+1}", r"\lim_{x \to 0} \frac{1}{1}"), "refuted"),
        (limit("(x+sin(x))/x", "infinity", "1"), "proved"),
    ],
    "fact-32": [
        (limit("|x|/x", "0", "does not exist"), "proved"),
        (limit("|x|/x", "0", "1"), "refuted"),
        (limit("|x|/x", "0", "1", "+"), "proved"),
    ],
    "fact-33": [(limit("sin(x)/x", "0", "1"), "proved"), (limit("sin(pi*x/180)/x", "0", "pi/180"), "proved")],
    "fact-34": [(limit("(1+1/x)^x", "infinity", "e"), "proved"), (limit("(1+1/x)^x", "infinity", "1"), "refuted")],
    "fact-35": [(limit("x^(1/10)*ln(x)", "0", "0", "+"), "proved"), (limit("x^(1/10)*ln(x)", "0", "-infinity", "+"), "refuted")],
    "fact-36": [
        (key("tan(x)", "-ln(cos(x))", "(-pi/2, pi/2)"), "proved"),
        (key("tan(x)", "-ln(cos(x))"), "refuted"),
        (key("tan(x)", "-ln|cos(x)|"), "proved"),
    ],
    "fact-37": [(slope("arcsec(x)", "1/(|x|*sqrt(x^2-1))"), "proved"), (slope("arcsec(x)", "1/(x*sqrt(x^2-1))"), "refuted")],
    "fact-38": [
        (line("sqrt(x^2)", "|x|"), "proved"),
        (line("sqrt(x^2)", "x"), "refuted"),
        (line("ln(x^2)", "2*ln|x|"), "proved"),
        (line("ln(x^2)", "2*ln(x)"), "refuted"),
    ],
    "fact-39": [
        (key("1/sqrt(1-x^2)", "arcsin(x)"), "proved"),
        (key("1/sqrt(1-x^2)", "-arccos(x)"), "proved"),
        (key("sec(x)^2*tan(x)", "tan(x)^2/2"), "proved"),
        (key("sec(x)^2*tan(x)", "sec(x)^2/2"), "proved"),
    ],
    "fact-40": [(line("(x^3+2)/(x^2-1)", "x+3/2/(x-1)-1/2/(x+1)"), "proved"), (line("(x^3+2)/(x^2-1)", "3/2/(x-1)-1/2/(x+1)"), "refuted")],
}


@pytest.mark.parametrize("fact", rows(OWN / "facts.jsonl"), ids=lambda fact: fact["id"])
def test_a_fact_of_the_trade(fact: dict[str, str]) -> None:
    said = FACTS[fact["id"]]
    assert [was for was, _ in said] == [wanted for _, wanted in said], fact["fact"]
