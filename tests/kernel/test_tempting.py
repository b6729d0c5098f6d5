"""Claims that tempt a checker: right in most places, right as germs, right up to tiny features. From the trade's folklore:
`common practice, no source` unless noted."""

from __future__ import annotations

import pytest

from everyline.book.rows import prove
from everyline.kernel import Checked, Equal, IntegralValue, Refuted, Setting, check, question_claim
from everyline.notation import Context, parse, parse_domain, parse_question
from everyline.notation.question import Given

WRONG = [
    # what is wrong only where a root or an absolute value changes its branch
    ("sqrt(1+sin(x))", "2(sin(x/2)-cos(x/2))", None),
    ("sqrt(1+sin(x))", "-2sqrt(1-sin(x))", None),
    ("sqrt(x^2)", "x^2/2", "[-2, 2]"),
    ("abs(sin(x))", "-cos(x)", None),
    ("abs(x-1)+abs(x+1)", "x^2", None),
    ("sqrt(cos(x)^2)", "sin(x)", None),
    ("sqrt(1-cos(2x))", "-sqrt(2)*cos(x)", None),
    ("arctan(tan(x))", "x^2/2", None),
    # what is wrong only far away, or only on a sliver
    ("abs(x-10^30)", "10^30*x-x^2/2", None),
    ("abs(x^2-10^8)", "x^3/3-10^8*x", None),
    ("abs(sin(x)+99/100)", "99/100*x-cos(x)", None),
    ("abs(sin(x)+9999999/10000000)", "9999999/10000000*x-cos(x)", None),
    # what is wrong by almost nothing
    ("sin(x)+10^(-60)*x", "-cos(x)", None),
    ("sin(x)", "-cos(x)+10^(-1000)*x", None),
    # what has no value where it should
    ("1/x", "ln(x)", None),
    ("1/sqrt(x^2-1)", "arcosh(x)", None),
    ("1/(x*ln(x))", "ln(ln(x))", None),
    # right keys (see RIGHT) with a kink just before the end of their domain: 1/e = 0.36788, tan x = 5, e = 2.71828
    ("3*sqrt(1+ln(x))/x", "2(1+ln(x))^(3/2)+abs(x-92/250)+x", None),
    ("sec(x)^2/sqrt(5-tan(x))", "-2sqrt(5-tan(x))+abs(tan(x)-49999/10000)+tan(x)", None),
    ("1/(x*sqrt(1-ln(x)^2))", "arcsin(ln(x))+abs(x-27182/10000)+x", None),
    # a bare number on one side
    ("sin(x)^20", "x", None),
    ("sqrt(x+sqrt(x))", "x", None),
]

#: A sliver far narrower than the boxes, on which the integrand is defined and a logarithm or root of the key is not.
SLIVERS = [
    ("cos(x)/(sin(x)+9999999/10000000)", "ln(sin(x)+9999999/10000000)", None),
    ("cos(x)", "sin(x)+sqrt(sin(x)+9999999/10000000)-sqrt(sin(x)+9999999/10000000)", None),
    ("-sin(x)/(cos(x)+999999/1000000)", "ln(cos(x)+999999/1000000)", None),
]

RIGHT = [
    ("sqrt(1+sin(x))", "2(sin(x/2)-cos(x/2))", "(-pi/2, 3pi/2)"),
    ("sqrt(1+sin(x))", "-2sqrt(1-sin(x))", "(-pi/2, pi/2)"),
    ("sqrt(x^2)", "x*abs(x)/2", None),
    ("sqrt(x^2-2x+1)", "(x-1)*abs(x-1)/2", None),
    ("1/(1-sin(x))", "tan(x)+sec(x)", None),
    ("abs(sin(x)+1/2)", "x/2-cos(x)", "(-pi/6, 7pi/6)"),
    ("x^(1/3)", "3/4*x^(4/3)", None),
    ("sec(x)", "1/2*ln|(1+sin(x))/(1-sin(x))|", None),
    ("1/cosh(x)", "2arctan(tanh(x/2))", None),
    ("1/cosh(x)", "arctan(sinh(x))", None),
    ("x*arcsin(x)", "x^2/2*arcsin(x)+arccos(x)/4+x*sqrt(1-x^2)/4", None),
    ("2x*sin(1/x)-cos(1/x)", "x^2*sin(1/x)", None),
    ("(1+x)^100", "(1+x)^101/101", None),
    # roots around what is unbounded at an end of the domain, or has poles
    ("3*sqrt(1+ln(x))/x", "2(1+ln(x))^(3/2)", None),
    ("sec(x)^2/sqrt(5-tan(x))", "-2sqrt(5-tan(x))", None),
    ("1/(x*sqrt(1-ln(x)^2))", "arcsin(ln(x))", None),
]


def line(left: str, right: str, domain: str | None) -> object:
    context = Context(names=frozenset("x"), log="natural")
    region = parse_domain(domain, "x", context) if domain else None
    return check(Equal(parse(left, context), parse(right, context), Setting("x", region)))


