"""Questions that are almost the same are found; questions that only look alike, or only are equal, are not."""

from __future__ import annotations

import random
import time

import pytest

from everyline.book.likeness import near_duplicates
from everyline.notation import Context, parse_given, parse_question, plain
from everyline.notation.message import fill
from everyline.notation.question import Given, Question


def asked(text: str, given: str = "") -> Question:
    said = parse_given(given, Context()) if given else Given()
    return parse_question(text, said, Context(names=said.names))


ALIKE = [
    (r"\int x^2 \sqrt{x+3} \, dx", r"\int x^2\sqrt{x+3} \, dx", "the same question"),
    (r"\int x^2 \sqrt{x+3} \, dx", r"\int t^2\sqrt{3+t} \, dt", "the same up to the name of the variable"),
    (r"\int x^2 \sqrt{x+3} \, dx", r"\int 7x^2\sqrt{x+3} \, dx", "the same up to the factor 7"),
    (r"\int x^2 \sqrt{x+3} \, dx", r"\int (x-3)^2\sqrt{x} \, dx", "the same up to a shift by 3"),
    (r"\int \frac{1}{x-2} \, dx", r"\int \frac{5}{2y+6} \, dy", "the same up to the name of the variable, a shift by 5 and the factor 2.5"),
    (r"\int \frac{x^3}{4} \, dx", r"\int \frac12 x^3 \, dx", "the same up to the factor 2"),
    (r"\int \frac{dx}{x^2+4}", r"\int \frac{9}{4+x^2} \, dx", "the same up to the factor 9"),
    (r"\int 3e^{x} \sin x \, dx", r"\int e^x \sin x \, dx", "the same up to the factor 0.3333"),
    (r"\int_1^4 \sqrt{x} \, dx", r"\int_3^6 \sqrt{x-2} \, dx", "the same up to a shift by 2"),
    (r"\frac{d}{dx} x^3 \ln x", r"\frac{d}{dt} 2t^3\ln t", "the same up to the name of the variable and the factor 2"),
    (r"\lim_{x \to 2} \frac{x^2-4}{x-2}", r"\lim_{x \to 2} \frac{3(x^2-4)}{x-2}", "the same up to the factor 3"),
]
DIFFERENT = [
    (r"\int x^2 \, dx", r"\int x^3 \, dx"),
    (r"\int \cos 5x \, dx", r"\int \cos 3x \, dx"),
    (r"\int \sin x \, dx", r"\int \cos x \, dx"),
    (r"\int \sin^2 x \, dx", r"\int (1 - \cos^2 x) \, dx"),
    (r"\int (x-2)(x+2)(x^2+4) \, dx", r"\int (x^4 - 16) \, dx"),
    (r"\int_1^4 \sqrt{x} \, dx", r"\int_1^9 \sqrt{x} \, dx"),
    (r"\int_1^4 \sqrt{x} \, dx", r"\int \sqrt{x} \, dx"),
    (r"\frac{d}{dx} x^3", r"\int x^3 \, dx"),
    (r"\lim_{x \to 2} \frac{x^2-4}{x-2}", r"\lim_{x \to 3} \frac{x^2-4}{x-2}"),
    (r"\lim_{x \to 0^+} \frac{|x|}{x}", r"\lim_{x \to 0^-} \frac{|x|}{x}"),
    (r"\frac{d}{dx} x^3 \ln x", r"\frac{d^2}{dx^2} x^3 \ln x"),
    (r"\int \frac{1}{x^2-4} \, dx", r"\int \frac{1}{x^2-9} \, dx"),
]


def told(questions: list[tuple[str, Question]]) -> list[tuple[str, str, str]]:
    return [(first, second, fill(why, plain)) for first, second, why in near_duplicates(questions)]


@pytest.mark.parametrize(("first", "second", "why"), ALIKE)
def test_near_duplicates_are_found_with_how_they_differ(first: str, second: str, why: str) -> None:
    assert told([("a.md", asked(first)), ("b.md", asked(second))]) == [("a.md", "b.md", why)]


@pytest.mark.parametrize(("first", "second"), DIFFERENT)
def test_other_questions_are_not(first: str, second: str) -> None:
    assert near_duplicates([("a.md", asked(first)), ("b.md", asked(second))]) == ()


def test_parameters_are_constants() -> None:
    one, two = asked(r"\int \cos ax \, dx", "a > 0"), asked(r"\int b\cos bx \, dx", "b > 0")
    assert told([("a.md", one), ("b.md", two)]) == [("a.md", "b.md", "the same up to the factor 1.37")]


def test_every_planted_pair_is_found_among_many() -> None:
    """200 questions with 20 planted copies, each shifted and scaled at random; linear time is what a book of thousands needs."""
    draw = random.Random(11)
    forms = (r"(x {a})^{n} \sqrt{{x {b}}}", r"\frac{{(x {a})^{n}}}{{x {b}}}", r"(x {a}) e^{{x {b}}} (x {b})^{n}")
    plain = [(draw.choice(forms), draw.randint(2, 9), draw.randint(-9, 9), k) for k in range(12, 192)]
    planted = [(form, n, a + shift, k + shift) for form, n, a, k in plain[:20] if (shift := draw.randint(1, 7))]

    def text(form: str, n: int, a: int, b: int, factor: int) -> str:
        return rf"\int {factor}" + form.format(n=n, a=f"{a:+}", b=f"{b:+}") + r" \, dx"

    asked_ = [(f"p{k}", asked(text(*each, 1))) for k, each in enumerate(plain)]
    asked_ += [(f"q{k}", asked(text(*each, 3))) for k, each in enumerate(planted)]
    start = time.process_time()
    found = {(a, b) for a, b, _ in near_duplicates(asked_) if b.startswith("q")}
    assert found >= {(f"p{k}", f"q{k}") for k in range(20)}
    assert time.process_time() - start < 5
