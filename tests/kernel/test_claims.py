"""What the checker says of claims of every kind: each family of examples is a specification.

Identities without a note: common practice, no source. Traps: measured before the first line was written (notes of the project).
"""

from __future__ import annotations

import time
from fractions import Fraction

import pytest

from everyline.kernel import (
    Checked,
    Equal,
    IntegralValue,
    Refuted,
    SameDerivative,
    Setting,
    Undecided,
    check,
)
from everyline.notation import Context, parse
from everyline.notation.question import Given, Parameter
from everyline.notation.tree import (
    Call,
    Derivative,
    Diverges,
    DoesNotExist,
    Evaluation,
    Inequality,
    Infinity,
    Integral,
    Interval,
    Limit,
    Name,
    Negative,
    Node,
    Number,
    Power,
    Sum,
)

LESS = Negative(Infinity())
NAMES = frozenset("xutan")


def tree(text: str) -> Node:
    return {"oo": Infinity(), "-oo": LESS, "diverges": Diverges(), "none": DoesNotExist()}.get(text) or parse(
        text, Context(names=NAMES, log="natural"), answer=True
    )


def on(text: str | None) -> Interval | None:
    if text is None:
        return None
    low, high = text.split(",")
    return Interval(tree(low), tree(high))


def grade(outcome: object) -> str:
    return outcome.grade if isinstance(outcome, Checked) else type(outcome).__name__.lower()


def antiderivative(f: str, key: str, domain: str | None = None, **setting: object) -> Checked | Refuted | Undecided:
    return check(SameDerivative(Integral(tree(f), "x"), tree(key), Setting("x", on(domain), **setting)))  # type: ignore[arg-type]


RIGHT_KEYS = [
    # one constant on each interval (APEX Calculus 5.1, exercise 39)
    ("1/x", "ln|x|", None),
    ("1/x", "ln|5x|+7*sgn(x)", None),
    # other forms of a right key (DLMF 4.24.7-8; CLP-2 1.8)
    ("1/sqrt(1-x^2)", "-arccos(x)", None),
    ("sec(x)^2*tan(x)", "sec(x)^2/2", None),
    ("sec(x)^2*tan(x)", "tan(x)^2/2", None),
    ("sec(x)", "ln|sec(x)+tan(x)|", None),
    ("sec(x)", "ln|tan(x/2+pi/4)|", None),
    ("sec(x)", "-ln|sec(x)-tan(x)|", None),
    ("csc(x)", "ln|tan(x/2)|", None),
    ("1/(x^2-4)", "1/4*ln|(x-2)/(x+2)|", None),
    ("1/sqrt(x^2+9)", "arsinh(x/3)", None),
    ("1/sqrt(x^2+9)", "ln(x+sqrt(x^2+9))", None),
    ("1/sqrt(x^2+9)", "-ln(sqrt(x^2+9)-x)", None),
    # branches of absolute values and even roots, one germ each
    ("sqrt(x^2)", "x*|x|/2", None),
    ("|cos(x)|", "sin(x)*sgn(cos(x))", None),
    ("sqrt(1-cos(2x))", "-sqrt(2)*cos(x)*sgn(sin(x))", None),
    ("1/(x*sqrt(x^2-1))", "arcsec(|x|)", None),
    # real odd roots; removable points; jumps are remarks
    ("x^(-2/3)", "3*x^(1/3)", None),
    ("1/(1-sin(x))", "tan(x)+sec(x)", None),
    ("1/(5+4*cos(x))", "2/3*arctan(tan(x/2)/3)", None),
    ("x^x*(ln(x)+1)", "x^x", None),
    ("7^x", "7^x/ln(7)", None),
    ("arctan(x)+arctan(1/x)", "pi*|x|/2", None),
]


@pytest.mark.parametrize(("f", "key", "domain"), RIGHT_KEYS)
def test_a_right_key_is_proved(f: str, key: str, domain: str | None) -> None:
    assert grade(antiderivative(f, key, domain)) == "proved"


