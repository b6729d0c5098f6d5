"""Formulas in two dimensions, as a terminal shows them. How a formula is laid out by hand: common practice, no source."""

from __future__ import annotations

import pytest

from everyline.notation import Context, parse, parse_question
from everyline.notation.layout import layout
from everyline.notation.question import Given

CONTEXT = Context(names=frozenset(("x", "n", "theta")), log="natural")

FORMULAS = {
    r"x^2+\frac{x-1}{x+3}": """
      x - 1
x² + ───────
      x + 3""",
    r"\frac{1}{2}x\sqrt{x^2+1}": """
 1    ______
───x √x² + 1
 2""",
    r"e^{2x}\sin^2 3x": """
 2x
e  sin² 3x""",
    r"\ln|x+1|-\frac{2}{3}\arctan\frac{x}{2}": """
             2          x
ln|x + 1| - ─── arctan ───
             3          2""",
    r"\sqrt[3]{\frac{x}{2}}": """
  ___
 │ x
 │───
³√ 2""",
    r"(x+1)^{-3/2}": """
       -3/2
(x + 1)""",
    r"\log_2 x": """
log  x
   2""",
    r"\left(\frac{x}{2}+1\right)^5": """
         5
⎛ x     ⎞
⎜─── + 1⎟
⎝ 2     ⎠""",
    r"3\cdot 2^x": """
   x
3·2""",
    r"-x^n-(x-1)": """
-xⁿ - (x - 1)""",
    r"\pi\theta^{10}": """
π θ¹⁰""",
}

QUESTIONS = {
    r"\int_0^{\pi/2} \frac{\sin x}{1+\cos x}\,dx": """
 π/2
⌠       sin x
⎮    ─────────── dx
⌡     1 + cos x
 0""",
    r"\int x^2 e^{-x}\,dx": """
⌠    -x
⌡ x²e   dx""",
    r"\int (6x-1)\,dx": """
∫ (6x - 1) dx""",
    r"\frac{d^2}{dx^2}(x^3\ln x)": """
  d²
─────[x³ln x]
 dx²""",
    r"\lim_{x\to \infty} x e^{-x}": """
        -x
 lim  xe
x → ∞""",
}


@pytest.mark.parametrize("text", FORMULAS)
def test_a_formula_is_laid_out(text: str) -> None:
    assert str(layout(parse(text, CONTEXT))) == FORMULAS[text].removeprefix("\n")


@pytest.mark.parametrize("text", QUESTIONS)
def test_a_question_is_laid_out(text: str) -> None:
    assert str(layout(parse_question(text, Given(), CONTEXT).node)) == QUESTIONS[text].removeprefix("\n")


@pytest.mark.parametrize("text", [*FORMULAS, *QUESTIONS])
def test_every_row_is_as_wide_as_the_others(text: str) -> None:
    node = parse(text, CONTEXT) if text in FORMULAS else parse_question(text, Given(), CONTEXT).node
    assert len({len(line) for line in layout(node).rows}) == 1
