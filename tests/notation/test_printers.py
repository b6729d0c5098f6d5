"""What readers see and hear: snapshots, looked at by eye (typography: common practice, no source)."""

from __future__ import annotations

import pytest

from everyline.notation import Context, latex, mathml, parse, plain, speech, words
from everyline.notation.build import add, call, divide, multiply, negate, power
from everyline.notation.question import Question
from everyline.notation.tree import ArbitraryConstant, Integral, Name, Node, Number

CONTEXT = Context(frozenset("xau") | {"theta", "x_1"}, log="natural")
APPLY, TIMES, THIN = "<mo>\u2061</mo>", "<mo>\u2062</mo>", '<mspace width="0.17em"/>'

SPOKEN = [
    (r"\int xe^x\,dx", "the integral of x times e to the x with respect to x", "Integral of x times e to the x"),
    (
        r"\int \frac{x}{x+3}\,dx",
        "the integral of the fraction x over x plus 3, end fraction with respect to x",
        "Integral of x over x plus 3",
    ),
    (r"\frac12x^2", "one half times x squared", "One half times x squared"),
    (r"\frac34x", "3 quarters times x", "3 quarters times x"),
    (r"ax^2 - 2x + 1", "a x squared minus 2 x plus 1", "A x squared minus 2 x plus 1"),
    (r"\sin^2 3x", "sine squared of 3 x", "Sin squared 3 x"),
    (r"\arctan x", "inverse tangent of x", "Arctan x"),
    (r"\ln|x+3| + C", "the natural logarithm of the absolute value of x plus 3, end absolute value plus C",
     "Ln the absolute value of x plus 3 plus C"),
    (r"\int_0^{\pi/2}\sqrt{x+1}\,dx", "the integral from 0 to pi over 2 of the square root of x plus 1, end root with respect to x",
     "Integral from 0 to pi over 2 of the square root of x plus 1"),
    (r"\lim_{x\to 0^+}\frac{\sin x}{x}", "the limit as x tends to 0 from the right of the fraction sine of x over x, end fraction",
     "Limit of sin x over x as x tends to 0 from the right"),
    (r"\frac{d^2}{dx^2}(x^3)", "the second derivative with respect to x of x cubed", "Second derivative of x cubed"),
    (r"\left[x^2\right]_0^1", "open bracket x squared close bracket evaluated from x equals 0 to 1",
     "X squared evaluated from x equals 0 to 1"),
    (r"(x+1)^{-2}", "open bracket x plus 1 close bracket to the power minus 2", "X plus 1 to the minus 2"),
    (r"x(x-1)", "x times open bracket x minus 1 close bracket", "X times x minus 1"),
    (r"x = 2\tan\theta", "x equals 2 times tangent of theta", "X equals 2 times tan theta"),
    ("does not exist", "does not exist", "Does not exist"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "said", "title"), SPOKEN, ids=[row[0] for row in SPOKEN])
def test_a_formula_is_said_so_that_the_ear_can_follow(text: str, said: str, title: str) -> None:
    tree = parse(text, CONTEXT)
    assert speech(tree) == said
    assert words(tree) == title


def test_a_question_has_plain_words_for_its_title() -> None:
    tree = parse(r"\int x\cos 3x\,dx", CONTEXT)
    assert isinstance(tree, Integral)
    assert words(Question(tree)) == "Integral of x times cos 3 x"