WRONG_KEYS = [
    # equal as germs at one point only
    ("sqrt(x^2)", "x^2/2", "-2,2"),
    ("x^3*e^(x^2)", "(x^2-1)*e^x/2", None),
    ("arctan(x)+arctan(1/x)", "pi*x/2", None),
    # slivers
    ("2*sgn(x)", "|x|+|x-10^(-30)|", None),
    ("2*sgn(x)", "|x|+|x-1/3*10^(-50)|", None),
    # differences below any fixed precision
    ("sin(x)", "10^(-60)*x-cos(x)", None),
    ("sin(x)", "10^(-1000)*x-cos(x)", None),
    # the usual slips
    ("sin(3x)", "-cos(3x)", None),
    ("1/(9+x^2)", "arctan(x/3)", None),
    ("x*e^x", "x^2/2*e^x", None),
    ("x^(-1)", "x^0/0", None),
]


@pytest.mark.parametrize(("f", "key", "domain"), WRONG_KEYS)
def test_a_wrong_key_is_never_accepted(f: str, key: str, domain: str | None) -> None:
    outcome = antiderivative(f, key, domain)
    assert isinstance(outcome, Refuted) or (isinstance(outcome, Undecided) and "10^(-50)" in key), outcome


@pytest.mark.parametrize(
    ("f", "key", "reason"),
    [
        ("1/x", "ln(x)", "undefined"),
        ("tan(x)", "-ln(cos(x))", "undefined"),
        ("1/(x^2+1)", "arcsin(x/sqrt(x^2+1))+sqrt(x)-sqrt(x)", "undefined"),
        ("sin(x)", "cos(x)", "differs"),
    ],
)
def test_a_refutation_says_why_and_where(f: str, key: str, reason: str) -> None:
    outcome = antiderivative(f, key)
    assert isinstance(outcome, Refuted)
    assert outcome.reason == reason
    assert outcome.witness is not None


@pytest.mark.parametrize(
    ("f", "key", "remark"),
    [
        ("1/(5+4*cos(x))", "2/3*arctan(tan(x/2)/3)", "jump"),
        ("1/(1-sin(x))", "tan(x)+sec(x)", "several-intervals"),
        ("1/x", "ln|x|", "several-intervals"),
    ],
)
def test_what_a_derivative_cannot_see_is_remarked(f: str, key: str, remark: str) -> None:
    outcome = antiderivative(f, key)
    assert isinstance(outcome, Checked)
    assert remark in {r.kind for r in outcome.remarks}


EQUALITIES = [
    ("sqrt(x^2)", "|x|", None, "proved"),
    ("sqrt(x^2)", "x", None, "refuted"),
    ("ln(x^2)", "2*ln|x|", None, "proved"),
    ("ln(x^2)", "2*ln(x)", None, "refuted"),
    ("sin(3x)", "3*sin(x)-4*sin(x)^3", None, "proved"),
    ("sin(arctan(x))", "x/sqrt(1+x^2)", None, "proved"),
    ("tan(arcsin(x/3))", "x/sqrt(9-x^2)", None, "proved"),
    ("2*arctan(x)", "arctan(2x/(1-x^2))", "-1,1", "proved"),
    ("2*arctan(x)", "arctan(2x/(1-x^2))", None, "refuted"),
    ("arctan(x)+arctan(1/x)", "pi/2", "0,oo", "proved"),
    ("4^x", "(2^x)^2", None, "proved"),
    ("cos(pi/8)", "sqrt(2+sqrt(2))/2", None, "proved"),
    ("sin(pi/5)", "sqrt(10-2*sqrt(5))/4", None, "proved"),
    ("ln(1+sqrt(2))", "-ln(sqrt(2)-1)", None, "proved"),
    ("6*arcsin(1/2)", "pi", None, "proved"),
    ("cos(pi/12)", "(sqrt(2)+sqrt(6))/4", None, "proved"),
    ("tan(5*pi/12)", "2+sqrt(3)", None, "proved"),
    ("arctan(2-sqrt(3))", "pi/12", None, "proved"),
    ("cos(7*pi/12)", "(sqrt(2)+sqrt(6))/4", None, "refuted"),
    ("sqrt(2)*sqrt(3)", "sqrt(6)", None, "proved"),
    ("1.2", "6/5", None, "proved"),
    ("x", "x+10^(-1000)", None, "refuted"),
    ("arcsin(sin(x))", "x", None, "refuted"),
    ("1/(x-x)", "1", None, "undecided"),
    # a domain with nothing in it, or that is none
    ("x", "x", "1,1", "undecided"),
    ("x", "x", "oo,oo", "undecided"),
    ("x", "x", "pi/2,pi/2", "undecided"),
    ("x", "x", "2,1", "undecided"),
    ("x", "x", "ln(-1),1", "undecided"),
    ("x", "x", "3^1000,oo", "undecided"),
    ("x", "x", "-oo,-3^1000", "undecided"),
]


