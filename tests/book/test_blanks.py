"""Which lines of a solution can be left out, and what is tried on them."""

from __future__ import annotations

from everyline.book.blanks import Blank, blanks
from everyline.book.trying import SCALE
from everyline.derive import derive
from everyline.notation import Context, parse_question, plain
from everyline.notation.question import Given


def left_out(text: str, *methods: str) -> tuple[Blank, ...]:
    question = parse_question(text, Given(), Context(log="natural"))
    return blanks(question, derive(question, methods=methods).routes[0].lines)


def test_the_last_lines_are_left_out_of_an_integral_only_what_stands_in_it() -> None:
    found = left_out(r"\int 6x(x^2+5)^4 \, dx", "substitution")
    assert [plain(blank.part) for blank in found] == ["2x", "u^4", "3/5*u^5 + C", "3/5*(x^2 + 5)^5 + C"]
    assert [blank.trial.kind for blank in found] == ["derivative", "derivative", "indefinite", "indefinite"]
    assert found[2].trial.names == ("u", "x")


def test_the_letter_of_a_substitution_goes_with_the_variable() -> None:
    zone = left_out(r"\int 6x(x^2+5)^4 \, dx", "substitution")[1].trial.zones[0]
    meaning = dict(zone.letters)["u"]
    assert all(abs(u - (x**2 + 5)) < 1e-12 for u, x in zip(meaning, zone.points, strict=True))
    assert all(abs(v - SCALE * u**4) < 1e-9 * u**4 for v, u in zip(zone.values, meaning, strict=True))


def test_of_an_integral_between_limits_numbers_and_the_bracket_are_left_out() -> None:
    found = left_out(r"\int_1^4 3\sqrt{x} \, dx")
    assert found[-1].trial.kind == "definite"
    assert found[-1].trial.zones[0].values == (SCALE * 14,)
    assert any(blank.trial.kind == "indefinite" for blank in found)


def test_a_solution_in_one_line_has_nothing_to_finish() -> None:
    assert left_out(r"\int \sec^2 x \, dx") == ()
