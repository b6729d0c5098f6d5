"""Questions, domains and assumptions as problem files write them (issue wording; common practice, no source)."""

from __future__ import annotations

import pytest

from everyline.notation import Context, NotationError, latex, parse, parse_domain, parse_given, parse_question, plain
from everyline.notation.question import Given

QUESTIONS = [
    (r"\int \frac{x}{x+3} \, dx", "indefinite", "x", r"\int \frac{x}{x + 3}\,dx"),
    (r"\int (x^2) dx", "indefinite", "x", r"\int x^{2}\,dx"),
    (r"\int_{0}^{1} (x^2+1) dx", "definite", "x", r"\int_{0}^{1} (x^{2} + 1)\,dx"),
    (r"\int \sin ax\,dx", "indefinite", "x", r"\int \sin ax\,dx"),
    (r"\frac{d}{dx} (x^2)", "derivative", "x", r"\frac{d}{dx}[x^{2}]"),
    (r"\frac{d}{dx} x^2+3x", "derivative", "x", r"\frac{d}{dx}[x^{2} + 3x]"),
    (r"\frac{d^2}{dt^2} (t^3)", "derivative", "t", r"\frac{d^{2}}{dt^{2}}[t^{3}]"),
    ("d/dx (x*sin(x))", "derivative", "x", r"\frac{d}{dx}[x\sin x]"),
    (r"\lim_{x \to 0} (\sin(x)/x)", "limit", "x", r"\lim_{x \to 0} \frac{\sin x}{x}"),
    (
        r"\lim_{x\to 1^+} \frac{1}{\ln x} - \frac{1}{x-1}",
        "limit",
        "x",
        r"\lim_{x \to 1^{+}} \left(\frac{1}{\ln x} - \frac{1}{x - 1}\right)",
    ),
    (r"\lim_{t\to\infty} (1+\frac1t)^t", "limit", "t", r"\lim_{t \to \infty} \left(1 + \frac{1}{t}\right)^{t}"),
]


@pytest.mark.parametrize(("text", "kind", "variable", "set"), QUESTIONS, ids=[q[0] for q in QUESTIONS])
def test_a_question_declares_its_own_variable(text: str, kind: str, variable: str, set: str) -> None:
    question = parse_question(text, parse_given("a > 0", Context()), Context())
    assert (question.kind, question.variable, latex(question.node)) == (kind, variable, set)
    for written in (latex(question.node), plain(question.node)):
        assert parse_question(written, question.given, Context()) == question


@pytest.mark.parametrize(
    ("text", "code", "says"),
    [
        ("x^2", "question", "no integral, derivative or limit"),
        (r"\int x^2", "differential", "no dx"),
        (r"\int_0^1 \frac{1}{t}", "differential", "no dx"),
        (r"\int 3", "differential", "no dx"),
        ("Find the integral of x^2", "question", "“Find” is a word"),
        (r"Evaluate: \int x^2 dx", "question", "“Evaluate” is a word"),
        (r"\int x^2 dx =", "question", "before its equals sign"),
        (r"$\int x^2 dx = $", "question", "before its equals sign"),
        (r"\int x\,dx + 1", "question", "no integral, derivative or limit"),
        (r"\int 1/2x dx", "ambiguous", "under the slash"),
        (r"\int bx\,dx", "undeclared", "“b” is not declared"),
        (r"\int sinn x\,dx", "undeclared", "“sinn” is not known"),
        (r"\int a\,da", "question", "a is a parameter here"),
    ],
)
def test_what_is_no_question_is_refused(text: str, code: str, says: str) -> None:
    with pytest.raises(NotationError, match=says) as caught:
        parse_question(text, parse_given("a > 0", Context()), Context())
    assert caught.value.code == code
    assert caught.value.help or caught.value.readings


DOMAINS = [
    ("(0, infinity)", "(0, infinity)"),
    ("(0, oo)", "(0, infinity)"),
    (r"(0, \infty)", "(0, infinity)"),
    ("(0, ∞)", "(0, infinity)"),
    ("[0, oo]", "[0, infinity)"),
    ("(-infinity, -1) or (1, infinity)", "(-infinity, -1) or (1, infinity)"),
    ("(-oo, 0) U (0, oo)", "(-infinity, 0) or (0, infinity)"),
    ("(-oo, 0) ∪ (0, oo)", "(-infinity, 0) or (0, infinity)"),
    (r"(-\infty, 1) \cup (2, \infty)", "(-infinity, 1) or (2, infinity)"),
    ("(1, oo) or (-oo, -1)", "(-infinity, -1) or (1, infinity)"),
    ("[0, 1]", "[0, 1]"),
    ("[0; 1)", "[0, 1)"),
    ("]0, 1[", "(0, 1)"),
    ("(-pi/2, pi/2)", "(-pi/2, pi/2)"),
    ("(-sqrt(10), sqrt(17))", "(-sqrt(10), sqrt(17))"),
    ("x > 0", "(0, infinity)"),
    ("0 < x", "(0, infinity)"),
    ("x <= 1", "(-infinity, 1]"),
    ("0 < x <= 1", "(0, 1]"),
    ("x != 0", "(-infinity, 0) or (0, infinity)"),
    ("x ≠ 0", "(-infinity, 0) or (0, infinity)"),
    ("x > 0 and x != 1", "(0, 1) or (1, infinity)"),
    ("x > 0, x != 1", "(0, 1) or (1, infinity)"),
    ("x < -1 or x > 1", "(-infinity, -1) or (1, infinity)"),
    ("x < 1 or x > 0", "(-infinity, infinity)"),
    ("|x| < 2", "(-2, 2)"),
    ("|x| > 1", "(-infinity, -1) or (1, infinity)"),
    ("x > a", "(a, infinity)"),
]