@pytest.mark.parametrize(("left", "right", "domain", "wanted"), EQUALITIES)
def test_two_sides_of_a_line(left: str, right: str, domain: str | None, wanted: str) -> None:
    outcome = check(Equal(tree(left), tree(right), Setting("x", on(domain))))
    assert grade(outcome) == wanted
    assert getattr(outcome, "reason", "") != "fault", outcome


@pytest.mark.parametrize(
    ("f", "order", "answer", "wanted"),
    [
        ("x^5", 5, "120", "proved"),
        ("x^5", 5, "120x", "refuted"),
        ("|x|", 1, "sgn(x)", "proved"),
        ("x^x", 1, "x^x*(ln(x)+1)", "proved"),
        ("ln(ln(x))", 1, "1/(x*ln(x))", "proved"),
        ("arccos(1/(2x))", 1, "1/(|x|*sqrt(4x^2-1))", "proved"),
        ("3^x", 1, "x*3^(x-1)", "refuted"),
    ],
)
def test_derivatives(f: str, order: int, answer: str, wanted: str) -> None:
    assert grade(check(Equal(Derivative(tree(f), "x", order), tree(answer), Setting("x")))) == wanted


ZERO = Number(Fraction(0))
POSITIVE = Given((Parameter("a"),), (Inequality(Name("a"), ">", ZERO),))
NOT_ZERO = Given((Parameter("a"),), (Inequality(Name("a"), "!=", ZERO),))
WHOLE = Given((Parameter("n", True),), (Inequality(Name("n"), ">", ZERO),))


@pytest.mark.parametrize(
    ("f", "key", "given", "wanted"),
    [
        ("1/(a^2+x^2)", "arctan(x/a)/a", NOT_ZERO, "proved"),
        ("1/sqrt(a^2-x^2)", "arcsin(x/a)", POSITIVE, "proved"),
        ("1/sqrt(a^2-x^2)", "arcsin(x/a)", NOT_ZERO, "refuted"),
        ("sin(a*x)", "-cos(a*x)/a", NOT_ZERO, "proved"),
        ("x^n", "x^(n+1)/(n+1)", WHOLE, "proved"),
        ("x^n", "x^(n+1)/n", WHOLE, "refuted"),
        ("sqrt(a^2)*x", "a*x^2/2", NOT_ZERO, "refuted"),
    ],
)
def test_parameters_under_assumptions(f: str, key: str, given: Given, wanted: str) -> None:
    assert grade(antiderivative(f, key, given=given)) == wanted


BOTH = Given((Parameter("a"), Parameter("n")), (Inequality(Name("a"), ">", ZERO), Inequality(Name("n"), ">", ZERO)))


