"""Integrals between limits: every line that is shown has a check of its own, and every method has a name that pages know."""

from __future__ import annotations

import pytest
from asking import solve

from everyline.kernel import Checked, Equal, IntegralValue
from everyline.notation import plain
from everyline.notation.message import fill
from everyline.notation.tree import Diverges, Integral, Limit
from everyline.render.terminal import worked
from everyline.techniques import catalogue

VALUES = [
    r"\int_1^4 \frac{3}{\sqrt{x}} \, dx", r"\int_0^2 x^2 e^{x^3} \, dx", r"\int_0^\infty e^{-4x} \, dx", r"\int_0^1 \ln x \, dx",
    r"\int_0^\infty \frac{2}{x^2 + 16} \, dx", r"\int_0^4 \frac{1}{\sqrt{x}} \, dx",
    r"\int_2^5 \frac{1}{x^2 - 1} \, dx", r"\int_{-2}^{2} x^5 \, dx",
]  # fmt: skip


@pytest.mark.parametrize("question", VALUES)
def test_each_line_is_checked_for_what_it_shows(question: str) -> None:
    routes = solve(question).routes
    assert routes
    for route in routes:
        chain = [line for line in route.lines if not (isinstance(line.left, Integral) and line.left.lower is None)]
        start = next(
            n for n, line in enumerate(chain) if isinstance(line.checked, Checked) and isinstance(line.checked.claim, IntegralValue)
        )
        for before, line in zip(chain[start:], chain[start + 1 :], strict=False):
            assert isinstance(line.checked, Checked)
            claim = line.checked.claim
            if isinstance(claim, Equal):
                assert claim.right == line.shown
                assert claim.left == before.shown
            else:  # a bracket at an open end means the limits that are written out below it
                assert isinstance(claim, IntegralValue)
                assert claim.value == line.shown


MOVES = [
    (r"\int_0^2 x\,e^{x^2} \, dx", "changed-limits"),
    (r"\int_{-2}^{3} |x-1| \, dx", "split-interval"),
    (r"\int_0^3 |x^2-4| \, dx", "split-interval"),
    (r"\int_{-\pi/2}^{\pi/2} |\sin t| \, dt", "split-interval"),
    (r"\int_1^\infty \frac{1}{x+\sqrt{x}} \, dx", "comparison"),
    (r"\int_0^{\pi/2} \frac{\sin x}{\sin x+\cos x} \, dx", "reflection"),
    (r"\int_1^\infty \frac{1}{x^3} \, dx", "improper"),
    (r"\int_{-2}^{2} (x^4+1) \, dx", "symmetry"),
    (r"\int_0^\infty e^{-9x^2} \, dx", "gaussian"),
]  # fmt: skip


@pytest.mark.parametrize(("question", "technique"), MOVES)
def test_a_move_between_limits_is_among_the_methods_and_each_of_its_lines_is_checked(question: str, technique: str) -> None:
    found = [route for route in solve(question).routes if technique in route.techniques]
    assert found
    for route in found:
        assert all(line.kind == "let" or isinstance(line.checked, Checked) for line in route.lines)


def test_changed_limits_are_written_down_and_nothing_is_put_back() -> None:
    route = solve(r"\int_0^2 x\,e^{x^2} \, dx").routes[0]
    values = [(plain(line.left), plain(line.shown)) for line in route.lines if line.kind == "equal" and line.left is not None]
    assert values == [("0^2", "0"), ("2^2", "4")]
    assert any(plain(line.shown) == "1/2*int_0^4 e^u du" for line in route.lines)


def test_a_limit_at_an_open_end_is_checked_on_a_line_of_its_own() -> None:
    lines = solve(r"\int_1^\infty \frac{1}{x^3} \, dx").routes[0].lines
    assert [type(fine.checked.claim.left) for fine in lines[-2].detail if fine.checked] == [Limit]


# What each moving term tends to and why; the end that can be put in is worked out. (Kinds: APEX Calculus v3, section 6.8, exercises 8,
# 22, 28; OpenStax Calculus 2, section 3.7; the wording is common practice, no source.)
OPEN_ENDS = [
    (r"\int_0^\infty x e^{-x} \, dx", [
        "lim_(b -> infinity) (-b*e^(-b) - e^(-b) + 1) | Put in both ends.",
        "0 - 0 + 1 | The exponential outgrows every power.",
        "1 | Work out the value.",
    ]),
    (r"\int_0^1 \ln x \, dx", [
        "lim_(b -> 0^+) (-1 - b*ln(b) + b) | Put in both ends.",
        "-1 - 0 + 0 | Every power outgrows the logarithm.",
        "-1 | Work out the value.",
    ]),
    (r"\int_1^\infty \frac{1}{x^3} \, dx", [
        "lim_(b -> infinity) (-1/(2b^2) + 1/2) | Put in both ends.",
        "0 + 1/2 | The denominator b^2 grows without bound.",
        "1/2 | Work out the value.",
    ]),
    (r"\int_0^\infty \frac{1}{1+x^2} \, dx", [
        "lim_(b -> infinity) (arctan(b)) | Put in both ends.",
        "pi/2 | arctan(b) levels off at pi/2.",
    ]),
    (r"\int_1^\infty \frac{1}{x(x+1)} \, dx", [
        "lim_(b -> infinity) (ln(|b/(b + 1)|) + ln(2)) | Use a law of logarithms.",
        "0 + ln(2) | The inside |b/(b + 1)| tends to 1, and the function outside is continuous.",
        "ln(2) | Work out the value.",
    ]),
    (r"\int_{-\infty}^\infty \frac{1}{x^2+9} \, dx", ["pi/6 - (-pi/6) | arctan(x/3) levels off at pi/2.", "pi/3 | Work out the value."]),
]  # fmt: skip


