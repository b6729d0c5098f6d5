"""Families: what is dealt is proved, reads as a teacher writes it, and none of it degenerates; what is wrong is named with its numbers."""

from __future__ import annotations

import contextlib
import random
import re
from fractions import Fraction

import mpmath
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from numeric import function, value
from varied import CONVENTIONS, FAMILIES, family

from everyline.book import Family, Instance, Job, examine
from everyline.book.families import read_template
from everyline.book.family import DEALT, LEAST, Template, Wrong, instances
from everyline.book.neat import neat
from everyline.diagnostics import Diagnostic, told
from everyline.kernel import Checked, Refuted
from everyline.notation import Context, latex, parse, plain
from everyline.notation.build import numbers
from everyline.notation.tree import Integral, Node


def dealt(name: str, count: int) -> Family:
    template = read_template(Job(family(*FAMILIES[name]), CONVENTIONS))
    assert isinstance(template, Template)
    made = instances(template, CONVENTIONS, count=count)
    assert not isinstance(made, Wrong)
    return made


def faults(question: str, key: str, vary: str, more: str = "", prose: str = "") -> tuple[Diagnostic, ...]:
    return examine(Job(family(question, key, vary, more, prose), CONVENTIONS)).diagnostics


@pytest.mark.parametrize("name", FAMILIES)
def test_every_instance_is_proved_and_right_by_another_programs_arithmetic(name: str) -> None:
    made = dealt(name, 14)
    assert len(made.instances) == 14
    for each in made.instances:
        outcomes = [verdict.outcome for verdict in each.keys]
        assert all(isinstance(o, Checked) and o.grade == "proved" for o in outcomes)
        assert_right(each)
        assert_well_written(each)


def assert_right(made: Instance) -> None:
    """The key differentiated (or the integral worked out) numerically by mpmath, at points where both have a real value."""
    node, key = made.question.node, made.keys[0].tree
    assert isinstance(node, Integral)
    assert key is not None
    integrand, answer = function(node.integrand), function(key)
    if node.lower is not None and node.upper is not None:
        assert mpmath.almosteq(mpmath.quad(integrand, [value(node.lower, {}), value(node.upper, {})]), value(key, {}), 1e-12)
        return
    compared = 0
    for point in (mpmath.mpf(2) / 7, mpmath.mpf(19) / 7, mpmath.mpf(61) / 9):
        with contextlib.suppress(ValueError):
            assert mpmath.almosteq(integrand(point), mpmath.diff(answer, point), 1e-9, 1e-9)
            compared += 1
    assert compared


def assert_well_written(made: Instance) -> None:
    """What no teacher writes (common practice, no source): 1x, + -3, a zero term, the powers 0 and 1, something over 1."""
    assert made.question is not None
    for tree in (made.question.node, *(verdict.tree for verdict in made.keys)):
        assert tree is not None
        text = re.sub(r"_\{[^{}]*\}\^\{[^{}]*\}", "", latex(tree))
        assert not re.search(r"(?<![\d.{/])1\s*(?:x|\\(?:sin|cos|ln|arctan|sqrt|left))", text), text
        assert not re.search(r"[+-]\s*-|\+\s*0(?!\d)|(?<!\d)0x|\^\{?[01]\}?(?!\d)|\}\{1\}", text), text


def test_the_same_file_deals_the_same_instances_and_the_first_are_lighter_than_the_last() -> None:
    first, second = dealt("brackets", 40), dealt("brackets", 40)
    assert first == second
    weights = [each.weight for each in first.instances]
    assert sum(weights[:10]) < sum(weights[-10:])
    assert len({each.question for each in first.instances}) == 40


LINE_TIMES = (r"\int (x + b)e^{ax} \, dx", r"\left(\frac{x + b}{a} - \frac{1}{a^2}\right)e^{ax} + C", "{a: 2..6, b: 1..6}")
BY_HAND = "```lines\n= \\int (x^2 + bx) \\, dx\n= \\frac{x^3}{3} + \\frac{bx^2}{2} + C\n```\n"


SQUARES = (r"\int \frac{2ac}{x^2 - a^2} \, dx", r"c\ln|x - a| - c\ln|x + a| + C", "{a: 2..8, c: 1..4}")


@pytest.mark.parametrize(("asked", "method"), [(LINE_TIMES, "parts"), (SQUARES, "partial-fractions")])
def test_every_dealt_question_has_a_worked_solution_by_the_first_ones_method(asked: tuple[str, str, str], method: str) -> None:
    """Each line proved, lines to fill in whose own part fits, and a slip that the kernel refutes."""
    found = examine(Job(family(*asked, f"methods: [{method}]\n"), CONVENTIONS))
    assert found.family is not None
    assert found.work is not None
    for made in found.family.instances[1:]:
        work = made.work
        assert work is not None
        assert work.method == found.work.method == method
        assert all(isinstance(line.checked, Checked) for line in work.lines if line.kind == "equal")
        assert numeric_gap(made, work.lines[-1].shown) < 1e-12
        assert len(work.blanks) >= 2
        assert work.misstep is not None
        assert isinstance(work.misstep.refuted, Refuted)