@pytest.mark.parametrize(("text", "region"), DOMAINS, ids=[d[0] for d in DOMAINS])
def test_a_domain_is_brought_to_intervals_from_left_to_right(text: str, region: str) -> None:
    context = Context(frozenset("a"), log="natural")
    assert plain(parse_domain(text, "x", context)) == region
    assert parse_domain(region, "x", context) == parse_domain(text, "x", context)


@pytest.mark.parametrize(
    "text", ["", "(1, 0)", "(0, 1", "x", "x > 0 and x < 0", "2x > 1", "x > y", "(x, 1)", "x > 0 or", "(0, 1) (2, 3)", "x > 1/2a"]
)
def test_what_is_no_domain_is_refused(text: str) -> None:
    with pytest.raises(NotationError) as caught:
        parse_domain(text, "x", Context(frozenset("a"), log="natural"))
    assert 0 <= caught.value.start <= caught.value.end <= max(1, len(text))


GIVENS = [
    ("a > 0", ["a"], [], ["a > 0"]),
    ("a > 0, n a positive integer", ["a", "n"], ["n"], ["a > 0", "n > 0"]),
    ("a, b real", ["a", "b"], [], []),
    ("a, b > 0", ["a", "b"], [], ["a > 0", "b > 0"]),
    ("a != b", ["a", "b"], [], ["a != b"]),
    ("n an integer, n != -1", ["n"], ["n"], ["n != -1"]),
    ("m, n positive integers, m != n", ["m", "n"], ["m", "n"], ["m > 0", "n > 0", "m != n"]),
    ("b^2 - 4a < 0", ["b", "a"], [], ["b^2 - 4a < 0"]),
    ("b^2 < 4ac, a > 0", ["b", "a", "c"], [], ["b^2 < 4a*c", "a > 0"]),
    ("0 < a < b", ["a", "b"], [], ["0 < a", "a < b"]),
    ("a is positive and b is real", ["a", "b"], [], ["a > 0"]),
    (r"\omega > 0", ["omega"], [], ["omega > 0"]),
    ("ω > 0", ["omega"], [], ["omega > 0"]),
    ("a nonzero", ["a"], [], ["a != 0"]),
    ("a ≠ 0", ["a"], [], ["a != 0"]),
    (r"a \ge 1", ["a"], [], ["a >= 1"]),
    ("k", ["k"], [], []),
]


@pytest.mark.parametrize(("text", "names", "whole", "conditions"), GIVENS, ids=[g[0] for g in GIVENS])
def test_assumptions_declare_the_parameters_they_name(text: str, names: list[str], whole: list[str], conditions: list[str]) -> None:
    given = parse_given(text, Context())
    assert [p.name for p in given.parameters] == names
    assert [p.name for p in given.parameters if p.integer] == whole
    assert [plain(c) for c in given.conditions] == conditions


@pytest.mark.parametrize("text", ["", "foo bar", "a is prime", "a = 1", "a >", "e > 0 , e real", "2", "a > 1/2b"])
def test_what_is_no_assumption_is_refused_with_its_place(text: str) -> None:
    with pytest.raises(NotationError) as caught:
        parse_given(text, Context())
    assert 0 <= caught.value.start <= caught.value.end <= max(1, len(text))


def test_errors_in_an_answer_are_placed_in_the_whole_text() -> None:
    with pytest.raises(NotationError) as caught:
        parse("F(x) = x + b", Context(frozenset("x")), answer=True)
    assert (caught.value.start, caught.value.end) == (11, 12)


def test_a_context_of_a_question_knows_its_parameters() -> None:
    question = parse_question(r"\int \sin tx\,dx", parse_given("t > 0", Context()), Context())
    context = Context().of(question)
    assert plain(parse(r"\cos tx", context)) == "cos(t*x)"
    with pytest.raises(NotationError, match="argument"):
        parse(r"\cos xt", context)
    assert question.given != Given()


def test_with_many_doubtful_places_one_way_is_taken_throughout() -> None:
    from everyline.notation import readings

    text = " + ".join(f"1/{n}x^{n}" for n in range(2, 9))
    assert [plain(tree)[:8] for tree in readings(text, Context(frozenset("x")))] == ["1/2*x^2 ", "1/(2x^2)"]
