"""Every technique does what its examples say, and every step it proposes is true."""

from __future__ import annotations

from importlib import import_module

import pytest

from everyline.derive.search import step_claim
from everyline.kernel import Checked, check
from everyline.notation import Context, parse_question
from everyline.notation.question import Given
from everyline.techniques import Example, Technique, catalogue

CASES = [(t, e) for t in catalogue().values() for e in t.examples]


@pytest.mark.parametrize(("technique", "example"), CASES, ids=[f"{t.id}: {e.question}" for t, e in CASES])
def test_an_example_is_taken_or_refused_as_it_says(technique: Technique, example: Example) -> None:
    question = parse_question(example.question, Given(), Context())
    steps = list(technique.propose(question)) if question.kind in technique.kinds else []
    true = [step for step in steps if (claim := step_claim(question, step)) is not None and isinstance(check(claim), Checked)]
    if example.applies:
        assert true, "no true step was proposed"
        assert all(step.technique == technique.id for step in true)
    else:
        assert not steps


@pytest.mark.parametrize("technique", catalogue().values(), ids=lambda t: t.id)
def test_a_technique_shows_where_it_applies_and_where_it_does_not(technique: Technique) -> None:
    assert any(e.applies for e in technique.examples)
    assert any(not e.applies for e in technique.examples)
    assert technique.title
    assert technique.explains
    assert all(before in catalogue() for before in technique.after)


@pytest.mark.parametrize(
    "wanted", ["sum", "power", "table", "expansion", "splitting", "division", "linear-substitution", "substitution", "identity"]
)
def test_the_names_that_teachers_write_exist(wanted: str) -> None:
    assert wanted in catalogue()


def test_every_technique_has_the_id_of_its_file() -> None:
    for technique in catalogue().values():
        assert import_module(f"everyline.techniques.kinds.{technique.id.replace('-', '_')}").TECHNIQUE is technique


def test_the_catalogue_is_in_the_order_of_cost() -> None:
    costs = [t.cost for t in catalogue().values()]
    assert costs == sorted(costs)