def numeric_gap(made: Instance, answer: Node) -> float:
    """How far the derivative of an answer is from the integrand at a point, by mpmath."""
    node = made.question.node
    assert isinstance(node, Integral)
    return float(abs(mpmath.diff(function(answer), mpmath.mpf(2) / 7) - function(node.integrand)(mpmath.mpf(2) / 7)))


def test_an_authors_own_lines_are_dealt_with_the_numbers() -> None:
    found = examine(Job(family(r"\int x(x + b) \, dx", r"\frac{x^3}{3} + \frac{bx^2}{2} + C", "{b: 2..20}", prose=BY_HAND), CONVENTIONS))
    assert found.family is not None
    for made in found.family.instances[1:]:
        assert made.work is not None
        assert made.work.method == ""
        assert numeric_gap(made, made.work.lines[-1].shown) < 1e-12


@pytest.mark.parametrize(
    ("question", "key", "vary", "reason", "example"),
    [
        (r"\int (ax + b) \, dx", r"\frac{a}{2}x^2 + bx + C", "{a: -9..9, b: -2..2}", "a part of the question vanishes", "a"),
        (r"\int x^n \, dx", r"\frac{x^{n+1}}{n+1} + C", "{n: -15..15}", "something is divided by zero", "n"),
        (r"\int \frac{1}{x^2 + ax + b} \, dx", r"\frac{2}{\sqrt{4b - a^2}}\arctan\frac{2x + a}{\sqrt{4b - a^2}} + C",
         "{a: -6..6, b: 1..12, where: a^2 <= 4b}", "something is divided by zero", "a"),
        (r"\int \frac{ax + b}{c} \, dx", r"\frac{a}{2c}x^2 + \frac{b}{c}x + C", "{a: 2..9, b: 1..9, c: 2..9}",
         "a fraction is not in lowest terms", "c"),
        (r"\int x(x + a)(x + b) \, dx", r"\frac{x^4}{4} + \frac{a + b}{3}x^3 + \frac{ab}{2}x^2 + C", "{a: 1..9, b: 1..9}",
         "two parts become the same", "a"),
        (r"\int_a^b 2x \, dx", r"b^2 - a^2", "{a: 1..5, b: 1..5}", "the limits are the same", "a"),
        (r"\int ax^n \, dx", r"\frac{a}{n+1}x^{n+1} + C", "{a: 99..140, n: 2..9}", "the numbers grow too large", "a"),
    ],
)  # fmt: skip
def test_what_degenerates_is_left_out_with_its_reason(question: str, key: str, vary: str, reason: str, example: str) -> None:
    made = examine(Job(family(question, key, vary), CONVENTIONS)).family
    if made is None:
        said = faults(question, key, vary)
        assert [d.code for d in said] == ["family-too-few"]
        assert any(reason in told(note) for note in said[0].notes)
        return
    left_out = {each.reason: each for each in made.skipped}
    assert reason in left_out
    assert example in dict(left_out[reason].example)


def test_an_instance_that_a_teacher_would_work_otherwise_is_left_out() -> None:
    """With b = 2a the top is the derivative of the bottom's square root away from being a whole derivative: x/(x² + 1) needs no split."""
    problem = family(
        r"\int \frac{ax + b}{x^2 + 1} \, dx", r"\frac{a}{2}\ln(x^2 + 1) + b\arctan x + C", "{a: 0..6, b: 1..6}", "methods: [splitting]\n"
    )
    made = examine(Job(problem, CONVENTIONS)).family
    assert made is not None
    assert all(dict(each.values)["a"] for each in made.instances)


def test_a_key_that_is_right_for_some_numbers_only_is_wrong_and_says_for_which() -> None:
    said = faults(r"\int (ax + 1)^2 \, dx", r"\frac{(ax + 1)^3}{3} + C", "{a: 1..20}")
    assert said[0].code == "key-wrong"
    assert re.search(r"This is the question with a = \d+\.", told(said[0].notes[-1]))
    assert (said[0].labels[0].span.start.line, said[0].labels[0].span.start.column) == (3, 7)