# values with letters in them (DLMF 4.10, 4.26, 4.40; CLP-2 1.12): proved for symbols, not only for the numbers that are tried
@pytest.mark.parametrize(
    ("f", "low", "high", "value", "certificate", "given", "wanted"),
    [
        ("e^(-a*x)", "0", "oo", "1/a", "-e^(-a*x)/a", POSITIVE, "proved"),
        ("e^(-a*x)", "0", "oo", "2/a", "-e^(-a*x)/a", POSITIVE, "refuted"),
        ("e^(a*x)", "0", "oo", "diverges", None, POSITIVE, "proved"),
        ("x*e^(-a*x)", "0", "oo", "1/a^2", "-e^(-a*x)*(x/a+1/a^2)", POSITIVE, "proved"),
        ("x^2", "0", "a", "a^3/3", "x^3/3", POSITIVE, "proved"),
        ("x^n", "0", "1", "1/(n+1)", "x^(n+1)/(n+1)", WHOLE, "proved"),
        ("x^n", "0", "1", "1/n", "x^(n+1)/(n+1)", WHOLE, "refuted"),
        ("1/(a^2+x^2)", "-oo", "oo", "pi/a", "arctan(x/a)/a", POSITIVE, "proved"),
        ("sin(a*x)", "0", "pi", "(1-cos(a*pi))/a", "-cos(a*x)/a", NOT_ZERO, "proved"),
        ("e^(-a*x)*cos(n*x)", "0", "oo", "a/(a^2+n^2)", "e^(-a*x)*(n*sin(n*x)-a*cos(n*x))/(a^2+n^2)", BOTH, "proved"),
        # whether this converges depends on a, so no single answer is right
        ("x^(-a)", "1", "oo", "diverges", None, POSITIVE, "refuted"),
        # a pole that moves with the letter is still found
        ("1/(x-a)^2", "0", "oo", "1", "-1/(x-a)", POSITIVE, "refuted"),
    ],
)
def test_integrals_between_limits_with_letters(
    f: str, low: str, high: str, value: str, certificate: str | None, given: Given, wanted: str
) -> None:
    proof = tree(certificate) if certificate else None
    claim = IntegralValue(tree(f), tree(low), tree(high), tree(value), Setting("x", None, given), proof)
    assert grade(check(claim, seconds=20)) == wanted


@pytest.mark.parametrize(
    ("f", "point", "value", "given", "wanted"),
    [
        ("sin(a*x)/x", "0", "a", NOT_ZERO, "proved"),
        ("sin(a*x)/x", "0", "1", NOT_ZERO, "refuted"),
        ("(1+a/x)^x", "oo", "e^a", NOT_ZERO, "proved"),
        ("(x^2-a^2)/(x-a)", "a", "2a", POSITIVE, "proved"),
        ("(sqrt(x)-sqrt(a))/(x-a)", "a", "1/(2*sqrt(a))", POSITIVE, "proved"),
        ("(x^n-1)/(x-1)", "1", "n", WHOLE, "proved"),
        ("x^n*e^(-x)", "oo", "0", WHOLE, "proved"),
        ("tan(a*x)/tan(n*x)", "0", "a/n", BOTH, "proved"),
    ],
)
def test_limits_with_letters(f: str, point: str, value: str, given: Given, wanted: str) -> None:
    assert grade(check(Equal(Limit(tree(f), "x", tree(point), ""), tree(value), Setting("x", None, given)), seconds=20)) == wanted


def test_two_integrals_with_letters_are_one() -> None:
    left, right = (Integral(tree(f), "x", tree("0"), tree("a")) for f in ("2x*e^(x^2)", "x*e^(x^2)+e^(x^2)*x"))
    assert grade(check(Equal(left, right, Setting("x", None, POSITIVE)), seconds=20)) == "proved"


