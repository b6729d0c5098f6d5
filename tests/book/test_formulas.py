"""The formula sheet: every formula is proved, and agrees with the published tables."""

from __future__ import annotations

import pytest

from everyline.book.formulas import Formula, Section, formula_sheet
from everyline.kernel import Checked
from everyline.notation import latex
from everyline.techniques.forms import integrands

SHEET = formula_sheet()
FORMULAS = {latex(formula.question.node): formula for section in SHEET for formula in section.formulas}


def test_the_sheet_has_every_standard_form_of_the_table_once() -> None:
    shown = [formula for section in SHEET for formula in section.formulas]
    assert len(shown) == len(FORMULAS)
    for node in integrands("x"):
        assert sum(getattr(formula.question.node, "integrand", None) == node for formula in shown) == 1, latex(node)


@pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS)
def test_a_formula_is_proved(formula: Formula) -> None:
    assert isinstance(formula.checked, Checked)
    assert formula.checked.grade == "proved"


#: NIST Digital Library of Mathematical Functions: derivatives 4.20, 4.24; integrals 4.26, 4.40, 1.4(iv), 4.10; limits 4.31.
PUBLISHED = {
    r"\int \sin x\,dx": r"-\cos x + C",
    r"\int \cos x\,dx": r"\sin x + C",
    r"\int \tan x\,dx": r"-\ln|\cos x| + C",
    r"\int \cot x\,dx": r"\ln|\sin x| + C",
    r"\int \sinh x\,dx": r"\cosh x + C",
    r"\int \tanh x\,dx": r"\ln(\cosh x) + C",
    r"\int a^{x}\,dx": r"\frac{a^{x}}{\ln a} + C",
    r"\int \frac{1}{\sqrt{1 - x^{2}}}\,dx": r"\arcsin x + C",
    r"\frac{d}{dx}[\tan x]": r"\sec^{2} x",
    r"\frac{d}{dx}[\csc x]": r"-\csc x\cot x",
    r"\frac{d}{dx}[\arctan x]": r"\frac{1}{1 + x^{2}}",
    r"\lim_{x \to 0} \frac{\sin x}{x}": "1",
    r"\lim_{x \to 0} \frac{1 - \cos x}{x^{2}}": r"\frac{1}{2}",
}


@pytest.mark.parametrize(("asked", "answer"), PUBLISHED.items(), ids=PUBLISHED)
def test_a_formula_is_the_published_one(asked: str, answer: str) -> None:
    assert latex(FORMULAS[asked].answer) == answer


def test_sections_say_what_is_assumed() -> None:
    powers: Section = next(section for section in SHEET if section.title == "Powers and exponentials")
    given = [[latex(condition) for condition in formula.question.given.conditions] for formula in powers.formulas]
    assert given == [["n > 0"], ["n > 1"], [], [], ["a > 1"]]