def test_a_hand_written_line_that_fails_for_some_numbers_is_named() -> None:
    good = "```lines\n= \\frac{(ax + b)^3}{3a} + C\n```\n"
    vary = "{a: 2..6, b: 1..6}"
    assert faults(r"\int (ax + b)^2 \, dx", r"\frac{(ax + b)^3}{3a} + C", vary, prose=good) == ()
    wrong = "```lines\nlet u = ax + b\ndu = 2 dx\n= \\frac{u^3}{3a} + C\n```\n"
    said = faults(r"\int (ax + b)^2 \, dx", r"\frac{(ax + b)^3}{3a} + C", vary, prose=wrong)
    assert said[0].code == "line-wrong"
    assert "This is the question with a = " in told(said[0].notes[-1])


@pytest.mark.parametrize(
    ("vary", "code", "said"),
    [
        ("{a: 2..9, b: 1..3, where: a > c}", "formula-unreadable", "“c” is no letter of this family."),
        ("{a: 2..9, k: 1..3}", "vary-unused", "does not hold the letter `k`"),
        ("{a: 2..4}", "family-too-few", "Only 3 of the 12 questions"),
    ],
)
def test_a_family_that_cannot_be_dealt_says_why(vary: str, code: str, said: str) -> None:
    found = faults(r"\int \cos ax \, dx", r"\frac{\sin ax}{a} + C", vary)
    if "b:" in vary:
        found = faults(r"\int \cos(ax + b) \, dx", r"\frac{\sin(ax + b)}{a} + C", vary)
    assert found[0].code == code
    assert said in told(found[0].headline)


def test_the_page_is_the_nicest_instance_and_its_words_have_the_numbers() -> None:
    problem = family(
        r"\int \frac{1}{(ax + b)^2} \, dx", r"-\frac{1}{a(ax + b)} + C", "{a: 2..6, b: -5..5 except 0}",
        "title: A bracket with $ax + b$\nhints: ['Divide by $a$.', 'Let $u = ax + b$.']\n", "The number $b$ and the name $u$.",
    )  # fmt: skip
    found = examine(Job(problem, CONVENTIONS))
    assert found.family is not None
    assert found.file == problem
    assert len(found.family.instances) == DEALT >= LEAST
    first = found.family.instances[0]
    assert (found.question, found.problem) == (first.question, first.problem)
    a, b = (dict(first.values)[letter] for letter in "ab")
    line = f"{a}x {'-' if b < 0 else '+'} {abs(b)}"
    assert found.problem.title is not None
    assert found.problem.title.value == f"A bracket with ${line}$"
    assert [hint.value for hint in found.problem.hints] == [f"Divide by ${a}$.", f"Let $u = {line}$."]
    assert found.problem.prose == f"The number ${b}$ and the name $u$."
    assert found.derivation is not None
    assert found.derivation.routes


TEMPLATES = (
    "(ax + b)^3", "ax^2 - bx + ab", "x - (-a)x + b", "a - bx", "(a + b)x/a",
    "b(x/a) + 2a", "(a - x)(b - ax)", "x^2/(a^2 + 1) - b/3", "-a(bx - 3)",
)  # fmt: skip
A, B, X = some.integers(-6, 6), some.integers(-6, 6), some.fractions(min_value=-3, max_value=3, max_denominator=7)


@given(A, B, X, some.sampled_from(TEMPLATES))
@settings(max_examples=150, deadline=None)
def test_neat_writing_changes_no_value(a: int, b: int, x: Fraction, template: str) -> None:
    tree = parse(template, Context(names=frozenset("abx"), parameters=frozenset("ab")))
    raw = template.replace("^", "**").replace("ab", "a*b").replace("ax", "a*x").replace("bx", "b*x").replace("2a", "2*a")
    raw = re.sub(r"([ab)x])\(", r"\1*(", raw).replace(")x", ")*x")
    try:
        wanted = eval(raw, {"__builtins__": {}}, {"a": Fraction(a), "b": Fraction(b), "x": x})
    except ZeroDivisionError:
        with pytest.raises(ZeroDivisionError):
            neat(tree, numbers({"a": a, "b": b}))
        return
    made = plain(neat(tree, numbers({"a": a, "b": b})), every_operator=True).replace("^", "**")
    assert eval(re.sub(r"\d+", r"F(\g<0>)", made), {"__builtins__": {}}, {"F": Fraction, "x": x}) == wanted


def test_a_large_family_is_sampled_without_looking_at_all_of_it() -> None:
    random.seed(0)  # nothing here depends on the global source of chance
    problem = family(
        r"\int (ax^3 + bx^2 + cx) \, dx", r"\frac{a}{4}x^4 + \frac{b}{3}x^3 + \frac{c}{2}x^2 + C", "{a: 1..150, b: 1..150, c: 1..150}"
    )
    made = examine(Job(problem, CONVENTIONS)).family
    assert made is not None
    assert made.looked_at <= 600