SET = [
    ("x^2", "<msup><mi>x</mi><mn>2</mn></msup>"),
    ("x_1", "<msub><mi>x</mi><mn>1</mn></msub>"),
    ("2πx", f"<mrow><mn>2</mn>{TIMES}<mi>π</mi>{TIMES}<mi>x</mi></mrow>"),
    ("2*3", "<mrow><mn>2</mn><mo>⋅</mo><mn>3</mn></mrow>"),
    ("-x - 1", '<mrow><mo form="prefix">−</mo><mi>x</mi><mo>−</mo><mn>1</mn></mrow>'),
    (r"\frac{1}{x}", "<mfrac><mn>1</mn><mi>x</mi></mfrac>"),
    (r"\sqrt{x}", "<msqrt><mi>x</mi></msqrt>"),
    (r"\sqrt[3]{x}", "<mroot><mi>x</mi><mn>3</mn></mroot>"),
    (r"\sin x", f"<mrow><mi>sin</mi>{APPLY}{THIN}<mi>x</mi></mrow>"),
    (r"\sin^2 x", f"<mrow><msup><mi>sin</mi><mn>2</mn></msup>{APPLY}{THIN}<mi>x</mi></mrow>"),
    (r"x\ln x", f"<mrow><mi>x</mi>{TIMES}{THIN}<mrow><mi>ln</mi>{APPLY}{THIN}<mi>x</mi></mrow></mrow>"),
    ("x^{3/2}", "<msup><mi>x</mi><mrow><mn>3</mn><mo>/</mo><mn>2</mn></mrow></msup>"),
    (r"\int x\,dx", f'<mrow><mo largeop="true">∫</mo><mi>x</mi>{THIN}<mrow><mi>d</mi><mi>x</mi></mrow></mrow>'),
    (
        r"\int_0^\infty 1\,dx",
        f'<mrow><msubsup><mo largeop="true">∫</mo><mn>0</mn><mi>∞</mi></msubsup><mn>1</mn>{THIN}<mrow><mi>d</mi><mi>x</mi></mrow></mrow>',
    ),
    (
        r"\lim_{x\to 0^-} x",
        '<mrow><munder><mo movablelimits="false">lim</mo><mrow><mi>x</mi><mo stretchy="false">→</mo>'
        f"<msup><mn>0</mn><mo>−</mo></msup></mrow></munder>{THIN}<mi>x</mi></mrow>",
    ),
    (r"\frac{du}{dx}", "<mfrac><mrow><mi>d</mi><mi>u</mi></mrow><mrow><mi>d</mi><mi>x</mi></mrow></mfrac>"),
]


@pytest.mark.parametrize(("text", "made"), SET, ids=[row[0] for row in SET])
def test_mathml_is_set_as_a_textbook_sets_it(text: str, made: str) -> None:
    tree = parse(text, CONTEXT)
    assert mathml(tree) == f'<math alttext="{speech(tree)}">{made}</math>'


def test_brackets_grow_only_where_what_is_inside_is_tall() -> None:
    assert 'stretchy="true"' in mathml(parse(r"\left(\frac{1}{x}\right)^2", CONTEXT))
    assert 'stretchy="true"' not in mathml(parse("(x+1)^2", CONTEXT))


X, ONE, TWO = Name("x"), Number(1), Number(2)
BUILT: list[tuple[Node, str, str, str]] = [
    (multiply(divide(ONE, TWO), power(X, 2)), r"\frac{1}{2}x^{2}", "1/2*x^2", "1/2*x^2"),
    (negate(multiply(TWO, X)), "-2x", "-2x", "-2*x"),
    (multiply(TWO, power(X, 2), call("sin", multiply(Number(3), X))), r"2x^{2}\sin 3x", "2x^2*sin(3x)", "2*x^2*sin(3*x)"),
    (add(power(call("sin", X), 2), ArbitraryConstant()), r"\sin^{2} x + C", "sin(x)^2 + C", "sin(x)^2 + C"),
    (multiply(call("sin", X), X), r"\sin x\,x", "sin(x)*x", "sin(x)*x"),
    (multiply(X, Number(2)), r"x\cdot 2", "x*2", "x*2"),
    (multiply(TWO, divide(ONE, Number(3))), r"2\cdot \frac{1}{3}", "2*(1/3)", "2*(1/3)"),
    (multiply(Name("p"), Name("i")), "p i", "p*i", "p*i"),
    (multiply(call("ln", TWO), X), r"\ln 2\cdot x", "ln(2)*x", "ln(2)*x"),
    (power(call("sin", X), negate(ONE)), r"(\sin x)^{-1}", "sin(x)^(-1)", "sin(x)^(-1)"),
]


@pytest.mark.parametrize(("tree", "tex", "typed", "full"), BUILT, ids=[row[1] for row in BUILT])
def test_built_trees_are_printed_so_that_they_are_read_back(tree: Node, tex: str, typed: str, full: str) -> None:
    assert (latex(tree), plain(tree), plain(tree, every_operator=True)) == (tex, typed, full)


@pytest.mark.parametrize(
    ("text", "full"),
    [
        (r"\sqrt[3]{x}", "x^(1/3)"),
        (r"\log_2 x", "ln(x)/ln(2)"),
        (r"2\pi|x|", "2*pi*abs(x)"),
        (r"xe^{-2x}", "x*e^(-2*x)"),
        (r"\tan^{-1}x", "arctan(x)"),
    ],
)
def test_with_every_operator_only_common_functions_are_used(text: str, full: str) -> None:
    assert plain(parse(text, CONTEXT), every_operator=True) == full
