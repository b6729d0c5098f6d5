"""Ten families with many instances each: for the tests and for the benchmark. Invented; each line is question, key, letters."""

from __future__ import annotations

from everyline.source.problem import Conventions, Problem
from everyline.source.reading import read_problem

CONVENTIONS = Conventions(log="natural")

FAMILIES = {
    "powers": (
        r"\int \left(ax^n - \frac{b}{x^2}\right) dx", r"\frac{a}{n+1}x^{n+1} + \frac{b}{x} + C", "{a: -6..9, b: 1..9, n: -1..6}",
    ),
    "brackets": (
        r"\int (ax + b)^n \, dx", r"\frac{(ax + b)^{n+1}}{a(n+1)} + C", "{a: -6..9, b: -9..9, n: -3..6}",
    ),
    "reciprocal": (
        r"\int \frac{c}{ax + b} \, dx", r"\frac{c}{a}\ln|ax + b| + C", "{a: -5..7, b: -9..9, c: -4..6}",
    ),
    "between limits": (
        r"\int_a^b (2x + c) \, dx", r"b^2 - a^2 + c(b - a)", "{a: -5..5, b: -5..6, c: -6..6, where: a < b}",
    ),
    "chain": (
        r"\int cnx^{n-1}(x^n + b)^m \, dx", r"\frac{c(x^n + b)^{m+1}}{m+1} + C", "{b: -7..7, c: -3..4, n: 1..4, m: -2..5}",
    ),
    "sines": (
        r"\int \sin ax\cos bx \, dx", r"-\frac{\cos((a+b)x)}{2(a+b)} - \frac{\cos((a-b)x)}{2(a-b)} + C", "{a: -9..12, b: 1..12}",
    ),
    "arctangent": (
        r"\int \frac{c}{x^2 + 2ax + b} \, dx", r"\frac{c}{\sqrt{b - a^2}}\arctan\frac{x + a}{\sqrt{b - a^2}} + C",
        "{a: -5..5, b: 1..40, c: 1..6, where: a^2 < b}",
    ),
    "parts": (
        r"\int (ax + b)e^{cx} \, dx", r"\left(\frac{a}{c}x + \frac{b}{c} - \frac{a}{c^2}\right)e^{cx} + C",
        "{a: -4..6, b: -6..6, c: -3..4}",
    ),
    "fractions": (
        r"\int \frac{(p + q)x + pb - qa}{(x - a)(x + b)} \, dx", r"p\ln|x - a| + q\ln|x + b| + C",
        "{a: -6..6, b: -6..6, p: -4..5, q: 1..5}",
    ),
    "roots": (
        r"\int \frac{x}{\sqrt{ax^2 + b}} \, dx", r"\frac{1}{a}\sqrt{ax^2 + b} + C", "{a: -3..9, b: -20..40, where: a > 0 and b != 0}",
    ),
}  # fmt: skip


def family(question: str, key: str, vary: str, more: str = "", prose: str = "") -> Problem:
    """A family's file as it is read; it has to be without faults."""
    text = f"---\nquestion: {question}\nkey: '{key}'\nvary: {vary}\n{more}---\n{prose}\n"
    read = read_problem("tides/family.md", text.encode())
    assert read.problem is not None
    assert not read.faults
    return read.problem
