"""The public surface: documented, loaded name by name, and light for whom only checks a key."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

import everyline

HEAVY = ("sympy", "mkdocs", "markdown", "fontTools", "everyline.derive", "everyline.techniques", "everyline.render")


def loaded(code: str) -> set[str]:
    """The modules that a fresh Python holds after it ran `code`."""
    said = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys, json; print(json.dumps(sorted(sys.modules)))"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return set(json.loads(said.stdout.splitlines()[-1]))


@pytest.mark.parametrize("name", everyline.__all__)
def test_every_public_name_is_there_and_documented(name: str) -> None:
    there = getattr(everyline, name)
    assert (there.__doc__ or "").strip()
    # a dataclass without a docstring gets its signature as one
    assert not there.__doc__.startswith(f"{name}(")
    assert name in dir(everyline)


def test_a_name_that_is_not_public_is_said_to_be_missing() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'nonsense'"):
        everyline.nonsense  # noqa: B018


def test_the_list_of_names_is_the_table_of_their_homes() -> None:
    assert everyline.__all__ == sorted(everyline._HOMES)


@pytest.mark.parametrize(
    "code",
    [
        "import everyline",
        "import everyline.cli",
        "import everyline; everyline.check, everyline.parse, everyline.SameDerivative",
        r"from everyline.cli import main; main(['prove', r'\int 14x^6 \, dx', '2x^7 + C'])",
    ],
)
def test_checking_an_answer_loads_neither_a_site_generator_nor_the_search(code: str) -> None:
    assert {heavy for heavy in HEAVY if heavy in loaded(code)} == set()


def test_the_surface_is_enough_to_ask_solve_check_and_print() -> None:
    context = everyline.Context()
    question = everyline.parse_question(r"\int x^2 e^{5x} \, dx", everyline.Given(), context)
    route = everyline.solve(question).routes[0]
    assert all(isinstance(line.checked, everyline.Checked) for line in route.lines if line.kind == "equal")
    answer = everyline.parse(everyline.plain(route.answer), context.of(question))
    claim = everyline.SameDerivative(question.node, answer, everyline.Setting("x"))
    assert isinstance(everyline.check(claim), everyline.Checked)
    wrong = everyline.SameDerivative(question.node, everyline.parse("x^2*e^(5x)/5", context.of(question)), everyline.Setting("x"))
    refuted = everyline.check(wrong)
    assert isinstance(refuted, everyline.Refuted)
    assert refuted.witness is not None
