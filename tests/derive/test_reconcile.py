"""Answers that look different: the lines from one to the other, and the constant, or one constant for each interval."""

from __future__ import annotations

import pytest

from everyline.derive.reconcile import reconcile
from everyline.kernel import Checked
from everyline.notation import Context, parse, parse_given, parse_question, plain
from everyline.notation.question import Given

#: question, what is given, two answers, their difference by interval (common practice, no source)
PAIRS = {
    "brackets": (r"\int 4x(x^2+7) \, dx", "", "(x^2+7)^2", "x^4+14x^2", {"": "49"}),
    "a letter": (r"\int 2(s+b) \, ds", "b a real number", "(s+b)^2", "s^2+2bs", {"": "b^2"}),
    "another variable": (r"\int \sin t\cos t \, dt", "", r"\frac{\sin^2 t}{2}", r"-\frac{\cos 2t}{4}", {"": "1/4"}),
    "a Greek variable": (r"\int \sec^2\theta\tan\theta \, d\theta", "", r"\frac{\tan^2\theta}{2}", r"\frac{\sec^2\theta}{2}", {"": "-1/2"}),
    "a letter inside": (r"\int \frac{1}{\sqrt{a^2-x^2}} \, dx", "a > 0", r"\arcsin\frac{x}{a}", r"-\arccos\frac{x}{a}", {"": "pi/2"}),
    "a letter in a logarithm": (r"\int \frac{1}{y} \, dy", "b > 0", r"\ln|y|", r"\ln|\frac{y}{b}|", {"": "ln(|b|)"}),
    "strange numbers": (r"\int \sec x\csc x \, dx", "", r"\ln|\tan\frac{x}{2}|-\ln|\tan\frac{x}{2}+1|-\ln|\tan\frac{x}{2}-1|",
                        r"\ln|\tan x|", {"": "-ln(2)"}),
    "half a logarithm": (r"\int \frac{1}{x} \, dx", "", r"\frac{1}{2}\ln(3x^2)", r"\ln|x|", {"": "1/2*ln(3)"}),
    "a letter above": (r"\int e^{kx} \, dx", "k > 0", r"\frac{e^{kx}}{k}", r"\frac{e^{kx}-1}{k}", {"": "1/k"}),
    "logarithms": (r"\int \frac{1}{x} \, dx", "", r"\ln|5x|", r"\ln|x|", {"": "ln(5)"}),
    "bars or none": (r"\int x\ln(x-1) \, dx", "", r"\frac{x^2-1}{2}\ln(x-1)-\frac{x^2}{4}-\frac{x}{2}",
                     r"\frac{x^2-1}{2}\ln|x-1|-\frac{x^2}{4}-\frac{x}{2}+3", {"": "-3"}),
    "inverse functions": (r"\int \frac{-2}{1+x^2} \, dx", "", r"2\arccot x", r"-2\arctan x", {"": "pi"}),
    "two intervals": (r"\int \frac{1}{x^2+1} \, dx", "", r"\arctan x", r"-\arctan\frac{1}{x}", {"x < 0": "-pi/2", "x > 0": "pi/2"}),
    "two intervals and a letter": (r"\int \frac{1}{t^2+a^2} \, dt", "a > 0", r"\frac{1}{a}\arctan\frac{t}{a}",
                                   r"-\frac{1}{a}\arctan\frac{a}{t}",
                                   {"t < 0": "-pi/(2a)", "t > 0": "pi/(2a)"}),
    "parted elsewhere": (r"\int \frac{1}{(x-3)^2} \, dx", "", r"-\frac{1}{x-3}", r"-\frac{1}{x-3}+\frac{x-3}{|x-3|}",
                         {"x < 3": "1", "x > 3": "-1"}),
    "again and again": (r"\int \csc x \, dx", "", r"\ln|\tan\frac{x}{2}|", r"-\ln|\csc x+\cot x|", {"": "0"}),
}  # fmt: skip


@pytest.mark.parametrize("name", PAIRS)
def test_two_answers_are_brought_together(name: str) -> None:
    text, letters, first, second, differences = PAIRS[name]
    context = Context(log="natural")
    question = parse_question(text, parse_given(letters, context) if letters else Given(), context)
    a, b = (parse(answer, context.of(question), answer=True) for answer in (first, second))
    found = reconcile(question, a, b)
    assert found is not None
    turned = found.first == b
    wanted = {place: f"-({value})" if turned else value for place, value in differences.items()}
    said = {plain(place) if place else "": value for place, value in found.constants}
    assert said.keys() == wanted.keys()
    for place, value in wanted.items():
        assert plain(said[place]) in (value, plain(parse(value, context.of(question)))) or _same(said[place], value, context.of(question))
    assert all(isinstance(line.checked, Checked) for line in found.lines)
    assert found.lines[-1].shown != found.first


def _same(found: object, wanted: str, context: Context) -> bool:
    from everyline.algebra import tidy

    return tidy(found) == tidy(parse(wanted, context))  # type: ignore[arg-type]


def test_the_algebra_is_written_line_by_line() -> None:
    question = parse_question(r"\int \sin t\cos t \, dt", Given(), Context())
    a, b = (parse(answer, Context().of(question)) for answer in (r"\frac{\sin^2 t}{2}", r"-\frac{\cos 2t}{4}"))
    found = reconcile(question, a, b)
    assert found is not None
    assert [plain(line.shown) for line in found.lines] == ["(1/2 - 1/2*cos(2t))/2", "1/4 - 1/4*cos(2t)", "-cos(2t)/4 + 1/4"]


def test_terms_in_another_order_are_no_other_answer() -> None:
    question = parse_question(r"\int (2x+\cos x) \, dx", Given(), Context())
    a, b = (parse(answer, Context().of(question)) for answer in (r"x^2+\sin x", r"\sin x+x^2"))
    assert reconcile(question, a, b) is None
