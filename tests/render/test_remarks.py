"""What the checker remarked, said where it belongs and only where it is true."""

from __future__ import annotations

import re

import pytest

from everyline.derive import derive
from everyline.kernel import Checked, Equal, SameDerivative, Setting, check
from everyline.notation import Context, parse_question
from everyline.notation.question import Given, Question
from everyline.render.addresses import Addresses, Here
from everyline.render.find_slip import _short
from everyline.render.remarks import _rounded, of_answer, of_check

HERE = Here("a/b.md", Addresses())


def checked(text: str) -> tuple[Checked, Question]:
    """A question with the verdict on the answer of its first worked solution."""
    question = parse_question(text, Given(), Context(log="natural"))
    answer = derive(question).routes[0].answer
    claim = SameDerivative if question.kind == "indefinite" else Equal
    verdict = check(claim(question.node, answer, Setting(question.variable)))
    assert isinstance(verdict, Checked)
    return verdict, question


@pytest.mark.parametrize(
    ("question", "said"),
    [
        (r"\int \frac{1}{x} \, dx", True),
        (r"\int \sec^2 x \, dx", True),
        # An odd root has no gap, and a derivative no constant.
        (r"\int 10x^2\sqrt[3]{x} \, dx", False),
        (r"\frac{d}{dx}\left(\frac{1}{x}\right)", False),
    ],
)
def test_several_intervals_are_named_where_there_are_gaps_and_a_constant(question: str, said: bool) -> None:
    verdict, posed = checked(question)
    assert any("several intervals" in remark for remark in of_answer(verdict, posed, HERE)) == said


def test_where_jumps_were_looked_for_is_said_with_the_check_and_in_round_numbers() -> None:
    verdict, posed = checked(r"\int \sec^2 x \, dx")
    assert not any("Jumps" in remark for remark in of_answer(verdict, posed, HERE))
    # How far the checker looks is its own affair; that no figure is written with an exponent is ours.
    (said,) = of_check(verdict, posed, HERE)
    assert re.fullmatch(r"Jumps were looked for on −\d+ … \d+\.", said)
    assert _rounded("-1.04858e+06 … 1.04858e+06") == "−1048580 … 1048580"


@pytest.mark.parametrize(("number", "shown"), [("64.000000", "64"), ("0e-37", "0"), ("-10.000000", "−10"), ("9.8994949", "9.8995")])
def test_numbers_of_the_checker_are_shortened_for_reading(number: str, shown: str) -> None:
    assert _short(number) == shown
