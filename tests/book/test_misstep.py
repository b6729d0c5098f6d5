"""A solution with one slip in it: the checker refutes that line and no other, and what comes after it follows from it."""

from __future__ import annotations

from functools import cache

import pytest

from everyline.book.misstep import Misstep, misstep, third
from everyline.derive import derive
from everyline.kernel import Checked, Claim, Equal, IntegralValue, Refuted, SameDerivative, check
from everyline.notation import Context, parse_question, plain
from everyline.notation.build import without_constant
from everyline.notation.question import Given, Question
from everyline.notation.tree import Evaluation, Integral, Node

QUESTIONS = {
    "indefinite": (
        r"\int 6x(x^2+5)^4 \, dx", r"\int (e^{3x} + 1)^2 \, dx", r"\int \frac{x^2}{x+4} \, dx", r"\int x \cos 5x \, dx",
        r"\int \frac{x+5}{x^2+x-2} \, dx", r"\int (4x^3 - \sin x) \, dx",
    ),
    "definite": (
        r"\int_1^4 (x + 3\sqrt{x}) \, dx", r"\int_0^2 \frac{x}{x^2+4} \, dx", r"\int_0^{\pi} \sin^2 x \, dx",
        r"\int_1^{\infty} \frac{3}{x^4} \, dx", r"\int_0^3 |x-2| \, dx",
    ),
    "derivative": (
        r"\frac{d}{dx} (x^4 \sin 3x)", r"\frac{d}{dx} \frac{\ln x}{x^2}", r"\frac{d}{dx} (x^2+7)^6", r"\frac{d}{dx} e^{\tan x}",
        r"\frac{d}{dx} \sqrt{1+\cos 4x}",
    ),
    "limit": (
        r"\lim_{x \to 3} \frac{x^2-9}{x-3}", r"\lim_{x \to 0} \frac{1-\cos 2x}{x^2}", r"\lim_{x \to \infty} \frac{4x^2+x}{3x^2-8}",
        r"\lim_{x \to 0} \left(\frac{1}{x}-\frac{1}{\sin x}\right)",
    ),
}  # fmt: skip
EVERY = [text for texts in QUESTIONS.values() for text in texts]


def posed(text: str) -> Question:
    return parse_question(text, Given(), Context(log="natural"))


@cache
def with_slip(text: str) -> Misstep:
    question = posed(text)
    made = misstep(question, [route.lines for route in derive(question).routes])
    assert made is not None
    return made


@pytest.mark.parametrize("text", EVERY)
def test_exactly_one_line_is_wrong(text: str) -> None:
    made = with_slip(text)
    assert isinstance(check(made.refuted.claim), Refuted)
    assert made.lines[made.wrong].checked is None
    for number, line in enumerate(made.lines):
        if line.kind == "equal" and number != made.wrong:
            assert line.checked is not None
            assert isinstance(check(line.checked.claim), Checked), plain(line.shown)


@pytest.mark.parametrize("text", EVERY)
def test_what_comes_after_the_wrong_line_follows_from_it(text: str) -> None:
    """Each line is claimed of the one before it, so the error is carried on and none of them is a second one."""
    made = with_slip(text)
    before: Node = made.lines[made.wrong].shown
    for line in made.lines[made.wrong + 1 :]:
        if line.kind != "equal":
            continue
        assert line.checked is not None
        shown = line.shown.body if isinstance(line.shown, Evaluation) and line.left is not None else line.shown
        assert _claimed(line.checked.claim) == (before, shown)
        before = line.shown


def _claimed(claim: Claim) -> tuple[Node, Node]:
    """The two sides that a claim says are equal."""
    match claim:
        case SameDerivative(left=left, right=right) | Equal(left=left, right=right):
            return left, right
        case IntegralValue(integrand=integrand, lower=lower, upper=upper, value=value, setting=setting):
            return Integral(integrand, setting.variable, lower, upper), value
    raise AssertionError(claim)


@pytest.mark.parametrize("text", EVERY)
def test_the_right_line_stands_ready_and_the_slip_is_told(text: str) -> None:
    made = with_slip(text)
    assert isinstance(made.right.checked, Checked)
    assert made.right.shown != made.lines[made.wrong].shown
    assert made.says.text


@pytest.mark.parametrize("kind", QUESTIONS)
def test_slips_are_put_in_different_places(kind: str) -> None:
    found = [with_slip(text) for text in QUESTIONS[kind]]
    assert len({third(made.wrong, len(made.lines)) for made in found}) > 1


@pytest.mark.parametrize("text", EVERY[::4])
def test_a_second_run_makes_the_same(text: str) -> None:
    question = posed(text)
    assert misstep(question, [route.lines for route in derive(question).routes]) == with_slip(text)


def test_a_slip_in_an_antiderivative_is_carried_into_the_bracket_and_the_value() -> None:
    """It is found without its limits and put between them afterwards."""
    made = with_slip(r"\int_1^e x^4\ln x \, dx")
    place = next(number for number, line in enumerate(made.lines) if isinstance(line.shown, Evaluation))
    assert made.wrong < place
    assert made.lines[place].shown.body == without_constant(made.lines[place - 1].shown)  # type: ignore[attr-defined]


def test_a_solution_in_one_line_is_written_in_more() -> None:
    question = posed(r"\int (4x^3 - \sin x) \, dx")
    (line,) = derive(question).routes[0].lines
    made = misstep(question, [[line]])
    assert made is not None
    assert len(made.lines) > 1


def test_a_standard_form_has_no_slip_to_find() -> None:
    question = posed(r"\int \sec^2 x \, dx")
    assert misstep(question, [derive(question).routes[0].lines]) is None


def test_a_line_that_goes_wrong_looks_as_a_hand_writes_it() -> None:
    """No fraction in a fraction: `u/(u^2/2)` for the integral of 1/u would give itself away."""
    question = posed(r"\int \frac{2x+3}{x^2+3x+7} \, dx")
    made = misstep(question, [derive(question, methods=("substitution",)).routes[0].lines])
    assert made is not None
    assert "/(" not in plain(made.lines[made.wrong].shown)


def test_a_derivative_below_the_bar_stays_there() -> None:
    made = with_slip(r"\frac{d}{dx} \frac{\ln x}{x^2}")
    assert not any("^(-1)" in plain(line.shown) for line in made.lines)
