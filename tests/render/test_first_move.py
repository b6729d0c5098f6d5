"""“Which first move?” and “What does not help here”: real and tempting moves side by side, and what comes of each."""

from __future__ import annotations

import re
from textwrap import dedent

import pytest

from everyline.book import build
from everyline.book.data import Examined
from everyline.render.addresses import Addresses, Here
from everyline.render.first_move import first_moves, no_help
from everyline.render.solutions import written_out
from everyline.source.load import Sources

HERE = Here("tides/one.md", Addresses())


def examined(question: str, key: str, body: str = "") -> Examined:
    file = f"---\nquestion: {question}\nkey: {key}\n---\n{dedent(body)}"
    book = build(Sources({"tides/one.md": file.encode()}, {}))
    assert not [fault for fault in book.diagnostics if fault.severity == "error"]
    return book.examined[0]


@pytest.fixture(scope="module")
def tempting() -> Examined:
    return examined(r"\int x^3(x^2 - 5)^2 \, dx", r"\frac{x^8}{8} - \frac{5x^6}{3} + \frac{25x^4}{4} + C")


def test_each_worked_solution_begins_with_one_of_the_moves(tempting: Examined) -> None:
    made = first_moves(tempting, HERE)
    assert tempting.derivation is not None
    assert made.count("ev-move--works") >= 2
    for target in re.findall(r'href="#([^"]*)"', made):
        assert target.startswith("by-")


def test_the_moves_that_do_not_help_are_among_them_and_say_why(tempting: Examined) -> None:
    made = first_moves(tempting, HERE)
    assert made.count("ev-move--fails") == sum(not a.works for a in tempting.derivation.attempts)  # type: ignore[union-attr]
    assert "is left over, which is not a constant" in made
    assert "What does not help here" in no_help(tempting, HERE)


def test_one_move_is_open_at_a_time_and_none_at_first(tempting: Examined) -> None:
    made = first_moves(tempting, HERE)
    assert made.count('name="first-move"') == made.count("<details")
    assert not re.search(r"<details[^>]* open[ >]", made)


def test_nothing_is_asked_where_there_is_one_way_only() -> None:
    assert first_moves(examined(r"\int 6\cos x \, dx", r"6\sin x + C"), HERE) == ""


def test_an_equation_of_differentials_is_set_as_one_without_integral_signs() -> None:
    body = r"""
        ```lines
        let u = x^2 + 1
        du = 2x dx
        = \int_1^5 \frac{2}{u^2} \, du
        = \frac{8}{5}
        ```
        """
    one = examined(r"\int_0^2 \frac{4x}{(x^2+1)^2} \, dx", r"\frac{8}{5}", body)
    made = written_out(one.hand[0].lines, one.question, 1, HERE)  # type: ignore[arg-type]
    assert r'data-tex="du = 2x \, dx"' in made
