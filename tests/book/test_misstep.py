"""A solution with one slip in it: the checker refutes that line and no other."""

from __future__ import annotations

import pytest

from everyline.book.misstep import Misstep, misstep
from everyline.derive import derive
from everyline.kernel import Checked, Equal, Refuted, SameDerivative, Setting, check
from everyline.notation import Context, parse_question, plain
from everyline.notation.build import substitute
from everyline.notation.question import Given, Question
from everyline.notation.tree import Name, Node

QUESTIONS = [
    r"\int 6x(x^2+5)^4 \, dx",
    r"\int (e^{3x} + 1)^2 \, dx",
    r"\int \frac{x^2}{x+4} \, dx",
    r"\int x \cos 5x \, dx",
    r"\int_1^4 (x + 3\sqrt{x}) \, dx",
]


def posed(text: str) -> Question:
    return parse_question(text, Given(), Context(log="natural"))


def with_slip(question: Question) -> Misstep:
    made = misstep(question, derive(question).routes[0].lines)
    assert made is not None
    return made


@pytest.mark.parametrize("text", QUESTIONS)
def test_exactly_one_line_is_wrong(text: str) -> None:
    question = posed(text)
    made = with_slip(question)
    before: Node = question.node
    meanings: dict[str, Node] = {}
    for number, line in enumerate(made.lines):
        if line.kind == "let" and isinstance(line.left, Name):
            meanings[line.left.name] = substitute(line.shown, meanings)
        if line.kind != "equal" or line.left is not None:
            continue
        setting = Setting(question.variable, None, Given(), tuple(meanings.items()))
        claim = SameDerivative(before, line.shown, setting) if question.kind == "indefinite" else Equal(before, line.shown, setting)
        assert isinstance(check(claim), Refuted if number == made.wrong else Checked), plain(line.shown)
        before = line.shown


@pytest.mark.parametrize("text", QUESTIONS)
def test_the_right_line_stands_ready_and_the_slip_is_told(text: str) -> None:
    question = posed(text)
    made = with_slip(question)
    assert made.right.shown in [line.shown for line in derive(question).routes[0].lines]
    assert isinstance(made.right.checked, Checked)
    assert made.lines[made.wrong].checked is None
    assert made.says.text


def test_a_solution_in_one_line_has_no_slip_to_find() -> None:
    question = posed(r"\int \sec^2 x \, dx")
    assert misstep(question, derive(question).routes[0].lines) is None


def test_a_line_that_goes_wrong_looks_as_a_hand_writes_it() -> None:
    """No fraction in a fraction: `u/(u^2/2)` for the integral of 1/u would give itself away."""
    question = posed(r"\int \frac{2x+3}{x^2+3x+7} \, dx")
    made = misstep(question, derive(question, methods=("substitution",)).routes[0].lines)
    assert made is None or "/(" not in plain(made.lines[made.wrong].shown)