@pytest.mark.parametrize(
    ("raised", "reason"),
    [(MemoryError, "memory"), (RecursionError, "depth"), (OverflowError, "range"), (KeyError, "fault"), (AssertionError, "fault")],
)
def test_what_goes_wrong_inside_is_named_and_makes_no_verdict(
    raised: type[Exception], reason: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise raised("inside")

    monkeypatch.setattr("everyline.kernel.ladder.Ladder.climb", fail)
    outcome = antiderivative("1/x", "ln|x|")
    assert isinstance(outcome, Undecided)
    assert outcome.reason == reason
    assert "inside" in outcome.detail


@pytest.mark.parametrize(
    ("f", "inner", "name", "bound"),
    [
        ("2x*cos(x^2+1)", "cos(u)", "u", "x^2+1"),
        ("1/(x^2+4)^(3/2)", "cos(t)/4", "t", "arctan(x/2)"),
        ("sqrt(9-x^2)", "9*cos(t)^2", "t", "arcsin(x/3)"),
        ("sin(sqrt(x))", "2*u*sin(u)", "u", "sqrt(x)"),
    ],
)
def test_a_substitution_is_checked_in_x(f: str, inner: str, name: str, bound: str) -> None:
    setting = Setting("x", bindings=((name, tree(bound)),))
    assert grade(check(SameDerivative(Integral(tree(f), "x"), Integral(tree(inner), name), setting))) == "proved"
    assert grade(check(SameDerivative(Integral(tree(f), "x"), Integral(tree("2*(" + inner + ")"), name), setting))) == "refuted"


def test_parts_and_the_remaining_integral() -> None:
    whole, rest = Integral(tree("x*e^x"), "x"), Integral(tree("e^x"), "x")
    assert grade(check(SameDerivative(whole, Sum((tree("x*e^x"), Negative(rest))), Setting("x")))) == "proved"
    assert grade(check(SameDerivative(whole, Sum((tree("x*e^x"), rest)), Setting("x")))) == "refuted"


def between(f: str, name: str, low: str, high: str) -> Integral:
    return Integral(tree(f), name, tree(low), tree(high))


SQUARE = (("u", tree("x^2")),)


@pytest.mark.parametrize(
    ("left", "right", "bindings", "wanted"),
    [
        (between("2x*e^(x^2)", "x", "0", "1"), between("e^u", "u", "0", "1"), SQUARE, "proved"),
        (between("2x*e^(x^2)", "x", "1", "2"), between("e^u", "u", "1", "2"), SQUARE, "refuted"),
        (between("2x*e^(-x^2)", "x", "0", "oo"), between("e^(-u)", "u", "0", "oo"), SQUARE, "proved"),
        (between("cos(x)", "x", "0", "pi"), Evaluation(tree("sin(x)"), "x", tree("0"), tree("pi")), (), "proved"),
        (Limit(tree("sin(x)/x"), "x", tree("0")), Limit(tree("cos(x)"), "x", tree("0")), (), "proved"),
        (Limit(tree("sin(x)/x"), "x", tree("0")), Limit(tree("sin(x)"), "x", tree("0")), (), "refuted"),
        # all in another variable, bound or not: the name of what is integrated over says nothing
        (between("2/u^2", "u", "1", "5"), Evaluation(tree("-2/u"), "u", tree("1"), tree("5")), (), "proved"),
        (between("2/u^2", "u", "1", "5"), Evaluation(tree("-2/u"), "u", tree("1"), tree("5")), SQUARE, "proved"),
        (between("2/u^2", "u", "1", "5"), Evaluation(tree("-1/u"), "u", tree("1"), tree("5")), SQUARE, "refuted"),
        (between("2/u^2", "u", "-1", "5"), Evaluation(tree("-2/u"), "u", tree("-1"), tree("5")), (), "undecided"),
        (between("x^2", "x", "0", "2"), Sum((between("x^2", "x", "0", "1"), between("x^2", "x", "1", "2"))), (), "proved"),
    ],
)
def test_lines_with_limits_and_integrals(left: Node, right: Node, bindings: tuple[tuple[str, Node], ...], wanted: str) -> None:
    assert grade(check(Equal(left, right, Setting("x", bindings=bindings)))) == wanted


@pytest.mark.parametrize(
    ("f", "ends", "pieces", "wanted"),
    [
        # additivity over intervals (OpenStax Calculus 1, 5.2, properties of the definite integral)
        ("e^(x^2)", ("0", "2"), [("0", "1"), ("1", "2")], "proved"),
        ("sin(x)/x", ("1", "2"), [("1", "5"), ("5", "2")], "proved"),
        ("|x|", ("-1", "2"), [("-1", "0"), ("0", "2")], "proved"),
        ("1/sqrt(x)", ("0", "2"), [("0", "1"), ("1", "2")], "proved"),
        ("e^(-x^2)", ("-oo", "oo"), [("-oo", "0"), ("0", "oo")], "proved"),
        # a piece that does not exist proves nothing
        ("1/x", ("-1", "2"), [("-1", "1"), ("1", "2")], "undecided"),
        ("1/x", ("1", "2"), [("1", "0"), ("0", "2")], "undecided"),
        ("sqrt(x-1)", ("0", "2"), [("0", "1"), ("1", "2")], "undecided"),
        # a point left out, or used twice
        ("e^(x^2)", ("0", "2"), [("0", "1"), ("1", "3")], "refuted"),
        ("e^(x^2)", ("0", "2"), [("0", "1"), ("0", "2")], "refuted"),
    ],
)
def test_an_integral_may_be_cut_at_points(f: str, ends: tuple[str, str], pieces: list[tuple[str, str]], wanted: str) -> None:
    line = Equal(between(f, "x", *ends), Sum(tuple(between(f, "x", *piece) for piece in pieces)), Setting("x"))
    assert grade(check(line)) == wanted


def test_an_integral_of_another_function_is_no_piece() -> None:
    first, other = between("e^(x^2)", "x", "0", "1"), between("e^(x^3)", "x", "1", "2")
    line = Equal(between("e^(x^2)", "x", "0", "2"), Sum((first, other)), Setting("x"))
    assert grade(check(line)) == "refuted"


def test_an_antiderivative_that_jumps_is_no_value_between_limits() -> None:
    """A. Jeffrey and A. Rich, The evaluation of trigonometric integrals avoiding spurious discontinuities, ACM TOMS 20 (1994)."""
    f, jumping = tree("1/(5+4*cos(x))"), tree("2/3*arctan(tan(x/2)/3)")
    bar = Evaluation(jumping, "x", tree("0"), tree("2*pi"))
    assert not isinstance(check(Equal(Integral(f, "x", tree("0"), tree("2*pi")), bar, Setting("x"))), Checked)
    assert grade(check(IntegralValue(f, tree("0"), tree("2*pi"), tree("0"), Setting("x"), jumping))) == "refuted"
    assert grade(check(IntegralValue(f, tree("0"), tree("2*pi"), tree("2*pi/3"), Setting("x"), jumping))) == "proved"


VALUES = [
    # p-test (APEX 6.7, exercises 4 and 6); principal values (DLMF 1.4.25); poles between the limits (APEX 6.7, exercise 43)
    ("1/x^2", "1", "oo", "1", "-1/x", "proved"),
    ("1/x", "1", "oo", "diverges", None, "proved"),
    ("1/x", "1", "oo", "oo", None, "proved"),
    ("x^(-1/2)", "0", "1", "2", "2*sqrt(x)", "proved"),
    ("x/(1+x^2)", "-oo", "oo", "0", None, "refuted"),
    ("1/x", "-1", "1", "0", "ln|x|", "refuted"),
    ("tan(x)", "0", "pi", "0", "-ln|cos(x)|", "refuted"),
    ("ln(x)", "-1", "1", "0", None, "refuted"),
    ("ln(x)", "0", "1", "-1", "x*ln(x)-x", "proved"),
    ("e^(-x)*sin(x)", "0", "oo", "1/2", "-e^(-x)*(sin(x)+cos(x))/2", "proved"),
    ("1/(1+x^2)", "-oo", "oo", "pi", "arctan(x)", "proved"),
    ("x^2", "1", "0", "-1/3", "x^3/3", "proved"),
    ("x^2", "0", "1", "1/3", None, "enclosed"),
    ("x^2", "0", "1", "1/2", None, "refuted"),
    ("1/x^2", "-1", "1", "-2", "-1/x", "refuted"),
    ("6/sqrt(1-x^2)", "0", "1/2", "pi", "6*arcsin(x)", "proved"),
    ("sqrt(16-x^2)", "-2", "2", "8*pi/3+4*sqrt(3)", "8*arcsin(x/4)+x*sqrt(16-x^2)/2", "proved"),
    ("|x|^(-1/2)", "-1", "1", "4", "2*sgn(x)*sqrt|x|", "proved"),
    # no elementary antiderivative and no certificate (DLMF 7.2): left open
    ("sin(x^2)", "0", "oo", "sqrt(pi/2)/2", None, "undecided"),
]


@pytest.mark.parametrize(("f", "low", "high", "value", "certificate", "wanted"), VALUES)
def test_integrals_between_limits(f: str, low: str, high: str, value: str, certificate: str | None, wanted: str) -> None:
    proof = tree(certificate.replace("sqrt|x|", "sqrt(|x|)")) if certificate else None
    assert grade(check(IntegralValue(tree(f), tree(low), tree(high), tree(value), Setting("x"), proof))) == wanted


def test_a_value_may_be_written_with_limits() -> None:
    """The line that says what an improper integral is (DLMF 1.4.22); and an integrand that is never negative has no negative value."""
    f, bar = tree("e^(-4x)"), Evaluation(tree("-e^(-4x)/4"), "x", tree("0"), Name("b"))
    value = Limit(bar, "b", Infinity())
    assert grade(check(IntegralValue(f, tree("0"), tree("oo"), value, Setting("x"), tree("-e^(-4x)/4")))) == "proved"
    assert grade(check(IntegralValue(f, tree("0"), tree("oo"), Negative(value), Setting("x"), tree("-e^(-4x)/4")))) == "refuted"
    assert grade(check(IntegralValue(tree("1/(1+tan(x)^sqrt(2))"), tree("0"), tree("pi/2"), tree("-pi/4"), Setting("x")))) == "refuted"


LIMITS = [
    ("sin(x)/x", "0", "", "1", "proved"),
    ("(1-cos(x))/x^2", "0", "", "1/2", "proved"),
    ("(1+1/x)^x", "oo", "", "e", "proved"),
    ("(1+1/x)^x", "oo", "", "1", "refuted"),
    ("x^x", "0", "+", "1", "proved"),
    ("x*ln(x)", "0", "+", "0", "proved"),
    ("|x|/x", "0", "", "none", "proved"),
    ("|x|/x", "0", "", "1", "refuted"),
    ("|x|/x", "0", "-", "-1", "proved"),
    ("1/x", "0", "", "none", "proved"),
    ("1/x^2", "0", "", "oo", "proved"),
    ("1/x", "0", "", "oo", "refuted"),
    ("x*sin(1/x)", "0", "", "0", "proved"),
    ("sqrt(x^2+x)-x", "oo", "", "1/2", "proved"),
    ("sqrt(x^2+x)+x", "-oo", "", "-1/2", "proved"),
    ("e^x/x^100", "oo", "", "oo", "proved"),
    ("ln(x)/x^(1/100)", "oo", "", "0", "proved"),
    ("arctan(x)", "-oo", "", "-pi/2", "proved"),
    ("tan(x)", "pi/2", "-", "oo", "proved"),
    ("(sin(x)-x)/x^3", "0", "", "-1/6", "proved"),
    ("x^(1/x)", "oo", "", "1", "proved"),
    ("(1-x)^(1-x)", "1", "", "1", "refuted"),
    ("(1-x)^(1-x)", "1", "-", "1", "proved"),
    ("(e^x-e^(-x))/(e^x+e^(-x))", "-oo", "", "-1", "proved"),
    ("cos(x)", "oo", "", "0", "undecided"),
]


@pytest.mark.parametrize(("f", "point", "side", "value", "wanted"), LIMITS)
def test_limits(f: str, point: str, side: str, value: str, wanted: str) -> None:
    assert grade(check(Equal(Limit(tree(f), "x", tree(point), side), tree(value), Setting("x")))) == wanted


def tower(height: int) -> Node:
    return NINE if height == 0 else Power(NINE, tower(height - 1))


def deep(levels: int) -> Node:
    return Name("x") if levels == 0 else Call("sin", deep(levels - 1))


NINE, X = Number(Fraction(9)), Name("x")
HOSTILE = [tower(3), tower(9), Power(X, Number(Fraction(10**9))), Power(Sum((X, NINE)), Number(Fraction(10**6))), deep(300), Power(NINE, X)]


@pytest.mark.parametrize("node", HOSTILE, ids=range(len(HOSTILE)))
def test_what_is_too_large_ends_at_once(node: Node) -> None:
    """The reader refuses most of these; a tree that comes another way must do no harm either."""
    start = time.process_time()
    outcome = check(Equal(node, Sum((node, Number(Fraction(1)))), Setting("x")), seconds=1.0)
    assert not isinstance(outcome, Checked)
    assert time.process_time() - start < 4


def test_nobody_else_can_make_a_checked_claim() -> None:
    claim = Equal(tree("1"), tree("2"), Setting("x"))
    with pytest.raises(TypeError):
        Checked(object(), claim, "proved", 0, 1, (), 1)
    with pytest.raises(TypeError):
        Checked(claim, "proved", 0, 1, (), 1)  # type: ignore[call-arg, arg-type]


def test_precision_is_left_as_it_was() -> None:
    from flint import ctx

    before = ctx.prec
    antiderivative("sin(x)", "10^(-1000)*x-cos(x)")
    assert ctx.prec == before