@pytest.mark.parametrize(("question", "lines"), OPEN_ENDS, ids=[q for q, _ in OPEN_ENDS])
def test_an_open_end_says_what_tends_to_what_and_why(question: str, lines: list[str]) -> None:
    route = solve(question).routes[0]
    assert [f"{plain(line.shown)} | {fill(line.reason, plain)}" for line in route.lines[-len(lines) :]] == lines
    assert all(line.checked is not None and line.checked.grade == "proved" for line in route.lines if line.kind != "let")


@pytest.mark.parametrize(
    "question",
    [
        r"\int_1^3 \frac{1}{x-2} \, dx",
        r"\int_1^\infty \frac{1}{\sqrt{x}} \, dx",
        r"\int_0^{\pi/2} \tan x \, dx",
        r"\int_0^\pi \sec^2 x \, dx",
    ],
)
def test_what_diverges_shows_the_limit_that_says_so(question: str) -> None:
    routes = solve(question).routes
    assert routes
    for route in routes:
        *before, last = route.lines
        assert isinstance(last.shown, Diverges)
        assert isinstance(last.checked, Checked)
        claims = [line.checked.claim for line in before if isinstance(line.checked, Checked)]
        assert any(isinstance(claim, Equal) and isinstance(claim.left, Limit) for claim in claims)
        checks = [line.checked for line in route.lines if line.checked is not None]
        assert len({id(check) for check in checks}) == len(checks)


def test_only_allowed_techniques_are_used_between_limits() -> None:
    allowed = frozenset({"sum", "power", "table"})
    assert solve(r"\int_0^2 (3x^2+e^x) \, dx", allowed=allowed).routes
    assert not solve(r"\int_0^1 x\,e^x \, dx", allowed=allowed).routes
    assert not solve(r"\int_0^2 x\,e^{x^2} \, dx", allowed=allowed).routes
    assert solve(r"\int_0^1 x\,e^x \, dx", allowed=allowed | {"parts"}).routes


def test_a_book_that_teaches_a_move_between_limits_uses_no_other_before_it_is_taught() -> None:
    allowed = frozenset({"sum", "power", "table", "linear-inside", "symmetry"})
    found = solve(r"\int_{-2}^{3} |x-1| \, dx", allowed=allowed)
    assert all("split-interval" not in route.techniques for route in found.routes)
    assert any(
        route.method == "split-interval" for route in solve(r"\int_{-2}^{3} |x-1| \, dx", allowed=allowed | {"split-interval"}).routes
    )


def test_a_wanted_move_is_used_or_said_to_fail() -> None:
    assert [r.method for r in solve(r"\int_{-2}^{2} (x^4+1) \, dx", methods=("symmetry",)).routes] == ["symmetry"]
    assert not solve(r"\int_0^2 x^4 \, dx", methods=("symmetry",)).routes


def test_symmetry_is_proved_and_has_a_title() -> None:
    found = solve(r"\int_{-2}^{2} x^5 \, dx")
    assert found.routes[0].method == "symmetry"
    assert all(line.checked is not None and line.checked.grade == "proved" for line in found.routes[0].lines)
    assert all(route.method in catalogue() for route in found.routes)
    assert "Symmetry" in worked(found)


def test_the_terminal_shows_one_method_unless_all_are_asked_for() -> None:
    found = solve(r"\int x \sqrt{x + 2} \, dx")
    assert worked(found).count("Method ") == 1
    assert f"{len(found.routes) - 1} more ways: --all" in worked(found)
    everything = worked(found, everything=True)
    assert everything.count("Method ") == len(found.routes)
    assert "What does not help here" in worked(solve(r"\int (2 - x^3)^2 \, dx"), everything=True)


@pytest.mark.parametrize(
    ("question", "given", "value"),
    [
        # NIST DLMF, Eq. 4.10.11; Abramowitz & Stegun 7.4.1 and (completing the square) 7.4.32
        (r"\int_{-\infty}^{\infty} e^{-4x^2} \, dx", "", "sqrt(pi)/2"),
        (r"\int_0^\infty e^{-x^2} \, dx", "", "sqrt(pi)/2"),
        (r"\int_{-\infty}^{\infty} e^{6x - x^2} \, dx", "", "e^9*sqrt(pi)"),
        (r"\int_{-\infty}^{\infty} e^{4x - 2x^2} \, dx", "", "sqrt(2pi)/2*e^2"),
        (r"\int_{-\infty}^{\infty} e^{-a x^2} \, dx", "a > 0", "sqrt(pi)/sqrt(a)"),
        # the normal density has the whole area 1 (Abramowitz & Stegun 26.2.1)
        (r"\int_{-\infty}^{\infty} \frac{1}{3\sqrt{2\pi}} e^{-(x-5)^2/18} \, dx", "", "1"),
    ],
)
def test_the_gaussian_integral_is_quoted_and_enclosed_and_all_before_it_proved(question: str, given: str, value: str) -> None:
    (route,) = solve(question, given=given).routes
    assert plain(route.answer) == value
    *before, last = [line.checked for line in route.lines if line.kind != "let"]
    assert last is not None
    assert last.grade == "enclosed"
    assert last.digits >= 20
    assert all(checked is not None and checked.grade == "proved" for checked in before)
