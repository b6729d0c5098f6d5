"""What a page tries answers on: right values, points that tell wrong answers apart, and nothing of the key."""

from __future__ import annotations

from dataclasses import replace
from math import isclose

import mpmath
import pytest

from everyline.book.traps import fits
from everyline.book.trying import SCALE, Trial, trial
from everyline.derive import derive
from everyline.notation import Context, parse, parse_domain, parse_given, parse_question
from everyline.notation.question import Given, Question
from everyline.slips.corruptions import corruptions
from everyline.slips.floats import at


def posed(text: str, given: str = "", domain: str = "") -> Question:
    question = parse_question(text, parse_given(given, Context()) if given else Given(), Context(log="natural"))
    context = Context().of(question)
    return replace(question, domain=parse_domain(domain, question.variable, context)) if domain else question


def tried(text: str, key: str, given: str = "", domain: str = "", *, solved: bool = False) -> Trial:
    question = posed(text, given, domain)
    made = trial(question, parse(key, Context(log="natural").of(question), answer=True), derive(question) if solved else None)
    assert made is not None
    assert made.zones or made.words
    return made


#: (question, key, the same function for mpmath). The increments must be right to the last bit or so of a double.
RISES = [
    (r"\int \frac{x}{x^2+5} \, dx", r"\frac12 \ln(x^2+5) + C", lambda x: mpmath.log(x**2 + 5) / 2),
    (r"\int x e^{3x} \, dx", r"\frac{x e^{3x}}{3} - \frac{e^{3x}}{9} + C", lambda x: x * mpmath.exp(3 * x) / 3 - mpmath.exp(3 * x) / 9),
    (r"\int \sec^2 4x \, dx", r"\frac{\tan 4x}{4} + C", lambda x: mpmath.tan(4 * x) / 4),
]


@pytest.mark.parametrize(("question", "key", "function"), RISES)
def test_increments_are_right_to_the_bound_that_they_carry(question: str, key: str, function: object) -> None:
    made = tried(question, key)
    with mpmath.workdps(40):
        for zone in made.zones:
            assert len(zone.points) >= 13
            first = function(mpmath.mpf(zone.points[0]))  # type: ignore[operator]
            for point, value in zip(zone.points, zone.values, strict=True):
                true = function(mpmath.mpf(point)) - first  # type: ignore[operator]
                assert abs(true - mpmath.mpf(value)) <= zone.bound
            assert zone.bound < 1e-13 * max(map(abs, zone.values))


def test_every_interval_of_the_domain_has_points() -> None:
    made = tried(r"\int \frac{6}{x(x-2)(x+3)} \, dx", r"-\ln|x| + \frac35\ln|x-2| + \frac25\ln|x+3| + C")
    parts = {(point > -3, point > 0, point > 2) for zone in made.zones for point in zone.points}
    assert len(parts) == 4
    assert all(len({(point > -3, point > 0, point > 2) for point in zone.points}) == 1 for zone in made.zones)


def test_points_stay_in_a_stated_domain() -> None:
    made = tried(r"\int \frac{1}{x} \, dx", r"\ln x + C", domain="2 < x < 3")
    assert all(2 < point < 3 for zone in made.zones for point in zone.points)


@pytest.mark.parametrize(
    ("question", "key"),
    [
        (r"\int x^{14} e^{x^3} \, dx", r"e^{x^3}(x^{12} - 4x^9 + 12x^6 - 24x^3 + 24)/3 + C"),
        (r"\int \tan^9 x \sec^2 x \, dx", r"\frac{\tan^{10} x}{10} + C"),
        (r"\int 6x^2 (x^3-4)^5 \, dx", r"\frac{(x^3-4)^6}{3} + C"),
    ],
)
def test_where_values_grow_fast_the_points_stay_where_small_ones_count_too(question: str, key: str) -> None:
    for zone in tried(question, key).zones:
        steps = sorted(abs(b - a) for a, b in zip(zone.values, zone.values[1:], strict=False))
        assert steps[-1] <= 1e3 * steps[len(steps) // 2]


@pytest.mark.parametrize(("question", "key", "_"), RISES)
def test_no_small_change_of_the_key_fits(question: str, key: str, _: object) -> None:
    made = tried(question, key)
    answer = parse(key, Context(names=frozenset("x")), answer=True)
    for wrong in corruptions(answer):
        for zone in made.zones:
            values = [at(wrong, {"x": point}) for point in zone.points]
            if None in values or not fits(made, zone, [v - values[0] for v in values]):  # type: ignore[operator]
                break
        else:
            pytest.fail(f"{wrong} fits everywhere")


def test_a_slip_is_known_by_what_it_leads_to() -> None:
    made = tried(r"\int \cos 7x \, dx", r"\frac{\sin 7x}{7} + C")
    zone = made.zones[0]
    multiplied = next(trap for trap in made.traps if trap.slip == "inner-derivative-multiplied")
    with mpmath.workdps(30):
        true = [float(7 * (mpmath.sin(7 * x) - mpmath.sin(7 * zone.points[0]))) for x in zone.points]
    assert all(isclose(a, b, rel_tol=1e-7, abs_tol=1e-9) for a, b in zip(multiplied.values, true, strict=False))
    assert "divided out" in multiplied.says


def test_traps_are_told_apart_from_the_right_answer_and_from_each_other() -> None:
    made = tried(r"\int 5x\sin 2x \, dx", r"-\frac{5x\cos 2x}{2} + \frac{5\sin 2x}{4} + C")
    assert len(made.traps) > 8
    assert len({(trap.zone, trap.values) for trap in made.traps}) == len(made.traps)
    assert not any(fits(made, made.zones[trap.zone], trap.values) for trap in made.traps)


def test_a_value_is_carried_times_a_factor_so_that_it_cannot_be_read_off() -> None:
    made = tried(r"\int_0^3 4x \, dx", "18", solved=True)
    assert made.zones[0].values == (pytest.approx(18 * SCALE, rel=1e-15),)
    assert {trap.slip for trap in made.traps} & {"limits-swapped", "power-not-divided"}


def test_a_letter_has_values_of_its_own() -> None:
    made = tried(r"\int_0^a 4x \, dx", "2a^2", given="a > 0")
    assert made.names == ("a",)
    assert len(made.zones) == 2
    for zone in made.zones:
        assert zone.values[0] == pytest.approx(2 * dict(zone.at)["a"] ** 2 * SCALE, rel=1e-14)


@pytest.mark.parametrize(
    ("question", "key", "word"),
    [
        (r"\int_0^1 \frac{1}{x} \, dx", r"\text{diverges}", "diverges"),
        (r"\int_0^1 \frac{1}{x} \, dx", r"\text{diverges}", "infinity"),
        (r"\lim_{x\to 0} \frac{5}{x^2}", r"\infty", "infinity"),
        (r"\lim_{x\to 0^-} \frac{5}{x}", r"-\infty", "-infinity"),
        (r"\lim_{x\to 0} \frac{|x|}{x}", r"\text{does not exist}", "doesnotexist"),
    ],
)
def test_an_answer_that_is_no_number_is_a_word(question: str, key: str, word: str) -> None:
    made = tried(question, key)
    assert word in made.words
    assert all(zone.values == () for zone in made.zones)


def test_the_letter_of_a_substitution_has_its_meaning_at_the_points() -> None:
    made = tried(r"\int 8x(x^2+3)^5 \, dx", r"\frac{2(x^2+3)^6}{3} + C", solved=True)
    zone = made.zones[0]
    assert dict(zone.letters)["u"] == pytest.approx([x**2 + 3 for x in zone.points])