#: Lines that hold but between two places close together: an end and a zero, two zeros, two poles; or but beyond all that is looked at.
ALMOST = [
    ("abs(e^x-10001/10000)", "e^x-10001/10000", "[0, 1]"),
    ("abs(e^x-10001/10000)", "10001/10000-e^x", "[-1, 1/5000]"),
    ("abs((e^x-10001/10000)*(e^x-1003/1000))", "(e^x-10001/10000)*(e^x-1003/1000)", None),
    ("abs(tan(x)+10000)", "tan(x)+10000", None),
    ("abs(1/((sin(x)-1/2)^2-1/1000000))", "1/((sin(x)-1/2)^2-1/1000000)", None),
    ("arctan(1/((sin(x)-1/2)^2-1/1000000))", "pi/2-arctan((sin(x)-1/2)^2-1/1000000)", None),
    ("abs(30-ln(1+x^2))", "30-ln(1+x^2)", None),
    ("abs(ln(x)+30)", "ln(x)+30", None),
    ("abs(x/10+10+5*sin(x)/abs(sin(x)))", "x/10+10+5*sin(x)/abs(sin(x))", None),
]


#: Lines whose signs turn exactly at an end, or several at one point.
TURNING = [
    ("abs(e^x-1)", "e^x-1", "[0, 1]"),
    ("sqrt(1-sin(x))*abs(cos(x))", "sqrt(1-sin(x))*cos(x)", "[0, pi/2]"),
    ("abs(cos(x)*(1-sin(x)))", "cos(x)*(1-sin(x))", "[-pi/2, pi/2]"),
    ("sqrt((1-sin(x))^2)", "1-sin(x)", None),
    ("abs(ln(x))*sqrt(x-1)", "ln(x)*sqrt(x-1)", None),
]


@pytest.mark.parametrize(("left", "right", "domain"), TURNING)
def test_a_line_that_turns_at_an_end_is_proved(left: str, right: str, domain: str | None) -> None:
    assert getattr(line(left, right, domain), "grade", "") == "proved"


@pytest.mark.parametrize(("left", "right", "domain"), ALMOST)
def test_a_line_that_fails_on_a_sliver_or_far_away_is_not_proved(left: str, right: str, domain: str | None) -> None:
    outcome = line(left, right, domain)
    assert not isinstance(outcome, Checked) or outcome.grade == "enclosed"


@pytest.mark.parametrize(("integrand", "answer", "domain"), WRONG + SLIVERS)
def test_a_tempting_wrong_key_is_refuted(integrand: str, answer: str, domain: str | None) -> None:
    row = prove({"kind": "indefinite", "integrand": integrand, "answer": answer, "domain": domain})
    assert row["verdict"] == "refuted", row


@pytest.mark.parametrize(("integrand", "answer", "domain"), RIGHT)
def test_a_right_key_in_disguise_is_proved(integrand: str, answer: str, domain: str | None) -> None:
    row = prove({"kind": "indefinite", "integrand": integrand, "answer": answer, "domain": domain})
    assert row["verdict"] == "proved", row


@pytest.mark.parametrize(
    ("integrand", "lower", "upper", "right", "wrong", "antiderivative"),
    [
        ("abs(x-1)", "-2", "3", "13/2", "11/2", "x*abs(x-1)-x^2/2*sgn(x-1)"),
        ("abs(x^3-4x)", "-1", "3", "12", "41/4", "x*abs(x^3-4x)-3/4*x^4*sgn(x^3-4x)+2x^2*sgn(x^3-4x)"),
        ("2x", "0", "2", "4", "5", "x^2+sgn(x-1)/2"),
        # two jumps closer together than the boxes, inside and at a limit: only one of them is at a simple place
        ("2x", "-1", "2", "3", "4", "x^2+sgn(sin(x))/2+sgn(sin(x-1/10000))/2"),
        ("2x", "0", "2", "4", "5", "x^2+sgn(sin(x))/2+sgn(sin(x-1/10000))/2"),
        ("ln(abs(x))", "-1", "1", "-2", "-3", "x*ln(abs(x))-x"),
        ("ln(abs(sin(x)/x))*0+2x", "-1", "2", "3", "4", "x^2"),
    ],
)
def test_an_antiderivative_that_jumps_proves_no_wrong_value(
    integrand: str, lower: str, upper: str, right: str, wrong: str, antiderivative: str
) -> None:
    """A sign is finite where it jumps, so finite is not yet continuous: the jump must not enter the value."""
    context = Context(names=frozenset("x"))
    read = [parse(text, context) for text in (integrand, lower, upper)]
    certificate = parse(antiderivative, context)
    claims = [IntegralValue(*read, parse(value, context), Setting("x"), certificate) for value in (right, wrong)]
    good, bad = (check(claim) for claim in claims)
    assert isinstance(bad, Refuted)
    assert isinstance(good, Checked)
    assert good.grade == ("enclosed" if "10000" in antiderivative else "proved")


@pytest.mark.parametrize(("integrand", "answer"), [("10x^2*x^(1/3)", "3x^3*x^(1/3)"), ("12x^(1/5)", "10x^(6/5)")])
def test_a_key_with_an_odd_root_has_a_value_at_zero(integrand: str, answer: str) -> None:
    question = parse_question(f"\\int ({integrand}) \\, dx", Given(), Context())
    outcome = check(question_claim(question, parse(answer, Context().of(question))))
    assert isinstance(outcome, Checked)
    assert [remark.kind for remark in outcome.remarks if remark.kind == "removable"] == []


@pytest.mark.parametrize("key", ["x+2*ln|x|-3*ln(x-1)", "x+2*ln(x*ln|x-1|-1)"])
def test_looking_for_a_missing_absolute_value_ends(key: str) -> None:
    """A logarithm that has its |…| is left as it is: else ln||…|| is tried without end."""
    question = parse_question(r"\int x+2/(x-1) \, dx", Given(), Context())
    outcome = check(question_claim(question, parse(key, Context(names=frozenset("x"), log="natural"))))
    assert isinstance(outcome, Refuted), outcome
