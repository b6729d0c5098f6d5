"""Every example of every slip, both ways: the right answer leads to the wrong one, and the wrong one is diagnosed and mended."""

from __future__ import annotations

from pathlib import Path

import pytest

from everyline.kernel import Checked, check
from everyline.notation import Context, parse, parse_question
from everyline.notation.build import walk
from everyline.notation.question import Given, Question
from everyline.notation.tree import Node
from everyline.slips import Slip, all_slips, diagnose, kinds, wrong_answers
from everyline.slips.base import Example
from everyline.slips.compare import same
from everyline.slips.diagnose import claim_of

CASES = [pytest.param(slip, example, id=f"{slip.id}: {example.wrong}") for slip in all_slips() for example in slip.examples]


def read(question: Question, text: str) -> Node:
    return parse(text, Context().of(question), answer=True)


def trees(example: Example) -> tuple[Question, Node, Node, Node | None]:
    question = parse_question(example.question, Given(), Context())
    antiderivative = read(question, example.antiderivative) if example.antiderivative else None
    return question, read(question, example.right), read(question, example.wrong), antiderivative


@pytest.mark.parametrize(("slip", "example"), CASES)
def test_the_right_answer_of_an_example_is_right_and_the_wrong_one_is_not(slip: Slip, example: Example) -> None:
    question, right, wrong, _ = trees(example)
    if question.kind in ("indefinite", "derivative"):
        assert isinstance(check(claim_of(question, right)), Checked)
    assert not isinstance(check(claim_of(question, wrong)), Checked)


@pytest.mark.parametrize(("slip", "example"), CASES)
def test_the_slip_leads_from_the_right_answer_to_the_wrong_one(slip: Slip, example: Example) -> None:
    question, right, wrong, antiderivative = trees(example)
    made = [tree for by, tree in wrong_answers(question, right, antiderivative=antiderivative)]
    assert any(same(question, tree, wrong) for tree in made)


@pytest.mark.parametrize(("slip", "example"), CASES)
def test_the_slip_is_found_from_the_wrong_answer(slip: Slip, example: Example) -> None:
    question, right, wrong, antiderivative = trees(example)
    given = None if example.repairable else right
    found = diagnose(question, wrong, right=given, antiderivative=antiderivative, seconds=5)
    assert found is not None
    assert found.slip == slip.id
    assert isinstance(found.checked, Checked)
    assert found.fault in set(walk(wrong))


def test_every_file_is_a_slip_and_gives_it_its_id() -> None:
    files = {file.stem.replace("_", "-") for file in Path(kinds.__path__[0]).glob("*.py")} - {"--init--"}
    assert sorted(slip.id for slip in all_slips()) == sorted(files)


@pytest.mark.parametrize("slip", all_slips(), ids=lambda slip: slip.id)
def test_what_a_slip_says_is_for_people(slip: Slip) -> None:
    assert slip.examples
    assert slip.title[0].isupper()
    assert slip.explains.endswith(".")
    assert "?" in slip.hint or slip.hint.endswith(".")
    assert not any(word in slip.explains.lower() for word in ("kernel", "claim", "witness", "increment"))
