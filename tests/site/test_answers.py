"""The acceptance set through the answer box of real pages. The bar (issue 5): no wrong answer accepted, no right one refused, and at
least four in five slips told apart. The set is written from the grammar alone; `test_answers_are_true.py` shows that it says the truth.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from small_book import mkdocs

SITE = "site_name: Acceptance\ndocs_dir: content\ntheme: {name: material, font: false}\nplugins: [everyline]\n"
PROBLEMS: list[dict[str, Any]] = json.loads((Path(__file__).parent / "answers.json").read_text(encoding="utf-8"))
CONTENT = Path(__file__).parents[2] / "content"
JUDGE = """texts => {
  const field = document.querySelector("#try-answer"), said = document.querySelector(".ev-box__said");
  return texts.map(text => {
    field.value = text;
    field.dispatchEvent(new Event("input"));
    field.form.requestSubmit();
    return [said.dataset.verdict, said.dataset.notes];
  });
}"""


class Judged(NamedTuple):
    problem: str
    text: str
    expect: str
    verdict: str
    notes: str


@pytest.fixture(scope="module")
def judged(browser: Any, serve: Callable[[Path], str], tmp_path_factory: pytest.TempPathFactory) -> list[Judged]:
    """Every answer with what the box of its problem's page makes of it."""
    folder = tmp_path_factory.mktemp("acceptance")
    chapters = [path.relative_to(CONTENT) for path in CONTENT.glob("*/index.md")]
    for name in ("book.yml", "index.md", *(f"{p['problem']}.md" for p in PROBLEMS), *chapters):
        (folder / "content" / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(CONTENT / name, folder / "content" / name)
    (folder / "mkdocs.yml").write_text(SITE, encoding="utf-8")
    done = mkdocs(folder, "build")
    assert done.returncode == 0, done.stderr
    address = serve(folder / "site")
    page = browser.new_page()
    found = []
    for problem in PROBLEMS:
        page.goto(f"{address}{problem['problem']}/")
        for row, (verdict, notes) in zip(problem["answers"], page.evaluate(JUDGE, [r["text"] for r in problem["answers"]]), strict=True):
            found.append(Judged(problem["problem"], row["text"], row["expect"], verdict, notes or ""))
    page.close()
    return found


def test_no_wrong_answer_is_accepted(judged: list[Judged]) -> None:
    assert not [row for row in judged if row.verdict == "right" and not row.expect.startswith("right")]


def test_no_right_answer_is_refused(judged: list[Judged]) -> None:
    assert not [row for row in judged if row.verdict != "right" and row.expect.startswith("right")]


def test_the_missing_constant_is_told_of_and_only_then(judged: list[Judged]) -> None:
    right = [row for row in judged if row.expect.startswith("right")]
    assert not [row for row in right if ("no-constant" in row.notes.split()) != (row.expect == "right-no-constant")]


def test_four_slips_in_five_have_a_message_of_their_own(judged: list[Judged], capsys: pytest.CaptureFixture[str]) -> None:
    slips = [row for row in judged if row.expect.startswith("slip")]
    told = [row for row in slips if row.verdict == "slip" or "factor" in row.notes]
    with capsys.disabled():
        print(f"\n{len(judged)} answers; {len(told)} of {len(slips)} slips told apart ({len(told) / len(slips):.0%})")
    assert len(told) >= 0.8 * len(slips), [row for row in slips if row not in told]


@pytest.mark.parametrize(("expect", "verdict"), [("unreadable", "unreadable"), ("ambiguous", "ambiguous"), ("part-of-domain", "undefined")])
def test_each_kind_of_answer_is_met_as_such(judged: list[Judged], expect: str, verdict: str) -> None:
    assert not [row for row in judged if row.expect == expect and row.verdict != verdict]


def test_an_answer_in_another_letter_is_never_right(judged: list[Judged]) -> None:
    """Where the worked solution has the letter, the box says what is missing; else it says that the letter is not known."""
    others = [row for row in judged if row.expect == "other-variable"]
    assert all(row.verdict in ("letter", "unreadable", "slip") for row in others)
    assert sum(row.verdict == "letter" for row in others) >= 0.6 * len(others)
